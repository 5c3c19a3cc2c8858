"""Costume jobs in the store: kept, changed, listed, binned, ticked off."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

from samite.garment.kept_job import KeptJob
from samite.kernel.errors import InputError
from samite.project.model import Person
from samite.services.job import Job, read_job, with_journal
from samite.services.job_stock import drawer_of
from samite.services.kept_acts import bin_kept, change_kept, get_kept
from samite.store.kinds import BODY, JOB, Kept
from samite.store.store import Store
from samite.tables.loader import data_text


def keep_job(path: Path, text: str, on: date) -> Kept[KeptJob]:
    """Keep a new job.

    Parameters
    ----------
    path : Path
        File of the store.
    text : str
        Its file.
    on : date
        Today.

    Returns
    -------
    Kept of KeptJob
        The job.
    """
    value = KeptJob(_title(text, on), text)
    with Store(path) as store, store.act(f"job {value.title} kept", on) as changes:
        return changes.add(JOB, value)


def change_job(path: Path, key: str, version: int, text: str, on: date) -> Kept[KeptJob]:
    """Put a changed file in the place of a job's.

    Parameters
    ----------
    path : Path
        File of the store.
    key : str
        Key of the job.
    version : int
        Version that was changed, so that no other change is lost [1].
    text : str
        The file.
    on : date
        Today.

    Returns
    -------
    Kept of KeptJob
        The job.
    """
    before = get_kept(path, JOB, key)
    value = replace(before.value, title=_title(text, on), text=text)
    seen = replace(before, version=version)
    return change_kept(path, JOB, seen, value, f"job {value.title} changed", on)


def tick(path: Path, key: str, what: str, *, done: bool, on: date) -> Kept[KeptJob]:
    """Tick off a line of a job, or take the tick away.

    Parameters
    ----------
    path : Path
        File of the store.
    key : str
        Key of the job.
    what : str
        Name of the line.
    done : bool
        Whether it is done.
    on : date
        Today.

    Returns
    -------
    Kept of KeptJob
        The job.

    Raises
    ------
    InputError
        If the name of the line is empty or too long.
    """
    if not 0 < len(what) <= 300:
        raise InputError("what is ticked has no name", "what", "tick a line of the list")
    before = get_kept(path, JOB, key)
    others = tuple(one for one in before.value.ticked if one != what)
    value = replace(before.value, ticked=(*others, what) if done else others)
    said = f"{'ticked' if done else 'not done'}: {what[:80]}"
    return change_kept(path, JOB, before, value, said, on)


def bin_job(path: Path, key: str, on: date) -> None:
    """Put a job into the bin.

    Parameters
    ----------
    path : Path
        File of the store.
    key : str
        Key of the job.
    on : date
        Today.
    """
    kept = get_kept(path, JOB, key)
    bin_kept(path, JOB, kept, f"job {kept.value.title} into the bin", on)


def all_jobs(path: Path) -> list[Kept[KeptJob]]:
    """Return every job that is kept.

    Parameters
    ----------
    path : Path
        File of the store.

    Returns
    -------
    list of Kept of KeptJob
        By title.
    """
    with Store(path, write=False) as store:
        return sorted(store.all(JOB), key=lambda one: one.value.title.casefold())


def job_named(path: Path, key: str) -> Kept[KeptJob]:
    """Return a job.

    Parameters
    ----------
    path : Path
        File of the store.
    key : str
        Its key, or the first digits of it.

    Returns
    -------
    Kept of KeptJob
        The job.
    """
    return get_kept(path, JOB, key)


def bodies_of(path: Path) -> dict[str, Person]:
    """Return the bodies of the store as a job takes them.

    Parameters
    ----------
    path : Path
        File of the store.

    Returns
    -------
    dict of str to Person
        By name without capitals; empty if there is no store.
    """
    if not path.exists():
        return {}
    with Store(path, write=False) as store:
        kept = [item.value for item in store.all(BODY)]
    return {
        body.name.casefold(): Person(
            body.name,
            {one.name: one.text for one in body.measures},
            body.group,
            body.age,
            body.size,
        )
        for body in kept
    }


def demo_job_text() -> str:
    """Return the file of the built-in scenario.

    Returns
    -------
    str
        TOML.
    """
    return data_text("demo_project.toml")


def read_kept(path: Path, kept: Kept[KeptJob], today: date) -> Job:
    """Read a job that is kept.

    Parameters
    ----------
    path : Path
        File of the store.
    kept : Kept of KeptJob
        The job.
    today : date
        Today.

    Returns
    -------
    Job
        Project and problems.
    """
    job = read_job(kept.value.text, today, bodies_of(path), drawer_of(path))
    return with_journal(job, path)


def _title(text: str, on: date) -> str:
    return read_job(text, on).project.title[:120] or "a costume job"
