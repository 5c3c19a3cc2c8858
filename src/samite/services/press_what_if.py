"""What a slip or a short cut would do to the chosen plan: the same passes, one thing changed."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from samite.press.dials import Dial
from samite.press.pressing import Bench, Placement
from samite.press.window import SECONDS, Chances, press_chances

if TYPE_CHECKING:
    from collections.abc import Callable

    from samite.press.decide import Plan, Window
    from samite.press.hold import Held
    from samite.press.recipe import Recipe
    from samite.press.techniques import Technique

SLIP_DRAWS = 96
"""Draws behind a slip and behind the plan that it is held against: the same for both."""

HOTTER = {Dial.LOW: Dial.MEDIUM, Dial.MEDIUM: Dial.HIGH}


@dataclass(frozen=True, slots=True)
class Slip:
    """What one change does.

    Parameters
    ----------
    name : str
        ``no press cloth``, ``one dot hotter``, ``twice as long``, ``without the steam`` or
        ``without the hold``.
    seconds : float
        Seconds of the last pass, or of the hold [s].
    chance_set, chance_damage : float
        Chances with the change [-].
    set_change, damage_change : float
        What it adds to the plan's own chances, on the same draws [-].
    barred : str
        Why the card forbids it; empty if it does not.
    """

    name: str
    seconds: float
    chance_set: float
    chance_damage: float
    set_change: float
    damage_change: float
    barred: str = ""

    def as_dict(self) -> dict[str, object]:
        """Return the JSON form.

        Returns
        -------
        dict of str to object
            One key a field.
        """
        numbers = ("chance_set", "chance_damage", "set_change", "damage_change")
        return {
            "name": self.name,
            "seconds": self.seconds,
            **{key: round(getattr(self, key), 5) for key in numbers},
            "barred": self.barred,
        }


def what_ifs(window: Window, recipe: Recipe, plan: Plan, bench: Bench) -> tuple[Slip, ...]:
    """Change one thing of a plan at a time.

    Parameters
    ----------
    window : Window
        The press window.
    recipe : Recipe
        The recipe that it led to: its last pass has the seconds to count and to stop by.
    plan : tuple of Placement
        Its passes.
    bench : Bench
        Iron, press cloth and support.

    Returns
    -------
    tuple of Slip
        Those that change something.
    """
    count, stop = told_second(window, recipe), recipe.passes[-1].seconds[1]
    wanted: list[tuple[str, Plan, float]] = [
        (name, changed, count)
        for name, change in CHANGES
        if (changed := change(plan)) and changed != plan
    ]
    if 2.0 * stop <= SECONDS[-1]:
        wanted.append((LONGER, _longer(plan), 2.0 * stop))
    draws = window.draws_of(SLIP_DRAWS, window.seed)
    plans = [plan, *(changed for _, changed, _ in wanted)]
    with ThreadPoolExecutor(max_workers=2) as pool:
        usual, *found = pool.map(lambda p: press_chances(window.seam, p, bench, draws), plans)
    usual_set, usual_damage = chances_at(usual, count)[0], chances_at(usual, stop)[1]
    slips = []
    for (name, changed, second), chances in zip(wanted, found, strict=True):
        held = chances_at(chances, second)[0]
        hurt = chances_at(chances, second if name == LONGER else stop)[1]
        barred = window.barred.get(changed[-1].technique, "")
        slips.append(Slip(name, second, held, hurt, held - usual_set, hurt - usual_damage, barred))
    return (*slips, *_without_hold(window.held, recipe, usual_damage))


LONGER = "twice as long"


def told_second(window: Window, recipe: Recipe) -> float:
    """Return the second of the last pass at which the recipe's chances are told.

    Parameters
    ----------
    window : Window
        The press window.
    recipe : Recipe
        The recipe that it led to.

    Returns
    -------
    float
        One of its seconds [s].
    """
    count, stop = recipe.passes[-1].seconds
    if window.best is None or recipe.chance_set is None:
        return count
    gaps = abs(window.best.chance_set - recipe.chance_set)
    near = [(gaps[i], s) for i, s in enumerate(window.best.seconds) if count <= s <= stop]
    return min(near, default=(0.0, count))[1]


def _changed(
    plan: Plan, change: Callable[[Technique], Technique], *, hovering: bool = True
) -> Plan:
    """Change every pass that touches; those that only steam stay or go."""
    kept: list[Placement] = []
    for step in plan:
        if step.technique.hovers:
            kept += [step] if hovering else []
        else:
            kept.append(replace(step, technique=change(step.technique)))
    return tuple(kept)


def _bare(plan: Plan) -> Plan:
    return _changed(plan, lambda t: replace(t, press_cloth="none"))


def _hotter(plan: Plan) -> Plan:
    if plan[-1].technique.iron not in HOTTER:
        return plan
    return _changed(plan, lambda t: replace(t, iron=HOTTER.get(t.iron, t.iron)))


def _steamless(plan: Plan) -> Plan:
    return _changed(plan, lambda t: replace(t, steam="none"), hovering=False)


def _longer(plan: Plan) -> Plan:
    return tuple(replace(step, seconds=2.0 * step.seconds) for step in plan)


CHANGES: tuple[tuple[str, Callable[[Plan], Plan]], ...] = (
    ("no press cloth", _bare),
    ("one dot hotter", _hotter),
    ("without the steam", _steamless),
)


def chances_at(chances: Chances, second_s: float) -> tuple[float, float]:
    """Read the chances of a technique at a counted time, on straight lines between seconds.

    Parameters
    ----------
    chances : Chances
        What it does, second by second.
    second_s : float
        Time counted [s].

    Returns
    -------
    tuple of (float, float)
        Chance of a set seam and of damage [-].
    """
    import numpy as np

    told = (chances.chance_set, chances.chance_damage)
    sets, hurts = (float(np.interp(second_s, chances.seconds, values)) for values in told)
    return sets, hurts


def _without_hold(held: Held | None, recipe: Recipe, damage: float) -> tuple[Slip, ...]:
    """Let go after the first second: what the hold is worth."""
    if held is None or recipe.hold_tool == "none":
        return ()
    first = float(held.chance_set[0])
    at_end = max(i for i, s in enumerate(held.seconds) if s <= max(recipe.hold_seconds, 1.0))
    change = first - float(held.chance_set[at_end])
    return (Slip("without the hold", held.seconds[0], first, damage, change, 0.0),)
