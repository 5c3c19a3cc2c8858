"""Straight lines and arcs, exact."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from samite.kernel.errors import OutOfRangeError
from samite.pieces.plane import Move, Point, away, cross, outward, unit_vector

FLATNESS_MM = 0.02
"""How far a flattened curve may be from the true one [mm]."""


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line.

    Parameters
    ----------
    start, end : tuple of (float, float)
        Its ends [mm].
    """

    start: Point
    end: Point

    @property
    def length_mm(self) -> float:
        """Its length [mm]."""
        return math.dist(self.start, self.end)

    @property
    def swept_mm2(self) -> float:
        """Its share of the area [mm2]."""
        return 0.5 * cross(self.start, self.end)

    @property
    def directions(self) -> tuple[Point, Point]:
        """Direction, twice."""
        along = unit_vector(self.start, self.end)
        return along, along

    def flat(self, flatness_mm: float = FLATNESS_MM) -> tuple[Point, ...]:  # noqa: ARG002
        """Return its ends.

        Parameters
        ----------
        flatness_mm : float
            Not needed [mm].

        Returns
        -------
        tuple of tuple of (float, float)
            Two points [mm].
        """
        return self.start, self.end

    def at(self, distance_mm: float) -> tuple[Point, Point]:
        """Return a point along it and its direction.

        Parameters
        ----------
        distance_mm : float
            From its start [mm].

        Returns
        -------
        tuple of (tuple of (float, float), tuple of (float, float))
            Point [mm] and unit vector.
        """
        along = self.directions[0]
        return away(self.start, along, distance_mm), along

    def moved(self, move: Move) -> Line:
        """Return it moved.

        Parameters
        ----------
        move : Move
            The movement.

        Returns
        -------
        Line
            Moved.
        """
        return Line(move.point(self.start), move.point(self.end))

    def turned_round(self) -> Line:
        """Return it run the other way.

        Returns
        -------
        Line
            From end to start.
        """
        return Line(self.end, self.start)

    def beside(self, distance_mm: float, flatness_mm: float = FLATNESS_MM) -> tuple[Point, ...]:  # noqa: ARG002
        """Return the ends of the line beside it.

        Parameters
        ----------
        distance_mm : float
            How far beside [mm].
        flatness_mm : float
            Not needed [mm].

        Returns
        -------
        tuple of tuple of (float, float)
            Two points [mm].
        """
        normal = outward(self.directions[0])
        return away(self.start, normal, distance_mm), away(self.end, normal, distance_mm)


@dataclass(frozen=True, slots=True)
class Arc:
    """A part of a circle.

    Parameters
    ----------
    centre : tuple of (float, float)
        Centre of the circle [mm].
    radius_mm : float
        Its radius [mm].
    begin_rad : float
        Angle at which it begins [rad].
    sweep_rad : float
        Angle that it spans, positive anticlockwise [rad].
    """

    centre: Point
    radius_mm: float
    begin_rad: float
    sweep_rad: float

    @property
    def start(self) -> Point:
        """Where it begins [mm]."""
        return self._on(0.0)

    @property
    def end(self) -> Point:
        """Where it ends [mm]."""
        return self._on(self.sweep_rad)

    @property
    def length_mm(self) -> float:
        """Its length [mm]."""
        return self.radius_mm * abs(self.sweep_rad)

    @property
    def swept_mm2(self) -> float:
        """Its share of the area [mm2]."""
        (x, y), (x0, y0), (x1, y1) = self.centre, self.start, self.end
        return 0.5 * (self.radius_mm**2 * self.sweep_rad + x * (y1 - y0) - y * (x1 - x0))

    @property
    def directions(self) -> tuple[Point, Point]:
        """Directions where it begins and ends."""
        return self._along(0.0), self._along(self.sweep_rad)

    def flat(self, flatness_mm: float = FLATNESS_MM) -> tuple[Point, ...]:
        """Return points along it.

        Parameters
        ----------
        flatness_mm : float
            How far the chords may be off [mm].

        Returns
        -------
        tuple of tuple of (float, float)
            Points [mm].
        """
        share = max(1.0 - flatness_mm / self.radius_mm, 0.0)
        steps = max(1, math.ceil(abs(self.sweep_rad) / (2.0 * math.acos(share)) - 1e-9))
        return tuple(self._on(self.sweep_rad * step / steps) for step in range(steps + 1))

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
        swept = math.copysign(distance_mm / self.radius_mm, self.sweep_rad)
        return self._on(swept), self._along(swept)

    def moved(self, move: Move) -> Arc:
        """Return it moved.

        Parameters
        ----------
        move : Move
            The movement.

        Returns
        -------
        Arc
            Moved.
        """
        begin = math.pi - self.begin_rad if move.mirror else self.begin_rad
        sweep = -self.sweep_rad if move.mirror else self.sweep_rad
        return Arc(move.point(self.centre), self.radius_mm, begin + move.angle_rad, sweep)

    def turned_round(self) -> Arc:
        """Return it run the other way.

        Returns
        -------
        Arc
            From end to start.
        """
        return replace(self, begin_rad=self.begin_rad + self.sweep_rad, sweep_rad=-self.sweep_rad)

    def beside(self, distance_mm: float, flatness_mm: float = FLATNESS_MM) -> tuple[Point, ...]:
        """Return points of the concentric arc.

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

        Raises
        ------
        OutOfRangeError
            If the distance is more than a hollow arc's radius.
        """
        radius = self.radius_mm + (distance_mm if self.sweep_rad > 0.0 else -distance_mm)
        if radius <= 0.0:
            raise OutOfRangeError(
                f"an allowance of {distance_mm:g} mm does not fit in a curve of radius"
                f" {self.radius_mm:.1f} mm",
                "allowance",
                "give a smaller allowance there",
            )
        return replace(self, radius_mm=radius).flat(flatness_mm)

    def _on(self, swept: float) -> Point:
        angle = self.begin_rad + swept
        return (
            self.centre[0] + self.radius_mm * math.cos(angle),
            self.centre[1] + self.radius_mm * math.sin(angle),
        )

    def _along(self, swept: float) -> Point:
        angle, way = self.begin_rad + swept, math.copysign(1.0, self.sweep_rad)
        return -math.sin(angle) * way, math.cos(angle) * way
