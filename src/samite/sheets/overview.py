"""All pieces of a costume on one small sheet, the wearer's outline beside them for the scale."""

from __future__ import annotations

from collections.abc import Sequence

from samite.pieces.finish import FinishedPiece
from samite.sheets.figure import HEAD, figure_outline, smooth_path
from samite.sheets.sheet import GAP_MM, lay_out
from samite.sheets.svg import INK, escape

WIDEST_MM = 3200.0


def overview_svg(
    title: str, pieces: Sequence[FinishedPiece], stature_mm: float, stout: float = 1.0
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

    Returns
    -------
    str
        SVG; a bar of half a metre shows the scale.
    """
    sheet = lay_out(title, pieces, WIDEST_MM)
    body = 0.42 * stature_mm * max(stout, 1.0)
    height = max(sheet.height_mm, stature_mm + 2 * GAP_MM) + 60.0
    width = body + sheet.width_mm
    size = max(width, height) / 95.0
    pen = max(width, height) / 600.0
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width:.0f} {height:.0f}" role="img" '
        f'aria-label="{escape(title)}"><title>{escape(title)}</title>',
        _figure(stature_mm, stout, body / 2.0, height - 60.0, pen),
    ]
    for stroke in sheet.strokes:
        if stroke.role not in {"cut", "stitch", "grain", "fold"}:
            continue
        points = "L".join(f"{body + x:.1f} {height - 60.0 - y:.1f}" for x, y in stroke.points)
        weight = pen * {"cut": 1.4, "fold": 1.4, "stitch": 0.7, "grain": 0.7}[stroke.role]
        dash = "" if stroke.role != "stitch" else f' stroke-dasharray="{4 * pen:.1f} {3 * pen:.1f}"'
        parts.append(
            f'<path d="M{points}{"Z" if stroke.closed else ""}" fill="none" stroke="{INK}" '
            f'stroke-width="{weight:.2f}"{dash}/>'
        )
    seen: set[tuple[float, float]] = set()
    for words in sheet.words:
        if words.text in {one.piece.name for one in pieces} and words.place not in seen:
            seen.add(words.place)
            x, y = body + words.place[0], height - 60.0 - words.place[1]
            parts.append(
                f'<text x="{x:.1f}" y="{y:.1f}" font-size="{size:.1f}" fill="{INK}">{escape(words.text)}</text>'
            )
    parts += _bar(height, size, pen)
    return "".join([*parts, "</svg>"])


def _figure(stature: float, stout: float, middle: float, floor: float, pen: float) -> str:
    outline = [(middle + x, floor - y) for x, y in figure_outline(stature, stout)]
    style = f'fill="none" stroke="{INK}" stroke-width="{pen:.2f}"'
    return (
        f'<path d="{smooth_path(outline)}" {style}/><ellipse cx="{middle:.1f}" '
        f'cy="{floor - HEAD[0] * stature:.1f}" rx="{HEAD[1] * stature:.1f}" '
        f'ry="{HEAD[2] * stature:.1f}" {style}/>'
    )


def _bar(height: float, size: float, pen: float) -> list[str]:
    y = height - 18.0
    return [
        f'<path d="M20 {y - 12:.1f}V{y:.1f}H520V{y - 12:.1f}" fill="none" stroke="{INK}" '
        f'stroke-width="{pen:.2f}"/>',
        f'<text x="535" y="{y:.1f}" font-size="{size:.1f}" fill="{INK}">50 cm</text>',
    ]
