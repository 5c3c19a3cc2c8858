"""The guided check of an iron: steps and cautions, then its dial and swing from what was read."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

from samite.garment.bench import DIALS, KeptIron, MeasuredDial, StripReading
from samite.kernel.errors import InputError, SamiteError
from samite.kernel.units import parse_quantity
from samite.press.dials import DIAL_WORDS, FAHRENHEIT_ROUNDING_C, Dial
from samite.services.iron import DOT_WORDS, kept_iron_profile
from samite.services.stock import keep_stock
from samite.store.kinds import IRON, Kept, name_key
from samite.store.store import Store
from samite.tables.irons import Iron, household_iron

FORMAT = "samite.iron-check.v1"

READINGS = 3
"""Readings that the form asks for at each position."""

CAUTIONS = (
    "the sole burns at once, and so do foil and strip: set the iron down on its heel or on "
    "something that bears 250 C, and keep hands, hair and the cord off it",
    "no substance is ever melted on the sole to find out how hot it is: it spatters, smokes and "
    "stays there",
    "the iron is not opened and nothing in it is altered; one that tingles, trips the fuse or has "
    "a hurt cord goes to a licensed repairer",
    "never leave it while it is on; no children or animals near; pull the plug afterwards",
)
"""What to mind."""

STEPS = (
    "empty the water and turn the steam off; stand the iron on its heel, dial at one dot",
    "wait until the light has gone out twice: the first heating overshoots",
    "with a contact probe: hold it flat on the middle of the sole with a wooden stick or a clamp, "
    "wait until it stands still, write down what it shows; again after half a minute, and a third "
    "time. One that looks from afar reads a bright sole far too cold",
    "or with temperature strips: lay one on a piece of foil on a board that bears heat, set the "
    "hot sole on it until the light has gone out twice, lift, and write down the highest mark that "
    "has turned and the lowest that has not",
    "the same at two dots and at three dots, always from cool to hot; a position that you never "
    "press with may be left out",
)
"""What to do, in order."""


def check_guide() -> dict[str, Any]:
    """Return how an iron is checked.

    Returns
    -------
    dict of str to object
        Keys ``cautions``, ``steps`` and ``minutes``.
    """
    return {"cautions": list(CAUTIONS), "steps": list(STEPS), "minutes": 15}


def read_dials(
    readings: Mapping[str, Sequence[str]], strips: Mapping[str, Sequence[tuple[str, str]]]
) -> tuple[tuple[MeasuredDial, ...], dict[str, SamiteError]]:
    """Read what was typed of an iron's dial.

    Parameters
    ----------
    readings : mapping of str to sequence of str
        What the probe showed, by ``low``, ``medium`` and ``high``; empty texts are left out.
    strips : mapping of str to sequence of tuple of (str, str)
        Highest mark that turned and lowest that did not, likewise.

    Returns
    -------
    tuple of MeasuredDial
        Positions where something was read.
    dict of str to SamiteError
        What is wrong, by field: ``low_1``, ``low_turned`` and so on.
    """
    problems: dict[str, SamiteError] = {}
    found = []
    for dial in DIALS:
        probe = tuple(
            value
            for number, text in enumerate(readings.get(dial, ()), start=1)
            if (value := _degrees(text, f"{dial}_{number}", problems)) is not None
        )
        marks = tuple(
            strip
            for turned, kept in strips.get(dial, ())
            if (strip := _strip(turned, kept, dial, problems)) is not None
        )
        if probe or marks:
            try:
                found.append(MeasuredDial(dial, probe, marks))
            except SamiteError as error:
                problems[f"{dial}_1"] = type(error)(error.message, f"{dial}_1", error.hint)
    if not found and not problems:
        problems["low_1"] = InputError(
            "nothing was read", "low_1", "read one position at least, two or three times"
        )
    return tuple(found), problems


def _degrees(text: str, field: str, problems: dict[str, SamiteError]) -> float | None:
    if not text.strip():
        return None
    try:
        return parse_quantity(text.strip(), "C")
    except SamiteError as error:
        problems[field] = type(error)(error.message, field, error.hint)
        return None


def _strip(
    turned: str, kept: str, dial: str, problems: dict[str, SamiteError]
) -> StripReading | None:
    if not turned.strip() and not kept.strip():
        return None
    field = f"{dial}_turned"
    above, below = _degrees(turned, field, problems), _degrees(kept, f"{dial}_kept", problems)
    if above is None or below is None:
        if not problems:
            problems[field] = InputError(
                "one mark of the strip is missing", field, "give the one that turned and the next"
            )
        return None
    try:
        return StripReading(above, below)
    except SamiteError as error:
        problems[field] = type(error)(error.message, field, error.hint)
        return None


def keep_checked_iron(
    path: Path, name: str, dials: Sequence[MeasuredDial], on: date, note: str = ""
) -> dict[str, Any]:
    """Keep an iron with what was read on it, in the place of one of that name.

    Parameters
    ----------
    path : Path
        File of the store.
    name : str
        What its owner calls it.
    dials : sequence of MeasuredDial
        What was read; positions that were read before and not now stay as they were.
    on : date
        Today.
    note : str
        Anything else.

    Returns
    -------
    dict of str to object
        In the form ``samite.iron-check.v1``.
    """
    there = _namesake(path, name)
    kept = KeptIron(name.strip(), tuple(dials), note.strip())
    if there:
        own = {item.dial for item in dials}
        stays = tuple(item for item in there.value.dials if item.dial not in own)
        joined = sorted((*dials, *stays), key=lambda item: DIALS.index(item.dial))
        kept = replace(kept, dials=tuple(joined), note=note.strip() or there.value.note)
    profile = kept_iron_profile(kept)
    view = keep_stock(path, kept, on, there.key if there else "")
    return {"format": FORMAT, "key": view["key"], "version": view["version"]} | _told(kept, profile)


def _namesake(path: Path, name: str) -> Kept[KeptIron] | None:
    if not path.exists():
        return None
    with Store(path, write=False) as store:
        found = [item for item in store.all(IRON) if name_key(item.value.name) == name_key(name)]
    return found[0] if found else None


def _told(kept: KeptIron, profile: Iron) -> dict[str, Any]:
    read = {item.dial: item for item in kept.dials}
    usual = {item.key: item for item in household_iron().settings}
    dials = {
        item.key: {
            "words": DIAL_WORDS[Dial(item.key)],
            "measured": item.measured,
            "sole_c": item.sole_c.as_dict(),
            "before_c": usual[item.key].sole_c.as_dict(),
            "symbol_c": Dial(item.key).sole_max_c,
            "past_symbol": _past(item.sole_c.value, item.key),
            "readings_c": list(read[item.key].readings_c) if item.key in read else [],
            "strips_c": [[strip.above_c, strip.below_c] for strip in read[item.key].strips]
            if item.key in read
            else [],
        }
        for item in profile.settings
    }
    return {
        "name": kept.name,
        "dials": dials,
        "swing_c": profile.swing_c.as_dict(),
        "swing_before_c": household_iron().swing_c.as_dict(),
        "words": check_words(dials, profile),
    }


def _past(sole_c: float, dial: str) -> bool:
    return sole_c > Dial(dial).sole_max_c + FAHRENHEIT_ROUNDING_C


def check_words(dials: Mapping[str, Mapping[str, Any]], profile: Iron) -> list[str]:
    """Say what a check has found.

    Parameters
    ----------
    dials : mapping of str to mapping of str to object
        ``dials`` of a ``samite.iron-check.v1``.
    profile : Iron
        The iron with its measured dial.

    Returns
    -------
    list of str
        Sentences.
    """
    found = []
    for key, item in dials.items():
        sole = item["sole_c"]
        if item["measured"]:
            told = f"{DOT_WORDS[key]}: {sole['low']:.0f} to {sole['high']:.0f} C in the middle"
            if item["past_symbol"]:
                told += f", past the {item['symbol_c']:.0f} C of its symbol: turn the dial lower"
            found.append(told)
    swing = profile.swing_c
    found.append(f"it swings about that by {swing.low:.0f} to {swing.high:.0f} K to either side")
    return found
