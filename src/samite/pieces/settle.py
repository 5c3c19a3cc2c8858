"""Corners of sewn pieces moved by as little as makes all their seams equally long again."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from samite.kernel.errors import InputError
from samite.pieces.crossing import self_crossings
from samite.pieces.curves import Line, trace
from samite.pieces.edge import Edge
from samite.pieces.outline import Notch, Piece
from samite.pieces.plane import Point
from samite.pieces.walk import Mate, Place

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Numbers = NDArray[np.float64]

MOST_MM = 120.0
"""How far a corner may follow; more is another piece [mm]."""

_DONE_MM = 1e-6
_ROUNDS = 25
_BOWED = 3.0
_SQUARE = 1e-6


@dataclass(frozen=True, slots=True)
class Freedom:
    """How easily the corners of pieces follow.

    Parameters
    ----------
    fixed : frozenset of (str, str)
        Edges whose corners stay: those that were altered.
    willing : mapping of str to float
        Willingness by piece, 1 for small parts [-].
    """

    fixed: frozenset[Place]
    willing: dict[str, float]


def settle(
    pieces: Sequence[Piece], mates: Sequence[Mate], wanted: Sequence[float], freedom: Freedom
) -> tuple[Piece, ...]:
    """Move corners so that every seam has the difference of lengths that it is meant to have.

    Parameters
    ----------
    pieces : sequence of Piece
        The pieces.
    mates : sequence of Mate
        Their seams.
    wanted : sequence of float
        Second minus first length of every seam [mm].
    freedom : Freedom
        Which corners stay, and which move first.

    Returns
    -------
    tuple of Piece
        The pieces; unchanged where no small movement does it.

    Notes
    -----
    Of all movements that satisfy the seams the one with the smallest sum of squares, weighted by
    willingness (Gauss and Newton, with the least norm in every step). An edge follows its two
    corners by turning and scaling, so its length stays exact; rectangles stay rectangles; corners
    on a fold stay on it. Edges that bow to a full turn do not follow.

    References
    ----------
    ``derivation``: least movement under equal seam lengths.
    """
    import numpy as np

    system = _System(pieces, mates, wanted, freedom)
    places = system.start.copy()
    for _ in range(_ROUNDS):
        off, slope = system.rows(places)
        if float(np.abs(off).max(initial=0.0)) < _DONE_MM:
            break
        step = system.weights * np.linalg.lstsq(slope * system.weights, -off, rcond=1e-10)[0]
        places = places + step
        if not bool(np.isfinite(places).all()):
            return tuple(pieces)
    if float(np.abs(places - system.start).max(initial=0.0)) > MOST_MM:
        return tuple(pieces)
    made = system.drawn(places)
    return tuple(pieces) if made is None else made


class _System:
    """The corners of all pieces as one vector, and what seams ask of it.

    Parameters
    ----------
    pieces : sequence of Piece
        The pieces.
    mates : sequence of Mate
        Their seams.
    wanted : sequence of float
        Second minus first length of every seam.
    freedom : Freedom
        Which corners move.
    """

    def __init__(
        self,
        pieces: Sequence[Piece],
        mates: Sequence[Mate],
        wanted: Sequence[float],
        freedom: Freedom,
    ) -> None:
        import numpy as np

        self.pieces, self.mates, self.wanted = pieces, mates, wanted
        self.edges: dict[Place, tuple[int, int, float]] = {}
        corners: list[Point] = []
        weights: list[float] = []
        self.boxes: list[int] = []
        self.folds: list[tuple[int, int, Point]] = []
        for piece in pieces:
            first, count = len(corners), len(piece.edges)
            corners += [edge.start for edge in piece.edges]
            stays = _staying(piece, freedom.fixed)
            willing = math.sqrt(freedom.willing.get(piece.name, 0.2))
            weights += [0.0 if k in stays else willing for k in range(count)]
            for k, edge in enumerate(piece.edges):
                a, b = first + k, first + (k + 1) % count
                chord = math.dist(edge.start, edge.end)
                bow = edge.length_mm / chord if chord > 1e-9 else math.inf
                self.edges[piece.name, edge.name] = a, b, bow
                if edge.kind == "fold":
                    self.folds.append((a, b, edge.directions[0]))
            if is_box(piece):
                self.boxes.append(first)
        self.start: Numbers = np.array(corners).reshape(-1)
        self.weights: Numbers = np.repeat(np.array(weights), 2)

    def rows(self, places: Numbers) -> tuple[Numbers, Numbers]:
        """Return how far seams, rectangles and folds are off, and how that changes."""
        import numpy as np

        off: list[float] = []
        slopes: list[Numbers] = []
        for mate, wanted in zip(self.mates, self.wanted, strict=True):
            row = np.zeros_like(places)
            lengths = [
                self._length(places, place, row, times)
                for place, times in ((mate.second, mate.times[1]), (mate.first, -mate.times[0]))
            ]
            off.append(sum(lengths) - wanted)
            slopes.append(row)
        for first in self.boxes:
            self._keep_square(places, first, off, slopes)
        for a, b, along in self.folds:
            for corner in (a, b):
                row = np.zeros_like(places)
                row[2 * corner : 2 * corner + 2] = (-along[1], along[0])
                off.append(float(row @ (places - self.start)))
                slopes.append(row)
        return np.array(off), np.array(slopes)

    def _length(self, places: Numbers, place: Place, row: Numbers, times: float) -> float:
        """Return the length of an edge, and add its slope to a row."""
        a, b, bow = self.edges[place]
        edge = places[2 * b : 2 * b + 2] - places[2 * a : 2 * a + 2]
        chord = math.hypot(float(edge[0]), float(edge[1]))
        if bow > _BOWED or chord < 1e-9:
            piece = next(p for p in self.pieces if p.name == place[0])
            return times * piece.edge(place[1]).length_mm
        row[2 * b : 2 * b + 2] += times * bow * edge / chord
        row[2 * a : 2 * a + 2] -= times * bow * edge / chord
        return times * bow * chord

    def _keep_square(
        self, places: Numbers, first: int, off: list[float], slopes: list[Any]
    ) -> None:
        import numpy as np

        p = [places[2 * (first + k) : 2 * (first + k) + 2] for k in range(4)]
        for axis in (0, 1):
            row = np.zeros_like(places)
            for k, sign in enumerate((1.0, -1.0, 1.0, -1.0)):
                row[2 * (first + k) + axis] = sign
            off.append(float(row @ places))
            slopes.append(row)
        u, v = p[1] - p[0], p[3] - p[0]
        row, size = np.zeros_like(places), float(np.hypot(*v)) or 1.0
        row[2 * first + 2 : 2 * first + 4] = v / size
        row[2 * first + 6 : 2 * first + 8] = u / size
        row[2 * first : 2 * first + 2] = -(u + v) / size
        off.append(float(u @ v) / size)
        slopes.append(row)

    def drawn(self, places: Numbers) -> tuple[Piece, ...] | None:
        """Return the pieces with their corners moved; None if one of them became impossible."""
        made, at = [], 0
        for piece in self.pieces:
            count = len(piece.edges)
            corners = [
                (float(places[2 * k]), float(places[2 * k + 1])) for k in range(at, at + count)
            ]
            at += count
            if all(math.dist(c, e.start) < 1e-9 for c, e in zip(corners, piece.edges, strict=True)):
                made.append(piece)
                continue
            try:
                new = with_corners(piece, corners)
            except InputError:
                return None
            if self_crossings(new.flat()):
                return None
            made.append(new)
        return tuple(made)


def _staying(piece: Piece, fixed: frozenset[Place]) -> set[int]:
    count = len(piece.edges)
    found: set[int] = set()
    for k, edge in enumerate(piece.edges):
        if (piece.name, edge.name) in fixed:
            found |= {k, (k + 1) % count}
    return found


def is_box(piece: Piece) -> bool:
    """Tell whether a piece is a rectangle.

    Parameters
    ----------
    piece : Piece
        The piece.

    Returns
    -------
    bool
        Whether it has four straight edges and right angles.

    Notes
    -----
    Right to a millionth.

    References
    ----------
    ``definition``: a rectangle.
    """
    if len(piece.edges) != 4:
        return False
    lines = all(len(e.curves) == 1 and isinstance(e.curves[0], Line) for e in piece.edges)
    ways = [edge.directions[0] for edge in piece.edges]
    return lines and all(
        abs(ways[k][0] * ways[k - 1][0] + ways[k][1] * ways[k - 1][1]) < _SQUARE for k in range(4)
    )


def with_corners(piece: Piece, corners: Sequence[Point]) -> Piece:
    """Return a piece with its corners at other places, each edge turned and scaled to its own.

    Parameters
    ----------
    piece : Piece
        The piece.
    corners : sequence of tuple of (float, float)
        Where each edge begins [mm].

    Returns
    -------
    Piece
        Notches keep their share of their edge; drill points and lines stay.

    Raises
    ------
    InputError
        If the outline becomes impossible.

    Notes
    -----
    A similarity of the plane for each edge: its length changes exactly as its chord does.

    References
    ----------
    ``derivation``: similarity by two points.
    """
    count = len(corners)
    edges = tuple(
        _between(edge, corners[k], corners[(k + 1) % count]) for k, edge in enumerate(piece.edges)
    )
    ratio = {
        old.name: new.length_mm / old.length_mm for old, new in zip(piece.edges, edges, strict=True)
    }
    notches: tuple[Notch, ...] = tuple(
        replace(n, distance_mm=n.distance_mm * ratio[n.edge]) for n in piece.notches
    )
    return replace(piece, edges=edges, notches=notches)


def _between(edge: Edge, start: Point, end: Point) -> Edge:
    """Return an edge turned and scaled to run between two points."""
    if edge.start == start and edge.end == end:
        return edge
    if len(edge.curves) == 1 and isinstance(edge.curves[0], Line):
        return replace(edge, curves=(Line(start, end),))
    old = complex(edge.end[0] - edge.start[0], edge.end[1] - edge.start[1])
    factor = complex(end[0] - start[0], end[1] - start[1]) / old if abs(old) > 1e-9 else 1.0 + 0.0j

    def place(point: Point) -> Point:
        offset = complex(point[0] - edge.start[0], point[1] - edge.start[1]) * factor
        return start[0] + offset.real, start[1] + offset.imag

    points = [place(point) for point in edge.flat()]
    points[0], points[-1] = start, end
    return replace(edge, curves=(trace(points, edge.length_mm * abs(factor)),))
