"""A sheet as SVG at full size, one user unit a millimetre."""

from __future__ import annotations

from itertools import groupby

from samite.sheets.sheet import Sheet, Stroke, Words, square
from samite.sheets.svg import FONT, INK, PAPER, escape
from samite.sheets.truetype import text_width_mm

SQUARE_ROOM_MM = 70.0


def sheet_svg(sheet: Sheet, *, with_square: bool = True) -> str:
    """Return a sheet as SVG.

    Parameters
    ----------
    sheet : Sheet
        The sheet.
    with_square : bool
        Whether a 50 mm test square is drawn below, to prove the scale.

    Returns
    -------
    str
        SVG whose width and height are in millimetres; lines carry their role as a class.
    """
    room = SQUARE_ROOM_MM if with_square else 0.0
    width, height = max(sheet.width_mm, room + 10.0), sheet.height_mm + room
    strokes, words = list(sheet.strokes), list(sheet.words)
    if with_square:
        proof = square((10.0, 10.0 - room), 50.0, "50 mm square")
        strokes.append(proof[0])
        words.append(proof[1])
    top = sheet.height_mm
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{_n(width)}mm" height="{_n(height)}mm" '
        f'viewBox="0 0 {_n(width)} {_n(height)}" role="img" aria-label="{escape(sheet.title)}" '
        f'font-family="{FONT}">',
        f"<title>{escape(sheet.title)}</title>",
        f'<rect class="paper" width="{_n(width)}" height="{_n(height)}" fill="{PAPER}"/>',
    ]
    for piece, group in groupby(strokes, key=lambda stroke: stroke.piece):
        parts.append(f'<g data-piece="{escape(piece)}">' if piece else "<g>")
        parts += [_stroke(stroke, top) for stroke in group]
        parts.append("</g>")
    parts += [_words(one, top) for one in words]
    return "\n".join([*parts, "</svg>\n"])


def _stroke(stroke: Stroke, top: float) -> str:
    points = "L".join(f"{_n(x)} {_n(top - y)}" for x, y in stroke.points)
    end = "Z" if stroke.closed else ""
    dashes = " ".join(_n(d) for d in stroke.dash_mm)
    dash = f' stroke-dasharray="{dashes}"' if dashes else ""
    return (
        f'<path class="{stroke.role}" d="M{points}{end}" fill="none" stroke="{INK}" '
        f'stroke-width="{_n(stroke.width_mm)}" stroke-linejoin="round"{dash}/>'
    )


def _words(words: Words, top: float) -> str:
    x, y = words.place
    turn = f"rotate({_n(-words.angle_deg)} {_n(x)} {_n(top - y)})"
    turned = f' transform="{turn}"' if words.angle_deg else ""
    return (
        f'<text x="{_n(x)}" y="{_n(top - y)}"{turned} font-size="{_n(words.size_mm)}" '
        f'textLength="{_n(text_width_mm(words.text, words.size_mm))}" '
        f'lengthAdjust="spacingAndGlyphs" fill="{INK}">'
        f"{escape(words.text)}</text>"
    )


def _n(value: float) -> str:
    shown = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if shown in {"-0", ""} else shown
