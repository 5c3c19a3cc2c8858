"""The files of a costume job: cards, pieces, lays, lists and labels in a folder."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

from samite.kernel.errors import InputError
from samite.services.costume import Costume, costume_svg
from samite.services.make import MadeJob, make_json
from samite.services.piece_json import piece_json
from samite.services.piece_paper import pieces_dxf, pieces_pdf, pieces_svg


def write_files(files: Iterable[tuple[str, bytes]], folder: Path) -> list[Path]:
    """Write files of a job to a folder.

    Parameters
    ----------
    files : iterable of (str, bytes)
        Name under the folder, and content.
    folder : Path
        Where to; made if it does not exist.

    Returns
    -------
    list of Path
        Files written.

    Raises
    ------
    InputError
        If the folder cannot be written.
    """
    written = []
    try:
        for name, content in files:
            path = folder / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(content)
            written.append(path)
    except OSError as error:
        raise InputError(
            f"cannot write to {folder}: {error.strerror}", "--out", "name another folder"
        ) from None
    return written


def job_files(made: MadeJob) -> Iterator[tuple[str, bytes]]:
    """Yield every file of a job.

    Parameters
    ----------
    made : MadeJob
        The job.

    Yields
    ------
    tuple of (str, bytes)
        Name under the folder, and content.
    """
    yield "job.json", _json(make_json(made))
    for name, card in made.all_of("card").items():
        yield f"cards/{name.replace('/', '-')}.json", _json(card["card"])
    for costume in made.job.project.costumes:
        yield from _costume_files(made, costume.name)
    for name, answer in made.all_of("lay").items():
        yield f"lays/{name}.json", _json(answer)
        for lay in answer["lays"]:
            if "svg" in lay:
                stem = f"lays/{name}-{lay['width_mm']:.0f}mm"
                yield f"{stem}.svg", str(lay["svg"]).encode()
                yield f"{stem}.csv", _table(("number", "piece", "where"), lay["steps"]).encode()
    for name, answer in made.all_of("compare").items():
        yield f"compare/{name}.json", _json(answer)
    work = made.answer("work")
    if work:
        yield "work/work.toml", str(work["text"]).encode()
        yield "work/work.json", _json(work["plan"])
        yield "work/strip.svg", str(work["svg"]).encode()
    buy = made.answer("buy")
    if buy:
        yield "buy.json", _json(buy)
        yield "buy.csv", buying_csv(buy).encode()


def _costume_files(made: MadeJob, costume: str) -> Iterator[tuple[str, bytes]]:
    answers = {
        name.partition("/")[2]: answer
        for name, answer in made.all_of("piece").items()
        if name.startswith(f"{costume}/")
    }
    for name, answer in answers.items():
        stem = f"pieces/{costume}-{name}"
        yield f"{stem}.json", _json(piece_json(answer))
        yield f"{stem}.svg", pieces_svg(answer).encode()
        yield f"{stem}.pdf", pieces_pdf(answer)
        yield f"{stem}.dxf", pieces_dxf(answer).encode()
    if answers:
        drawn = costume_svg(Costume(tuple(answers.values())), made.job.project.units)
        yield f"pieces/{costume}.svg", drawn.encode()
    for key, pair in (made.answer(f"pairs/{costume}") or {}).items():
        stem = f"seams/{costume}-{key.replace('+', '-and-')}"
        yield f"{stem}.json", _json(pair["seam"])
        yield f"{stem}.svg", str(pair["svg"]).encode()
    labels = made.answer(f"labels/{costume}")
    if labels:
        yield f"labels/{costume}.json", _json(labels)
        yield f"labels/{costume}-care.svg", str(labels["care"]["symbols_svg"]).encode()


def _json(document: object) -> bytes:
    return (json.dumps(document, ensure_ascii=False, indent=1) + "\n").encode()


def buying_csv(buy: Mapping[str, Any]) -> str:
    """Return a buying list as a table that any sheet opens.

    Parameters
    ----------
    buy : mapping of str to object
        In the form ``samite.buy.v1``.

    Returns
    -------
    str
        Comma-separated, one line a thing.
    """
    columns = ("kind", "what", "needed", "unit", "on_hand", "buy", "price", "cost", "stock")
    return _table(columns, [[line[column] for column in columns] for line in buy["lines"]])


def _table(head: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(head)
    writer.writerows([_cell(value) for value in row] for row in rows)
    return text.getvalue()


def _cell(value: object) -> object:
    """Return a cell; a text that a sheet would take for a formula is marked as text."""
    if value is None:
        return ""
    if isinstance(value, str) and value[:1] in ("=", "+", "-", "@"):
        return "'" + value
    return value
