"""Care symbols, drawn anew from the standard's description: tub, triangle, square, iron, circle."""

from __future__ import annotations

from samite.sheets.svg import INK, escape

WIDTH, HEIGHT = 56.0, 48.0
"""Size of one symbol [user units]."""

_STROKE = (
    f'fill="none" stroke="{INK}" stroke-width="2.4" stroke-linejoin="round" stroke-linecap="round"'
)
_TUB = '<path d="M5 13 L10 38 H46 L51 13"/><path d="M5 15 q5.75 5 11.5 0 t11.5 0 t11.5 0 t11.5 0"/>'
_HAND = '<path d="M20 4 L27 11 M14 9 L21 17 M27 11 Q33 11 36 17 L38 26 L34 27 L31 22 M34 27 L30 29 L27 24 M30 29 L26 28 L21 17"/>'
_TRIANGLE = '<path d="M28 6 L50 40 H6 Z"/>'
_SQUARE = '<path d="M9 5 H47 V43 H9 Z"/>'
_IRON = '<path d="M5 38 H51 L46 16 Q45 10 39 10 H18 M5 38 Q7 25 22 23 H47"/>'
_CIRCLE = '<circle cx="28" cy="24" r="17"/>'
_CROSS = '<path d="M7 5 L49 43 M49 5 L7 43" stroke-width="3"/>'
_DRUM = _SQUARE + '<circle cx="28" cy="24" r="15"/>'
_BAR = '<path d="M10 44 H46"/>'
_TWO_BARS = '<path d="M10 42 H46 M10 46.5 H46"/>'


def _word(text: str, x: float, y: float, size: float) -> str:
    return (
        f'<text x="{x}" y="{y}" font-size="{size}" text-anchor="middle" fill="{INK}" stroke="none" '
        f'font-family="sans-serif" font-weight="700">{text}</text>'
    )


def _dots(count: int, y: float, gap: float = 8.0) -> str:
    first = 28.0 - gap * (count - 1) / 2.0
    return "".join(
        f'<circle cx="{first + gap * i:g}" cy="{y:g}" r="2.6" fill="{INK}" stroke="none"/>'
        for i in range(count)
    )


SYMBOLS = {
    "tub-crossed": _TUB + _CROSS,
    "tub-hand": _TUB + _HAND,
    "tub-30-two-bars": _TUB + _word("30", 28, 34, 13) + _TWO_BARS,
    "tub-30-one-bar": _TUB + _word("30", 28, 34, 13) + _BAR,
    "tub-30": _TUB + _word("30", 28, 34, 13),
    "tub-40": _TUB + _word("40", 28, 34, 13),
    "triangle-crossed": _TRIANGLE + _CROSS,
    "triangle-striped": _TRIANGLE + '<path d="M22 40 L33 14 M31 40 L38 22"/>',
    "triangle": _TRIANGLE,
    "drum-crossed": _DRUM + _CROSS,
    "drum-one-dot": _DRUM + _dots(1, 24),
    "drum-two-dots": _DRUM + _dots(2, 24),
    "square-flat-shade": _SQUARE + '<path d="M17 24 H39 M9 15 L19 5 M9 22 L26 5"/>',
    "square-flat": _SQUARE + '<path d="M17 24 H39"/>',
    "square-drip": _SQUARE + '<path d="M22 13 V35 M34 13 V35"/>',
    "square-line": _SQUARE + '<path d="M28 13 V35"/>',
    "iron-crossed": _IRON + _CROSS,
    "iron-one-dot": _IRON + _dots(1, 31),
    "iron-two-dots": _IRON + _dots(2, 31),
    "iron-three-dots": _IRON + _dots(3, 31),
    "circle-crossed": _CIRCLE + _CROSS,
    "circle-f-one-bar": _CIRCLE + _word("F", 28, 31, 19) + _BAR,
    "circle-p-one-bar": _CIRCLE + _word("P", 28, 31, 19) + _BAR,
    "circle-p": _CIRCLE + _word("P", 28, 31, 19),
}
"""Strokes of every symbol, by its name in the table of care processes."""


def care_symbols_svg(steps: tuple[tuple[str, str], ...]) -> str:
    """Draw a row of care symbols.

    Parameters
    ----------
    steps : tuple of (str, str)
        Name of each symbol, and what it says in words.

    Returns
    -------
    str
        One SVG, in black alone; its title reads the words.
    """
    width = WIDTH * len(steps)
    said = escape("; ".join(words for _, words in steps))
    drawn = "".join(
        f'<g transform="translate({WIDTH * place:g} 0)"><title>{escape(words)}</title>'
        f"{SYMBOLS[name]}</g>"
        for place, (name, words) in enumerate(steps)
    )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width:g} {HEIGHT:g}" '
        f'width="{width:g}" height="{HEIGHT:g}" role="img"><title>{said}</title>'
        f"<g {_STROKE}>{drawn}</g></svg>"
    )
