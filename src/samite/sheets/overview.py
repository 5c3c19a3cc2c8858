"""All pieces of a costume on one small sheet, the wearer's outline beside them for the scale."""

from __future__ import annotations

from collections.abc import Sequence

from samite.kernel.unit_table import INCH_MM
from samite.pieces.finish import FinishedPiece
from samite.pieces.plane import Point
from samite.sheets.figure import HEAD, figure_outline, smooth_path
from samite.sheets.piece_label import Room
from samite.sheets.sheet import GAP_MM, Sheet, lay_out
from samite.sheets.svg import INK, escape

WIDEST_MM = 3200.0
PENS = {"cut": 1.4, "fold": 1.4, "stitch": 0.7, "grain": 0.7, "line": 0.4, "hatch": 0.5}
"""Width of the pen by what is drawn, in pens."""


def overview_svg(
    title: str,
    pieces: Sequence[FinishedPiece],
    stature_mm: float,
    stout: float = 1.0,
    *,
    units: str = "metric",
) -> str:
    """Draw all pieces and the body at one scale.

    Parameters
    ----------
    title : str
        Title, read out by screen readers.
    pieces : sequence of FinishedPiece
        The pieces.
    stature_mm : float
        Height of the wearer [mm].
    stout : float
        Widths over those of the usual figure [-].
    units : str
        ``metric`` or ``imperial``.

    Returns
    -------
    str
        SVG; a bar of half a metre, or of 20 inches, shows the scale.
    """
    body = 0.42 * stature_mm * max(stout, 1.0)
    sheet = lay_out(title, pieces, WIDEST_MM)
    rows = max(sheet.height_mm, stature_mm + 2 * GAP_MM) + 60.0
    width = body + sheet.width_mm
    size, pen = max(width, rows) / 75.0, max(width, rows) / 600.0
    columns = max(1, min(4, int(width / (size * 24.0))))
    legend = legend_lines(pieces)
    deep = -(-len(legend) // columns)
    height = rows + (deep + 1) * 1.4 * size
    floor = rows - 60.0
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width:.0f} {height:.0f}" role="img" '
        f'aria-label="{escape(title)}"><title>{escape(title)}</title>',
        _figure(stature_mm, stout, body / 2.0, floor, pen),
    ]
    for stroke in sheet.strokes:
        if stroke.role not in PENS:
            continue
        points = "L".join(f"{body + x:.1f} {floor - y:.1f}" for x, y in stroke.points)
        weight = pen * PENS[stroke.role]
        dash = "" if stroke.role != "stitch" else f' stroke-dasharray="{4 * pen:.1f} {3 * pen:.1f}"'
        parts.append(
            f'<path d="M{points}{"Z" if stroke.closed else ""}" fill="none" stroke="{INK}" '
            f'stroke-width="{weight:.2f}"{dash}/>'
        )
    parts += [
        _text(text, body + x, floor - y, size) for text, (x, y) in numbers(sheet, pieces, size)
    ]
    parts += _bar(rows, size, pen, units)
    for k, line in enumerate(legend):
        x, y = 20.0 + (k // deep) * width / columns, rows + (k % deep + 1) * 1.4 * size
        parts.append(_text(line, x, y, size))
    return "".join([*parts, "</svg>"])


def _text(text: str, x: float, y: float, size: float) -> str:
    return (
        f'<text x="{x:.1f}" y="{y:.1f}" font-size="{size:.1f}" fill="{INK}">{escape(text)}</text>'
    )


def legend_lines(pieces: Sequence[FinishedPiece]) -> list[str]:
    """Return what each number on the sheet is.

    Parameters
    ----------
    pieces : sequence of FinishedPiece
        The pieces.

    Returns
    -------
    list of str
        Number, name, and how many are cut.
    """
    return [
        f"{number} {one.piece.name}, cut {one.piece.copies}{' on the fold' * one.piece.on_fold}"
        for number, one in enumerate(pieces, 1)
    ]


def numbers(
    sheet: Sheet, pieces: Sequence[FinishedPiece], size_mm: float
) -> list[tuple[str, Point]]:
    """Return the number of each piece and where it stands on a sheet, clear of the grain line.

    Parameters
    ----------
    sheet : Sheet
        The sheet.
    pieces : sequence of FinishedPiece
        The pieces, in the order of their numbers.
    size_mm : float
        Size of the type on the sheet [mm].

    Returns
    -------
    list of (str, tuple of (float, float))
        Number and place [mm].
    """
    named = {one.piece.name: str(number) for number, one in enumerate(pieces, 1)}
    found = []
    for stroke in sheet.strokes:
        if stroke.role == "stitch" and stroke.piece in named:
            grain = [
                (line.points[0], line.points[-1]) for line in sheet.strokes
                if line.role == "grain" and line.piece == stroke.piece
            ]  # fmt: skip
            number = named[stroke.piece]
            place = Room(stroke.points, grain).place([number], size_mm, turned=False)
            found.append((number, place or min(stroke.points)))
    return found


def _figure(stature: float, stout: float, middle: float, floor: float, pen: float) -> str:
    outline = [(middle + x, floor - y) for x, y in figure_outline(stature, stout)]
    style = f'fill="none" stroke="{INK}" stroke-width="{pen:.2f}"'
    return (
        f'<path d="{smooth_path(outline)}" {style}/><ellipse cx="{middle:.1f}" '
        f'cy="{floor - HEAD[0] * stature:.1f}" rx="{HEAD[1] * stature:.1f}" '
        f'ry="{HEAD[2] * stature:.1f}" {style}/>'
    )


def _bar(height: float, size: float, pen: float, units: str) -> list[str]:
    y = height - 18.0
    long, says = (20.0 * INCH_MM, "20 in") if units == "imperial" else (500.0, "50 cm")
    return [
        f'<path d="M20 {y - 12:.1f}V{y:.1f}H{20.0 + long:.0f}V{y - 12:.1f}" fill="none" stroke="{INK}" '
        f'stroke-width="{pen:.2f}"/>',
        f'<text x="{35.0 + long:.0f}" y="{y:.1f}" font-size="{size:.1f}" fill="{INK}">{says}</text>',
    ]
