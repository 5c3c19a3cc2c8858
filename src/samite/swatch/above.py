"""Pressings above what label and limits allow: one dot, on a scrap, and only after the card's own went well."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from samite.press.decide import bar, technique_of
from samite.press.dials import Dial
from samite.press.iron_fit import iron_bar
from samite.press.pressing import Placement
from samite.press.recipe import Recipe
from samite.press.techniques import Technique
from samite.press.window import press_runs, seam_of, usual_bench
from samite.swatch.candidates import trial_at
from samite.swatch.caution import at_least_as_hot, read_cautions
from samite.swatch.decision import PressChoice, TrialWorth, press_choice, worth_of_trial
from samite.swatch.exposure import Exposure, exposures
from samite.swatch.ranking import HARDLY
from samite.swatch.strata import record_chances
from samite.swatch.trial import PressTrial, Swatch
from samite.swatch.value import expected_utilities, joint_utilities

if TYPE_CHECKING:
    from samite.swatch.update import Learnt

STEPS_S = (1.0, 2.0, 4.0)
"""Seconds of the steps, the shortest first [s]."""


@dataclass(frozen=True, slots=True)
class Above:
    """A pressing one dot above the card.

    Parameters
    ----------
    worth : TrialWorth
        What it is worth: the card may go there only if it goes well.
    now : bool
        Whether it may be made now: the card's own setting went well, and so did each shorter step.
    """

    worth: TrialWorth
    now: bool


def hotter_technique(recipe: Recipe, learnt: Learnt) -> Technique | None:
    """Return the recipe's own last pass, one dot hotter.

    Parameters
    ----------
    recipe : Recipe
        How it is to be pressed.
    learnt : Learnt
        What is known, with the iron.

    Returns
    -------
    Technique or None
        None where nothing is pressed, it is the hottest already, the iron cannot, or more than the
        dial stands against it.
    """
    if not recipe.passes:
        return None
    main = technique_of(recipe.passes[-1], recipe)
    up = {Dial.LOW: Dial.MEDIUM, Dial.MEDIUM: Dial.HIGH}.get(main.iron)
    if main.hovers or up is None or bar(recipe, main):
        return None
    found = replace(main, iron=up)
    return None if iron_bar(learnt.asked.iron, found) else found


def steps_above(
    learnt: Learnt, choice: PressChoice, recipe: Recipe, order: str, swatches: Sequence[Swatch]
) -> list[Above]:
    """Return the pressings one dot above the card that may be worth a scrap, by cautious steps.

    Parameters
    ----------
    learnt : Learnt
        What is known so far.
    choice : PressChoice
        What they may better.
    recipe : Recipe
        The recipe from limits.
    order : str
        How the seam lies.
    swatches : sequence of Swatch
        What was tried on this cloth.

    Returns
    -------
    list of Above
        The shortest first; none where a swatch was hurt at no more, or no step would better the
        choice. What went well already is not among them.

    Notes
    -----
    After a step that goes well the choice may take that technique for no longer; after one that
    does not, only what it could take before.

    References
    ----------
    raiffa-schlaifer-1961, chapter 4.
    """
    hot = hotter_technique(recipe, learnt)
    if hot is None:
        return []
    caution = read_cautions(recipe, swatches, learnt.asked.iron_key)
    if any(at_least_as_hot(hot, failure) for failure in caution.failures):
        return []
    well = [item.press for item in caution.successes if item.press]
    trials = [trial_at(hot, seconds, recipe) for seconds in STEPS_S]
    trials = [trial for trial in trials if not any(_covered(trial, one) for one in well)]
    iron, pool = learnt.asked.iron, choice.strata.pool
    pace = np.ones(pool.count) if pool.pace is None else pool.pace
    told = exposures(learnt.asked.cloth, [(trial, iron, pool, pace) for trial in trials])
    hotter = _hotter_choice(learnt, choice, recipe, order, hot)
    found = [
        Above(_worth(trial, exposure, choice, hotter), _now(trial, well, recipe))
        for trial, exposure in zip(trials, told, strict=True)
    ]
    return [one for one in found if one.worth.worth > HARDLY]


def _covered(trial: PressTrial, well: PressTrial) -> bool:
    same = (trial.dial, trial.steam, trial.press_cloth, trial.side)
    return same == (well.dial, well.steam, well.press_cloth, well.side) and (
        well.seconds >= trial.seconds
    )


def _now(trial: PressTrial, well: Sequence[PressTrial], recipe: Recipe) -> bool:
    """The card's own dial went well for as long; and of a longer step, half of it at this dial."""
    main = technique_of(recipe.passes[-1], recipe)
    own = any(one.dial is main.iron and one.seconds >= trial.seconds for one in well)
    before = [one for one in well if one.dial is trial.dial and 2.0 * one.seconds >= trial.seconds]
    return own and (trial.seconds <= STEPS_S[0] or bool(before))


def _hotter_choice(
    learnt: Learnt, choice: PressChoice, recipe: Recipe, order: str, hot: Technique
) -> PressChoice:
    support = recipe.support if recipe.support != "none" else "board"
    bench = usual_bench(support, learnt.asked.iron)
    seam = seam_of(learnt.asked.cloth, order)
    stroked = recipe.passes[-1].motion == "stroke"
    plan = (Placement(hot, 0.0, stroked=stroked),)
    return press_choice(seam, [press_runs(seam, plan, bench, choice.strata.pool)], choice.strata)


def _worth(
    trial: PressTrial, exposure: Exposure, choice: PressChoice, hotter: PressChoice
) -> TrialWorth:
    """Return what a step is worth: after it went well there is more to choose from."""
    records, table = record_chances(exposure, choice.strata)
    weights = choice.strata.joint_weights
    allowed = [n for n, second in enumerate(hotter.seconds) if second <= trial.seconds]
    base = joint_utilities(weights, choice.utilities, table).max(axis=1)
    more = joint_utilities(weights, hotter.utilities[:, allowed], table).max(axis=1)
    hurt = np.array([any(item.sign.harms for item in record) for record in records])
    after = np.where(hurt, base, np.maximum(base, more))
    worth = float(after.sum()) - float(expected_utilities(weights, choice.utilities).max())
    told = worth_of_trial(trial, exposure, choice)
    return replace(told, worth=max(worth, 0.0))
