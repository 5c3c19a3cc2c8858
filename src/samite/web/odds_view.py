"""What the press window says besides the recipe: what if, the odds by the second, the doubts."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from samite.press.dials import DIAL_WORDS, Dial
from samite.web.words import damage_words, set_words

SETS_WORDS = {1: "better", 0: "as well", -1: "less well"}
HARMS_WORDS = {1: "more", 0: "as much", -1: "less"}


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
    """Answer the questions that come up at the board.

    Parameters
    ----------
    view : mapping of str to object
        A press window, ``samite.press.v1``.

    Returns
    -------
    tuple of WhatIf
        One a change that makes sense on the chosen plan.
    """
    return tuple(_answer(item, view) for item in view["what_ifs"])


def _answer(item: Mapping[str, Any], view: Mapping[str, Any]) -> WhatIf:
    barred = str(item["barred"])
    usual = item["chance_damage"] - item["damage_change"]
    harm = _compared(item["damage_change"], 0.0, 0.25 * usual + 0.002)
    sets = _compared(item["set_change"], 0.0, 0.02)
    verdict = f"Sets {SETS_WORDS[sets]}, harms {HARMS_WORDS[harm]}"
    verdict += f". But {barred}" if barred else ""
    return WhatIf(
        _name(item, view),
        set_words(item["chance_set"]),
        damage_words(item["chance_damage"]),
        verdict,
        harm > 0 or bool(barred),
    )


def _name(item: Mapping[str, Any], view: Mapping[str, Any]) -> str:
    name = str(item["name"])
    if name == "one dot hotter":
        hotter = {"low": Dial.MEDIUM, "medium": Dial.HIGH}[view["best_technique"]["iron"]]
        return f"{name}: {DIAL_WORDS[hotter]}"
    if name == "twice as long":
        return f"{name}: {item['seconds']:g} s"
    return f"{name}: let go after {item['seconds']:g} s" if name == "without the hold" else name


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
    """Return the curve of the last pass of the chosen plan as numbers.

    Parameters
    ----------
    view : mapping of str to object
        A press window, ``samite.press.v1``.

    Returns
    -------
    tuple of Second
        One row a second; empty without a technique.
    """
    technique = view["plan"]
    if technique is None or not view["best"]["passes"]:
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
