"""The choice that a swatch may better: which pressing, and for how many seconds."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from samite.press.decide import LONGEST_S
from samite.press.techniques import Technique
from samite.press.window import Runs, Seam, chances_by_draw
from samite.swatch.candidates import heat_order
from samite.swatch.seen import Finding
from samite.swatch.trial import PressTrial
from samite.swatch.value import worth_of_branches

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from samite.press.draws import Draws
    from samite.swatch.update import Learnt

    Real = NDArray[np.float64]

HARM_COUNTS = 1.0
"""What a hurt costume costs, where a set and unhurt one brings 1 [-] (a stated default)."""

TWICE = 2.0
"""Most that a pressing may be longer than one that went well [-]."""


@dataclass(frozen=True, slots=True, eq=False)
class PressChoice:
    """What may be chosen: plans that are computed on one pool of draws.

    Parameters
    ----------
    seam : Seam
        What is pressed.
    plans : tuple of Runs
        One a plan, all on the same draws.
    """

    seam: Seam
    plans: tuple[Runs, ...]

    @property
    def seconds(self) -> tuple[float, ...]:
        """Seconds that may be counted, none longer than anyone holds an iron [s]."""
        return tuple(s for s in self.plans[0].run.seconds[1:] if s <= LONGEST_S)

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
        if plan >= len(self.plans):
            return None, 0.0
        return self.plans[plan].technique, self.seconds[second]

    def utilities(self, draws: Draws, weights: Real) -> Real:
        """Return what every plan at every number of seconds is expected to bring.

        Parameters
        ----------
        draws : Draws
            The pool, with what is known of limits.
        weights : ndarray of float, shape (draws,)
            What each draw counts, summing to 1 [-].

        Returns
        -------
        ndarray of float, shape (plans x seconds + 1,)
            Chance of set and unhurt on the whole costume less that of harm; last, no iron: 0.
        """
        rows = []
        count = len(self.seconds)
        for plan in self.plans:
            sets, hurts, _ = chances_by_draw(self.seam, plan, draws)
            good = sets[:, :count] * (1.0 - hurts[:, :count])
            rows.append(weights @ (good - HARM_COUNTS * hurts[:, :count]))
        return np.append(np.concatenate(rows), 0.0)


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


def worth_of_trial(learnt: Learnt, trial: PressTrial, choice: PressChoice) -> TrialWorth:
    """Return what a trial is worth for a choice.

    Parameters
    ----------
    learnt : Learnt
        What is known so far.
    trial : PressTrial
        The trial.
    choice : PressChoice
        What it may better.

    Returns
    -------
    TrialWorth
        Never negative; nothing where no outcome changes the choice.

    Notes
    -----
    Pre-posterior analysis over the draws of the press and the records that the trial may lead to,
    misreading included. It counts the press alone: what a scrap also teaches of the seam comes on
    top. Few draws err to a worth that is a little too large.

    References
    ----------
    raiffa-schlaifer-1961, chapter 4.
    """
    outcomes = learnt.outcomes(trial)
    chances = np.array([outcome.chance for outcome in outcomes])
    chances = chances / chances.sum()
    rows = []
    for outcome in outcomes:
        after = learnt.after(trial, outcome.findings)
        rows.append(choice.utilities(after.pool, after.weights))
    table = np.stack(rows)
    branches = tuple(
        Branch(outcome.findings, float(chance), *choice.named(int(row.argmax())))
        for outcome, chance, row in zip(outcomes, chances, table, strict=True)
    )
    harm = sum(b.chance for b in branches if any(item.sign.harms for item in b.findings))
    return TrialWorth(trial, worth_of_branches(chances, table), harm, branches)


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
