"""The press window of a cloth, as the faces show it."""

from __future__ import annotations

from typing import Any

from samite.cloth.model import Cloth
from samite.press.decide import Window
from samite.press.joint import weaknesses
from samite.press.techniques import Technique
from samite.press.window import Chances
from samite.services.card import Card, cloth_json, compute_window, make_card, window_advice
from samite.services.iron import iron_json
from samite.tables.fibres import fibre
from samite.tables.irons import Iron


def press_window_view(label: str, use: str = "", *, iron: Iron | None = None) -> dict[str, Any]:
    """Return the press window of a cloth in the form ``samite.press.v1``.

    Parameters
    ----------
    label : str
        What the bolt says.
    use : str
        What the cloth is wanted for.
    iron : Iron or None
        The iron at hand; an unmeasured household iron if None.

    Returns
    -------
    dict of str to object
        Techniques with their chances, the best recipe, draws, seed and what moved it most.

    Raises
    ------
    InputError
        If the label or the use is malformed.
    """
    card = make_card(label, use, iron=iron)
    limits = card.press
    if not limits.value.passes:
        return _view(limits.value.as_dict(), card, None)
    window = compute_window(card.cloth, limits.value, card.iron, everything=True)
    best = window_advice(card.cloth, limits, window)
    return _view(best.value.as_dict(), card, window) | {"reason": best.reason.as_dict()}


def _view(best: dict[str, object], card: Card, window: Window | None) -> dict[str, Any]:
    cloth = card.cloth
    chosen = window.best if window else None
    return {
        "format": "samite.press.v1",
        "cloth": cloth_json(cloth),
        "iron": iron_json(card.iron),
        "techniques": [_technique(item, window) for item in window.chances] if window else [],
        "best": best,
        "best_technique": _named(chosen.technique) if chosen else None,
        "weak_parts": [
            {
                "part": part.name,
                "place": part.place,
                "limit_c": part.limit_c.as_dict(),
            }
            for part in weaknesses(cloth)
        ],
        "glass_transition_c": _transitions(cloth),
        "draws": window.draws if window else 0,
        "seed": window.seed if window else 0,
        "moved_most": list(chosen.moved_most) if chosen else [],
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
