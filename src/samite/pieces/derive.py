"""Linings and facings derived from any piece."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace

from samite.kernel.errors import InputError
from samite.kernel.ranges import require_between, require_positive
from samite.pieces.crossing import trim_to_meeting
from samite.pieces.curves import Line, trace
from samite.pieces.edge import Edge
from samite.pieces.outline import Piece
from samite.pieces.plane import Move, Point, away, outward

EASE_PLEAT_MM = 20.0
"""Usual pleat of ease in a lining, common practice [mm]."""


def lining_of(piece: Piece, *, pleat_mm: float = EASE_PLEAT_MM) -> Piece:
    """Return the lining of a piece.

    Parameters
    ----------
    piece : Piece
        The piece.
    pleat_mm : float
        Whole depth of a pleat of ease at a centre on the fold; 0 for none [mm].

    Returns
    -------
    Piece
        Wider at its fold by half the pleat; its hem cut at the piece's hem line, so that, turned
        up, it hangs shorter.

    Raises
    ------
    OutOfRangeError
        If the pleat is impossible.

    Notes
    -----
    Common practice: a lining has the piece's stitch lines, more width and less hem.

    References
    ----------
    ``common-practice``: ease pleats of 10 to 25 mm.
    """
    require_between(0.0, 100.0, pleat_mm=pleat_mm)
    wider = _wider_at_fold(piece, pleat_mm / 2.0) if pleat_mm else piece
    edges = tuple(
        replace(edge, allowance_mm=0.0, corner="mitre") if edge.kind == "hem" else edge
        for edge in wider.edges
    )
    return replace(
        wider,
        name=f"{piece.name} lining",
        edges=edges,
        cloth="lining",
        note="hem cut at the hem line: turn it up, it hangs shorter",
    )


def _wider_at_fold(piece: Piece, extra: float) -> Piece:
    """Move the fold edge outwards, its neighbours lengthened by straight lines."""
    names = [edge.name for edge in piece.edges if edge.kind == "fold"]
    if not names:
        return piece
    fold = piece.edge(names[0])
    normal = outward(fold.directions[0])
    move = Move(0.0, (normal[0] * extra, normal[1] * extra))
    edges = list(piece.edges)
    at = edges.index(fold)
    before, after = at - 1, (at + 1) % len(edges)
    moved = fold.moved(move)
    edges[at] = moved
    edges[before] = replace(
        edges[before], curves=(*edges[before].curves, Line(fold.start, moved.start))
    )
    edges[after] = replace(edges[after], curves=(Line(moved.end, fold.end), *edges[after].curves))
    return replace(piece, edges=tuple(edges))


def facing_of(piece: Piece, edge_name: str, *, width_mm: float = 60.0) -> Piece:
    """Return the facing of an edge of a piece.

    Parameters
    ----------
    piece : Piece
        The piece.
    edge_name : str
        The edge that is faced.
    width_mm : float
        Width of the facing [mm].

    Returns
    -------
    Piece
        Bounded by the edge, its parallel inside, and the edges beside it.

    Raises
    ------
    OutOfRangeError
        If the width is impossible.
    InputError
        If the piece is narrower than the facing.

    Notes
    -----
    The faced edge is the piece's own, so that the two walk exactly.

    References
    ----------
    ``derivation``: parallel curve of the edge.
    """
    require_positive(width_mm=width_mm)
    require_between(0.0, 1000.0, width_mm=width_mm)
    at = [edge.name for edge in piece.edges].index(piece.edge(edge_name).name)
    faced, after = piece.edges[at], piece.edges[(at + 1) % len(piece.edges)]
    before = piece.edges[at - 1]
    met = _bounded(faced, after, before, width_mm, 1.5) or _bounded(
        faced, after, before, width_mm, 4.0
    )
    if met is None:
        raise InputError(
            f"{piece.name} is too narrow for a facing of {width_mm:g} mm at {edge_name}",
            edge_name,
            "give a narrower facing",
        )
    first, ends = met
    along_after = _until(after.flat(), first)
    edges = (
        replace(faced, curves=faced.curves),
        Edge(after.name, (trace(along_after),), after.kind, after.allowance_mm),
        Edge("inner", (trace(ends[0]),), "edge", 0.0),
        Edge(
            _other_than(after.name, before.name),
            (trace(ends[1]),),
            before.kind,
            before.allowance_mm,
        ),
    )
    return Piece(
        f"{piece.name} {edge_name} facing",
        edges,
        piece.grain_deg,
        copies=piece.copies,
        mirrored=piece.mirrored,
        cloth="facing",
    )


def _other_than(taken: str, name: str) -> str:
    return f"{name} 2" if name == taken else name


def _bounded(
    faced: Edge, after: Edge, before: Edge, width: float, reach: float
) -> tuple[Point, tuple[tuple[Point, ...], tuple[Point, ...]]] | None:
    """Return where the inner line leaves the edge after, and inner line and edge before trimmed."""
    inner = _inner_line(faced, width, reach * width)[::-1]
    first = trim_to_meeting(after.flat()[::-1], inner)
    ends = trim_to_meeting(first[1], before.flat()) if first else None
    if first is None or ends is None or math.dist(first[1][0], ends[0][-1]) < 1.0:
        return None
    return first[1][0], ends


def _inner_line(edge: Edge, width: float, reach: float) -> tuple[Point, ...]:
    """Return the parallel inside an edge, made longer at both ends."""
    points: list[Point] = []
    for curve in edge.curves:
        points += curve.beside(-width)[1 if points else 0 :]
    start, end = edge.directions
    return (away(points[0], start, -reach), *points, away(points[-1], end, reach))


def _until(points: tuple[Point, ...], last: Point) -> list[Point]:
    """Return a line up to a point on it."""
    kept = [points[0]]
    for a, b in itertools.pairwise(points):
        if abs(math.dist(a, last) + math.dist(last, b) - math.dist(a, b)) < 1e-6:
            return [*kept, last]
        kept.append(b)
    return kept


def unfolded(piece: Piece) -> Piece:
    """Return a piece drawn as a half on the fold as a whole.

    Parameters
    ----------
    piece : Piece
        The piece.

    Returns
    -------
    Piece
        With its mirror image; itself if nothing is on the fold.

    Notes
    -----
    Exact; twice the area.

    References
    ----------
    ``derivation``: reflection in the fold.
    """
    names = [edge.name for edge in piece.edges if edge.kind == "fold"]
    if not names:
        return piece
    at = [edge.name for edge in piece.edges].index(names[0])
    fold = piece.edges[at]
    rest = (*piece.edges[at + 1 :], *piece.edges[:at])
    along = fold.directions[0]
    angle = 2.0 * math.atan2(along[1], along[0]) + math.pi
    turned = Move(angle, (0.0, 0.0), mirror=True)
    there = turned.point(fold.start)
    move = Move(angle, (fold.start[0] - there[0], fold.start[1] - there[1]), mirror=True)
    mirrored = tuple(
        replace(edge.moved(move), name=f"{edge.name} (mirrored)") for edge in reversed(rest)
    )
    return replace(piece, edges=(*rest, *mirrored), notches=piece.notches, note="")
