"""A costume job from its file: read, checked, with everything that is wrong told at once."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from pathlib import Path
from types import MappingProxyType
from typing import Any

from samite.garment.workroom import usual_workroom
from samite.kernel.errors import InputError, SamiteError
from samite.project.check import Fault, check_project
from samite.project.model import Drawer, Person, Project
from samite.readers.problem import Problem
from samite.readers.project_file import read_project
from samite.readers.toml_text import line_of
from samite.services.past import Past, past_of
from samite.services.workroom import workroom_of

LARGEST = 400_000


@dataclass(frozen=True, slots=True)
class Job:
    """A costume job as read.

    Parameters
    ----------
    project : Project
        Everything that could be read.
    problems : tuple of Problem
        Everything that is wrong, in the order of the file.
    today : date
        The day it is reckoned for.
    lines : mapping of tuple of str to int
        Line of every key of the file.
    text : str
        The file.
    bodies : mapping of str to Person
        Bodies of the store that were looked into.
    units : str
        Units that were asked for in the place of the file's; empty for those of the file.
    pasts : mapping of str to Past
        What the journal holds of its cloths, by label.
    """

    project: Project
    problems: tuple[Problem, ...]
    today: date
    lines: Mapping[tuple[str, ...], int]
    text: str = ""
    bodies: Mapping[str, Person] = field(default_factory=dict)
    units: str = ""
    pasts: Mapping[str, Past] = field(default_factory=dict)

    def problem(self, path: Sequence[str], what: str, mend: str) -> Problem:
        """Return a problem found while computing, at its place in the file.

        Parameters
        ----------
        path : sequence of str
            Sections and key.
        what : str
            What is wrong.
        mend : str
            How to mend it.

        Returns
        -------
        Problem
            With its line.
        """
        return Problem(line_of(self.lines, tuple(path)), ".".join(path), what, mend)


def load_job(
    path: Path,
    today: date,
    bodies: Mapping[str, Person] | None = None,
    drawer: Drawer | None = None,
    units: str = "",
) -> Job:
    """Read a project file from the disk.

    Parameters
    ----------
    path : Path
        The file.
    today : date
        Today.
    bodies : mapping of str to Person or None
        Bodies of the store, by name.
    drawer : Drawer or None
        What the store holds that could be used up.
    units : str
        ``metric`` or ``imperial``; empty for what the file says.

    Returns
    -------
    Job
        Project and problems.

    Raises
    ------
    InputError
        If the file is not there, too large or no text.
    """
    try:
        if path.stat().st_size > LARGEST:
            raise InputError(f"{path.name} is too large for a project", str(path), "keep to 400 kB")
        text = path.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as error:
        reason = getattr(error, "strerror", None) or "it is no text in UTF-8"
        raise InputError(f"{path} cannot be read: {reason}", str(path), "name another") from None
    return read_job(text, today, bodies, drawer, units)


def read_job(
    text: str,
    today: date,
    bodies: Mapping[str, Person] | None = None,
    drawer: Drawer | None = None,
    units: str = "",
) -> Job:
    """Read a project from its text.

    Parameters
    ----------
    text : str
        TOML in the form ``samite.project.v1``.
    today : date
        Today.
    bodies : mapping of str to Person or None
        Bodies of the store, by name.
    drawer : Drawer or None
        What the store holds that could be used up.
    units : str
        ``metric`` or ``imperial``; empty for what the file says.

    Returns
    -------
    Job
        Project and problems; both may be there at once.
    """
    project, workroom, lines, problems = read_project(text, units)
    job = Job(project, (), today, lines)
    project, problems = _with_workroom(job, workroom, problems)
    project, problems = _with_bodies(replace(job, project=project), bodies or {}, problems)
    project = replace(project, drawer=drawer or Drawer())
    if project.cloths or project.costumes:
        problems += [_located(job, fault) for fault in check_project(project, today)]
    problems.sort(key=lambda item: item.line)
    found = tuple(dict.fromkeys(problems))
    kept = dict(bodies or {})
    return Job(project, found, today, MappingProxyType(dict(lines)), text, kept, units)


def _with_workroom(
    job: Job, table: Mapping[str, Any], problems: list[Problem]
) -> tuple[Project, list[Problem]]:
    if not table:
        return replace(job.project, workroom=usual_workroom()), problems
    try:
        return replace(job.project, workroom=workroom_of(table)), problems
    except SamiteError as error:
        wrong = job.problem(("workroom", error.where), error.message, error.hint)
        return job.project, [*problems, wrong]


def _with_bodies(
    job: Job, bodies: Mapping[str, Person], problems: list[Problem]
) -> tuple[Project, list[Problem]]:
    people = []
    for person in job.project.people:
        kept = bodies.get(person.kept.casefold()) if person.kept else None
        if person.kept and kept is None:
            mend = f"samite body keep {person.kept!r}, or write measures here"
            path = ("person", person.name, "kept")
            problems = [*problems, job.problem(path, f"no body {person.kept!r} is kept", mend)]
        measures = {**(kept.measures if kept else {}), **person.measures}
        based = replace(kept, name=person.name, kept=person.kept) if kept else person
        people.append(replace(based, measures=MappingProxyType(measures)))
    return replace(job.project, people=tuple(people)), problems


def with_journal(job: Job, path: Path) -> Job:
    """Return a job with what the journal holds of its cloths.

    Parameters
    ----------
    job : Job
        The job.
    path : Path
        File of the store; it need not exist.

    Returns
    -------
    Job
        Cloths whose label cannot be read are left out.
    """
    pasts = {}
    for label in dict.fromkeys(cloth.label for cloth in job.project.cloths if cloth.label):
        try:
            past = past_of(path, label)
        except InputError:
            continue
        if past is not None:
            pasts[label] = past
    return replace(job, pasts=pasts)


def _located(job: Job, fault: Fault) -> Problem:
    return job.problem(fault.path, fault.what, fault.mend)


def read_today(text: str, clock: date) -> date:
    """Return the day that a job is reckoned for.

    Parameters
    ----------
    text : str
        A day as written; empty for today.
    clock : date
        Today.

    Returns
    -------
    date
        The day.

    Raises
    ------
    InputError
        If the text is no day.
    """
    if not text.strip():
        return clock
    try:
        return date.fromisoformat(text.strip())
    except ValueError:
        raise InputError(f"{text[:40]!r} is no day", "--today", "write 2031-01-05") from None
