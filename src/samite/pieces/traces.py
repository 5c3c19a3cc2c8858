"""Traced lines: many points that stand for a curve, with its exact length where that is known."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from samite.kernel.errors import OutOfRangeError
from samite.pieces.lines import FLATNESS_MM
from samite.pieces.plane import (
    Move,
    Point,
    away,
    cross,
    outward,
    polyline_length_mm,
    unit_vector,
)


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
    kept += [b for a, b in pairwise(points) if math.dist(a, b) > 1e-9]
    if len(kept) < 2:
        raise OutOfRangeError("an edge has no length", "edge", "change the measures")
    return Trace(tuple(kept), length_mm)
