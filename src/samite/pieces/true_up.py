"""Lines that break over a seam after an alteration, trued so that they run smooth again."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from samite.kernel.errors import InputError
from samite.pieces.crossing import self_crossings
from samite.pieces.curves import eased, trace
from samite.pieces.edge import Edge
from samite.pieces.edge_moves import with_edges
from samite.pieces.follow import Followed
from samite.pieces.outline import Piece
from samite.pieces.plane import Point
from samite.pieces.walk import Mate, Place, Smooth, check_smooth, piece_named

TRUE_DEG = 0.5
"""A smaller break is left alone [deg]."""

MOST_DEG = 30.0
"""A larger break is a corner that is meant, or a mistake, and is only reported [deg]."""

_REACH = 0.4
"""Most of an edge that is drawn anew [-]."""

_REACH_MM = 120.0
_TRUED = "trued: it runs smooth over the seam"

Corner = tuple[str, str, str]


def true_up(
    pieces: Sequence[Piece], smooths: Sequence[Smooth], mates: Sequence[Mate]
) -> tuple[tuple[Piece, ...], tuple[Followed, ...]]:
    """Redraw the ends of lines that break over a seam.

    Parameters
    ----------
    pieces : sequence of Piece
        Pieces after an alteration.
    smooths : sequence of Smooth
        Corners that must run smooth.
    mates : sequence of Mate
        Seams; an edge that is sewn keeps its line, for it has its length from the other side.

    Returns
    -------
    tuple of (tuple of Piece, tuple of Followed)
        Pieces, and the edges that were trued with their lengths before and after.

    Notes
    -----
    The corner stays. From there a cubic leads over into the old line within 12 cm, or two fifths of
    the edge; it leaves the corner so that the line goes on straight over the seam, both sides taking
    half of the break where both are free. Breaks of more than 30 degrees are left and reported.

    References
    ----------
    ``common-practice``: after a fitting, hems and waists are trued over the closed seam.
    """
    sewn = {place for mate in mates for place in (mate.first, mate.second)}
    sewn |= {(piece, edge) for mate in mates for piece, edge, _ in mate.also}
    now, touched = list(pieces), dict[Place, None]()
    for _ in range(2):
        for one in check_smooth(now, smooths):
            if not TRUE_DEG < abs(one.break_deg) <= MOST_DEG:
                continue
            corners = dict.fromkeys((one.smooth.first, one.smooth.second))
            free = [corner for corner in corners if _free(now, corner, sewn)]
            share = one.break_deg / max(len(_sides(one.smooth, free)), 1)
            for corner in free:
                touched |= dict.fromkeys(_trued(now, corner, share, sewn))
    before = {(p.name, e.name): e.length_mm for p in pieces for e in p.edges}
    return tuple(now), tuple(
        Followed(*place, before[place], piece_named(now, place[0]).edge(place[1]).length_mm, _TRUED)
        for place in touched
    )


def _sides(smooth: Smooth, free: Sequence[Corner]) -> list[Corner]:
    """Return the sides of a seam whose angle changes: a corner that meets itself counts twice."""
    return [corner for corner in (smooth.first, smooth.second) if corner in free]


def _free(now: Sequence[Piece], corner: Corner, sewn: set[Place]) -> str:
    """Return the edge at a corner that may be drawn anew: not sewn, a hem or waist first."""
    piece, before, after = piece_named(now, corner[0]), *corner[1:]
    loose = [edge for edge in (before, after) if (piece.name, edge) not in sewn]
    return min(loose, key=lambda edge: piece.edge(edge).kind == "seam", default="")


def _trued(now: list[Piece], corner: Corner, turn_deg: float, sewn: set[Place]) -> list[Place]:
    """Turn the free edge of a corner by an angle, in place; return it if that could be done."""
    piece = piece_named(now, corner[0])
    name = _free(now, corner, sewn)
    edge = piece.edge(name)
    at_end = name == corner[1]
    way = edge.directions[1] if at_end else edge.directions[0]
    turned = _turned(way, math.radians(-turn_deg if at_end else turn_deg))
    drawn = _blended(edge, turned, at_end=at_end)
    edges = [drawn if one.name == name else one for one in piece.edges]
    try:
        made = with_edges(piece, edges)
    except InputError:
        return []
    if self_crossings(made.flat(0.2)):
        return []
    now[now.index(piece)] = made
    return [(piece.name, name)]


def _turned(way: Point, angle: float) -> Point:
    c, s = math.cos(angle), math.sin(angle)
    return way[0] * c - way[1] * s, way[0] * s + way[1] * c


def _blended(edge: Edge, way: Point, *, at_end: bool) -> Edge:
    """Return an edge that leaves its corner in another direction and eases into its old line."""
    reach = min(_REACH * edge.length_mm, _REACH_MM)
    cut = edge.length_mm - reach if at_end else reach
    place, along = edge.at(cut)
    kept = _stretch(edge, cut, before=at_end)
    if at_end:
        return replace(edge, curves=(trace([*kept, place]), eased(place, along, edge.end, way)))
    return replace(edge, curves=(eased(edge.start, way, place, along), trace([place, *kept])))


def _stretch(edge: Edge, cut: float, *, before: bool) -> list[Point]:
    """Return the points of an edge before or after a place along it."""
    points = edge.flat(0.01)
    run, runs = 0.0, [0.0]
    for a, b in pairwise(points):
        run += math.dist(a, b)
        runs.append(run)
    scale = edge.length_mm / run
    return [
        p for p, r in zip(points, runs, strict=True)
        if (r * scale < cut - 0.05 if before else r * scale > cut + 0.05)
    ]  # fmt: skip
