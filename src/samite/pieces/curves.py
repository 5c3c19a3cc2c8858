"""What edges are made of: straight lines, arcs, cubic Bezier curves and traced lines."""

from __future__ import annotations

from typing import Protocol

from samite.pieces.cubics import Cubic, eased
from samite.pieces.lines import FLATNESS_MM, Arc, Line
from samite.pieces.plane import Move, Point
from samite.pieces.traces import Trace, trace

__all__ = ["FLATNESS_MM", "Arc", "Cubic", "Curve", "Line", "Trace", "eased", "trace"]


class Curve(Protocol):
    """What every part of an edge can tell and do; all are frozen."""

    @property
    def start(self) -> Point:
        """Where it begins [mm]."""

    @property
    def end(self) -> Point:
        """Where it ends [mm]."""

    @property
    def length_mm(self) -> float:
        """Its exact length [mm]."""

    @property
    def swept_mm2(self) -> float:
        """Its share of the area by Green's formula, half the integral of x dy - y dx [mm2]."""

    @property
    def directions(self) -> tuple[Point, Point]:
        """Directions where it begins and where it ends, unit vectors."""

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

    def at(self, distance_mm: float) -> tuple[Point, Point]:
        """Return the point at a distance from its start, and the direction there.

        Parameters
        ----------
        distance_mm : float
            Along the curve [mm].

        Returns
        -------
        tuple of (tuple of (float, float), tuple of (float, float))
            Point [mm] and unit vector.
        """

    def moved(self, move: Move) -> Curve:
        """Return it moved.

        Parameters
        ----------
        move : Move
            The movement.

        Returns
        -------
        Curve
            Moved.
        """

    def turned_round(self) -> Curve:
        """Return it run the other way.

        Returns
        -------
        Curve
            From end to start.
        """

    def beside(self, distance_mm: float, flatness_mm: float = FLATNESS_MM) -> tuple[Point, ...]:
        """Return points of the curve beside it, on the outside of an anticlockwise outline.

        Parameters
        ----------
        distance_mm : float
            How far beside [mm].
        flatness_mm : float
            How far the chords may be off [mm].

        Returns
        -------
        tuple of tuple of (float, float)
            Points [mm].
        """
