"""The press as the page shows it: passes with the second to stop at, and chances."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from samite.press.dials import Dial
from samite.services.press_steps import press_steps
from samite.services.press_words import TOOL_WORDS
from samite.web.words import damage_words, in_units, number_words, set_words

STATUS_WORDS = {
    "safe": "safe",
    "compromise": "compromise: scrap first",
    "do-not-press": "do not press",
}
"""Status of the recipe in words."""

UNPROVED = "by practice: not computed yet"
"""Status of a recipe that is safe by practice alone, until its chances are computed."""

MOTION_WORDS = {"lift": "lift and lower, never slide", "stroke": "keep it moving"}


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
        words=_status_words(recipe),
        passes=passes,
        under="" if under == "none" or not passes else f"on {_article(under)} {under}",
        hold=_hold(recipe["hold"]),
        instead=str(recipe.get("instead", "")),
        chance_set="" if chance_set is None else set_words(chance_set),
        chance_damage="" if damage is None else damage_words(damage),
        brief=f"stop {passes[-1].stop} s" if passes else "no iron",
    )


def _status_words(recipe: Mapping[str, Any]) -> str:
    status = str(recipe["status"])
    if status == "safe" and recipe.get("chance_damage") is None and recipe["passes"]:
        return UNPROVED
    return STATUS_WORDS.get(status, status)


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
class Offer:
    """What does where no press is proved safe.

    Parameters
    ----------
    name : str
        What is done.
    text : str
        How.
    odds : str
        Its chances in words; empty where they cannot be computed.
    """

    name: str
    text: str
    odds: str


def offers(view: Mapping[str, Any], units: str) -> tuple[Offer, ...]:
    """Return what else does, where no press is proved safe.

    Parameters
    ----------
    view : mapping of str to object
        A press window, ``samite.press.v1``.
    units : str
        ``metric`` or ``imperial``.

    Returns
    -------
    tuple of Offer
        Empty where the press is safe.
    """
    found = []
    for item in view["offers"]:
        odds = ""
        if "chance_set" in item:
            odds = f"{set_words(item['chance_set'])}; {damage_words(item['chance_damage'])}"
        found.append(Offer(item["do"], in_units(item["text"], units), odds))
    return tuple(found)


def steps(
    recipe: Mapping[str, Any], order: str, view: Mapping[str, Any] | None, units: str
) -> tuple[str, ...]:
    """Return the recipe as numbered steps.

    Parameters
    ----------
    recipe : mapping of str to object
        The card's ``press``.
    order : str
        How the seam lies.
    view : mapping of str to object or None
        Its press window, if it has been computed.
    units : str
        ``metric`` or ``imperial``.

    Returns
    -------
    tuple of str
        One a step.
    """
    found = view["steps"] if view else press_steps(recipe, order=order)
    return tuple(in_units(step["text"], units) for step in found)
