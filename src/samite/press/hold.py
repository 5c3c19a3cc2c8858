"""The hold: a clapper, a weight, a hand or nothing on the seam until it stays."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from samite.press.draws import Draws
from samite.press.glass import softest_dry_transition
from samite.press.judge import (
    CONTACT_STEP,
    HERMITE,
    HERMITE_WEIGHTS,
    in_what_opens,
    known,
    placement_spread,
    read_run,
    transition_doubts,
    transitions,
)
from samite.press.pressing import Bench, Placement, hold, press

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from samite.press.window import Seam
    from samite.tables.press_tools import PressTool

    Real = NDArray[np.float64]

HOLD_SECONDS = (1.0, 2.0, 3.0, 5.0, 8.0, 10.0, 15.0, 20.0, 30.0)
"""Seconds of holding at which the seam is asked whether it stays."""

ENOUGH = 0.01
"""How near to its best the chance of a set seam must have come [-]."""


@dataclass(frozen=True, slots=True, eq=False)
class Held:
    """A seam under its hold.

    Parameters
    ----------
    seconds : tuple of float
        Seconds held [s].
    chance_set : ndarray of float, shape (seconds,)
        Chance that it is set if it is let go then [-].
    core_c : ndarray of float, shape (seconds, 3)
        5th, 50th and 95th percentile at the seam line [C].
    """

    seconds: tuple[float, ...]
    chance_set: Real
    core_c: Real

    @property
    def enough_s(self) -> float:
        """From when on holding adds next to nothing [s]."""
        good = self.chance_set >= self.chance_set.max() - ENOUGH
        return self.seconds[int(np.argmax(good))]


def hold_seam(
    seam: Seam, passes: Sequence[Placement], bench: Bench, tool: PressTool | None, draws: Draws
) -> Held:
    """Follow a seam after the iron has left it.

    Parameters
    ----------
    seam : Seam
        What was pressed.
    passes : sequence of Placement
        How, with the seconds of every pass.
    bench : Bench
        Iron, press cloth and support.
    tool : PressTool or None
        What is held on it, bare; None for the air.
    draws : Draws
        Doubts.

    Returns
    -------
    Held
        Chance of a set seam and temperature, second by second.

    Notes
    -----
    A seam is set if it was soft at some second under iron or hold and is stiff when let go: the
    water in it and its temperature are followed, wood takes up both. Placements differ as in
    `press_chances`.

    References
    ----------
    derivation, docs/models/press.md.
    """
    last = (passes[-1].seconds,)
    run = press(seam.plies, passes, last, bench, draws)
    firmer = press(seam.plies, passes, last, bench, draws, firmness=math.exp(CONTACT_STEP))
    swing = draws.of("thermostat's swing", bench.iron.swing_c)
    history, below = read_run(run), known(draws)
    spread_ = placement_spread(run, firmer, swing)
    held = read_run(hold(seam.plies, run, passes[-1], HOLD_SECONDS, bench, tool, draws))
    core = held.temperatures["core"][:, 1:]
    chances = np.zeros(len(HOLD_SECONDS))
    named = zip(transition_doubts(seam.cloth), transitions(seam.cloth), strict=True)
    for name, (transition, accessible, share) in named:
        soft = _soft_before(
            history.temperatures["core"], spread_.sigma["core"], history.core_water, accessible
        )
        now = softest_dry_transition(
            temperature_c=core, water_share=in_what_opens(held.core_water[:, 1:], accessible)
        )
        fails = below(name, transition.score(now))
        for weight, reached in soft:
            softest = np.maximum(reached, np.maximum.accumulate(now, axis=1))
            passed = below(name, transition.score(softest)) - fails
            chances += share * weight * np.clip(passed, 0.0, 1.0).mean(axis=0)
    band = np.percentile(core, (5.0, 50.0, 95.0), axis=0).T
    return Held(HOLD_SECONDS, chances, band)


def _soft_before(
    core: Real, sigma: Real, water: Real, accessible: float
) -> list[tuple[float, Real]]:
    """Return, for three kinds of placement, its weight and the hardest fibre that got soft."""
    share = in_what_opens(water, accessible)
    found = []
    for score, weight in zip(HERMITE, HERMITE_WEIGHTS / HERMITE_WEIGHTS.sum(), strict=True):
        hotter = core.copy()
        hotter[:, 1:] += score * sigma
        reached = softest_dry_transition(temperature_c=hotter, water_share=share)
        found.append((float(weight), reached.max(axis=1, keepdims=True)))
    return found
