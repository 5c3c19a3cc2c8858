"""Kept places, remnants, flaws, folds and repeats: what is handed out can be cut."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.oracles.lay.solved import rectangle, stars

from samite.lay.problem import Fixed, LayPiece, Match, Problem
from samite.lay.solve import solve
from samite.lay.verify import check_lay

SQUARE = LayPiece("square", rectangle(50.0, 50.0), 2)


def test_a_kept_place_is_kept_and_nothing_lies_on_it() -> None:
    kept = replace(SQUARE, fixed=(Fixed(100.0, 30.0, 0.0),))
    problem = Problem(200.0, (kept, LayPiece("bar", rectangle(90.0, 40.0), 4)), gap_mm=3.0)
    lay = solve(problem, seconds=1.0, seed=1)
    assert check_lay(problem, lay) == ()
    first = next(p for p in lay.placements if (p.piece, p.copy) == ("square", 0))
    assert (first.x_mm, first.y_mm) == (100.0, 30.0)


@pytest.mark.parametrize(
    ("places", "said"),
    [
        ((Fixed(0.0, 170.0),), "20.0 mm off the cloth"),
        ((Fixed(0.0, 0.0), Fixed(20.0, 20.0)), "in or too near 'square'"),
    ],
)
def test_kept_places_that_cannot_be_are_told(places: tuple[Fixed, ...], said: str) -> None:
    lay = solve(Problem(200.0, (replace(SQUARE, fixed=places),)), seconds=1.0, seed=1)
    assert lay.status == "infeasible"
    assert said in lay.why


def test_a_remnant_is_filled_round_its_corner_and_its_flaw() -> None:
    corner = ((0.0, 0.0), (300.0, 0.0), (300.0, 90.0), (140.0, 90.0), (140.0, 200.0), (0.0, 200.0))
    flaw = ((60.0, 60.0), (75.0, 60.0), (75.0, 75.0), (60.0, 75.0))
    problem = Problem(
        200.0, (replace(SQUARE, copies=9),), outline_mm=corner, holes=(flaw,), gap_mm=2.0
    )
    lay = solve(problem, seconds=3.0, seed=1)
    assert lay.status in {"feasible", "optimal"}
    assert check_lay(problem, lay) == ()


def test_everything_at_once() -> None:
    half = LayPiece("half", rectangle(120.0, 60.0), on_fold=True, motif_mm=(60.0, 0.0))
    plain = stars(3, count=4)
    pieces = (half, *(replace(p, mirror="pairs") for p in plain.pieces))
    problem = Problem(
        800.0, pieces, fold="lengthwise", edge_mm=12.0, gap_mm=4.0,
        holes=(rectangle(30.0, 20.0),), repeat_along_mm=70.0, repeat_across_mm=50.0,
        matches=(Match(pieces[1].name, (0.0, 0.0), pieces[2].name, (10.0, 5.0)),),
    )  # fmt: skip
    lay = solve(problem, seconds=1.5, seed=1)
    assert lay.status == "feasible"
    assert check_lay(problem, lay) == ()


def test_a_piece_on_the_fold_whose_point_misses_the_repeat_is_told() -> None:
    half = LayPiece("half", rectangle(120.0, 60.0), on_fold=True, motif_mm=(60.0, 20.0))
    problem = Problem(400.0, (half,), fold="lengthwise", repeat_across_mm=50.0)
    lay = solve(problem, seconds=1.0, seed=1)
    assert lay.status == "infeasible"
    assert "misses the repeat" in lay.why


def test_pieces_that_just_fit_are_laid_without_a_hair_to_spare() -> None:
    problem = Problem(100.0, (replace(SQUARE, copies=4),))
    lay = solve(problem, seconds=2.0, seed=1)
    assert (lay.status, lay.length_mm) == ("optimal", pytest.approx(100.0, abs=1e-5))
