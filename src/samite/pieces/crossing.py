"""Where a closed line crosses itself, and where two lines first meet."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from samite.pieces.plane import Point, away, cross, signed_area_mm2, unit_vector

TOUCH = 1e-9
"""Share of a segment within which two lines touch rather than cross."""


def crossing_of(a: Point, b: Point, c: Point, d: Point) -> tuple[float, float] | None:
    """Return where two segments cross, as shares of both.

    Parameters
    ----------
    a, b : tuple of (float, float)
        Ends of the first [mm].
    c, d : tuple of (float, float)
        Ends of the second [mm].

    Returns
    -------
    tuple of (float, float) or None
        Shares of the first and of the second; None if they do not meet or are parallel.
    """
    along, other = (b[0] - a[0], b[1] - a[1]), (d[0] - c[0], d[1] - c[1])
    turn = cross(along, other)
    if abs(turn) <= 1e-12 * math.hypot(*along) * math.hypot(*other):
        return None
    gap = (c[0] - a[0], c[1] - a[1])
    s, t = cross(gap, other) / turn, cross(gap, along) / turn
    inside = -TOUCH <= s <= 1.0 + TOUCH and -TOUCH <= t <= 1.0 + TOUCH
    return (s, t) if inside else None


def trim_to_meeting(
    first: Sequence[Point], second: Sequence[Point]
) -> tuple[tuple[Point, ...], tuple[Point, ...]] | None:
    """Cut the end of one line and the start of the next where they cross.

    Parameters
    ----------
    first : sequence of tuple of (float, float)
        A line whose end is to be trimmed [mm].
    second : sequence of tuple of (float, float)
        A line whose start is to be trimmed [mm].

    Returns
    -------
    tuple of (tuple of Point, tuple of Point) or None
        Both trimmed to the crossing nearest to that corner; None if they do not cross.
    """
    boxes = [_box(c, d) for c, d in pairwise(second)]
    for i in range(len(first) - 2, -1, -1):
        a, b = first[i], first[i + 1]
        box = _box(a, b)
        found: list[tuple[float, int]] = []
        for j, other in enumerate(boxes):
            if box[0] > other[2] or other[0] > box[2] or box[1] > other[3] or other[1] > box[3]:
                continue
            met = crossing_of(a, b, second[j], second[j + 1])
            if met:
                found.append((met[0], j))
        if found:
            share, j = max(found)
            place = away(a, unit_vector(a, b), share * math.dist(a, b))
            return (*first[: i + 1], place), (place, *second[j + 1 :])
    return None


def self_crossings(points: Sequence[Point], most: int = 1) -> list[tuple[int, int]]:
    """Return pairs of segments of a closed line that cross each other; touching is no crossing.

    Parameters
    ----------
    points : sequence of tuple of (float, float)
        Corners, the first not repeated [mm].
    most : int
        Stop after so many.

    Returns
    -------
    list of (int, int)
        Numbers of the segments' first corners.
    """
    count = len(points)
    if count < 4:
        return []
    segments = [(*_box(points[i], points[(i + 1) % count]), i) for i in range(count)]
    segments.sort()
    active: list[tuple[float, float, float, float, int]] = []
    found: list[tuple[int, int]] = []
    for segment in segments:
        low_x, low_y, _, high_y, i = segment
        active = [other for other in active if other[2] >= low_x]
        for other in active:
            j = other[4]
            if other[1] > high_y or other[3] < low_y or (i - j) % count in (1, count - 1):
                continue
            met = crossing_of(
                points[i], points[(i + 1) % count], points[j], points[(j + 1) % count]
            )
            if met and all(TOUCH < share < 1.0 - TOUCH for share in met):
                found.append((min(i, j), max(i, j)))
                if len(found) >= most:
                    return found
        active.append(segment)
    return found


def _box(a: Point, b: Point) -> tuple[float, float, float, float]:
    return min(a[0], b[0]), min(a[1], b[1]), max(a[0], b[0]), max(a[1], b[1])


def without_loop(points: Sequence[Point], i: int, j: int) -> tuple[list[Point], float]:
    """Cut off the smaller of the two loops that a crossing makes.

    Parameters
    ----------
    points : sequence of tuple of (float, float)
        A closed line, the first point not repeated [mm].
    i, j : int
        Numbers of the two stretches that cross, from `self_crossings`.

    Returns
    -------
    tuple of (list of tuple of (float, float), float)
        The line without the loop [mm], and the loop's area [mm2].
    """
    count = len(points)
    met = crossing_of(points[i], points[(i + 1) % count], points[j], points[(j + 1) % count])
    share = met[0] if met else 0.5
    a, b = points[i], points[(i + 1) % count]
    cross_point = (a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share)
    inner = [cross_point, *points[i + 1 : j + 1]]
    outer = [*points[: i + 1], cross_point, *points[j + 1 :]]
    areas = abs(signed_area_mm2(inner)), abs(signed_area_mm2(outer))
    return (outer, areas[0]) if areas[1] >= areas[0] else (inner, areas[1])
