"""Where the label of a piece stands: inside it, clear of its lines, turned or smaller if need be."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from samite.pieces.outline import Piece
from samite.pieces.plane import Point

SIZES_MM = (6.0, 5.0, 4.0, 3.2, 2.6)
"""Sizes of type that are tried, the largest first [mm]."""

LEADING = 1.4
"""Lines of type, in sizes."""

_LEVELS = 28
_SCANS = 3
_CLEAR_MM = 2.0
_OTHER_FONTS = 1.2
"""How much wider a viewer may set a line in a font of its own."""

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
    inside : bool
        Whether it stands inside the piece.
    """

    place: Point
    size_mm: float
    angle_deg: float
    inside: bool = True


def place_label(piece: Piece, widths: Sequence[float], grain: Segment, below: Point) -> Block:
    """Place a label in a piece.

    Parameters
    ----------
    piece : Piece
        The piece.
    widths : sequence of float
        Width of each line at a size of 1 mm [-].
    grain : tuple of ((float, float), (float, float))
        Ends of the grain line [mm].
    below : tuple of (float, float)
        Lower left of all that is drawn of the piece [mm].

    Returns
    -------
    Block
        As large as fits; upright before turned, clear of the lines on the piece before across them.
        Where nothing fits, below the piece.
    """
    points = piece.flat(0.5)
    drawn = [grain, *(pair for rule in piece.rules for pair in pairwise(rule.points))]
    for lines in (drawn, [grain], []):
        for size in SIZES_MM:
            wide = max(widths) * size * _OTHER_FONTS + 2.0 * _CLEAR_MM
            for angle in (0.0, 90.0):
                need = wide, len(widths) * LEADING * size
                found = _room(points, lines, need, math.radians(angle))
                if found is not None:
                    return Block(_base(found, size, angle), size, angle)
    size = SIZES_MM[-2]
    return Block((below[0], below[1] - LEADING * size - _CLEAR_MM), size, 0.0, False)


def _base(corner: Point, size: float, angle: float) -> Point:
    """Return where the first base line begins, from the upper left corner of the room."""
    turn = math.radians(angle)
    x, y = corner[0] + _CLEAR_MM, corner[1] - size
    return _turned((x, y), turn)


def _turned(point: Point, angle: float) -> Point:
    c, s = math.cos(angle), math.sin(angle)
    return point[0] * c - point[1] * s, point[0] * s + point[1] * c


def _room(
    points: Sequence[Point], lines: Sequence[Segment], need: tuple[float, float], angle: float
) -> Point | None:
    """Return the upper left corner of a room in turned axes, nearest to the middle; None without."""
    placed = [_turned(point, -angle) for point in points]
    drawn = [(_turned(a, -angle), _turned(b, -angle)) for a, b in lines]
    wide, high = need
    low, top = min(y for _, y in placed), max(y for _, y in placed)
    if high > top - low or wide > max(x for x, _ in placed) - min(x for x, _ in placed):
        return None
    middle = (max(x for x, _ in placed) + min(x for x, _ in placed)) / 2.0
    steps = sorted(range(_LEVELS + 1), key=lambda k: abs(k - _LEVELS / 2))
    for k in steps:
        upper = low + high + (top - low - high) * k / _LEVELS
        rooms = [
            (start, end) for start, end in _free(placed, drawn, upper, high) if end - start >= wide
        ]
        if rooms:
            start, end = min(rooms, key=lambda r: max(r[0] - middle, middle - r[1], 0.0))
            return min(max(middle - wide / 2.0, start), end - wide), upper
    return None


def _free(
    placed: Sequence[Point], drawn: Sequence[Segment], upper: float, high: float
) -> list[tuple[float, float]]:
    """Return the stretches that lie inside all through a band, clear of the lines drawn there."""
    rooms = [(-math.inf, math.inf)]
    for k in range(_SCANS + 1):
        rooms = list(_shared(rooms, _spans(placed, upper - high * k / _SCANS)))
    for (ax, ay), (bx, by) in drawn:
        if min(ay, by) - _CLEAR_MM < upper and max(ay, by) + _CLEAR_MM > upper - high:
            low, top = min(ax, bx) - _CLEAR_MM, max(ax, bx) + _CLEAR_MM
            rooms = list(_shared(rooms, [(-math.inf, low), (top, math.inf)]))
    return rooms


def _shared(
    first: Sequence[tuple[float, float]], second: Sequence[tuple[float, float]]
) -> Iterator[tuple[float, float]]:
    for a, b in first:
        for c, d in second:
            if min(b, d) > max(a, c):
                yield max(a, c), min(b, d)


def _spans(placed: Sequence[Point], level: float) -> list[tuple[float, float]]:
    """Return where a level line lies inside an outline."""
    cuts = []
    for (a, c), (b, d) in zip(placed, [*placed[1:], placed[0]], strict=True):
        if (c > level) != (d > level):
            cuts.append(a + (b - a) * (level - c) / (d - c))
    cuts.sort()
    return list(zip(cuts[::2], cuts[1::2], strict=False))
