"""A person's own drawing, read and told back."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from samite.kernel.units import parse_quantity
from samite.readers.svg_pieces import ReadPiece, ReadPieces, read_pieces, read_pieces_file

FORMAT = "samite.piece-import.v1"


def import_file(path: Path, unit: str = "") -> dict[str, Any]:
    """Read the pieces of an SVG file.

    Parameters
    ----------
    path : Path
        The file.
    unit : str
        Length of one unit of the drawing, if it does not tell.

    Returns
    -------
    dict of str to object
        Format ``samite.piece-import.v1``.

    Raises
    ------
    InputError
        If the file is no SVG, is hostile, or has no scale.
    """
    return _told(read_pieces_file(path, parse_quantity(unit, "mm") if unit else 0.0))


def import_text(data: bytes, unit: str = "") -> dict[str, Any]:
    """Read the pieces of SVG text.

    Parameters
    ----------
    data : bytes
        The text.
    unit : str
        Length of one unit of the drawing, if it does not tell.

    Returns
    -------
    dict of str to object
        Format ``samite.piece-import.v1``.

    Raises
    ------
    InputError
        If the text is no SVG, is hostile, or has no scale.
    """
    return _told(read_pieces(data, parse_quantity(unit, "mm") if unit else 0.0))


def _told(found: ReadPieces) -> dict[str, Any]:
    return {
        "format": FORMAT,
        "unit_mm": found.unit_mm,
        "scale_proved_by": found.proved,
        "questions": list(found.questions),
        "problems": list(found.problems),
        "pieces": [_piece(one) for one in found.pieces],
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
        "lines_mm": one.others,
        "mended": list(one.mended),
        "questions": list(one.questions),
    }
