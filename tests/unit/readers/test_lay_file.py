"""The file of a lay problem: what it holds, and everything that is wrong with one at once."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import Any

import pytest

from samite.kernel.errors import InputError
from samite.lay.problem import Fixed, Match
from samite.readers.lay_file import read_lay_problem

SQUARE = [[0, 0], [100, 0], [100, 100], [0, 100]]


def written(**changes: Any) -> str:
    whole = {
        "format": "samite.lay-problem.v1", "width_mm": 1400, "fold": "none", "edge_mm": 10,
        "gap_mm": 3, "outline_mm": None, "holes": [], "repeat_mm": {"along": 0, "across": 0},
        "pieces": [{"name": "front", "outline_mm": SQUARE, "copies": 2, "angles_deg": [0, 180],
                    "mirror": "none", "on_fold": False, "motif_mm": None, "fixed": None}],
        "matches": [],
    }  # fmt: skip
    return json.dumps({**whole, **changes})


def piece(**changes: Any) -> dict[str, Any]:
    return {"name": "front", "outline_mm": SQUARE, **changes}


def refused(text: str) -> InputError:
    with pytest.raises(InputError) as caught:
        read_lay_problem(text)
    assert caught.value.hint
    return caught.value


def test_every_key_is_read() -> None:
    found = read_lay_problem(
        written(
            pieces=[
                piece(copies=2, angles_deg=[0, 180], mirror="pairs", motif_mm=[5, 6]),
                piece(name="back", fixed={"x_mm": 1, "y_mm": 2, "angle_deg": 0, "mirrored": False}),
            ],
            holes=[SQUARE],
            repeat_mm={"along": 160, "across": 80},
            matches=[{"piece": "front", "at_mm": [0, 0], "with": "back", "to_mm": [1, 0]}],
        )
    )
    assert (found.width_mm, found.edge_mm, found.gap_mm) == (1400.0, 10.0, 3.0)
    assert (found.repeat_along_mm, found.repeat_across_mm) == (160.0, 80.0)
    front, back = found.pieces
    assert (front.copies, front.angles_deg, front.mirror) == (2, (0.0, 180.0), "pairs")
    assert front.motif_mm == (5.0, 6.0)
    assert back.fixed == (Fixed(1.0, 2.0),)
    assert found.matches == (Match("front", (0.0, 0.0), "back", (1.0, 0.0)),)
    assert len(found.holes) == 1


def test_what_is_left_out_is_the_plainest() -> None:
    found = read_lay_problem(
        json.dumps({"width_mm": 1000, "pieces": [{"name": "a", "outline_mm": SQUARE}]})
    )
    only = found.pieces[0]
    assert (only.copies, only.angles_deg, only.mirror, only.on_fold) == (1, (0.0,), "none", False)
    assert (found.fold, found.edge_mm, found.outline_mm) == ("none", 0.0, None)
    assert read_lay_problem(written(pieces=[piece(angles_deg=[])])).pieces[0].angles_deg == (0.0,)
    nothing = json.loads(written(pieces=[piece(copies=None, mirror=None, angles_deg=None)]))
    rest = ("format", "fold", "edge_mm", "gap_mm", "holes", "repeat_mm", "matches")
    again = read_lay_problem(json.dumps({**nothing, "width_mm": 1000, **dict.fromkeys(rest)}))
    assert again == replace(found, pieces=(replace(only, name="front"),))


def test_a_last_corner_that_repeats_the_first_is_dropped() -> None:
    found = read_lay_problem(written(pieces=[piece(outline_mm=[*SQUARE, SQUARE[0]])]))
    assert len(found.pieces[0].outline_mm) == 4


def test_everything_that_is_wrong_is_told_at_once_with_its_place() -> None:
    error = refused(
        written(
            width_mm="wide",
            holes=[[[0, 0], [1, "x"], [1, 1]]],
            pieces=[
                piece(copies=0),
                piece(name="back", outline_mm=[[0, 0], [10, 10], [10, 0], [0, 10]]),
                piece(name="sleeve", angels_deg=[0]),
                piece(name="cuff", outline_mm="round"),
            ],
            matches=[{"piece": "front", "at_mm": [0, 0], "with": "nothing", "to_mm": [0, 0]}],
        )
    )
    for part in (
        "width_mm", "holes[0][1]", "pieces[0].copies", "pieces[1].outline_mm",
        "did you mean 'angles_deg'?", "pieces[3].outline_mm", "no piece 'nothing'",
    ):  # fmt: skip
        assert part in error.message, part


@pytest.mark.parametrize(
    ("text", "part"),
    [
        ("", "not JSON"),
        ("[1]", "no JSON object"),
        ("[" * 100_000, "nested too deeply"),
        ('{"width_mm": 1000}', "no pieces"),
        (written(format="something else"), "is not read"),
        (written(width_mm=float("nan")), "no finite number"),
        (written(pieces=[piece(outline_mm=[[0, 0], [1e400, 0], [0, 1]])]), "no corner"),
        (written(pieces=[piece(), piece()]), "2 pieces are named"),
        (written(pieces=[piece(copies=True)]), "no number of copies"),
        (written(pieces=[piece(on_fold=True)]), "cloth lies open"),
        (written(pieces=[7]), "no piece"),
        (written(pieces={"a": 1}), "no list"),
        (written(pieces=[piece(name="")]), "no name"),
        (written(pieces=[piece(mirror="pairs", copies=3)]), "make no pairs"),
    ],
)
def test_malformed_problems_are_refused_in_words(text: str, part: str) -> None:
    assert part in refused(text).message


def test_five_thousand_pieces_are_refused_at_once() -> None:
    many = [piece(name=f"p{number}") for number in range(5000)]
    assert "5000 placements" in refused(written(pieces=many)).message


def test_ten_thousand_corners_are_read() -> None:
    import math

    ring = [
        [500 + 400 * math.cos(k * math.tau / 10_000), 500 + 400 * math.sin(k * math.tau / 10_000)]
        for k in range(10_000)
    ]
    assert (
        len(read_lay_problem(written(pieces=[piece(outline_mm=ring)])).pieces[0].outline_mm)
        == 10_000
    )
