"""The choice that a swatch may better: which pressing, and for how many seconds."""

from __future__ import annotations

import math
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from samite.kernel.quantity import Z95
from samite.press.decide import LONGEST_S
from samite.press.dials import Dial
from samite.press.draws import Draws
from samite.press.judge import (
    History,
    Spread,
    damage_chance,
    paced,
    placement_spread,
    read_run,
    set_chance,
)
from samite.press.techniques import Technique
from samite.press.window import PLACEMENT_SHARE, Runs, Seam
from samite.swatch.candidates import heat_order
from samite.swatch.exposure import Exposure
from samite.swatch.seen import Finding
from samite.swatch.strata import STRATA, Strata, reading_chances, record_chances
from samite.swatch.trial import PressTrial
from samite.swatch.value import (
    expected_utilities,
    joint_utilities,
    worth_of_knowing,
    worth_of_test,
)
from samite.tables.irons import Iron, probe_error

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]

HARM_COUNTS = 1.0
"""What a hurt costume costs, where a set and unhurt one brings 1 [-] (a stated default)."""

SECOND_COUNTS = 0.002
"""What each second on one place costs, sixty times over: a minute of work more [1/s] (a guess)."""

TWICE = 2.0
"""Most that a pressing may be longer than one that went well [-]."""


@dataclass(frozen=True, slots=True, eq=False)
class PressChoice:
    """What may be chosen, and what each choice brings in every state of the world.

    Parameters
    ----------
    strata : Strata
        The states.
    techniques : tuple of Technique
        Last pass of each plan.
    seconds : tuple of float
        Seconds that may be counted [s].
    utilities : ndarray of float, shape (states, plans x seconds + 1)
        Chance of set and unhurt on the whole costume less that of harm and a little for each
        second; last, no iron: 0 [-].
    """

    strata: Strata
    techniques: tuple[Technique, ...]
    seconds: tuple[float, ...]
    utilities: Real

    def named(self, place: int) -> tuple[Technique | None, float]:
        """Return what stands at a place of `utilities`.

        Parameters
        ----------
        place : int
            The place [1].

        Returns
        -------
        Technique or None
            The last pass; None for no iron at all.
        float
            Seconds to count [s].
        """
        plan, second = divmod(place, len(self.seconds))
        if plan >= len(self.techniques):
            return None, 0.0
        return self.techniques[plan], self.seconds[second]

    @property
    def best(self) -> tuple[Technique | None, float, float]:
        """Best choice as things stand: last pass, seconds [s] and what it brings [-]."""
        expected = expected_utilities(self.strata.joint_weights, self.utilities)
        place = int(expected.argmax())
        return (*self.named(place), float(expected[place]))

    @property
    def worth_of_knowing(self) -> float:
        """What it would be worth to know every doubt: a bound of any test [-]."""
        return worth_of_knowing(self.strata.joint_weights, self.utilities)


def press_choice(seam: Seam, plans: Sequence[Runs], strata: Strata) -> PressChoice:
    """Judge plans in every state of the world.

    Parameters
    ----------
    seam : Seam
        What is pressed.
    plans : sequence of Runs
        Plans on the draws of the states.
    strata : Strata
        The states.

    Returns
    -------
    PressChoice
        To be weighed against tests.

    Notes
    -----
    Heat, water and spread of placements of a plan do not depend on the limits, so that they are
    read once and every part of the limits is judged on them. A hurt costume costs as much as a
    set and unhurt one brings, `HARM_COUNTS`; long pressing costs work, `SECOND_COUNTS`.
    """
    seconds = tuple(s for s in plans[0].run.seconds[1:] if s <= LONGEST_S)
    with ThreadPoolExecutor(max_workers=2) as pool:
        found = list(pool.map(lambda plan: _in_all_states(seam, plan, strata, len(seconds)), plans))
    none = np.zeros((len(strata.joint_weights), 1))
    utilities = np.concatenate([*found, none], axis=1)
    return PressChoice(strata, tuple(plan.technique for plan in plans), seconds, utilities)


def _in_all_states(seam: Seam, plan: Runs, strata: Strata, count: int) -> Real:
    history, spread_ = _seen(plan, strata.pool, count)
    spent = SECOND_COUNTS * np.array(plan.run.seconds[1 : count + 1])
    rows = []
    for number in range(STRATA):
        below = partial(strata.below, number)
        sets = set_chance(seam.cloth, history, spread_, below)
        hurts = damage_chance(
            seam.cloth,
            seam.parts,
            history,
            spread_,
            plan.bench.support,
            drops=not plan.technique.hovers,
            below=below,
        )
        rows.append(sets * (1.0 - hurts) - HARM_COUNTS * hurts - spent)
    return np.concatenate(rows)


def _seen(plan: Runs, draws: Draws, count: int) -> tuple[History, Spread]:
    """Return what all draws saw up to the longest second, as `chances_by_draw` reads it."""
    history, share = read_run(plan.run), 1.0
    swing = draws.of("thermostat's swing", plan.bench.iron.swing_c)
    if draws.pace is not None:
        history, share = paced(history, plan.run.seconds, draws.pace), PLACEMENT_SHARE
    whole = placement_spread(plan.run, plan.firmer, swing, share)
    shown = History(
        temperatures={name: rows[:, : count + 1] for name, rows in history.temperatures.items()},
        core_water=history.core_water[:, : count + 1],
        core_let_go=history.core_let_go[:, : count + 1],
        pile_water=history.pile_water[:, : count + 1],
        wet_face=history.wet_face[:, : count + 1],
    )
    cut = {name: rows[:, :count] for name, rows in whole.sigma.items()}
    return shown, Spread(cut, {name: rows[:, :count] for name, rows in whole.swing.items()})


@dataclass(frozen=True, slots=True)
class Branch:
    """What one outcome of a trial would lead to.

    Parameters
    ----------
    findings : tuple of Finding
        What would be seen.
    chance : float
        Its chance [-].
    technique : Technique or None
        Best plan's last pass after it; None for no iron.
    seconds : float
        Seconds to count [s].
    """

    findings: tuple[Finding, ...]
    chance: float
    technique: Technique | None
    seconds: float


@dataclass(frozen=True, slots=True)
class TrialWorth:
    """What a trial is worth before it is made.

    Parameters
    ----------
    trial : PressTrial
        The trial.
    worth : float
        Expected gain in the chance of a set and unhurt costume less that of harm [-].
    chance_harm : float
        Chance that the scrap is hurt [-].
    branches : tuple of Branch
        What each outcome would lead to, the likeliest first.
    """

    trial: PressTrial
    worth: float
    chance_harm: float
    branches: tuple[Branch, ...]

    @property
    def changes(self) -> bool:
        """Whether any outcome leads to another choice than the rest."""
        return len({(branch.technique, branch.seconds) for branch in self.branches}) > 1


def worth_of_trial(trial: PressTrial, exposure: Exposure, choice: PressChoice) -> TrialWorth:
    """Return what a trial is worth for a choice.

    Parameters
    ----------
    trial : PressTrial
        The trial.
    exposure : tuple of Reach
        What it puts the cloth to, on the draws of the choice.
    choice : PressChoice
        What it may better.

    Returns
    -------
    TrialWorth
        Never negative; nothing where no outcome changes the choice.

    Notes
    -----
    Pre-posterior analysis over the states and the records that the trial may lead to, misreading
    included, less what a test would seem worth by chance alone (`beyond_chance`). It counts the
    press alone: what a scrap also teaches of the seam comes on top.

    References
    ----------
    raiffa-schlaifer-1961, chapter 4.
    """
    records, table = record_chances(exposure, choice.strata)
    worth = beyond_chance(choice, table)
    branches = _branches(records, table, choice)
    harm = sum(b.chance for b in branches if any(item.sign.harms for item in b.findings))
    return TrialWorth(trial, worth, harm, branches)


def beyond_chance(choice: PressChoice, table: Real) -> float:
    """Return what a test is worth, less what the few draws alone make it seem worth.

    Parameters
    ----------
    choice : PressChoice
        What it may better.
    table : ndarray of float, shape (states, outcomes)
        Chance of each outcome in each state [-].

    Returns
    -------
    float
        Expected gain; never negative [-].

    Notes
    -----
    The same outcomes dealt out to the states at random tell nothing, yet seem worth a little on
    few draws; the mean of `DEALS` such deals is taken off. Errs to a worth a little too small.

    References
    ----------
    raiffa-schlaifer-1961, chapter 4.
    """
    weights = choice.strata.joint_weights
    worth = worth_of_test(weights, choice.utilities, table)
    if worth <= 0.0:
        return 0.0
    generator = np.random.default_rng([choice.strata.seed, table.shape[1]])
    dealt = [
        worth_of_test(weights, choice.utilities, table[generator.permutation(len(table))])
        for _ in range(DEALS)
    ]
    return max(worth - float(np.mean(dealt)), 0.0)


DEALS = 4
"""Deals at random that show what chance alone would seem worth."""


def _branches(
    records: Sequence[tuple[Finding, ...]], table: Real, choice: PressChoice
) -> tuple[Branch, ...]:
    chances = choice.strata.joint_weights @ table
    brought = joint_utilities(choice.strata.joint_weights, choice.utilities, table)
    found = [
        Branch(record, float(chance), *choice.named(int(row.argmax())))
        for record, chance, row in zip(records, chances, brought, strict=True)
    ]
    return tuple(sorted(found, key=lambda branch: -branch.chance))


def worth_of_reading(dial: Dial, iron: Iron, choice: PressChoice) -> float:
    """Return what two or three readings of a sole are worth for a choice.

    Parameters
    ----------
    dial : Dial
        Where the dial would stand.
    iron : Iron
        The iron.
    choice : PressChoice
        What they may better.

    Returns
    -------
    float
        Expected gain, as of a trial; nothing for steam held off [-].

    Notes
    -----
    The mean of three readings, known to the probe's own offset and to where in the thermostat's
    swing they fall.

    References
    ----------
    raiffa-schlaifer-1961, chapter 4.
    """
    if dial is Dial.NONE or all(technique.hovers for technique in choice.techniques):
        return 0.0
    strata = choice.strata
    soles = strata.pool.of("sole temperature at this dial", iron.dial_c(dial.value))
    swing = iron.swing_c.value / math.sqrt(2.0)
    offset, scatter = (probe_error(kind).value / Z95 for kind in ("offset", "scatter"))
    error = math.sqrt(offset**2 + (scatter**2 + swing**2) / READINGS)
    _, table = reading_chances(soles, error)
    return beyond_chance(choice, np.tile(table, (STRATA, 1)))


READINGS = 3
"""Readings of a sole that a check takes."""


def may_be_next(
    trial: PressTrial, went_well: Sequence[PressTrial], candidates: Sequence[PressTrial]
) -> bool:
    """Tell whether a trial is no more than one step hotter than what went well.

    Parameters
    ----------
    trial : PressTrial
        The trial.
    went_well : sequence of PressTrial
        Pressings of this cloth that did no harm.
    candidates : sequence of PressTrial
        All that may be tried.

    Returns
    -------
    bool
        True for one dot more for no longer, or twice the seconds; without any success only for the
        shortest at the coolest position.
    """
    if not went_well:
        first = min(candidates, key=heat_order)
        return trial.dial is first.dial and trial.seconds <= first.seconds
    return any(_one_step(trial, well) for well in went_well)


def _one_step(trial: PressTrial, well: PressTrial) -> bool:
    if trial.dial.dots > well.dial.dots:
        one_dot = trial.dial.dots == well.dial.dots + 1
        return one_dot and trial.seconds <= well.seconds
    return trial.seconds <= TWICE * well.seconds
