"""Corners of a cut line: mitres, square ends, hems folded back."""

from __future__ import annotations

import math
from dataclasses import dataclass

from samite.pieces.crossing import trim_to_meeting
from samite.pieces.edge import Edge
from samite.pieces.plane import (
    Point,
    away,
    cross,
    dot,
    meeting,
    outward,
    unit_vector,
)

MITRE_LIMIT = 3.0
"""How far a mitre may reach from its corner, in allowances; beyond that it is cut off."""

SMOOTH = 1e-3
"""Sine of the angle below which a corner is no corner."""


@dataclass(frozen=True, slots=True)
class Side:
    """One edge with its allowance.

    Parameters
    ----------
    edge : Edge
        The edge.
    allowance : float
        Its allowance [mm].
    line : tuple of (float, float)
        The edge moved out [mm].
    """

    edge: Edge
    allowance: float
    line: tuple[Point, ...]


def join_sides(
    side: Side, line: tuple[Point, ...], after: Side, next_line: tuple[Point, ...]
) -> tuple[tuple[Point, ...], tuple[Point, ...], tuple[Point, ...]]:
    """Return two moved edges trimmed at their corner, and what lies between them.

    Parameters
    ----------
    side : Side
        The edge that ends at the corner.
    line : tuple of (float, float)
        It moved out, as far as it was trimmed [mm].
    after : Side
        The edge that begins there.
    next_line : tuple of (float, float)
        That moved out [mm].

    Returns
    -------
    tuple of (tuple of (float, float), tuple of (float, float), tuple of (float, float))
        The first line, what lies between, the second line [mm].

    Notes
    -----
    A mirror end is folded back, a square one cut across, others meet in a mitre.

    References
    ----------
    ``derivation``: parallel curves, see the model page.
    """
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
    side: Side, line: tuple[Point, ...], after: Side, next_line: tuple[Point, ...]
) -> tuple[tuple[Point, ...], tuple[Point, ...]] | None:
    """Return two moved edges made longer until they meet, if they meet near their corner."""
    limit = _limit(side, after)
    into, out = side.edge.directions[1], after.edge.directions[0]
    longer = (*line, away(line[-1], into, limit + 1.0))
    earlier = (away(next_line[0], out, -limit - 1.0), *next_line)
    met = trim_to_meeting(longer, earlier)
    near = met is not None and math.dist(met[0][-1], side.edge.end) <= max(limit, 1e-6)
    return met if near else None


def _limit(side: Side, after: Side) -> float:
    widest = max(side.allowance, after.allowance)
    return widest if "bevel" in (side.edge.corner, after.edge.corner) else MITRE_LIMIT * widest


def _corner(side: Side, after: Side, into: Point, out: Point) -> tuple[Point, ...]:
    rules = (side.edge.corner, after.edge.corner)
    square = _square(side, after, into, out) if "square" in rules else ()
    limit = _limit(side, after)
    return square or mitre(side.line[-1], into, after.line[0], out, side.edge.end, limit)


def mitre(
    end: Point, into: Point, start: Point, out: Point, corner: Point, limit: float
) -> tuple[Point, ...]:
    """Return where two moved edges meet, or a blunt end if that is too far away.

    Parameters
    ----------
    end, into : tuple of (float, float)
        End of the first edge, moved [mm], and its direction there.
    start, out : tuple of (float, float)
        Start of the second, moved [mm], and its direction.
    corner : tuple of (float, float)
        The corner before it was moved [mm].
    limit : float
        How far the point may reach from the corner [mm].

    Returns
    -------
    tuple of (float, float)
        One point, or two of a blunt end [mm].

    Notes
    -----
    Blunt square to the line that halves the corner.

    References
    ----------
    ``derivation``: two lines that meet.
    """
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


def _square(side: Side, after: Side, into: Point, out: Point) -> tuple[Point, ...]:
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
