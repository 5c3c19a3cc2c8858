"""What is learnt against brute force: Bayes' rule summed on fine grids, written from the rule alone."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from scipy.stats import norm

from samite.press.draws import Draws
from samite.swatch.exposure import NEVER, Exposure, Reach
from samite.swatch.limits import EDGES, KnownLimits, learn_limits, what_each_says
from samite.swatch.owners import kind_share
from samite.swatch.packing import pack
from samite.swatch.pool import to_weights
from samite.swatch.records import read_record
from samite.swatch.seen import Finding, Sign, Sureness
from samite.swatch.study import through

GRID = np.linspace(-6.0, 6.0, 1201)
PRIOR = norm.pdf(GRID)
MISREAD, DOUBTFUL, UNSAID = 0.03, 0.15, 0.1
"""The chances that docs/models/swatch.md states."""

FINE = (Finding(Sign.NOTHING),)
SHINE = (Finding(Sign.SHINE),)
PERHAPS = (Finding(Sign.SHINE, Sureness.DOUBTFUL),)


def reach(
    upper: np.ndarray | float, width: float, doubt: str = "limit", hurt: str = "glazes"
) -> Reach:
    edge = np.atleast_1d(np.asarray(upper, dtype=np.float64))
    return Reach(doubt, hurt, edge, np.full_like(edge, NEVER), np.full_like(edge, width), 1.0)


def learnt(said: list[tuple[Exposure, tuple[Finding, ...]]], draws: int = 1) -> KnownLimits:
    records = [(exposure, [(read_record(exposure, seen), 1)]) for exposure, seen in said]
    return learn_limits(pack(records), draws, {}, 1)


def chance(seen: tuple[Finding, ...], hurt: np.ndarray) -> np.ndarray:
    """Chance of a record of one way of being hurt, from the rule as it is documented."""
    finding = seen[0]
    said = hurt if finding.sign is Sign.SHINE else 1.0 - hurt
    wrong = DOUBTFUL if finding.sureness is Sureness.DOUBTFUL else 0.0
    said = (1.0 - wrong) * said + wrong * (1.0 - said)
    return (1.0 - MISREAD) * said + MISREAD * 0.5


def below(density: np.ndarray, at: np.ndarray) -> np.ndarray:
    mass = np.cumsum(density) - 0.5 * density
    return np.interp(at, GRID, mass / density.sum())


@pytest.mark.parametrize(
    "story",
    [
        [(-1.0, FINE)],
        [(-0.5, FINE), (0.7, SHINE)],
        [(0.4, FINE), (-0.6, SHINE), (0.9, FINE)],
        [(0.2, PERHAPS), (1.5, SHINE), (-1.0, FINE), (-0.2, FINE)],
        [(-1.0, FINE)] * 5 + [(1.0, SHINE)] * 7,
    ],
    ids=["one", "two", "contradicted", "doubtful", "many"],
)
def test_one_limit_agrees_with_its_grid(story: list[tuple[float, tuple[Finding, ...]]]) -> None:
    width = 0.3
    found = learnt([((reach(upper, width),), seen) for upper, seen in story])
    density = PRIOR.copy()
    for upper, seen in story:
        density *= chance(seen, norm.cdf((upper - GRID) / width))
    assert np.abs(found.below[0, 0] - below(density, EDGES)).max() < 2e-3
    expected = math.log(density.sum() / PRIOR.sum())
    assert found.log_chance[0] == pytest.approx(expected, abs=0.15)


def test_a_limit_and_the_heat_agree_with_their_grid() -> None:
    """Heat in doubt too: what a draw of it counts, and the limit with it."""
    story = [(-0.6, FINE), (0.9, SHINE), (0.1, FINE), (1.3, SHINE)]
    slope, width, count = 0.8, 0.25, 512
    heat = Draws(count, 3).score("sole")
    found = learnt([((reach(a + slope * heat, width),), seen) for a, seen in story], count)
    weights = to_weights(found.log_chance)
    joint = PRIOR[:, np.newaxis] * PRIOR[np.newaxis, :]
    for a, seen in story:
        upper = a + slope * GRID[:, np.newaxis]
        joint = joint * chance(seen, norm.cdf((upper - GRID[np.newaxis, :]) / width))
    of_heat, of_limit = joint.sum(axis=1), joint.sum(axis=0)
    mean = (of_heat * GRID).sum() / of_heat.sum()
    spread = math.sqrt((of_heat * GRID**2).sum() / of_heat.sum() - mean**2)
    assert weights @ heat == pytest.approx(mean, abs=0.02)
    assert math.sqrt(weights @ heat**2 - (weights @ heat) ** 2) == pytest.approx(spread, abs=0.02)
    assert np.abs(weights @ found.below[0] - below(of_limit, EDGES)).max() < 0.01


@pytest.mark.parametrize("seen", [SHINE, FINE], ids=["shine", "nothing"])
def test_two_limits_behind_one_sign_agree_with_their_grid(seen: tuple[Finding, ...]) -> None:
    """Shine may come from either part: the two limits then have something in common."""
    width, count = 0.3, 400
    ones = np.ones(count)

    def both(one: float, other: float) -> Exposure:
        return reach(one * ones, width, "one"), reach(other * ones, width, "other")

    found = learnt([(both(0.3, -0.4), seen), (both(-0.8, -0.2), FINE)], count)
    one, other = GRID[:, np.newaxis], GRID[np.newaxis, :]
    joint = PRIOR[:, np.newaxis] * PRIOR[np.newaxis, :]
    for (a, b), what in (((0.3, -0.4), seen), ((-0.8, -0.2), FINE)):
        spared = (1.0 - norm.cdf((a - one) / width)) * (1.0 - norm.cdf((b - other) / width))
        joint = joint * chance(what, 1.0 - spared)
    weights = to_weights(found.log_chance)
    for index, density in enumerate((joint.sum(axis=1), joint.sum(axis=0))):
        assert np.abs(weights @ found.below[index] - below(density, EDGES)).max() < 0.01


def test_a_seam_and_a_limit_in_one_record_agree_with_their_grid() -> None:
    """A record that is misread is so as a whole: it ties the limit to the transition."""
    width, count = 0.3, 400
    ones = np.ones(count)
    flat = replace(reach(-0.5 * ones, width, "transition", "set"), lower=-3.0 * ones)
    exposure = (reach(0.4 * ones, width), flat)
    seen = (Finding(Sign.SHINE), Finding(Sign.SET_FLAT))
    found = learnt([(exposure, seen)], count)
    hurt = norm.cdf((0.4 - GRID) / width)[:, np.newaxis]
    sets = np.clip(norm.cdf((-0.5 - GRID) / width) - (GRID < -3.0), 0.0, 1.0)[np.newaxis, :]
    joint = PRIOR[:, np.newaxis] * PRIOR[np.newaxis, :]
    joint = joint * ((1.0 - MISREAD) * hurt * (1.0 - UNSAID) * sets + MISREAD * 0.5 * 0.5)
    weights = to_weights(found.log_chance)
    for doubt, density in (("limit", joint.sum(axis=1)), ("transition", joint.sum(axis=0))):
        table = weights @ found.below[found.doubts.index(doubt)]
        assert np.abs(table - below(density, EDGES)).max() < 0.01


def test_cloths_of_a_kind_agree_with_their_grid() -> None:
    """Two cloths alike, through what the kind has in common: three scores summed by brute force."""
    share, width = kind_share(), 0.3
    grid = np.linspace(-5.0, 5.0, 161)
    own, kind = grid[:, np.newaxis], grid[np.newaxis, :]
    root, rest = math.sqrt(share), math.sqrt(1.0 - share)
    given = norm.pdf((own - root * kind) / rest)
    total = norm.pdf(grid)
    for upper, seen in ((-0.8, SHINE), (-0.3, SHINE)):
        said = chance(seen, norm.cdf((upper - grid) / width))[:, np.newaxis]
        total = total * (given * said).sum(axis=0) / given.sum(axis=0)
    target = (given * total).sum(axis=1)
    density = np.interp(GRID, grid, target)
    spoken = 0.0
    for upper, seen in ((-0.8, SHINE), (-0.3, SHINE)):
        exposure = (reach(upper, width),)
        packed = pack([(exposure, [(read_record(exposure, seen), 1)])])
        spoken = spoken + through(what_each_says(packed, 1)[0], root)
    told = through(np.asarray(spoken), root)
    found = learn_limits(pack([], ("limit",)), 1, {"limit": told}, 1)
    assert np.abs(found.below[0, 0] - below(density, EDGES)).max() < 6e-3
    assert (
        found.below[0, 0, np.searchsorted(EDGES, -1e-9)] > 0.75
    )  # wiser than the even chance of the table
