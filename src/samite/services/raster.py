"""A quick estimate of cloth: outlines on a grid, laid one after the other as low as they go.

This is the answer of the shop counter, not the cutting lay. Every cell that an outline touches
counts as taken, so that it errs long.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from samite.kernel.errors import InfeasibleError
from samite.pieces.plane import Point

CELL_MM = 12.0


@dataclass(frozen=True, slots=True)
class Cell:
    """An outline on a grid.

    Parameters
    ----------
    rows : tuple of int
        One number a row along the cloth, a bit a cell across it.
    width : int
        Cells across.
    """

    rows: tuple[int, ...]
    width: int


def on_grid(points: Sequence[Point], angle_deg: float) -> Cell:
    """Return the cells that an outline covers or touches.

    Parameters
    ----------
    points : sequence of tuple of (float, float)
        The outline [mm].
    angle_deg : float
        Turn that brings its grain along the cloth, which runs upwards [deg].

    Returns
    -------
    Cell
        The grid.
    """
    c, s = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))
    turned = [(x * c - y * s, x * s + y * c) for x, y in points]
    low_x, low_y = min(p[0] for p in turned), min(p[1] for p in turned)
    placed = [((x - low_x) / CELL_MM, (y - low_y) / CELL_MM) for x, y in turned]
    width = max(1, math.ceil(max(x for x, _ in placed) - 1e-9))
    height = max(1, math.ceil(max(y for _, y in placed) - 1e-9))
    spans: list[list[tuple[float, float]]] = [[] for _ in range(height)]
    rows = [0] * height
    for a, b in zip(placed, [*placed[1:], placed[0]], strict=True):
        _touch(rows, a, b)
        _crossings(spans, a, b)
    for k, found in enumerate(spans):
        cuts = sorted(x for x, _ in found)
        for start, end in zip(cuts[::2], cuts[1::2], strict=False):
            rows[k] |= _run(math.floor(start), math.ceil(end))
    return Cell(tuple(row & _run(0, width) for row in rows), width)


def _run(start: int, end: int) -> int:
    return ((1 << max(end - start, 1)) - 1) << max(start, 0)


def _touch(rows: list[int], a: Point, b: Point) -> None:
    steps = max(1, math.ceil(math.dist(a, b) * 2.0))
    for k in range(steps + 1):
        x = a[0] + (b[0] - a[0]) * k / steps
        y = a[1] + (b[1] - a[1]) * k / steps
        rows[min(max(int(y), 0), len(rows) - 1)] |= 1 << max(int(x - 1e-9), 0)


def _crossings(spans: list[list[tuple[float, float]]], a: Point, b: Point) -> None:
    low, high = sorted((a, b), key=lambda p: p[1])
    for k in range(
        max(0, math.ceil(low[1] - 0.5)), min(len(spans) - 1, math.floor(high[1] - 0.5)) + 1
    ):
        y = k + 0.5
        if low[1] <= y < high[1]:
            spans[k].append((low[0] + (high[0] - low[0]) * (y - low[1]) / (high[1] - low[1]), y))


def packed_length_mm(cells: Sequence[tuple[Cell, Cell]], width_mm: float) -> float:
    """Return the length of cloth that outlines take, each as low as it goes, largest first.

    Parameters
    ----------
    cells : sequence of (Cell, Cell)
        Each outline in the two ways that it may lie; the same twice if there is but one.
    width_mm : float
        Usable width of the cloth [mm].

    Returns
    -------
    float
        Length [mm].

    Raises
    ------
    InfeasibleError
        If an outline is wider than the cloth.
    """
    across = int(width_mm / CELL_MM)
    whole = (1 << across) - 1
    cloth: list[int] = []
    first: dict[Cell, int] = {}
    for pair in sorted(cells, key=lambda two: -len(two[0].rows) * two[0].width):
        if pair[0].width > across:
            raise InfeasibleError(
                f"a piece {pair[0].width * CELL_MM / 10:.0f} cm wide does not fit on a cloth"
                f" {width_mm / 10:.0f} cm wide",
                "width",
                "take more panels, a wider cloth, or join across",
            )
        best = min(
            (
                _lowest(cloth, cell, across, whole, first.get(cell, 0))
                for cell in dict.fromkeys(pair)
            ),
            key=lambda found: (found[0] + len(found[2].rows), found[0]),
        )
        bottom, shift, cell = best
        first[cell] = bottom
        cloth += [0] * (bottom + len(cell.rows) - len(cloth))
        for k, row in enumerate(cell.rows):
            cloth[bottom + k] |= row << shift
    return len(cloth) * CELL_MM


def _lowest(
    cloth: Sequence[int], cell: Cell, across: int, whole: int, start: int
) -> tuple[int, int, Cell]:
    shifts = (1 << (across - cell.width + 1)) - 1
    for bottom in range(start, len(cloth) + 1):
        free = shifts
        for k, row in enumerate(cell.rows):
            if bottom + k >= len(cloth) or not free:
                break
            taken = cloth[bottom + k]
            if taken:
                free &= ~_blocked(taken, row) & whole
        if free:
            return bottom, (free & -free).bit_length() - 1, cell
    return len(cloth), 0, cell


def _blocked(taken: int, row: int) -> int:
    """Return the shifts at which a row meets what is taken."""
    blocked = 0
    while row:
        start = (row & -row).bit_length() - 1
        run = (~(row >> start) & ((row >> start) + 1)).bit_length() - 1
        spread, wide = taken, 1
        while wide < run:
            step = min(wide, run - wide)
            spread |= spread >> step
            wide += step
        blocked |= spread >> start
        row &= ~(((1 << run) - 1) << start)
    return blocked
