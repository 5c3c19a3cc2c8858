"""The measured dial against a conjugate normal, a slow grid, and irons drawn at random."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from scipy import stats

from samite.garment.bench import MeasuredDial, StripReading
from samite.kernel.evidence import Evidence, Grade
from samite.kernel.quantity import Z95, Quantity
from samite.swatch.iron_check import check_iron, sole_grid, swing_grid
from samite.tables.irons import Iron, household_iron, probe_error

GUESS = Evidence("guess", Grade.GUESS)
OFFSET, SCATTER, STRIP = (probe_error(kind).value / Z95 for kind in ("offset", "scatter", "strip"))


def known_iron(sole_c: Quantity, swing_c: Quantity) -> Iron:
    usual = household_iron()
    settings = tuple(
        replace(item, sole_c=sole_c) if item.key == "medium" else item for item in usual.settings
    )
    return replace(usual, settings=settings, swing_c=swing_c)


def quantity(value: float, low: float, high: float) -> Quantity:
    return Quantity(value, low, high, "C", GUESS)


STILL = quantity(0.01, 0.009, 0.011)
"""A thermostat that hardly swings."""


@pytest.mark.parametrize("readings", [(151.0,), (148.0, 152.5), (147.0, 151.0, 149.5)])
@pytest.mark.parametrize("half", [8.0, 25.0])
def test_without_swing_it_is_the_conjugate_normal(readings: tuple[float, ...], half: float) -> None:
    """The prior stands on a log scale; near 150 C and this narrow it is normal within 0.4 K."""
    prior = quantity(150.0, 150.0**2 / (150.0 + half), 150.0 + half)
    found = check_iron([MeasuredDial("medium", readings)], known_iron(prior, STILL))
    error = math.sqrt(SCATTER**2 / len(readings) + OFFSET**2)
    width = 150.0 * math.log(prior.high / 150.0) / Z95
    precision = 1.0 / width**2 + 1.0 / error**2
    mean = (150.0 / width**2 + np.mean(readings) / error**2) / precision
    exact = stats.norm(mean, 1.0 / math.sqrt(precision))
    sole = found.soles_c["medium"]
    told = (sole.low, sole.value, sole.high)
    assert told == pytest.approx(exact.ppf([0.05, 0.5, 0.95]), abs=0.4)


def slow_posterior(
    item: MeasuredDial, sole_c: Quantity, swing_c: Quantity
) -> tuple[np.ndarray, np.ndarray]:
    """Sum over mean, swing and the probe's offset one by one, on other grids; return means, chances."""
    means = np.arange(105.0, 200.0, 0.8)
    scores = stats.norm.ppf((np.arange(40) + 0.5) / 40.0)
    offsets = OFFSET * stats.norm.ppf((np.arange(31) + 0.5) / 31.0)
    phases = 2.0 * math.pi * (np.arange(90) + 0.37) / 90.0
    prior = np.exp(-0.5 * sole_c.score(means) ** 2) / means
    below = means < sole_c.value
    # A two-piece normal has the same height on both sides of its middle only per unit of score.
    step = np.where(
        below, math.log(sole_c.value / sole_c.low), math.log(sole_c.high / sole_c.value)
    )
    prior = prior / step
    likely = np.zeros_like(means)
    for swing in swing_c.at(scores):
        by_swing = np.ones_like(means)
        if item.readings_c:
            by_swing = np.zeros_like(means)
            for offset in offsets:
                product = np.ones_like(means)
                for reading in item.readings_c:
                    centre = means[:, None] + swing * np.sin(phases) + offset
                    product *= np.exp(-0.5 * ((reading - centre) / SCATTER) ** 2).mean(axis=1)
                by_swing += product
        for strip in item.strips:
            low, high = (strip.above_c - means - swing, strip.below_c - means - swing)
            by_swing = by_swing * (stats.norm.cdf(high, 0, STRIP) - stats.norm.cdf(low, 0, STRIP))
        likely += by_swing
    chances = prior * likely
    return means, chances / chances.sum()


@pytest.mark.parametrize(
    "item",
    [
        MeasuredDial("medium", (150.0,)),
        MeasuredDial("medium", (142.0, 155.0, 150.0)),
        MeasuredDial("medium", (), (StripReading(149.0, 160.0),)),
        MeasuredDial("medium", (144.0, 151.0), (StripReading(154.0, 160.0),)),
    ],
    ids=["one", "three", "strip", "both"],
)
def test_it_is_a_slow_grid_over_mean_swing_and_offset(item: MeasuredDial) -> None:
    sole, swing = quantity(140.0, 118.0, 165.0), quantity(12.0, 6.0, 18.0)
    found = check_iron([item], known_iron(sole, swing)).soles_c["medium"]
    means, chances = slow_posterior(item, sole, swing)
    ever = np.cumsum(chances) - 0.5 * chances
    wanted = [float(np.interp(share, ever, means)) for share in (0.05, 0.5, 0.95)]
    assert (found.low, found.value, found.high) == pytest.approx(wanted, abs=0.5)


def test_the_grids_hold_the_whole_prior() -> None:
    for grid, known in (
        (sole_grid, quantity(140.0, 118.0, 165.0)),
        (swing_grid, quantity(12, 6, 18)),
    ):
        values, chances = grid(known)
        assert chances.sum() == pytest.approx(1.0)
        ever = np.cumsum(chances) - 0.5 * chances
        told = np.interp([0.05, 0.5, 0.95], ever, values)
        assert told == pytest.approx([known.low, known.value, known.high], rel=0.02)


@pytest.mark.parametrize("strips", [False, True], ids=["probe", "strips"])
def test_on_irons_drawn_at_random_the_ranges_hold_the_truth_as_often_as_they_say(
    strips: bool, heavy: Callable[[int], int]
) -> None:
    """Irons from the prior, readings from the model; binomial tests of the 90 % range and the middle."""
    count = heavy(2000)
    generator = np.random.default_rng(11)
    sole, swing = quantity(140.0, 118.0, 165.0), quantity(12.0, 6.0, 18.0)
    iron = known_iron(sole, swing)
    marks = [110.0, 121.0, 132.0, 143.0, 149.0, 160.0, 171.0, 182.0, 193.0, 204.0, 215.0]
    inside, scores = 0, []
    for _ in range(count):
        true_c, half = (float(item.at(generator.standard_normal(1))[0]) for item in (sole, swing))
        if strips:
            hottest = true_c + half + STRIP * generator.standard_normal()
            place = int(np.searchsorted(marks, hottest))
            if not 0 < place < len(marks):
                continue
            item = MeasuredDial("medium", (), (StripReading(marks[place - 1], marks[place]),))
        else:
            phases = generator.uniform(0.0, 2.0 * math.pi, 3)
            offset = OFFSET * generator.standard_normal()
            read = true_c + half * np.sin(phases) + offset + SCATTER * generator.standard_normal(3)
            item = MeasuredDial("medium", tuple(float(np.clip(r, 20.0, 260.0)) for r in read))
        found = check_iron([item], iron).soles_c["medium"]
        inside += found.low <= true_c <= found.high
        scores.append(true_c <= found.value)
    told = len(scores)
    assert stats.binomtest(inside, told, 0.9).pvalue > 0.001, (
        f"{inside} of {told} in the 90 % range"
    )
    assert stats.binomtest(sum(scores), told, 0.5).pvalue > 0.001, "the middle is off"
