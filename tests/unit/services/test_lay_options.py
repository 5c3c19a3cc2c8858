"""Other choices of a lay: which are offered, what they may cost, and how well a tolerance is known."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.oracles.lay.solved import rectangle

from samite.cloth.reading import Price
from samite.kernel.evidence import Grade
from samite.lay.problem import Lay, LayPiece, Placement, Problem
from samite.lay.verify import check_lay
from samite.pieces.outline import Piece
from samite.services import lay_options
from samite.services.jobs import JobView
from samite.services.lay import LayAnswer, lay_json, solve_lay
from samite.services.lay_buy import Extra
from samite.services.lay_cases import LayAsk, lay_cases
from samite.services.lay_desk import LayDesk, Order
from samite.services.lay_options import TILTED, Option, bare_options, case_options, option_json
from samite.services.lay_paper import lay_picture, notes_of, steps_of
from samite.services.piece import make_piece
from samite.services.piece_ask import PieceAsk
from samite.tables.lay import lay_rule

BOX = LayPiece("box", rectangle(300.0, 200.0), 2, grain_tolerance_deg=1.0)
PRICE = Price(10.0, "EUR", "m")


def tilts(options: tuple[Option, ...]) -> list[Option]:
    return [one for one in options if one.name == TILTED]


def test_a_tilt_is_offered_where_a_piece_has_a_tolerance_and_may_use_it() -> None:
    (found,) = tilts(bare_options(Problem(900.0, (BOX,))))
    assert found.problem.pieces[0].angles_deg == (0.0, -1.0, 1.0)
    assert "up to 1 degree off grain;" in found.says
    strict = replace(BOX, grain_tolerance_deg=0.0)
    repeat = Problem(900.0, (BOX,), repeat_along_mm=320.0)
    for problem in (Problem(900.0, (strict,)), repeat):
        assert tilts(bare_options(problem)) == []


@pytest.mark.parametrize(
    ("label", "turns"),
    [
        ("cotton velvet, 150 cm", {0.0, -1.0, 1.0}),
        ("cotton lawn, 140 cm", {0.0, -1.0, 1.0, 180.0, 179.0, 181.0}),
        ("printed cotton, 140 cm, repeat 32 cm", None),
    ],
)
def test_a_costume_is_tilted_with_its_nap_and_never_on_the_fold_or_on_a_figure(
    label: str, turns: set[float] | None
) -> None:
    ask = LayAsk((PieceAsk("tunic"),), {"shell": label})
    case = lay_cases(ask)[0]
    assert all(p.grain_tolerance_deg == 1.0 for p in case.problem.pieces)
    found = tilts(case_options(ask, case))
    if turns is None:
        assert found == []
        return
    assert "(a guess)" in found[0].says
    for piece, plain in zip(found[0].problem.pieces, case.problem.pieces, strict=True):
        assert set(piece.angles_deg) == (set(plain.angles_deg) if piece.on_fold else turns)


def longer_by(answer: LayAnswer, more_mm: float) -> LayAnswer:
    return replace(answer, lay=replace(answer.lay, length_mm=answer.lay.length_mm + more_mm))


def test_what_allows_more_is_never_told_to_cost_more(monkeypatch: pytest.MonkeyPatch) -> None:
    wedge = LayPiece(
        "wedge", ((0.0, 0.0), (300.0, 40.0), (260.0, 190.0)), 2, mirror="pairs",
        grain_tolerance_deg=1.0,
    )  # fmt: skip
    open_cloth, folded = Problem(500.0, (BOX,)), Problem(1000.0, (wedge,), "lengthwise")
    smaller = replace(BOX, outline_mm=rectangle(290.0, 195.0))
    narrower = Option("narrower allowances", "", replace(open_cloth, pieces=(smaller,)))
    for problem, choices in (
        (open_cloth, (*bare_options(open_cloth), narrower)),
        (folded, bare_options(folded)),
    ):
        plain = solve_lay(problem, seconds=0.1, seed=1)
        assert {"both directions", TILTED} <= {one.name for one in choices}
        for choice in choices:
            if choice.name == "one piece joined":
                continue
            for found in (longer_by(plain, 200.0), LayAnswer(problem, Lay("out-of-time"))):
                monkeypatch.setattr(
                    lay_options, "solve_lay",
                    lambda problem, found=found, **_: replace(found, problem=problem),
                )  # fmt: skip
                told = option_json(choice, Extra(), PRICE, plain, seconds=0.1, seed=1)
                assert min(told["saves_mm"], told["saves_price"], told["saves_lay_mm"]) >= 0.0
                assert "the plain lay stays" in told["why"], choice.name
                assert told["tilted"] == []
                kept = lay_options.no_longer(replace(found, problem=choice.problem), plain)
                assert check_lay(choice.problem, kept.lay) == ()


def test_what_is_really_another_problem_keeps_its_own_answer() -> None:
    problem = Problem(500.0, (BOX,))
    plain = solve_lay(problem, seconds=0.1, seed=1)
    wider = LayAnswer(replace(problem, gap_mm=40.0), Lay("out-of-time", "none found"))
    assert lay_options.no_longer(wider, plain) is wider
    two = Problem(500.0, (replace(BOX, copies=3),))
    assert lay_options.no_longer(LayAnswer(two, Lay("out-of-time")), plain).found is False


def test_a_shorter_lay_that_the_plain_cloth_allows_too_says_so() -> None:
    problem = Problem(500.0, (replace(BOX, angles_deg=(0.0, 180.0)),))
    answer = solve_lay(problem, seconds=0.1, seed=1)
    spread = tuple(replace(p, x_mm=p.x_mm + 100.0 * p.copy) for p in answer.lay.placements)
    plain = longer_by(replace(answer, lay=replace(answer.lay, placements=spread)), 100.0)
    one_way = Option("one direction", "", Problem(500.0, (BOX,)))
    told = option_json(one_way, Extra(), None, plain, seconds=0.1, seed=1)
    assert told["saves_lay_mm"] > 0.0
    assert told["why"] == lay_options.PLAIN_TOO


def test_the_tolerances_of_pieces_are_those_of_the_table_and_told_as_guesses() -> None:
    straight = lay_rule("grain", "grain_tolerance_deg", "straight grain")
    bias = lay_rule("grain", "grain_tolerance_deg", "bias")
    default = Piece.__dataclass_fields__["grain_tolerance_deg"].default
    assert (straight.value, bias.value) == (default, 2.0)
    (strip,) = make_piece(PieceAsk("bias-strip")).pieces
    assert strip.piece.grain_tolerance_deg == bias.value
    assert {straight.evidence.grade, bias.evidence.grade} == {Grade.GUESS}


def test_paper_says_which_pieces_lie_tilted_and_what_that_does() -> None:
    problem = Problem(500.0, (replace(BOX, angles_deg=(0.0, 180.0, 181.0, 359.0)),))
    answer = solve_lay(problem, seconds=0.1, seed=1)
    places = (Placement("box", 0, 0.0, 10.0, 359.0), Placement("box", 1, 700.0, 250.0, 181.0))
    for angles, tilted in ((places, True), (answer.lay.placements, False)):
        shown = lay_picture(LayAnswer(problem, replace(answer.lay, placements=angles)), "Lay")
        words = [how for _, _, how in steps_of(shown)]
        assert all("tilted 1 degree off grain" in how for how in words) == tilted
        assert any("hang a little off grain" in note for note in notes_of(shown)) == tilted
        assert not any("turned" in how for how in words)
    assert (
        "upside down, tilted 1 degree"
        in steps_of(lay_picture(LayAnswer(problem, replace(answer.lay, placements=places)), "Lay"))[
            1
        ][2]
    )


class Finished:
    """A runner whose jobs are all done."""

    def __init__(self) -> None:
        self.results: dict[str, dict[str, object]] = {}

    def look(self, key: str) -> JobView:
        return JobView(key, "done", 0, 1.0, result=self.results[key])


def test_on_the_page_a_choice_that_allows_more_is_no_longer_and_stays_so() -> None:
    problem = Problem(500.0, (BOX,))
    plain = solve_lay(problem, seconds=0.1, seed=1)
    (tilt,) = tilts(bare_options(problem))
    jobs, known = Finished(), dict[str, object]()
    desk = LayDesk(jobs, known)  # type: ignore[arg-type]
    order = Order(
        "Shell", "", problem, 500.0, "up", False, "", Extra(), PRICE, "metric", 0.0, ""
    )  # fmt: skip
    first = desk.put(order, seconds=1.0, seed=0)
    other = replace(order, title="Shell: tilted", problem=tilt.problem, plain=first)
    second = desk.put(other, seconds=1.0, seed=0)
    jobs.results = {first: lay_json(plain), second: lay_json(longer_by(plain, 200.0))}
    for view in (desk.view(second), LayDesk(jobs, known).view(second)):  # type: ignore[arg-type]
        assert view.answer is not None
        assert view.answer.lay.length_mm == plain.lay.length_mm
        assert view.answer.lay.why == lay_options.NOTHING_SHORTER
