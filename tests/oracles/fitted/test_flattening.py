"""Flattening against shapes whose flat form is exact."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely

from samite.pieces.flatten.arap import free_step, maps, rest_triangles, system_of
from samite.pieces.flatten.flat import Wanted, flatten_panel, smooth_line, worst_map
from samite.pieces.flatten.gauss_newton import (
    held,
    hold_rows,
    lengths_mm,
    rows_of,
    with_targets,
)
from samite.pieces.flatten.lines import PanelSide, PanelSpec, style_line
from samite.pieces.flatten.mesh import inside, mesh_outline
from samite.pieces.flatten.panels import flat_places, flatten_prepared, mesh_panel
from samite.pieces.flatten.strain import strain_range, strains
from samite.pieces.surface.loft import Surface, gauss_curvature, run_mm, surface_through
from samite.pieces.surface.tapes import line_length_mm, meridian, tape_over_mm


def turned(radius: np.ndarray, height: np.ndarray, sweep: float, columns: int = 65) -> Surface:
    """A surface of revolution, swept through an angle."""
    angle = np.linspace(0.0, sweep, columns)
    grid = np.stack(
        [
            np.outer(radius, np.sin(angle)),
            np.outer(radius, np.cos(angle)),
            np.repeat(height[:, None], columns, axis=1),
        ],
        axis=2,
    )
    return surface_through(grid, {"low": 0.0, "high": float(len(radius) - 1)})


def whole_panel(
    surface: Surface, mesh_mm: float, rows: dict[str, float] | None = None
) -> PanelSpec:
    top = float(surface.rows)
    inner = tuple((rows or {}).values())

    def level(v: float) -> np.ndarray:
        return np.stack([np.linspace(0.0, 1.0, 300), np.full(300, v)], axis=1)

    def column(u: float) -> np.ndarray:
        return np.stack([np.full(300, u), np.linspace(0.0, top, 300)], axis=1)

    def line(uv: np.ndarray):
        return style_line(surface, uv, mesh_mm=mesh_mm, rows=inner)

    return PanelSpec(
        "panel",
        (
            PanelSide("lower", line(level(0.0)), hold="total"),
            PanelSide("right", line(column(1.0))),
            PanelSide("upper", line(level(top)), False, hold="total"),
            PanelSide("left", line(column(0.0)), False),
        ),
        rows or {},
    )


def laid(surface: Surface, mesh_mm: float, *, hold: bool = True, rows=None):
    ready = mesh_panel(surface, whole_panel(surface, mesh_mm, rows), mesh_mm=mesh_mm)
    return flatten_prepared(surface, ready, held=hold)


def area(panel) -> float:
    ring = np.concatenate([panel.flat.drawn(s.name)[:-1] for s in panel.spec.sides])
    return float(shapely.Polygon(ring).area)


@pytest.mark.parametrize("hold", [True, False])
def test_a_quarter_cylinder_is_a_rectangle(hold: bool) -> None:
    radius, height = 150.0, 300.0
    rows = np.linspace(0.0, height, 22)
    panel = laid(turned(np.full(22, radius), rows, math.pi / 2), 12.0, hold=hold)
    exact = radius * math.pi / 2 * height
    assert area(panel) == pytest.approx(exact, rel=1e-3)
    assert worst_map(panel.flat) < 1.5e-3
    lower = panel.flat.drawn("lower")
    assert np.ptp(lower @ _normal(lower)) < 0.15  # straight
    found = strains(panel.flat.rest, panel.flat.points)
    span = strain_range(found, "all")
    assert max(map(abs, (*span.warp, *span.weft))) < 1e-3
    assert span.shear_deg < 0.1


def _normal(line: np.ndarray) -> np.ndarray:
    way = line[-1] - line[0]
    return np.array([-way[1], way[0]]) / np.linalg.norm(way)


@pytest.mark.parametrize(("low", "high"), [(0.0, 180.0), (90.0, 200.0), (160.0, 140.0)])
def test_cones_and_frustums_are_sectors_of_rings(low: float, high: float) -> None:
    height, sweep = 250.0, 2.0
    rows = np.linspace(0.0, height, 24)
    low = max(low, 45.0)  # the tip of a cone is a point, which no panel ends at
    panel = laid(turned(np.linspace(low, high, 24), rows, sweep), 11.0)
    slant = math.hypot(height, high - low)
    exact = 0.5 * sweep * (low + high) * slant
    assert area(panel) == pytest.approx(exact, rel=2e-3)
    assert worst_map(panel.flat) < 6e-3
    # both arcs have the radius of the ring's sector
    for name, radius in (("lower", low), ("upper", high)):
        arc = panel.flat.drawn(name)
        assert run_mm(arc)[-1] == pytest.approx(radius * sweep, abs=0.05)
        assert _radius(arc) == pytest.approx(radius * slant / abs(high - low), rel=0.03)


def _radius(arc: np.ndarray) -> float:
    matrix = np.column_stack([2 * arc, np.ones(len(arc))])
    x, y, c = np.linalg.lstsq(matrix, (arc**2).sum(axis=1), rcond=None)[0]
    return math.sqrt(c + x * x + y * y)


@pytest.mark.parametrize(("mesh_mm", "most"), [(24.0, 4e-3), (12.0, 1.5e-3), (6.0, 4e-4)])
def test_the_error_on_a_cylinder_falls_with_the_mesh(mesh_mm: float, most: float) -> None:
    rows = np.linspace(0.0, 200.0, 30)
    panel = laid(turned(np.full(30, 120.0), rows, 1.8), mesh_mm, hold=False)
    assert worst_map(panel.flat) < most


def test_a_spherical_cap_held_along_its_radii_is_stretched_at_the_rim_by_theta_over_sine() -> None:
    """theta / sin theta, exact (check row P60: 1.0472 at 30 degrees)."""
    radius, theta, count = 200.0, math.radians(30.0), 144
    angle = np.linspace(0.0, 2 * math.pi, count, endpoint=False)
    rim = radius * theta * np.stack([np.cos(angle), np.sin(angle)], axis=1)
    mesh = mesh_outline({"rim": np.concatenate([rim, rim[:1]])}, {}, mesh_mm=6.0)
    away = np.linalg.norm(mesh.points, axis=1)
    bend = away / radius
    share = np.where(away > 0, radius * np.sin(bend) / np.maximum(away, 1e-9), 1.0)
    points = np.column_stack([mesh.points * share[:, None], radius * np.cos(bend)])
    across = np.tile([1.0, 0.0, 0.0], (len(mesh.triangles), 1))
    rest = rest_triangles(points, mesh.triangles, across)
    system = system_of(rest, len(points))
    centre = int(np.argmin(away))
    radii = [(np.array([centre, k]), np.array([radius * theta])) for k in mesh.border]
    shift = radius * theta - np.linalg.norm(mesh.points[mesh.border] - mesh.points[centre], axis=1)
    assert np.abs(shift).max() < 6.0  # the hub is the grid point next to the middle
    rows = rows_of(radii, [])
    kept, flat = held(system, rows, len(points)), mesh.points.copy()
    for _ in range(30):
        flat = hold_rows(kept, free_step(system, flat), flat)
    assert np.abs(lengths_mm(rows, flat) - radius * theta).max() < 0.01
    ring = flat[mesh.border]
    perimeter = float(np.linalg.norm(ring - np.roll(ring, 1, axis=0), axis=1).sum())
    stretch = perimeter / (2 * math.pi * radius * math.sin(theta))
    assert stretch == pytest.approx(theta / math.sin(theta), abs=0.004)
    # free, the rim is stretched less: the strain is shared between rim and middle
    free = mesh.points.copy()
    for _ in range(60):
        free = free_step(system, free)
    ring = free[mesh.border]
    shared = float(np.linalg.norm(ring - np.roll(ring, 1, axis=0), axis=1).sum())
    assert 1.0 < shared / (2 * math.pi * radius * math.sin(theta)) < stretch
    assert np.linalg.det(maps(system, free)).min() > 0.0
    assert with_targets(kept, rows.targets_mm).rows.targets_mm is rows.targets_mm


def test_seams_girths_and_straight_lines_come_out_on_a_round_panel() -> None:
    theta = np.linspace(0.6, 1.5, 20)
    surface = turned(220.0 * np.sin(theta), -220.0 * np.cos(theta), 0.9)
    panel = laid(surface, 12.0, rows={"middle": 10.0})
    assert panel.flat.flipped == 0
    for side in panel.spec.sides:
        if side.hold == "edges":
            drawn = run_mm(panel.flat.drawn(side.name))[-1]
            assert drawn == pytest.approx(side.line.length_mm, abs=0.01)
    line = panel.flat.points[panel.flat.mesh.lines["middle 0"]]
    assert run_mm(line)[-1] == pytest.approx(surface.row_length_mm(10.0), abs=0.01)


def test_a_place_of_the_surface_is_found_in_the_flat() -> None:
    surface = turned(np.full(20, 100.0), np.linspace(0, 190, 20), 1.5)
    panel = laid(surface, 12.0)
    found = flat_places(panel, np.array([[0.2, 3.0], [0.7, 15.0]]))
    apart = float(np.linalg.norm(found[0] - found[1]))
    assert apart == pytest.approx(math.hypot(0.5 * 150.0, 12 * 10.0), rel=2e-3)


def test_curvature_of_a_sphere_and_of_what_can_be_unrolled() -> None:
    theta = np.linspace(0.7, 2.2, 30)
    u, v = np.meshgrid(np.linspace(0.1, 0.9, 9), np.linspace(4.0, 24.0, 9))
    ball = turned(150.0 * np.sin(theta), -150.0 * np.cos(theta), 1.4)
    assert gauss_curvature(ball, u, v) == pytest.approx(1 / 150.0**2, rel=0.03)
    cone = turned(np.linspace(60, 180, 30), np.linspace(0, 240, 30), 1.4)
    assert np.abs(gauss_curvature(cone, u, v)).max() < 2e-7


def test_lines_on_a_surface_have_their_length() -> None:
    ball = turned(
        100.0 * np.sin(np.linspace(0.3, 2.8, 60)), -100.0 * np.cos(np.linspace(0.3, 2.8, 60)), 1.0
    )
    whole = meridian(ball, 0.5, 0.0, 59.0, 400)
    assert run_mm(whole)[-1] == pytest.approx(100.0 * 2.5, rel=1e-4)
    uv = np.stack([np.full(400, 0.5), np.linspace(0.0, 59.0, 400)], axis=1)
    assert line_length_mm(ball, uv) == pytest.approx(100.0 * 2.5, rel=1e-4)


def test_a_tape_runs_over_the_convex_hull() -> None:
    draw = np.random.default_rng(7)
    for _ in range(30):
        along = np.sort(draw.uniform(0.0, 400.0, 40))
        out = draw.uniform(0.0, 60.0, 40)
        profile = np.stack([out, along], axis=1)
        far = np.array([[-1e6, along[0]], [-1e6, along[-1]]])
        hull = shapely.MultiPoint(np.concatenate([profile, far])).convex_hull.exterior
        wanted = hull.length - 2e6 - out[0] - out[-1] - (along[-1] - along[0])
        assert tape_over_mm(profile) == pytest.approx(wanted, abs=1e-2)


def test_points_inside_as_shapely_finds_them() -> None:
    draw = np.random.default_rng(3)
    angle = np.sort(draw.uniform(0, 2 * math.pi, 17))
    ring = np.stack([np.cos(angle), np.sin(angle)], axis=1) * draw.uniform(30, 90, (17, 1))
    points = draw.uniform(-100, 100, (500, 2))
    wanted = shapely.contains_xy(shapely.Polygon(ring), points)
    assert np.array_equal(inside(points, ring), wanted)


def test_a_mesh_fills_its_outline() -> None:
    angle = np.linspace(0, 2 * math.pi, 60)
    ring = np.stack([120 * np.cos(angle), 70 * np.sin(angle)], axis=1)
    ring[-1] = ring[0]
    mesh = mesh_outline({"rim": ring}, {}, mesh_mm=11.0)
    corner = mesh.points[mesh.triangles]
    one, two = corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0]
    areas = 0.5 * (one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0])
    assert areas.min() > 0.0
    assert areas.sum() == pytest.approx(shapely.Polygon(ring).area, rel=1e-9)


def test_strain_of_cloth_that_is_worn_stretched() -> None:
    ring = np.array(
        [[0, 0], [60, 0], [120, 0], [120, 50], [120, 100], [60, 100], [0, 100], [0, 50], [0, 0]],
        float,
    )
    mesh = mesh_outline({"rim": ring}, {}, mesh_mm=15.0)
    space = np.column_stack([mesh.points * [1.2, 1.03], np.zeros(len(mesh.points))])
    across = np.tile([1.0, 0.0, 0.0], (len(mesh.triangles), 1))
    rest = rest_triangles(space, mesh.triangles, across)
    found = strain_range(strains(rest, mesh.points), "all")
    assert found.weft == pytest.approx((0.2, 0.2))
    assert found.warp == pytest.approx((0.03, 0.03))
    shrunk = rest_triangles(space, mesh.triangles, across, (1 / 1.2, 1 / 1.03))
    assert strain_range(strains(shrunk, mesh.points), "all").weft == pytest.approx(
        (0.0, 0.0), abs=1e-9
    )
    flat = flatten_panel(mesh, shrunk, Wanted())
    assert worst_map(flat) < 1e-6


def test_a_smooth_line_passes_through_its_points() -> None:
    angle = np.linspace(0, 1.5, 12)
    points = 100.0 * np.stack([np.cos(angle), np.sin(angle)], axis=1)
    fine = smooth_line(points)
    assert np.allclose(fine[::6], points)
    assert run_mm(fine)[-1] == pytest.approx(150.0, rel=5e-5)
