"""``samite piece --from``: a person's own drawing."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import click

from samite.cli.piece_files import Files, Said
from samite.kernel.errors import InputError
from samite.services.piece_ask import PieceAsk
from samite.services.piece_import import import_file, import_json, read_answers, require_made
from samite.services.piece_read import finish_asked

FINISHING = (
    "allowances", "seams", "corners", "shrink", "cloth", "one_way", "dated", "turn",
)  # fmt: skip
"""What of a question changes how drawn pieces are finished."""

_UNFINISHED = PieceAsk("")


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

    Raises
    ------
    InputError
        If the drawing is refused, an answer is wrong, or a file waits for answers.
    """
    if ask.bias:
        raise InputError(
            "a drawing has its own grain", "--bias", "answer with --answer grain=bias instead"
        )
    finish_only = replace(_UNFINISHED, **{name: getattr(ask, name) for name in FINISHING})
    how = None if finish_only == _UNFINISHED else finish_asked(finish_only)
    answers = {**_file_answers(said.file), **said.answers}
    made = import_file(drawing, unit, answers, how, said.sewn, ask)
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
