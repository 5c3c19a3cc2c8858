"""Closed lines of a drawing: their roles by name, mended, and which holds which."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from samite.pieces.crossing import self_crossings, without_loop
from samite.pieces.drawn import gap_mm
from samite.pieces.plane import Point, polyline_length_mm, signed_area_mm2
from samite.readers.svg_file import DrawnLine

NOTCH_SPAN_MM = (2.0, 16.0)
TOUCH_MM = 1.0
CLOSE_MM = 5.0
SMALL_LOOP = 0.05
STITCH_SHARE = 0.5
_ROLES = {
    "cut": ("cut", "boundary", "outline"),
    "stitch": ("stitch", "sew", "seam"),
    "notch": ("notch",),
    "grain": ("grain",),
    "fold": ("fold", "mirror"),
    "mark": ("drill", "mark"),
    "square": ("square", "scale", "test"),
    "paper": ("paper", "background", "frame"),
    "line": ("internal", "line", "pleat", "dart"),
}


@dataclass(frozen=True, slots=True)
class Ring:
    """A closed line, mended.

    Parameters
    ----------
    line : DrawnLine
        As drawn.
    points : tuple of Point
        Anticlockwise, free of crossings.
    mended : tuple of str
        What was mended.
    doubtful : bool
        Whether a large loop was cut off.
    """

    line: DrawnLine
    points: tuple[Point, ...]
    mended: tuple[str, ...]
    doubtful: bool = False


def role_of(line: DrawnLine) -> str:
    words = line.names.replace("-", " ").replace("_", " ").split()
    for role, known in _ROLES.items():
        if any(word.startswith(known) for word in words):
            return role
    return ""


def part_rings(
    lines: Sequence[DrawnLine], joined: Mapping[int, str]
) -> tuple[list[Ring], list[DrawnLine]]:
    """Part lines into rings, closing small gaps, and the rest."""
    rings: list[Ring] = []
    others = []
    for line in lines:
        gap = math.dist(line.points[0], line.points[-1])
        length = polyline_length_mm(line.points)
        nearly = gap <= min(CLOSE_MM, 0.1 * length) and len(line.points) > 3
        small = length < 2.0 * NOTCH_SPAN_MM[1]
        if (line.closed or nearly) and len(line.points) > 2 and not small:
            ring = _mended(line, 0.0 if line.closed else gap)
            told = joined.get(id(line), "")
            rings.append(replace(ring, mended=(told, *ring.mended)) if told else ring)
        else:
            others.append(line)
    return [ring for ring in rings if ring.points], others


def _mended(line: DrawnLine, gap: float) -> Ring:
    mended = [f"a gap of {gap:.1f} mm in the outline was closed"] if gap > 1e-6 else []
    points = [
        p
        for p, q in zip(line.points, [line.points[-1], *line.points[:-1]], strict=True)
        if math.dist(p, q) > 1e-9
    ]
    doubtful = False
    for _ in range(50):
        found = self_crossings(points)
        if not found:
            break
        points, lost = without_loop(points, *found[0])
        doubtful = doubtful or lost > SMALL_LOOP * abs(signed_area_mm2(points))
        mended.append(f"the outline crossed itself: a loop of {lost:.0f} mm2 was cut off")
    if len(points) < 3:
        return Ring(line, (), tuple(mended))
    if signed_area_mm2(points) < 0.0:
        points = points[::-1]
    return Ring(line, tuple(points), tuple(mended), doubtful)


def inside(point: Point, ring: Sequence[Point]) -> bool:
    x, y = point
    found = False
    for (x0, y0), (x1, y1) in zip(ring, [*ring[1:], ring[0]], strict=True):
        if (y0 > y) != (y1 > y) and x < x0 + (y - y0) / (y1 - y0) * (x1 - x0):
            found = not found
    return found


def holds(ring: Sequence[Point], other: Sequence[Point]) -> bool:
    if abs(signed_area_mm2(ring)) <= abs(signed_area_mm2(other)):
        return False
    tried = other[:: max(1, len(other) // 12)]
    return sum(inside(p, ring) or gap_mm(p, ring) < 0.05 for p in tried) >= 0.9 * len(tried)


def belongs(points: Sequence[Point], ring: Sequence[Point]) -> bool:
    middle = points[len(points) // 2]
    near = min(gap_mm(points[0], ring), gap_mm(points[-1], ring)) <= TOUCH_MM
    return inside(middle, ring) or near


def parallel(outer: Sequence[Point], inner: Sequence[Point]) -> bool:
    """Tell whether an inner ring keeps a near-constant distance from the outer one."""
    if signed_area_mm2(inner) < STITCH_SHARE * signed_area_mm2(outer):
        return False
    gaps = sorted(gap_mm(p, outer) for p in inner[:: max(1, len(inner) // 40)])
    middle = gaps[len(gaps) // 2]
    return middle < 60.0 and sum(abs(g - middle) < 0.35 * middle + 1.0 for g in gaps) >= 0.6 * len(
        gaps
    )
