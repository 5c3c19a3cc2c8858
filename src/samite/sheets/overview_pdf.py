"""All pieces of a costume on one page of paper, the wearer's outline beside them for the scale."""

from __future__ import annotations

from collections.abc import Sequence

from samite.kernel.errors import UnknownNameError
from samite.pieces.finish import FinishedPiece
from samite.pieces.plane import Point
from samite.sheets.figure import HEAD, figure_outline, smooth_points
from samite.sheets.overview import legend_lines, numbers
from samite.sheets.pdf import Page, write_pdf
from samite.sheets.sheet import GAP_MM, Sheet, Stroke, Words, lay_out
from samite.sheets.tiles import SIZES

MARGIN_MM = 12.0
HEAD_MM = 9.0
TYPE_MM = 2.6
FOOT_MM = 8.0
COLUMNS = 3
WIDTHS_MM = (1500.0, 2000.0, 2600.0, 3200.0, 4000.0, 5000.0, 6500.0, 9000.0)
PENS_MM = {"cut": 0.35, "fold": 0.35, "stitch": 0.15, "grain": 0.15, "line": 0.08, "hatch": 0.1}


def overview_pdf(
    title: str,
    pieces: Sequence[FinishedPiece],
    stature_mm: float,
    stout: float = 1.0,
    paper: str = "a4",
) -> bytes:
    """Draw all pieces and the body at one scale on one page.

    Parameters
    ----------
    title : str
        Title of the page.
    pieces : sequence of FinishedPiece
        The pieces.
    stature_mm : float
        Height of the wearer [mm].
    stout : float
        Widths over those of the usual figure [-].
    paper : str
        ``a4``, ``us-letter``, ``a3`` or ``a0``, laid across.

    Returns
    -------
    bytes
        PDF of one page; a bar of half a metre and the scale in words.

    Raises
    ------
    UnknownNameError
        If there is no such paper.
    """
    if paper not in SIZES:
        raise UnknownNameError(f"there is no paper {paper!r}", "paper", ", ".join(SIZES))
    high, wide = SIZES[paper]
    legend = legend_lines(pieces)
    deep = -(-len(legend) // COLUMNS)
    foot = FOOT_MM + deep * 1.45 * TYPE_MM
    body = 0.42 * stature_mm * max(stout, 1.0)
    room = wide - 2 * MARGIN_MM, high - 2 * MARGIN_MM - HEAD_MM - foot
    sheet, scale = _best(title, pieces, (body, stature_mm), room)
    base = MARGIN_MM, MARGIN_MM + foot

    def place(x: float, y: float) -> Point:
        return base[0] + x * scale, base[1] + y * scale

    strokes = _figure(stature_mm, stout, body / 2.0, scale, base)
    for stroke in sheet.strokes:
        if stroke.role in PENS_MM:
            points = tuple(place(body + x, y) for x, y in stroke.points)
            dash = (1.2, 0.9) if stroke.role == "stitch" else ()
            strokes.append(Stroke(points, PENS_MM[stroke.role], dash, stroke.closed, stroke.role))
    words = [Words((MARGIN_MM, high - MARGIN_MM - 5.0), title[:110], 4.5)]
    words += [
        Words(place(body + x, y), text, TYPE_MM)
        for text, (x, y) in numbers(sheet, pieces, TYPE_MM / scale)
    ]
    for k, line in enumerate(legend):
        x = MARGIN_MM + (k // deep) * room[0] / COLUMNS
        y = MARGIN_MM + (deep - 1 - k % deep) * 1.45 * TYPE_MM
        words.append(Words((x, y), line[:52], TYPE_MM))
    ground = MARGIN_MM + foot - 4.0
    end = place(500.0, 0.0)[0]
    strokes.append(Stroke(((MARGIN_MM, ground), (end, ground)), 0.3))
    told = f"50 cm; 1 : {1.0 / scale:.3g}, for looking at, not for cutting"
    words.append(Words((end + 2.0, ground - 1.0), told, 3.0))
    page = Page(wide, high, tuple(strokes), tuple(words))
    return write_pdf(title, (), (), (page,), (1.0, 1.0))


def _best(
    title: str, pieces: Sequence[FinishedPiece], wearer: Point, room: Point
) -> tuple[Sheet, float]:
    """Return the sheet that can be drawn largest, of some widths, and its scale."""
    body, stature = wearer
    found: list[tuple[float, Sheet]] = []
    for widest in WIDTHS_MM:
        sheet = lay_out(title, pieces, max(_widest(pieces), widest))
        size = body + sheet.width_mm, max(sheet.height_mm, stature + GAP_MM)
        found.append((min(room[0] / size[0], room[1] / size[1]), sheet))
    scale, sheet = max(found, key=lambda one: one[0])
    return sheet, scale


def _widest(pieces: Sequence[FinishedPiece]) -> float:
    spans = [[x for x, _ in one.cut.points] for one in pieces]
    return max((max(xs) - min(xs) for xs in spans), default=0.0) + 2 * GAP_MM


def _figure(stature: float, stout: float, middle: float, scale: float, base: Point) -> list[Stroke]:
    def placed(points: Sequence[Point]) -> tuple[Point, ...]:
        return tuple((base[0] + (middle + x) * scale, base[1] + y * scale) for x, y in points)

    outline = smooth_points(figure_outline(stature, stout))
    head = smooth_points(
        [
            (HEAD[1] * stature * x, (HEAD[0] + HEAD[2] * y) * stature)
            for x, y in ((1, 0), (0.71, 0.71), (0, 1), (-0.71, 0.71), (-1, 0), (-0.71, -0.71),
                         (0, -1), (0.71, -0.71))
        ]
    )  # fmt: skip
    return [Stroke(placed(line), 0.25, (), True, "figure") for line in (outline, head)]
