"""Straight lines, arcs, cubic Bezier curves and traced lines, each with its exact length."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache
from typing import Protocol

from samite.kernel.errors import OutOfRangeError
from samite.pieces.plane import (
    Move,
    Point,
    away,
    cross,
    outward,
    polyline_length_mm,
    unit_vector,
)

FLATNESS_MM = 0.02
"""How far a flattened curve may be from the true one [mm]."""


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


@dataclass(frozen=True, slots=True)
class Trace:
    """A line through many points, dense enough to stand for a curve.

    Parameters
    ----------
    points : tuple of tuple of (float, float)
        At least two points [mm].
    true_length_mm : float or None
        Exact length of the curve that it stands for, if known in closed form [mm].
    ends : tuple of (tuple of (float, float), tuple of (float, float)) or None
        Exact directions at both ends, if known.
    """

    points: tuple[Point, ...]
    true_length_mm: float | None = None
    ends: tuple[Point, Point] | None = None

    @property
    def start(self) -> Point:
        """Where it begins [mm]."""
        return self.points[0]

    @property
    def end(self) -> Point:
        """Where it ends [mm]."""
        return self.points[-1]

    @property
    def length_mm(self) -> float:
        """Its length [mm]."""
        if self.true_length_mm is not None:
            return self.true_length_mm
        return polyline_length_mm(self.points)

    @property
    def swept_mm2(self) -> float:
        """Its share of the area [mm2]."""
        pairs = zip(self.points, self.points[1:], strict=False)
        return 0.5 * math.fsum(cross(a, b) for a, b in pairs)

    @property
    def directions(self) -> tuple[Point, Point]:
        """Directions where it begins and ends; else of the parabola through three points."""
        if self.ends is not None:
            return self.ends
        return _end_direction(self.points[:3]), _flip(_end_direction(self.points[:-4:-1]))

    def flat(self, flatness_mm: float = FLATNESS_MM) -> tuple[Point, ...]:  # noqa: ARG002
        """Return its points.

        Parameters
        ----------
        flatness_mm : float
            Not needed [mm].

        Returns
        -------
        tuple of tuple of (float, float)
            Points [mm].
        """
        return self.points

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
        left = distance_mm * polyline_length_mm(self.points) / max(self.length_mm, 1e-12)
        for a, b in zip(self.points, self.points[1:], strict=False):
            step = math.dist(a, b)
            if left <= step:
                along = unit_vector(a, b)
                return away(a, along, left), along
            left -= step
        return self.end, self.directions[1]

    def moved(self, move: Move) -> Trace:
        """Return it moved.

        Parameters
        ----------
        move : Move
            The movement.

        Returns
        -------
        Trace
            Moved.
        """
        ends = self.ends and (move.direction(self.ends[0]), move.direction(self.ends[1]))
        return Trace(tuple(move.point(p) for p in self.points), self.true_length_mm, ends)

    def turned_round(self) -> Trace:
        """Return it run the other way.

        Returns
        -------
        Trace
            From end to start.
        """
        ends = self.ends and (_flip(self.ends[1]), _flip(self.ends[0]))
        return Trace(self.points[::-1], self.true_length_mm, ends)

    def beside(self, distance_mm: float, flatness_mm: float = FLATNESS_MM) -> tuple[Point, ...]:  # noqa: ARG002
        """Return each point moved along the normal there.

        Parameters
        ----------
        distance_mm : float
            How far beside [mm].
        flatness_mm : float
            Not needed [mm].

        Returns
        -------
        tuple of tuple of (float, float)
            Points [mm].
        """
        first, last = self.directions
        inner = [_mean_direction(*three) for three in _triples(self.points)]
        return tuple(
            away(point, outward(along), distance_mm * stretch)
            for point, (along, stretch) in zip(
                self.points, [(first, 1.0), *inner, (last, 1.0)], strict=True
            )
        )


@dataclass(frozen=True, slots=True)
class Cubic:
    """A cubic Bezier curve.

    Parameters
    ----------
    start : tuple of (float, float)
        Where it begins [mm].
    first : tuple of (float, float)
        First handle [mm].
    second : tuple of (float, float)
        Second handle [mm].
    end : tuple of (float, float)
        Where it ends [mm].
    """

    start: Point
    first: Point
    second: Point
    end: Point

    @property
    def length_mm(self) -> float:
        """Its length, by quadrature of 64 nodes [mm]."""
        return _cubic_length(self)

    @property
    def swept_mm2(self) -> float:
        """Its share of the area, exact [mm2]."""
        a, b, c, d = self.start, self.first, self.second, self.end
        terms = 6 * cross(a, b) + 3 * cross(a, c) + cross(a, d) + 3 * cross(b, c)
        return (terms + 3 * cross(b, d) + 6 * cross(c, d)) / 20.0

    @property
    def directions(self) -> tuple[Point, Point]:
        """Directions where it begins and ends."""
        points = (self.start, self.first, self.second, self.end)
        ahead = next((p for p in points[1:] if math.dist(p, self.start) > 1e-9), self.end)
        behind = next((p for p in points[2::-1] if math.dist(p, self.end) > 1e-9), self.start)
        return unit_vector(self.start, ahead), unit_vector(behind, self.end)

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
        steps = self._steps(flatness_mm)
        inner = [self._on(step / steps) for step in range(1, steps)]
        return self.start, *inner, self.end

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
        return Trace(self.flat(1e-4), self.length_mm).at(distance_mm)

    def moved(self, move: Move) -> Cubic:
        """Return it moved.

        Parameters
        ----------
        move : Move
            The movement.

        Returns
        -------
        Cubic
            Moved.
        """
        return Cubic(*(move.point(p) for p in (self.start, self.first, self.second, self.end)))

    def turned_round(self) -> Cubic:
        """Return it run the other way.

        Returns
        -------
        Cubic
            From end to start.
        """
        return Cubic(self.end, self.second, self.first, self.start)

    def beside(self, distance_mm: float, flatness_mm: float = FLATNESS_MM) -> tuple[Point, ...]:
        """Return points of it, each moved along the exact normal there.

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
        steps = 2 * self._steps(flatness_mm)
        first, last = self.directions
        placed = [away(self.start, outward(first), distance_mm)]
        for step in range(1, steps):
            along = unit_vector((0.0, 0.0), self._slope(step / steps))
            placed.append(away(self._on(step / steps), outward(along), distance_mm))
        return (*placed, away(self.end, outward(last), distance_mm))

    def _steps(self, flatness_mm: float) -> int:
        a, b, c, d = self.start, self.first, self.second, self.end
        bend = max(
            math.hypot(a[0] - 2 * b[0] + c[0], a[1] - 2 * b[1] + c[1]),
            math.hypot(b[0] - 2 * c[0] + d[0], b[1] - 2 * c[1] + d[1]),
        )
        return max(2, min(4000, math.ceil(math.sqrt(0.75 * bend / flatness_mm))))

    def _on(self, t: float) -> Point:
        u = 1.0 - t
        weights = (u * u * u, 3 * u * u * t, 3 * u * t * t, t * t * t)
        points = (self.start, self.first, self.second, self.end)
        return (
            sum(w * p[0] for w, p in zip(weights, points, strict=True)),
            sum(w * p[1] for w, p in zip(weights, points, strict=True)),
        )

    def _slope(self, t: float) -> Point:
        u = 1.0 - t
        points = (self.start, self.first, self.second, self.end)
        steps = [(b[0] - a[0], b[1] - a[1]) for a, b in itertools.pairwise(points)]
        weights = (3 * u * u, 6 * u * t, 3 * t * t)
        return (
            sum(w * s[0] for w, s in zip(weights, steps, strict=True)),
            sum(w * s[1] for w, s in zip(weights, steps, strict=True)),
        )


@cache
def _cubic_length(curve: Cubic) -> float:
    total = 0.0
    for piece in range(16):
        for node, weight in _GAUSS:
            t = (piece + 0.5 + 0.5 * node) / 16.0
            total += weight * math.hypot(*curve._slope(t)) / 32.0  # noqa: SLF001
    return total


_GAUSS = (
    (-0.8611363115940526, 0.3478548451374538),
    (-0.3399810435848563, 0.6521451548625461),
    (0.3399810435848563, 0.6521451548625461),
    (0.8611363115940526, 0.3478548451374538),
)


def _flip(direction: Point) -> Point:
    return -direction[0], -direction[1]


def _end_direction(points: Sequence[Point]) -> Point:
    if len(points) < 3:
        return unit_vector(points[0], points[1])
    a, b, c = points
    near, far = math.dist(a, b), math.dist(a, b) + math.dist(b, c)
    if near in (0.0, far):
        return unit_vector(a, c)
    weight_b, weight_c = far / (near * (far - near)), -near / (far * (far - near))
    dx = weight_b * (b[0] - a[0]) + weight_c * (c[0] - a[0])
    dy = weight_b * (b[1] - a[1]) + weight_c * (c[1] - a[1])
    return unit_vector((0.0, 0.0), (dx, dy))


def _triples(points: Sequence[Point]) -> list[tuple[Point, Point, Point]]:
    return list(zip(points, points[1:], points[2:], strict=False))


def _mean_direction(a: Point, b: Point, c: Point) -> tuple[Point, float]:
    """Return the direction at the middle of three points, and how far its normal must reach."""
    before, after = unit_vector(a, b), unit_vector(b, c)
    along = unit_vector((0.0, 0.0), (before[0] + after[0], before[1] + after[1]))
    reach = along[0] * before[0] + along[1] * before[1]
    return along, 1.0 / max(reach, 0.5)


def trace(points: Sequence[Point], length_mm: float | None = None) -> Trace:
    """Return a traced line, without points that repeat the one before.

    Parameters
    ----------
    points : sequence of tuple of (float, float)
        The points [mm].
    length_mm : float or None
        Exact length of the curve that they stand for [mm].

    Returns
    -------
    Trace
        The line.

    Raises
    ------
    OutOfRangeError
        If fewer than two points are left.
    """
    kept = [points[0]]
    kept += [b for a, b in itertools.pairwise(points) if math.dist(a, b) > 1e-9]
    if len(kept) < 2:
        raise OutOfRangeError("an edge has no length", "edge", "change the measures")
    return Trace(tuple(kept), length_mm)
