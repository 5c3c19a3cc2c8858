"""Pieces as they come to the lay, joined, cut and left over, against an independent library."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from shapely.geometry import LineString, Point, Polygon, box
from shapely.ops import unary_union
from tests.oracles.lay.shelves import random_problem, shelf_lay

from samite.kernel.errors import InfeasibleError, InputError, OutOfRangeError, UnknownNameError
from samite.lay.again import Trouble, pinned, rest_problem
from samite.lay.check import check_problem
from samite.lay.cutting import cutting_steps, deepest_point, grain_slant_deg
from samite.lay.from_pieces import lay_piece, lay_problem, opened_out
from samite.lay.problem import Lay, LayPiece, Placement, Problem
from samite.lay.remnants import check_offcut, offcuts
from samite.lay.rules import LayRules
from samite.lay.split import joined_piece, with_joined
from samite.lay.verify import check_lay, placed_outline
from samite.pieces.derive import unfolded
from samite.pieces.finish import Finish, finish
from samite.services.piece import PieceAsk, make_piece

L_SHAPE = ((0.0, 0.0), (100.0, 0.0), (100.0, 30.0), (30.0, 30.0), (30.0, 100.0), (0.0, 100.0))


@pytest.mark.parametrize("shape", ["tunic", "train", "tabard", "trousers", "bias-strip"])
@pytest.mark.parametrize("face", ["up", "down"])
def test_areas_stay_and_grain_lies_along_the_cloth(shape: str, face: str) -> None:
    made = make_piece(PieceAsk(shape)).pieces
    for one in made:
        whole = finish([unfolded(one.piece)], Finish())[0]
        open_piece = lay_piece(one, LayRules(face=face))
        laid = Polygon(open_piece.outline_mm)
        assert laid.is_valid
        assert laid.area == pytest.approx(Polygon(whole.cut.points).area, rel=1e-9)
        angle = np.radians(-one.piece.grain_deg)
        turned = np.array(whole.cut.points) @ np.array(
            [[np.cos(angle), np.sin(angle)], [-np.sin(angle), np.cos(angle)]]
        )
        size = np.ptp(turned, axis=0)
        assert np.ptp(np.array(open_piece.outline_mm), axis=0) == pytest.approx(size, abs=1e-6)
        folded = lay_piece(one, LayRules(folded=True, face=face))
        assert folded.on_fold == one.piece.on_fold
        if folded.on_fold:
            half = Polygon(folded.outline_mm)
            assert 2.0 * half.area == pytest.approx(laid.area, rel=1e-9)
            assert min(y for _, y in folded.outline_mm) == 0.0


def test_with_the_wrong_side_up_everything_is_laid_as_its_mirror_image() -> None:
    (leg, *_) = make_piece(PieceAsk("trousers")).pieces
    up, down = lay_piece(leg, LayRules(face="up")), lay_piece(leg, LayRules(face="down"))
    assert not Polygon(up.outline_mm).equals_exact(Polygon(down.outline_mm), 1.0)
    high = max(y for _, y in up.outline_mm)
    mirror = Polygon([(x, high - y) for x, y in up.outline_mm])
    assert mirror.symmetric_difference(Polygon(down.outline_mm)).area < 1e-6


def test_nap_never_turns_and_crosswise_only_where_it_is_allowed() -> None:
    (front, *_) = make_piece(PieceAsk("trousers")).pieces
    assert lay_piece(front, LayRules(one_way=True)).angles_deg == (0.0,)
    assert lay_piece(front, LayRules()).angles_deg == (0.0, 180.0)
    assert lay_piece(front, LayRules(), crosswise=True).angles_deg == (0.0, 180.0, 90.0, 270.0)
    assert lay_piece(front, LayRules(one_way=True), crosswise=True).angles_deg == (0.0, 90.0)


def test_a_folded_problem_opens_out_to_the_same_cloth() -> None:
    made = make_piece(PieceAsk("tunic")).pieces
    folded = lay_problem(made, LayRules(folded=True), 1500.0)
    opened = opened_out(folded)
    assert check_problem(folded) == check_problem(opened) == ()
    area = sum(
        Polygon(p.outline_mm).area * p.copies * (2.0 if p.on_fold else 1.0) for p in folded.pieces
    )
    assert sum(Polygon(p.outline_mm).area * p.copies for p in opened.pieces) == pytest.approx(area)
    assert opened_out(opened) is opened


def test_pieces_of_one_hand_are_not_cut_double() -> None:
    from dataclasses import replace

    (spiral,) = make_piece(PieceAsk("spiral-flounce")).pieces
    several = replace(spiral, piece=replace(spiral.piece, copies=3))
    with pytest.raises(InfeasibleError, match="all of one hand"):
        lay_piece(several, LayRules(folded=True))


def test_a_joined_piece_is_the_whole_with_its_allowance_twice(heavy: Callable[[int], int]) -> None:
    rng = np.random.default_rng(3)
    for _ in range(heavy(60)):
        corners = np.sort(rng.uniform(0.0, 900.0, 6))
        lower = [(float(x), float(rng.uniform(0.0, 40.0))) for x in corners]
        upper = [(float(x), float(rng.uniform(60.0, 200.0))) for x in corners[::-1]]
        piece = LayPiece("sash", tuple(lower + upper), 2)
        share = float(rng.uniform(0.2, 0.8))
        first, second = joined_piece(piece, share=share, seam_allowance_mm=15.0)
        whole = Polygon(piece.outline_mm)
        a, b = Polygon(first.outline_mm), Polygon(second.outline_mm)
        assert unary_union([a, b]).symmetric_difference(whole).area < 1e-6
        seam = min(corners) + share * (max(corners) - min(corners))
        strip = whole.intersection(box(seam - 15.0, -1e4, seam + 15.0, 1e4))
        assert a.intersection(b).area == pytest.approx(strip.area, abs=1e-6)
        assert (first.copies, second.copies) == (2, 2)


def test_a_piece_that_would_fall_apart_is_not_joined() -> None:
    hook = LayPiece("hook", L_SHAPE)
    u_shape = ((0, 0), (100, 0), (100, 100), (80, 100), (80, 20), (20, 20), (20, 100), (0, 100))
    bag = LayPiece("bag", tuple((float(y), float(x)) for x, y in u_shape))
    with pytest.raises(InfeasibleError, match="fall apart"):
        joined_piece(bag, share=0.5, seam_allowance_mm=5.0)
    with pytest.raises(OutOfRangeError):
        joined_piece(hook, share=0.01, seam_allowance_mm=5.0)
    with pytest.raises(InfeasibleError, match="along it"):
        joined_piece(
            LayPiece("f", L_SHAPE, on_fold=True), share=0.5, seam_allowance_mm=5.0, across=False
        )
    problem = Problem(1000.0, (hook,))
    with pytest.raises(UnknownNameError, match="no piece"):
        with_joined(problem, "cuff", share=0.5, seam_allowance_mm=5.0)
    assert len(with_joined(problem, "hook", share=0.5, seam_allowance_mm=5.0).pieces) == 2


def test_the_deepest_point_is_deep_and_grain_lines_lie_on_the_piece(
    heavy: Callable[[int], int],
) -> None:
    rng = np.random.default_rng(4)
    for _ in range(heavy(60)):
        problem = random_problem(rng)
        lay = shelf_lay(rng, problem)
        steps = cutting_steps(problem, lay, table_mm=400.0)
        assert [step.number for step in steps] == list(range(1, len(lay.placements) + 1))
        for step in steps:
            shape = Polygon(step.outline_mm)
            assert shape.exterior.distance(Point(step.middle_mm)) == pytest.approx(step.room_mm)
            assert shape.contains(Point(step.middle_mm))
            line = LineString(step.grain_mm)
            assert shape.buffer(1e-6).contains(line)
            assert grain_slant_deg(step) == 0.0
            assert step.grain_mm[0][1] == pytest.approx(step.grain_mm[1][1], abs=1e-9)
        for section in {step.section for step in steps}:
            here = [step.ends_mm for step in steps if step.section == section]
            reach = max(end for _, end in here) - min(start for start, _ in here)
            assert reach <= 400.0 or len(here) == 1


def test_the_deepest_point_of_a_square_is_its_middle() -> None:
    square = np.array([[0.0, 0.0], [100.0, 0.0], [100.0, 100.0], [0.0, 100.0]])
    middle, room = deepest_point(square)
    assert middle == pytest.approx((50.0, 50.0))
    assert room == pytest.approx(50.0)


def test_the_side_of_the_paper_pattern_follows_hand_and_face() -> None:
    problem = Problem(1000.0, (LayPiece("a", L_SHAPE, 2, mirror="pairs"),))
    lay = Lay(
        "feasible", length_mm=400.0,
        placements=(Placement("a", 0, 0.0, 0.0), Placement("a", 1, 200.0, 100.0, 0.0, True)),
    )  # fmt: skip
    assert [s.printed_up for s in cutting_steps(problem, lay, face="up")] == [True, False]
    assert [s.printed_up for s in cutting_steps(problem, lay, face="down")] == [False, True]


def test_offcuts_are_free_cloth_and_the_largest_is_no_scrap(heavy: Callable[[int], int]) -> None:
    rng = np.random.default_rng(5)
    for _ in range(heavy(60)):
        problem = random_problem(rng)
        lay = shelf_lay(rng, problem)
        bought = lay.length_mm + 300.0
        found = offcuts(problem, lay, bought_mm=bought)
        assert found
        pieces = {piece.name: piece for piece in problem.pieces}
        laid = [Polygon(placed_outline(pieces[one.piece], one)) for one in lay.placements]
        boxes = []
        for one in found:
            (x, y), length, width = one.low_mm, one.length_mm, one.width_mm
            here = box(x, y, x + length, y + width)
            assert check_offcut(problem, lay, one)
            assert all(here.intersection(shape).area < 1e-3 for shape in laid)
            assert x + length <= bought + 1e-6
            assert y + width <= problem.width_mm + 1e-6
            assert all(here.intersection(other).area < 1e-6 for other in boxes)
            boxes.append(here)
        end = (problem.width_mm - 20.0) * 280.0
        assert found[0].area_mm2 >= end


def test_offcuts_of_folded_cloth_at_the_fold_open_out() -> None:
    piece = LayPiece("a", ((0.0, 0.0), (500.0, 0.0), (500.0, 200.0), (0.0, 200.0)), 2)
    problem = Problem(1400.0, (piece,), fold="lengthwise")
    lay = Lay("feasible", length_mm=500.0, placements=(Placement("a", 0, 0.0, 500.0),))
    assert check_lay(problem, lay) == ()
    found = offcuts(problem, lay, bought_mm=1000.0)
    at_fold = [one for one in found if one.on_fold]
    assert at_fold
    for one in found:
        assert one.layers == 2
        assert one.pieces == (1 if one.on_fold else 2)
        area = Polygon(one.outline_mm).area * one.pieces
        assert area == pytest.approx(one.area_mm2)


def test_the_rest_keeps_copies_hands_and_what_is_gone(heavy: Callable[[int], int]) -> None:
    rng = np.random.default_rng(6)
    for _ in range(heavy(60)):
        problem = random_problem(rng)
        lay = shelf_lay(rng, problem)
        copies = [(one.piece, one.copy) for one in lay.placements]
        chosen = rng.permutation(len(copies))[: len(copies) // 2]
        cut = frozenset(copies[k] for k in chosen[: len(chosen) // 2])
        spoilt = frozenset(copies[k] for k in chosen) - cut
        rest = rest_problem(problem, lay, Trouble(cut, spoilt))
        assert check_problem(rest) == ()
        assert len(rest.holes) == len(cut | spoilt)
        wanted = sum(piece.copies for piece in problem.pieces) - len(cut)
        assert sum(piece.copies for piece in rest.pieces) == wanted
        for piece in problem.pieces:
            left = [
                o for o in lay.placements if o.piece == piece.name and (o.piece, o.copy) not in cut
            ]
            parts = [p for p in rest.pieces if p.name.split(", mirrored")[0] == piece.name]
            assert sum(p.copies for p in parts) == len(left)
            if piece.mirror == "pairs" and parts and parts[0].mirror == "none":
                turned = sum(p.copies for p in parts if p.name.endswith(", mirrored"))
                assert turned == sum(one.mirrored for one in left)


def test_cloth_in_two_lengths_has_a_bar_where_they_meet() -> None:
    square = ((0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0))
    problem = Problem(300.0, (LayPiece("a", square, 3),))
    lay = Lay("feasible", length_mm=100.0, placements=tuple(
        Placement("a", k, 0.0, 100.0 * k) for k in range(3)))  # fmt: skip
    rest = rest_problem(problem, lay, Trouble(lengths_mm=(150.0, 500.0)))
    over = Lay("feasible", length_mm=200.0, placements=(
        Placement("a", 0, 0.0, 0.0), Placement("a", 1, 100.0, 0.0), Placement("a", 2, 0.0, 100.0)))  # fmt: skip
    assert {fault.kind for fault in check_lay(rest, over)} == {"flaw"}
    beyond = Lay("feasible", length_mm=251.0, placements=(
        Placement("a", 0, 0.0, 0.0), Placement("a", 1, 151.0, 0.0), Placement("a", 2, 0.0, 100.0)))  # fmt: skip
    assert check_lay(rest, beyond) == ()


def test_what_is_pinned_stays_and_an_unknown_copy_is_refused() -> None:
    problem = Problem(1000.0, (LayPiece("a", L_SHAPE, 2),))
    lay = Lay("feasible", length_mm=100.0, placements=(
        Placement("a", 0, 0.0, 0.0), Placement("a", 1, 0.0, 300.0)))  # fmt: skip
    kept = pinned(problem, lay, {("a", 1)})
    assert check_lay(kept, lay) == ()
    moved = Lay("feasible", length_mm=100.0, placements=(
        Placement("a", 0, 0.0, 0.0), Placement("a", 1, 0.0, 301.0)))  # fmt: skip
    assert {fault.kind for fault in check_lay(kept, moved)} == {"fixed"}
    with pytest.raises(InputError):
        pinned(problem, lay, {("a", 2)})
    with pytest.raises(InputError, match="cut already"):
        rest_problem(problem, lay, Trouble(frozenset({("a", 0), ("a", 1)})))
