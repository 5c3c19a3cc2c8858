"""Lines over seams, darts and centres: laid together by the test, measured with shapely and numpy."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from tests.oracles.fitted.garments import made, numbers

from samite.pieces.fitted.bodice import bodice_plan, openings_of
from samite.pieces.fitted.measures import trunk_of
from samite.pieces.fitted.plan import Laid, lay_flat
from samite.pieces.fitted.redrawing import faired, redraw
from samite.pieces.fitted.strapless import strapless_plan
from samite.pieces.fitted.truing import meetings_of, trued
from samite.pieces.flatten.arap import free_step, settled, system_of
from samite.pieces.surface.solve import solved_trunk
from samite.pieces.surface.tapes import climb, meridian
from samite.pieces.walk import check_smooth

SMOOTH_DEG = 3.0


def laid(panels: int) -> Laid:
    v = numbers("fitted-bodice")
    solved = solved_trunk(trunk_of(v))
    return lay_flat(bodice_plan(solved, openings_of(solved, v), v, panels, panels, 15.0))


def break_deg(garment: Laid, meeting) -> float:
    """Lay both pieces together at the corner, the seam as one line, and look along the edge."""
    rays = []
    for corner in meeting.corners:
        flat = garment.panel(corner.panel).flat
        for side, end in ((corner.before, True), (corner.after, False)):
            line = flat.drawn(side)[::-1] if end else flat.drawn(side)
            run = np.array(
                [shapely.LineString(line[: k + 1]).length if k else 0.0 for k in range(4)]
            )
            rays.append(np.array([np.polyfit(run, line[:4, k], 3)[-2] for k in (0, 1)]))
    inside = [
        math.degrees(math.atan2(after[0] * before[1] - after[1] * before[0], after @ before)) % 360
        for before, after in zip(rays[::2], rays[1::2], strict=True)
    ]
    return sum(inside) - 90.0 * len(meeting.corners)


@pytest.mark.parametrize("panels", [1, 2])
def test_lines_of_a_bodice_run_on_over_seams_darts_and_centres(panels: int) -> None:
    """Angles inside both corners, found with polynomials through the drawn points."""
    garment = laid(panels)
    specs = [panel.spec for panel in garment.panels]
    meetings = meetings_of(specs, [(s.first, s.second) for s in garment.plan.seams])
    assert ("dart" in {m.sewn for m in meetings}) == (panels == 1)
    redrawn = {corner.redrawn.split(" ")[0] for m in meetings for corner in m.corners}
    assert redrawn >= {"waist", "neck", "armhole"}
    for meeting in meetings:
        assert abs(break_deg(garment, meeting)) < SMOOTH_DEG, meeting


def test_seams_and_corners_stay_where_they_were() -> None:
    v = numbers("fitted-strapless")
    plan = strapless_plan(solved_trunk(trunk_of(v)), v, 2, 2, 15.0)
    raw = lay_flat(plan, finished=False).panels
    seams = [(seam.first, seam.second) for seam in plan.seams]
    for before, after in zip(raw, trued(raw, seams), strict=True):
        assert after.flat.trued
        for side in before.spec.sides:
            one, two = before.flat.drawn(side.name), after.flat.drawn(side.name)
            assert np.allclose(one[[0, -1]], two[[0, -1]])
            apart = shapely.LineString(one).hausdorff_distance(shapely.LineString(two))
            assert apart < 3.0  # a pencil's correction, not another piece
            if side.name in ("left", "right", "centre"):
                assert np.array_equal(one, two)


def test_a_redrawn_line_has_its_turns_and_its_length() -> None:
    angle = np.linspace(0.0, 0.6, 60)
    arc = 300.0 * np.stack([np.sin(angle), 1.0 - np.cos(angle)], axis=1)
    new = redraw(arc, 6.0, -4.0)
    assert shapely.LineString(new).length == pytest.approx(shapely.LineString(arc).length, abs=0.01)
    for end, wanted in ((slice(0, 2), 6.0), (slice(-2, None), 4.0)):
        was, now = (np.diff(one[end], axis=0)[0] for one in (arc, new))
        turn = math.degrees(math.atan2(was[0] * now[1] - was[1] * now[0], was @ now))
        assert turn == pytest.approx(wanted, abs=0.5)


def test_a_faired_line_loses_its_waves_and_keeps_its_ends() -> None:
    along = np.linspace(0.0, 300.0, 121)
    smooth = np.stack([along, 40.0 * np.cos(along / 120.0)], axis=1)
    waved = smooth + np.outer(1.5 * np.sin(along / 6.0), [0.0, 1.0])
    found = faired(waved)
    assert np.allclose(found[[0, -1]], waved[[0, -1]])
    assert np.abs(found - smooth)[10:-10].max() < 1.0


@pytest.mark.parametrize("name", ["fitted-skirt", "fitted-trousers", "fitted-leggings"])
def test_lines_of_lower_garments_run_on(name: str) -> None:
    found = made(name, hatching="no")
    breaks = check_smooth(found.pieces, found.smooths)
    assert breaks
    assert max(abs(one.break_deg) for one in breaks) < SMOOTH_DEG


def test_a_panel_let_go_settles_where_many_plain_steps_end() -> None:
    v = numbers("fitted-strapless")
    plan = strapless_plan(solved_trunk(trunk_of(v)), v, 2, 2, 24.0)
    panel = lay_flat(plan, finished=False).panels[1].flat
    system = system_of(panel.rest, len(panel.points))
    plain = panel.points
    for _ in range(400):
        plain = free_step(system, plain)
    chain = panel.mesh.chains["right"]
    quick = settled(system, panel.points, 24)
    lengths = [shapely.LineString(one[chain]).length for one in (plain, quick)]
    assert lengths[0] == pytest.approx(lengths[1], abs=0.05)


def test_a_column_climbs_by_its_length() -> None:
    surface = solved_trunk(trunk_of(numbers("fitted-strapless"))).surface
    rows, run = climb(surface, 0.4)
    assert np.all(np.diff(run) > 0.0)
    dense = meridian(surface, 0.4, 0.0, float(rows[-1]), 4000)
    length = np.linalg.norm(np.diff(dense, axis=0), axis=1).sum()
    assert run[-1] == pytest.approx(length, rel=1e-3)
