"""A sheet cut into pages: tiles with overlap, marks, a map, test squares, no empty page."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from samite.kernel.errors import OutOfRangeError, UnknownNameError
from samite.sheets.pdf import Page, write_pdf
from samite.sheets.sheet import THIN_MM, Sheet, Stroke, Words, square
from samite.sheets.truetype import text_width_mm

MARGIN_MM, LAP_MM, FOOT_MM = 10.0, 10.0, 6.0
LONGEST_MM = 5000.0
"""Longest page that viewers show [mm]."""

MOST_PAGES = 2000
INCHES_MM = 50.8
SIZES = {
    "a4": (210.0, 297.0),
    "us-letter": (215.9, 279.4),
    "a3": (297.0, 420.0),
    "a0": (841.0, 1189.0),
}
"""Width and height of the papers [mm]."""


@dataclass(frozen=True, slots=True)
class Tiling:
    """How a sheet is cut into pages.

    Parameters
    ----------
    paper : tuple of (float, float)
        Width and height of a page [mm].
    window : tuple of (float, float)
        Width and height of the part that shows the sheet [mm].
    columns : int
        Pages across.
    rows : int
        Pages upwards.
    kept : tuple of (int, int)
        Row and column of every page with something on it, top row first.
    """

    paper: tuple[float, float]
    window: tuple[float, float]
    columns: int
    rows: int
    kept: tuple[tuple[int, int], ...]


def tile(sheet: Sheet, paper: str, roll_width_mm: float = 0.0) -> Tiling:
    """Return how a sheet falls onto a paper.

    Parameters
    ----------
    sheet : Sheet
        The sheet.
    paper : str
        ``a4``, ``us-letter``, ``a3``, ``a0`` or ``roll``.
    roll_width_mm : float
        Width of the roll [mm].

    Returns
    -------
    Tiling
        Pages without a line or a word are dropped.

    Raises
    ------
    UnknownNameError
        If there is no such paper.
    OutOfRangeError
        If the roll is too narrow, or the pages are too many.
    """
    size = _paper_size(sheet, paper, roll_width_mm)
    window = size[0] - 2 * MARGIN_MM, size[1] - 2 * MARGIN_MM - FOOT_MM
    step = window[0] - LAP_MM, window[1] - LAP_MM
    columns = max(1, math.ceil((sheet.width_mm - LAP_MM) / step[0] - 1e-9))
    rows = max(1, math.ceil((sheet.height_mm - LAP_MM) / step[1] - 1e-9))
    if columns * rows > MOST_PAGES:
        raise OutOfRangeError(
            f"that would be {columns * rows} pages", "--paper", "take a larger paper or a roll"
        )
    drawn = [*sheet.strokes, *map(_base_line, sheet.words)]
    covered = _covered(drawn, step, window, (columns, rows))
    kept = sorted(covered, key=lambda cell: (-cell[0], cell[1]))
    return Tiling(size, window, columns, rows, tuple(kept))


def _base_line(words: Words) -> Stroke:
    """Return the line that words stand on, so that no page with words on it is dropped."""
    (x, y), wide = words.place, text_width_mm(words.text, words.size_mm)
    angle = math.radians(words.angle_deg)
    return Stroke((words.place, (x + wide * math.cos(angle), y + wide * math.sin(angle))))


def _paper_size(sheet: Sheet, paper: str, roll_width_mm: float) -> tuple[float, float]:
    if paper == "roll":
        if not 200.0 <= roll_width_mm <= 3000.0:
            raise OutOfRangeError(
                f"a roll {roll_width_mm:g} mm wide is impossible",
                "--roll-width",
                "from 200 to 3000 mm",
            )
        height = sheet.height_mm + 2 * MARGIN_MM + FOOT_MM
        return roll_width_mm, min(max(height, 120.0), LONGEST_MM)
    if paper not in SIZES:
        raise UnknownNameError(f"no paper {paper!r}", "--paper", f"{', '.join(SIZES)} or roll")
    return SIZES[paper]


def _covered(
    strokes: Sequence[Stroke],
    step: tuple[float, float],
    window: tuple[float, float],
    counts: tuple[int, int],
) -> set[tuple[int, int]]:
    """Return row and column of all pages on which a line shows, walking lines by 2 mm."""
    found: set[tuple[int, int]] = set()
    for stroke in strokes:
        ends = [*stroke.points, stroke.points[0]] if stroke.closed else list(stroke.points)
        for a, b in pairwise(ends):
            parts = max(1, math.ceil(math.dist(a, b) / 2.0))
            for k in range(parts + 1):
                x = a[0] + (b[0] - a[0]) * k / parts
                y = a[1] + (b[1] - a[1]) * k / parts
                columns = _cells(x, step[0], window[0], counts[0])
                found |= {(r, c) for r in _cells(y, step[1], window[1], counts[1]) for c in columns}
    return found


def _cells(value: float, step: float, window: float, count: int) -> range:
    first = max(0, math.ceil((value - window) / step - 1e-9))
    return range(first, min(count - 1, max(0, math.floor(value / step))) + 1)


def tiled_pdf(sheet: Sheet, paper: str = "a4", roll_width_mm: float = 0.0) -> bytes:
    """Return a sheet as PDF at exactly one to one, tiled.

    Parameters
    ----------
    sheet : Sheet
        The sheet.
    paper : str
        ``a4``, ``us-letter``, ``a3``, ``a0`` or ``roll``.
    roll_width_mm : float
        Width of the roll [mm].

    Returns
    -------
    bytes
        PDF: a first page with map and test squares, then one page a tile.

    Raises
    ------
    UnknownNameError
        If there is no such paper.
    OutOfRangeError
        If the roll is too narrow, or the pages are too many.
    """
    tiling = tile(sheet, paper, roll_width_mm)
    pages = [_map_page(sheet, tiling)]
    pages += [_tile_page(sheet, tiling, row, column) for row, column in tiling.kept]
    return write_pdf(
        sheet.title, sheet.strokes, sheet.words, pages, (sheet.width_mm, sheet.height_mm)
    )


def _name(tiling: Tiling, row: int, column: int) -> str:
    return f"row {tiling.rows - row}, column {column + 1}"


def _tile_page(sheet: Sheet, tiling: Tiling, row: int, column: int) -> Page:
    width, height = tiling.window
    left, bottom = MARGIN_MM, MARGIN_MM + FOOT_MM
    shift = left - column * (width - LAP_MM), bottom - row * (height - LAP_MM)
    strokes: list[Stroke] = []
    for x in (left + LAP_MM / 2, left + width - LAP_MM / 2):
        for y in (bottom + LAP_MM / 2, bottom + height - LAP_MM / 2):
            strokes += _cross(x, y)
    strokes += _laps(tiling, row, column, left, bottom)
    number = tiling.kept.index((row, column)) + 1
    text = f"{sheet.title}: {_name(tiling, row, column)} ({number} of {len(tiling.kept)})"
    words = (Words((left, MARGIN_MM), text, 3.2),)
    return Page(*tiling.paper, tuple(strokes), words, shift, (left, bottom, width, height))


def _cross(x: float, y: float) -> list[Stroke]:
    return [
        Stroke(((x - 4, y), (x + 4, y)), THIN_MM),
        Stroke(((x, y - 4), (x, y + 4)), THIN_MM),
    ]


def _laps(tiling: Tiling, row: int, column: int, left: float, bottom: float) -> list[Stroke]:
    """Return the window's frame; where a neighbour is laid over it, a dashed line."""
    width, height = tiling.window
    corners = (
        (left, bottom),
        (left + width, bottom),
        (left + width, bottom + height),
        (left, bottom + height),
    )
    lines = [Stroke(corners, 0.1, (), True)]
    kept = set(tiling.kept)
    if (row, column + 1) in kept:
        x = left + width - LAP_MM
        lines.append(Stroke(((x, bottom), (x, bottom + height)), 0.1, (1.5, 1.5)))
    if (row + 1, column) in kept:
        y = bottom + height - LAP_MM
        lines.append(Stroke(((left, y), (left + width, y)), 0.1, (1.5, 1.5)))
    return lines


def _map_page(sheet: Sheet, tiling: Tiling) -> Page:
    """Return the first page: test squares, what to do, and the map of the pages."""
    width, height = tiling.paper
    metric = square((MARGIN_MM, height - MARGIN_MM - 62.0), 50.0, "50 mm")
    inches = square((MARGIN_MM + 60.0, height - MARGIN_MM - 62.0), INCHES_MM, "2 in")
    told = (
        sheet.title,
        "Print at 100 %, never fitted to the page. Measure both squares before cutting.",
        "Trim each page at its dashed lines, if it has any; lay neighbours over, crosses on crosses.",
    )
    words = [metric[1], inches[1]]
    words += [
        Words((MARGIN_MM, height - MARGIN_MM - 72.0 - 6.0 * k), text, 3.6)
        for k, text in enumerate(told)
    ]
    room = min(width, 500.0) - 2 * MARGIN_MM, min(height, 500.0) - 2 * MARGIN_MM - 98.0
    step = tiling.window[0] - LAP_MM, tiling.window[1] - LAP_MM
    whole = tiling.columns * step[0] + LAP_MM, tiling.rows * step[1] + LAP_MM
    scale = min(room[0] / whole[0], room[1] / whole[1], 0.25)
    top = height - MARGIN_MM - 96.0 - scale * whole[1]
    strokes = [metric[0], inches[0], *_small(sheet, scale, (MARGIN_MM, top))]
    for number, (row, column) in enumerate(tiling.kept, 1):
        x, y = MARGIN_MM + column * step[0] * scale, top + row * step[1] * scale
        w, h = tiling.window[0] * scale, tiling.window[1] * scale
        strokes.append(
            Stroke(((x, y), (x + w, y), (x + w, y + h), (x, y + h)), 0.1, (1.0, 1.0), True)
        )
        size = max(1.6, min(5.0, h / 4.0))
        words.append(Words((x + w / 2 - size / 2, y + h / 2), str(number), size))
    return Page(width, height, tuple(strokes), tuple(words))


def _small(sheet: Sheet, scale: float, low: tuple[float, float]) -> list[Stroke]:
    lines = []
    for stroke in sheet.strokes:
        if stroke.role == "cut":
            points = tuple((low[0] + x * scale, low[1] + y * scale) for x, y in stroke.points)
            lines.append(Stroke(points, 0.2, (), stroke.closed))
    return lines
