"""What is wrong with a lay problem is told in words, at once."""

from __future__ import annotations

import math
import time
from dataclasses import replace

import pytest
from tests.oracles.lay.solved import rectangle, stars

from samite.kernel.errors import InputError
from samite.lay.check import check_problem
from samite.lay.problem import Fixed, LayPiece, Match, Problem
from samite.lay.solve import solve
from samite.lay.verify import check_lay

SQUARE = LayPiece("square", rectangle(50.0, 50.0))
PLAIN = Problem(200.0, (SQUARE,))
TWO_LOOPS = ((0.0, 80.0), (50.0, 50.0), (90.0, 0.0), (90.0, 90.0), (50.0, 50.0), (0.0, 0.0))
"""Through a corner of its own, round one loop this way and round the other that way."""


def words(problem: Problem) -> str:
    return "; ".join(f"{where}: {what} ({hint})" for what, where, hint in check_problem(problem))


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"width_mm": 0.0}, "width_mm: a width of 0 mm is none"),
        ({"width_mm": math.nan}, "width_mm"),
        ({"fold": "across"}, "fold: fold 'across' is unknown"),
        ({"gap_mm": -1.0}, "gap_mm: -1 mm is below 0"),
        ({"edge_mm": 100.0}, "edge_mm: edges of 100 mm leave nothing"),
        ({"pieces": ()}, "there are no pieces"),
        ({"pieces": (SQUARE, SQUARE)}, "2 pieces are named 'square'"),
        ({"matches": (Match("square", (0.0, 0.0), "round", (0.0, 0.0)),)}, "no piece 'round'"),
        ({"holes": (((0.0, 0.0), (1.0, 1.0)),)}, "holes[0]: 2 corners make no outline"),
    ],
)
def test_the_cloth_is_looked_at(changes: dict[str, object], said: str) -> None:
    assert said in words(replace(PLAIN, **changes))  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"copies": 0}, "copies: 'square' is wanted 0 times"),
        ({"mirror": "left"}, "mirror 'left' is unknown"),
        ({"mirror": "pairs", "copies": 3}, "3 copies of 'square' make no pairs"),
        ({"outline_mm": ((0.0, 0.0), (9.0, 9.0), (9.0, 0.0), (0.0, 9.0))}, "crosses itself"),
        ({"outline_mm": ((0.0, 0.0), (5.0, 5.0), (9.0, 9.0))}, "encloses nothing"),
        ({"outline_mm": (*SQUARE.outline_mm, *SQUARE.outline_mm)}, "runs over itself"),
        ({"outline_mm": TWO_LOOPS}, "runs over itself"),
        ({"outline_mm": ((0.0, 0.0), (math.inf, 5.0), (9.0, 9.0))}, "not a number"),
        ({"angles_deg": (math.nan,)}, "a turn is not a number"),
        ({"on_fold": True}, "on the fold, but the cloth lies open"),
        ({"fixed": (Fixed(0.0, 0.0), Fixed(60.0, 0.0))}, "2 places are kept for fewer pieces"),
        ({"fixed": (Fixed(0.0, 0.0, copy=1),)}, "there is no copy 1 of 'square' to keep"),
        (
            {"copies": 2, "fixed": (Fixed(0.0, 0.0, copy=1), Fixed(60.0, 0.0, copy=1))},
            "two places are kept for one copy",
        ),
    ],
)
def test_every_piece_is_looked_at(changes: dict[str, object], said: str) -> None:
    piece = replace(SQUARE, **changes)  # type: ignore[arg-type]
    assert said in words(replace(PLAIN, pieces=(piece,)))


def test_a_slit_and_a_touch_are_no_crossing() -> None:
    slit = (
        (0.0, 0.0),
        (90.0, 0.0),
        (90.0, 90.0),
        (50.0, 90.0),
        (50.0, 40.0),
        (50.0, 90.0),
        (0.0, 90.0),
    )
    waist = ((0.0, 0.0), (90.0, 0.0), (45.0, 45.0), (90.0, 90.0), (0.0, 90.0), (45.0, 45.0))
    for outline in (slit, waist):
        assert words(replace(PLAIN, pieces=(replace(SQUARE, outline_mm=outline),))) == ""


def test_everything_wrong_is_told_not_only_the_first() -> None:
    piece = replace(SQUARE, copies=0, mirror="left")
    assert len(check_problem(Problem(-5.0, (piece,), fold="x"))) == 4
    with pytest.raises(InputError, match="and 3 more"):
        solve(Problem(-5.0, (piece,), fold="x"), seconds=1.0, seed=1)


def test_points_of_one_piece_that_can_never_meet_are_refused() -> None:
    match = Match("square", (0.0, 0.0), "square", (30.0, 0.0))
    assert "never fall on one place" in words(
        replace(PLAIN, matches=(match,), repeat_along_mm=40.0)
    )
    assert words(replace(PLAIN, matches=(match,), repeat_along_mm=30.0)) == ""


def test_matches_that_contradict_each_other_are_impossible_in_words() -> None:
    other = LayPiece("other", rectangle(40.0, 40.0))
    matches = (
        Match("square", (0.0, 0.0), "other", (0.0, 0.0)),
        Match("square", (10.0, 0.0), "other", (25.0, 0.0)),
    )
    problem = Problem(200.0, (SQUARE, other), repeat_along_mm=50.0, matches=matches)
    lay = solve(problem, seconds=5.0, seed=1)
    assert lay.status == "infeasible"
    assert "contradict each other" in lay.why


def test_a_piece_that_is_too_wide_is_named_with_what_could_help() -> None:
    wide = LayPiece("cloak", rectangle(150.0, 230.0))
    lay = solve(Problem(200.0, (SQUARE, wide), edge_mm=5.0), seconds=5.0, seed=1)
    assert lay.status == "infeasible"
    assert "'cloak' lies 230.0 mm across" in lay.why
    assert "40.0 mm too wide" in lay.why
    assert "crosswise" in lay.why
    assert "join" in lay.why


def test_more_on_a_remnant_than_it_holds_is_impossible_in_words() -> None:
    remnant = rectangle(100.0, 200.0)
    lay = solve(
        Problem(200.0, (replace(SQUARE, copies=9),), outline_mm=remnant), seconds=5.0, seed=1
    )
    assert lay.status == "infeasible"
    assert "more cloth" in lay.why


def test_five_thousand_pieces_are_refused_at_once() -> None:
    began = time.process_time()
    with pytest.raises(InputError, match="5000 placements are more than"):
        solve(replace(PLAIN, pieces=(replace(SQUARE, copies=5000),)), seconds=5.0, seed=1)
    assert time.process_time() - began < 1.0


def test_very_many_different_pieces_are_laid_in_rows_in_time() -> None:
    pieces = tuple(
        LayPiece(
            f"p{k}", ((0.0, 0.0), (30.0 + k / 50, 0.0), (5.0 + k % 13, 20.0 + k / 40)),
            angles_deg=(0.0, 90.0), mirror="free",
        )
        for k in range(420)
    )  # fmt: skip
    problem = Problem(500.0, pieces, edge_mm=10.0, gap_mm=2.0)
    lay = solve(problem, seconds=0.1, seed=3)
    assert (lay.status, lay.seed, len(lay.placements)) == ("feasible", 3, 420)
    assert "more seconds" in lay.why
    assert check_lay(problem, lay) == ()


def test_ten_thousand_corners_are_answered() -> None:
    turn = [2.0 * math.pi * k / 10_000 for k in range(10_000)]
    disc = tuple((60.0 * math.cos(a), 60.0 * math.sin(a)) for a in turn)
    lay = solve(Problem(200.0, (LayPiece("disc", disc, 2),)), seconds=1.0, seed=1)
    assert lay.status == "feasible"
    assert 2.0 < lay.length_mm / 100.0 < 2.5


def test_cancelled_at_once_there_is_still_an_answer() -> None:
    lay = solve(stars(1), seconds=60.0, seed=1, cancelled=lambda: True)
    assert lay.status == "feasible"
    assert lay.seconds < 30.0


def test_every_lay_that_is_told_is_shorter_than_the_one_before() -> None:
    lengths: list[float] = []
    lay = solve(stars(2), seconds=1.5, seed=1, on_better=lambda one: lengths.append(one.length_mm))
    assert lengths == sorted(lengths, reverse=True)
    assert lay.length_mm == lengths[-1]
    assert lay.bound_mm <= lay.length_mm
