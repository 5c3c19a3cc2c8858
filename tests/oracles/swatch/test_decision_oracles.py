"""What a pressing of a scrap is worth, against every rule of choosing in a small world."""

from __future__ import annotations

import itertools
from typing import Any

import numpy as np
import pytest
from tests.oracles.swatch.toys import RECORDS, ToyChoice, ToyKnowledge

from samite.press.dials import Dial
from samite.press.techniques import Technique
from samite.swatch.decision import may_be_next, worth_of_trial
from samite.swatch.ranking import Ranked, stations
from samite.swatch.trial import PressTrial
from samite.swatch.value import worth_of_knowing

COOL, HOT = (Technique(dial, "none", "dry", "wrong") for dial in (Dial.LOW, Dial.HIGH))


def trial(dial: Dial, seconds: float) -> PressTrial:
    return PressTrial(dial, "none", "dry", "wrong", seconds)


def world(seed: int) -> tuple[ToyKnowledge, ToyChoice]:
    generator = np.random.default_rng(seed)
    states = 6
    weights = generator.dirichlet(np.ones(states))
    knowledge = ToyKnowledge(
        weights, generator.uniform(80.0, 200.0, states), generator.uniform(40.0, 120.0, states)
    )
    return knowledge, ToyChoice(generator.uniform(-1.0, 1.0, (states, 3)), (COOL, HOT, None))


@pytest.mark.parametrize("seed", range(12))
def test_it_is_the_best_rule_by_enumeration(seed: int) -> None:
    knowledge, choice = world(seed)
    tried: Any = trial(Dial.MEDIUM, 6.0)
    records = knowledge.records(tried)
    states, choices = range(len(knowledge.weights)), range(choice.table.shape[1])
    joint = knowledge.weights[:, None] * records
    before = max(float(knowledge.weights @ choice.table[:, a]) for a in choices)
    best = max(
        sum(joint[i, o] * choice.table[i, rule[o]] for i in states for o in range(len(RECORDS)))
        for rule in itertools.product(choices, repeat=len(RECORDS))
    )
    found = worth_of_trial(knowledge, tried, choice)  # type: ignore[arg-type]
    assert found.worth == pytest.approx(best - before, abs=1e-9)
    bound = worth_of_knowing(knowledge.weights, choice.table)
    assert 0.0 <= found.worth <= bound + 1e-9
    assert found.chance_harm == pytest.approx(float(joint[:, 1].sum()))
    assert sum(branch.chance for branch in found.branches) == pytest.approx(1.0)


def test_a_trial_that_cannot_change_the_choice_is_worth_nothing() -> None:
    knowledge, choice = world(1)
    same = ToyChoice(np.tile([[0.9, 0.1, 0.0]], (6, 1)), choice.techniques)
    found = worth_of_trial(knowledge, trial(Dial.LOW, 3.0), same)  # type: ignore[arg-type]
    assert found.worth == 0.0
    assert not found.changes


def test_one_step_at_a_time() -> None:
    """Common practice, no source: coolest first, one dot or twice the seconds at a time."""
    ladder = [
        trial(dial, seconds)
        for dial in (Dial.LOW, Dial.MEDIUM, Dial.HIGH)
        for seconds in (3.0, 6.0, 12.0)
    ]
    assert [t for t in ladder if may_be_next(t, (), ladder)] == [trial(Dial.LOW, 3.0)]
    well = (trial(Dial.LOW, 6.0),)
    allowed = {(t.dial.dots, t.seconds) for t in ladder if may_be_next(t, well, ladder)}
    assert allowed == {(1, 3.0), (1, 6.0), (1, 12.0), (2, 3.0), (2, 6.0)}


def test_the_slip_climbs_to_what_is_worth_most_and_skips_no_dot() -> None:
    from samite.swatch.decision import TrialWorth

    ladder = [
        trial(dial, seconds)
        for dial in (Dial.LOW, Dial.MEDIUM, Dial.HIGH)
        for seconds in (3.0, 6.0, 12.0)
    ]
    worths = {(Dial.HIGH, 3.0): 0.2, (Dial.MEDIUM, 6.0): 0.05}
    ranked = [
        Ranked(
            TrialWorth(t, worths.get((t.dial, t.seconds), 0.0), 0.0, ()), may_be_next(t, (), ladder)
        )
        for t in ladder
    ]
    chosen = stations(ranked)
    assert chosen[0] == trial(Dial.LOW, 3.0)
    assert trial(Dial.HIGH, 3.0) in chosen
    for place in range(1, len(chosen)):
        assert may_be_next(chosen[place], chosen[:place], ladder)
    assert len(chosen) <= 4
