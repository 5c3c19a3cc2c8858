"""Lays as drawings: SVG, PDF and DXF."""

from __future__ import annotations

import math
from collections.abc import Collection, Sequence

from samite.kernel.errors import InputError
from samite.lay.again import Copy
from samite.lay.cutting import cutting_steps
from samite.lay.rules import FACES
from samite.services.lay import LayAnswer
from samite.sheets.lay_dxf import lay_dxf
from samite.sheets.lay_pdf import lay_pdf
from samite.sheets.lay_sheet import LayPicture, lay_sheet
from samite.sheets.lay_steps import lay_notes, step_words
from samite.sheets.piece_svg import sheet_svg

__all__ = ["draw_dxf", "draw_pdf", "draw_svg", "lay_picture", "notes_of", "steps_of"]

SVG_WIDTH_MM = 190.0
SVG_TYPE_MM = 3.4


def lay_picture(
    answer: LayAnswer,
    title: str,
    *,
    face: str = "up",
    nap: bool = False,
    cloth: str = "",
    bought_mm: float = 0.0,
    table_mm: float = 0.0,
    units: str = "metric",
    cut: Collection[Copy] = (),
) -> LayPicture:
    """Return what is drawn of a lay.

    Parameters
    ----------
    answer : LayAnswer
        The lay.
    title : str
        Title.
    face : str
        Which side of the cloth is up: ``up`` for its right side, ``down`` for its wrong side.
    nap : bool
        Whether the cloth runs one way.
    cloth : str
        Name of the cloth.
    bought_mm : float
        Length of the cloth; 0 for just what the lay takes [mm].
    table_mm : float
        Length of the table; 0 for one that is long enough [mm].
    units : str
        ``metric`` or ``imperial``.
    cut : collection of (str, int)
        Pieces that are cut already.

    Returns
    -------
    LayPicture
        To be drawn.

    Raises
    ------
    InputError
        If there is no lay, or no such side.
    """
    if not answer.found:
        raise InputError(f"there is nothing to draw: {answer.lay.why}", "lay", "mend that first")
    if face not in FACES:
        raise InputError(f"{face!r} is no side", "--face", "up or down")
    steps = cutting_steps(answer.problem, answer.lay, table_mm=table_mm, face=face)
    return LayPicture(
        title, answer.problem, steps, answer.lay.length_mm, max(bought_mm, answer.lay.length_mm),
        nap, face, cloth, frozenset(cut), units, table_mm,
    )  # fmt: skip


def draw_svg(picture: LayPicture, *, tallest_mm: float = math.inf) -> str:
    """Return a lay as SVG, to scale.

    Parameters
    ----------
    picture : LayPicture
        The lay.
    tallest_mm : float
        Height of the paper; a long lay is drawn smaller, with type as large [mm].

    Returns
    -------
    str
        SVG in millimetres of paper.
    """
    wide, long = picture.left_mm - picture.right_mm, picture.end_mm - picture.start_mm
    scale = min(SVG_WIDTH_MM / wide, tallest_mm / long)
    return sheet_svg(lay_sheet(picture, scale=scale, type_mm=SVG_TYPE_MM), with_square=False)


def draw_pdf(picture: LayPicture, paper: str = "a4", facts: Sequence[str] = ()) -> bytes:
    """Return a lay as PDF: the whole on one page, then a page a metre.

    Parameters
    ----------
    picture : LayPicture
        The lay.
    paper : str
        ``a4``, ``us-letter``, ``a3`` or ``a0``.
    facts : sequence of str
        Lines under the title.

    Returns
    -------
    bytes
        PDF.
    """
    return lay_pdf(picture, paper, facts)


def draw_dxf(picture: LayPicture) -> str:
    """Return a lay as DXF at full size.

    Parameters
    ----------
    picture : LayPicture
        The lay.

    Returns
    -------
    str
        DXF release 12.
    """
    return lay_dxf(picture)


def notes_of(picture: LayPicture) -> tuple[str, ...]:
    """Return what to mind before the first cut.

    Parameters
    ----------
    picture : LayPicture
        The lay.

    Returns
    -------
    tuple of str
        One sentence each.
    """
    return lay_notes(picture)


def steps_of(picture: LayPicture) -> tuple[tuple[int, str, str], ...]:
    """Return the pieces in the order of cutting.

    Parameters
    ----------
    picture : LayPicture
        The lay.

    Returns
    -------
    tuple of (int, str, str)
        Number, name, and how it is laid.
    """
    return tuple((one.number, one.name, step_words(picture, one)) for one in picture.steps)
