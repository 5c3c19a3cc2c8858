"""A person's own drawing, read and told back, and its pieces once its questions are answered."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from samite.kernel.errors import InputError
from samite.kernel.units import parse_quantity
from samite.pieces.finish import Finish
from samite.readers.svg_file import Drawn, read_svg, read_svg_file
from samite.readers.svg_found import ReadPiece
from samite.services.piece_ask import PieceAsk
from samite.services.piece_drawn import DrawnPieces, drawn_pieces
from samite.services.piece_json import finished_json, walked_json

FORMAT = "samite.piece-import.v1"
LARGEST_ANSWERS = 100_000


def import_file(
    path: Path,
    unit: str = "",
    answers: Mapping[str, str] | None = None,
    how: Finish | None = None,
    sewn: Sequence[str] = (),
    ask: PieceAsk | None = None,
) -> DrawnPieces:
    """Read the pieces of an SVG file.

    Parameters
    ----------
    path : Path
        The file.
    unit : str
        Length of one unit of the drawing, if it does not tell.
    answers : mapping of str to str or None
        Answers to its questions, by key.
    how : Finish or None
        How the pieces are finished; None keeps the cut lines as drawn.
    sewn : sequence of str
        Seams, ``front:edge 2 = back:edge 4``.
    ask : PieceAsk or None
        Holds what was pinned, linings, facings and the hang.

    Returns
    -------
    DrawnPieces
        What was recognised, what is asked, and the pieces if all is answered.

    Raises
    ------
    InputError
        If the file is no SVG, is hostile, or has no scale.
    """
    return _made(read_svg_file(path), unit, answers, how, sewn, ask)


def import_text(
    data: bytes,
    unit: str = "",
    answers: Mapping[str, str] | None = None,
    how: Finish | None = None,
    sewn: Sequence[str] = (),
    ask: PieceAsk | None = None,
) -> DrawnPieces:
    """Read the pieces of SVG text.

    Parameters
    ----------
    data : bytes
        The text.
    unit : str
        Length of one unit of the drawing, if it does not tell.
    answers : mapping of str to str or None
        Answers to its questions, by key.
    how : Finish or None
        How the pieces are finished; None keeps the cut lines as drawn.
    sewn : sequence of str
        Seams, ``front:edge 2 = back:edge 4``.
    ask : PieceAsk or None
        Holds what was pinned, linings, facings and the hang.

    Returns
    -------
    DrawnPieces
        What was recognised, what is asked, and the pieces if all is answered.

    Raises
    ------
    InputError
        If the text is no SVG, is hostile, or has no scale.
    """
    return _made(read_svg(data), unit, answers, how, sewn, ask)


def _made(
    drawn: Drawn,
    unit: str,
    answers: Mapping[str, str] | None,
    how: Finish | None,
    sewn: Sequence[str],
    ask: PieceAsk | None,
) -> DrawnPieces:
    unit_mm = parse_quantity(unit, "mm") if unit else 0.0
    return drawn_pieces(drawn, answers or {}, unit_mm=unit_mm, how=how, sewn=sewn, ask=ask)


def read_answers(text: str, where: str) -> dict[str, str]:
    """Read answers written as a JSON object.

    Parameters
    ----------
    text : str
        The document: keys to texts, numbers, or true and false.
    where : str
        What it is called, for messages.

    Returns
    -------
    dict of str to str
        Answers by key.

    Raises
    ------
    InputError
        If it is no such object.
    """
    try:
        found = json.loads(text) if len(text) <= LARGEST_ANSWERS else None
    except (ValueError, RecursionError):
        found = None
    if not isinstance(found, dict) or any(isinstance(v, dict | list) for v in found.values()):
        raise InputError(
            "the answers are no JSON object", where, 'for example {"front.grain": "up"}'
        )
    words = {True: "yes", False: "no", None: ""}
    return {
        str(key): words[value] if value is None or isinstance(value, bool) else str(value)
        for key, value in found.items()
    }


def import_json(made: DrawnPieces) -> dict[str, Any]:
    """Return the JSON form of a drawing that was read.

    Parameters
    ----------
    made : DrawnPieces
        The drawing.

    Returns
    -------
    dict of str to object
        Format ``samite.piece-import.v1``.
    """
    found = made.read
    return {
        "format": FORMAT,
        "unit_mm": found.unit_mm,
        "scale_proved_by": found.proved,
        "questions": [one.asks for one in found.questions],
        "problems": list(found.problems),
        "asked": [
            {"key": one.key, "asks": one.asks, "takes": one.takes, "answer": one.answer}
            for one in made.asked
        ],
        "pieces": [_piece(one) for one in found.pieces],
        "made": [finished_json(one) for one in made.pieces],
        "walked": [walked_json(one) for one in made.walked],
        "notes": list(made.notes),
    }


def _piece(one: ReadPiece) -> dict[str, Any]:
    return {
        "name": one.name,
        "area_mm2": round(one.area_mm2, 3),
        "cut_mm": one.cut,
        "stitch_mm": one.stitch,
        "openings_mm": one.openings,
        "notches_mm": one.notches,
        "grain_mm": one.grain,
        "folds_mm": one.folds,
        "marks_mm": one.marks,
        "lines_mm": one.others,
        "words": list(one.words),
        "mended": list(one.mended),
        "questions": [q.asks for q in one.questions],
    }


def require_made(made: DrawnPieces) -> DrawnPieces:
    """Refuse a drawing whose questions are not answered.

    Parameters
    ----------
    made : DrawnPieces
        The drawing.

    Returns
    -------
    DrawnPieces
        The same.

    Raises
    ------
    InputError
        Naming what is still asked.
    """
    if made.unanswered:
        keys = ", ".join(one.key for one in made.unanswered)
        first = made.unanswered[0]
        raise InputError(f"answer first: {keys}", first.key, f"{first.asks} ({first.takes})")
    return made
