"""The frozen model of a piece: named edges, grain, notches, folds, marks and copies."""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from dataclasses import dataclass, replace
from functools import cache

from samite.kernel.errors import InputError, UnknownNameError
from samite.pieces.curves import FLATNESS_MM
from samite.pieces.edge import Edge, straight
from samite.pieces.plane import Move, Point, cross, dot

NEAR_MM = 2.0
"""How far corners may be off their mirror images in a piece that counts as symmetric [mm]."""

CLOSED_MM = 1e-6
"""How far the end of one edge may be from the start of the next [mm]."""


@dataclass(frozen=True, slots=True)
class Notch:
    """A mark on an edge that meets a mark on another piece.

    Parameters
    ----------
    edge : str
        Name of the edge.
    distance_mm : float
        Along the edge from its start [mm].
    count : int
        Strokes: 1 in front, 2 behind, 3 at a centre.
    name : str
        What it matches.
    """

    edge: str
    distance_mm: float
    count: int = 1
    name: str = ""


@dataclass(frozen=True, slots=True)
class Mark:
    """A drill point: a place inside a piece.

    Parameters
    ----------
    name : str
        What is there.
    place : tuple of (float, float)
        Where [mm].
    """

    name: str
    place: Point


@dataclass(frozen=True, slots=True)
class Rule:
    """A line inside a piece that is drawn and not cut: a fold, a pleat, a line of gathering.

    Parameters
    ----------
    name : str
        What it is.
    points : tuple of tuple of (float, float)
        Where [mm].
    """

    name: str
    points: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Piece:
    """One flat piece.

    Parameters
    ----------
    name : str
        Its name.
    edges : tuple of Edge
        Stitch line, closed, anticlockwise.
    grain_deg : float
        Direction of the lengthwise grain, from the x axis anticlockwise [deg].
    grain_tolerance_deg : float
        How far it may be laid off that direction [deg].
    copies : int
        How many are cut.
    mirrored : bool
        Whether half of the copies are mirror images.
    notches : tuple of Notch
        Marks on the edges.
    marks : tuple of Mark
        Drill points.
    rules : tuple of Rule
        Lines inside.
    cloth : str
        ``main``, ``lining`` or ``facing``.
    note : str
        What to do with it, one sentence.

    Raises
    ------
    InputError
        If the outline is open or clockwise, or two edges share a name.
    """

    name: str
    edges: tuple[Edge, ...]
    grain_deg: float = 90.0
    grain_tolerance_deg: float = 1.0
    copies: int = 1
    mirrored: bool = False
    notches: tuple[Notch, ...] = ()
    marks: tuple[Mark, ...] = ()
    rules: tuple[Rule, ...] = ()
    cloth: str = "main"
    note: str = ""

    def __post_init__(self) -> None:
        following = (*self.edges[1:], self.edges[0])
        for edge, after in zip(self.edges, following, strict=True):
            if math.dist(edge.end, after.start) > CLOSED_MM:
                raise InputError(
                    f"{self.name}: the outline is open between {edge.name} and {after.name}",
                    edge.name,
                    "let every edge begin where the one before ends",
                )
        names = [edge.name for edge in self.edges]
        if len(set(names)) != len(names):
            raise InputError(f"{self.name}: two edges share a name", ", ".join(names), "rename one")
        if self.area_mm2 <= 0.0:
            raise InputError(
                f"{self.name}: the outline runs clockwise or has no area",
                self.name,
                "change the measures",
            )

    @property
    def area_mm2(self) -> float:
        """Exact area inside the stitch line, as drawn [mm2]."""
        return math.fsum(curve.swept_mm2 for edge in self.edges for curve in edge.curves)

    @property
    def on_fold(self) -> bool:
        """Whether an edge lies on a fold of the cloth, so that half the piece is drawn."""
        return any(edge.kind == "fold" for edge in self.edges)

    @property
    def symmetric(self) -> bool:
        """Whether the piece is its own mirror image, so that it has no wrong way up."""
        return self.on_fold or _mirror_image(self)

    def edge(self, name: str) -> Edge:
        """Return an edge by name.

        Parameters
        ----------
        name : str
            Its name.

        Returns
        -------
        Edge
            The edge.

        Raises
        ------
        UnknownNameError
            If the piece has none of that name.
        """
        for edge in self.edges:
            if edge.name == name:
                return edge
        raise UnknownNameError(
            f"{self.name} has no edge {name!r}",
            name,
            f"one of {', '.join(e.name for e in self.edges)}",
        )

    def flat(self, flatness_mm: float = FLATNESS_MM) -> tuple[Point, ...]:
        """Return the corners of the stitch line flattened, the first not repeated.

        Parameters
        ----------
        flatness_mm : float
            How far the chords may be off [mm].

        Returns
        -------
        tuple of tuple of (float, float)
            Points [mm].
        """
        return tuple(point for edge in self.edges for point in edge.flat(flatness_mm)[:-1])

    def moved(self, move: Move) -> Piece:
        """Return it moved, with everything on it.

        Parameters
        ----------
        move : Move
            The movement.

        Returns
        -------
        Piece
            Moved.
        """
        edges = tuple(edge.moved(move) for edge in self.edges)
        notches = self.notches
        if move.mirror:
            edges = edges[::-1]
            notches = tuple(
                replace(n, distance_mm=self.edge(n.edge).length_mm - n.distance_mm) for n in notches
            )
        x, y = move.direction(
            (math.cos(math.radians(self.grain_deg)), math.sin(math.radians(self.grain_deg)))
        )
        return replace(
            self,
            edges=edges,
            notches=notches,
            grain_deg=math.degrees(math.atan2(y, x)),
            marks=tuple(replace(m, place=move.point(m.place)) for m in self.marks),
            rules=tuple(
                replace(r, points=tuple(move.point(p) for p in r.points)) for r in self.rules
            ),
        )

    def interior_angle_deg(self, before: str, after: str) -> float:
        """Return the angle inside the corner between two edges that follow each other.

        Parameters
        ----------
        before : str
            Name of the edge that ends there.
        after : str
            Name of the edge that begins there.

        Returns
        -------
        float
            Angle [deg].
        """
        a, b = self.edge(before).directions[1], self.edge(after).directions[0]
        return 180.0 - math.degrees(math.atan2(cross(a, b), dot(a, b)))


@cache
def _mirror_image(piece: Piece) -> bool:
    """Tell whether an outline is its own mirror image about a line along or across its grain."""
    points = piece.flat(0.5)
    middle = _middle(points)
    for turn in (0.0, 90.0):
        angle = math.radians(piece.grain_deg + turn)
        if _reflects(points, middle, (math.cos(angle), math.sin(angle))):
            return True
    return False


def _middle(points: tuple[Point, ...]) -> Point:
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return (min(xs) + max(xs)) / 2.0, (min(ys) + max(ys)) / 2.0


def _reflects(points: tuple[Point, ...], middle: Point, axis: Point) -> bool:
    offsets = [(p[0] - middle[0], p[1] - middle[1]) for p in points]
    across = [cross(axis, v) for v in offsets]
    shift = (max(across) + min(across)) / 2.0
    placed = sorted((dot(axis, v), cross(axis, v) - shift) for v in offsets)
    along = [x for x, _ in placed]
    for x, y in placed[:: max(1, len(placed) // 40)]:
        near = placed[bisect_left(along, x - NEAR_MM) : bisect_right(along, x + NEAR_MM)]
        if all(math.dist((x, -y), q) >= NEAR_MM for q in near):
            return False
    return True


def polygon(name: str, corners: tuple[Point, ...], edges: tuple[tuple[str, str], ...]) -> Piece:
    """Return a piece with straight edges.

    Parameters
    ----------
    name : str
        Its name.
    corners : tuple of tuple of (float, float)
        Corners, anticlockwise [mm].
    edges : tuple of (str, str)
        Name and kind of the edge that begins at each corner.

    Returns
    -------
    Piece
        The piece, grain along y.
    """
    following = (*corners[1:], corners[0])
    made = tuple(
        straight(edge, a, b, kind, "mirror" if kind == "hem" else "mitre")
        for (edge, kind), a, b in zip(edges, corners, following, strict=True)
    )
    return Piece(name, made)
