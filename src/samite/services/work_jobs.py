"""Jobs of work that are kept: ticked off, planned anew around what is done."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from pathlib import Path

from samite.kernel.errors import InputError
from samite.services.kept_acts import bin_kept, change_kept, get_kept
from samite.services.work import Tick, WorkAnswer, plan_file, plan_kept
from samite.store.kinds import WORK, Kept
from samite.store.store import Store
from samite.tables.loader import data_text
from samite.work.kept import KeptTick, KeptWork
from samite.work.schedule import Budget

EFFORT = 0.2
"""How hard is looked for a plan that a person waits for."""


def example_job() -> str:
    """Return the invented job that is shipped.

    Returns
    -------
    str
        In the form ``samite.work-problem.v1``.
    """
    return data_text("demo_work.toml")


def keep_job(path: Path, text: str, now: datetime) -> str:
    """Keep a job that can be planned.

    Parameters
    ----------
    path : Path
        File of the store.
    text : str
        In the form ``samite.work-problem.v1``.
    now : datetime
        The present moment.

    Returns
    -------
    str
        Its key.

    Raises
    ------
    InputError
        If anything is wrong with it.
    """
    answer = plan_file(text, now, budget=Budget(EFFORT))
    job = KeptWork(answer.job.name, text, answer.job.start.isoformat())
    with Store(path) as store, store.act(f"work kept: {job.name[:60]}", now.date()) as changes:
        return changes.add(WORK, job).key


def list_jobs(path: Path) -> list[tuple[str, str, int]]:
    """Return the jobs that are kept.

    Parameters
    ----------
    path : Path
        File of the store.

    Returns
    -------
    list of tuple of (str, str, int)
        Key, name and how much is ticked off.
    """
    with Store(path, write=False) as store:
        return [(one.key, one.value.name, len(one.value.ticks)) for one in store.all(WORK)]


def job_answer(path: Path, key: str) -> tuple[Kept[KeptWork], WorkAnswer]:
    """Return a job that is kept with its plan.

    Parameters
    ----------
    path : Path
        File of the store.
    key : str
        Its key.

    Returns
    -------
    tuple of (Kept of KeptWork, WorkAnswer)
        The same plan until something is ticked or it is planned anew.
    """
    kept = get_kept(path, WORK, key)
    job = kept.value
    ticks = tuple(Tick(one.name, datetime.fromisoformat(one.end), one.minutes) for one in job.ticks)
    now = datetime.fromisoformat(job.planned_at)
    return kept, plan_kept(job.text, now, ticks, EFFORT, True)


def tick_job(
    path: Path, key: str, name: str, minutes: str, now: datetime, *, back: bool = False
) -> None:
    """Tick an operation off, or take the tick back.

    Parameters
    ----------
    path : Path
        File of the store.
    key : str
        Key of the job.
    name : str
        The operation.
    minutes : str
        How long it took, as typed; may be empty.
    now : datetime
        The present moment.
    back : bool
        Take it back.

    Raises
    ------
    InputError
        If there is no such operation, or the minutes are no number.
    """
    kept, answer = job_answer(path, key)
    job = kept.value
    if name not in {one.name for one in answer.job.operations}:
        raise InputError(f"there is no operation {name[:60]!r}", "name", "tick one of the list")
    left = tuple(one for one in job.ticks if one.name != name)
    if not back:
        # A job planned for days to come is ticked in its own time: no earlier than its start.
        end = max([now, datetime.fromisoformat(job.planned_at)])
        left = (*left, KeptTick(name, end.isoformat(), _minutes(minutes)))
    planned = max([now, *(datetime.fromisoformat(one.end) for one in left)])
    planned = max(planned, datetime.fromisoformat(job.planned_at)) if not back else planned
    _change(path, kept, replace(job, ticks=left, planned_at=planned.isoformat()), now)


def _minutes(text: str) -> float | None:
    if not text.strip():
        return None
    try:
        return float(text.replace(",", "."))
    except ValueError:
        raise InputError(f"{text[:20]!r} is no number of minutes", "minutes", "write 25") from None


def plan_anew(path: Path, key: str, now: datetime) -> None:
    """Plan a job from now on.

    Parameters
    ----------
    path : Path
        File of the store.
    key : str
        Key of the job.
    now : datetime
        The present moment.
    """
    kept = get_kept(path, WORK, key)
    _change(path, kept, replace(kept.value, planned_at=now.isoformat()), now)


def bin_job(path: Path, key: str, now: datetime) -> None:
    """Put a job into the bin.

    Parameters
    ----------
    path : Path
        File of the store.
    key : str
        Key of the job.
    now : datetime
        The present moment.
    """
    kept = get_kept(path, WORK, key)
    said = f"work put into the bin: {kept.value.name[:60]}"
    bin_kept(path, WORK, kept, said, now.date())


def _change(path: Path, kept: Kept[KeptWork], job: KeptWork, now: datetime) -> None:
    change_kept(path, WORK, kept, job, f"work changed: {job.name[:60]}", now.date())
