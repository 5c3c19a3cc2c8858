"""Read a workroom from a TOML file: the machines, feet, needles and threads that a person owns."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from samite.garment.workroom import (
    Machine,
    OwnedNeedle,
    OwnedThread,
    Workroom,
    machine,
    usual_workroom,
)
from samite.kernel.errors import InputError, UnknownNameError
from samite.kernel.units import parse_quantity
from samite.seam.needle_size import needle_size
from samite.tables.loader import did_you_mean
from samite.tables.sewing import sewing_entries, sewing_entry

FORMAT = "samite.workroom.v1"
KEYS = ("format", "machine", "feet", "needle", "thread")
MACHINE_KEYS = ("kind", "stitches", "foot_lift", "stitch_width", "stitch_length")


def read_workroom(text: str) -> Workroom:
    """Read a workroom.

    Parameters
    ----------
    text : str
        TOML in the form ``samite.workroom.v1``; empty for the usual workroom.

    Returns
    -------
    Workroom
        What is on hand.

    Raises
    ------
    InputError
        If the text is no TOML, or a key or value is not known.
    """
    if not text.strip():
        return usual_workroom()
    try:
        document = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError) as error:
        raise InputError(f"the workroom is not TOML: {error}", "--workroom", "mend it") from None
    if document.get("format") != FORMAT:
        raise InputError(
            f"the workroom does not say which form it has: {document.get('format')!r}",
            "format",
            f'write format = "{FORMAT}"',
        )
    return workroom_of(document)


def workroom_of(document: Mapping[str, Any]) -> Workroom:
    """Return the workroom that a table describes.

    Parameters
    ----------
    document : mapping of str to object
        Machines, feet, needles and threads; a format may stand beside them.

    Returns
    -------
    Workroom
        What is on hand.

    Raises
    ------
    InputError
        If a key or value is not known.
    """
    _known(document, KEYS, "the workroom")
    machines = tuple(_machine(one) for one in _tables(document, "machine"))
    hand = () if any(one.kind == "hand" for one in machines) else (machine("hand"),)
    return Workroom(
        machines=(*machines, *hand),
        feet=tuple(_foot(one) for one in _list(document, "feet")),
        needles=tuple(_needle(one) for one in _tables(document, "needle")),
        threads=tuple(_thread(one) for one in _tables(document, "thread")),
        stated=True,
    )


def _known(table: Mapping[str, Any], keys: tuple[str, ...], where: str) -> None:
    for key in table:
        if key not in keys:
            raise UnknownNameError(
                f"{where} has an unknown key {key!r}", key, f"known: {', '.join(keys)}"
            )


def _tables(document: Mapping[str, Any], key: str) -> list[Mapping[str, Any]]:
    found = _list(document, key)
    if not all(isinstance(one, dict) for one in found):
        raise InputError(f"{key} is no list of tables", key, f"write [[{key}]] above each")
    return found


def _list(document: Mapping[str, Any], key: str) -> list[Any]:
    found = document.get(key, [])
    if not isinstance(found, list):
        raise InputError(f"{key} is no list", key, "write a list, even of one")
    return found


def _word(table: Mapping[str, Any], key: str) -> str:
    value = table.get(key, "")
    if not isinstance(value, str) or not value.strip():
        raise InputError(f"{key} is missing or no text", key, f'write {key} = "..."')
    return value.strip()


def _length_mm(table: Mapping[str, Any], key: str, usual: float) -> float:
    if key not in table:
        return usual
    length = parse_quantity(str(table[key]), "mm", stitches=key == "stitch_length")
    if not 0.0 <= length <= 100.0:
        raise InputError(f"{key} of {length:g} mm is impossible", key, "give it like 6 mm")
    return length


def _machine(table: Mapping[str, Any]) -> Machine:
    _known(table, MACHINE_KEYS, "a machine")
    usual = machine(_word(table, "kind"))
    stitches = table.get("stitches", list(usual.stitches))
    known = sewing_entries("stitch")
    if not isinstance(stitches, list) or not stitches:
        raise InputError("stitches is no list", "stitches", 'write ["301", "304"]')
    for one in stitches:
        if str(one) not in known:
            raise UnknownNameError(
                f"no stitch type {one!r} is known", "stitches", did_you_mean(str(one), known)
            )
    return replace(
        usual,
        stitches=tuple(str(one) for one in stitches),
        foot_lift_mm=_length_mm(table, "foot_lift", usual.foot_lift_mm),
        stitch_width_mm=_length_mm(table, "stitch_width", usual.stitch_width_mm),
        stitch_length_mm=_length_mm(table, "stitch_length", usual.stitch_length_mm),
    )


def _foot(name: object) -> str:
    return sewing_entry("foot", str(name)).key


def _needle(table: Mapping[str, Any]) -> OwnedNeedle:
    _known(table, ("point", "size_nm"), "a needle")
    point = sewing_entry("point", _word(table, "point")).key
    size = table.get("size_nm")
    if not isinstance(size, int) or isinstance(size, bool):
        raise InputError("size_nm is missing or no whole number", "size_nm", "size_nm = 75")
    return OwnedNeedle(point, needle_size(size_nm=size).size_nm)


def _thread(table: Mapping[str, Any]) -> OwnedThread:
    _known(table, ("kind", "tex", "ticket"), "a thread")
    kind = sewing_entry("thread", _word(table, "kind")).key
    given = {key: table[key] for key in ("tex", "ticket") if key in table}
    if len(given) != 1:
        raise InputError("a thread has either tex or ticket", "thread", "tex = 27")
    key, value = next(iter(given.items()))
    number = isinstance(value, int | float) and not isinstance(value, bool)
    if not number or not 1.0 <= float(value) <= 3000.0:
        raise InputError(f"{key} = {value!r} is impossible", key, "tex = 27, or ticket = 120")
    return OwnedThread(kind, float(value) if key == "tex" else 3000.0 / float(value))
