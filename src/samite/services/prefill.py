"""The recipe that was just read, as the fields of a swatch."""

from __future__ import annotations

from typing import Any

from samite.press.recipe import Recipe
from samite.services.card import Card, make_card
from samite.swatch.trial import HOLDS, SUPPORTS


def recipe_fields(recipe: Recipe) -> dict[str, str]:
    """Return the last pass of a recipe as the fields of a swatch.

    Parameters
    ----------
    recipe : Recipe
        How to press.

    Returns
    -------
    dict of str to str
        Fields as `samite.services.swatch_form` reads them; empty if nothing is pressed.
    """
    if not recipe.passes:
        return {}
    step = recipe.passes[-1]
    held = recipe.hold_tool if recipe.hold_tool in HOLDS else "none"
    return {
        "dial": step.iron.value,
        "steam": step.steam,
        "press_cloth": _press_cloth(recipe.cloth_kind) if step.cloth else "none",
        "side": step.side,
        "seconds": f"{step.seconds[0]:g}",
        "hold_tool": held,
        "hold_seconds": f"{recipe.hold_seconds:g}" if held != "none" else "0",
        "support": recipe.support if recipe.support in SUPPORTS else "board",
    }


def _press_cloth(kind: str) -> str:
    return "damp" if "damp" in kind else "dry"


def sewing_fields(card: Card) -> dict[str, str]:
    """Return the seam of a card as the fields of a swatch.

    Parameters
    ----------
    card : Card
        A bench card.

    Returns
    -------
    dict of str to str
        Fields as `samite.services.swatch_form` reads them.
    """
    sewing = card.sewing
    needle, thread, stitch = sewing.needle.value, sewing.thread.value, sewing.stitch.value
    numbers: dict[str, Any] = {
        "layers": 2,
        "needle_size": needle.size_nm or "",
        "thread_tex": thread.tex or "",
        "stitch_length": f"{stitch.length_mm:g}",
        "stitch_width": f"{stitch.width_mm:g}",
    }
    words = {
        "needle_point": needle.point,
        "thread_fibre": thread.fibre,
        "stitch_type": stitch.type,
    }
    return {name: str(value) for name, value in {**numbers, **words}.items()}


def card_fields(card: Card) -> dict[str, str]:
    """Return press and seam of a card as the fields of a swatch.

    Parameters
    ----------
    card : Card
        A bench card.

    Returns
    -------
    dict of str to str
        Fields as `samite.services.swatch_form` reads them.
    """
    return {**recipe_fields(card.press.value), **sewing_fields(card)}


def recommended_fields(label: str, use: str = "") -> dict[str, str]:
    """Return what `samite press` recommends for a cloth, as the fields of a swatch.

    Parameters
    ----------
    label : str
        What the bolt says.
    use : str
        What the cloth is wanted for.

    Returns
    -------
    dict of str to str
        Fields as `samite.services.swatch_form` reads them.
    """
    return card_fields(make_card(label, use, window=True))
