"""The file of a job of work, ``samite.work-problem.v1``: TOML or JSON."""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from samite.readers.fields import Fields
from samite.readers.problem import Problem
from samite.readers.toml_text import Path
from samite.readers.work_operation import OPERATION_KEYS, read_operation
from samite.readers.work_times import moment_in, read_sessions
from samite.tables.sewing import sewing_entry
from samite.work.operation import HEATS, Operation, Setting
from samite.work.problem import Finished, Machine, Maker, WorkProblem
from samite.work.setup import usual_change_overs

FORMAT = "samite.work-problem.v1"
LONGEST = 400_000
"""Characters of a file that are read."""

MOST = 1000
"""Operations that are read."""

KNOWN = (
    "format",
    "name",
    "today",
    "due",
    "margin_percent",
    "machine",
    "maker",
    "operation",
    "done",
)
MACHINE_KEYS = ("name", "kind", "needle", "thread", "foot", "heat")
MAKER_KEYS = ("name", "helper", "sessions", "weekly", "since", "until", "closed")
DONE_KEYS = ("name", "end", "minutes", "machine")


@dataclass(frozen=True, slots=True)
class WorkFile:
    """A job of work as read.

    Parameters
    ----------
    problem : WorkProblem
        The job, without what is done.
    finished : tuple of Finished
        What is done.
    """

    problem: WorkProblem
    finished: tuple[Finished, ...]


def read_work(text: str, now: datetime) -> tuple[WorkFile | None, list[Problem]]:
    """Read a job of work.

    Parameters
    ----------
    text : str
        TOML, or JSON if it begins with ``{``; see ``docs/faces/work.md``.
    now : datetime
        The present moment; a ``today`` in the file goes before it.

    Returns
    -------
    WorkFile or None
        As far as it could be read; None if it cannot be read at all.
    list of Problem
        Everything that is wrong.
    """
    document, lines, problems = _document(text)
    if problems:
        return None, problems
    fields = Fields(lines)
    fields.check_keys(document, (), KNOWN)
    if document.get("format") != FORMAT:
        fields.wrong(("format",), "the format is not known", f'write format = "{FORMAT}"')
    start = moment_in(fields, document, ("today",)) or now
    due = moment_in(fields, document, ("due",))
    usual = sewing_entry("change", "margin")
    share = usual.number("work_margin")
    evidence = usual.evidence("work_margin")
    if "margin_percent" in document:
        given = fields.within(document["margin_percent"], ("margin_percent",), "%", (0.0, 100.0))
        share = share if given is None else given / 100.0
    problem = WorkProblem(
        fields.text(document, ("name",), "work"),
        start,
        due,
        tuple(_operations(fields, document)),
        tuple(_machines(fields, document)),
        tuple(_makers(fields, document, start, due)),
        usual_change_overs(),
        share,
        evidence=evidence,
    )
    finished = tuple(_finished(fields, document))
    return WorkFile(problem, finished), sorted(fields.problems, key=lambda one: one.line)


def _document(text: str) -> tuple[Mapping[str, Any], Mapping[Path, int], list[Problem]]:
    text = text.removeprefix("\ufeff")
    if len(text) > LONGEST:
        what = f"{len(text)} characters are too many: {LONGEST} are read"
        return {}, {}, [Problem(1, "the file", what, "keep only the job")]
    if not text.strip():
        return {}, {}, [Problem(1, "the file", "it is empty", "start from docs/faces/work.md")]
    try:
        if text.lstrip().startswith("{"):
            found: Any = json.loads(text)
            return (found, {}, []) if isinstance(found, dict) else ({}, {}, [])
        return tomllib.loads(text), _lines(text), []
    except (ValueError, RecursionError) as error:
        line = re.search(r"line (\d+)", str(error))
        what = f"it cannot be read: {str(error)[:200]}"
        mend = "mend it there; docs/faces/work.md shows the form"
        return {}, {}, [Problem(int(line[1]) if line else 1, "the file", what, mend)]


def _lines(text: str) -> dict[Path, int]:
    """Return the line of each key at the top, and of each item of a list by its name."""
    lines: dict[Path, int] = {(): 1}
    section, head = "", 0
    for number, line in enumerate(text.splitlines(), start=1):
        opened = re.match(r"\s*\[\[\s*(\w+)\s*\]\]", line)
        key = re.match(r"\s*(\w+)\s*=\s*(.*)", line)
        if opened:
            section, head = opened[1], number
        elif key and not section:
            lines[key[1],] = number
        elif key and key[1] == "name":
            name = key[2].strip().strip("\"'")
            lines.setdefault((section, name), head)
    return lines


def items(fields: Fields, document: Mapping[str, Any], name: str) -> list[Mapping[str, Any]]:
    """Return the items of a list of sections.

    Parameters
    ----------
    fields : Fields
        Keeps what is wrong.
    document : mapping of str to object
        The whole.
    name : str
        Name of the list.

    Returns
    -------
    list of mapping of str to object
        Those that are sections.
    """
    found = document.get(name, [])
    if not isinstance(found, Sequence) or isinstance(found, str):
        fields.wrong((name,), f"{name} is a list of sections", f"write [[{name}]] above each")
        return []
    if len(found) > MOST:
        fields.wrong((name,), f"{len(found)} are too many: {MOST} are read", "split the job")
    good = [one for one in found[:MOST] if isinstance(one, Mapping)]
    if len(good) < len(found[:MOST]):
        fields.wrong((name,), f"an item of {name} is no section", f"write [[{name}]] above each")
    return good


def named(fields: Fields, item: Mapping[str, Any], kind: str, place: int) -> tuple[str, Path]:
    """Return the name of an item and its path.

    Parameters
    ----------
    fields : Fields
        Keeps what is wrong.
    item : mapping of str to object
        The item.
    kind : str
        Name of its list.
    place : int
        Its place in the list, from 0 [1].

    Returns
    -------
    tuple of (str, tuple of str)
        Name and path.
    """
    given = item.get("name")
    if not isinstance(given, str) or not given.strip():
        name = f"{kind} {place + 1}"
        fields.wrong((kind, name), "it has no name", 'write name = "..."')
        return name, (kind, name)
    name = " ".join(given.split())
    return fields.text({name: name}, (kind, name), name), (kind, name)


def _operations(fields: Fields, document: Mapping[str, Any]) -> list[Operation]:
    found = []
    for place, item in enumerate(items(fields, document, "operation")):
        name, path = named(fields, item, "operation", place)
        fields.check_keys(item, path, OPERATION_KEYS)
        found.append(read_operation(fields, item, name, path))
    return found


def _machines(fields: Fields, document: Mapping[str, Any]) -> list[Machine]:
    found = []
    for place, item in enumerate(items(fields, document, "machine")):
        name, path = named(fields, item, "machine", place)
        fields.check_keys(item, path, MACHINE_KEYS)
        words = {k: fields.text(item, (*path, k), "") for k in ("needle", "thread", "foot", "heat")}
        if words["heat"] and words["heat"] not in HEATS:
            what = f"{words['heat']!r} is no heat of an iron"
            fields.wrong((*path, "heat"), what, f"write {', '.join(HEATS)}")
            words["heat"] = ""
        found.append(Machine(name, fields.text(item, (*path, "kind"), name), Setting(**words)))
    return found


def _makers(
    fields: Fields, document: Mapping[str, Any], start: datetime, due: datetime | None
) -> list[Maker]:
    found = []
    for place, item in enumerate(items(fields, document, "maker")):
        name, path = named(fields, item, "maker", place)
        fields.check_keys(item, path, MAKER_KEYS)
        sessions = read_sessions(fields, item, path, start, due)
        found.append(Maker(name, sessions, fields.truth(item, (*path, "helper"), False)))
    return found


def _finished(fields: Fields, document: Mapping[str, Any]) -> list[Finished]:
    found = []
    for place, item in enumerate(items(fields, document, "done")):
        name, path = named(fields, item, "done", place)
        fields.check_keys(item, path, DONE_KEYS)
        end = moment_in(fields, item, (*path, "end"))
        if end is None:
            if "end" not in item:
                fields.wrong(
                    (*path, "end"), "it does not say when", 'write end = "2031-03-03 20:15"'
                )
            continue
        taken = item.get("minutes")
        number = None
        if taken is not None:
            number = fields.within(taken, (*path, "minutes"), "min", (0.1, 10_000.0))
        found.append(Finished(name, end, number, fields.text(item, (*path, "machine"), "")))
    return found
