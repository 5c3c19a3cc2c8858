"""The weighted draws against many more of the tables, readings against a grid, pace against numpy."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import date

import numpy as np
import pytest
from scipy.stats import norm

from samite.cloth.build import build_cloth
from samite.cloth.label import read_label
from samite.press.dials import Dial
from samite.press.draws import Draws
from samite.press.judge import COUNTING, OWN_PACE_SHARE, History, own_pace, paced
from samite.swatch import study
from samite.swatch.limits import EDGES
from samite.swatch.outcomes import possible_outcomes
from samite.swatch.pool import (
    Stage,
    directions_of,
    next_stage,
    prior_over_taken,
    take,
    to_weights,
    worth,
)
from samite.swatch.seen import Finding, Sign
from samite.swatch.soles import log_of_readings
from samite.swatch.trial import PressTrial, Swatch
from samite.swatch.update import Asked, learn
from samite.tables.irons import household_iron

CLOTH = build_cloth(read_label("polyester satin, 150 g/m2"))
DAY = date(2031, 2, 3)


def swatch(dial: Dial, seconds: float, *signs: Sign, sole_c: float | None = None) -> Swatch:
    trial = PressTrial(dial, "none", "none", "wrong", seconds, sole_c=sole_c)
    return Swatch("cloth", DAY, tuple(Finding(sign) for sign in signs), press=trial)


def test_draws_taken_where_the_evidence_lies_agree_with_many_of_the_tables(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Three stages of 192 against 4,000 draws that were never moved."""
    book = [
        swatch(Dial.MEDIUM, 5.0, Sign.SET_FLAT, sole_c=150.0),
        swatch(Dial.HIGH, 3.0, Sign.SET_FLAT),
        swatch(Dial.HIGH, 8.0, Sign.SET_FLAT, Sign.SHINE),
    ]
    monkeypatch.setattr(study, "WORTH_WANTED", 1e9)
    monkeypatch.setattr(study, "MOST_STAGES", 3)
    few = learn(Asked(CLOTH, household_iron()), book)
    assert len(few.study.parts) == 3
    monkeypatch.setattr(study, "MOST_STAGES", 1)
    monkeypatch.setattr(study, "FIRST_DRAWS", 4000)
    many = learn(Asked(CLOTH, household_iron()), book)
    for doubt in ("sole temperature at this dial", "contact of iron and cloth"):
        one, other = (item.weights @ item.study.draws.score(doubt) for item in (few, many))
        assert one == pytest.approx(other, abs=0.2)
    for index in range(len(many.study.limits.doubts)):
        one, other = (item.weights @ item.study.limits.below[index] for item in (few, many))
        assert np.abs(one - other).max() < 0.06


def test_moved_draws_give_back_a_known_mean() -> None:
    """A normal doubt seen with normal error: the answer stands in every handbook (conjugate)."""
    seen, error, count = 2.5, 0.3, 300
    first = Draws(count, 1)
    scores = np.stack([first.score("a"), first.score("b")], axis=1)
    directions = directions_of(scores, scores[:, :1], np.ones(1))
    assert abs(directions[0, 0]) > 0.95
    along, stages = scores @ directions, [Stage(count, np.zeros(2), np.eye(2))]

    def log(draws: np.ndarray) -> np.ndarray:
        return -0.5 * ((seen - draws) / error) ** 2

    stage = next_stage(along, log(first.score("a")), count)
    moved = take(stage, 5)(Draws(count, 5), ("a", "b"), directions)
    both = np.concatenate([first.score("a"), moved.score("a")])
    other = np.concatenate([first.score("b"), moved.score("b")])
    along = np.stack([both, other], axis=1) @ directions
    weights = to_weights(log(both) + prior_over_taken(along, [*stages, stage]))
    assert worth(weights) > 60.0
    variance = 1.0 / (1.0 + 1.0 / error**2)
    assert weights @ both == pytest.approx(variance * seen / error**2, abs=0.05)
    assert weights @ both**2 - (weights @ both) ** 2 == pytest.approx(variance, rel=0.35)
    assert weights @ other == pytest.approx(0.0, abs=0.15)


def test_a_reading_of_the_sole_agrees_with_its_grid() -> None:
    iron = replace(
        household_iron(), swing_c=replace(household_iron().swing_c, low=6.0, value=6.0, high=6.0)
    )
    trial = PressTrial(Dial.MEDIUM, "none", "dry", "wrong", 4.0, sole_c=150.0)
    draws = Draws(4000, 2)
    weights = to_weights(log_of_readings(draws, iron, trial))
    dial = iron.dial_c("medium")
    scores = np.linspace(-6.0, 6.0, 4001)
    sole = dial.at(scores)
    spread = math.sqrt(3.0**2 + 6.0**2 / 2.0)  # probe and swing, docs/models/swatch.md
    said = 0.97 * norm.pdf(150.0, sole, spread) + 0.03 * norm.pdf(150.0, sole, 60.0)
    density = norm.pdf(scores) * said
    mean = (density * sole).sum() / density.sum()
    found = draws.of("sole temperature at this dial", dial)
    assert weights @ found == pytest.approx(mean, abs=0.3)


def test_pace_reads_histories_as_numpy_does() -> None:
    generator = np.random.default_rng(3)
    seconds = (0.0, 1.0, 2.0, 4.0, 8.0)
    rows = generator.random((6, 5)).cumsum(axis=1)
    pace = own_pace(generator.standard_normal(6))
    spread = math.log(COUNTING.high / COUNTING.value) / 1.6448536269514722
    assert own_pace(np.array([1.0]))[0] == pytest.approx(
        math.exp(spread * math.sqrt(OWN_PACE_SHARE))
    )
    history = History({"core": rows}, rows, rows, rows, rows > 1.0)
    found = paced(history, seconds, pace)
    for row, factor, read in zip(rows, pace, found.temperatures["core"], strict=True):
        assert read == pytest.approx(np.interp(np.array(seconds) * factor, seconds, row))


def test_outcomes_agree_with_drawing_them() -> None:
    """Ten thousand records drawn from the beliefs by hand: shares of unharmed and flat."""
    learnt = learn(Asked(CLOTH, household_iron()), [swatch(Dial.HIGH, 3.0, Sign.SET_FLAT)])
    trial = PressTrial(Dial.HIGH, "none", "none", "wrong", 6.0)
    exposure = learnt.study.exposed(trial, "")
    found = possible_outcomes(exposure, learnt.study.limits, learnt.weights)
    generator = np.random.default_rng(11)
    rows = generator.choice(len(learnt.weights), 10_000, p=learnt.weights)
    harmed, flat = np.zeros(10_000, bool), np.zeros(10_000, bool)
    for reach in exposure:
        table = learnt.study.limits.below[learnt.study.limits.doubts.index(reach.doubt)]
        score = np.array(
            [
                np.interp(u, t, EDGES)
                for u, t in zip(generator.random(10_000), table[rows], strict=True)
            ]
        )
        under = score + reach.width[rows] * generator.standard_normal(10_000) < reach.upper[rows]
        acts = under & (score >= reach.lower[rows])
        if reach.hurt == "set":
            flat = acts & (generator.random(10_000) >= 0.1)
        else:
            harmed |= acts
    for state, share in ((True, harmed.mean()), (False, 1.0 - harmed.mean())):
        told = sum(o.chance for o in found if state == any(f.sign.harms for f in o.findings))
        misread = (
            0.03 * sum(state == any(f.sign.harms for f in o.findings) for o in found) / len(found)
        )
        assert told == pytest.approx(0.97 * share + misread, abs=0.02)
    lies = sum(o.chance for o in found if any(f.sign is Sign.SET_FLAT for f in o.findings))
    assert lies == pytest.approx(0.97 * flat.mean() + 0.03 * 0.5, abs=0.02)
