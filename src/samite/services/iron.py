"""The person's own iron: read from its file, and told in the answers."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from samite.garment.bench import KeptIron
from samite.kernel.quantity import Quantity
from samite.press.dials import FAHRENHEIT_ROUNDING_C, Dial
from samite.readers.iron_file import FORMAT, read_iron, read_iron_document
from samite.readers.problem import refuse
from samite.tables.irons import DialPosition, Iron

if TYPE_CHECKING:
    from samite.swatch.iron_check import CheckedIron

DOT_WORDS = {"low": "one dot", "medium": "two dots", "high": "three dots"}
"""Dial positions as the page and the answers name them."""


def load_iron(text: str) -> Iron:
    """Read the file of an iron.

    Parameters
    ----------
    text : str
        TOML in the form ``samite.iron.v1``.

    Returns
    -------
    Iron
        What it describes.

    Raises
    ------
    InputError
        If anything is wrong; it names every problem with line, key and mend.
    """
    iron, problems = read_iron(text)
    if iron is None:
        raise refuse(problems, "the iron's file")
    return iron


def kept_iron_profile(kept: KeptIron) -> Iron:
    """Return what the press counts with from an iron that is kept with its readings.

    Parameters
    ----------
    kept : KeptIron
        The iron, what a probe read at its dial positions.

    Returns
    -------
    Iron
        Measured positions and swing by `check_iron`; positions that nobody measured, and
        everything but the sole, as for the household iron.

    Raises
    ------
    InputError
        If its readings cannot be those of a dial.
    """
    dial: dict[str, dict[str, object]] = {
        words: {"dots": dots} for dots, words in enumerate(DOT_WORDS.values(), start=1)
    }
    found = _checked(kept)
    for item in kept.dials:
        if item.readings_c:
            dial[DOT_WORDS[item.dial]]["readings_c"] = list(item.readings_c)
        elif found:
            dial[DOT_WORDS[item.dial]]["sole_c"] = found.soles_c[item.dial].value
    document: dict[str, Any] = {"format": FORMAT, "name": kept.name, "dial": dial}
    iron, problems = read_iron_document(document, {})
    if iron is None:
        raise refuse(problems, f"the iron {kept.name!r} as it is kept")
    return _with_dial(iron, kept, found) if found else iron


def _checked(kept: KeptIron) -> CheckedIron | None:
    if not kept.dials:
        return None
    from samite.swatch.iron_check import check_iron

    return check_iron(kept.dials)


def _with_dial(iron: Iron, kept: KeptIron, found: CheckedIron) -> Iron:
    """Put the means and the swing that the readings make likely into an iron."""
    soles = dict(found.soles_c)
    for item in kept.dials:
        if item.readings_c:
            soles[item.dial] = _not_cooler(soles[item.dial], item.sole_c, item.dial)
    settings = tuple(
        replace(item, sole_c=soles.get(item.key, item.sole_c)) for item in iron.settings
    )
    return replace(iron, settings=settings, swing_c=found.swing_c)


def _not_cooler(sole_c: Quantity, read_c: float, key: str) -> Quantity:
    """Let no doubt cool a position down that was read past its symbol."""
    if read_c <= Dial(key).sole_max_c + FAHRENHEIT_ROUNDING_C or read_c <= sole_c.value:
        return sole_c
    return replace(sole_c, value=read_c, high=max(sole_c.high, read_c))


def iron_from_fields(
    soles: Mapping[str, str], steams_from: str = "", *, clapper: bool = True
) -> Iron:
    """Describe an iron by the few things that a form asks.

    Parameters
    ----------
    soles : mapping of str to str
        Sole temperature by ``low``, ``medium`` and ``high``, bare in C or with its unit.
    steams_from : str
        ``low``, ``medium``, ``high`` or ``never``; empty if not said.
    clapper : bool
        Whether a wood clapper is at hand.

    Returns
    -------
    Iron
        What they describe.

    Raises
    ------
    InputError
        If anything is wrong; it names every field.
    """
    dial: dict[str, dict[str, object]] = {}
    for dots, (key, words) in enumerate(DOT_WORDS.items(), start=1):
        dial[words] = {"dots": dots}
        if soles.get(key, "").strip():
            dial[words]["sole_c"] = soles[key].strip()
    document: dict[str, Any] = {"format": FORMAT, "dial": dial, "hold": {"clapper": clapper}}
    if steams_from:
        document["steams_from"] = DOT_WORDS.get(steams_from, steams_from)
    iron, problems = read_iron_document(document, {})
    if iron is None:
        raise refuse([replace(item, where=_field_of(item.where)) for item in problems], "my iron")
    return iron


def _field_of(where: str) -> str:
    """Return the field of a form for a key of the file."""
    return where.removeprefix("dial.").removesuffix(".sole_c").replace("_", " ")


def iron_json(iron: Iron) -> dict[str, object]:
    """Return an iron in the form used inside ``samite.card.v1`` and ``samite.press.v1``.

    Parameters
    ----------
    iron : Iron
        The iron that was counted with.

    Returns
    -------
    dict of str to object
        As documented in ``docs/faces/iron.md``.
    """
    return {
        "name": iron.name,
        "kind": iron.kind,
        "measured": iron.measured,
        "dials": {item.key: _position_json(item) for item in iron.settings},
        "swing_c": iron.swing_c.as_dict(),
        "steams_from": iron.steams_from,
        "pressure_kpa": iron.pressure_kpa.as_dict(),
        "clapper": iron.has_clapper,
        "board": iron.board.name if iron.board else "ironing board",
        "words": iron_words(iron),
    }


def _position_json(position: DialPosition) -> dict[str, object]:
    return {
        "dots": position.dots,
        "word": position.word,
        "sole_c": position.sole_c.as_dict(),
        "measured": position.measured,
    }


def iron_words(iron: Iron) -> str:
    """Say which iron was counted with.

    Parameters
    ----------
    iron : Iron
        The iron.

    Returns
    -------
    str
        One line.
    """
    if iron.key != "own":
        return "an unmeasured household iron, within the standard's tolerance"
    if iron.kind == "hand steamer":
        return f"{iron.name} (hand steamer): never touches"
    parts = [_position_words(item) for item in iron.settings if item.measured]
    if len(parts) < len(iron.settings):
        rest = "the rest" if parts else "not measured,"
        parts.append(f"{rest} within the standard's tolerance")
    steam = f"steams from {DOT_WORDS[iron.steams_from]}" if iron.steams_from else "no steam"
    tools = "" if iron.has_clapper else "; no clapper"
    kind = "" if iron.kind == "iron" else f" ({iron.kind})"
    return f"{iron.name}{kind}: {', '.join(parts)}; {steam}{tools}"


def _position_words(position: DialPosition) -> str:
    sole = position.sole_c
    words = DOT_WORDS[position.key]
    named = "" if position.word == words else f' ("{position.word}")'
    over = ", past its symbol" if _past_symbol(position) else ""
    return f"{words}{named} {sole.low:.0f} to {sole.high:.0f} C measured{over}"


def _past_symbol(position: DialPosition) -> bool:
    return position.sole_c.value > Dial(position.key).sole_max_c + FAHRENHEIT_ROUNDING_C
