"""A piece made of drawn lines: rings split into edges, allowances read off, or a ring moved in."""

from __future__ import annotations

import itertools
import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

from samite.kernel.errors import InputError
from samite.pieces.crossing import self_crossings, trim_to_meeting
from samite.pieces.curves import Line, trace
from samite.pieces.edge import Edge
from samite.pieces.outline import Notch, Piece
from samite.pieces.plane import (
    Point,
    away,
    cross,
    dot,
    meeting,
    signed_area_mm2,
    unit_vector,
)

CORNER_DEG = 22.0
"""Turn from which a drawn line has a corner; finer turns are part of a curve [deg]."""

ON_FOLD_MM = 3.0
"""How far a fold line may be off the edge that lies on it [mm]."""

_SAMPLES = 9


def ring_edges(points: Sequence[Point]) -> tuple[Edge, ...]:
    """Split a closed line into edges at its corners.

    Parameters
    ----------
    points : sequence of tuple of (float, float)
        Anticlockwise, the first point not repeated [mm].

    Returns
    -------
    tuple of Edge
        ``edge 1`` begins at the lowest corner; a line without corners is split in two.

    Raises
    ------
    InputError
        If there are fewer than three points.

    Notes
    -----
    A corner turns by 22 degrees or more. Edges are straight lines or traced through their points.

    References
    ----------
    ``definition``: corners of a drawn line.
    """
    count = len(points)
    if count < 3:
        raise InputError("an outline has fewer than three points", "SVG", "draw it again")
    corners = [k for k in range(count) if _turn_deg(points, k) >= CORNER_DEG]
    if len(corners) < 2:
        first = (
            corners[0] if corners else min(range(count), key=lambda k: (points[k][1], points[k][0]))
        )
        corners = sorted({first, (first + count // 2) % count})
    low = min(
        range(len(corners)), key=lambda k: (round(points[corners[k]][1], 3), points[corners[k]][0])
    )
    corners = corners[low:] + corners[:low]
    edges = []
    for number, (a, b) in enumerate(zip(corners, [*corners[1:], corners[0]], strict=True), 1):
        run = [points[(a + k) % count] for k in range((b - a) % count + 1)]
        edges.append(_edge(f"edge {number}", run))
    return tuple(edges)


def _edge(name: str, run: Sequence[Point]) -> Edge:
    chord = math.dist(run[0], run[-1])
    way = unit_vector(run[0], run[-1])
    flat = chord > 1e-9 and all(
        abs(cross(way, (p[0] - run[0][0], p[1] - run[0][1]))) < 1e-3 for p in run
    )
    return Edge(name, (Line(run[0], run[-1]) if flat else trace(list(run)),))


def _turn_deg(points: Sequence[Point], k: int) -> float:
    count = len(points)
    a = unit_vector(points[k - 1], points[k])
    b = unit_vector(points[k], points[(k + 1) % count])
    return abs(math.degrees(math.atan2(cross(a, b), dot(a, b))))


def with_folds(edges: Sequence[Edge], folds: Sequence[Sequence[Point]]) -> tuple[Edge, ...]:
    """Name the straight edges that lie on fold lines.

    Parameters
    ----------
    edges : sequence of Edge
        The edges.
    folds : sequence of sequence of tuple of (float, float)
        Fold lines [mm].

    Returns
    -------
    tuple of Edge
        Such edges are of kind ``fold``; a fold line across the piece names none.
    """
    made, number = [], 0
    for edge in edges:
        if any(_lies_on(edge, fold) for fold in folds):
            number += 1
            name = "fold" if number == 1 else f"fold {number}"
            made.append(replace(edge, name=name, kind="fold", allowance_mm=0.0))
        else:
            made.append(edge)
    return tuple(made)


def _lies_on(edge: Edge, fold: Sequence[Point]) -> bool:
    way = unit_vector(fold[0], fold[-1])
    near = all(
        abs(cross(way, (p[0] - fold[0][0], p[1] - fold[0][1]))) <= ON_FOLD_MM
        for p in (edge.start, edge.at(edge.length_mm / 2.0)[0], edge.end)
    )
    straight = math.dist(edge.start, edge.end) > 0.995 * edge.length_mm
    return straight and near and math.dist(fold[0], fold[-1]) > 0.5 * edge.length_mm


def with_allowances(edges: Sequence[Edge], cut: Sequence[Point]) -> tuple[Edge, ...]:
    """Read the allowance of each edge off the cut line around it.

    Parameters
    ----------
    edges : sequence of Edge
        Edges of the stitch line.
    cut : sequence of tuple of (float, float)
        The cut line, the first point not repeated [mm].

    Returns
    -------
    tuple of Edge
        Each with the middle one of nine gaps, to a hundredth of a millimetre.

    Notes
    -----
    Exact where the allowance is the same along the edge.

    References
    ----------
    ``definition``: distance between stitch line and cut line.
    """
    made = []
    for edge in edges:
        if edge.kind == "fold":
            made.append(edge)
            continue
        places = [edge.at(edge.length_mm * (k + 1) / (_SAMPLES + 1))[0] for k in range(_SAMPLES)]
        gaps = sorted(gap_mm(place, cut) for place in places)
        made.append(replace(edge, allowance_mm=round(gaps[_SAMPLES // 2], 2)))
    return tuple(made)


def gap_mm(point: Point, ring: Sequence[Point]) -> float:
    """Return how far a point is from a closed line.

    Parameters
    ----------
    point : tuple of (float, float)
        The point [mm].
    ring : sequence of tuple of (float, float)
        The line, the first point not repeated [mm].

    Returns
    -------
    float
        Shortest distance [mm].

    Notes
    -----
    Exact for chords.

    References
    ----------
    ``definition``: distance of a point from a segment.
    """
    best = math.inf
    for a, b in zip(ring, [*ring[1:], ring[0]], strict=True):
        dx, dy = b[0] - a[0], b[1] - a[1]
        size = dx * dx + dy * dy
        share = 0.0 if size == 0.0 else ((point[0] - a[0]) * dx + (point[1] - a[1]) * dy) / size
        share = min(max(share, 0.0), 1.0)
        best = min(best, math.hypot(point[0] - a[0] - share * dx, point[1] - a[1] - share * dy))
    return best


def moved_in(edges: Sequence[Edge], allowances_mm: Mapping[str, float]) -> tuple[Edge, ...]:
    """Return the stitch line inside a cut line.

    Parameters
    ----------
    edges : sequence of Edge
        Edges of the cut line, closed, anticlockwise.
    allowances_mm : mapping of str to float
        Allowance by edge [mm].

    Returns
    -------
    tuple of Edge
        The same edges, moved in, each with its allowance.

    Raises
    ------
    InputError
        If nothing is left inside.

    Notes
    -----
    Parallel lines, trimmed or made longer until they meet at each corner.

    References
    ----------
    ``derivation``: parallel curves.
    """
    lines = [_inside(edge, allowances_mm[edge.name]) for edge in edges]
    for k in range(len(edges)):
        after = (k + 1) % len(edges)
        lines[k], lines[after] = _met(lines[k], lines[after])
    made = [
        replace(_edge(edge.name, line), kind=edge.kind, allowance_mm=allowances_mm[edge.name],
                corner=edge.corner)
        for edge, line in zip(edges, lines, strict=True)
    ]  # fmt: skip
    ring = [p for edge in made for p in edge.flat()[:-1]]
    outer = [p for edge in edges for p in edge.flat()[:-1]]
    if signed_area_mm2(ring) <= 0.05 * signed_area_mm2(outer) or self_crossings(ring):
        raise InputError(
            "these allowances leave no piece inside the cut line", "allowance", "make them smaller"
        )
    return tuple(made)


def _inside(edge: Edge, distance: float) -> tuple[Point, ...]:
    points: list[Point] = []
    for curve in edge.curves:
        points += curve.beside(-distance)[1 if points else 0 :] if distance else curve.flat()
    return _unlooped(points)


def _unlooped(points: Sequence[Point]) -> tuple[Point, ...]:
    """Drop points at which a line moved into a hollow runs backwards."""
    kept = [points[0]]
    for k in range(1, len(points) - 1):
        a, b = unit_vector(kept[-1], points[k]), unit_vector(points[k], points[k + 1])
        if dot(a, b) > 0.0:
            kept.append(points[k])
    return (*kept, points[-1])


def _met(
    first: tuple[Point, ...], second: tuple[Point, ...]
) -> tuple[tuple[Point, ...], tuple[Point, ...]]:
    """Let the end of one line and the start of the next be one point."""
    trimmed = trim_to_meeting(first, second)
    if trimmed:
        return trimmed
    into, out = unit_vector(first[-2], first[-1]), unit_vector(second[0], second[1])
    place = meeting(first[-1], into, second[0], out)
    far = place is None or math.dist(place, first[-1]) > 4.0 * math.dist(first[-1], second[0]) + 1.0
    if place is None or far:
        place = ((first[-1][0] + second[0][0]) / 2.0, (first[-1][1] + second[0][1]) / 2.0)
        return (*first[:-1], place), (place, *second[1:])
    return (*first, place), (place, *second)


def with_drawn_notches(piece: Piece, places: Sequence[Point], *, together_mm: float = 9.0) -> Piece:
    """Return a piece with the notches that were drawn on it.

    Parameters
    ----------
    piece : Piece
        The piece.
    places : sequence of tuple of (float, float)
        Where a notch meets the outline [mm].
    together_mm : float
        Strokes nearer to each other than this are one notch of several strokes [mm].

    Returns
    -------
    Piece
        Each notch on the edge that it is nearest to.

    Notes
    -----
    The foot of the perpendicular on the stitch line.

    References
    ----------
    ``common-practice``: notches stand square on the edge.
    """
    feet: dict[str, list[float]] = {}
    for place in places:
        edge, distance = _foot(piece, place)
        feet.setdefault(edge, []).append(distance)
    notches: list[Notch] = []
    for edge, distances in feet.items():
        group: list[float] = []
        for distance in sorted(distances):
            if group and distance - group[-1] > together_mm:
                notches.append(Notch(edge, math.fsum(group) / len(group), len(group)))
                group = []
            group.append(distance)
        notches.append(Notch(edge, math.fsum(group) / len(group), len(group)))
    return replace(piece, notches=tuple(notches))


def _foot(piece: Piece, place: Point) -> tuple[str, float]:
    best = (math.inf, "", 0.0)
    for edge in piece.edges:
        run, points = 0.0, edge.flat()
        whole = math.fsum(math.dist(a, b) for a, b in itertools.pairwise(points))
        for a, b in itertools.pairwise(points):
            size = math.dist(a, b)
            way = unit_vector(a, b)
            along = min(max(dot((place[0] - a[0], place[1] - a[1]), way), 0.0), size)
            off = math.dist(away(a, way, along), place)
            best = min(best, (off, edge.name, (run + along) * edge.length_mm / (whole or 1.0)))
            run += size
    return best[1], best[2]
