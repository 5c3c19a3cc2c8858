"""The cut line: each edge moved out by its own allowance, joined by the rule of each corner."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from samite.kernel.errors import InputError
from samite.kernel.ranges import require_between
from samite.pieces.crossing import self_crossings, trim_to_meeting, without_loop
from samite.pieces.curves import FLATNESS_MM, Arc
from samite.pieces.outline import Edge, Piece
from samite.pieces.plane import (
    Point,
    away,
    cross,
    dot,
    meeting,
    outward,
    signed_area_mm2,
    unit_vector,
)

MITRE_LIMIT = 3.0
"""How far a mitre may reach from its corner, in allowances; beyond that it is cut off."""

WIDEST_MM = 200.0
"""Widest allowance taken [mm]."""

SPECK_MM = 0.1
"""Length below which a step back along the cut line is a speck of the flattening [mm]."""

SMOOTH = 1e-3
"""Sine of the angle below which a corner is no corner."""

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


@dataclass(frozen=True, slots=True)
class _Side:
    """One edge with its allowance.

    Parameters
    ----------
    edge : Edge
        The edge.
    allowance : float
        Its allowance.
    line : tuple of Point
        The edge moved out.
    """

    edge: Edge
    allowance: float
    line: tuple[Point, ...]


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
) -> _Side:
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
    return _Side(edge, taken, _beside(edge, taken, flatness_mm))


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
        gap = _mitre(first[-1], before, second[0], along, curve.start, limit) if corner else ()
        line = (*first, *gap, *second)
        before = curve.directions[1]
    return line


def _joined(sides: list[_Side]) -> tuple[Point, ...]:
    lines = [side.line for side in sides]
    corners: list[tuple[Point, ...]] = [()] * len(sides)
    for i, side in enumerate(sides):
        k = (i + 1) % len(sides)
        lines[i], corners[i], lines[k] = _join(side, lines[i], sides[k], lines[k])
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


def _join(
    side: _Side, line: tuple[Point, ...], after: _Side, next_line: tuple[Point, ...]
) -> tuple[tuple[Point, ...], tuple[Point, ...], tuple[Point, ...]]:
    """Return two moved edges trimmed at their corner, and what lies between them."""
    into, out = side.edge.directions[1], after.edge.directions[0]
    turn = cross(into, out)
    if abs(turn) <= SMOOTH and dot(into, out) > 0.0:
        return line, (), next_line
    if after.edge.corner == "mirror" and side.edge.corner != "mirror" and after.allowance > 0.0:
        kept, folded = _fold_back(line, side.edge.end, into, outward(out), after.allowance)
        hem = _trimmed_hem(folded, next_line)
        return kept, hem[0], hem[1]
    if side.edge.corner == "mirror" and after.edge.corner != "mirror" and side.allowance > 0.0:
        back = (-out[0], -out[1])
        kept, folded = _fold_back(
            next_line[::-1], after.edge.start, back, outward(into), side.allowance
        )
        hem = _trimmed_hem(folded, line[::-1])
        return hem[1][::-1], hem[0][::-1], kept[::-1]
    trimmed = trim_to_meeting(line, next_line) if turn < -SMOOTH else None
    if trimmed is None and "square" not in (side.edge.corner, after.edge.corner):
        trimmed = _mitred(side, line, after, next_line)
    if trimmed:
        return trimmed[0], (), trimmed[1]
    return line, _corner(side, after, into, out), next_line


def _mitred(
    side: _Side, line: tuple[Point, ...], after: _Side, next_line: tuple[Point, ...]
) -> tuple[tuple[Point, ...], tuple[Point, ...]] | None:
    """Return two moved edges made longer until they meet, if they meet near their corner."""
    limit = _limit(side, after)
    into, out = side.edge.directions[1], after.edge.directions[0]
    longer = (*line, away(line[-1], into, limit + 1.0))
    earlier = (away(next_line[0], out, -limit - 1.0), *next_line)
    met = trim_to_meeting(longer, earlier)
    near = met is not None and math.dist(met[0][-1], side.edge.end) <= max(limit, 1e-6)
    return met if near else None


def _limit(side: _Side, after: _Side) -> float:
    widest = max(side.allowance, after.allowance)
    return widest if "bevel" in (side.edge.corner, after.edge.corner) else MITRE_LIMIT * widest


def _corner(side: _Side, after: _Side, into: Point, out: Point) -> tuple[Point, ...]:
    rules = (side.edge.corner, after.edge.corner)
    square = _square(side, after, into, out) if "square" in rules else ()
    limit = _limit(side, after)
    return square or _mitre(side.line[-1], into, after.line[0], out, side.edge.end, limit)


def _mitre(
    end: Point, into: Point, start: Point, out: Point, corner: Point, limit: float
) -> tuple[Point, ...]:
    """Return where two moved edges meet, or a blunt end if that is too far away."""
    met = meeting(end, into, start, out)
    ahead = met is not None and dot((met[0] - end[0], met[1] - end[1]), into) >= -1e-9
    if met is not None and ahead and math.dist(met, corner) <= max(limit, 1e-9):
        return (met,)
    if limit == 0.0:
        return ()
    point = unit_vector((0.0, 0.0), (into[0] - out[0], into[1] - out[1]))
    across = (-point[1], point[0])
    blunt = away(corner, point, limit)
    cuts = (meeting(end, into, blunt, across), meeting(start, out, blunt, across))
    return tuple(p for p in cuts if p is not None and math.dist(p, corner) < 3.0 * limit)


def _square(side: _Side, after: _Side, into: Point, out: Point) -> tuple[Point, ...]:
    """Return the end of a square allowance: cut across its own edge at the neighbour's cut line."""
    if side.edge.corner == "square":
        foot = meeting(side.edge.end, into, after.line[0], out)
        return () if foot is None else (away(foot, outward(into), side.allowance), foot)
    foot = meeting(after.edge.start, out, side.line[-1], into)
    return () if foot is None else (foot, away(foot, outward(out), after.allowance))


def _fold_back(
    line: tuple[Point, ...], fold: Point, into: Point, normal: Point, depth: float
) -> tuple[tuple[Point, ...], tuple[Point, ...]]:
    """Return a side's cut line down to the fold of a hem, and its reflection in that fold."""

    def height(point: Point) -> float:
        return dot((point[0] - fold[0], point[1] - fold[1]), normal)

    kept = list(line)
    while len(kept) > 2 and height(kept[-2]) > 0.0:
        kept.pop()
    along = unit_vector(kept[-2], kept[-1]) if height(kept[-1]) > 0.0 else into
    across = (-normal[1], normal[0])
    foot = meeting(kept[-1], along, fold, across)
    if foot is not None:
        if height(kept[-1]) > 0.0:
            kept.pop()
        kept.append(foot)
    folded: list[Point] = []
    for a, b in zip(kept[::-1], kept[-2::-1], strict=False):
        up_a, up_b = -height(a), -height(b)
        share = 1.0 if up_b <= depth or up_b <= up_a else (depth - up_a) / (up_b - up_a)
        top = (a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share)
        folded.append(away(top, normal, -2.0 * height(top)))
        if share < 1.0 or up_b >= depth:
            break
    return tuple(kept), tuple(folded)


def _trimmed_hem(
    folded: tuple[Point, ...], hem: tuple[Point, ...]
) -> tuple[tuple[Point, ...], tuple[Point, ...]]:
    """Let the folded-back end of a hem and the hem's own cut line meet in one point."""
    if len(folded) > 1:
        trimmed = trim_to_meeting(folded, hem)
        if trimmed:
            return trimmed
    if len(hem) < 2:
        return folded, hem
    last, along = folded[-1], unit_vector(hem[0], hem[1])
    ahead = dot((last[0] - hem[0][0], last[1] - hem[0][1]), along)
    rest = list(hem)
    while len(rest) > 2 and dot((last[0] - rest[1][0], last[1] - rest[1][1]), along) > 0.0:
        rest.pop(0)
    return folded, tuple(rest[1:] if ahead > 0.0 else rest)
