"""What a page says, measured by an outside reader of PDF."""

from __future__ import annotations

import ctypes
from dataclasses import dataclass

import numpy as np
import pypdfium2 as pdfium
from pypdfium2 import raw

MM_PER_POINT = 25.4 / 72.0


@dataclass(frozen=True)
class Letter:
    """One letter, its size in points and its place in millimetres from the lower left."""

    sign: str
    size: float
    left: float
    bottom: float
    right: float
    top: float


def sizes_mm(pdf: bytes) -> list[tuple[float, float]]:
    pages = list(pdfium.PdfDocument(pdf))
    return [tuple(side * MM_PER_POINT for side in page.get_size()) for page in pages]


def text_of(pdf: bytes, page: int = 0) -> str:
    words = pdfium.PdfDocument(pdf)[page].get_textpage().get_text_range()
    return " ".join(words.split())


def letters(pdf: bytes, page: int = 0) -> list[Letter]:
    document = pdfium.PdfDocument(pdf)
    text = document[page].get_textpage()
    found = []
    for index in range(text.count_chars()):
        sign = chr(raw.FPDFText_GetUnicode(text.raw, index))
        if sign.isspace():
            continue
        left, bottom, right, top = (side * MM_PER_POINT for side in text.get_charbox(index))
        size = raw.FPDFText_GetFontSize(text.raw, index) * _scale(text, index)
        found.append(Letter(sign, size, left, bottom, right, top))
    return found


def _scale(text: pdfium.PdfTextPage, index: int) -> float:
    """Return by how much a letter's size is scaled."""
    matrix = raw.FS_MATRIX()
    assert raw.FPDFText_GetMatrix(text.raw, index, ctypes.byref(matrix))
    return abs(matrix.d)


def grey(pdf: bytes, page: int = 0, dots_per_mm: float = 4.0) -> np.ndarray:
    """Return a page in shades of grey, 0 black to 255 white."""
    scale = dots_per_mm * MM_PER_POINT
    bitmap = pdfium.PdfDocument(pdf)[page].render(scale=scale, grayscale=True)
    return np.asarray(bitmap.to_numpy())


def colours(pdf: bytes, page: int = 0) -> int:
    """Return the greatest difference between the channels of any pixel."""
    pixels = np.asarray(pdfium.PdfDocument(pdf)[page].render(scale=1.0).to_numpy()).astype(int)
    return int((pixels[:, :, :3].max(axis=2) - pixels[:, :, :3].min(axis=2)).max())


def fonts(pdf: bytes, page: int = 0) -> set[str]:
    """Return the names of the fonts that a page's letters are set in."""
    document = pdfium.PdfDocument(pdf)
    text = document[page].get_textpage()
    found = set()
    for index in range(text.count_chars()):
        name = ctypes.create_string_buffer(200)
        if raw.FPDFText_GetFontInfo(text.raw, index, name, 200, ctypes.byref(ctypes.c_int())):
            found.add(name.value.decode().partition("+")[2] or name.value.decode())
    return found - {""}
