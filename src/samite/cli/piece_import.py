"""``samite piece --from``: a person's own drawing."""

from __future__ import annotations

import json
from pathlib import Path

import click

from samite.cli.piece_files import Files, Said
from samite.kernel.errors import InputError
from samite.services.piece import PieceAsk, finish_asked
from samite.services.piece_import import import_file, import_json, read_answers, require_made


def show_import(
    drawing: Path, unit: str, ask: PieceAsk, said: Said, files: Files, *, as_json: bool
) -> None:
    """Read a drawing, tell what was recognised and asked, and write its pieces.

    Parameters
    ----------
    drawing : Path
        The file.
    unit : str
        Length of one unit of it, if it does not tell.
    ask : PieceAsk
        Holds how the pieces are finished and what was pinned.
    said : Said
        Answers and seams.
    files : Files
        What is written.
    as_json : bool
        Whether one JSON document is printed.
    """
    plain = PieceAsk("", alterations=ask.alterations)
    asked_finish = PieceAsk(
        "",
        allowances=ask.allowances,
        seams=ask.seams,
        shrink=ask.shrink,
        cloth=ask.cloth,
        one_way=ask.one_way,
        dated=ask.dated,
        turn=ask.turn,
        corners=ask.corners,
        alterations=ask.alterations,
    )
    how = None if asked_finish == plain else finish_asked(asked_finish)
    answers = {**_file_answers(said.file), **said.answers}
    made = import_file(drawing, unit, answers, how, said.sewn, ask.alterations)
    if files.any:
        files.write(drawing.stem, require_made(made).pieces)
    if as_json:
        click.echo(json.dumps(import_json(made), ensure_ascii=False))
        return
    from samite.cli.piece_text import import_text

    click.echo(import_text(made))


def _file_answers(path: Path | None) -> dict[str, str]:
    if path is None:
        return {}
    try:
        text = path.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as error:
        raise InputError(f"cannot read {path}: {error}", "--answers", "name a JSON file") from None
    return read_answers(text, "--answers")
