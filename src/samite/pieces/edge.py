"""One named edge of a piece, from corner to corner."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from samite.pieces.curves import FLATNESS_MM, Curve, Line
from samite.pieces.plane import Move, Point

KINDS = ("seam", "gathered", "hem", "edge", "fold", "waist", "neck", "opening")
"""What an edge can be; allowances are given by kind."""


CORNERS = ("mitre", "square", "mirror", "bevel")
"""How the allowance of an edge ends at its corners."""


@dataclass(frozen=True, slots=True)
class Edge:
    """One named edge of a piece, from corner to corner.

    Parameters
    ----------
    name : str
        Its name, unique in the piece.
    curves : tuple of Curve
        What it is made of, end to end, anticlockwise around the piece.
    kind : str
        One of `KINDS`.
    allowance_mm : float or None
        Allowance that the shape itself asks for; None takes that of the kind [mm].
    corner : str
        One of `CORNERS`.
    gathered_to_mm : float or None
        Length that it is gathered to; None where it is not, or where that is told elsewhere [mm].
    level : str
        Where it lies on the body if its kind does not say so: ``waist``, ``hip``, ``hem``.
    """

    name: str
    curves: tuple[Curve, ...]
    kind: str = "seam"
    allowance_mm: float | None = None
    corner: str = "mitre"
    gathered_to_mm: float | None = None
    level: str = ""

    @property
    def at_waist(self) -> bool:
        """Whether it lies at the waist."""
        return "waist" in (self.kind, self.level)

    @property
    def start(self) -> Point:
        """Where it begins [mm]."""
        return self.curves[0].start

    @property
    def end(self) -> Point:
        """Where it ends [mm]."""
        return self.curves[-1].end

    @property
    def length_mm(self) -> float:
        """Its exact length [mm]."""
        return math.fsum(curve.length_mm for curve in self.curves)

    @property
    def directions(self) -> tuple[Point, Point]:
        """Directions where it begins and where it ends."""
        return self.curves[0].directions[0], self.curves[-1].directions[1]

    def flat(self, flatness_mm: float = FLATNESS_MM) -> tuple[Point, ...]:
        """Return points along it, both ends included.

        Parameters
        ----------
        flatness_mm : float
            How far the chords may be off [mm].

        Returns
        -------
        tuple of tuple of (float, float)
            Points [mm].
        """
        points: list[Point] = []
        for curve in self.curves:
            points += curve.flat(flatness_mm)[1 if points else 0 :]
        return tuple(points)

    def at(self, distance_mm: float) -> tuple[Point, Point]:
        """Return a point along it and the direction there.

        Parameters
        ----------
        distance_mm : float
            From its start [mm].

        Returns
        -------
        tuple of (tuple of (float, float), tuple of (float, float))
            Point [mm] and unit vector.
        """
        left = distance_mm
        for curve in self.curves[:-1]:
            if left <= curve.length_mm:
                return curve.at(left)
            left -= curve.length_mm
        return self.curves[-1].at(min(left, self.curves[-1].length_mm))

    def moved(self, move: Move) -> Edge:
        """Return it moved; mirrored it is run the other way, so that it stays anticlockwise.

        Parameters
        ----------
        move : Move
            The movement.

        Returns
        -------
        Edge
            Moved.
        """
        curves = tuple(curve.moved(move) for curve in self.curves)
        if move.mirror:
            curves = tuple(curve.turned_round() for curve in reversed(curves))
        return replace(self, curves=curves)


def straight(
    name: str, start: Point, end: Point, kind: str = "seam", corner: str = "mitre"
) -> Edge:
    """Return an edge that is one straight line.

    Parameters
    ----------
    name : str
        Its name.
    start, end : tuple of (float, float)
        Its ends [mm].
    kind : str
        One of `KINDS`.
    corner : str
        One of `CORNERS`.

    Returns
    -------
    Edge
        The edge.
    """
    return Edge(name, (Line(start, end),), kind, corner=corner)
