"""Which pressings of a scrap are worth most, and which of them fill the slip."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from samite.kernel.errors import InputError
from samite.press.decide import bar, technique_of
from samite.press.iron_fit import iron_bar
from samite.press.pressing import Bench, Placement
from samite.press.recipe import Recipe
from samite.press.techniques import Technique, all_techniques
from samite.press.window import Runs, Seam, press_runs, seam_of, usual_bench
from samite.swatch.candidates import heat_order, press_candidates
from samite.swatch.decision import (
    PressChoice,
    TrialWorth,
    may_be_next,
    press_choice,
    worth_of_trial,
)
from samite.swatch.exposure import exposures
from samite.swatch.slip import MOST_STATIONS, STATION_CM, STATION_MINUTES
from samite.swatch.strata import Strata
from samite.swatch.trial import PressTrial, Swatch
from samite.tables.irons import Iron

if TYPE_CHECKING:
    from samite.swatch.update import Learnt

POOL = 256
"""Draws of what is known that choice and tests are weighed on."""

MOST_TECHNIQUES = 6
"""Techniques that the choice is made among; more hardly change a worth."""

Progress = Callable[[int, int], None]


@dataclass(frozen=True, slots=True)
class Ranked:
    """A trial in its place.

    Parameters
    ----------
    worth : TrialWorth
        What it is worth.
    now : bool
        Whether it may be made now: no more than one step hotter than what went well.
    """

    worth: TrialWorth
    now: bool

    @property
    def per_minute(self) -> float:
        """What a minute of it is worth [-]."""
        return self.worth.worth / STATION_MINUTES

    @property
    def per_cm(self) -> float:
        """What a centimetre of seam is worth [-]."""
        return self.worth.worth / STATION_CM


def choice_of(learnt: Learnt, recipe: Recipe, order: str, seed: int = 1) -> PressChoice:
    """Press the plans that the choice is made among, once, on draws of what is known.

    Parameters
    ----------
    learnt : Learnt
        What is known so far.
    recipe : Recipe
        The recipe from limits: it bars techniques, and names support and motion.
    order : str
        How the seam lies.
    seed : int
        Seed of the draws.

    Returns
    -------
    PressChoice
        To be weighed against every test.

    Raises
    ------
    InputError
        If nothing may be pressed.
    """
    iron = learnt.asked.iron
    wanted = open_techniques(recipe, iron)
    if not wanted:
        raise InputError("no iron comes near this cloth", "label", "there is nothing to choose")
    seam: Seam = seam_of(learnt.asked.cloth, order)
    support = recipe.support if recipe.support != "none" else "board"
    bench: Bench = usual_bench(support, iron)
    stroked = recipe.passes[-1].motion == "stroke"
    pool = learnt.draws_of(POOL, seed)

    def pressed(technique: Technique) -> Runs:
        return press_runs(seam, (Placement(technique, 0.0, stroked=stroked),), bench, pool)

    with ThreadPoolExecutor(max_workers=2) as threads:
        plans = list(threads.map(pressed, wanted))
    return press_choice(seam, plans, Strata(pool, np.full(POOL, 1.0 / POOL), seed))


def open_techniques(recipe: Recipe, iron: Iron) -> tuple[Technique, ...]:
    """Return the techniques among which is chosen.

    Parameters
    ----------
    recipe : Recipe
        The recipe from limits.
    iron : Iron
        The iron at hand.

    Returns
    -------
    tuple of Technique
        Those that neither bars, at most `MOST_TECHNIQUES`, the recipe's own first and then those
        most like it; empty where nothing is pressed.
    """
    if not recipe.passes:
        return ()
    main = technique_of(recipe.passes[-1], recipe)
    found = [t for t in all_techniques() if not (iron_bar(iron, t) or bar(recipe, t))]

    def unlike(item: Technique) -> tuple[int, int, int]:
        other_cloth = int(item.press_cloth != main.press_cloth)
        other_steam = int(item.steam != main.steam)
        return (
            abs(item.iron.dots - main.iron.dots) + other_steam + other_cloth,
            other_cloth,
            other_steam,
        )

    return tuple(sorted(found, key=unlike)[:MOST_TECHNIQUES])


def rank_trials(
    learnt: Learnt,
    choice: PressChoice,
    recipe: Recipe,
    swatches: Sequence[Swatch] = (),
    progress: Progress | None = None,
) -> list[Ranked]:
    """Rank the pressings that may be worth a scrap.

    Parameters
    ----------
    learnt : Learnt
        What is known so far.
    choice : PressChoice
        What they may better.
    recipe : Recipe
        How the cloth is to be pressed.
    swatches : sequence of Swatch
        What was tried on this cloth; those set aside are left out.
    progress : callable or None
        Told how many of how many are done.

    Returns
    -------
    list of Ranked
        First those that may be made now, best by the minute first; among equals the coolest. What
        hurt once, and all that is hotter, is not among them.
    """
    kept = [item for item in swatches if item.press is not None and not item.set_aside]
    hurt = [item.press for item in kept if item.press and item.harmed]
    well = [item.press for item in kept if item.press and not item.harmed]
    asked, pool = learnt.asked, choice.strata.pool
    candidates = press_candidates(recipe, asked.iron, rests=hurt)
    pace = np.ones(pool.count) if pool.pace is None else pool.pace
    told = exposures(asked.cloth, [(trial, asked.iron, pool, pace) for trial in candidates])
    found = []
    for done, (trial, exposure) in enumerate(zip(candidates, told, strict=True), start=1):
        now = may_be_next(trial, well, candidates)
        found.append(Ranked(worth_of_trial(trial, exposure, choice), now))
        if progress:
            progress(done, len(candidates))
    found.sort(
        key=lambda one: (not one.now, -round(one.per_minute, 5), heat_order(one.worth.trial))
    )
    return found


def stations(ranked: Sequence[Ranked]) -> tuple[PressTrial, ...]:
    """Choose the pressings that fill a slip.

    Parameters
    ----------
    ranked : sequence of Ranked
        Best first.

    Returns
    -------
    tuple of PressTrial
        Coolest first: the most worthwhile, and then the card's own setting, for its seconds and for
        longer; each with what leads up to it one step at a time.

    Notes
    -----
    A station is pressed only if the one before it went well, so that it counts as gone well for
    the next. The card's own setting gets its place even where the model knows it well already: a
    scrap also tells what no model thought of.
    """
    trials = [one.worth.trial for one in ranked]
    telling = [one for one in ranked if one.worth.worth > HARDLY]
    wanted = [one.worth.trial for one in sorted(telling, key=lambda one: -one.per_minute)]
    chosen: list[PressTrial] = []
    for trial in (*wanted, *_own(trials)):
        path = _leading_up(trial, chosen, ranked, trials)
        if path and len(chosen) + len(path) <= MOST_STATIONS:
            chosen += path
    return tuple(sorted(chosen, key=heat_order))


HARDLY = 0.002
"""Worth under which a trial is told to be worth nothing [-]."""


def _own(trials: Sequence[PressTrial]) -> list[PressTrial]:
    """Return the hottest setting, which is the card's own, from its seconds upwards."""
    if not trials:
        return []
    top = max(trial.dial.dots for trial in trials)
    at_top = [trial for trial in trials if trial.dial.dots == top]
    steamed = [trial for trial in at_top if trial.steam != "none"] or at_top
    return sorted(steamed, key=heat_order)


def _leading_up(
    trial: PressTrial,
    chosen: Sequence[PressTrial],
    ranked: Sequence[Ranked],
    trials: Sequence[PressTrial],
) -> list[PressTrial]:
    """Return a trial with the fewest steps up to it; empty if none lead there."""
    start = [one.worth.trial for one in ranked if one.now]
    if trial in chosen:
        return []
    if trial in start or may_be_next(trial, chosen or (), trials):
        return [trial]
    paths: list[list[PressTrial]] = [[item] for item in start if item not in chosen]
    paths += [[item] for item in chosen]
    seen = {item[-1] for item in paths}
    while paths:
        longer = []
        for path in paths:
            for following in trials:
                if following in seen or not may_be_next(following, path[-1:], trials):
                    continue
                if following == trial:
                    return [item for item in (*path, trial) if item not in chosen]
                seen.add(following)
                longer.append([*path, following])
        paths = longer
    return []
