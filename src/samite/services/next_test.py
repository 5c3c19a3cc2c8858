"""What to test next on a cloth: the tests by what they are worth, and the slip that holds them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from samite.press.decide import technique_of
from samite.press.dials import DIAL_WORDS, Dial
from samite.press.techniques import Technique
from samite.services.card import Card, make_card, seam_order
from samite.services.fibre import fibre_view
from samite.services.iron import iron_json
from samite.services.known import Known, known_of
from samite.services.next_seam import sewn_tests
from samite.services.slip import slip_json, slip_of, trial_fields
from samite.services.swatch_words import STEAMS, THROUGH
from samite.swatch.slip import STATION_CM, STATION_MINUTES
from samite.swatch.trial import PressTrial

if TYPE_CHECKING:
    from samite.swatch.above import Above
    from samite.swatch.decision import Branch, PressChoice, TrialWorth
    from samite.swatch.ranking import Ranked
    from samite.tables.irons import Iron

FORMAT = "samite.next.v1"

IRON_MINUTES = 15.0
"""What a check of an iron takes [min]."""

SHOWN = 6
"""Trials that are told."""

Progress = Callable[[int, int], None]


def next_view(
    path: Path,
    label: str,
    use: str = "",
    *,
    iron: Iron | None = None,
    iron_name: str = "",
    maker: str = "",
    progress: Progress | None = None,
) -> dict[str, Any]:
    """Return what to test next on a cloth.

    Parameters
    ----------
    path : Path
        File of the store; swatches of the cloth in it are learnt from.
    label : str
        What the bolt says, or the key of a cloth that is kept.
    use : str
        What the cloth is wanted for.
    iron : Iron or None
        The iron at hand; an unmeasured household iron if None.
    iron_name : str
        Its name or key in the store, if it is kept.
    maker : str
        Whose hand; empty for whoever made the last swatch.
    progress : callable or None
        Told how many trials of how many are weighed.

    Returns
    -------
    dict of str to object
        In the form ``samite.next.v1``.
    """
    known = known_of(path, label, iron_name=iron_name, maker=maker)
    card = make_card(known.label, use, iron=iron, past=known.past)
    ranked, choice, above = _ranked(card, known, progress)
    sewn, best_sewn = sewn_tests(card, known)
    slip = slip_json(slip_of(card, _trials(ranked), best_sewn))
    tests = _press_tests(ranked, choice) + _above_tests(above, choice) + sewn
    tests += _iron_tests(choice, card) + _other_tests(card, sewn=bool(sewn))
    tests.sort(key=lambda item: (not item["now"], -(item["worth_per_min"] or 0.0)))
    return {
        "format": FORMAT,
        "cloth": {"key": known.key, "label": known.label},
        "iron": iron_json(card.iron),
        "swatches": known.count,
        "decision": _decision(choice),
        "tests": tests,
        "slip": slip,
        "fibre": fibre_view(known.label, iron=iron) if _fibre_open(card) else None,
    }


def _ranked(
    card: Card, known: Known, progress: Progress | None
) -> tuple[list[Ranked], PressChoice | None, list[Above]]:
    from samite.swatch.above import steps_above
    from samite.swatch.ranking import choice_of, rank_trials

    recipe = card.press.value
    if not recipe.passes:
        return [], None, []
    learnt = known.past.learn(card.cloth, card.iron)
    order, swatches = seam_order(card.sewing), known.past.swatches
    choice = choice_of(learnt, recipe, order)
    above = steps_above(learnt, choice, recipe, order, swatches)
    return rank_trials(learnt, choice, recipe, swatches, progress), choice, above


def _trials(ranked: Sequence[Ranked]) -> tuple[PressTrial, ...]:
    from samite.swatch.ranking import stations

    return stations(ranked)


def _fibre_open(card: Card) -> bool:
    return any("fibre" in item for item in card.cloth.unknown)


def _decision(choice: PressChoice | None) -> dict[str, Any]:
    """Say what the tests are to decide, and what it would be worth to know everything."""
    if choice is None:
        what = "how to sew the seams; no iron comes near this cloth"
        return {"what": what, "now": "", "worth_of_knowing": 0.0}
    technique, seconds, value = choice.best
    return {
        "what": "how to press the seams, technique and seconds, and how to sew them, needle and stitch",
        "now": _choice_words(technique, seconds),
        "brings": round(value, 4),
        "worth_of_knowing": round(choice.worth_of_knowing, 4),
    }


def _choice_words(technique: Technique | None, seconds: float) -> str:
    return f"{technique.words}, {seconds:g} s" if technique else "no iron at all"


def _press_tests(ranked: Sequence[Ranked], choice: PressChoice | None) -> list[dict[str, Any]]:
    if choice is None:
        return []
    found = []
    for one in ranked[:SHOWN]:
        worth = one.worth
        found.append(
            {
                "kind": "press",
                "test": f"press a scrap: {pressing_words(worth.trial)}",
                "settles": "how hot and how long this iron and this cloth agree",
                "minutes": STATION_MINUTES,
                "cloth_cm": STATION_CM,
                "worth": round(worth.worth, 4),
                "worth_per_min": round(one.per_minute, 5),
                "worth_per_cm": round(one.per_cm, 5),
                "chance_harm": round(worth.chance_harm, 4),
                "now": one.now,
                "then": _branches(worth, choice),
                "fields": trial_fields(worth.trial),
            }
        )
    return found


ABOVE = (
    "above what the card allows: on a scrap only, a pan of water at hand, lift at the first shine, "
    "sticking or smell"
)
"""What stands before a pressing above the card."""


def _above_tests(above: Sequence[Above], choice: PressChoice | None) -> list[dict[str, Any]]:
    """Steps one dot above the card, of which only the next is told."""
    if choice is None:
        return []
    return [
        {
            "kind": "press",
            "test": f"press a scrap: {pressing_words(one.worth.trial)} ({ABOVE})",
            "settles": "whether the card may go one dot hotter for this cloth with this iron",
            "minutes": STATION_MINUTES,
            "cloth_cm": STATION_CM,
            "worth": round(one.worth.worth, 4),
            "worth_per_min": round(one.worth.worth / STATION_MINUTES, 5),
            "worth_per_cm": round(one.worth.worth / STATION_CM, 5),
            "chance_harm": round(one.worth.chance_harm, 4),
            "now": one.now,
            "then": _branches(one.worth, choice),
            "fields": trial_fields(one.worth.trial),
        }
        for one in above[:1]
    ]


def _branches(worth: TrialWorth, choice: PressChoice) -> list[dict[str, Any]]:
    technique, seconds, _ = choice.best
    return [
        {
            "seen": [item.sign.words for item in branch.findings],
            "chance": round(branch.chance, 4),
            "leads_to": _compared(branch, technique, seconds),
        }
        for branch in worth.branches
        if branch.chance >= LEAST_CHANCE
    ]


LEAST_CHANCE = 0.01
"""Chance under which an outcome is not told [-]."""


def _compared(branch: Branch, technique: Technique | None, seconds: float) -> str:
    """Say how the choice would change: the card itself then says it in full."""
    if branch.technique is None:
        return "nothing is changed" if technique is None else "rather no iron"
    if branch.technique != technique:
        return f"rather {branch.technique.words}"
    if branch.seconds == seconds:
        return "nothing is changed"
    return f"{'shorter' if branch.seconds < seconds else 'longer'}, about {branch.seconds:g} s"


def pressing_words(trial: PressTrial) -> str:
    """Return a pressing in words.

    Parameters
    ----------
    trial : PressTrial
        The pressing.

    Returns
    -------
    str
        For example ``"wool/silk, two dots, no steam, through a dry cloth, wrong side, 6 s"``.
    """
    if trial.steam == "hover":
        return f"{STEAMS['hover']} from the {trial.side} side, {trial.seconds:g} s"
    parts = (
        DIAL_WORDS[trial.dial],
        STEAMS[trial.steam],
        THROUGH[trial.press_cloth],
        f"{trial.side} side",
        f"{trial.seconds:g} s",
    )
    return ", ".join(filter(None, parts))


def _iron_tests(choice: PressChoice | None, card: Card) -> list[dict[str, Any]]:
    """A check of the iron, where its dial is not measured: it costs no cloth."""
    recipe = card.press.value
    if choice is None:
        return []
    from samite.swatch.decision import worth_of_reading

    dial: Dial = technique_of(recipe.passes[-1], recipe).iron
    if dial is Dial.NONE or card.iron.setting(dial.value).measured:
        return []
    worth = worth_of_reading(dial, card.iron, choice)
    return [
        {
            "kind": "iron",
            "test": f"check the iron: two or three readings of the sole at {DIAL_WORDS[dial]}",
            "settles": "how hot this iron is there, for every cloth",
            "minutes": IRON_MINUTES,
            "cloth_cm": 0.0,
            "worth": round(worth, 4),
            "worth_per_min": round(worth / IRON_MINUTES, 5),
            "worth_per_cm": None,
            "chance_harm": 0.0,
            "now": True,
            "then": [],
            "fields": None,
        }
    ]


def _other_tests(card: Card, *, sewn: bool) -> list[dict[str, Any]]:
    """Tests whose worth no model weighs, each with the reason: looks, drops, the finish of an edge."""
    looks = [item for item in card.swatches if not (item.pressed or (sewn and item.sewn))]
    found = [
        _unweighed(
            item.test,
            item.settles,
            item.minutes,
            item.cloth_cm,
            BY_HAND if item.sewn else NO_CHOICE,
        )
        for item in looks
    ]
    seam = card.sewing.seam.value
    if seam.finish in FINISHED_APART:
        test = f"finish one edge over 20 cm as the card says, rub it and pull at it: {seam.how}"
        found.append(
            _unweighed(test, FINISH_SETTLES, FINISH_MINUTES, FINISH_CM, NO_MODEL_OF_FINISH)
        )
    return found


FINISHED_APART = ("overedge", "zigzag", "bound", "narrow-double", "pinked")
"""Finishes that stand by themselves; one that is sewn with the seam is tried with it."""

FINISH_SETTLES = "whether the finish holds this edge, lies flat and does not show"
FINISH_MINUTES, FINISH_CM = 2.0, 20.0

BY_HAND = "no model weighs it: the seam models know machine seams only"
NO_CHOICE = (
    "no model weighs it: it settles how the cloth is handled, which nothing here chooses among"
)
NO_MODEL_OF_FINISH = (
    "no model weighs it: the seam models know yarns that slide at the stitches, weighed with the sewn "
    "scraps, and not how often a finish lets go"
)
"""Why a test has no worth."""


def _unweighed(
    test: str, settles: str, minutes: float, cloth_cm: float, why: str
) -> dict[str, Any]:
    return {
        "kind": "look",
        "test": test,
        "settles": settles,
        "minutes": minutes,
        "cloth_cm": cloth_cm,
        "worth": None,
        "worth_per_min": None,
        "worth_per_cm": None,
        "unweighed": why,
        "chance_harm": None,
        "now": True,
        "then": [],
        "fields": None,
    }
