"""The cut line: each edge moved out by its own allowance, joined by the rule of each corner."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from samite.kernel.errors import InputError
from samite.kernel.ranges import require_between
from samite.pieces.allowance_corners import MITRE_LIMIT, SMOOTH, Side, join_sides, mitre
from samite.pieces.crossing import self_crossings, trim_to_meeting, without_loop
from samite.pieces.curves import FLATNESS_MM, Arc
from samite.pieces.edge import Edge
from samite.pieces.outline import Piece
from samite.pieces.plane import (
    Point,
    cross,
    signed_area_mm2,
)

WIDEST_MM = 200.0
"""Widest allowance taken [mm]."""

SPECK_MM = 0.1
"""Length below which a step back along the cut line is a speck of the flattening [mm]."""

ALLOWANCES: Mapping[str, float] = MappingProxyType(
    {
        "seam": 15.0,
        "gathered": 15.0,
        "hem": 20.0,
        "edge": 0.0,
        "fold": 0.0,
        "waist": 15.0,
        "neck": 10.0,
        "opening": 15.0,
    }
)
"""Allowance of every kind of edge unless said otherwise, common practice [mm]."""

SEAMS: Mapping[str, float] = MappingProxyType(
    {
        "plain": 15.0,
        "french": 15.0,
        "felled": 18.0,
        "narrow": 6.0,
        "overedged": 7.0,
        "letting-out": 40.0,
        "none": 0.0,
    }
)
"""Allowance of every seam that can be asked for by name, common practice [mm]."""

MOST_LOOPS = 60
LOOP_SHARE = 0.1
"""Share of a piece up to which loops of its cut line are cut off."""

TOLD_MM2 = 1.0
ON_LINE_MM = 0.05

_ROOM_IN_HOLLOW = 0.8
"""Share of the radius of a hollow curve that an allowance may take."""


@dataclass(frozen=True, slots=True)
class CutLine:
    """The cut line of a piece.

    Parameters
    ----------
    points : tuple of tuple of (float, float)
        Corners, anticlockwise, the first not repeated [mm].
    allowances_mm : mapping of str to float
        Allowance taken at every edge [mm].
    mended : tuple of str
        What could not be done as asked, one sentence each.
    """

    points: tuple[Point, ...]
    allowances_mm: Mapping[str, float]
    mended: tuple[str, ...]

    @property
    def area_mm2(self) -> float:
        """Area inside the cut line [mm2]."""
        return signed_area_mm2(self.points)


def allowance_of(edge: Edge, wanted: Mapping[str, float]) -> float:
    """Return the allowance of an edge.

    Parameters
    ----------
    edge : Edge
        The edge.
    wanted : mapping of str to float
        Allowances asked for, by the name of an edge or by kind [mm].

    Returns
    -------
    float
        Its own by name, else what the shape asks for, else by kind [mm].

    Raises
    ------
    OutOfRangeError
        If it is negative or absurd.
    """
    if edge.kind == "fold":
        return 0.0
    default = ALLOWANCES[edge.kind] if edge.allowance_mm is None else edge.allowance_mm
    if edge.name in wanted:
        found = wanted[edge.name]
    elif edge.allowance_mm is None:
        found = wanted.get(edge.kind, default)
    else:
        found = default
    require_between(0.0, WIDEST_MM, allowance_mm=found)
    return found


def cut_line(
    piece: Piece, wanted: Mapping[str, float] | None = None, flatness_mm: float = FLATNESS_MM
) -> CutLine:
    """Return the cut line of a piece.

    Parameters
    ----------
    piece : Piece
        The piece.
    wanted : mapping of str to float or None
        Allowances asked for, by the name of an edge or by kind [mm].
    flatness_mm : float
        How far the chords of curves may be off [mm].

    Returns
    -------
    CutLine
        Closed and free of crossings; where that needed a smaller allowance, it says so.

    Raises
    ------
    OutOfRangeError
        If an allowance is impossible.
    InputError
        If the cut line crosses itself even so.

    Notes
    -----
    Straight edges and arcs are moved exactly, other curves along their normals. A mitre is where
    the moved edges meet; a square end is cut across its own edge; a hem's mirror end is the
    reflection, in the fold of the hem, of the allowance above it, so that it lies flat when turned
    up.

    References
    ----------
    ``derivation``: parallel curves, see the model page.
    """
    mended: list[str] = []
    sides = [_side(piece, edge, wanted or {}, flatness_mm, mended) for edge in piece.edges]
    points = _without_loops(piece, _joined(sides), mended)
    taken = {side.edge.name: side.allowance for side in sides}
    return CutLine(points, MappingProxyType(taken), tuple(mended))


def _without_loops(piece: Piece, points: tuple[Point, ...], mended: list[str]) -> tuple[Point, ...]:
    """Cut small loops off a cut line, as two allowances make where they meet in a hollow."""
    whole, lost, left = abs(signed_area_mm2(points)), 0.0, list(points)
    for _ in range(MOST_LOOPS):
        found = self_crossings(left)
        if not found:
            break
        left, area = without_loop(left, *found[0])
        lost += area
    if lost == 0.0:
        return points if len(left) == len(points) else tuple(left)
    stitch = piece.flat(0.2)
    if self_crossings(stitch):
        raise InputError(
            f"{piece.name}: its own outline crosses itself",
            piece.name,
            "these measures do not go together: change what differs most from a body",
        )
    fine = not self_crossings(left) and lost <= LOOP_SHARE * whole
    if not fine or not _holds(left, stitch):
        raise InputError(
            f"{piece.name}: with these allowances the cut line crosses itself",
            piece.name,
            "give smaller allowances at its narrow places",
        )
    if lost > TOLD_MM2:
        mended.append(
            f"{piece.name}: allowances met in a hollow; a loop of {lost:.0f} mm2 was cut off the cut"
            " line, so they are narrower there"
        )
    return tuple(left)


def _holds(ring: Sequence[Point], points: Sequence[Point]) -> bool:
    """Tell whether points lie inside a closed line or on it."""
    return all(_within(point, ring) for point in points)


def _within(point: Point, ring: Sequence[Point]) -> bool:
    x, y = point
    inside = False
    for (x0, y0), (x1, y1) in zip(ring, [*ring[1:], ring[0]], strict=True):
        if (y0 > y) != (y1 > y) and x < x0 + (y - y0) / (y1 - y0) * (x1 - x0):
            inside = not inside
        if _near(point, (x0, y0), (x1, y1)):
            return True
    return inside


def _near(point: Point, a: Point, b: Point) -> bool:
    dx, dy = b[0] - a[0], b[1] - a[1]
    size = dx * dx + dy * dy
    share = 0.0 if size == 0.0 else ((point[0] - a[0]) * dx + (point[1] - a[1]) * dy) / size
    share = min(max(share, 0.0), 1.0)
    return math.hypot(point[0] - a[0] - share * dx, point[1] - a[1] - share * dy) <= ON_LINE_MM


def _side(
    piece: Piece, edge: Edge, wanted: Mapping[str, float], flatness_mm: float, mended: list[str]
) -> Side:
    asked = allowance_of(edge, wanted)
    hollow = [
        c.radius_mm for c in edge.curves if isinstance(c, Arc) and c.sweep_rad < 0.0 and asked > 0.0
    ]
    taken = min([asked, *(radius * _ROOM_IN_HOLLOW for radius in hollow)])
    if taken < asked:
        mended.append(
            f"{piece.name}, {edge.name}: allowance {taken:.1f} mm instead of {asked:g} mm, the"
            " curve is too tight"
        )
    return Side(edge, taken, _beside(edge, taken, flatness_mm))


def _beside(edge: Edge, distance: float, flatness_mm: float) -> tuple[Point, ...]:
    """Return an edge moved out, its own inner corners joined."""
    if distance == 0.0:
        return edge.flat(flatness_mm)
    line: tuple[Point, ...] = edge.curves[0].beside(distance, flatness_mm)
    before = edge.curves[0].directions[1]
    for curve in edge.curves[1:]:
        after, along = curve.beside(distance, flatness_mm), curve.directions[0]
        trimmed = trim_to_meeting(line, after) if cross(before, along) < -SMOOTH else None
        first, second = trimmed or (line, after)
        limit = MITRE_LIMIT * distance
        corner = abs(cross(before, along)) > SMOOTH and not trimmed
        gap = mitre(first[-1], before, second[0], along, curve.start, limit) if corner else ()
        line = (*first, *gap, *second)
        before = curve.directions[1]
    return line


def _joined(sides: list[Side]) -> tuple[Point, ...]:
    lines = [side.line for side in sides]
    corners: list[tuple[Point, ...]] = [()] * len(sides)
    for i, side in enumerate(sides):
        k = (i + 1) % len(sides)
        lines[i], corners[i], lines[k] = join_sides(side, lines[i], sides[k], lines[k])
    made = [p for line, corner in zip(lines, corners, strict=True) for p in (*line, *corner)]
    kept = [p for p, q in zip(made, [made[-1], *made[:-1]], strict=True) if math.dist(p, q) > 1e-6]
    return _without_spikes(kept)


def _without_spikes(points: list[Point]) -> tuple[Point, ...]:
    """Drop corners from which the line runs straight back."""
    kept: list[Point] = []
    bx, by = points[-1]
    for (x, y), (nx, ny) in zip(points, [*points[1:], points[0]], strict=True):
        ax, ay, cx, cy = x - bx, y - by, nx - x, ny - y
        if ax * cx + ay * cy < 0.0:
            first, second = math.hypot(ax, ay), math.hypot(cx, cy)
            straight = abs(ax * cy - ay * cx) < 1e-9 * first * second
            if straight or min(first, second) < SPECK_MM:
                continue
        kept.append((x, y))
        bx, by = x, y
    return tuple(kept)
