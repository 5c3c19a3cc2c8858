"""Cloths for a costume side by side: what each would come to, computed by the engines."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from samite.cloth.model import Cloth
from samite.project.choosing import Choice, Criterion, Weighed, weigh_choices
from samite.tables.care import care_levels, care_methods

FORMAT = "samite.compare.v1"

CRITERIA = (
    Criterion("metres_m", "cloth to buy", "m", "less"),
    Criterion("cost", "its price", "currency", "less"),
    Criterion("mass_g", "weight of the finished pieces", "g", "less"),
    Criterion("stiffness", "how stiffly it falls, 0 to 3", "", "less"),
    Criterion("warmth_m2k_w", "warmth it keeps in", "m2 K/W", "less"),
    Criterion("sheer", "shows what is beneath", "", "less"),
    Criterion("stretch_percent", "stretch across", "%", "more"),
    Criterion("press_good", "chance of a seam set and unharmed", "", "more"),
    Criterion("press_seconds_s", "seconds between enough and too much", "s", "more"),
    Criterion("seam_margin", "strength of the seam over its load", "", "more"),
    Criterion("frays", "how it frays, 0 to 3", "", "less"),
    Criterion("slippery", "how it slips, 0 to 3", "", "less"),
    Criterion("needles", "needles used up", "count", "less"),
    Criterion("minutes_min", "sewing", "min", "less"),
    Criterion("care", "ease of cleaning, 0 to 5", "", "more"),
    Criterion("cautions", "cautions", "count", "less"),
)
"""What counts when a cloth is chosen; the person says how much."""


def candidate(
    name: str,
    cloth: Cloth,
    *,
    metres_m: float | None,
    mass_g: float,
    card: Mapping[str, Any],
    pair: Mapping[str, Any] | None,
    seam_m: float,
) -> Choice:
    """Return what a cloth would come to.

    Parameters
    ----------
    name : str
        Name of the cloth.
    cloth : Cloth
        The cloth.
    metres_m : float or None
        Cloth to buy; None if the pieces cannot be laid on it [m].
    mass_g : float
        What the pieces weigh [g].
    card : mapping of str to object
        Its bench card.
    pair : mapping of str to object or None
        Its seam card with itself.
    seam_m : float
        Seams of the pieces that it is cut into, hems left out [m].

    Returns
    -------
    Choice
        Values by criterion but the price; what is not known is left out.
    """
    values = {
        "mass_g": mass_g,
        "stiffness": float(cloth.stiffness),
        "warmth_m2k_w": cloth.thickness_mm.value / 1000.0 / cloth.conductivity_w_mk.value,
        "sheer": float(cloth.sheer),
        "stretch_percent": cloth.stretch_cross_percent.value,
        "frays": float(cloth.frays),
        "slippery": float(cloth.slippery),
        "cautions": float(len(card["cautions"])),
        "care": float(_care(card)),
        **_pressing(card["press"]),
    }
    if metres_m is not None:
        values["metres_m"] = metres_m
    if pair and "numbers" in pair:
        values |= _sewing(pair, seam_m)
    return Choice(name, values)


def _care(card: Mapping[str, Any]) -> int:
    method = str(card["care"]["method"])
    known = care_methods().get(method)
    return known["wash"].rank if known else care_levels()["wash", "none"].rank


def _pressing(press: Mapping[str, Any]) -> dict[str, float]:
    found = {}
    if press.get("chance_set") is not None:
        found["press_good"] = press["chance_set"] * (1.0 - press["chance_damage"])
    gaps = [one["seconds"][1] - one["seconds"][0] for one in press["passes"]]
    if gaps:
        found["press_seconds_s"] = float(min(gaps))
    return found


def _sewing(pair: Mapping[str, Any], metres: float) -> dict[str, float]:
    numbers = pair["numbers"]
    return {
        "seam_margin": numbers["strength_n_per_cm"] / max(numbers["load_n_per_cm"], 1e-9),
        "minutes_min": numbers["minutes_per_m"] * metres,
        "needles": pair["needle"]["count"] * metres / 10.0,
    }


def compare_json(
    costume: str,
    choices: Sequence[Choice],
    weights: Mapping[str, float],
    reasons: Mapping[str, Sequence[str]],
) -> dict[str, Any]:
    """Return the comparison in the form ``samite.compare.v1``.

    Parameters
    ----------
    costume : str
        Name of the costume.
    choices : sequence of Choice
        Cloths.
    weights : mapping of str to float
        How much each criterion matters [-].
    reasons : mapping of str to sequence of str
        What stands behind the values of each cloth.

    Returns
    -------
    dict of str to object
        Criteria, and choices best first.
    """
    weighed = weigh_choices(choices, CRITERIA, weights)
    return {
        "format": FORMAT,
        "costume": costume,
        "criteria": [
            {
                "key": one.key,
                "says": one.says,
                "unit": one.unit,
                "better": one.better,
                "weight": weights.get(one.key, 1.0),
            }
            for one in CRITERIA
        ],
        "choices": [_choice_json(one, reasons.get(one.choice.name, ())) for one in weighed],
    }


def _choice_json(one: Weighed, reasons: Sequence[str]) -> dict[str, Any]:
    return {
        "cloth": one.choice.name,
        "score": round(one.score, 4),
        "values": {key: round(value, 4) for key, value in one.choice.values.items()},
        "places": {key: round(value, 4) for key, value in one.parts.items()},
        "beaten_by": list(one.beaten_by),
        "reasons": list(reasons),
    }


def weigh_again(document: Mapping[str, Any], weights: Mapping[str, float]) -> dict[str, Any]:
    """Order a comparison anew by other weights, without computing anything else.

    Parameters
    ----------
    document : mapping of str to object
        In the form ``samite.compare.v1``.
    weights : mapping of str to float
        How much each criterion matters [-].

    Returns
    -------
    dict of str to object
        In the same form.
    """
    choices = [Choice(one["cloth"], one["values"]) for one in document["choices"]]
    reasons = {one["cloth"]: one["reasons"] for one in document["choices"]}
    return compare_json(str(document["costume"]), choices, weights, reasons)
