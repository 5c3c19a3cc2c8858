"""Pieces that follow, darts, hangs and drawn outlines against independent geometry."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.optimize import minimize
from shapely.geometry import LineString, Point, Polygon
from shapely.ops import substring

from samite.pieces.cap import with_cap
from samite.pieces.crossing import self_crossings, without_loop
from samite.pieces.curves import Line, trace
from samite.pieces.drawn import (
    gap_mm,
    moved_in,
    ring_edges,
    with_allowances,
    with_drawn_notches,
    with_folds,
)
from samite.pieces.edge import Edge
from samite.pieces.edge_moves import with_edge_moved
from samite.pieces.follow import follow, lengths_of
from samite.pieces.forms.drape import bias_drop_mm, modulus_at_angle_n_m
from samite.pieces.hang import Hang, hang_hems
from samite.pieces.outline import Piece, polygon
from samite.pieces.settle import Freedom, is_box, settle, with_corners
from samite.pieces.shape import fill_in
from samite.pieces.shapes.registry import shapes
from samite.pieces.walk import Mate, walk

BODY = {
    "waist_girth": 700.0, "hip_girth": 1000.0, "total_crotch_length": 700.0, "hip_depth": 230.0,
    "inside_leg_length": 800.0, "upper_arm_girth": 290.0, "armscye_girth": 410.0,
    "arm_length": 580.0, "wrist_girth": 160.0, "waist_height": 1050.0, "knee_height": 470.0,
}  # fmt: skip


def built(name: str, **given: float | str):
    shape = shapes()[name]
    return shape.build(fill_in(shape, given, lambda measure: BODY[measure]))


def triangle(name: str, *corners: tuple[float, float]) -> Piece:
    return polygon(name, corners, (("a", "seam"), ("b", "seam"), ("c", "seam")))


def test_settling_moves_corners_as_little_as_a_general_optimiser_can() -> None:
    fixed = triangle("fixed", (0.0, 0.0), (210.0, 0.0), (60.0, 150.0))
    free = triangle("free", (0.0, 0.0), (200.0, 0.0), (70.0, 140.0))
    mates = (Mate(("fixed", "a"), ("free", "a")), Mate(("fixed", "b"), ("free", "b")))
    freedom = Freedom(frozenset({("fixed", "a"), ("fixed", "b")}), {"free": 1.0})
    _, made = settle((fixed, free), mates, (0.0, 0.0), freedom)
    assert all(one.equal for one in walk((fixed, made), mates))

    start = np.array([edge.start for edge in free.edges]).reshape(-1)

    def side(x: np.ndarray, a: int, b: int) -> float:
        return math.dist(x[2 * a : 2 * a + 2], x[2 * b : 2 * b + 2])

    wanted = [fixed.edge(name).length_mm for name in ("a", "b")]
    best = minimize(
        lambda x: float(((x - start) ** 2).sum()), start, method="SLSQP",
        constraints=[
            {"type": "eq", "fun": lambda x: side(x, 0, 1) - wanted[0]},
            {"type": "eq", "fun": lambda x: side(x, 1, 2) - wanted[1]},
        ],
        options={"ftol": 1e-12, "maxiter": 300},
    )  # fmt: skip
    moved = np.array([edge.start for edge in made.edges]).reshape(-1) - start
    assert float((moved**2).sum()) == pytest.approx(best.fun, rel=0.02)


def test_a_cuff_that_follows_stays_a_rectangle_and_an_edge_keeps_its_bow() -> None:
    sleeve = built("bishop-sleeve")
    cuff = next(piece for piece in sleeve.pieces if piece.name == "cuff")
    assert is_box(cuff)
    wider = with_edge_moved(cuff, "right", lambda _: 1.0, 12.0)
    assert wider.area_mm2 == pytest.approx(Polygon(wider.flat()).area, rel=1e-9)
    leader = triangle("leader", (0.0, 0.0), (cuff.edge("top").length_mm + 12.0, 0.0), (50.0, 90.0))
    mates = (Mate(("leader", "a"), ("cuff", "top")),)
    before = {**lengths_of((leader, cuff)), ("leader", "a"): cuff.edge("top").length_mm}
    pieces, _, told = follow((leader, cuff), mates, before, [("leader", "a")])
    assert is_box(pieces[1])
    assert pieces[1].edge("top").length_mm == pytest.approx(leader.edge("a").length_mm, abs=1e-4)
    assert {(one.piece, one.edge) for one in told} == {("cuff", "top")}
    bow = trace([(x, 0.004 * x * (x - 100.0)) for x in range(0, 101, 2)])
    bent = Piece(
        "bent",
        (Edge("low", (bow,)), Edge("right", (Line((100.0, 0.0), (50.0, 80.0)),)),
         Edge("left", (Line((50.0, 80.0), (0.0, 0.0)),))),
    )  # fmt: skip
    turned = with_corners(bent, [(0.0, 0.0), (120.0, 9.0), (50.0, 80.0)])
    ratio = math.hypot(120.0, 9.0) / 100.0
    drawn = LineString(turned.edge("low").flat()).length
    assert drawn == pytest.approx(ratio * LineString(bow.points).length, rel=1e-9)


@pytest.mark.parametrize(("front", "back"), [(240.0, 250.0), (225.0, 262.0)])
def test_a_cap_solved_again_is_as_long_as_its_armholes(front: float, back: float) -> None:
    sleeve = built("sleeve").pieces[0]
    made = with_cap(sleeve, front_armhole_mm=front, back_armhole_mm=back)
    for name, wanted in (("front-cap", front), ("back-cap", back)):
        assert made.edge(name).length_mm == wanted
        assert LineString(made.edge(name).flat()).length == pytest.approx(wanted, abs=0.05)
    assert made.edge("hem") == sleeve.edge("hem")
    assert made.edge("front-underarm") == sleeve.edge("front-underarm")


def test_an_armhole_that_grew_gets_its_sleeve() -> None:
    sleeve = built("sleeve").pieces[0]
    front = sleeve.edge("front-cap").length_mm
    body = [
        triangle(name, (0.0, 0.0), (length, 0.0), (90.0, 120.0))
        for name, length in (("front", front + 9.0), ("back", sleeve.edge("back-cap").length_mm))
    ]
    mates = (
        Mate(("front", "a"), ("sleeve", "front-cap")), Mate(("back", "a"), ("sleeve", "back-cap"))
    )  # fmt: skip
    before = {**lengths_of((*body, sleeve)), ("front", "a"): front}
    pieces, _, told = follow((*body, sleeve), mates, before, [("front", "a")])
    assert all(one.equal for one in walk(pieces, mates))
    assert {one.how for one in told} == {"cap solved again to its armholes"}


@pytest.mark.parametrize("waist", [560.0, 700.0, 860.0])
def test_darts_closed_by_turning_leave_the_waist_that_was_asked_for(waist: float) -> None:
    made = built("trousers", waist=waist, hip=1010.0)
    total = 0.0
    for piece in made.pieces:
        darts = [rule for rule in piece.rules if rule.name.startswith("dart")]
        for rule in darts:
            first, tip, second = rule.points
            assert math.dist(first, tip) == pytest.approx(math.dist(second, tip), abs=1e-9)
        stretches = [edge for edge in piece.edges if edge.name.startswith("waist")]
        total += 2.0 * sum(LineString(edge.flat(0.002)).length for edge in stretches)
        for rule, before, after in zip(darts, stretches, stretches[1:], strict=False):
            first, tip, second = (np.array(p) for p in rule.points)
            turn = math.atan2(*(first - tip)[::-1]) - math.atan2(*(second - tip)[::-1])
            c, s = math.cos(turn), math.sin(turn)
            out = np.array([[c, -s], [s, c]]) @ np.array(after.directions[0])
            assert out == pytest.approx(np.array(before.directions[1]), abs=1e-9)  # runs smooth
    assert total == pytest.approx(waist + 15.0, abs=0.05)
    crotch = sum(LineString(p.edge("crotch").flat(0.002)).length for p in made.pieces)
    assert crotch == pytest.approx(BODY["total_crotch_length"] + 20.0, abs=0.05)


def test_a_hem_on_the_bias_is_raised_by_the_elastic_drop_summed_ring_by_ring() -> None:
    made = built("circle-skirt", fraction=0.5, panels=1.0, length=600.0)
    (piece,) = made.pieces
    hang = Hang(150.0, 5.0, 1.0, 1.0, 1.0)
    (raised,), (hung,) = hang_hems((piece,), hang, made.mates)
    inner, outer = made.values["waist_radius_mm"] / 1e3, made.values["hem_radius_mm"] / 1e3
    shear = 4.903325 / (4.0 * 0.05)
    modulus = modulus_at_angle_n_m(
        warp_modulus_n_m=1e9, weft_modulus_n_m=1e9, shear_rigidity_n_m=shear, angle_deg=45.0
    )
    radii = np.linspace(inner, outer, 20001)
    load = 0.150 * 9.80665 * (outer**2 - radii**2) / (2.0 * radii)
    drop = 1e3 * float(np.trapezoid(load / modulus, radii))
    assert hung.drop_mm == pytest.approx(drop, rel=0.01)
    assert hung.drop_mm == pytest.approx(
        bias_drop_mm(waist_radius_mm=1e3 * inner, hem_radius_mm=1e3 * outer,
                     mass_per_area_gsm=150.0, bias_extension_percent=5.0), rel=1e-3
    )  # fmt: skip
    reach = [math.hypot(*p) for p in raised.edge("hem").flat()]
    assert min(reach) == pytest.approx(1e3 * outer - drop, abs=0.1)
    hem = raised.edge("hem").flat()
    for way in ((-1.0, 0.0), (0.0, -1.0), (1.0, 0.0)):  # along and across the grain: no drop
        x, y = max(hem, key=lambda p: p[0] * way[0] + p[1] * way[1])
        assert math.hypot(x, y) == pytest.approx(1e3 * outer, abs=0.05)


def test_a_drawn_ring_comes_back_as_edges_with_its_allowances() -> None:
    stitch = Polygon([(0, 0), (300, 0), (280, 400), (150, 430), (0, 400)])
    cut = stitch.buffer(12.0, join_style="mitre", mitre_limit=10.0)
    edges = with_folds(
        ring_edges([tuple(p) for p in stitch.exterior.coords[:-1]]), [((0.0, 0.0), (0.0, 400.0))]
    )
    assert [edge.kind for edge in edges].count("fold") == 1
    ring = [tuple(p) for p in cut.exterior.coords[:-1]]
    for edge in with_allowances(edges, ring):
        assert edge.allowance_mm == (0.0 if edge.kind == "fold" else pytest.approx(12.0, abs=0.02))
    for x, y in ((10.0, 50.0), (150.0, 200.0)):
        assert gap_mm((x, y), ring) == pytest.approx(Point(x, y).distance(cut.exterior), abs=1e-9)


@pytest.mark.parametrize("width", [0.0, 7.5, 20.0])
def test_a_cut_line_moved_in_is_the_buffer_of_an_independent_library(width: float) -> None:
    cut = Polygon([(0, 0), (300, 0), (280, 400), (150, 330), (0, 400)])
    ring = list(cut.exterior.coords[:-1])
    edges = ring_edges([tuple(p) for p in ring])
    made = moved_in(edges, {edge.name: width for edge in edges})
    inside = Polygon([p for edge in made for p in edge.flat()[:-1]])
    wanted = cut.buffer(-width, join_style="mitre", mitre_limit=20.0)
    assert inside.symmetric_difference(wanted).area < 0.5


def test_a_drawn_notch_lies_where_the_outline_is_nearest() -> None:
    piece = polygon(
        "p", ((0, 0), (200, 0), (150, 180)), (("a", "seam"), ("b", "seam"), ("c", "seam"))
    )
    made = with_drawn_notches(piece, [(60.0, -8.0), (64.0, -8.0), (190.0, 70.0)])
    assert [(n.edge, n.count) for n in made.notches] == [("a", 2), ("b", 1)]
    line = LineString(piece.edge("b").flat())
    assert made.notches[1].distance_mm == pytest.approx(line.project(Point(190.0, 70.0)))
    assert substring(line, 0, made.notches[1].distance_mm).length > 0.0


def test_a_loop_cut_off_leaves_the_rest_as_the_independent_library_does() -> None:
    ring = [(0.0, 0.0), (100.0, 0.0), (100.0, 80.0), (52.0, 80.0), (48.0, 84.0), (52.0, 84.0),
            (48.0, 80.0), (0.0, 80.0)]  # fmt: skip
    (found,) = self_crossings(ring)
    left, lost = without_loop(ring, *found)
    assert Polygon(left).is_valid
    assert Polygon(left).area == pytest.approx(8000.0 + 4.0)
    assert lost == pytest.approx(Polygon([(50, 82), (48, 84), (52, 84)]).area)
