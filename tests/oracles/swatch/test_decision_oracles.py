"""What a pressing of a scrap is worth, against learning from each outcome and judging again."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

import numpy as np
import pytest
from scipy import stats

from samite.press.decide import bar
from samite.press.dials import Dial
from samite.press.draws import Draws
from samite.press.iron_fit import iron_bar
from samite.press.pressing import Placement
from samite.press.window import chances_by_draw, press_runs, seam_of, usual_bench
from samite.services.card import Card, make_card, seam_order
from samite.swatch.candidates import as_hot, heat_order, press_candidates
from samite.swatch.decision import (
    HARM_COUNTS,
    SECOND_COUNTS,
    PressChoice,
    TrialWorth,
    beyond_chance,
    may_be_next,
    press_choice,
    worth_of_reading,
    worth_of_trial,
)
from samite.swatch.exposure import Reach, exposures
from samite.swatch.ranking import Ranked, choice_of, open_techniques, rank_trials, stations
from samite.swatch.records import unsaid_share
from samite.swatch.seen import Finding, Sign
from samite.swatch.strata import STRATA, Strata, reading_chances, record_chances
from samite.swatch.trial import PressTrial
from samite.swatch.update import Asked, Learnt, learn
from samite.swatch.value import worth_of_branches
from samite.tables.learning import learning_value

LABELS = ("mystery sparkly fabric", "satin, 150 cm")
HARMLESS = (Finding(Sign.NOTHING),)


def trial(dial: Dial, seconds: float) -> PressTrial:
    return PressTrial(dial, "none", "dry", "wrong", seconds)


LADDER = [
    trial(dial, seconds)
    for dial in (Dial.LOW, Dial.MEDIUM, Dial.HIGH)
    for seconds in (3.0, 6.0, 12.0)
]


@cache
def known(label: str) -> tuple[Card, Learnt, PressChoice]:
    card = make_card(label)
    learnt = learn(Asked(card.cloth, card.iron), ())
    return card, learnt, choice_of(learnt, card.press.value, seam_order(card.sewing))


@cache
def ranking(label: str) -> tuple[Ranked, ...]:
    card, learnt, choice = known(label)
    return tuple(rank_trials(learnt, choice, card.press.value))


def test_parts_of_a_doubt_together_are_the_doubt() -> None:
    draws = Draws(50, 3)
    strata = Strata(draws, np.full(50, 1.0 / 50.0))
    score = np.linspace(-3.0, 3.0, 50)[:, np.newaxis] + np.array([[0.0, 0.4]])
    parts = np.mean([strata.below(n, "limit", score) for n in range(STRATA)], axis=0)
    assert parts == pytest.approx(draws.below("limit", score), abs=1e-12)
    assert np.sort(strata.part("limit"), axis=0).tolist() == [[n] * 50 for n in range(STRATA)]


def test_chances_of_records_are_those_of_swatches_thrown_at_random() -> None:
    """Limits, edges and misreading drawn one by one, forty thousand swatches."""
    draws = Draws(200, 5)
    upper, wide = np.linspace(-1.5, 1.5, 200), np.full(200, 0.3)
    never = np.full(200, -30.0)
    exposure = (
        Reach("set", "set", upper + 0.5, never, wide, 1.0),
        Reach("glaze", "glazes", upper - 0.7, never, wide, 1.0),
    )
    strata = Strata(draws, np.full(200, 1.0 / 200.0))
    records, table = record_chances(exposure, strata)
    found = dict(
        zip([tuple(f.sign for f in r) for r in records], strata.joint_weights @ table, strict=True)
    )
    generator = np.random.default_rng(1)
    row = generator.integers(0, 200, 40_000)
    flat = generator.standard_normal(40_000) < upper[row] + 0.5 + 0.3 * generator.standard_normal(
        40_000
    )
    hurt = generator.standard_normal(40_000) < upper[row] - 0.7 + 0.3 * generator.standard_normal(
        40_000
    )
    flat &= generator.random(40_000) >= unsaid_share()
    misread = learning_value("swatch misread_percent").value / 100.0
    slip = generator.random(40_000) < misread
    said = np.where(slip, generator.integers(0, 4, 40_000), 2 * hurt + flat)
    seen = [(Sign.NOTHING,), (Sign.SET_FLAT,), (Sign.SHINE,), (Sign.SET_FLAT, Sign.SHINE)]
    for number, signs in enumerate(seen):
        assert found[signs] == pytest.approx(float((said == number).mean()), abs=0.01), signs


@pytest.mark.parametrize("label", LABELS)
def test_what_a_trial_may_show_is_what_learning_expects(label: str) -> None:
    _, learnt, _ = known(label)
    for one in ranking(label)[:3]:
        expected = {
            outcome.findings: outcome.chance for outcome in learnt.outcomes(one.worth.trial)
        }
        for branch in one.worth.branches:
            assert branch.chance == pytest.approx(expected[branch.findings], abs=0.02)


@pytest.mark.parametrize("label", LABELS)
def test_states_bring_what_the_window_computes(label: str) -> None:
    """Expected utilities over parts against the judge's own chances, integrated at once."""
    card, _, choice = known(label)
    recipe = card.press.value
    pool = choice.strata.pool
    seam = seam_of(card.cloth, seam_order(card.sewing))
    bench = usual_bench(recipe.support if recipe.support != "none" else "board", card.iron)
    stroked = recipe.passes[-1].motion == "stroke"
    run = press_runs(seam, (Placement(choice.techniques[0], 0.0, stroked=stroked),), bench, pool)
    sets, hurts, _ = chances_by_draw(seam, run, pool)
    count = len(choice.seconds)
    spent = SECOND_COUNTS * np.array(choice.seconds)
    direct = (sets * (1.0 - hurts) - HARM_COUNTS * hurts)[:, :count].mean(axis=0) - spent
    found = choice.strata.joint_weights @ choice.utilities[:, :count]
    assert found == pytest.approx(direct, abs=0.02)


def test_its_worth_is_that_of_learning_from_each_outcome_and_judging_again() -> None:
    """The slow way: learn anew from every record it may lead to, judge every plan, choose."""
    label = LABELS[0]
    card, learnt, choice = known(label)
    recipe, asked = card.press.value, learnt.asked
    pool = learnt.pool
    seam = seam_of(card.cloth, seam_order(card.sewing))
    bench = usual_bench(recipe.support if recipe.support != "none" else "board", card.iron)
    stroked = recipe.passes[-1].motion == "stroke"
    plans = [
        press_runs(seam, (Placement(one, 0.0, stroked=stroked),), bench, pool)
        for one in choice.techniques
    ]
    slow_choice = press_choice(seam, plans, Strata(pool, learnt.weights))
    count, spent = len(choice.seconds), SECOND_COUNTS * np.array(choice.seconds)
    for one in (item.worth.trial for item in ranking(label)):
        outcomes = learnt.outcomes(one)
        rows = []
        for outcome in outcomes:
            after = learnt.after(one, outcome.findings)
            brought = []
            for plan in plans:
                sets, hurts, _ = chances_by_draw(seam, plan, after.pool)
                good = sets * (1.0 - hurts) - HARM_COUNTS * hurts
                brought.append(after.weights @ good[:, :count] - spent)
            rows.append(np.append(np.concatenate(brought), 0.0))
        chances = np.array([outcome.chance for outcome in outcomes])
        slow = worth_of_branches(chances / chances.sum(), np.stack(rows))
        exposure = exposures(asked.cloth, [(one, asked.iron, pool, np.asarray(pool.pace))])[0]
        fast = worth_of_trial(one, exposure, slow_choice).worth
        assert fast == pytest.approx(slow, abs=0.02)
        assert fast == pytest.approx(slow, rel=0.35)


@pytest.mark.parametrize("label", LABELS)
def test_no_worth_is_negative_or_more_than_knowing_everything(label: str) -> None:
    card, _, choice = known(label)
    bound = choice.worth_of_knowing
    for one in ranking(label):
        assert 0.0 <= one.worth.worth <= bound
    for dial in (Dial.NONE, Dial.LOW, Dial.MEDIUM):
        assert 0.0 <= worth_of_reading(dial, card.iron, choice) <= bound
    assert worth_of_reading(Dial.NONE, card.iron, choice) == 0.0


def test_an_outcome_that_has_nothing_to_do_with_the_cloth_is_worth_nothing() -> None:
    _, _, choice = known(LABELS[0])
    generator = np.random.default_rng(4)
    coin = generator.random((len(choice.utilities), 1))
    assert beyond_chance(choice, np.concatenate([coin, 1.0 - coin], axis=1)) < 0.002
    told = np.tile([[0.3, 0.7]], (len(choice.utilities), 1))
    assert beyond_chance(choice, told) == 0.0


def test_readings_fall_as_often_as_normal_errors_say() -> None:
    soles = np.array([140.0, 150.0, 160.0])
    edges, table = reading_chances(soles, 4.0, bins=3)
    assert table.sum(axis=1) == pytest.approx([1.0, 1.0, 1.0])
    for sole, row in zip(soles, table, strict=True):
        passed = stats.norm.cdf(edges, sole, 4.0)
        assert row == pytest.approx(np.diff([0.0, *passed, 1.0]), abs=1e-6)


@pytest.mark.parametrize("label", [*LABELS, "silk velvet", "wool coating 400 g/m2"])
def test_candidates_stay_within_the_card(label: str) -> None:
    """Rules of the trade, no source: never hotter, wetter or barer than the card, coolest first."""
    card = make_card(label)
    recipe = card.press.value
    found = press_candidates(recipe, card.iron)
    assert list(found) == sorted(found, key=heat_order)
    for one in found:
        assert one.dial.dots <= recipe.iron.dots
        assert one.side == recipe.passes[-1].side
    for technique in open_techniques(recipe, card.iron):
        assert not bar(recipe, technique)
        assert not iron_bar(card.iron, technique)


def test_what_hurt_once_and_all_that_is_hotter_is_not_proposed() -> None:
    card = make_card("satin, 150 cm")
    hurt = trial(Dial.MEDIUM, 6.0)
    found = press_candidates(card.press.value, card.iron, rests=[hurt])
    assert found
    assert not any(as_hot(one, hurt) for one in found)
    assert not any(one.dial.dots >= 2 and one.seconds >= 6.0 for one in found)


def test_one_step_at_a_time() -> None:
    """Common practice, no source: coolest first, one dot or twice the seconds at a time."""
    assert [t for t in LADDER if may_be_next(t, (), LADDER)] == [trial(Dial.LOW, 3.0)]
    well = (trial(Dial.LOW, 6.0),)
    allowed = {(t.dial.dots, t.seconds) for t in LADDER if may_be_next(t, well, LADDER)}
    assert allowed == {(1, 3.0), (1, 6.0), (1, 12.0), (2, 3.0), (2, 6.0)}


def worths(told: dict[tuple[Dial, float], float]) -> list[Ranked]:
    return [
        Ranked(
            TrialWorth(t, told.get((t.dial, t.seconds), 0.0), 0.0, ()), may_be_next(t, (), LADDER)
        )
        for t in LADDER
    ]


@pytest.mark.parametrize(
    "told", [{}, {(Dial.HIGH, 3.0): 0.2, (Dial.MEDIUM, 6.0): 0.05}, {(Dial.MEDIUM, 12.0): 0.1}]
)
def test_the_slip_climbs_and_skips_no_dot(told: dict[tuple[Dial, float], float]) -> None:
    chosen = stations(worths(told))
    assert chosen[0] == trial(Dial.LOW, 3.0)
    for place in range(1, len(chosen)):
        assert may_be_next(chosen[place], chosen[:place], LADDER)
    assert 2 <= len(chosen) <= 4
    best = max(told, key=lambda key: told[key], default=(Dial.HIGH, 3.0))
    assert trial(*best) in chosen


def test_a_choice_is_made_of_states(heavy: Callable[[int], int]) -> None:
    """Random small problems: the best choice of a `PressChoice` is that of plain sums."""
    generator = np.random.default_rng(8)
    for _ in range(heavy(200)):
        draws = Draws(6, 1)
        strata = Strata(draws, generator.dirichlet(np.ones(6)))
        table = np.concatenate(
            [generator.uniform(-1.0, 1.0, (6 * STRATA, 2)), np.zeros((6 * STRATA, 1))], axis=1
        )
        choice = PressChoice(strata, known(LABELS[0])[2].techniques[:1], (1.0, 2.0), table)
        sums = [
            sum(strata.joint_weights[i] * table[i, a] for i in range(6 * STRATA)) for a in range(3)
        ]
        assert choice.best[2] == pytest.approx(max(sums))
