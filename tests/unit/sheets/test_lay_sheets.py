"""A lay on paper: where things lie, what is written, and what a tape reads."""

from __future__ import annotations

import pytest

from samite.lay.problem import Lay, LayPiece, Placement, Problem
from samite.services.lay import LayAnswer
from samite.services.lay_paper import draw_svg, lay_picture, notes_of, steps_of
from samite.sheets.lay_sheet import LayPicture, lay_sheet, text_width_mm
from samite.sheets.tape import tape

SQUARE = ((0.0, 0.0), (400.0, 0.0), (400.0, 300.0), (0.0, 300.0))
HALF = ((0.0, 0.0), (500.0, 0.0), (500.0, 200.0), (0.0, 250.0))


def picture(*, fold: bool = False, **more: object) -> LayPicture:
    pieces = (LayPiece("front", SQUARE, 2, mirror="pairs"),)
    places = [Placement("front", 0, 0.0, 100.0)]
    if fold:
        pieces = (*pieces, LayPiece("back", HALF, 1, on_fold=True))
        places.append(Placement("back", 0, 450.0, 0.0))
    else:
        places.append(Placement("front", 1, 450.0, 500.0, 0.0, True))
    problem = Problem(1000.0, pieces, "lengthwise" if fold else "none", 10.0, 3.0)
    lay = Lay("feasible", length_mm=950.0 if fold else 850.0, placements=tuple(places))
    return lay_picture(LayAnswer(problem, lay), "Lay", **more)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("length_mm", "units", "shown"),
    [
        (125.0, "metric", "12.5"),
        (-0.001, "metric", "0.0"),
        (123.825, "imperial", "4 7/8"),
        (25.4, "imperial", "1"),
        (3.175, "imperial", "1/8"),
        (0.0, "imperial", "0"),
        (-12.7, "imperial", "-1/2"),
    ],
)
def test_lengths_read_as_on_a_tape(length_mm: float, units: str, shown: str) -> None:
    assert tape(length_mm, units) == shown


def test_the_cut_end_lies_below_and_y_0_at_the_right() -> None:
    sheet = lay_sheet(picture(), scale=0.1, type_mm=3.0)
    first, second = (one for one in sheet.strokes if one.role == "piece")
    assert max(y for _, y in first.points) < min(y for _, y in second.points) + 40.0
    assert max(x for x, _ in first.points) > max(x for x, _ in second.points)
    width = max(x for x, _ in first.points) - min(x for x, _ in first.points)
    height = max(y for _, y in first.points) - min(y for _, y in first.points)
    assert (width, height) == pytest.approx((30.0, 40.0))
    for words in sheet.words:
        x, y = words.place
        assert 0.0 <= x <= sheet.width_mm - text_width_mm(words.text, words.size_mm) + 1e-6
        assert 0.0 <= y <= sheet.height_mm


def test_every_piece_says_its_number_name_and_side_inside_its_outline() -> None:
    sheet = lay_sheet(picture(), scale=0.14, type_mm=3.0)
    texts = [words.text for words in sheet.words]
    for wanted in ("1", "2", "front 1", "front 2", "print up", "print down"):
        assert wanted in texts
    turned = [w.text for w in lay_sheet(picture(face="down"), scale=0.14, type_mm=3.0).words]
    assert turned.index("front 1") < turned.index("print down") < turned.index("front 2")


def test_numbers_at_the_grain_line_are_those_of_the_list() -> None:
    made = picture()
    (number, name, how), _ = steps_of(made)
    assert (number, name) == (1, "front 1")
    assert "grain line 25.0 from the right rim" in how
    texts = [words.text for words in lay_sheet(made, scale=0.14, type_mm=3.0).words]
    (low, _), (high, _) = made.steps[0].grain_mm
    assert f"25.0 x {tape(low, 'metric')}" in texts
    assert f"25.0 x {tape(high, 'metric')}" in texts


def test_nap_has_one_arrow_and_none_has_two() -> None:
    def heads(nap: bool) -> int:
        sheet = lay_sheet(picture(nap=nap), scale=0.14, type_mm=3.0)
        return sum(one.role == "grain" and one.width_mm > 0.2 for one in sheet.strokes)

    assert heads(nap=False) == 2 * heads(nap=True) == 8


def test_folded_cloth_tells_of_two_at_once_and_of_the_fold() -> None:
    made = picture(fold=True)
    steps = {name: how for _, name, how in steps_of(made)}
    assert "two at once" in steps["front"]
    assert steps["back"].startswith("on the fold, 45.0 to 95.0")
    assert any("right sides together" in note for note in notes_of(made))
    assert sum(one.role == "fold" for one in lay_sheet(made, scale=0.1, type_mm=3.0).strokes) == 2


def test_a_short_table_parts_the_steps_and_what_is_cut_is_hatched() -> None:
    made = picture(table_mm=420.0, cut={("front", 0)})
    assert [step.section for step in made.steps] == [1, 2]
    roles = [one.role for one in lay_sheet(made, scale=0.1, type_mm=3.0).strokes]
    assert "table" in roles
    assert "done" in roles
    assert 'class="done"' in draw_svg(made)


def test_wrong_side_up_is_said_loudly() -> None:
    assert "WRONG" in notes_of(picture(face="down"))[0]
    assert "RIGHT" in notes_of(picture(face="up"))[0]
