"""One operation of a job of work, as a person writes it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from samite.kernel.errors import InputError, SamiteError
from samite.kernel.evidence import Evidence, Grade
from samite.kernel.quantity import Quantity, spread
from samite.kernel.units import parse_quantity
from samite.readers.fields import Fields
from samite.readers.toml_text import Path
from samite.readers.work_times import moment_in
from samite.tables.close_names import did_you_mean
from samite.tables.sewing import sewing_entries, sewing_entry
from samite.work.minutes import operation_minutes
from samite.work.operation import After, Operation, Setting, Simpler

SETTING_KEYS = ("needle", "thread", "foot", "heat")
MINUTES_KEYS = ("minutes", "minutes_low", "minutes_high", "element", "cloth", "length_m", "pieces")
OPERATION_KEYS = (
    *("name", "kind", "costume", "after", "machine", "leaves", "shuns", "makers", "helper"),
    *(*SETTING_KEYS, *MINUTES_KEYS, "at", "not_before", "by", "may_drop", "simpler"),
)
AFTER_KEYS = ("name", "because", "wait", "rule")
SIMPLER_KEYS = ("words", "machine", *SETTING_KEYS, *MINUTES_KEYS)
GIVEN = Evidence("label", Grade.GUESS, "minutes as given")
LONGEST_MIN = 6000.0


def read_operation(fields: Fields, item: Mapping[str, Any], name: str, path: Path) -> Operation:
    """Read an operation.

    Parameters
    ----------
    fields : Fields
        Keeps what is wrong.
    item : mapping of str to object
        Its section.
    name : str
        Its name.
    path : tuple of str
        Where it is.

    Returns
    -------
    Operation
        With what could be read.
    """
    minutes, because = _minutes(fields, item, path)
    return Operation(
        name,
        minutes,
        fields.text(item, (*path, "kind"), str(item.get("element", "")) or ""),
        fields.text(item, (*path, "costume"), ""),
        _afters(fields, item, path),
        _words(fields, item, (*path, "machine")),
        _setting(fields, item, path),
        _words(fields, item, (*path, "leaves")),
        _words(fields, item, (*path, "shuns")),
        _words(fields, item, (*path, "makers")),
        fields.truth(item, (*path, "helper"), False),
        moment_in(fields, item, (*path, "at")),
        moment_in(fields, item, (*path, "not_before")),
        moment_in(fields, item, (*path, "by")),
        fields.text(item, (*path, "may_drop"), ""),
        _simpler(fields, item, path),
        because,
    )


def _setting(fields: Fields, item: Mapping[str, Any], path: Path) -> Setting:
    return Setting(**{key: fields.text(item, (*path, key), "") for key in SETTING_KEYS})


def _words(fields: Fields, item: Mapping[str, Any], path: Path) -> tuple[str, ...]:
    found = item.get(path[-1], [])
    found = [found] if isinstance(found, str) else found
    if isinstance(found, Sequence) and all(isinstance(one, str) and one.strip() for one in found):
        return tuple(" ".join(one.split()) for one in found)
    fields.wrong(path, f"{path[-1]} is a text or a list of texts", f'write {path[-1]} = ["..."]')
    return ()


def _minutes(fields: Fields, item: Mapping[str, Any], path: Path) -> tuple[Quantity, str]:
    limits = (0.5, LONGEST_MIN)
    nothing = spread(1.0, 0.5, "min", GIVEN)
    if "minutes" in item:
        value = fields.within(item["minutes"], (*path, "minutes"), "min", limits)
        if value is None:
            return nothing, ""
        return _ranged(fields, item, path, value), "as given"
    if "element" not in item:
        mend = "write minutes = 20, or element and cloth with length_m or pieces"
        fields.wrong((*path, "minutes"), "it has no minutes", mend)
        return nothing, ""
    cloth = fields.text(item, (*path, "cloth"), "plain")
    element = fields.text(item, (*path, "element"), "")
    length = fields.within(item.get("length_m", 0.0), (*path, "length_m"), "m", (0.0, 500.0))
    pieces = fields.within(item.get("pieces", 1), (*path, "pieces"), "1", (0.01, 500.0))
    if length is None or pieces is None:
        return nothing, ""
    try:
        found = operation_minutes(
            element=element, cloth_class=cloth, length_m=length, pieces=pieces
        )
    except SamiteError as error:
        fields.wrong((*path, "element"), error.message, error.hint)
        return nothing, ""
    if found.value < limits[0]:
        mend = "write length_m; it is counted by the metre"
        fields.wrong((*path, "length_m"), f"{element} of no length", mend)
        return nothing, ""
    counted = f"{length:g} m" if length else f"{pieces:g}"
    return found, f"{element} on {cloth} cloth, {counted}"


def _ranged(fields: Fields, item: Mapping[str, Any], path: Path, value: float) -> Quantity:
    share = sewing_entry("minutes", "spread/any").number("minutes_spread")
    usual = spread(value, share, "min", GIVEN, given=True)
    ends = {"minutes_low": usual.low, "minutes_high": usual.high}
    for key, wide in tuple(ends.items()):
        if key in item:
            limits = (0.1, value) if key == "minutes_low" else (value, LONGEST_MIN)
            given = fields.within(item[key], (*path, key), "min", limits)
            ends[key] = wide if given is None else given
    return Quantity(value, ends["minutes_low"], ends["minutes_high"], "min", GIVEN, given=True)


def _afters(fields: Fields, item: Mapping[str, Any], path: Path) -> tuple[After, ...]:
    found = item.get("after", [])
    found = [found] if isinstance(found, str | Mapping) else found
    where = (*path, "after")
    if not isinstance(found, Sequence):
        fields.wrong(where, "after is a list of names", 'write after = ["cut"]')
        return ()
    afters = []
    for one in found:
        if isinstance(one, str):
            afters.append(After(" ".join(one.split())))
        elif isinstance(one, Mapping) and isinstance(one.get("name"), str):
            fields.check_keys(one, where, AFTER_KEYS)
            afters.append(_after(fields, one, where))
        else:
            fields.wrong(where, "an item of after has no name", 'write { name = "cut" }')
    return tuple(afters)


def _after(fields: Fields, one: Mapping[str, Any], where: Path) -> After:
    reason = fields.text(one, (*where, "because"), "")
    wait = 0.0
    if "rule" in one:
        rules = sewing_entries("work-rule")
        rule = fields.text(one, (*where, "rule"), "")
        if rule in rules:
            reason = reason or rules[rule].word("reason")
            wait = rules[rule].number("wait_min") if rules[rule].has("wait_min") else 0.0
        else:
            fields.wrong((*where, "rule"), f"no rule {rule!r}", did_you_mean(rule, rules))
    if "wait" in one:
        wait = _wait(fields, one["wait"], (*where, "wait"))
    return After(" ".join(one["name"].split()), reason, wait)


def _wait(fields: Fields, value: object, where: Path) -> float:
    try:
        minutes = parse_quantity(str(value), "min")
    except InputError as error:
        fields.wrong(where, error.message, 'write wait = "24 h"')
        return 0.0
    if not 0.0 <= minutes <= 14 * 1440:
        fields.wrong(where, f"a wait of {minutes:g} min is impossible", "up to 14 days can be")
        return 0.0
    return minutes


def _simpler(fields: Fields, item: Mapping[str, Any], path: Path) -> Simpler | None:
    found = item.get("simpler")
    if found is None:
        return None
    where = (*path, "simpler")
    if not isinstance(found, Mapping):
        fields.wrong(
            where, "simpler is a section", 'write simpler = { words = "...", minutes = 9 }'
        )
        return None
    fields.check_keys(found, where, SIMPLER_KEYS)
    minutes, _ = _minutes(fields, found, where)
    words = fields.text(found, (*where, "words"), "the simpler way")
    return Simpler(
        words, minutes, _words(fields, found, (*where, "machine")), _setting(fields, found, where)
    )
