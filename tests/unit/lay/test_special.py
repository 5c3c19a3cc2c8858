"""Kept places, remnants, flaws, folds and repeats: what is handed out can be cut."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.oracles.lay.solved import rectangle, stars

from samite.lay.problem import Fixed, LayPiece, Match, Problem
from samite.lay.solve import solve
from samite.lay.verify import check_lay
from samite.services.lay import solve_lay

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


WEDGE = LayPiece("wedge", ((0.0, 0.0), (60.0, 0.0), (0.0, 40.0)), 2)


@pytest.mark.parametrize(
    ("piece", "changes", "said"),
    [
        (replace(WEDGE, fixed=(Fixed(0.0, 90.0, mirrored=True),)), {}, "must lie as it is drawn"),
        (
            replace(
                WEDGE, mirror="pairs",
                fixed=(Fixed(0.0, 50.0, mirrored=True), Fixed(0.0, 90.0, mirrored=True)),
            ),
            {},
            "2 of 2 copies of wedge are kept the same way up",
        ),
        (
            replace(WEDGE, motif_mm=(0.0, 0.0), fixed=(Fixed(50.0, 90.0),)),
            {"repeat_along_mm": 64.0},
            "14.000 mm off the motif",
        ),
        (
            replace(WEDGE, on_fold=True, fixed=(Fixed(0.0, 5.0),)),
            {"fold": "lengthwise"},
            "5.000 mm off the fold",
        ),
        (replace(WEDGE, fixed=(Fixed(-0.5, 90.0),)), {}, "over the cut end"),
    ],
)  # fmt: skip
def test_kept_places_that_contradict_the_rest_are_the_askers_and_no_defect(
    piece: LayPiece, changes: dict[str, object], said: str
) -> None:
    problem = replace(Problem(200.0, (piece,)), **changes)  # type: ignore[arg-type]
    lay = solve_lay(problem, seconds=0.1, seed=1).lay
    assert (lay.status, lay.placements) == ("infeasible", ())
    assert said in lay.why


def test_a_kept_place_keeps_the_number_of_its_copy_and_its_own_turn() -> None:
    long = LayPiece("long", rectangle(180.0, 120.0), 2, fixed=(Fixed(130.0, 0.0, 90.0, copy=1),))
    problem = Problem(200.0, (long,))
    lay = solve_lay(problem, seconds=0.2, seed=1).lay
    kept = next(one for one in lay.placements if one.copy == 1)
    assert (kept.x_mm, kept.y_mm, kept.angle_deg) == (130.0, 0.0, 90.0)
    assert [one.copy for one in lay.placements] == [0, 1]
    assert lay.bound_mm < 130.0 + 180.0 == lay.length_mm


@pytest.mark.parametrize("repeat", [0.5, 2.0, 7.0])
def test_a_repeat_finer_than_the_grid_of_the_search_is_laid_on_the_whole_cloth(
    repeat: float,
) -> None:
    piece = LayPiece("box", rectangle(294.0, 196.0), 9, motif_mm=(7.0, 0.0))
    problem = Problem(1000.0, (piece,), repeat_along_mm=repeat, repeat_across_mm=repeat)
    lay = solve_lay(problem, seconds=0.1, seed=1).lay
    assert lay.status in {"feasible", "optimal"}
    assert check_lay(problem, lay) == ()
    assert lay.length_mm <= 3 * 308.0


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
