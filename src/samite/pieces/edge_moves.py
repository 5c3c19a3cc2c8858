"""Edges of a piece moved along their normals, their neighbours and what is drawn inside following."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from itertools import pairwise

from samite.kernel.errors import InputError
from samite.pieces.curves import Line, trace
from samite.pieces.edge import Edge
from samite.pieces.outline import Piece, Rule
from samite.pieces.plane import Point, away, dot, outward, unit_vector

SLID_MM = 0.01
"""How far a corner may leave its neighbour's line and still count as slid along it [mm]."""

SQUARE_ENOUGH = 0.7
"""Cosine from which on a corner slides along the edge beside it instead of off it."""

_ON_MM = 1e-6


def with_edge_moved(
    piece: Piece, edge: str, weight: Callable[[float], float], amount_mm: float
) -> Piece:
    """Return a piece with one edge moved along its normals, its neighbours following.

    Parameters
    ----------
    piece : Piece
        The piece.
    edge : str
        Name of the edge.
    weight : callable
        Share of the amount at a share of the edge's length.
    amount_mm : float
        How far, outwards positive [mm].

    Returns
    -------
    Piece
        The edge traced anew; the ends of its neighbours drawn to its new corners.

    Raises
    ------
    InputError
        If the outline becomes impossible.

    Notes
    -----
    A corner slides along its neighbour where that crosses nearly squarely; else the neighbour is
    sheared evenly along its length. Straight ones stay straight.

    References
    ----------
    ``derivation``: parallel curve with a changing distance.
    """
    return with_edges_moved(piece, (edge,), weight, amount_mm)


def with_edges_moved(
    piece: Piece, names: Sequence[str], weight: Callable[[float], float], amount_mm: float
) -> Piece:
    """Return a piece with edges that follow each other moved as if they were one.

    Parameters
    ----------
    piece : Piece
        The piece.
    names : sequence of str
        Names of the edges, each beginning where the one before ends.
    weight : callable
        Share of the amount at a share of their whole length.
    amount_mm : float
        How far, outwards positive [mm].

    Returns
    -------
    Piece
        The edges traced anew; the ends of their neighbours, and the lines that end at their corners,
        drawn to their new places.

    Raises
    ------
    InputError
        If the edges do not follow each other, or the outline becomes impossible.

    Notes
    -----
    As `with_edge_moved`; where two of the edges meet, the line moves along the mean of their
    normals.

    References
    ----------
    ``derivation``: parallel curve with a changing distance.
    """
    edges, count = list(piece.edges), len(piece.edges)
    first = [one.name for one in edges].index(names[0])
    chain = [(first + k) % count for k in range(len(names))]
    if [edges[k].name for k in chain] != list(names):
        raise InputError(f"{piece.name}: {', '.join(names)} do not follow each other", names[0], "")
    points, joints = _along(edges[k] for k in chain)
    lengths = _running(points)
    total = lengths[-1]
    before, after = (first - 1) % count, (chain[-1] + 1) % count
    ways = [_direction(points, k) for k in range(len(points))]
    ways[0], ways[-1] = edges[first].directions[0], edges[chain[-1]].directions[1]
    moved = [
        away(point, outward(way), amount_mm * weight(run / total))
        for point, way, run in zip(points, ways, lengths, strict=True)
    ]
    back = edges[before].directions[1]
    shifts = [
        _slide(edges[before], (points[0], moved[0]), outward(ways[0]), (-back[0], -back[1])),
        _slide(
            edges[after], (points[-1], moved[-1]), outward(ways[-1]), edges[after].directions[0]
        ),
    ]
    moved = [_shifted(p, shifts, run / total) for p, run in zip(moved, lengths, strict=True)]
    for k, (low, high) in zip(chain, pairwise(joints), strict=True):
        edges[k] = replace(edges[k], curves=(trace(moved[low : high + 1]),))
    edges[before] = _drawn(edges[before], points[0], moved[0], at_end=True)
    edges[after] = _drawn(edges[after], points[-1], moved[-1], at_end=False)
    places = {points[k]: moved[k] for k in joints}
    return with_edges(replace(piece, rules=_carried(piece.rules, places)), edges)


def with_edges(piece: Piece, edges: Sequence[Edge]) -> Piece:
    """Return a piece with other edges of the same names, its notches at the same share of them.

    Parameters
    ----------
    piece : Piece
        The piece.
    edges : sequence of Edge
        Its new edges in their order.

    Returns
    -------
    Piece
        The piece.

    Raises
    ------
    InputError
        If the outline is open or clockwise.

    Notes
    -----
    A notch keeps its share of its edge.

    References
    ----------
    ``common-practice``: balance marks move with their edge.
    """
    ratio = {
        old.name: new.length_mm / old.length_mm for old, new in zip(piece.edges, edges, strict=True)
    }
    notches = tuple(replace(n, distance_mm=n.distance_mm * ratio[n.edge]) for n in piece.notches)
    return replace(piece, edges=tuple(edges), notches=notches)


def _along(edges: Iterable[Edge]) -> tuple[list[Point], list[int]]:
    """Return dense points along edges, and where each begins among them and the last ends."""
    points: list[Point] = []
    joints = [0]
    for edge in edges:
        points += _denser(edge.flat(0.05))[1 if points else 0 :]
        joints.append(len(points) - 1)
    return points, joints


def _carried(rules: Sequence[Rule], places: dict[Point, Point]) -> tuple[Rule, ...]:
    """Return lines whose ends stood at corners that moved, drawn to their new places."""

    def carried(point: Point) -> Point:
        near = (new for old, new in places.items() if math.dist(old, point) < _ON_MM)
        return next(near, point)

    return tuple(replace(r, points=tuple(carried(p) for p in r.points)) for r in rules)


def _slide(edge: Edge, corner: tuple[Point, Point], normal: Point, way: Point) -> Point:
    """Return how a moved corner must shift to lie on the edge beside it, where that crosses squarely."""
    old, new = corner
    if edge.kind == "fold":
        line = unit_vector(edge.start, edge.end)
        along = dot((new[0] - edge.start[0], new[1] - edge.start[1]), line)
        there = away(edge.start, line, along)
    else:
        square = dot(way, normal)
        if abs(square) < SQUARE_ENOUGH:
            return 0.0, 0.0
        distance = dot((new[0] - old[0], new[1] - old[1]), normal)
        there = away(old, way, distance / square)
    return there[0] - new[0], there[1] - new[1]


def _shifted(point: Point, shifts: Sequence[Point], share: float) -> Point:
    (ax, ay), (bx, by) = shifts
    return point[0] + ax * (1.0 - share) + bx * share, point[1] + ay * (1.0 - share) + by * share


def _denser(points: Sequence[Point]) -> list[Point]:
    made = [points[0]]
    for a, b in pairwise(points):
        steps = max(1, math.ceil(math.dist(a, b) / 10.0))
        for k in range(1, steps + 1):
            share = k / steps
            made.append((a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share))
    return made


def _running(points: Sequence[Point]) -> list[float]:
    made = [0.0]
    for a, b in pairwise(points):
        made.append(made[-1] + math.dist(a, b))
    return made


def _direction(points: Sequence[Point], k: int) -> Point:
    a, b = points[max(k - 1, 0)], points[min(k + 1, len(points) - 1)]
    size = math.dist(a, b) or 1.0
    return (b[0] - a[0]) / size, (b[1] - a[1]) / size


def _drawn(edge: Edge, old: Point, new: Point, *, at_end: bool) -> Edge:
    """Draw the end of a neighbouring edge to a corner's new place."""
    if math.dist(old, new) < 1e-12:
        return edge
    if len(edge.curves) == 1 and isinstance(edge.curves[0], Line):
        ends = (edge.start, new) if at_end else (new, edge.end)
        return replace(edge, curves=(Line(*ends),))
    way = edge.directions[1] if at_end else edge.directions[0]
    further = dot((new[0] - old[0], new[1] - old[1]), way) * (1.0 if at_end else -1.0)
    if abs(math.dist(old, new) - abs(further)) < SLID_MM:
        slid = _longer(edge, new, further, at_end=at_end)
        if slid is not None:
            return slid
    return _sheared(edge, old, new, at_end=at_end)


def _longer(edge: Edge, new: Point, further: float, *, at_end: bool) -> Edge | None:
    """Return a curved edge whose end slid along it: made longer by a straight stretch, or cut back."""
    if further > 0.0:
        more = Line(edge.end, new) if at_end else Line(new, edge.start)
        return replace(edge, curves=(*edge.curves, more) if at_end else (more, *edge.curves))
    points = list(edge.flat(0.01) if at_end else edge.flat(0.01)[::-1])
    left = -further
    while len(points) > 2 and math.dist(points[-1], points[-2]) < left:
        left -= math.dist(points.pop(), points[-1])
    if len(points) < 3:
        return None
    place = away(points[-1], unit_vector(points[-1], points[-2]), left)
    kept = [*points[:-1], place]
    cut = replace(edge, curves=(trace(kept if at_end else kept[::-1]),))
    return _sheared(cut, place, new, at_end=at_end)


def _sheared(edge: Edge, old: Point, new: Point, *, at_end: bool) -> Edge:
    """Return an edge one end of which moves, the movement fading to the other."""
    points = _denser(edge.flat(0.05))
    lengths = _running(points)
    total = lengths[-1] or 1.0
    dx, dy = new[0] - old[0], new[1] - old[1]
    moved = []
    for point, run in zip(points, lengths, strict=True):
        share = run / total if at_end else 1.0 - run / total
        moved.append((point[0] + dx * share, point[1] + dy * share))
    return replace(edge, curves=(trace(moved),))
