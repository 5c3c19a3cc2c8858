"""Where the label of a piece stands: inside it, clear of its lines, wrapped, turned or smaller if need be."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from samite.pieces.outline import Piece
from samite.pieces.plane import Point
from samite.sheets.truetype import text_width_mm

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Filled = NDArray[np.int64]

SIZES_MM = (6.0, 5.0, 4.0, 3.2, 2.6)
"""Sizes of type that are tried, the largest first [mm]."""

LEADING = 1.4
"""Lines of type, in sizes."""

WRAPS = (999, 34, 24, 17)
"""Letters a line may have, the longest first."""

CLEAR_MM = 2.0
"""Room between the label and any line [mm]."""

_FINEST_MM = 1.5
_CELLS = 300
_OTHER_FONTS = 1.04
"""How much wider a viewer may set a line; longer lines are drawn to their length."""

Segment = tuple[Point, Point]


@dataclass(frozen=True, slots=True)
class Block:
    """A label that was placed.

    Parameters
    ----------
    place : tuple of (float, float)
        Where the base line of its first line begins [mm].
    size_mm : float
        Size of the type [mm].
    angle_deg : float
        Direction of its lines [deg].
    lines : tuple of str
        Its lines, as they were wrapped.
    inside : bool
        Whether it stands inside the piece.
    """

    place: Point
    size_mm: float
    angle_deg: float
    lines: tuple[str, ...]
    inside: bool = True


def place_label(piece: Piece, told: Sequence[str], grain: Sequence[Segment], below: Point) -> Block:
    """Place a label in a piece.

    Parameters
    ----------
    piece : Piece
        The piece.
    told : sequence of str
        What it says, one line each where there is room.
    grain : sequence of ((float, float), (float, float))
        Ends of the grain line and of its heads [mm].
    below : tuple of (float, float)
        Lower left of all that is drawn of the piece [mm].

    Returns
    -------
    Block
        As large as fits: in whole lines before wrapped, upright before turned, clear of all lines on the
        piece before across girth lines and hatching. Where nothing fits, below the piece.
    """
    rules = [pair for rule in piece.rules for pair in pairwise(rule.points)]
    firm = [
        pair for rule in piece.rules if not _may_be_crossed(rule.name)
        for pair in pairwise(rule.points)
    ]  # fmt: skip
    outline = piece.flat(0.5)
    rooms = [Room(outline, [*grain, *rules])]
    if len(firm) < len(rules):
        rooms.append(Room(outline, [*grain, *firm]))
    for sizes in (SIZES_MM[:-1], SIZES_MM[-1:]):
        for room in rooms:
            for size, lines, angle in _tried(told, sizes):
                found = room.place(lines, size, turned=angle > 0.0)
                if found is not None:
                    return Block(found, size, angle, lines)
    size = SIZES_MM[-2]
    return Block((below[0], below[1] - LEADING * size - CLEAR_MM), size, 0.0, tuple(told), False)


def _may_be_crossed(name: str) -> bool:
    return name.endswith(" line") or name in ("pull", "too much")


def _tried(
    told: Sequence[str], sizes: Sequence[float]
) -> Iterator[tuple[float, tuple[str, ...], float]]:
    """Yield sizes, lines and angles in the order in which they are tried."""
    ways = list(dict.fromkeys(_wrapped(told, letters) for letters in WRAPS))
    for size in sizes:
        for lines in ways:
            yield size, lines, 0.0
            yield size, lines, 90.0


def _wrapped(told: Sequence[str], letters: int) -> tuple[str, ...]:
    """Return lines of at most so many letters, parted between words."""
    made: list[str] = []
    for line in told:
        now = ""
        for word in _words(line):
            if now and len(now) + 1 + len(word) > letters:
                made.append(now)
                now = word
            else:
                now = f"{now} {word}".strip()
        made.append(now)
    return tuple(made)


def _words(line: str) -> list[str]:
    """Return the words of a line; a number keeps its unit."""
    made: list[str] = []
    for word in line.split():
        if made and made[-1][-1].isdigit() and word[0].isalpha() and len(word) <= 5:
            made[-1] = f"{made[-1]} {word}"
        else:
            made.append(word)
    return made


class Room:
    """A piece as squares that are free, summed so that any rectangle is looked up at once.

    Parameters
    ----------
    outline : sequence of (float, float)
        Its stitch line [mm].
    drawn : sequence of ((float, float), (float, float))
        Lines to keep clear of [mm].
    """

    def __init__(self, outline: Sequence[Point], drawn: Sequence[Segment]) -> None:
        xs, ys = [x for x, _ in outline], [y for _, y in outline]
        self.low = min(xs), min(ys)
        wide, high = max(xs) - self.low[0], max(ys) - self.low[1]
        self.cell = max(_FINEST_MM, max(wide, high) / _CELLS)
        self.shape = math.ceil(high / self.cell), math.ceil(wide / self.cell)
        free = self._inside(outline)
        for a, b in (*drawn, *pairwise([*outline, outline[0]])):
            self._block(free, a, b)
        self.sums = np.zeros((self.shape[0] + 1, self.shape[1] + 1), dtype=np.int64)
        self.sums[1:, 1:] = free.cumsum(axis=0).cumsum(axis=1)

    def _inside(self, outline: Sequence[Point]) -> NDArray[np.bool_]:
        """Return which squares have their middle inside an outline."""
        points = np.array(outline) - self.low
        ends = np.roll(points, -1, axis=0)
        y = (np.arange(self.shape[0]) + 0.5)[:, None] * self.cell
        cuts = (points[:, 1] > y) != (ends[:, 1] > y)
        rise = np.where(ends[:, 1] == points[:, 1], 1.0, ends[:, 1] - points[:, 1])
        x = points[:, 0] + (ends[:, 0] - points[:, 0]) * (y - points[:, 1]) / rise
        counts = np.zeros((self.shape[0], self.shape[1] + 1), dtype=np.int64)
        row, edge = np.nonzero(cuts)
        column = np.ceil(x[row, edge] / self.cell - 0.5).astype(np.int64)
        np.add.at(counts, (row, np.clip(column, 0, self.shape[1])), 1)
        return np.asarray(counts.cumsum(axis=1)[:, :-1] % 2 == 1)

    def _block(self, free: NDArray[np.bool_], a: Point, b: Point) -> None:
        """Take away the squares that a line runs through."""
        count = max(2, math.ceil(2.0 * math.dist(a, b) / self.cell))
        at = np.linspace(a, b, count + 1) - self.low
        cells = np.floor(at / self.cell).astype(np.int64)
        on = ((cells >= 0) & (cells < (self.shape[1], self.shape[0]))).all(axis=1)
        free[cells[on, 1], cells[on, 0]] = False

    def place(self, lines: Sequence[str], size_mm: float, *, turned: bool) -> Point | None:
        """Return where the first base line of some lines begins.

        Parameters
        ----------
        lines : sequence of str
            The lines.
        size_mm : float
            Size of the type [mm].
        turned : bool
            Whether they run upwards.

        Returns
        -------
        tuple of (float, float) or None
            The place nearest to the middle; None without room [mm].
        """
        along = max(text_width_mm(line, size_mm) for line in lines) * _OTHER_FONTS + 2.0 * CLEAR_MM
        across = (len(lines) - 1) * LEADING * size_mm + 1.2 * size_mm + 2.0 * CLEAR_MM
        wide, high = (across, along) if turned else (along, across)
        columns, rows = math.ceil(wide / self.cell), math.ceil(high / self.cell)
        if rows > self.shape[0] or columns > self.shape[1]:
            return None
        s = self.sums
        held = s[rows:, columns:] - s[:-rows, columns:] - s[rows:, :-columns] + s[:-rows, :-columns]
        found = np.argwhere(held == rows * columns)
        if not len(found):
            return None
        off = (found + (np.array([rows, columns]) - self.shape) / 2.0) ** 2
        row, column = found[int(off.sum(axis=1).argmin())]
        x, y = self.low[0] + column * self.cell, self.low[1] + row * self.cell
        if turned:
            return x + CLEAR_MM + size_mm, y + CLEAR_MM
        return x + CLEAR_MM, y + rows * self.cell - CLEAR_MM - size_mm
