"""Points, directions and rigid movements in the plane, in millimetres."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

Point = tuple[float, float]


def away(point: Point, direction: Point, distance_mm: float) -> Point:
    """Return the point at a distance along a direction.

    Parameters
    ----------
    point : tuple of (float, float)
        Where from [mm].
    direction : tuple of (float, float)
        Unit vector.
    distance_mm : float
        How far [mm].

    Returns
    -------
    tuple of (float, float)
        The point [mm].
    """
    return point[0] + direction[0] * distance_mm, point[1] + direction[1] * distance_mm


def unit_vector(start: Point, end: Point) -> Point:
    """Return the direction from one point to another.

    Parameters
    ----------
    start, end : tuple of (float, float)
        Two points [mm].

    Returns
    -------
    tuple of (float, float)
        Unit vector; along x if the points are one.
    """
    dx, dy = end[0] - start[0], end[1] - start[1]
    size = math.hypot(dx, dy)
    return (dx / size, dy / size) if size > 0.0 else (1.0, 0.0)


def outward(direction: Point) -> Point:
    """Return the normal on the right, which points out of an outline that runs anticlockwise.

    Parameters
    ----------
    direction : tuple of (float, float)
        Unit vector.

    Returns
    -------
    tuple of (float, float)
        Unit vector.
    """
    return direction[1], -direction[0]


def cross(a: Point, b: Point) -> float:
    """Return the cross product; positive if `b` lies to the left of `a`.

    Parameters
    ----------
    a, b : tuple of (float, float)
        Vectors.

    Returns
    -------
    float
        Product.
    """
    return a[0] * b[1] - a[1] * b[0]


def dot(a: Point, b: Point) -> float:
    """Return the scalar product.

    Parameters
    ----------
    a, b : tuple of (float, float)
        Vectors.

    Returns
    -------
    float
        Product.
    """
    return a[0] * b[0] + a[1] * b[1]


def meeting(a: Point, along_a: Point, b: Point, along_b: Point) -> Point | None:
    """Return where two straight lines meet.

    Parameters
    ----------
    a : tuple of (float, float)
        A point of the first [mm].
    along_a : tuple of (float, float)
        Its direction.
    b : tuple of (float, float)
        A point of the second [mm].
    along_b : tuple of (float, float)
        Its direction.

    Returns
    -------
    tuple of (float, float) or None
        The point [mm]; None if they are parallel.
    """
    turn = cross(along_a, along_b)
    if abs(turn) < 1e-12:
        return None
    reach = cross((b[0] - a[0], b[1] - a[1]), along_b) / turn
    return away(a, along_a, reach)


def polyline_length_mm(points: Sequence[Point]) -> float:
    """Return the length of a line through points.

    Parameters
    ----------
    points : sequence of tuple of (float, float)
        The points [mm].

    Returns
    -------
    float
        Length [mm].
    """
    return math.fsum(math.dist(a, b) for a, b in itertools.pairwise(points))


def signed_area_mm2(points: Sequence[Point]) -> float:
    """Return the area inside a closed line, positive if it runs anticlockwise.

    Parameters
    ----------
    points : sequence of tuple of (float, float)
        Corners, the first not repeated [mm].

    Returns
    -------
    float
        Area [mm2].
    """
    following = [*points[1:], *points[:1]]
    return 0.5 * math.fsum(
        a[0] * b[1] - a[1] * b[0] for a, b in zip(points, following, strict=True)
    )


@dataclass(frozen=True, slots=True)
class Move:
    """A rigid movement: mirrored left to right first if so, then turned about 0, then shifted.

    Parameters
    ----------
    angle_rad : float
        Turn, anticlockwise [rad].
    shift : tuple of (float, float)
        Shift [mm].
    mirror : bool
        Whether x becomes -x first.
    """

    angle_rad: float = 0.0
    shift: Point = (0.0, 0.0)
    mirror: bool = False

    def point(self, point: Point) -> Point:
        """Return a point moved.

        Parameters
        ----------
        point : tuple of (float, float)
            The point [mm].

        Returns
        -------
        tuple of (float, float)
            Where it comes to lie [mm].
        """
        x, y = self.direction(point)
        return x + self.shift[0], y + self.shift[1]

    def direction(self, vector: Point) -> Point:
        """Return a vector moved.

        Parameters
        ----------
        vector : tuple of (float, float)
            The vector.

        Returns
        -------
        tuple of (float, float)
            Mirrored and turned, not shifted.
        """
        x, y = (-vector[0], vector[1]) if self.mirror else vector
        if self.angle_rad == 0.0:
            return x, y
        cosine, sine = math.cos(self.angle_rad), math.sin(self.angle_rad)
        return x * cosine - y * sine, x * sine + y * cosine
