"""A small writer of PDF: pages of strokes and words, one drawing shared by many pages."""

from __future__ import annotations

import math
import zlib
from collections.abc import Sequence
from dataclasses import dataclass

from samite.pieces.plane import Point
from samite.sheets.sheet import Stroke, Words
from samite.sheets.truetype import Font, own_font

POINT_MM = 25.4 / 72.0


@dataclass(frozen=True, slots=True)
class Page:
    """One page.

    Parameters
    ----------
    width_mm : float
        Width [mm].
    height_mm : float
        Height [mm].
    strokes : tuple of Stroke
        Lines of this page alone, from its lower left corner.
    words : tuple of Words
        Texts of this page alone.
    shift : tuple of (float, float) or None
        Where the shared drawing's lower left corner lies; None leaves it out [mm].
    window : tuple of (float, float, float, float)
        Part of the page that shows the shared drawing: x, y, width, height [mm].
    """

    width_mm: float
    height_mm: float
    strokes: tuple[Stroke, ...] = ()
    words: tuple[Words, ...] = ()
    shift: Point | None = None
    window: tuple[float, float, float, float] = (0.0, 0.0, 0.0, 0.0)


def write_pdf(
    title: str,
    strokes: Sequence[Stroke],
    words: Sequence[Words],
    pages: Sequence[Page],
    size_mm: Point,
) -> bytes:
    """Return a PDF at exactly one to one.

    Parameters
    ----------
    title : str
        Title of the document.
    strokes : sequence of Stroke
        The shared drawing.
    words : sequence of Words
        Its texts.
    pages : sequence of Page
        The pages.
    size_mm : tuple of (float, float)
        Size of the shared drawing [mm].

    Returns
    -------
    bytes
        The same for the same arguments; it asks viewers not to scale when printing.
    """
    font = own_font()
    used = {c for one in (*words, *(w for p in pages for w in p.words)) for c in one.text}
    body = _Objects()
    shared = _marks(strokes, words, font)
    w, h = size_mm[0] / POINT_MM, size_mm[1] / POINT_MM
    body.stream(
        3,
        f"/Type /XObject /Subtype /Form /BBox [0 0 {_n(w)} {_n(h)}] /Resources << /Font << /F 4 0 R >> >>",
        shared,
    )
    _font_objects(body, font, used)
    numbers = []
    for page in pages:
        number, content = body.next(), body.next()
        numbers.append(number)
        body.stream(content, "", _page_content(page, font))
        box = f"[0 0 {_n(page.width_mm / POINT_MM)} {_n(page.height_mm / POINT_MM)}]"
        body.put(
            number,
            f"<< /Type /Page /Parent 2 0 R /MediaBox {box} /Contents {content} 0 R "
            "/Resources << /XObject << /D 3 0 R >> /Font << /F 4 0 R >> >> >>",
        )
    kids = " ".join(f"{number} 0 R" for number in numbers)
    body.put(2, f"<< /Type /Pages /Count {len(numbers)} /Kids [{kids}] >>")
    body.put(
        1,
        "<< /Type /Catalog /Pages 2 0 R /ViewerPreferences << /PrintScaling /None "
        "/DisplayDocTitle true >> /Lang (en) >>",
    )
    return body.render(title)


def _page_content(page: Page, font: Font) -> bytes:
    parts = [_marks(page.strokes, page.words, font)]
    if page.shift is not None:
        x, y, w, h = (value / POINT_MM for value in page.window)
        dx, dy = page.shift[0] / POINT_MM, page.shift[1] / POINT_MM
        clip = f"q {_n(x)} {_n(y)} {_n(w)} {_n(h)} re W n 1 0 0 1 {_n(dx)} {_n(dy)} cm /D Do Q\n"
        parts.insert(0, clip.encode("ascii"))
    return b"".join(parts)


def _marks(strokes: Sequence[Stroke], words: Sequence[Words], font: Font) -> bytes:
    lines = ["1 j 1 J 0.1 0.1 0.09 RG 0.1 0.1 0.09 rg"]
    pen = ""
    for stroke in strokes:
        dashes = " ".join(_n(d / POINT_MM) for d in stroke.dash_mm)
        wanted = f"{_n(stroke.width_mm / POINT_MM)} w [{dashes}] 0 d"
        if wanted != pen:
            lines.append(wanted)
            pen = wanted
        placed = [f"{_n(x / POINT_MM)} {_n(y / POINT_MM)}" for x, y in stroke.points]
        path = f"{placed[0]} m " + " ".join(f"{one} l" for one in placed[1:])
        lines.append(f"{path} {'s' if stroke.closed else 'S'}")
    for one in words:
        glyphs = "".join(f"{glyph:04X}" for glyph in font.numbers(one.text))
        x, y = one.place[0] / POINT_MM, one.place[1] / POINT_MM
        size = _n(one.size_mm / POINT_MM)
        c, s = math.cos(math.radians(one.angle_deg)), math.sin(math.radians(one.angle_deg))
        at = f"{_n(x)} {_n(y)} Td"
        if one.angle_deg:
            at = f"{_n(c)} {_n(s)} {_n(-s)} {_n(c)} {_n(x)} {_n(y)} Tm"
        lines.append(f"BT /F {size} Tf {at} <{glyphs}> Tj ET")
    return ("\n".join(lines) + "\n").encode("ascii")


def _font_objects(body: _Objects, font: Font, used: set[str]) -> None:
    """Write the font as numbers 4 to 8: composite, descendant, descriptor, file, code points."""
    numbers = sorted({font.numbers(char)[0]: char for char in sorted(used, reverse=True)}.items())
    widths = " ".join(f"{glyph} [{font.widths[glyph]}]" for glyph, _ in numbers)
    box = " ".join(str(value) for value in font.box[:4])
    body.put(
        4,
        f"<< /Type /Font /Subtype /Type0 /BaseFont /{font.name} /Encoding /Identity-H "
        "/DescendantFonts [5 0 R] /ToUnicode 8 0 R >>",
    )
    body.put(
        5,
        f"<< /Type /Font /Subtype /CIDFontType2 /BaseFont /{font.name} /CIDSystemInfo << /Registry "
        f"(Adobe) /Ordering (Identity) /Supplement 0 >> /FontDescriptor 6 0 R /DW 500 /W [{widths}] "
        "/CIDToGIDMap /Identity >>",
    )
    body.put(
        6,
        f"<< /Type /FontDescriptor /FontName /{font.name} /Flags 32 /FontBBox [{box}] /ItalicAngle 0 "
        f"/Ascent {font.box[4]} /Descent {font.box[5]} /CapHeight 700 /StemV 80 /FontFile2 7 0 R >>",
    )
    body.stream(7, f"/Length1 {len(font.data)}", font.data)
    pairs = "\n".join(f"<{glyph:04X}> <{_utf16(char)}>" for glyph, char in numbers)
    text = (
        "/CIDInit /ProcSet findresource begin 12 dict begin begincmap /CMapName /U def "
        "/CMapType 2 def 1 begincodespacerange <0000> <FFFF> endcodespacerange\n"
        f"{len(numbers)} beginbfchar\n{pairs}\nendbfchar endcmap end end\n"
    )
    body.stream(8, "", text.encode("ascii"))


def _utf16(char: str) -> str:
    return char.encode("utf-16-be", "replace").hex().upper()


class _Objects:
    """Numbered objects of a PDF."""

    def __init__(self) -> None:
        self._found: dict[int, bytes] = {}
        self._last = 8

    def next(self) -> int:
        self._last += 1
        return self._last

    def put(self, number: int, text: str) -> None:
        self._found[number] = text.encode("latin-1")

    def stream(self, number: int, entries: str, content: bytes) -> None:
        packed = zlib.compress(content, 6)
        head = f"<< {entries} /Length {len(packed)} /Filter /FlateDecode >>\nstream\n"
        self._found[number] = head.encode("latin-1") + packed + b"\nendstream"

    def render(self, title: str) -> bytes:
        info = self.next()
        self.put(info, f"<< /Title <FEFF{title.encode('utf-16-be', 'replace').hex().upper()}> >>")
        out = bytearray(b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n")
        places = {}
        for number in sorted(self._found):
            places[number] = len(out)
            out += f"{number} 0 obj\n".encode() + self._found[number] + b"\nendobj\n"
        start = len(out)
        count = max(places) + 1
        out += f"xref\n0 {count}\n0000000000 65535 f \n".encode()
        for number in range(1, count):
            out += f"{places[number]:010d} 00000 n \n".encode()
        out += (
            f"trailer\n<< /Size {count} /Root 1 0 R /Info {info} 0 R >>\nstartxref\n{start}\n%%EOF\n"
        ).encode()
        return bytes(out)


def _n(value: float) -> str:
    shown = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if shown in {"-0", ""} else shown
