"""The search of lays against brute force, equal problems, and an outside library of geometry."""

from __future__ import annotations

import csv
import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from shapely import Polygon, affinity
from shapely.ops import unary_union
from tests.oracles.lay.solved import rectangle, searched_mm, shortest_of_rectangles, star, stars

from samite.kernel.errors import InputError
from samite.lay._compact import compact
from samite.lay._finer import finer_corners, finer_model, pressed
from samite.lay._improve import first_lay
from samite.lay._model import model_of
from samite.lay._nofit import geometry_of
from samite.lay._parts import belted, convex_parts, safe, simpler
from samite.lay._phase import best_phase
from samite.lay._search_kernel import pair_depth
from samite.lay._shapes import Fineness, Shapes, options_of
from samite.lay.answer import lay_of
from samite.lay.bounds import bound_mm, length_bounds_mm
from samite.lay.check import one_handed
from samite.lay.fits import misfits, one_way_each, usable_width_mm
from samite.lay.outline import (
    cosine_and_sine,
    crosses_itself,
    is_own_mirror_image,
    placed_outline,
    signed_area_mm2,
    tidy_outline,
)
from samite.lay.problem import Lay, LayPiece, Match, Placement, Problem
from samite.lay.solve import solve
from samite.lay.solvers.clock import now_s
from samite.lay.solvers.engine import Engine, engine_fits
from samite.lay.verify import check_lay
from samite.readers.lay_file import read_lay_problem

FOLDER = Path(__file__).parents[2] / "published" / "lay"


@pytest.mark.parametrize("gap_mm", [0.0, 7.0])
def test_depth_tells_what_an_outside_library_tells(gap_mm: float) -> None:
    rng = np.random.default_rng(3)
    shapes = Shapes()
    pieces = [
        LayPiece(str(k), star(rng, int(rng.integers(3, 14))), angles_deg=(0.0, 180.0, 30.0))
        for k in range(5)
    ]
    for piece in pieces:
        options_of(piece, shapes, (False, True), Fineness(1000, 0.0, 0.0))
    geometry = geometry_of(shapes, len(shapes.found), [], gap_mm, 5.0, {})
    met = 0
    for _ in range(600):
        s, t = (int(k) for k in rng.integers(0, len(shapes.found), 2))
        x, y = rng.uniform(-230.0, 230.0, 2)
        one = Polygon(shapes.found[s].outline)
        two = affinity.translate(Polygon(shapes.found[t].outline), x, y)
        depth = pair_depth(geometry, s, 0.0, 0.0, t, x, y)
        apart = one.distance(two)
        if apart > 0.0:
            assert depth == pytest.approx(max(gap_mm - apart, 0.0), abs=1e-6)
            continue
        met += 1
        assert depth > gap_mm - 1e-6
        # no shorter way out in 24 directions, and moving out by the depth is possible in some
        ways = [np.array((np.cos(a), np.sin(a))) for a in np.linspace(0.0, 2.0 * np.pi, 25)[:-1]]
        nearer = 0.98 * (depth - gap_mm)
        for way in ways:
            assert one.intersects(affinity.translate(two, *(way * nearer)))
    assert met > 120


def test_parts_are_convex_and_make_up_the_outline() -> None:
    rng = np.random.default_rng(8)
    for _ in range(60):
        outline = tidy_outline(star(rng, int(rng.integers(3, 40))))
        parts = [Polygon(part) for part in convex_parts(outline)]
        assert sum(part.area for part in parts) == pytest.approx(signed_area_mm2(outline))
        assert all(part.convex_hull.area == pytest.approx(part.area) for part in parts)
        together = unary_union([part.buffer(1e-6) for part in parts])
        assert together.symmetric_difference(Polygon(outline)).area < 1e-2


def test_a_simpler_outline_holds_the_whole_piece_and_is_no_farther_off_than_allowed() -> None:
    for count in (300, 10_000):
        turn = np.linspace(0.0, 2.0 * np.pi, count, endpoint=False)
        radius = 300.0 * (1.0 + 0.2 * np.sin(5.0 * turn))
        outline = tuple(
            zip((radius * np.cos(turn)).tolist(), (radius * np.sin(turn)).tolist(), strict=True)
        )
        simple = safe(simpler(outline, most=40, tolerance_mm=1.0), outline)
        assert len(simple) < 120
        assert Polygon(simple).buffer(1e-6).covers(Polygon(outline))
        assert Polygon(simple).hausdorff_distance(Polygon(outline)) < 3.0


def test_a_belt_holds_the_whole_piece_and_nearly_equal_corners_cost_none() -> None:
    for k in range(150):
        outline = ((0.0, 0.0), (30.0 + k * 0.01, 0.0), (k % 13 + 5.0, 20.0 + k * 0.013))
        belt = Polygon(tidy_outline(belted(outline))).buffer(1e-6)
        assert belt.covers(Polygon(outline))
        twice = tuple((x + d, y - d) for x, y in outline for d in (0.0, 1e-12 * k))
        assert Polygon(tidy_outline(twice)).symmetric_difference(Polygon(outline)).area < 1e-6


@pytest.mark.parametrize("seed", range(4))
def test_rectangles_are_laid_as_short_as_brute_force_can(seed: int) -> None:
    rng = np.random.default_rng(seed)
    sizes = [(float(a), float(b)) for a, b in rng.integers(20, 70, (5, 2))]
    pieces = tuple(LayPiece(str(k), rectangle(*size)) for k, size in enumerate(sizes))
    problem = Problem(100.0, pieces)
    shortest = shortest_of_rectangles(sizes, 100.0)
    found = min(searched_mm(problem, seed=seed, chunks=120) for seed in (1, 2))
    assert found == pytest.approx(shortest, abs=1e-4)
    assert bound_mm(problem) <= shortest + 1e-9


@pytest.mark.parametrize("seed", range(3))
def test_a_folded_lay_is_at_most_a_fiftieth_longer_than_brute_force(seed: int) -> None:
    rng = np.random.default_rng(100 + seed)
    sizes = [(float(a), float(b)) for a, b in rng.integers(20, 60, (5, 2))]
    pieces = tuple(
        LayPiece(str(k), rectangle(*size), 1 if k < 2 else 2, on_fold=k < 2)
        for k, size in enumerate(sizes)
    )
    problem = Problem(200.0, pieces, fold="lengthwise")
    shortest = shortest_of_rectangles(sizes, 100.0, {0, 1})
    found = searched_mm(problem, chunks=120)
    assert shortest - 1e-4 <= found <= 1.02 * shortest
    lay = solve(problem, seconds=0.2, seed=1)
    assert check_lay(problem, lay) == ()
    assert bound_mm(problem) <= shortest + 1e-9


def test_folded_cloth_is_cloth_of_half_the_width() -> None:
    flat = stars(5)
    flat = replace(flat, pieces=tuple(replace(piece, mirror="free") for piece in flat.pieces))
    doubled = tuple(
        replace(piece, copies=2 * piece.copies, mirror="pairs") for piece in flat.pieces
    )
    folded = replace(flat, width_mm=2.0 * flat.width_mm, pieces=doubled, fold="lengthwise")
    assert searched_mm(folded) == searched_mm(flat)


def test_where_an_outline_is_drawn_does_not_matter() -> None:
    here = stars(6)
    moved = tuple(
        replace(p, outline_mm=tuple((x + 512.0, y - 2048.0) for x, y in p.outline_mm))
        for p in here.pieces
    )
    there = replace(here, pieces=moved)
    assert searched_mm(there, chunks=1) == pytest.approx(searched_mm(here, chunks=1), abs=1e-6)


def test_a_mirrored_problem_is_as_long_but_for_luck() -> None:
    ratios = []
    for seed in range(4):
        here = stars(20 + seed)
        turned = tuple(
            replace(p, outline_mm=tuple((x, -y) for x, y in p.outline_mm)) for p in here.pieces
        )
        ratios.append(searched_mm(replace(here, pieces=turned)) / searched_mm(here))
    assert np.mean(ratios) == pytest.approx(1.0, abs=0.03)


def test_a_repeat_of_nothing_is_no_repeat() -> None:
    plain = stars(7)
    marked = tuple(replace(p, motif_mm=(3.0, 4.0)) for p in plain.pieces)
    names = [p.name for p in plain.pieces]
    match = Match(names[0], (1.0, 2.0), names[1], (5.0, 6.0))
    assert searched_mm(replace(plain, pieces=marked, matches=(match,))) == searched_mm(plain)


def test_a_wider_gap_makes_lays_longer_on_the_whole() -> None:
    lengths = [
        np.mean([searched_mm(stars(30 + seed, gap_mm=gap), chunks=30) for seed in range(4)])
        for gap in (0.0, 6.0, 20.0)
    ]
    assert lengths == sorted(lengths)


def test_the_same_seed_and_work_give_the_same_lay() -> None:
    assert searched_mm(stars(9), seed=4) == searched_mm(stars(9), seed=4)


def test_bounds_where_they_can_be_told_by_hand() -> None:
    tall = LayPiece("tall", rectangle(30.0, 60.0), 3)
    low = LayPiece("low", rectangle(10.0, 20.0), 1)
    found = length_bounds_mm(Problem(100.0, (tall, low), gap_mm=2.0))
    assert found["across the middle"] == pytest.approx(3 * 30.0 + 2 * 2.0)
    assert found["longest piece"] == pytest.approx(30.0)
    grown = 3 * (1800.0 + 180.0) + (200.0 + 60.0)
    assert found["area"] == pytest.approx(grown / 102.0 - 2.0)
    half = LayPiece("half", rectangle(40.0, 30.0), 2, on_fold=True)
    folded = length_bounds_mm(Problem(200.0, (half,), fold="lengthwise", gap_mm=2.0))
    assert folded["fold"] == pytest.approx(82.0)


def test_a_placed_outline_is_mirrored_then_turned_then_moved() -> None:
    place = Placement("a", 0, 10.0, 20.0, 90.0, mirrored=True)
    shape = placed_outline(((1.0, 2.0), (3.0, 2.0), (3.0, 5.0)), place)
    assert shape == ((12.0, 21.0), (12.0, 23.0), (15.0, 23.0))


def test_a_crossing_is_found_where_an_outside_library_finds_one() -> None:
    rng = np.random.default_rng(12)
    for count in (5, 12, 500):
        for _ in range(30 if count < 100 else 3):
            simple = star(rng, count)
            mixed = list(simple)
            k = int(rng.integers(1, count - 1))
            mixed[0], mixed[k] = mixed[k], mixed[0]
            for outline in (simple, tuple(mixed)):
                assert (crosses_itself(outline) is None) == Polygon(outline).is_valid


def test_quarter_turns_are_exact_and_others_are_those_of_mathematics() -> None:
    assert cosine_and_sine(-90.0) == (0.0, -1.0)
    for angle in (30.0, 45.0, 359.0, -17.3):
        turn = math.radians(angle)
        assert cosine_and_sine(angle) == pytest.approx((math.cos(turn), math.sin(turn)))


def test_a_piece_fits_where_its_turned_box_does() -> None:
    rng = np.random.default_rng(14)
    for _ in range(100):
        outline, angle = star(rng, 8), float(rng.choice([0.0, 30.0, 90.0]))
        problem = Problem(180.0, (LayPiece("one", outline, angles_deg=(angle,)),), edge_mm=5.0)
        assert usable_width_mm(problem) == 170.0
        box = affinity.rotate(Polygon(outline), angle, origin=(0.0, 0.0)).bounds
        assert bool(misfits(problem)) == (box[3] - box[1] > 170.0)


def test_one_turn_for_each_piece_is_the_first_whose_box_fits() -> None:
    rng = np.random.default_rng(15)
    pieces = tuple(LayPiece(str(k), star(rng, 8), angles_deg=(90.0, 0.0, 180.0)) for k in range(40))
    room, left = 200.0, 0
    problem = Problem(room, pieces)
    for one, other in zip(one_way_each(problem).pieces, pieces, strict=True):
        heights = [
            affinity.rotate(Polygon(other.outline_mm), a, origin=(0.0, 0.0)).bounds
            for a in other.angles_deg
        ]
        fitting = [
            a for a, b in zip(other.angles_deg, heights, strict=True) if b[3] - b[1] <= room + 1e-6
        ]
        left += one.angles_deg == (0.0,)
        assert one.angles_deg == ((fitting[0],) if fitting else other.angles_deg)
    assert left


def test_an_outline_is_its_own_mirror_image_where_an_outside_library_says_so() -> None:
    rng = np.random.default_rng(16)
    for _ in range(40):
        half = [
            (float(x), float(y))
            for x, y in zip(
                np.sort(rng.uniform(0.0, 90.0, 5)), rng.uniform(5.0, 40.0, 5), strict=True
            )
        ]
        alike = (*half, *((x, -y) for x, y in reversed(half)))
        spoilt = (*alike[:-1], (alike[-1][0], alike[-1][1] - 20.0))
        for outline in (alike, tuple((y, x) for x, y in alike), spoilt):
            if crosses_itself(outline):
                continue
            shape = Polygon(outline)
            flips = (affinity.scale(shape, 1.0, -1.0), affinity.scale(shape, -1.0, 1.0))
            missed = min(shape.symmetric_difference(flip).area for flip in flips)
            assert is_own_mirror_image(outline) == (missed < 1e-6 * shape.area)


def test_folded_cloth_refuses_several_pieces_of_one_hand() -> None:
    hook = ((0.0, 0.0), (80.0, 0.0), (80.0, 20.0), (30.0, 60.0))
    problem = Problem(400.0, (LayPiece("hook", hook, 2),), fold="lengthwise")
    assert one_handed(problem.pieces[0])
    with pytest.raises(InputError, match="mirror image"):
        solve(problem, seconds=0.1, seed=1)
    lay = Lay("feasible", "", 80.0, placements=(Placement("hook", 0, 0.0, 0.0),))
    assert [fault.kind for fault in check_lay(problem, lay)] == ["pairs"]
    box = replace(problem, pieces=(LayPiece("hook", rectangle(80.0, 60.0), 2),))
    assert not one_handed(box.pieces[0])
    assert check_lay(box, lay) == ()


def test_columns_tell_more_than_areas_where_two_pieces_cannot_share_one() -> None:
    slab = LayPiece("slab", rectangle(50.0, 55.0), 4)
    low = LayPiece("low", rectangle(30.0, 20.0), 2)
    found = length_bounds_mm(Problem(100.0, (slab, low)))
    assert found["columns"] == pytest.approx(200.0, rel=1e-6)
    assert found["columns"] > 1.5 * found["area"]


def test_matched_pieces_meet_on_the_repeat_where_the_lay_is_shortest() -> None:
    shorter = []
    for seed in range(4):
        plain = stars(seed, count=6)
        names = [piece.name for piece in plain.pieces]
        match = Match(names[0], (0.0, 0.0), names[1], (10.0, 5.0))
        problem = replace(plain, repeat_along_mm=120.0, repeat_across_mm=70.0, matches=(match,))
        model = model_of(problem)
        other, lay = best_phase(model)
        usual = first_lay(model)
        assert lay is not None
        assert usual is not None
        assert check_lay(problem, lay_of(other, lay, 0.0)) == ()
        shorter.append(model.length_of(usual) / other.length_of(lay))
    assert min(shorter) >= 1.0
    assert max(shorter) > 1.01


def test_the_engine_is_asked_only_what_it_can_state_and_its_lays_can_be_cut() -> None:
    plain = stars(11, gap_mm=3.0, edge_mm=10.0)
    free = (replace(plain.pieces[0], mirror="free"), *plain.pieces[1:])
    assert engine_fits(plain)
    assert not engine_fits(replace(plain, pieces=free))
    assert not engine_fits(replace(plain, holes=(rectangle(10.0, 10.0),)))
    model = model_of(plain)
    helper = Engine(model, seconds=2.0, seed=1)
    helper.begin()
    state, until = None, now_s() + 60.0
    while state is None and helper.running() and now_s() < until:
        state = helper.lay()
    helper.end()
    assert state is not None
    pressed = compact(model, state)
    assert check_lay(plain, lay_of(model, pressed, 0.0)) == ()
    assert model.length_of(pressed) <= model.length_of(state)


@pytest.mark.parametrize("name", ["albano", "marques", "shirts", "trousers"])
def test_our_search_alone_comes_near_the_records_and_no_bound_passes_one(name: str) -> None:
    """Lengths: `lay-records` in the list of sources."""
    with (FOLDER / "records.csv").open(encoding="utf-8", newline="") as file:
        best = {r["instance"]: float(r["best_known_length_mm"]) for r in csv.DictReader(file)}[name]
    problem = read_lay_problem((FOLDER / f"{name}.json").read_text(encoding="utf-8"))
    assert bound_mm(problem) <= best
    assert best / searched_mm(problem, chunks=150) > 0.9


def test_finer_outlines_win_back_what_widened_corners_cost() -> None:
    """Discs in a row end after their diameters, a fact of geometry; widened ones a little later."""
    turn = np.linspace(0.0, 2.0 * np.pi, 96, endpoint=False)
    disc = tuple(zip((100.0 * np.cos(turn)).tolist(), (100.0 * np.sin(turn)).tolist(), strict=True))
    problem = Problem(201.0, (LayPiece("disc", disc, copies=4),))
    coarse = model_of(problem, 16)
    first = first_lay(coarse)
    assert first is not None
    assert coarse.length_of(first) > 801.0
    corners = finer_corners(problem, 16, seconds=30.0)
    assert corners == 96
    fine = finer_model(coarse, corners)
    state = pressed(fine, coarse.placements(first))
    assert state is not None
    lay = lay_of(fine, state, 0.0)
    assert lay.length_mm == pytest.approx(800.0, abs=0.1)
    assert check_lay(problem, lay) == ()


def test_outlines_with_few_corners_are_not_looked_at_again() -> None:
    assert (
        finer_corners(Problem(500.0, (LayPiece("a", rectangle(100.0, 50.0)),)), 40, seconds=60.0)
        == 0
    )
