"""Which pressings of a scrap are worth most, and which of them fill the slip."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from typing import TYPE_CHECKING

from samite.press.pressing import Bench, Placement
from samite.press.recipe import Recipe
from samite.press.techniques import Technique
from samite.press.window import Runs, Seam, press_runs, seam_of, usual_bench
from samite.swatch.candidates import heat_order, press_candidates
from samite.swatch.decision import (
    PressChoice,
    TrialWorth,
    may_be_next,
    press_choice,
    worth_of_trial,
)
from samite.swatch.slip import MOST_STATIONS, STATION_CM, STATION_MINUTES
from samite.swatch.strata import Strata
from samite.swatch.trial import PressTrial, Swatch

if TYPE_CHECKING:
    from samite.swatch.update import Learnt



MOST_TECHNIQUES = 5
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


def choice_of(
    learnt: Learnt, recipe: Recipe, order: str, techniques: Sequence[Technique]
) -> PressChoice:
    """Press the plans that the choice is made among, once, on the pool.

    Parameters
    ----------
    learnt : Learnt
        What is known so far.
    recipe : Recipe
        The recipe: its support and its motion.
    order : str
        How the seam lies.
    techniques : sequence of Technique
        Techniques among which is chosen, the likeliest choice first.

    Returns
    -------
    PressChoice
        To be judged again after every outcome.
    """
    seam: Seam = seam_of(learnt.asked.cloth, order)
    support = recipe.support if recipe.support != "none" else "board"
    bench: Bench = usual_bench(support, learnt.asked.iron)
    stroked = recipe.passes[-1].motion == "stroke" if recipe.passes else False
    pool = learnt.pool
    wanted = tuple(dict.fromkeys(techniques))[:MOST_TECHNIQUES]

    def pressed(technique: Technique) -> Runs:
        return press_runs(seam, (Placement(technique, 0.0, stroked=stroked),), bench, pool)

    with ThreadPoolExecutor(max_workers=2) as threads:
        plans = list(threads.map(pressed, wanted))
    return press_choice(seam, plans, Strata(pool, learnt.weights))


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
    asked = learnt.asked
    candidates = press_candidates(asked.cloth, recipe, asked.iron, rests=hurt)
    found = []
    for done, trial in enumerate(candidates, start=1):
        now = may_be_next(trial, well, candidates)
        exposure = learnt.study.exposed(trial, asked.maker)
        found.append(Ranked(worth_of_trial(trial, exposure, choice), now))
        if progress:
            progress(done, len(candidates))
    found.sort(key=lambda one: (not one.now, -round(one.per_minute, 5), heat_order(one.worth.trial)))
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
        Coolest first: the most worthwhile, with one that may be made now before them, each no
        more than a step hotter than one before it.

    Notes
    -----
    A station is pressed only if the one before it went well, so that it counts as gone well for
    the next. What is worth nothing is left out, but for what leads up to what is worth something.
    """
    wanted = [one for one in ranked if one.worth.worth > 0.0] or list(ranked[:1])
    trials = [one.worth.trial for one in ranked]
    chosen: list[PressTrial] = []
    for one in sorted(wanted, key=lambda one: -one.per_minute):
        path = _leading_up(one.worth.trial, chosen, ranked, trials)
        if path and len(chosen) + len(path) <= MOST_STATIONS:
            chosen += path
    return tuple(sorted(chosen, key=heat_order))


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
