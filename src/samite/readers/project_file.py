"""The file of a costume job, ``samite.project.v1``."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any

from samite.garment.body import GROUPS
from samite.project.model import WEEKDAYS, Hours, JobCloth, Person, Project, Purse
from samite.readers.problem import Problem
from samite.readers.project_costume import read_costume
from samite.readers.project_fields import ProjectFields
from samite.readers.toml_text import Path, read_toml_text
from samite.tables.lay import lay_rule

FORMAT = "samite.project.v1"
PAGE = "docs/faces/project.md"
LONGEST = 400_000
"""Characters of a project file that are read."""

KNOWN = (
    *("format", "title", "due", "begin", "units", "spares", "money", "hours", "person", "cloth"),
    *("costume", "workroom", "stock", "have"),
)
MONEY = ("currency", "budget", "tax", "rate", "deposit", "thread", "needle", "prices")
PERSON = ("measures", "group", "age", "size", "kept")
CLOTH = ("label", "price", "widths", "on_hand", "increment", "shrink", "colour")
UNITS = ("metric", "imperial")


def read_project(
    text: str, units: str = ""
) -> tuple[Project, Mapping[str, Any], Mapping[Path, int], list[Problem]]:
    """Read the file of a costume job.

    Parameters
    ----------
    text : str
        TOML in the form ``samite.project.v1``, see ``docs/faces/project.md``.
    units : str
        ``metric`` or ``imperial``; empty for what the file says.

    Returns
    -------
    Project
        Everything that could be read; what is wrong is left out.
    mapping of str to object
        The section ``workroom`` as it was written.
    mapping of tuple of str to int
        Line of every key.
    list of Problem
        Everything that is wrong, in the order of the file.
    """
    document, lines, problems = read_toml_text(text, LONGEST, PAGE)
    if problems:
        return Project(""), {}, lines, problems
    fields = ProjectFields(lines)
    fields.check_keys(document, (), KNOWN)
    if document.get("format") != FORMAT:
        fields.wrong(("format",), "it does not say its format", f'write format = "{FORMAT}" first')
    told = units or _units(fields, document)
    project = Project(
        fields.text(document, ("title",), "a costume job"),
        _day(fields, document, "due"),
        _day(fields, document, "begin"),
        tuple(_person(fields, name, one) for name, one in _tables(fields, document, "person")),
        tuple(_cloth(fields, name, one, told) for name, one in _tables(fields, document, "cloth")),
        tuple(
            read_costume(fields, name, one) for name, one in _tables(fields, document, "costume")
        ),
        _hours(fields, fields.section(document, "hours")),
        _purse(fields, fields.section(document, "money")),
        units=told,
        spares_percent=_percent(fields, document, ("spares",)),
        use_stock=_use_stock(fields, document),
        have=_have(fields, document),
    )
    found = sorted(fields.problems, key=lambda item: item.line)
    return project, fields.section(document, "workroom"), lines, found


def _tables(
    fields: ProjectFields, document: Mapping[str, Any], name: str
) -> list[tuple[str, Mapping[str, Any]]]:
    tables = []
    for key, one in fields.section(document, name).items():
        if isinstance(one, Mapping):
            tables.append((key, one))
        else:
            fields.wrong((name, key), f"{key} is a section, not a value", f"write [{name}.{key}]")
    return tables


def _day(fields: ProjectFields, table: Mapping[str, Any], key: str) -> Any:
    return fields.day(table[key], (key,)) if key in table else None


def _units(fields: ProjectFields, document: Mapping[str, Any]) -> str:
    units = fields.text(document, ("units",), UNITS[0])
    if units not in UNITS:
        fields.wrong(("units",), f"{units!r} are no units", f"one of {', '.join(UNITS)}")
        return UNITS[0]
    return units


def _have(fields: ProjectFields, document: Mapping[str, Any]) -> Mapping[str, float]:
    """Return notions on hand: a bare number is a count, anything else a length in metres."""
    found: dict[str, float] = {}
    for name, text in fields.written(document.get("have", {}), ("have",)).items():
        path = ("have", name)
        if text.isdecimal():
            found[name] = float(text)
        elif (length := fields.within(text, path, "m", (0.0, 1e4))) is not None:
            found[name] = length
    return MappingProxyType(found)


def _use_stock(fields: ProjectFields, document: Mapping[str, Any]) -> bool:
    value = document.get("stock", True)
    if not isinstance(value, bool):
        fields.wrong(("stock",), f"{str(value)[:40]!r} is neither true nor false", "stock = false")
        return True
    return value


def _percent(fields: ProjectFields, table: Mapping[str, Any], path: Path) -> float:
    if path[-1] not in table:
        return 0.0
    return fields.within(table[path[-1]], path, "%", (0.0, 100.0)) or 0.0


def _purse(fields: ProjectFields, table: Mapping[str, Any]) -> Purse:
    fields.check_keys(table, ("money",), MONEY)

    def amount(key: str) -> float | None:
        return fields.money(table[key], ("money", key)) if key in table else None

    return Purse(
        fields.text(table, ("money", "currency"), "EUR"),
        amount("budget"),
        _percent(fields, table, ("money", "tax")),
        amount("rate"),
        _percent(fields, table, ("money", "deposit")),
        amount("thread"),
        amount("needle"),
        _prices(fields, table),
    )


def _prices(fields: ProjectFields, table: Mapping[str, Any]) -> Mapping[str, float]:
    here = ("money", "prices")
    written = fields.written(table.get("prices", {}), here)
    read = {name: fields.money(value, (*here, name)) for name, value in written.items()}
    return MappingProxyType({name: price for name, price in read.items() if price is not None})


def _hours(fields: ProjectFields, table: Mapping[str, Any]) -> Hours:
    fields.check_keys(table, ("hours",), (*WEEKDAYS, "closed", "fittings"))
    sessions = {
        day: session
        for day in WEEKDAYS
        if day in table and (session := fields.session(table[day], ("hours", day)))
    }
    closed = table.get("closed", [])
    if not isinstance(closed, list):
        fields.wrong(("hours", "closed"), "closed is no list", "write [2027-01-20]")
        closed = []
    days = [fields.day(one, ("hours", "closed")) for one in closed]
    fittings = table.get("fittings", {})
    if not isinstance(fittings, Mapping):
        fields.wrong(("hours", "fittings"), "fittings is a section", "write [hours.fittings]")
        fittings = {}
    kept = {name: fields.day(one, ("hours", "fittings", name)) for name, one in fittings.items()}
    return Hours(
        MappingProxyType(sessions),
        tuple(day for day in days if day),
        MappingProxyType({name: day for name, day in kept.items() if day}),
    )


def _person(fields: ProjectFields, name: str, table: Mapping[str, Any]) -> Person:
    here = ("person", name)
    fields.check_keys(table, here, PERSON)
    group = fields.text(table, (*here, "group"), GROUPS[0])
    if group not in GROUPS:
        fields.wrong((*here, "group"), f"{group!r} is no group", f"one of {', '.join(GROUPS)}")
        group = GROUPS[0]
    measures = fields.written(table.get("measures", {}), (*here, "measures"))
    age = str(table.get("age", ""))
    if group in ("girls", "boys") and not age:
        fields.wrong((*here, "age"), "how old is the child?", "write age = 7")
    return Person(
        name,
        MappingProxyType(measures),
        group,
        age,
        str(table.get("size", "")),
        fields.text(table, (*here, "kept"), ""),
    )


def _cloth(fields: ProjectFields, name: str, table: Mapping[str, Any], units: object) -> JobCloth:
    here = ("cloth", name)
    fields.check_keys(table, here, CLOTH)
    label = table.get("label", "")
    if not isinstance(label, str) or not label.strip():
        fields.wrong((*here, "label"), "what does the bolt say?", 'write label = "..."')
        label = ""
    widths = table.get("widths", [])
    if not isinstance(widths, list):
        widths = [widths]
    read = [fields.within(one, (*here, "widths"), "mm", (100.0, 6000.0)) for one in widths]
    return JobCloth(
        name,
        label.strip(),
        fields.money(table["price"], (*here, "price")) if "price" in table else None,
        tuple(width for width in read if width),
        _length(fields, table, (*here, "on_hand"), 0.0, (0.0, 1e6)),
        _length(fields, table, (*here, "increment"), _step_mm(units), (1.0, 10_000.0)),
        str(table.get("shrink", "")),
        fields.text(table, (*here, "colour"), ""),
    )


def _step_mm(units: object) -> float:
    """Return what shops cut by [mm]."""
    return lay_rule("step", "buying_step_mm", UNITS[1] if units == UNITS[1] else UNITS[0]).value


def _length(
    fields: ProjectFields,
    table: Mapping[str, Any],
    path: Path,
    default: float,
    limits: tuple[float, float],
) -> float:
    if path[-1] not in table:
        return default
    found = fields.within(table[path[-1]], path, "mm", limits)
    return default if found is None else found
