"""What is left of the cloth and worth keeping: rectangles free of pieces and flaws."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from samite.kernel.ranges import require_positive
from samite.lay.apart import Array, is_inside, overlap_mm
from samite.lay.problem import Lay, Problem
from samite.lay.verify import TOLERANCE_MM, is_on_cloth, placed_outline

MOST = 12
"""More remnants than this are scraps."""


@dataclass(frozen=True, slots=True)
class Offcut:
    """A rectangle that is left.

    Parameters
    ----------
    low_mm : tuple of (float, float)
        Its lower corner, along and across the cloth [mm].
    length_mm : float
        Along the cloth [mm].
    width_mm : float
        Across the cloth [mm].
    layers : int
        Layers of cloth: 2 where it lies folded.
    on_fold : bool
        Whether it lies at the fold, so that it opens to twice its width.
    """

    low_mm: tuple[float, float]
    length_mm: float
    width_mm: float
    layers: int = 1
    on_fold: bool = False

    @property
    def outline_mm(self) -> tuple[tuple[float, float], ...]:
        """Its corners, from (0, 0), opened out if it lies at the fold [mm]."""
        width = self.width_mm * (2.0 if self.on_fold else 1.0)
        return (0.0, 0.0), (self.length_mm, 0.0), (self.length_mm, width), (0.0, width)

    @property
    def pieces(self) -> int:
        """How many pieces of cloth it is."""
        return 1 if self.on_fold else self.layers

    @property
    def area_mm2(self) -> float:
        """Area of all its layers [mm2]."""
        return self.length_mm * self.width_mm * self.layers


def offcuts(
    problem: Problem, lay: Lay, *, bought_mm: float, least_mm: float = 120.0, cell_mm: float = 10.0
) -> tuple[Offcut, ...]:
    """Return the rectangles worth keeping when a lay has been cut.

    Parameters
    ----------
    problem : Problem
        The cloth.
    lay : Lay
        What is cut from it.
    bought_mm : float
        Length of the cloth there is [mm].
    least_mm : float
        Nothing narrower or shorter than this is kept [mm].
    cell_mm : float
        Rectangles are found on a grid of this size [mm].

    Returns
    -------
    tuple of Offcut
        The largest first; none overlaps another, a piece or a flaw.

    Raises
    ------
    OutOfRangeError
        If a size is impossible.

    Notes
    -----
    One after the other the largest free rectangle of a grid: errs small by up to two cells a side.
    A cell counts as free only if a piece or flaw is no nearer than half its diagonal.

    References
    ----------
    ``derivation``: largest rectangle under a histogram, row by row.
    """
    require_positive(least_mm=least_mm, cell_mm=cell_mm)
    origin, size = _room(problem, bought_mm)
    counts = np.maximum((size / cell_mm).astype(int), 1)
    taken = _taken(problem, lay, origin, counts, cell_mm)
    least = int(np.ceil(least_mm / cell_mm))
    found: list[Offcut] = []
    while len(found) < MOST:
        i, j, rows, columns = _largest(~taken)
        if min(rows, columns) < least:
            break
        taken[i : i + rows, j : j + columns] = True
        low = float(origin[0] + i * cell_mm), float(origin[1] + j * cell_mm)
        found.append(
            Offcut(
                low, rows * cell_mm, columns * cell_mm, 2 if problem.folded else 1,
                problem.folded and low[1] <= 1e-6,
            )
        )  # fmt: skip
    return tuple(sorted(found, key=lambda one: -one.area_mm2))


def check_offcut(problem: Problem, lay: Lay, offcut: Offcut) -> bool:
    """Tell whether an offcut lies on cloth, clear of every piece.

    Parameters
    ----------
    problem : Problem
        The cloth.
    lay : Lay
        What is cut from it.
    offcut : Offcut
        The rectangle.

    Returns
    -------
    bool
        True if it can be cut out whole.

    Notes
    -----
    Exact, unlike the grid by which it was found.

    References
    ----------
    ``definition``: inside the cloth, outside the pieces.
    """
    (x, y), length, width = offcut.low_mm, offcut.length_mm, offcut.width_mm
    corners = np.array([[x, y], [x + length, y], [x + length, y + width], [x, y + width]])
    return is_on_cloth(problem, corners) and all(
        overlap_mm(corners, outline) <= TOLERANCE_MM for outline in _outlines(problem, lay)
    )


def _outlines(problem: Problem, lay: Lay) -> list[Array]:
    pieces = {piece.name: piece for piece in problem.pieces}
    return [placed_outline(pieces[one.piece], one) for one in lay.placements]


def _room(problem: Problem, bought: float) -> tuple[Array, Array]:
    if problem.outline_mm is None:
        return np.zeros(2), np.array([bought, problem.lying_width_mm])
    cloth = np.asarray(problem.outline_mm, dtype=np.float64)
    return cloth.min(axis=0), np.ptp(cloth, axis=0)


def _taken(
    problem: Problem, lay: Lay, origin: Array, counts: NDArray[np.int_], cell: float
) -> NDArray[np.bool_]:
    """Return the cells that a piece, a flaw or the end of the cloth touches."""
    taken: NDArray[np.bool_] = np.zeros((int(counts[0]), int(counts[1])), dtype=np.bool_)
    if problem.outline_mm is not None:
        cloth = np.asarray(problem.outline_mm, dtype=np.float64)
        middles = _middles(origin, (0, 0), taken.shape, cell)
        inside = is_inside(middles, cloth).reshape(taken.shape)
        taken |= ~inside | _near(middles, cloth, cell).reshape(taken.shape)
    flaws = [np.asarray(hole, dtype=np.float64) for hole in problem.holes]
    for outline in [*_outlines(problem, lay), *flaws]:
        low = np.floor((outline.min(axis=0) - origin) / cell).astype(int) - 1
        high = np.ceil((outline.max(axis=0) - origin) / cell).astype(int) + 1
        (i0, j0), (i1, j1) = np.maximum(low, 0), np.minimum(high, taken.shape)
        if i0 < i1 and j0 < j1:
            shape = (int(i1 - i0), int(j1 - j0))
            middles = _middles(origin, (int(i0), int(j0)), shape, cell)
            met = is_inside(middles, outline) | _near(middles, outline, cell)
            taken[i0:i1, j0:j1] |= met.reshape(shape)
    return taken


def _middles(origin: Array, first: tuple[int, int], shape: tuple[int, ...], cell: float) -> Array:
    x = origin[0] + (first[0] + np.arange(shape[0]) + 0.5) * cell
    y = origin[1] + (first[1] + np.arange(shape[1]) + 0.5) * cell
    return np.stack(np.meshgrid(x, y, indexing="ij"), axis=-1).reshape(-1, 2)


def _near(points: Array, outline: Array, cell: float) -> NDArray[np.bool_]:
    """Tell which points lie within half the diagonal of a cell from a line."""
    reach = cell * 0.7072
    found: NDArray[np.bool_] = np.zeros(len(points), dtype=np.bool_)
    for start, end in zip(outline, np.roll(outline, -1, axis=0), strict=True):
        low, high = np.minimum(start, end) - reach, np.maximum(start, end) + reach
        close = np.flatnonzero(np.all((points >= low) & (points <= high), axis=1) & ~found)
        if len(close):
            along = end - start
            size = max(float(along @ along), 1e-300)
            offset = points[close] - start
            t = np.clip(offset @ along / size, 0.0, 1.0)
            away = offset - t[:, None] * along
            found[close] = np.sum(away * away, axis=1) <= reach * reach
    return found


def _largest(free: NDArray[np.bool_]) -> tuple[int, int, int, int]:
    """Return first row, first column, rows and columns of the largest free rectangle."""
    heights = np.zeros(free.shape[1], dtype=int)
    best, found = 0, (0, 0, 0, 0)
    for i, row in enumerate(free):
        heights = np.where(row, heights + 1, 0)
        area, (left, right, high) = _under(heights.tolist())
        if area > best:
            best, found = area, (i - high + 1, left, high, right - left)
    return found


def _under(heights: Sequence[int]) -> tuple[int, tuple[int, int, int]]:
    """Return the largest rectangle under a histogram: area, left, right, height."""
    best, found = 0, (0, 0, 0)
    open_at: list[tuple[int, int]] = []
    for k, height in enumerate([*heights, 0]):
        start = k
        while open_at and open_at[-1][1] >= height:
            start, tall = open_at.pop()
            if tall * (k - start) > best:
                best, found = tall * (k - start), (start, k, tall)
        open_at.append((start, height))
    return best, found
