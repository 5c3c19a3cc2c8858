"""Sections, surfaces, sleeves and darts against closed forms and other libraries."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
import shapely
from scipy.special import ellipe
from tests.oracles.fitted.garments import MIDDLE, numbers, random_body

from samite.pieces.fitted.bodice import openings_of
from samite.pieces.fitted.cut import dart_peak
from samite.pieces.fitted.leg_measures import hip_surface, legs_of, row_of_height
from samite.pieces.fitted.measures import trunk_of
from samite.pieces.fitted.sleeve import (
    lifted_upper_arm_mm,
    missing_underarm_mm,
    natural_lift_deg,
)
from samite.pieces.fitted.stretch import pull_n_m, shrink_of, worn_strains
from samite.pieces.fitted.style import column_at, front_names, halves, row_at_height, warped_columns
from samite.pieces.forms.limbs import cap_length_mm
from samite.pieces.surface.loft import run_mm
from samite.pieces.surface.lower import with_legs
from samite.pieces.surface.openings import solved_openings
from samite.pieces.surface.sections import Section, section_points
from samite.pieces.surface.solve import solved_trunk
from samite.pieces.surface.tapes import meridian, tape_over_mm
from samite.pieces.surface.torso import Level, girths_mm, lofted


def test_a_section_of_power_two_is_an_ellipse_of_its_girth() -> None:
    points = section_points(Section(900.0, 0.7, 0.5, 0.0, 2.0, 2.0))
    a, b = points[:, 0].max(), points[:, 1].max()
    perimeter = 4.0 * a * ellipe(1.0 - (b / a) ** 2)
    assert b / a == pytest.approx(0.7, abs=1e-3)
    assert perimeter == pytest.approx(900.0, rel=1e-3)


@pytest.mark.parametrize("flat", [0.0, 120.0])
@pytest.mark.parametrize("power", [2.0, 2.6, 4.0])
def test_sections_are_convex_and_have_their_girth(flat: float, power: float) -> None:
    half = section_points(Section(1000.0, 0.8, 0.6, flat, power, power))
    whole = np.concatenate([half, half[-2:0:-1] * [-1.0, 1.0]])
    shape = shapely.Polygon(whole)
    assert shape.length == pytest.approx(1000.0, rel=1e-3)
    assert shape.convex_hull.area == pytest.approx(shape.area, rel=1e-4)
    assert half[32, 1] == pytest.approx(0.0, abs=1e-9)  # the middle column lies at the side


def test_a_loft_of_round_sections_is_a_cone() -> None:
    def level(name: str, height: float, girth: float) -> Level:
        return Level(name, height, Section(girth, 1.0, 0.5, 0.0, 2.0, 2.0))

    surface = lofted(
        [level("low", 0.0, 600.0), level("mid", 150.0, 750.0), level("high", 300.0, 900.0)]
    )
    points = surface.at(np.full(9, 0.25), np.linspace(0.0, surface.rows, 9))
    radius = np.linalg.norm(points[:, :2], axis=1)
    assert radius == pytest.approx((600.0 + points[:, 2]) / math.tau, rel=2e-3)
    assert girths_mm(surface)["mid"] == pytest.approx(750.0, abs=0.05)


def test_girths_and_tapes_of_many_trunks_come_out() -> None:
    draw = np.random.default_rng(11)
    for _ in range(25):
        v = numbers("fitted-bodice", random_body(draw))
        trunk = trunk_of(v)
        found = solved_trunk(trunk)
        girths = girths_mm(found.surface)
        for name, asked in (
            ("waist", trunk.waist_mm), ("bust", trunk.bust_mm), ("hip", trunk.hip_mm),
            ("underbust", trunk.underbust_mm), ("upper chest", trunk.upper_chest_mm),
        ):  # fmt: skip
            assert girths[name] == pytest.approx(asked, abs=0.05), name
        # the back tape once more, over the hull as shapely finds it
        waist = found.surface.levels["waist"]
        behind = meridian(found.surface, 1.0, waist, found.neck_bone_row)
        profile = np.stack([-behind[:, 1], behind[:, 2]], axis=1)
        far = np.array([[-1e6, profile[0, 1]], [-1e6, profile[-1, 1]]])
        hull = shapely.MultiPoint(np.concatenate([profile, far])).convex_hull.exterior.length
        tape = hull - 2e6 - profile[0, 0] - profile[-1, 0] - (profile[-1, 1] - profile[0, 1])
        assert tape == pytest.approx(trunk.back_length_mm, abs=0.15)
        assert found.front_length_mm == pytest.approx(trunk.front_length_mm, abs=0.02)
        assert tape_over_mm(profile) == pytest.approx(tape, abs=0.01)


def test_armhole_and_neckline_have_the_lengths_asked_for() -> None:
    v = numbers("fitted-bodice")
    solved = solved_trunk(trunk_of(v))
    found = openings_of(solved, v)
    for parts, asked in (
        ((found.arm_front, found.arm_back), v["armhole"] + v["armhole_ease"]),
        ((found.shoulder_front,), v["shoulder_length"]),
    ):
        total = sum(run_mm(solved.surface.at(uv[:, 0], uv[:, 1]))[-1] for uv in parts)
        # the shoulder of the garment begins where the neckline was widened to
        slack = v["neck_wider"] + 1.0 if len(parts) == 1 else 0.05
        assert total == pytest.approx(asked, abs=slack)
    root = solved_openings(
        solved, armhole_mm=v["armhole"], neck_mm=v["neck"], across_front_mm=v["across_front"],
        back_width_mm=v["back_width"],
    )  # fmt: skip
    assert root.neck_mm == pytest.approx(v["neck"], abs=0.05)
    assert root.across_front_mm == pytest.approx(v["across_front"], abs=25.0)


def test_a_crotch_seam_has_the_length_measured() -> None:
    v = numbers("fitted-trousers")
    found = with_legs(hip_surface(v), legs_of(v, hem_mm=v["hem"]))
    assert found.crotch_length_mm == pytest.approx(v["crotch"] + v["crotch_ease"], abs=0.05)
    surface = found.surface
    for name in ("thigh", "knee"):
        asked = v[name] + v[f"{name}_ease"]
        assert surface.row_length_mm(surface.levels[name]) == pytest.approx(asked, rel=2e-3)
    rows = np.arange(0.0, surface.levels["thigh"] + 1.0)
    inner = [surface.at(np.full(rows.shape, u), rows) for u in (0.0, 1.0)]
    assert np.abs(inner[0] - inner[1]).max() < 1e-6  # both columns run down the inside of the leg
    row = row_of_height(surface, -600.0)
    assert surface.at(np.array([0.5]), np.array([row]))[0, 2] == pytest.approx(-600.0, abs=0.5)


@pytest.mark.parametrize("lift", [30.0, 50.0, 70.0, 85.0])
def test_a_sleeve_for_a_lifted_arm_fits_its_armhole_and_hangs_there(lift: float) -> None:
    wide = lifted_upper_arm_mm(armhole_mm=430.0, lift_deg=lift)
    height = wide / math.pi * math.tan(math.radians(90.0 - lift))
    assert cap_length_mm(upper_arm_mm=wide, cap_height_mm=height) == pytest.approx(430.0, abs=1e-6)
    assert natural_lift_deg(upper_arm_mm=wide, cap_height_mm=height) == pytest.approx(lift)
    # the tube turned about its top: how far its lowest point moves
    over = math.radians(20.0)
    diameter = wide / math.pi
    moved = math.dist((0.0, -diameter), (diameter * math.sin(over), -diameter * math.cos(over)))
    got = missing_underarm_mm(upper_arm_mm=wide, cap_height_mm=height, lift_deg=lift + 20.0)
    assert got == pytest.approx(moved)


def test_the_peak_over_a_dart_three_wide_and_nine_deep() -> None:
    """Fold middle line mirrored in the leg: 0.514 beyond the seam, a worked example."""
    peak = dart_peak((-15.0, 0.0), (15.0, 0.0), (0.0, 90.0), (-30.0, 0.0))
    assert peak == pytest.approx((0.0, -5.14), abs=0.01)


def test_stretch_worn_and_pull_are_in_proportion() -> None:
    v = numbers("fitted-leggings", stretch_across=50.0, used_across=40.0)
    assert worn_strains(v)[0] == pytest.approx(0.2)
    assert shrink_of(v)[0] == pytest.approx(1 / 1.2)
    assert pull_n_m(
        strain_percent=20.0, stretch_percent=50.0, hand_pull_n_m=100.0
    ) == pytest.approx(40.0)


def test_columns_and_names_of_panels() -> None:
    solved = solved_trunk(trunk_of(numbers("fitted-strapless", MIDDLE)))
    surface = solved.surface
    row = row_at_height(surface, 100.0)
    assert surface.at(np.array([0.5]), np.array([row]))[0, 2] == pytest.approx(100.0, abs=0.3)
    u = column_at(surface, row, 80.0)
    assert surface.row_length_mm(row, 0.0, u) == pytest.approx(80.0, abs=0.1)
    u = column_at(surface, row, 60.0, back=True)
    assert surface.row_length_mm(row, u, 1.0) == pytest.approx(60.0, abs=0.1)
    assert warped_columns(4, 0.2) == pytest.approx([0.1, 0.2, 0.35])
    assert front_names(2, 2) == ("front", "side front", "side back", "back")
    assert [halves(n) for n in (2, 5, 7)] == [(1, 1), (3, 2), (4, 3)]


def test_a_body_without_order_is_refused() -> None:
    trunk = trunk_of(numbers("fitted-strapless"))
    with pytest.raises(Exception, match="no body"):
        solved_trunk(replace(trunk, bust_drop_mm=430.0))
