"""Distances and overlaps of outlines against an independent library of plane geometry."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest
import shapely
from shapely.geometry import Point, Polygon

from samite.lay.apart import (
    Array,
    area_mm2,
    distance_mm,
    inner_point,
    is_inside,
    outside_mm,
    overlap_area_mm2,
    overlap_mm,
    placed,
)


def star(rng: np.random.Generator, corners: int) -> Array:
    """An outline that runs once around its middle: hollow, never crossing itself."""
    angles = np.sort(rng.uniform(0.0, 2.0 * math.pi, corners))
    gaps = np.diff(np.append(angles, angles[0] + 2.0 * math.pi))
    if gaps.max() > 3.0:
        return star(rng, corners)
    radii = rng.uniform(40.0, 200.0, corners)
    return np.column_stack([radii * np.cos(angles), radii * np.sin(angles)])


def pairs(rng: np.random.Generator, count: int) -> list[tuple[Array, Array]]:
    made = []
    for _ in range(count):
        first, second = star(rng, int(rng.integers(3, 25))), star(rng, int(rng.integers(3, 25)))
        made.append((first, second + rng.uniform(-300.0, 300.0, 2)))
    return made


def test_areas_overlaps_and_distances_equal_those_of_the_library(
    heavy: Callable[[int], int],
) -> None:
    rng = np.random.default_rng(5)
    met = 0
    for first, second in pairs(rng, heavy(200)):
        a, b = Polygon(first), Polygon(second)
        assert area_mm2(first) == pytest.approx(a.area, rel=1e-12)
        shared = a.intersection(b).area
        assert overlap_area_mm2(first, second) == pytest.approx(shared, abs=1e-6)
        assert (overlap_mm(first, second) > 0.0) == (shared > 1e-9)
        lines = shapely.distance(a.exterior, b.exterior)
        assert distance_mm(first, second, 50.0) == pytest.approx(min(lines, 50.0), abs=1e-9)
        met += shared > 1.0
    assert met > 5


def test_the_depth_of_an_overlap_is_what_must_be_moved_at_squares() -> None:
    square = np.array([[0.0, 0.0], [100.0, 0.0], [100.0, 100.0], [0.0, 100.0]])
    for step in (1e-6, 1e-3, 0.5, 20.0):
        shifted = square + np.array([100.0 - step, 0.0])
        assert overlap_mm(square, shifted) == pytest.approx(step, rel=1e-6)
        assert overlap_area_mm2(square, shifted) == pytest.approx(100.0 * step, rel=1e-6)
    assert overlap_mm(square, square + np.array([100.0, 0.0])) == 0.0
    assert overlap_mm(square, square) > 40.0
    assert overlap_mm(square, 0.2 * square + 30.0) > 19.0


def test_what_reaches_out_of_the_cloth_is_told_as_the_library_tells_it(
    heavy: Callable[[int], int],
) -> None:
    rng = np.random.default_rng(6)
    for cloth, piece in pairs(rng, heavy(200)):
        small = piece * 0.3
        out = Polygon(small).difference(Polygon(cloth)).area
        assert (outside_mm(small, cloth) > 1e-9) == (out > 1e-7)


def test_points_inside_and_inner_points_are_inside(heavy: Callable[[int], int]) -> None:
    rng = np.random.default_rng(7)
    for first, _ in pairs(rng, heavy(100)):
        points = rng.uniform(-200.0, 200.0, (50, 2))
        shape = Polygon(first)
        assert list(is_inside(points, first)) == [shape.contains(Point(*p)) for p in points]
        assert shape.contains(Point(*inner_point(first)))


def test_a_placement_is_mirror_then_turn_then_move() -> None:
    rng = np.random.default_rng(8)
    outline = star(rng, 9)
    for angle in (0.0, 33.0, 90.0, 180.0, -90.0, 270.0, 359.0):
        for mirrored in (False, True):
            shape = Polygon(outline)
            if mirrored:
                shape = shapely.affinity.scale(shape, 1.0, -1.0, origin=(0.0, 0.0))
            shape = shapely.affinity.rotate(shape, angle, origin=(0.0, 0.0))
            shape = shapely.affinity.translate(shape, 12.5, -7.0)
            got = placed(outline, angle_deg=angle, mirrored=mirrored, x_mm=12.5, y_mm=-7.0)
            assert np.allclose(got, np.array(shape.exterior.coords)[:-1], atol=1e-10)
