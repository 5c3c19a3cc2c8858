"""Cubic Bezier curves."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

from samite.pieces.lines import FLATNESS_MM
from samite.pieces.plane import Move, Point, away, cross, outward, unit_vector
from samite.pieces.traces import Trace


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
        steps = math.ceil(1.25 * self._steps(flatness_mm))
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
        a, b, c, d = u * u * u, 3.0 * u * u * t, 3.0 * u * t * t, t * t * t
        return (
            a * self.start[0] + b * self.first[0] + c * self.second[0] + d * self.end[0],
            a * self.start[1] + b * self.first[1] + c * self.second[1] + d * self.end[1],
        )

    def _slope(self, t: float) -> Point:
        u = 1.0 - t
        a, b, c = 3.0 * u * u, 6.0 * u * t, 3.0 * t * t
        return (
            a * (self.first[0] - self.start[0])
            + b * (self.second[0] - self.first[0])
            + c * (self.end[0] - self.second[0]),
            a * (self.first[1] - self.start[1])
            + b * (self.second[1] - self.first[1])
            + c * (self.end[1] - self.second[1]),
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


def eased(start: Point, along_start: Point, end: Point, along_end: Point) -> Cubic:
    """Return a curve between two points with given directions at both.

    Parameters
    ----------
    start : tuple of (float, float)
        Where it begins [mm].
    along_start : tuple of (float, float)
        Direction there, unit vector.
    end : tuple of (float, float)
        Where it ends [mm].
    along_end : tuple of (float, float)
        Direction there, unit vector.

    Returns
    -------
    Cubic
        Its handles are a third of the chord long.
    """
    third = math.dist(start, end) / 3.0
    return Cubic(start, away(start, along_start, third), away(end, along_end, -third), end)
