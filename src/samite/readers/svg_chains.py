"""Outlines that were drawn as several lines, joined end to end."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace

from samite.pieces.plane import Point, polyline_length_mm
from samite.readers.svg_file import DrawnLine

JOIN_MM = 1.0
"""How far apart the ends of two lines may be that are one outline [mm]."""

SHORT_MM = 16.0
"""Lines up to this length are notches and marks, not parts of outlines [mm]."""

_MOST = 1500


def join_lines(
    lines: Sequence[DrawnLine], role_of: Callable[[DrawnLine], str]
) -> tuple[list[DrawnLine], dict[int, str]]:
    """Join open lines whose ends meet two by two into closed ones.

    Parameters
    ----------
    lines : sequence of DrawnLine
        Lines in millimetres.
    role_of : callable
        Returns the role that a line's name gives it; empty if none.

    Returns
    -------
    tuple of (list of DrawnLine, dict of int to str)
        Lines, and what was done to a joined one, by its id.

    Notes
    -----
    Only chains that close are joined, and only where exactly two ends meet, so that nothing is
    guessed at a branching.

    References
    ----------
    ``definition``: a closed chain of lines.
    """
    loose = [
        k for k, line in enumerate(lines)
        if not line.closed and role_of(line) in ("", "cut", "stitch")
        and math.dist(line.points[0], line.points[-1]) > JOIN_MM
        and polyline_length_mm(line.points) > SHORT_MM
    ]  # fmt: skip
    if len(loose) < 2 or len(loose) > _MOST:
        return list(lines), {}
    partners = _partners(lines, loose)
    used: set[int] = set()
    made: list[DrawnLine] = []
    told: dict[int, str] = {}
    for k in loose:
        chain = None if k in used else _chain(k, partners)
        if chain is None:
            continue
        used |= {number for number, _ in chain}
        line, gap = _joined(lines, chain)
        made.append(line)
        told[id(line)] = f"{len(chain)} lines were joined to one outline" + (
            f", gaps up to {gap:.1f} mm closed" if gap > 0.05 else ""
        )
    return [*(line for k, line in enumerate(lines) if k not in used), *made], told


def _partners(
    lines: Sequence[DrawnLine], loose: Sequence[int]
) -> dict[tuple[int, bool], tuple[int, bool]]:
    """Return for each end, line and whether it is the last point, the one other end that meets it."""
    ends: list[tuple[tuple[int, bool], Point]] = []
    for k in loose:
        ends += [((k, False), lines[k].points[0]), ((k, True), lines[k].points[-1])]
    found: dict[tuple[int, bool], tuple[int, bool]] = {}
    for key, place in ends:
        near = [other for other, spot in ends if other != key and math.dist(place, spot) <= JOIN_MM]
        if len(near) == 1:
            found[key] = near[0]
    return {key: other for key, other in found.items() if found.get(other) == key}


def _chain(
    first: int, partners: dict[tuple[int, bool], tuple[int, bool]]
) -> list[tuple[int, bool]] | None:
    """Return a closed chain of lines and whether each is run backwards; None if it stays open."""
    chain, here, backwards = [], first, False
    while True:
        chain.append((here, backwards))
        following = partners.get((here, not backwards))
        if following is None or len(chain) > _MOST:
            return None
        here, backwards = following
        if here == first:
            return chain if not backwards and len(chain) > 1 else None


def _joined(
    lines: Sequence[DrawnLine], chain: Sequence[tuple[int, bool]]
) -> tuple[DrawnLine, float]:
    points: list[Point] = []
    widest = 0.0
    for number, backwards in chain:
        run = lines[number].points[::-1] if backwards else lines[number].points
        if points:
            widest = max(widest, math.dist(points[-1], run[0]))
        points += run[1:] if points and math.dist(points[-1], run[0]) < 0.05 else run
    widest = max(widest, math.dist(points[-1], points[0]))
    first = lines[chain[0][0]]
    names = " ".join(dict.fromkeys(lines[number].names for number, _ in chain))
    return replace(first, points=tuple(points), closed=True, names=names), widest
