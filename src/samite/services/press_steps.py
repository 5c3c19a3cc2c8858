"""The recipe as steps that a person follows at the board, one thing at a time."""

from __future__ import annotations

import itertools
from collections.abc import Mapping
from typing import Any

from samite.press.dials import DIAL_WORDS, Dial
from samite.press.pressing import TURN_SECONDS
from samite.services.press_words import ORDER_WORDS, SUPPORT_WORDS, TOOL_WORDS

Step = dict[str, Any]

MOTION_WORDS = {"lift": "Lift and lower, never slide", "stroke": "Keep the iron moving"}
STEAM_WORDS = {"none": "no steam", "light": "light steam", "full": "full steam"}


def press_steps(
    recipe: Mapping[str, Any],
    *,
    order: str,
    plan: Mapping[str, Any] | None = None,
    hold: Mapping[str, Any] | None = None,
) -> list[Step]:
    """Return a recipe as steps.

    Parameters
    ----------
    recipe : mapping of str to object
        The card's ``press``, or the window's ``best``.
    order : str
        How the seam lies.
    plan : mapping of str to object or None
        The ``plan`` of ``samite.press.v1``, for the heat at which the iron leaves.
    hold : mapping of str to object or None
        Its ``hold``, for what holding does.

    Returns
    -------
    list of dict of str to object
        ``do`` (``lay``, ``press``, ``between``, ``hold`` or ``instead``), ``text``, and
        ``seconds`` where something is counted.
    """
    passes = recipe["passes"]
    if not passes:
        return [_step("instead", f"No iron. {_begun(recipe['instead'])}.")]
    steps = [_step("lay", _lay(recipe, order))]
    for number, step in enumerate(passes):
        if number:
            steps.append(_step("between", between(passes[number - 1], step)))
        steps.append(_step("press", _press(step, recipe, number, len(passes)), step["seconds"]))
    held = _hold(recipe, plan, hold)
    if held:
        steps.append(_step("hold", held, [recipe["hold"]["seconds"]]))
    return steps


def _step(do: str, text: str, seconds: list[float] | None = None) -> Step:
    return {"do": do, "text": text, **({"seconds": list(seconds)} if seconds else {})}


def _begun(text: str) -> str:
    return text[:1].upper() + text[1:]


def _lay(recipe: Mapping[str, Any], order: str) -> str:
    first = recipe["passes"][0]
    under = SUPPORT_WORDS.get(recipe["support"], f"on {recipe['support']}")
    words = f"Lay the seam {ORDER_WORDS[order]}, {first['side']} side up, {under}".rstrip(", ")
    if not first["cloth"]:
        return words + "."
    return f"{words}; over it the press cloth: {recipe['cloth_kind'] or 'cotton lawn, dry'}."


def press_cloth_of(step: Mapping[str, Any], recipe: Mapping[str, Any]) -> str:
    """Return the press cloth of a pass.

    Parameters
    ----------
    step : mapping of str to object
        The pass.
    recipe : mapping of str to object
        The recipe that it belongs to: it says whether the press cloth is damp.

    Returns
    -------
    str
        ``none``, ``dry`` or ``damp``.
    """
    if not step["cloth"] or step["steam"] == "hover":
        return "none"
    return "damp" if "damp" in str(recipe["cloth_kind"]) else "dry"


def _press(step: Mapping[str, Any], recipe: Mapping[str, Any], number: int, many: int) -> str:
    which = f"Pass {number + 1} of {many}: " if many > 1 else ""
    if step["steam"] == "hover":
        dial = str(step.get("dial_for_steam", "medium or high")).partition(":")[0]
        words = f"hold the iron 2 cm over the seam, dial at {dial}, and let it steam"
        return f"{_begun(which + words)}: {_count(step)}. Never touch."
    cloth = press_cloth_of(step, recipe)
    through = "straight on the fabric" if cloth == "none" else f"through the {cloth} press cloth"
    words = f"iron at {DIAL_WORDS[Dial(step['iron'])]}, {STEAM_WORDS[step['steam']]}, {through}"
    return f"{_begun(which + words)}: {_count(step)}. {MOTION_WORDS[step['motion']]}."


def _count(step: Mapping[str, Any]) -> str:
    begin, stop = step["seconds"]
    return f"count {begin:g}, stop by {stop:g}" if stop > begin else f"count {begin:g} and lift off"


def between(before: Mapping[str, Any], after: Mapping[str, Any]) -> str:
    """Say what to do between two passes.

    Parameters
    ----------
    before, after : mapping of str to object
        The passes.

    Returns
    -------
    str
        One or two sentences.
    """
    todo = ["lift the iron"]
    if before["side"] != after["side"]:
        todo.append(f"turn the seam over, {after['side']} side up")
    if after["cloth"] and (not before["cloth"] or before["side"] != after["side"]):
        todo.append("lay the press cloth on")
    if before["cloth"] and not after["cloth"]:
        todo.append("take the press cloth away")
    if before["steam"] != after["steam"]:
        todo.append("steam off" if after["steam"] == "none" else f"{after['steam']} steam on")
    words = f"{_begun(', '.join(todo))}; go on within {TURN_SECONDS:g} s."
    if dial_changes(before, after):
        words += (
            f" The dial goes to {DIAL_WORDS[Dial(after['iron'])]}: have a second iron hot; the odds "
            "do not hold for one that has to change its heat in between."
        )
    return words


def dial_changes(before: Mapping[str, Any], after: Mapping[str, Any]) -> bool:
    """Return whether the dial has to be turned between two passes that touch.

    Parameters
    ----------
    before, after : mapping of str to object
        The passes.

    Returns
    -------
    bool
        False if either only steams: its dial is free.
    """
    touching = "hover" not in (before["steam"], after["steam"])
    return touching and before["iron"] != after["iron"]


def _hold(
    recipe: Mapping[str, Any], plan: Mapping[str, Any] | None, hold: Mapping[str, Any] | None
) -> str:
    tool, seconds = recipe["hold"]["tool"], recipe["hold"]["seconds"]
    if tool == "none":
        return ""
    hovers = recipe["passes"][-1]["steam"] == "hover"
    set_on = (
        "Press it flat with" if hovers and tool == "hand" else "Iron and press cloth away, then"
    )
    words = f"{set_on} {TOOL_WORDS.get(tool, tool)} on the seam for {seconds:g} s"
    heat = held_heat(recipe, plan, hold)
    if heat:
        words += f": it takes the seam from {heat[0]:.0f} to {heat[1]:.0f} C"
    words += "."
    if hold:
        words += f" From {hold['enough_s']:g} s on holding adds next to nothing."
    return words + " Do not move it until it is cool."


def held_heat(
    recipe: Mapping[str, Any], plan: Mapping[str, Any] | None, hold: Mapping[str, Any] | None
) -> tuple[float, float] | None:
    """Return the heat at the seam line when the iron leaves and when the hold ends.

    Parameters
    ----------
    recipe : mapping of str to object
        The recipe.
    plan : mapping of str to object or None
        The ``plan`` of ``samite.press.v1``.
    hold : mapping of str to object or None
        Its ``hold``.

    Returns
    -------
    tuple of (float, float) or None
        The middle of the draws [C]; None if it was not computed.
    """
    if not plan or not hold:
        return None
    count = recipe["passes"][-1]["seconds"][0]
    start = _nearest(plan["seconds"], plan["core_c"]["p50"], count)
    return start, _nearest(hold["seconds"], hold["core_c"]["p50"], recipe["hold"]["seconds"])


def _nearest(seconds: list[float], values: list[float], wanted_s: float) -> float:
    pairs = list(itertools.zip_longest(seconds, values))
    return float(min(pairs, key=lambda pair: abs(pair[0] - wanted_s))[1])
