"""The file of a person's own iron, ``samite.iron.v1``."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from samite.kernel.errors import UnknownNameError
from samite.kernel.evidence import Evidence, Grade
from samite.kernel.quantity import Quantity, spread
from samite.readers.fields import Fields
from samite.readers.iron_dial import read_dial
from samite.readers.problem import Problem
from samite.readers.toml_text import Path, read_toml_text
from samite.tables.close_names import did_you_mean, suggest
from samite.tables.irons import KINDS, DialPosition, Iron, heat_press_pressure, household_iron
from samite.tables.loader import bounds
from samite.tables.press_tools import PressTool, press_tool, press_tools

FORMAT = "samite.iron.v1"
GIVEN = Evidence("own-iron", Grade.MEASURED_HERE, "as given")
NEVER = "never"
LARGEST_PRESS_CM2 = 5000.0

NUMBERS = {
    "mass_kg": ("kg", 0.05),
    "sole_area_cm2": ("cm2", 0.1),
    "hand_force_n": ("N", 0.5),
    "recovery_s": ("s", 0.3),
}
"""Unit, and half-width of the range in which a stated number is believed [-]."""

STEAM_KEYS = ("steam_g_min", "steam_light_g_min", "steam_full_g_min")
STEAM_SHARE = 0.2
PRESSURE_SHARE = 0.2
THICKNESS_SHARE = 0.2
KNOWN = (
    *("format", "name", "kind", "dial", "steams_from"),
    *(*STEAM_KEYS, *NUMBERS, "pressure_kpa", "hold", "board"),
)


def read_iron(text: str) -> tuple[Iron | None, list[Problem]]:
    """Read the file of an iron.

    Parameters
    ----------
    text : str
        TOML in the form ``samite.iron.v1``, see ``docs/faces/iron.md``.

    Returns
    -------
    Iron or None
        What it describes; None if anything is wrong.
    list of Problem
        Everything that is wrong, in the order of the file.
    """
    document, lines, problems = read_toml_text(text)
    if problems:
        return None, problems
    return read_iron_document(document, lines)


def read_iron_document(
    document: Mapping[str, Any], lines: Mapping[Path, int]
) -> tuple[Iron | None, list[Problem]]:
    """Read the description of an iron.

    Parameters
    ----------
    document : mapping of str to object
        In the form ``samite.iron.v1``.
    lines : mapping of tuple of str to int
        Line of each key; empty where there is no file.

    Returns
    -------
    Iron or None
        What it describes; None if anything is wrong.
    list of Problem
        Everything that is wrong, in the order of the file.
    """
    fields = Fields(lines)
    fields.check_keys(document, (), KNOWN)
    _check_format(fields, document)
    kind = _kind(fields, document)
    dial = fields.section(document, "dial")
    settings, swing = read_dial(fields, dial)
    usual = household_iron()
    light, full = _steam(fields, document, usual)
    iron = replace(
        usual,
        key="own",
        name=fields.text(document, ("name",), "my iron"),
        kind=kind,
        settings=settings,
        swing_c=swing,
        stated_pressure_kpa=_pressure(fields, document, kind),
        steams_from=_steams_from(fields, document, kind, dial, settings),
        steam_light_g_min=light,
        steam_full_g_min=full,
        has_clapper=_clapper(fields, document),
        board=_board(fields, document),
        **_numbers(fields, document, kind),
    )
    problems = sorted(fields.problems, key=lambda item: item.line)
    return (None if problems else iron), problems


def _check_format(fields: Fields, document: Mapping[str, Any]) -> None:
    found = document.get("format")
    if found != FORMAT:
        what = "it does not say its format" if found is None else "that format is not known"
        fields.wrong(("format",), what, f'write format = "{FORMAT}" in the first line')


def _kind(fields: Fields, document: Mapping[str, Any]) -> str:
    kind = fields.text(document, ("kind",), KINDS[0])
    if kind not in KINDS:
        close = suggest(kind, KINDS)
        mend = f"did you mean {close[0]}?" if close else f"one of {', '.join(KINDS)}"
        fields.wrong(("kind",), f"{kind!r} is none of {', '.join(KINDS)}", mend)
        return KINDS[0]
    if kind == "hand steamer":
        for key in ("dial", "steams_from", "pressure_kpa"):
            if key in document:
                fields.wrong((key,), "a hand steamer has no dial and no sole", "leave it out")
    return kind


def _steams_from(
    fields: Fields,
    document: Mapping[str, Any],
    kind: str,
    dial: Mapping[str, Any],
    settings: tuple[DialPosition, ...],
) -> str | None:
    if kind == "hand steamer":
        return settings[0].key
    default = household_iron().steams_from if kind == "iron" else None
    if "steams_from" not in document:
        return default
    path = ("steams_from",)
    word = fields.text(document, path, NEVER)
    if word.casefold() == NEVER:
        return None
    if kind == "heat press":
        fields.wrong(path, "a heat press never steams", "leave it out")
    keys = {item.word.casefold(): item.key for item in settings}
    named = {" ".join(name.split()).casefold() for name in dial}
    if word.casefold() not in named:
        close = suggest(word, [*dial, NEVER])
        mend = f"did you mean {' or '.join(close)}?" if close else ""
        mend = mend or f'describe it: [dial."{word}"] with its dots; or write "{NEVER}"'
        fields.wrong(path, f"{word!r} is no position of this dial", mend)
    return keys.get(word.casefold(), default)


def _steam(fields: Fields, document: Mapping[str, Any], usual: Iron) -> tuple[Quantity, Quantity]:
    given = [key for key in STEAM_KEYS if key in document]
    if given and str(document.get("steams_from", "")).casefold() == NEVER:
        fields.wrong((given[0],), "it never steams, and yet gives steam", "leave out one of them")
    if STEAM_KEYS[0] in given and len(given) > 1:
        what = "one output and two outputs are given"
        fields.wrong((given[1],), what, "give steam_g_min alone, or light and full")
    limits = (0.5, bounds()["steam_g_min"].maximum)
    found = {key: fields.within(document[key], (key,), "g/min", limits) for key in given}
    one = found.get("steam_g_min")
    light = found.get("steam_light_g_min", one)
    full = found.get("steam_full_g_min", one)
    if light and full and light > full:
        what = f"light steam of {light:g} g/min is more than full steam of {full:g}"
        fields.wrong(("steam_light_g_min",), what, "swap them")
    return _output(light, usual.steam_light_g_min, full, min), _output(
        full, usual.steam_full_g_min, light, max
    )


def _output(said: float | None, usual: Quantity, other: float | None, pick: Any) -> Quantity:
    """Return an output; where only the other one is said, light is never more than full."""
    if said is not None:
        return _stated(said, STEAM_SHARE, "g/min")
    if other is None or pick(usual.value, other) == usual.value:
        return usual
    return _stated(other, STEAM_SHARE, "g/min")


def _numbers(fields: Fields, document: Mapping[str, Any], kind: str) -> dict[str, Quantity]:
    found = {}
    for key, (unit, share) in NUMBERS.items():
        if key not in document:
            continue
        bound = bounds()[key]
        top = LARGEST_PRESS_CM2 if (key, kind) == ("sole_area_cm2", "heat press") else bound.maximum
        low = max(bound.minimum, 0.01)
        number = fields.within(document[key], (key,), unit, (low, top))
        if number is not None:
            found[key] = _stated(number, share, bound.unit)
    return found


def _pressure(fields: Fields, document: Mapping[str, Any], kind: str) -> Quantity | None:
    usual = heat_press_pressure() if kind == "heat press" else None
    if "pressure_kpa" not in document:
        return usual
    path = ("pressure_kpa",)
    if kind == "iron":
        mend = "leave it out; give mass_kg, sole_area_cm2 and hand_force_n"
        fields.wrong(path, "the pressure of an iron follows from weight, hand and sole", mend)
    bound = bounds()["pressure_kpa"]
    number = fields.within(document["pressure_kpa"], path, "kPa", (bound.minimum, bound.maximum))
    return usual if number is None else _stated(number, PRESSURE_SHARE, "kPa")


def _stated(number: float, share: float, unit: str) -> Quantity:
    return spread(number, share, unit, GIVEN, given=True)


def _clapper(fields: Fields, document: Mapping[str, Any]) -> bool:
    hold = fields.section(document, "hold")
    fields.check_keys(hold, ("hold",), ("clapper",))
    return fields.truth(hold, ("hold", "clapper"), household_iron().has_clapper)


def _board(fields: Fields, document: Mapping[str, Any]) -> PressTool | None:
    section = fields.section(document, "board")
    fields.check_keys(section, ("board",), ("support", "thickness_mm", "cover"))
    if not section:
        return None
    board = _support(fields, section)
    cover = fields.text(section, ("board", "cover"), "")
    if cover:
        board = replace(board, name=f"{board.name} ({cover})", material=cover)
    if "thickness_mm" in section:
        path, bound = ("board", "thickness_mm"), bounds()["thickness_mm"]
        limits = (0.5, bound.maximum)
        thick = fields.within(section["thickness_mm"], path, "mm", limits)
        if thick is not None:
            board = replace(board, thickness_mm=_stated(thick, THICKNESS_SHARE, "mm"))
    return board


def _support(fields: Fields, section: Mapping[str, Any]) -> PressTool:
    key = fields.text(section, ("board", "support"), "board")
    supports = [name for name, tool in press_tools().items() if tool.role == "support"]
    try:
        found = press_tool(key)
    except UnknownNameError:
        found = None
    if found is None or found.role != "support":
        what = f"{key!r} is no support; known: {', '.join(supports)}"
        fields.wrong(("board", "support"), what, did_you_mean(key, supports))
        return press_tool("board")
    return found
