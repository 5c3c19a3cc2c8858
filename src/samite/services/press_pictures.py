"""The recipe and its hold as the sheets draw them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from samite.press.dials import DIAL_WORDS, Dial
from samite.services.press_steps import dial_changes, held_heat, press_cloth_of
from samite.services.press_words import SUPPORT_WORDS, TOOL_WORDS
from samite.sheets.hold_curve import draw_hold_curve
from samite.sheets.recipe_strip import draw_recipe_strip
from samite.sheets.recipe_views import HoldCurve, HoldPanel, PassPanel, RecipeStrip


def recipe_strip(
    recipe: Mapping[str, Any],
    *,
    order: str,
    plan: Mapping[str, Any] | None = None,
    hold: Mapping[str, Any] | None = None,
) -> RecipeStrip | None:
    """Return a recipe as panels.

    Parameters
    ----------
    recipe : mapping of str to object
        The card's ``press``, or the window's ``best``.
    order : str
        How the seam lies.
    plan : mapping of str to object or None
        The ``plan`` of ``samite.press.v1``.
    hold : mapping of str to object or None
        Its ``hold``.

    Returns
    -------
    RecipeStrip or None
        None if nothing is pressed.
    """
    passes = recipe["passes"]
    if not passes:
        return None
    under = SUPPORT_WORDS.get(recipe["support"], f"on {recipe['support']}")
    lies = {"open": "open", "french": "closed in itself"}.get(order, order)
    panels = [
        _pass_panel(step, recipe, passes[number - 1] if number else None)
        for number, step in enumerate(passes)
    ]
    return RecipeStrip(
        order,
        ", ".join(word for word in (f"The seam lies {lies}", under) if word),
        tuple(panels),
        _hold_panel(recipe, plan, hold),
    )


def _pass_panel(
    step: Mapping[str, Any], recipe: Mapping[str, Any], before: Mapping[str, Any] | None
) -> PassPanel:
    hovers = step["steam"] == "hover"
    dial = Dial(step["iron"])
    return PassPanel(
        side=step["side"],
        before=_before(before, step) if before else "",
        turned=before is not None and before["side"] != step["side"],
        dots=0 if hovers else dial.dots,
        dial="dial: medium or high" if hovers else DIAL_WORDS[dial].split(",")[0],
        steam=step["steam"],
        press_cloth=press_cloth_of(step, recipe),
        motion=step["motion"],
        count_s=step["seconds"][0],
        stop_s=step["seconds"][1],
    )


def _before(before: Mapping[str, Any], after: Mapping[str, Any]) -> str:
    if before["side"] != after["side"]:
        return "turn it over"
    if dial_changes(before, after):
        return "the second iron"
    return "straight on, same side"


def _hold_panel(
    recipe: Mapping[str, Any], plan: Mapping[str, Any] | None, hold: Mapping[str, Any] | None
) -> HoldPanel | None:
    tool = recipe["hold"]["tool"]
    if tool == "none":
        return None
    return HoldPanel(
        side=recipe["passes"][-1]["side"],
        tool=tool,
        words=TOOL_WORDS.get(tool, tool),
        seconds=recipe["hold"]["seconds"],
        heat_c=held_heat(recipe, plan, hold),
    )


def steps_svg(view: Mapping[str, Any], *, columns: int = 4) -> str | None:
    """Return the recipe of a press window as a strip.

    Parameters
    ----------
    view : mapping of str to object
        The press window in the form ``samite.press.v1``.
    columns : int
        Most panels in a row.

    Returns
    -------
    str or None
        SVG; None if nothing is pressed.
    """
    parts = {"plan": view["plan"], "hold": view["hold"]}
    strip = recipe_strip(view["best"], order=view["order"], **parts)
    return draw_recipe_strip(strip, columns=columns) if strip else None


def hold_svg(view: Mapping[str, Any]) -> str | None:
    """Return the curve of the hold of a press window.

    Parameters
    ----------
    view : mapping of str to object
        The press window in the form ``samite.press.v1``.

    Returns
    -------
    str or None
        SVG; None if nothing is held, or nothing pressed.
    """
    hold, recipe = view["hold"], view["best"]
    if not hold or not recipe["passes"] or recipe["hold"]["tool"] == "none":
        return None
    tool = recipe["hold"]["tool"]
    core = zip(*(hold["core_c"][name] for name in ("p05", "p50", "p95")), strict=True)
    return draw_hold_curve(
        HoldCurve(
            tool=TOOL_WORDS.get(tool, tool),
            seconds=tuple(hold["seconds"]),
            core_c=tuple((low, middle, high) for low, middle, high in core),
            chance_set=tuple(hold["chance_set"]),
            enough_s=hold["enough_s"],
        )
    )
