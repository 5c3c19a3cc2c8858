"""The press as the page shows it: passes with the second to stop at, chances, and what if."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from samite.press.dials import DIAL_WORDS, Dial
from samite.web.words import damage_words, number_words, set_words

STATUS_WORDS = {
    "safe": "safe",
    "compromise": "compromise: scrap first",
    "do-not-press": "do not press",
}
"""Status of the recipe in words."""

MOTION_WORDS = {"lift": "lift and lower, never slide", "stroke": "keep it moving"}
TOOL_WORDS = {"clapper": "a wood clapper", "weight": "a weight", "hand": "your hand"}
SETS_WORDS = {1: "better", 0: "as well", -1: "less well"}
HARMS_WORDS = {1: "more", 0: "as much", -1: "less"}
KEYS = ("iron", "steam", "cloth", "side")
"""What tells one technique from another."""


@dataclass(frozen=True, slots=True)
class PassView:
    """One pass of the iron.

    Parameters
    ----------
    begin : str
        Seconds to count before the iron may be lifted.
    stop : str
        Seconds by which it must be lifted.
    side : str
        Side of the cloth.
    dots : int
        Dots of the dial, 0 if the sole never touches.
    dial : str
        Word on the dial, with the limit of the sole.
    through : str
        Press cloth, or none.
    steam : str
        Steam in words.
    motion : str
        How the iron moves.
    """

    begin: str
    stop: str
    side: str
    dots: int
    dial: str
    through: str
    steam: str
    motion: str


@dataclass(frozen=True, slots=True)
class PressView:
    """How to press.

    Parameters
    ----------
    status : str
        ``safe``, ``compromise`` or ``do-not-press``.
    words : str
        The status in words.
    passes : tuple of PassView
        In working order.
    under : str
        What lies under.
    hold : str
        What holds the seam after the iron, and how long.
    instead : str
        What to do instead or besides.
    chance_set : str
        Chance of a set seam in words, empty before it is computed.
    chance_damage : str
        Chance of damage in words, likewise.
    brief : str
        The whole in a few words, for the bar at the thumb.
    """

    status: str
    words: str
    passes: tuple[PassView, ...]
    under: str
    hold: str
    instead: str
    chance_set: str
    chance_damage: str
    brief: str


def press_view(recipe: Mapping[str, Any], units: str) -> PressView:
    """Put a recipe into the words of the page.

    Parameters
    ----------
    recipe : mapping of str to object
        The card's ``press``, or the window's ``best``.
    units : str
        ``metric`` or ``imperial``.

    Returns
    -------
    PressView
        What the page shows.
    """
    passes = tuple(_pass(step, recipe, units) for step in recipe["passes"])
    under = str(recipe["support"]).replace("-", " ")
    chance_set, damage = recipe.get("chance_set"), recipe.get("chance_damage")
    return PressView(
        status=recipe["status"],
        words=STATUS_WORDS.get(recipe["status"], recipe["status"]),
        passes=passes,
        under="" if under == "none" or not passes else f"on {_article(under)} {under}",
        hold=_hold(recipe["hold"]),
        instead=str(recipe.get("instead", "")),
        chance_set="" if chance_set is None else set_words(chance_set),
        chance_damage="" if damage is None else damage_words(damage),
        brief=f"stop {passes[-1].stop} s" if passes else "no iron",
    )


def _article(noun: str) -> str:
    return "an" if noun[:1] in "aeiou" else "a"


def _pass(step: Mapping[str, Any], recipe: Mapping[str, Any], units: str) -> PassView:
    hovers = step["steam"] == "hover"
    dial = Dial(step["iron"])
    limit = number_words(dial.sole_max_c, "C", units)
    begin, stop = step["seconds"]
    return PassView(
        begin=f"{begin:g}",
        stop=f"{stop:g}",
        side=f"{step['side']} side",
        dots=dial.dots,
        dial=_hover_dial(step) if hovers else f"{dial.words}: sole at most {limit}",
        through=_through(step, str(recipe.get("cloth_kind", ""))),
        steam="held off: 2 cm of air under the sole" if hovers else _steam(step["steam"]),
        motion="move along, never touch" if hovers else MOTION_WORDS[step["motion"]],
    )


def _hover_dial(step: Mapping[str, Any]) -> str:
    return f"dial at {str(step.get('dial_for_steam', 'medium or high')).partition(';')[0]}"


def _through(step: Mapping[str, Any], kind: str) -> str:
    if step["steam"] == "hover":
        return "no cloth: nothing touches"
    if not step["cloth"]:
        return "no cloth, iron on the fabric"
    return f"through {kind or 'a press cloth'}"


def _steam(steam: str) -> str:
    return "no steam" if steam == "none" else f"{steam} steam"


def _hold(hold: Mapping[str, Any]) -> str:
    tool = str(hold["tool"])
    if tool == "none":
        return ""
    return f"Then hold under {TOOL_WORDS.get(tool, tool)} for {hold['seconds']:g} s, until cool."


@dataclass(frozen=True, slots=True)
class WhatIf:
    """What a slip, or a short cut, would do.

    Parameters
    ----------
    name : str
        The slip.
    chance_set : str
        Chance of a set seam in words.
    chance_damage : str
        Chance of damage in words.
    verdict : str
        How that compares with the card, and what bars it.
    worse : bool
        Whether it harms more than the recipe, or is barred.
    """

    name: str
    chance_set: str
    chance_damage: str
    verdict: str
    worse: bool


def what_ifs(view: Mapping[str, Any]) -> tuple[WhatIf, ...]:
    """Answer the three questions that come up at the board.

    Parameters
    ----------
    view : mapping of str to object
        A press window, ``samite.press.v1``.

    Returns
    -------
    tuple of WhatIf
        No press cloth, one dot hotter, twice as long; as far as they differ from the recipe.
    """
    best = chosen_technique(view)
    if best is None:
        return ()
    second = _shown_second(view, best)
    usual = chances_at(best, second)
    stop = float(view["best"]["passes"][-1]["seconds"][1])
    hotter = _hotter(best["iron"])
    found = []
    if best["cloth"] != "none":
        found.append(_answer("no press cloth", _like(view, best, cloth="none"), second, usual))
    if hotter:
        name = f"one dot hotter: {DIAL_WORDS[Dial(hotter)]}"
        found.append(_answer(name, _like(view, best, iron=hotter), second, usual))
    if 2 * stop <= best["seconds"][-1]:
        found.append(_answer(f"twice as long: {2 * stop:g} s", best, 2 * stop, usual))
    return tuple(item for item in found if item is not None)


def chosen_technique(view: Mapping[str, Any]) -> Mapping[str, Any] | None:
    """Return the technique that the window chose.

    Parameters
    ----------
    view : mapping of str to object
        A press window, ``samite.press.v1``.

    Returns
    -------
    mapping of str to object or None
        None if the iron stays off.
    """
    wanted = view.get("best_technique")
    if not wanted or not view["best"]["passes"]:
        return None
    return _find(view, {key: wanted[key] for key in KEYS})


def _like(view: Mapping[str, Any], technique: Mapping[str, Any], **other: str) -> Any:
    return _find(view, {**{key: technique[key] for key in KEYS}, **other})


def _find(view: Mapping[str, Any], wanted: Mapping[str, Any]) -> Mapping[str, Any] | None:
    for technique in view["techniques"]:
        if all(technique[key] == value for key, value in wanted.items()):
            return dict(technique)
    return None


def _hotter(iron: str) -> str:
    return {"low": "medium", "medium": "high"}.get(iron, "")


def _shown_second(view: Mapping[str, Any], technique: Mapping[str, Any]) -> float:
    """Return the second at which the recipe's chances were read."""
    best = view["best"]

    def gap(index: int) -> float:
        return float(
            abs(technique["chance_set"][index] - best["chance_set"])
            + abs(technique["chance_damage"][index] - best["chance_damage"])
        )

    nearest = min(range(len(technique["seconds"])), key=gap)
    return float(technique["seconds"][nearest])


def chances_at(technique: Mapping[str, Any], second: float) -> tuple[float, float]:
    """Read the chances of a technique at a counted time, on straight lines between seconds.

    Parameters
    ----------
    technique : mapping of str to object
        One of the window's techniques.
    second : float
        Time counted [s].

    Returns
    -------
    tuple of (float, float)
        Chance of a set seam and of damage [1].
    """
    seconds = technique["seconds"]
    later = next((i for i, item in enumerate(seconds) if item >= second), len(seconds) - 1)
    earlier = max(later - 1, 0)
    span = seconds[later] - seconds[earlier]
    share = (second - seconds[earlier]) / span if span else 0.0
    share = min(max(share, 0.0), 1.0)
    chance_set, damage = (
        technique[key][earlier] + share * (technique[key][later] - technique[key][earlier])
        for key in ("chance_set", "chance_damage")
    )
    return float(chance_set), float(damage)


def _answer(
    name: str, technique: Mapping[str, Any] | None, second: float, usual: tuple[float, float]
) -> WhatIf | None:
    if technique is None:
        return None
    chance_set, damage = chances_at(technique, second)
    barred = str(technique.get("barred", ""))
    harm = _compared(damage, usual[1], 0.25 * usual[1] + 0.002)
    sets = _compared(chance_set, usual[0], 0.02)
    verdict = f"Sets {SETS_WORDS[sets]}, harms {HARMS_WORDS[harm]}"
    verdict += f". But {barred}" if barred else ""
    return WhatIf(
        name, set_words(chance_set), damage_words(damage), verdict, harm > 0 or bool(barred)
    )


def _compared(chance: float, usual: float, margin: float) -> int:
    """Return 1 if a chance is clearly above the usual one, -1 if clearly below, else 0."""
    return (chance > usual + margin) - (chance < usual - margin)


@dataclass(frozen=True, slots=True)
class Second:
    """One row of the chances as numbers.

    Parameters
    ----------
    seconds : str
        Time counted [s].
    chance_set : str
        Chance of a set seam, in percent.
    chance_damage : str
        Chance of damage, in percent.
    chosen : bool
        Whether it lies in the recipe's seconds.
    """

    seconds: str
    chance_set: str
    chance_damage: str
    chosen: bool


def second_rows(view: Mapping[str, Any]) -> tuple[Second, ...]:
    """Return the curve of the chosen technique as numbers.

    Parameters
    ----------
    view : mapping of str to object
        A press window, ``samite.press.v1``.

    Returns
    -------
    tuple of Second
        One row a second; empty without a technique.
    """
    technique = chosen_technique(view)
    if technique is None:
        return ()
    begin, stop = view["best"]["passes"][-1]["seconds"]
    rows = zip(
        technique["seconds"], technique["chance_set"], technique["chance_damage"], strict=True
    )
    return tuple(
        Second(f"{second:g}", f"{held:.0%}", f"{hurt:.1%}", begin <= second <= stop)
        for second, held, hurt in rows
    )


def spoken(doubt: str) -> str:
    """Return a doubt of the window as one says it.

    Parameters
    ----------
    doubt : str
        For example ``"limit of the base: silk"``.

    Returns
    -------
    str
        ``"limit of the silk"``.
    """
    return doubt.replace("base: ", "").replace(": ", ", ").replace("-", " ")
