"""A wrong label: against the mixture summed by brute force, and on cloths that are not what is said."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.stats import norm
from tests.oracles.swatch.test_posterior_oracles import FINE, SHINE, chance, reach
from tests.swatches import plain_press, plain_swatch

from samite.cloth.build import build_cloth
from samite.cloth.label import read_label
from samite.press.dials import Dial
from samite.press.weakness import weaknesses
from samite.swatch.limits import EDGES, learn_limits
from samite.swatch.packing import pack
from samite.swatch.records import read_record
from samite.swatch.seen import Finding, Sign
from samite.swatch.trial import Swatch
from samite.swatch.update import Asked, Learnt, learn
from samite.swatch.wrong_label import CLASSES, label_doubts, priors_of, wrong_share
from samite.tables.irons import household_iron
from samite.tables.press_limits import press_limits

SATIN = build_cloth(read_label("polyester satin, 150 g/m2"))
WRONG = 0.03
"""The chance that docs/models/swatch.md states."""


def test_a_limit_with_a_wrong_label_agrees_with_its_grid() -> None:
    """Shine three times far under the label's limit: 97 parts of its own, 3 of eleven others'."""
    part = next(one for one in weaknesses(SATIN) if one.hurt == "glazes")
    grid = np.linspace(-19.9, 19.9, 3981)
    limits = press_limits()
    at = part.limit_c.at(grid)
    others = [limits[name] for name in CLASSES if name in limits and name != "polyester"]
    shapes = []
    for other in others:
        density = np.gradient(norm.cdf(other.score(at)), grid)
        shapes.append(density / density.sum())
    own = norm.pdf(grid) / norm.pdf(grid).sum()
    prior = (1.0 - WRONG) * own + WRONG * np.mean(shapes, axis=0)
    story = [(-2.5, SHINE), (-2.0, SHINE), (-2.8, SHINE), (-4.5, FINE)]
    density = prior.copy()
    records = []
    for upper, seen in story:
        density *= chance(seen, norm.cdf((upper - grid) / 0.3))
        exposure = (reach(upper, 0.3, part.doubt),)
        records.append((exposure, [(read_record(exposure, seen), 1)]))
    found = learn_limits(pack(records), 1, {}, 1, priors_of(SATIN))
    expected = np.interp(EDGES, grid, np.cumsum(density) / density.sum())
    assert np.abs(found.below[0, 0] - expected).max() < 0.02
    assert wrong_share() == WRONG


def melted(dial: Dial, count: int) -> list[Swatch]:
    press = plain_press(dial=dial, press_cloth="none", seconds=6.0)
    return [plain_swatch(findings=(Finding(Sign.MELTED),), press=press)] * count


def taught(swatches: list[Swatch]) -> Learnt:
    return learn(Asked(SATIN, household_iron()), swatches)


def test_several_clear_swatches_move_a_wrong_label_and_one_does_not_settle_it() -> None:
    once, thrice = taught(melted(Dial.MEDIUM, 1)), taught(melted(Dial.MEDIUM, 3))
    first = sum(item.chance for item in once.label_doubts)
    (doubt,) = thrice.label_doubts
    assert first < 0.5
    assert 0.9 < doubt.chance < 1.0
    assert doubt.before == WRONG
    low = {name for name, limit in press_limits().items() if limit.value < 150.0}
    assert {name for name, _ in doubt.like[:2]} <= low  # it melts where those do
    limit = next(item for item in thrice.moved if "glazes" in item.doubt)
    assert limit.after[1] < limit.before[0]


@pytest.mark.parametrize("count", [0, 3])
def test_swatches_that_agree_leave_the_label_alone(count: int) -> None:
    press = plain_press(dial=Dial.MEDIUM, seconds=4.0)
    learnt = taught([plain_swatch(press=press)] * count)
    assert label_doubts(learnt.study, SATIN) == ()
