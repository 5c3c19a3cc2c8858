"""What an unlabelled cloth may be: the tests, and what their results make likely."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from samite.cloth.build import build_cloth
from samite.cloth.label import read_label
from samite.swatch.fibre_chances import (
    MIXTURE,
    FibreChances,
    fibre_chances,
    fibre_prior,
    next_fibre_tests,
)
from samite.tables.fibre_tests import FibreTest, fibre_tests, questions
from samite.tables.fibres import fibre
from samite.tables.irons import Iron
from samite.tables.press_limits import press_limit

FORMAT = "samite.fibre.v1"

SHOWN = 0.01
"""Chance under which a fibre is not told [-]."""

SURE = 0.9
"""Chance from which the likeliest may be named, still not certain [-]."""

DEFEATS = (
    "blends defeat these tests, and so do finishes, dyes, sizes, coatings and flame retardants: "
    "test warp and weft apart, and trust a label before a flame"
)
LABORATORY = "leave it to a laboratory when it matters: allergy, law, flame, or a costly cloth"


def fibre_view(
    label: str = "", answers: Mapping[str, str] | None = None, iron: Iron | None = None
) -> dict[str, Any]:
    """Return how likely each fibre is, and which test would tell most.

    Parameters
    ----------
    label : str
        What the bolt says; may be empty.
    answers : mapping of str to str
        Answers by question; empty ones are left out.
    iron : Iron or None
        The iron that touches.

    Returns
    -------
    dict of str to object
        In the form ``samite.fibre.v1``.
    """
    given = {key: text.strip() for key, text in (answers or {}).items() if text.strip()}
    cloth = build_cloth(read_label(label)) if label.strip() else None
    prior = fibre_prior(cloth)
    found = fibre_chances(prior, given, iron)
    return {
        "format": FORMAT,
        "label": label,
        "answers": given,
        "chances": [_chance(key, chance, prior[key]) for key, chance in found.chances.items()],
        "words": _words(found, bool(given)),
        "tests": [_test(test, gain) for test, gain in next_fibre_tests(found, list(given), iron)],
        "questions": {
            key: {"test": test.key, "asks": asked.asks, "answers": dict(asked.answers)}
            for key, (test, asked) in questions().items()
        },
        "mind": [DEFEATS, LABORATORY],
    }


def _chance(key: str, chance: float, before: float) -> dict[str, Any]:
    limit = None if key == MIXTURE else press_limit(key).as_dict()
    return {
        "fibre": key,
        "name": "a blend" if key == MIXTURE else fibre(key).name,
        "chance": round(chance, 4),
        "before": round(before, 4),
        "press_damage_c": limit,
    }


def _words(found: FibreChances, asked: bool) -> list[str]:
    """Say what it comes to, and what follows for the iron."""
    first = found.likeliest
    name = "a blend" if first == MIXTURE else fibre(first).name
    chance = found.chances[first]
    if not asked:
        return ["nothing is tested yet: these are the usual shares of unlabelled cloths"]
    said = f"likeliest {name}, {chance:.0%}"
    if chance < SURE:
        said += "; not sure enough to iron by: take the tenderest fibre that is still likely"
    tender = [key for key, c in found.chances.items() if c >= 0.05 and key != MIXTURE]
    coolest = min(tender, key=lambda key: press_limit(key).low, default="")
    if coolest:
        low = press_limit(coolest).low
        said_iron = (
            f"tenderest of those at 5 % or more: {fibre(coolest).name}, hurt from {low:.0f} C"
        )
        if found.chances.get(MIXTURE, 0.0) >= 0.05:
            said_iron += "; a blend may hold a tenderer one"
        return [said, said_iron]
    return [said]


def _test(test: FibreTest, gain: float) -> dict[str, Any]:
    return {
        "test": test.key,
        "name": test.name,
        "worth": round(gain, 4),
        "minutes": test.minutes,
        "cloth_cm2": test.cloth_cm2,
        "cost": test.cost,
        "needs": list(test.needs),
        "cautions": list(test.cautions),
        "steps": list(test.steps),
    }


def all_fibre_tests() -> list[dict[str, Any]]:
    """Return every test with its steps and cautions.

    Returns
    -------
    list of dict of str to object
        As ``tests`` of ``samite.fibre.v1``, without a worth.
    """
    return [_test(test, 0.0) for test in fibre_tests().values()]
