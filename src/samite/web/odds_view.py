"""What the press window says besides the recipe: what if, the odds by the second, the doubts."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from samite.press.dials import DIAL_WORDS, Dial
from samite.web.words import damage_words, set_words

SETS_WORDS = {1: "better", 0: "as well", -1: "less well"}
HARMS_WORDS = {1: "more", 0: "as much", -1: "less"}
KEYS = ("iron", "steam", "cloth", "side")
"""What tells one technique from another."""


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
