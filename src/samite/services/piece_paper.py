"""Computed pieces on paper and in files: SVG, tiled PDF, DXF."""

from __future__ import annotations

from collections.abc import Sequence

from samite.kernel.errors import InputError
from samite.kernel.units import parse_quantity
from samite.pieces.finish import FinishedPiece
from samite.services.piece_ask import PieceAnswer
from samite.sheets import dxf
from samite.sheets.piece_svg import sheet_svg
from samite.sheets.sheet import lay_out
from samite.sheets.tiles import LAP_MM, MARGIN_MM, SIZES, tiled_pdf

WIDEST_MM = 1500.0


def pieces_svg(answer: PieceAnswer) -> str:
    """Return the pieces as one drawing at full size.

    Parameters
    ----------
    answer : PieceAnswer
        The pieces.

    Returns
    -------
    str
        SVG in millimetres, with a test square.
    """
    return sheets_svg(answer.shape.name, answer.pieces)


def sheets_svg(title: str, pieces: Sequence[FinishedPiece]) -> str:
    """Return any finished pieces as one drawing at full size.

    Parameters
    ----------
    title : str
        Title of the drawing.
    pieces : sequence of FinishedPiece
        The pieces.

    Returns
    -------
    str
        SVG in millimetres, with a test square.
    """
    return sheet_svg(lay_out(title, pieces, WIDEST_MM))


def pieces_pdf(answer: PieceAnswer, paper: str = "a4", roll_width: str = "") -> bytes:
    """Return the pieces as PDF at exactly one to one.

    Parameters
    ----------
    answer : PieceAnswer
        The pieces.
    paper : str
        ``a4``, ``us-letter``, ``a3``, ``a0`` or ``roll``.
    roll_width : str
        Width of the roll as written.

    Returns
    -------
    bytes
        PDF.

    Raises
    ------
    InputError
        If the width of the roll is missing or cannot be read.
    """
    return sheets_pdf(answer.shape.name, answer.pieces, paper, roll_width)


def sheets_pdf(
    title: str, pieces: Sequence[FinishedPiece], paper: str = "a4", roll_width: str = ""
) -> bytes:
    """Return any finished pieces as PDF at exactly one to one.

    Parameters
    ----------
    title : str
        Title of the pages.
    pieces : sequence of FinishedPiece
        The pieces.
    paper : str
        ``a4``, ``us-letter``, ``a3``, ``a0`` or ``roll``.
    roll_width : str
        Width of the roll as written.

    Returns
    -------
    bytes
        PDF.

    Raises
    ------
    InputError
        If the width of the roll is missing or cannot be read.
    """
    width = 0.0
    if paper == "roll":
        if not roll_width:
            raise InputError("how wide is the roll?", "--roll-width", "for example 91 cm")
        width = parse_quantity(roll_width, "mm")
    across = (width or SIZES.get(paper, (WIDEST_MM, 0.0))[0]) - 2 * MARGIN_MM - LAP_MM
    count = max(1, round(WIDEST_MM / across)) if paper != "roll" else 1
    return tiled_pdf(lay_out(title, pieces, across * count + LAP_MM), paper, width)


def pieces_dxf(answer: PieceAnswer) -> str:
    """Return the pieces as DXF.

    Parameters
    ----------
    answer : PieceAnswer
        The pieces.

    Returns
    -------
    str
        DXF release 12 by the layers of ASTM D6673, in millimetres.
    """
    return sheets_dxf(answer.shape.name, answer.pieces)


def sheets_dxf(title: str, pieces: Sequence[FinishedPiece]) -> str:
    """Return any finished pieces as DXF.

    Parameters
    ----------
    title : str
        Title of the style.
    pieces : sequence of FinishedPiece
        The pieces.

    Returns
    -------
    str
        DXF release 12 by the layers of ASTM D6673, in millimetres.
    """
    return dxf.pieces_dxf(title, pieces)
