"""The verifier of lays against an independent library, and on lays that are wrong on purpose."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from itertools import combinations
from pathlib import Path

import numpy as np
import pytest
from shapely.geometry import Polygon
from tests.oracles.lay.shelves import random_problem, shelf_lay

from samite.lay.problem import Fixed, Lay, LayPiece, Match, Placement, Problem
from samite.lay.verify import (
    KINDS,
    check_lay,
    is_on_cloth,
    pieces_area_mm2,
    placed_outline,
    use_percent,
)

SQUARE = ((0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0))
L_SHAPE = ((0.0, 0.0), (100.0, 0.0), (100.0, 30.0), (30.0, 30.0), (30.0, 100.0), (0.0, 100.0))
HALF = ((0.0, 0.0), (80.0, 0.0), (60.0, 50.0), (0.0, 40.0))


def kinds(problem: Problem, *placements: Placement, length_mm: float | None = None) -> set[str]:
    pieces = {piece.name: piece for piece in problem.pieces}
    ends = [placed_outline(pieces[p.piece], p)[:, 0].max() for p in placements if p.piece in pieces]
    length = float(max(ends, default=0.0)) if length_mm is None else length_mm
    lay = Lay("feasible", length_mm=length, placements=placements)
    return {fault.kind for fault in check_lay(problem, lay)}


def test_lays_that_can_be_cut_pass_and_what_the_library_finds_is_found(
    heavy: Callable[[int], int],
) -> None:
    rng = np.random.default_rng(1)
    shifted_wrong = 0
    for _ in range(heavy(300)):
        problem = random_problem(rng)
        lay = shelf_lay(rng, problem)
        assert check_lay(problem, lay) == ()
        pieces = {piece.name: piece for piece in problem.pieces}
        moved = list(lay.placements)
        at = int(rng.integers(len(moved)))
        dx, dy = rng.normal(0.0, 60.0, 2)
        moved[at] = replace(moved[at], x_mm=moved[at].x_mm + dx, y_mm=moved[at].y_mm + dy)
        shapes = [Polygon(placed_outline(pieces[one.piece], one)) for one in moved]
        near = any(
            a.distance(b) < problem.gap_mm - 2e-3 or a.intersection(b).area > 1.0
            for a, b in combinations(shapes, 2)
        )
        clear = all(
            a.distance(b) >= problem.gap_mm and a.intersection(b).area < 1e-6
            for a, b in combinations(shapes, 2)
        )
        found = {f.kind for f in check_lay(problem, replace(lay, placements=tuple(moved)))}
        assert not near or "apart" in found
        assert not clear or "apart" not in found
        x0, y0, _, y1 = shapes[at].bounds
        off = y0 < 10.0 - 2e-3 or y1 > problem.width_mm - 10.0 + 2e-3
        assert not off or {"cloth", "edge"} & found
        assert x0 > -2e-3 or "cloth" in found
        shifted_wrong += near
    assert shifted_wrong > 3


def test_every_copy_is_asked_for() -> None:
    problem = Problem(1000.0, (LayPiece("a", SQUARE, 2),))
    first, second = Placement("a", 0, 0.0, 0.0), Placement("a", 1, 0.0, 100.0)
    assert kinds(problem, first, second) == set()
    assert kinds(problem, first) == {"copies"}
    assert kinds(problem, first, second, Placement("a", 2, 0.0, 200.0)) == {"copies"}
    assert kinds(problem, first, replace(second, copy=0)) == {"copies"}
    assert "piece" in kinds(problem, first, second, Placement("b", 0, 0.0, 300.0))
    assert "piece" in kinds(problem, first, replace(second, x_mm=float("nan")))


def test_hands_are_counted() -> None:
    pairs = Problem(1000.0, (LayPiece("a", L_SHAPE, 2, mirror="pairs"),))
    left, right = Placement("a", 0, 0.0, 0.0), Placement("a", 1, 0.0, 300.0, mirrored=True)
    assert kinds(pairs, left, right) == set()
    assert kinds(pairs, left, replace(right, mirrored=False)) == {"pairs"}
    alike = Problem(1000.0, (LayPiece("a", L_SHAPE, 2),))
    assert kinds(alike, left, right) == {"pairs"}
    free = Problem(1000.0, (LayPiece("a", L_SHAPE, 2, mirror="free"),))
    assert kinds(free, left, right) == set()


def test_only_allowed_turns_pass_and_none_given_means_none() -> None:
    for angles, turned in (((), 180.0), ((0.0,), 0.5), ((0.0, 180.0), 90.0)):
        problem = Problem(1000.0, (LayPiece("a", SQUARE, 1, angles),))
        assert kinds(problem, Placement("a", 0, 300.0, 300.0, turned)) == {"angle"}
        assert kinds(problem, Placement("a", 0, 300.0, 300.0, 360.0)) == set()


def test_kept_places_are_kept() -> None:
    piece = LayPiece("a", SQUARE, 2, fixed=(Fixed(200.0, 300.0),))
    problem = Problem(1000.0, (piece,))
    kept, other = Placement("a", 0, 200.0, 300.0), Placement("a", 1, 0.0, 0.0)
    assert kinds(problem, kept, other) == set()
    assert kinds(problem, replace(kept, x_mm=201.0), other) == {"fixed"}


def test_the_rim_the_edge_and_the_ends_hold() -> None:
    problem = Problem(300.0, (LayPiece("a", SQUARE),), edge_mm=10.0)
    assert kinds(problem, Placement("a", 0, 0.0, 10.0)) == set()
    assert kinds(problem, Placement("a", 0, 0.0, 190.0)) == set()
    assert kinds(problem, Placement("a", 0, 0.0, 9.0)) == {"edge"}
    assert kinds(problem, Placement("a", 0, 0.0, 191.0)) == {"edge"}
    assert kinds(problem, Placement("a", 0, 0.0, -5.0)) == {"cloth"}
    assert kinds(problem, Placement("a", 0, 0.0, 205.0)) == {"cloth"}
    assert kinds(problem, Placement("a", 0, -1.0, 50.0)) == {"cloth"}


def test_the_gap_holds_also_inside_a_hollow_and_one_inside_another_is_seen() -> None:
    small = ((0.0, 0.0), (20.0, 0.0), (20.0, 20.0), (0.0, 20.0))
    problem = Problem(1000.0, (LayPiece("a", L_SHAPE), LayPiece("b", small)), gap_mm=5.0)
    base = Placement("a", 0, 0.0, 0.0)
    assert kinds(problem, base, Placement("b", 0, 35.0, 35.0)) == set()
    assert kinds(problem, base, Placement("b", 0, 34.9, 35.0)) == {"apart"}
    assert kinds(problem, base, Placement("b", 0, 5.0, 5.0)) == {"apart"}
    assert kinds(problem, base, Placement("b", 0, 20.0, 20.0)) == {"apart"}
    loose = replace(problem, gap_mm=0.0)
    assert kinds(loose, base, Placement("b", 0, 30.0, 30.0)) == set()
    assert kinds(loose, base, Placement("b", 0, 29.99, 30.0)) == {"apart"}
    twice = Problem(1000.0, (LayPiece("a", L_SHAPE, 2),))
    assert kinds(twice, base, Placement("a", 1, 0.0, 0.0)) == {"apart"}


def test_a_piece_on_the_fold_lies_on_the_fold() -> None:
    piece = LayPiece("a", HALF, 1, (0.0, 180.0), on_fold=True)
    problem = Problem(300.0, (piece,), fold="lengthwise")
    assert kinds(problem, Placement("a", 0, 0.0, 0.0)) == set()
    assert kinds(problem, Placement("a", 0, 80.0, 0.0, 180.0, mirrored=True)) == set()
    assert kinds(problem, Placement("a", 0, 0.0, 0.5)) == {"fold"}
    assert "fold" in kinds(problem, Placement("a", 0, 80.0, 50.0, 180.0))
    assert kinds(replace(problem, fold="none"), Placement("a", 0, 0.0, 0.0)) == {"fold"}
    assert kinds(problem, Placement("a", 0, 0.0, 101.0)) == {"fold", "cloth"}


def test_one_cut_of_doubled_cloth_makes_two() -> None:
    problem = Problem(300.0, (LayPiece("a", SQUARE, 4),), fold="lengthwise")
    both = Placement("a", 0, 0.0, 0.0), Placement("a", 1, 100.0, 0.0)
    assert kinds(problem, *both) == set()
    assert kinds(problem, *both, Placement("a", 2, 200.0, 0.0)) == {"copies"}
    assert kinds(problem, both[0], Placement("a", 1, 100.0, 60.0)) == {"cloth"}


def test_flaws_and_remnants_hold() -> None:
    flaw = ((150.0, 50.0), (160.0, 50.0), (160.0, 60.0), (150.0, 60.0))
    problem = Problem(300.0, (LayPiece("a", SQUARE),), holes=(flaw,))
    assert kinds(problem, Placement("a", 0, 50.0, 0.0)) == set()
    assert kinds(problem, Placement("a", 0, 51.0, 0.0)) == {"flaw"}
    assert kinds(problem, Placement("a", 0, 100.0, 0.0)) == {"flaw"}
    cut_out = (
        (0.0, 0.0),
        (300.0, 0.0),
        (300.0, 300.0),
        (150.0, 300.0),
        (150.0, 150.0),
        (0.0, 150.0),
    )
    remnant = Problem(300.0, (LayPiece("a", SQUARE),), outline_mm=cut_out)
    assert kinds(remnant, Placement("a", 0, 0.0, 50.0)) == set()
    assert kinds(remnant, Placement("a", 0, 100.0, 51.0)) == {"cloth"}
    assert kinds(remnant, Placement("a", 0, 10.0, 180.0)) == {"cloth"}
    inset = replace(remnant, edge_mm=10.0)
    assert kinds(inset, Placement("a", 0, 10.0, 40.0)) == set()
    assert kinds(inset, Placement("a", 0, 10.0, 41.0)) == {"edge"}
    folded = replace(inset, fold="lengthwise")
    assert kinds(folded, Placement("a", 0, 10.0, 0.0)) == set()
    assert kinds(folded, Placement("a", 0, 9.0, 0.0)) == {"edge"}


def test_the_figure_is_met() -> None:
    a = LayPiece("a", SQUARE, motif_mm=(50.0, 50.0))
    b = LayPiece("b", SQUARE)
    problem = Problem(
        1000.0, (a, b), repeat_along_mm=160.0, repeat_across_mm=120.0,
        matches=(Match("a", (0.0, 0.0), "b", (10.0, 0.0)),),
    )  # fmt: skip
    first = Placement("a", 0, 110.0, 70.0)
    assert kinds(problem, first, Placement("b", 0, 260.0, 190.0)) == set()
    assert kinds(problem, first, Placement("b", 0, 261.0, 190.0)) == {"match"}
    assert kinds(problem, first, Placement("b", 0, 260.0, 191.0)) == {"match"}
    moved = replace(first, x_mm=115.0)
    assert kinds(problem, moved, Placement("b", 0, 265.0, 190.0)) == {"motif"}
    stripes = replace(problem, repeat_across_mm=0.0)
    assert kinds(stripes, first, Placement("b", 0, 260.0, 333.0)) == set()


def test_a_false_length_is_told() -> None:
    problem = Problem(1000.0, (LayPiece("a", SQUARE),))
    assert kinds(problem, Placement("a", 0, 0.0, 0.0), length_mm=99.0) == {"length"}


def test_all_kinds_of_fault_are_tried_here() -> None:
    text = Path(__file__).read_text(encoding="utf-8")
    assert [kind for kind in KINDS if f'"{kind}"' not in text] == []


def test_areas_and_use_of_folded_and_doubled_pieces() -> None:
    half, whole = LayPiece("h", HALF, 1, on_fold=True), LayPiece("s", SQUARE, 2)
    problem = Problem(400.0, (half, whole), fold="lengthwise")
    area = 2.0 * Polygon(HALF).area + 2.0 * Polygon(SQUARE).area
    assert pieces_area_mm2(problem) == pytest.approx(area)
    assert use_percent(problem, 200.0) == pytest.approx(100.0 * area / (400.0 * 200.0))
    remnant = replace(problem, outline_mm=SQUARE, fold="none")
    assert use_percent(remnant, 1.0) == pytest.approx(100.0 * area / 1e4)


def test_offcuts_lie_on_cloth() -> None:
    flaw = ((150.0, 50.0), (160.0, 50.0), (160.0, 60.0), (150.0, 60.0))
    problem = Problem(300.0, (), holes=(flaw,))
    square = np.array(SQUARE)
    assert is_on_cloth(problem, square)
    assert not is_on_cloth(problem, square + np.array([100.0, 0.0]))
    assert not is_on_cloth(problem, square + np.array([0.0, 201.0]))
    remnant = replace(problem, holes=(), outline_mm=SQUARE)
    assert is_on_cloth(remnant, square)
    assert not is_on_cloth(remnant, square + np.array([1.0, 0.0]))
