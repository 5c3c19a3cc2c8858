"""What is told of a plan that was chosen for its luck: plans of known harm, estimated on few draws."""

from __future__ import annotations

import numpy as np
from scipy import stats

from samite.press.dials import Dial
from samite.press.techniques import Technique
from samite.press.told import careful, told_apart
from samite.press.window import BOUND_SCORE, Chances

TRUE, DRAWS, PLANS = 0.03, 200, 12
TECHNIQUE = Technique(Dial.MEDIUM, "none", "dry", "wrong")


def estimated(generator: np.random.Generator, *, set_at: float = 0.97) -> Chances:
    """Judge plans that are all alike on so many draws, one a second of the last pass."""
    hurts = generator.beta(0.5, 0.5 * (1.0 - TRUE) / TRUE, (DRAWS, PLANS))
    damage, error = hurts.mean(axis=0), hurts.std(axis=0) / np.sqrt(DRAWS)
    sets, seconds = np.full(PLANS, set_at), tuple(float(s) for s in range(1, PLANS + 1))
    bound, warm = damage + BOUND_SCORE * error, np.zeros((PLANS, 3))
    good = sets * (1.0 - damage)
    return Chances(TECHNIQUE, seconds, sets, damage, bound, good, warm, warm, ("", ""))


def test_what_is_told_is_not_the_luck_that_chose() -> None:
    """The least of twelve estimates is far too low; on other draws it is true, told it is over."""
    generator = np.random.default_rng(4)
    rows = []
    for _ in range(200):
        chooser, again = estimated(generator), estimated(generator)
        best = int(chooser.chance_damage.argmin())
        _, told = told_apart(chooser, again)
        rows.append([one.chance_damage[best] for one in (chooser, again, told)])
    lucky, apart, stated = np.array(rows).T
    room = 3.0 * stats.sem(apart)
    assert lucky.mean() < TRUE - 3.0 * room
    assert abs(apart.mean() - TRUE) < room
    assert stated.mean() > TRUE
    assert 0.7 < (stated >= TRUE).mean() < 0.95  # one standard error: five cases of six


def test_a_window_holds_only_what_both_draws_allow() -> None:
    fine = np.full(PLANS, 0.005)
    chooser, again = (estimated(np.random.default_rng(seed)) for seed in (1, 2))
    chooser.damage_bound[:], again.damage_bound[:] = fine, fine
    chooser.damage_bound[:3], again.damage_bound[8:] = 0.02, 0.02
    assert (chooser.window_s, again.window_s) == ((4.0, 12.0), (1.0, 8.0))
    assert [one.window_s for one in told_apart(chooser, again)] == [(4.0, 8.0)] * 2
    assert careful(again).window_s == (1.0, 8.0)
