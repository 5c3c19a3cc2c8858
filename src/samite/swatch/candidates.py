"""Pressings of a scrap that may be worth trying, the coolest first."""

from __future__ import annotations

from collections.abc import Sequence

from samite.press.decide import technique_of
from samite.press.dials import Dial
from samite.press.iron_fit import iron_bar
from samite.press.recipe import Recipe
from samite.press.techniques import STEAMS, Technique
from samite.swatch.trial import HOLDS, SUPPORTS, PressTrial
from samite.tables.irons import Iron, household_iron

TWICE = 2.0
"""From one station of a setting to the next, and of the last over the card's seconds [-]."""

SHORTEST_S = 1.0
LONGEST_S = 30.0
"""Seconds between which a station stands [s]."""


def press_candidates(
    recipe: Recipe,
    iron: Iron | None = None,
    hottest: Dial | None = None,
    rests: Sequence[PressTrial] = (),
) -> tuple[PressTrial, ...]:
    """Return the pressings that may be worth a place on a scrap.

    Parameters
    ----------
    recipe : Recipe
        How it is to be pressed.
    iron : Iron or None
        The iron at hand; an unmeasured household iron if None.
    hottest : Dial or None
        Hottest position that may be tried; that of the recipe if None.
    rests : sequence of PressTrial
        Pressings that already hurt this cloth: nothing as hot or hotter is proposed.

    Returns
    -------
    tuple of PressTrial
        Coolest first, then shortest first: never past the recipe's own dial, steam and side
        unless `hottest` says so; empty where nothing is pressed.
    """
    if not recipe.passes:
        return ()
    last, iron = recipe.passes[-1], iron or household_iron()
    main = technique_of(last, recipe)
    top = hottest or main.iron
    found = [
        trial_at(technique, seconds, recipe)
        for technique in _techniques(main, top, iron)
        for seconds in _seconds(last.seconds)
    ]
    open_ones = [trial for trial in found if not any(as_hot(trial, rest) for rest in rests)]
    return tuple(sorted(dict.fromkeys(open_ones), key=heat_order))


def _techniques(main: Technique, top: Dial, iron: Iron) -> list[Technique]:
    """Return the recipe's technique and its cooler and drier kin that the iron can do."""
    if main.hovers:
        return [main]
    dials = [dial for dial in (Dial.LOW, Dial.MEDIUM, Dial.HIGH) if dial.dots <= top.dots]
    steams = STEAMS[: STEAMS.index(main.steam) + 1]
    kin = [
        Technique(dial, steam, main.press_cloth, main.side)
        for dial in dials
        for steam in (steams[0], steams[-1])
    ]
    return [item for item in dict.fromkeys(kin) if not iron_bar(iron, item)]


def _seconds(told_s: tuple[float, float]) -> tuple[float, ...]:
    """Return the seconds to count and each time twice as many, up to twice those to stop by."""
    most = min(max(round(TWICE * told_s[1]), SHORTEST_S), LONGEST_S)
    found = [float(min(max(round(told_s[0]), SHORTEST_S), most))]
    while found[-1] < most:
        found.append(float(min(TWICE * found[-1], most)))
    return tuple(found)


def trial_at(technique: Technique, seconds: float, recipe: Recipe) -> PressTrial:
    """Return a pressing with the hold and the support of a recipe.

    Parameters
    ----------
    technique : Technique
        Iron, steam, press cloth and side.
    seconds : float
        How long [s].
    recipe : Recipe
        The recipe; what a swatch does not record of it becomes no hold, or the board.

    Returns
    -------
    PressTrial
        What to try.

    References
    ----------
    derivation, docs/models/swatch-tests.md.
    """
    hold = recipe.hold_tool if recipe.hold_tool in HOLDS else "none"
    support = recipe.support if recipe.support in SUPPORTS else "board"
    return PressTrial(
        dial=technique.iron,
        steam=technique.steam,
        press_cloth=technique.press_cloth,
        side=technique.side,
        seconds=seconds,
        hold_tool=hold,
        hold_seconds=recipe.hold_seconds if hold != "none" else 0.0,
        support=support,
    )


def heat_order(trial: PressTrial) -> tuple[int, float, int, int]:
    """Return by what pressings are put in order, the coolest first.

    Parameters
    ----------
    trial : PressTrial
        A pressing.

    Returns
    -------
    tuple of (int, float, int, int)
        Dots, seconds [s], steam, and whether no press cloth lies between.
    """
    steams = (STEAMS[0], "hover", *STEAMS[1:])
    bare = int(trial.press_cloth == "none")
    return (trial.dial.dots, trial.seconds, steams.index(trial.steam), bare)


def as_hot(trial: PressTrial, other: PressTrial) -> bool:
    """Tell whether a pressing is at least as hot and as long as another.

    Parameters
    ----------
    trial : PressTrial
        A pressing.
    other : PressTrial
        Another.

    Returns
    -------
    bool
        True if it has as many dots or more for as many seconds or more, and nothing that
        shields the cloth better than the other had.
    """
    shields = ("none", "dry", "damp")
    better = shields.index(trial.press_cloth) > shields.index(other.press_cloth)
    as_close = trial.side in (other.side, "right")
    hot = trial.dial.dots >= other.dial.dots and trial.seconds >= other.seconds
    return hot and as_close and not better
