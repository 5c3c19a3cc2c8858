"""The press window of a cloth, as the faces show it."""

from __future__ import annotations

from typing import Any

from samite.cloth.model import Cloth
from samite.press.decide import Window
from samite.press.hold import Held
from samite.press.joint import stretched
from samite.press.pressing import Bench, Placement
from samite.press.recipe import Recipe
from samite.press.techniques import Technique
from samite.press.weakness import weaknesses
from samite.press.window import Chances, usual_bench
from samite.services.card import (
    Card,
    cloth_json,
    finish_learning,
    make_card,
    seam_order,
    window_advice,
)
from samite.services.iron import iron_json
from samite.services.kept_window import compute_window, kept_window
from samite.services.learning import learn_for, taught_json
from samite.services.past import Past
from samite.services.press_edge import EdgePress, edge_press
from samite.services.press_offers import offers
from samite.services.press_steps import press_steps
from samite.services.press_what_if import what_ifs
from samite.services.press_words import ORDER_WORDS, hurt_sentence
from samite.swatch.caution import read_cautions
from samite.tables.fibres import fibre
from samite.tables.irons import Iron


def press_window_view(
    label: str, use: str = "", *, iron: Iron | None = None, past: Past | None = None
) -> dict[str, Any]:
    """Return the press window of a cloth in the form ``samite.press.v1``.

    Parameters
    ----------
    label : str
        What the bolt says.
    use : str
        What the cloth is wanted for.
    iron : Iron or None
        The iron at hand; an unmeasured household iron if None.
    past : Past or None
        The journal of the cloth, whose swatches are learnt from.

    Returns
    -------
    dict of str to object
        Techniques with their chances, the best plan as recipe and as steps, its hold, what a slip
        would do, what else to do where it is not safe, draws, seed and what moved it most.

    Raises
    ------
    InputError
        If the label or the use is malformed.
    """
    card = make_card(label, use, iron=iron, past=past)
    limits, order = card.press, seam_order(card.sewing)
    if not limits.value.passes:
        return _view(limits.value, card, None) | _advice(card, limits.value, None, None)
    taught = None
    if past and past.teaches:
        caution = read_cautions(limits.value, past.swatches, past.iron_key)
        taught = learn_for(past, caution, card.cloth, card.iron)
    if taught:
        window = compute_window(
            card.cloth, limits.value, card.iron, order=order, everything=True, taught=taught
        )
    else:
        window = kept_window(label, limits.value, card.iron, order=order, everything=True)
    best = window_advice(card.cloth, limits, window)
    if taught:
        best, taught = finish_learning(best, limits.value, window, taught, card.iron)
    recipe, bench = best.value, _bench(card)
    stroked = limits.value.passes[-1].motion == "stroke"
    edge = None
    if recipe.status != "safe":
        edge = edge_press(card.cloth, window, bench, stroked=stroked)
    slips = what_ifs(window, recipe, _plan(window, stroked), bench) if recipe.passes else ()
    return (
        _view(recipe, card, window)
        | _advice(card, recipe, window, edge)
        | {"what_ifs": [slip.as_dict() for slip in slips], "reason": best.reason.as_dict()}
        | ({"learnt": taught_json(taught)} if taught else {})
    )


def _bench(card: Card) -> Bench:
    support = card.press.value.support
    return usual_bench(support if support != "none" else "board", card.iron)


def _plan(window: Window, stroked: bool) -> tuple[Placement, ...]:
    if window.best is None:
        return window.before
    return (*window.before, Placement(window.best.technique, 0.0, stroked=stroked))


def _view(best: Recipe, card: Card, window: Window | None) -> dict[str, Any]:
    cloth, order = card.cloth, seam_order(card.sewing)
    chosen = window.best if window else None
    return {
        "format": "samite.press.v1",
        "cloth": cloth_json(cloth),
        "iron": iron_json(card.iron),
        "order": order,
        "order_words": ORDER_WORDS[order],
        "techniques": [_technique(item, window) for item in window.chances] if window else [],
        "best": best.as_dict(),
        "best_technique": _named(chosen.technique) if chosen else None,
        "plan": _technique(chosen, window) if window and chosen else None,
        "weak_parts": _weak_parts(cloth),
        "stretched": list(stretched(cloth)),
        "glass_transition_c": _transitions(cloth),
        "before": [_placement(step) for step in window.before] if window else [],
        "hold": _hold(window.held) if window and window.held else None,
        "draws": window.draws if window else 0,
        "seed": window.seed if window else 0,
        "moved_most": list(chosen.moved_most) if chosen else [],
        "what_ifs": [],
    }


def _advice(
    card: Card, recipe: Recipe, window: Window | None, edge: EdgePress | None
) -> dict[str, Any]:
    """Return the steps, and what else to do where they are not safe."""
    chosen = window.best if window else None
    safe = recipe.status == "safe"
    return {
        "steps": press_steps(
            recipe.as_dict(),
            order=seam_order(card.sewing),
            plan=_technique(chosen, window) if window and chosen else None,
            hold=_hold(window.held) if window and window.held else None,
        ),
        "edge": _edge(edge) if edge else None,
        "offers": []
        if safe
        else offers(
            card.cloth,
            card.press.value,
            window,
            edge,
            order=seam_order(card.sewing),
            harm=recipe.chance_damage or 0.0,
        ),
    }


def _edge(edge: EdgePress) -> dict[str, Any]:
    return {
        **_named(edge.plan[-1].technique),
        "before": [_placement(step) for step in edge.plan[:-1]],
        "seconds": edge.chances.seconds[edge.index],
        "chance_set": round(edge.chance_set, 4),
        "chance_damage": round(edge.chance_damage, 4),
        "sets": edge.sets,
    }


def _weak_parts(cloth: Cloth) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = [
        {
            "part": part.name,
            "hurt": part.hurt,
            "place": part.place,
            "limit_c": part.limit_c.as_dict(),
        }
        for part in weaknesses(cloth)
    ]
    return [part | {"words": hurt_sentence(part)} for part in found]


def _placement(step: Placement) -> dict[str, Any]:
    return {**_named(step.technique), "seconds": step.seconds}


def _hold(held: Held) -> dict[str, Any]:
    return {
        "seconds": list(held.seconds),
        "chance_set": _rounded(held.chance_set),
        "core_c": _band(held.core_c),
        "enough_s": held.enough_s,
    }


def _technique(item: Chances, window: Window) -> dict[str, Any]:
    return {
        **_named(item.technique),
        "seconds": list(item.seconds),
        "chance_set": _rounded(item.chance_set),
        "chance_damage": _rounded(item.chance_damage),
        "chance_damage_bound": _rounded(item.damage_bound),
        "chance_good": _rounded(item.chance_good),
        "window_s": list(item.window_s) if item.window_s else None,
        "core_c": _band(item.core_c),
        "face_c": _band(item.face_c),
        "barred": window.barred.get(item.technique, ""),
    }


def _named(technique: Technique) -> dict[str, str]:
    return {
        "iron": technique.iron.value,
        "steam": technique.steam,
        "cloth": technique.press_cloth,
        "side": technique.side,
        "words": technique.words,
    }


def _rounded(values: Any) -> list[float]:
    return [round(float(value), 5) for value in values]


def _band(percentiles: Any) -> dict[str, list[float]]:
    return {
        name: [round(float(value), 1) for value in percentiles[:, column]]
        for column, name in enumerate(("p05", "p50", "p95"))
    }


def _transitions(cloth: Cloth) -> list[dict[str, object]]:
    return [
        {"fibre": item.fibre, **fibre(item.fibre).quantity("glass_transition_dry_c").as_dict()}
        for item in cloth.base.fibres
        if fibre(item.fibre).group in ("cellulose", "protein", "synthetic")
    ]
