"""As much of a TrueType font as a PDF needs: glyph numbers and widths."""

from __future__ import annotations

import struct
from dataclasses import dataclass
from functools import cache
from importlib.resources import files


@dataclass(frozen=True, slots=True)
class Font:
    """A font ready to be embedded.

    Parameters
    ----------
    name : str
        Name for the PDF.
    data : bytes
        The whole file.
    glyphs : dict of int to int
        Glyph number by code point.
    widths : tuple of int
        Width of every glyph, in thousandths of the size.
    box : tuple of int
        Bounding box, ascent and descent, in thousandths.
    """

    name: str
    data: bytes
    glyphs: dict[int, int]
    widths: tuple[int, ...]
    box: tuple[int, int, int, int, int, int]

    def numbers(self, text: str) -> list[int]:
        """Return the glyph numbers of a text.

        Parameters
        ----------
        text : str
            The text.

        Returns
        -------
        list of int
            One a character; that of the question mark where the font has none.
        """
        unknown = self.glyphs.get(ord("?"), 0)
        return [self.glyphs.get(ord(char), unknown) for char in text]


@cache
def own_font() -> Font:
    """Return the font that is shipped.

    Returns
    -------
    Font
        Regular weight.
    """
    path = files("samite.sheets") / "fonts" / "AtkinsonHyperlegible_400Regular.ttf"
    data = path.read_bytes()
    tables = _tables(data)
    units = _at(data, tables["head"] + 18, ">H")
    box = struct.unpack_from(">4h", data, tables["head"] + 36)
    ascent, descent = struct.unpack_from(">2h", data, tables["hhea"] + 4)
    metrics = _at(data, tables["hhea"] + 34, ">H")
    count = _at(data, tables["maxp"] + 4, ">H")
    widths = [_at(data, tables["hmtx"] + 4 * k, ">H") for k in range(metrics)]
    widths += [widths[-1]] * (count - metrics)
    scale = 1000.0 / units
    rounded = tuple(round(value * scale) for value in (*box, ascent, descent))
    return Font(
        "AtkinsonHyperlegible-Regular",
        data,
        _characters(data, tables["cmap"]),
        tuple(round(width * scale) for width in widths),
        (rounded[0], rounded[1], rounded[2], rounded[3], rounded[4], rounded[5]),
    )


def _at(data: bytes, place: int, form: str) -> int:
    return int(struct.unpack_from(form, data, place)[0])


def _tables(data: bytes) -> dict[str, int]:
    found = {}
    for k in range(_at(data, 4, ">H")):
        tag, _, offset, _ = struct.unpack_from(">4sIII", data, 12 + 16 * k)
        found[tag.decode("ascii")] = int(offset)
    return found


def _characters(data: bytes, cmap: int) -> dict[int, int]:
    """Read the segments of a format 4 character map."""
    for k in range(_at(data, cmap + 2, ">H")):
        start = cmap + _at(data, cmap + 8 + 8 * k, ">I")
        if _at(data, start, ">H") == 4:
            return _format_four(data, start)
    return {}


def _format_four(data: bytes, start: int) -> dict[int, int]:
    doubled = _at(data, start + 6, ">H")
    found: dict[int, int] = {}
    for k in range(0, doubled, 2):
        end = _at(data, start + 14 + k, ">H")
        first = _at(data, start + 16 + doubled + k, ">H")
        delta = _at(data, start + 16 + 2 * doubled + k, ">H")
        here = start + 16 + 3 * doubled + k
        offset = _at(data, here, ">H")
        for code in range(first, min(end, 0xFFFE) + 1):
            if offset == 0:
                glyph = (code + delta) & 0xFFFF
            else:
                glyph = _at(data, here + offset + 2 * (code - first), ">H")
                glyph = (glyph + delta) & 0xFFFF if glyph else 0
            if glyph:
                found[code] = glyph
    return found


def text_width_mm(text: str, size_mm: float) -> float:
    """Return how wide a text is in the font that is shipped.

    Parameters
    ----------
    text : str
        The text.
    size_mm : float
        Size of the type [mm].

    Returns
    -------
    float
        Width [mm].
    """
    font = own_font()
    return sum(font.widths[glyph] for glyph in font.numbers(text)) * size_mm / 1000.0
