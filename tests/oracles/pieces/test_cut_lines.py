"""Cut lines, areas and lengths against shapely, an independent library of plane geometry."""

from __future__ import annotations

import math

import pytest
from shapely.geometry import LineString, Polygon
from tests.oracles.pieces.bodies import built

from samite.pieces.allowance import allowance_of, cut_line
from samite.pieces.crossing import crossing_of, self_crossings, trim_to_meeting
from samite.pieces.curves import Arc, Cubic, Line, Trace, trace
from samite.pieces.derive import facing_of, lining_of, unfolded
from samite.pieces.edge import Edge, straight
from samite.pieces.finish import Finish, finish, hem_excess_mm, shrunk
from samite.pieces.outline import Piece, polygon
from samite.pieces.plane import (
    Move,
    away,
    cross,
    dot,
    meeting,
    outward,
    polyline_length_mm,
    signed_area_mm2,
    unit_vector,
)
from samite.pieces.shapes.registry import shapes

pytestmark = pytest.mark.oracle

CURVES = (
    Line((10.0, 20.0), (300.0, -40.0)),
    Arc((5.0, -8.0), 210.0, 0.3, 2.1),
    Arc((5.0, -8.0), 210.0, 0.3, -1.4),
    Cubic((0.0, 0.0), (80.0, 160.0), (300.0, -60.0), (400.0, 200.0)),
    Trace(tuple((x, 40.0 * math.sin(x / 60.0)) for x in range(0, 301, 2))),
)


@pytest.mark.parametrize("curve", CURVES, ids=lambda curve: type(curve).__name__)
def test_length_and_direction_of_a_curve_are_those_of_its_chords(curve: object) -> None:
    fine = LineString(curve.flat(1e-5))
    assert curve.length_mm == pytest.approx(fine.length, rel=1e-6)
    for share in (0.0, 0.31, 1.0):
        place, along = curve.at(share * curve.length_mm)
        wanted = fine.interpolate(share * fine.length)
        assert math.dist(place, (wanted.x, wanted.y)) < 0.01
        assert math.hypot(*along) == pytest.approx(1.0)
    assert curve.turned_round().end == pytest.approx(curve.start)


@pytest.mark.parametrize("curve", CURVES, ids=lambda curve: type(curve).__name__)
@pytest.mark.parametrize("distance", [12.0, -12.0])
def test_the_line_beside_a_curve_keeps_its_distance(curve: object, distance: float) -> None:
    fine = LineString(curve.flat(1e-3))
    for point in curve.beside(distance):
        assert fine.distance(LineString([point, point])) == pytest.approx(12.0, abs=0.02)


@pytest.mark.parametrize("curve", CURVES, ids=lambda curve: type(curve).__name__)
def test_a_rigid_movement_keeps_lengths_and_a_mirror_turns_the_area_round(curve: object) -> None:
    for move in (Move(0.7, (3.0, -9.0)), Move(-2.0, (1.0, 4.0), mirror=True)):
        moved = curve.moved(move)
        assert moved.length_mm == pytest.approx(curve.length_mm)
        assert moved.start == pytest.approx(move.point(curve.start))
        assert moved.end == pytest.approx(move.point(curve.end))


@pytest.mark.parametrize("name", list(shapes()))
def test_area_of_every_shape_is_that_of_its_polygon(name: str) -> None:
    for piece in built(name).pieces:
        fine = piece.flat(1e-3)
        assert piece.area_mm2 == pytest.approx(Polygon(fine).area, rel=3e-5)
        assert signed_area_mm2(fine) == pytest.approx(piece.area_mm2, rel=3e-5)
        ring = LineString([*fine, fine[0]])
        total = sum(edge.length_mm for edge in piece.edges)
        assert total == pytest.approx(ring.length, rel=2e-4)


@pytest.mark.parametrize("name", list(shapes()))
def test_the_cut_line_of_every_shape_holds_its_stitch_line_at_its_allowances(name: str) -> None:
    for piece in built(name).pieces:
        line = cut_line(piece)
        cut, stitch = Polygon(line.points), Polygon(piece.flat())
        assert cut.is_valid, piece.name
        assert cut.buffer(0.06).contains(stitch), piece.name
        for edge in piece.edges:
            allowance = line.allowances_mm[edge.name]
            place, _ = edge.at(0.5 * edge.length_mm)
            gap = cut.exterior.distance(LineString([place, place]))
            assert gap <= allowance + 0.05, (piece.name, edge.name)
            if allowance >= max(line.allowances_mm.values()) - 1e-9 and edge.kind != "hem":
                assert gap == pytest.approx(allowance, abs=0.06), (piece.name, edge.name)


@pytest.mark.parametrize("allowance", [5.0, 15.0, 40.0])
def test_an_even_allowance_is_a_mitred_buffer(allowance: float) -> None:
    corners = ((0.0, 0.0), (300.0, -20.0), (340.0, 260.0), (180.0, 200.0), (20.0, 280.0))
    piece = polygon("any", corners, tuple((f"e{k}", "seam") for k in range(5)))
    made = Polygon(cut_line(piece, {"seam": allowance}).points)
    wanted = Polygon(corners).buffer(allowance, join_style="mitre", mitre_limit=3.0)
    assert made.symmetric_difference(wanted).area < 1e-6 * wanted.area


def test_a_mirrored_hem_end_folds_up_onto_what_lies_above_it() -> None:
    corners = ((-200.0, 0.0), (200.0, 0.0), (90.0, 600.0), (-90.0, 600.0))
    names = (("hem", "hem"), ("right", "seam"), ("top", "waist"), ("left", "seam"))
    cut = Polygon(cut_line(polygon("gore", corners, names), {"hem": 45.0}).points)
    below = cut.intersection(Polygon([(-900, 0), (900, 0), (900, -100), (-900, -100)]))
    turned = Polygon([(x, -y) for x, y in below.exterior.coords])
    above = cut.intersection(Polygon([(-900, 0), (900, 0), (900, 45), (-900, 45)]))
    assert turned.symmetric_difference(above).area < 1e-6


def test_a_square_end_is_cut_across_its_own_edge() -> None:
    corners = ((0.0, 0.0), (200.0, 0.0), (260.0, 300.0), (0.0, 300.0))
    edges = [
        straight(f"e{k}", a, b)
        for k, (a, b) in enumerate(zip(corners, [*corners[1:], corners[0]], strict=True))
    ]
    edges[1] = Edge("e1", edges[1].curves, "seam", 15.0, "square")
    line = cut_line(Piece("any", tuple(edges)), {"seam": 15.0})
    along = edges[1].directions[0]
    ends = [
        p for p in line.points if abs(cross(along, (p[0] - 200.0, p[1]))) == pytest.approx(15.0)
    ]
    foot = [p for p in line.points if abs(cross(along, (p[0] - 200.0, p[1]))) < 1e-6]
    assert ends
    assert foot
    assert any(abs(dot(along, (a[0] - b[0], a[1] - b[1]))) < 1e-6 for a in ends for b in foot)


def test_an_allowance_by_name_beats_that_of_the_kind() -> None:
    edge = straight("side", (0.0, 0.0), (1.0, 0.0))
    assert allowance_of(edge, {}) == 15.0
    assert allowance_of(edge, {"seam": 10.0}) == 10.0
    assert allowance_of(edge, {"seam": 10.0, "side": 25.0}) == 25.0
    assert allowance_of(straight("f", (0.0, 0.0), (1.0, 0.0), "fold"), {"f": 9.0}) == 0.0


@pytest.mark.parametrize("along", [0.0, 3.0, 8.0])
def test_shrinking_the_enlarged_piece_gives_the_piece(along: float) -> None:
    piece = built("circle-skirt").pieces[0]
    bigger = shrunk(piece, along, 2.0)
    grown = 1.0 / ((1 - along / 100) * 0.98)
    assert bigger.area_mm2 == pytest.approx(piece.area_mm2 * grown, rel=1e-5)
    back = [(x * 0.98, y * (1 - along / 100)) for x, y in bigger.flat()]
    assert Polygon(back).symmetric_difference(Polygon(piece.flat())).area < 1e-4 * piece.area_mm2


def test_the_hem_of_a_full_circle_has_two_pi_times_its_depth_too_much() -> None:
    made = built("circle-skirt", fraction=1.0)
    (one,) = finish(made.pieces, Finish({"hem": 20.0}))
    excess = 2 * hem_excess_mm(one.piece, one.cut)["hem"]
    assert excess == pytest.approx(125.66, abs=0.01)  # Steiner, twice that of P10 for 2 cm


def test_an_unfolded_piece_is_the_half_and_its_mirror_image() -> None:
    half = built("tunic").pieces[0]
    whole = unfolded(half)
    assert whole.area_mm2 == pytest.approx(2.0 * half.area_mm2)
    mirrored = Polygon([(-x, y) for x, y in whole.flat()])
    assert mirrored.symmetric_difference(Polygon(whole.flat())).area < 1e-3
    assert not whole.on_fold


def test_a_facing_is_the_part_of_its_piece_near_the_edge() -> None:
    piece = built("tunic").pieces[0]
    facing = facing_of(piece, "neck", width_mm=50.0)
    near = LineString(piece.edge("neck").flat(1e-3)).buffer(50.0, quad_segs=400)
    wanted = near.intersection(Polygon(piece.flat(1e-3)))
    assert Polygon(facing.flat()).symmetric_difference(wanted).area < 0.02 * wanted.area
    assert facing.edge("neck").length_mm == piece.edge("neck").length_mm


def test_a_lining_is_wider_by_its_pleat_and_has_no_hem() -> None:
    piece = built("tunic").pieces[0]
    lining = lining_of(piece, pleat_mm=20.0)
    height = piece.edge("centre").length_mm
    assert lining.area_mm2 - piece.area_mm2 == pytest.approx(10.0 * height)
    assert cut_line(lining).allowances_mm["hem"] == 0.0


def test_lines_meet_where_the_library_says() -> None:
    a, b, c, d = (0.0, 0.0), (100.0, 40.0), (20.0, 60.0), (70.0, -30.0)
    wanted = LineString([a, b]).intersection(LineString([c, d]))
    share = crossing_of(a, b, c, d)
    assert share is not None
    placed = away(a, unit_vector(a, b), share[0] * math.dist(a, b))
    assert placed == pytest.approx((wanted.x, wanted.y))
    assert meeting(a, unit_vector(a, b), c, unit_vector(c, d)) == pytest.approx(placed)
    first, second = trim_to_meeting((a, b), (c, d)) or ((), ())
    assert first[-1] == second[0] == pytest.approx(placed)
    assert polyline_length_mm([a, b]) == pytest.approx(math.dist(a, b))
    assert outward((0.0, 1.0)) == (1.0, 0.0)


def test_crossings_of_a_ring_are_found_and_touching_is_none() -> None:
    assert self_crossings([(0, 0), (10, 10), (10, 0), (0, 10)])
    assert not self_crossings([(0, 0), (10, 0), (10, 10), (0, 10)])
    assert not self_crossings([(0, 0), (10, 0), (5, 5), (10, 10), (0, 10), (5, 5)])


def test_a_trace_drops_points_that_repeat() -> None:
    assert trace([(0, 0), (0, 0), (1, 0)]).points == ((0, 0), (1, 0))
