"""How short a lay can be at the very least: the largest of several proofs."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from samite.lay._columns import column_bound_mm
from samite.lay.fits import spread, usable_width_mm
from samite.lay.outline import cosine_and_sine, signed_area_mm2
from samite.lay.problem import placements_of

if TYPE_CHECKING:
    from samite.lay.problem import LayPiece, Outline, Problem


MOST_CORNERS = 600
"""A piece with more corners than this is not followed across the middle line: it takes too long."""


def length_bounds_mm(problem: Problem) -> dict[str, float]:
    """Return lengths that no lay of these pieces can fall below, by the reason.

    Parameters
    ----------
    problem : Problem
        The question.

    Returns
    -------
    dict of str to float
        ``area``, ``longest piece``, ``across the middle``, ``columns`` and ``fold`` [mm].

    Notes
    -----
    Area: the pieces side by side without waste, each with half the gap around it where that can
    be told (the outline's own area where not). Longest: the shortest way of laying each piece.
    Across the middle: every piece wider than half of the usable width crosses its middle line, and
    two such pieces cannot cross at one place; each takes at least its shortest chord near its own
    middle, if it has no more than 600 corners. Columns: at every place along the cloth the widths
    of the pieces there share the usable width, also if narrow ones count nothing and nearly full
    ones count as the whole. Fold: pieces on the fold cannot share any of it. Flaws are left out,
    and repeats count only where one piece stands alone, so that each bound errs to the short side,
    never to the long.
    """
    width = usable_width_mm(problem)
    if width <= 0.0:
        return {"area": 0.0}
    found = {
        "area": _area(problem, width),
        "longest piece": max(_shortest_way(piece) for piece in problem.pieces),
        "across the middle": _middle(problem, width),
        "columns": column_bound_mm(problem),
    }
    if problem.folded:
        found["fold"] = _fold(problem)
    return found


def bound_mm(problem: Problem) -> float:
    """Return the largest of the lengths that no lay can fall below.

    Parameters
    ----------
    problem : Problem
        The question.

    Returns
    -------
    float
        Length [mm].

    Notes
    -----
    See `length_bounds_mm`.
    """
    return max(length_bounds_mm(problem).values())


def _count(piece: LayPiece, problem: Problem) -> int:
    return placements_of(piece, folded=problem.folded)


def _area(problem: Problem, width: float) -> float:
    """Every piece widened by half the gap lies in a strip widened by half the gap all round.

    The area of the widened piece is at least area + rim * gap / 2 for a convex one; hollow ones
    count with their own area only.
    """
    gap = problem.gap_mm
    total = bare = 0.0
    for piece in problem.pieces:
        area = abs(signed_area_mm2(piece.outline_mm))
        bare += area * _count(piece, problem)
        grown = area + (_rim(piece.outline_mm) * gap / 2.0 if _is_convex(piece.outline_mm) else 0.0)
        total += grown * _count(piece, problem)
    return max(bare / width, total / (width + gap) - gap)


def _rim(outline: Outline) -> float:
    return math.fsum(
        math.dist(a, b) for a, b in zip(outline, (*outline[1:], outline[0]), strict=True)
    )


def _is_convex(outline: Outline) -> bool:
    n, signs = len(outline), set()
    for k in range(n):
        a, b, c = outline[k - 1], outline[k], outline[(k + 1) % n]
        turn = (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])
        if abs(turn) > 1e-12:
            signs.add(turn > 0.0)
    return len(signs) < 2


def _all_angles(piece: LayPiece) -> tuple[float, ...]:
    """Return every turn that a copy may have; a kept one may have another than is allowed."""
    angles = (*(piece.angles_deg or (0.0,)), *(place.angle_deg for place in piece.fixed))
    return angles if piece.mirror == "none" else (*angles, *(-a for a in angles))


def _shortest_way(piece: LayPiece) -> float:
    if piece.fixed:
        return 0.0
    return min(spread(piece, angle)[0] for angle in _all_angles(piece))


def _fold(problem: Problem) -> float:
    edges = gap = 0.0
    for piece in problem.pieces:
        if piece.on_fold:
            edges += _edge_on_fold(piece.outline_mm) * piece.copies
            gap += problem.gap_mm * piece.copies
    return max(edges + gap - problem.gap_mm, 0.0)


def _edge_on_fold(outline: Outline) -> float:
    following = (*outline[1:], outline[0])
    return math.fsum(
        abs(b[0] - a[0])
        for a, b in zip(outline, following, strict=True)
        if abs(a[1]) < 1e-3 and abs(b[1]) < 1e-3
    )


def _middle(problem: Problem, width: float) -> float:
    total, number = 0.0, 0
    for piece in problem.pieces:
        least = min(_crossing(piece, angle, width) for angle in _all_angles(piece))
        if least > 0.0:
            total += least * _count(piece, problem)
            number += _count(piece, problem)
    return total + problem.gap_mm * max(number - 1, 0)


def _crossing(piece: LayPiece, angle_deg: float, width: float) -> float:
    """Return the least chord on the middle line of the cloth, wherever the piece lies across.

    The piece reaches at most `width`, so that the middle line meets it between its height less
    half of the width, and half of the width, from below.
    """
    if len(piece.outline_mm) > MOST_CORNERS:
        return 0.0
    c, s = cosine_and_sine(angle_deg)
    points = [(c * x - s * y, s * x + c * y) for x, y in piece.outline_mm]
    low, high = min(y for _, y in points), max(y for _, y in points)
    if piece.on_fold:
        first = last = low + width / 2.0
        if high <= first:
            return 0.0
    else:
        first, last = max(high - width / 2.0, low), min(low + width / 2.0, high)
        if high - low <= width / 2.0 or first < low or first > last:
            return 0.0
    levels = {first, last, *(y for _, y in points if first < y < last)}
    return min(_least_chord(points, level, low, high) for level in levels)


def _least_chord(points: list[tuple[float, float]], level: float, low: float, high: float) -> float:
    """Return the length of the piece on a level line, the lesser of just below and just above."""
    step = 1e-9 * (high - low)
    return min(_chord(points, level - step), _chord(points, level + step))


def _chord(points: list[tuple[float, float]], level: float) -> float:
    cuts = []
    for (ax, ay), (bx, by) in zip(points, points[1:] + points[:1], strict=True):
        if (ay > level) != (by > level):
            cuts.append(ax + (level - ay) * (bx - ax) / (by - ay))
    cuts.sort()
    return math.fsum(b - a for a, b in zip(cuts[::2], cuts[1::2], strict=True))
