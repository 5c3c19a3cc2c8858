"""Fitted pieces against what every cutting room knows: common practice, no source."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from tests.oracles.fitted.garments import made

from samite.pieces.outline import Piece
from samite.pieces.plane import Point
from samite.pieces.shape import Made
from samite.tables.fitted import strain_value

pytestmark = pytest.mark.practice


def piece(found: Made, name: str) -> Piece:
    return next(one for one in found.pieces if one.name == name)


@pytest.fixture(scope="module")
def darted() -> Made:
    return made("fitted-bodice", panels=2.0)


def test_darts_of_a_bodice_are_as_wide_as_they_are_cut(darted: Made) -> None:
    widths = {k.removesuffix("_mm"): v for k, v in darted.values.items() if "dart" in k}
    waist = [v for k, v in widths.items() if "waist" in k]
    assert all(15.0 < v < 60.0 for v in waist), widths
    front = next(v for k, v in widths.items() if k.startswith("front_shoulder"))
    back = next(v for k, v in widths.items() if k.startswith("back_shoulder"))
    assert front > back > 0.0
    assert front < 100.0


def test_the_front_of_a_bodice_is_longer_than_its_back_at_the_neck(darted: Made) -> None:
    # the back neckline is shallow, the front one deep
    front, back = piece(darted, "front"), piece(darted, "back")
    assert back.edge("centre").length_mm > front.edge("centre").length_mm
    assert 50.0 < front.edge("shoulder 1").length_mm < 90.0


def test_an_armhole_is_about_as_long_as_half_the_bust_less_a_bit(darted: Made) -> None:
    assert 0.40 * 920.0 < darted.values["armhole_mm"] < 0.52 * 920.0
    assert 100.0 < darted.values["cap_height_mm"] < 170.0
    assert 0.0 < darted.values["cap_ease_mm"] < 45.0


def test_darts_of_a_skirt_take_up_the_waist_and_more_behind() -> None:
    found = made("fitted-skirt", panels=4.0, shaped_by="darts")
    front = sum(v for k, v in found.values.items() if k.startswith("front_waist_dart"))
    back = sum(v for k, v in found.values.items() if k.startswith("back_waist_dart"))
    assert 0.0 < front < back < 130.0


def test_the_back_of_trousers_has_the_longer_crotch_and_the_wider_leg() -> None:
    found = made("fitted-trousers", panels=3.0)
    front, back = piece(found, "front"), piece(found, "back")
    assert back.edge("back crotch").length_mm > front.edge("front crotch").length_mm
    assert back.area_mm2 > front.area_mm2


def test_leggings_are_narrower_than_the_leg_and_hardly_shorter() -> None:
    found = made("fitted-leggings")
    leg = piece(found, "leg")
    ys = [y for _, y in leg.flat()]
    assert found.fit is not None
    knee = next(g for g in found.fit.girths if g.name == "knee")
    assert 0.7 < knee.flat_mm / knee.body_mm < 0.9
    assert max(ys) - min(ys) > 850.0


def test_discomfort_is_35_mm_of_mercury() -> None:
    assert strain_value("skin", "discomfort_kpa").value == pytest.approx(35 * 0.133322, abs=0.05)


def turned_deg(points: list[Point]) -> list[float]:
    """Return how a line turns from one 12 mm to the next, signed."""
    placed, run = [points[0]], 0.0
    for a, b in pairwise(points):
        run += math.dist(a, b)
        if run >= 12.0:
            placed.append(b)
            run = 0.0
    ways = [math.atan2(b[1] - a[1], b[0] - a[0]) for a, b in pairwise(placed)]
    return [math.degrees(math.remainder(b - a, math.tau)) for a, b in pairwise(ways)]


def test_side_seams_are_clean_curves() -> None:
    # a cutter would draw the hip as one curve: no sharp turn, no wave back and forth
    for name, edge in (("front", "right"), ("back", "left")):
        turns = turned_deg(list(piece(made("fitted-skirt", panels=2.0), name).edge(edge).flat()))
        assert max(map(abs, turns)) < 7.0, name
        waves = [t > 0.0 for t in turns if abs(t) > 0.7]
        assert sum(a != b for a, b in pairwise(waves)) <= 2, name
