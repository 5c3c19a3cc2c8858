"""A kept job computed in the background, with its answers on the disk."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

from samite.services.job import Job
from samite.services.job_lays import Effort
from samite.services.job_store import job_named, read_kept
from samite.services.kept_answers import KeptAnswers
from samite.services.make import MadeJob, make_job
from samite.services.make_ahead import slow_tasks

FOLDER = "answers"


class StoppedError(Exception):
    """The person has asked for it to stop."""


def answers_folder(store: Path) -> Path:
    """Return where answers lie beside a store.

    Parameters
    ----------
    store : Path
        File of the store.

    Returns
    -------
    Path
        A folder that may be thrown away at any time.
    """
    return store.parent / FOLDER


def work_on_job(
    argument: dict[str, Any], report: Callable[[Any], None], cancelled: Callable[[], bool]
) -> dict[str, Any]:
    """Compute a job in a process of its own.

    Parameters
    ----------
    argument : dict of str to object
        ``store``, ``key``, ``today`` and ``seconds``.
    report : callable
        Takes ``done``, ``whole`` and ``name`` before every answer.
    cancelled : callable
        Whether to stop; what is computed by then is kept.

    Returns
    -------
    dict of str to object
        ``computed``: how many answers were new.
    """
    store = Path(argument["store"])
    kept = job_named(store, argument["key"])
    job = read_kept(store, kept, date.fromisoformat(argument["today"]))

    def step(done: int, whole: int, name: str) -> None:
        if cancelled():
            raise StoppedError
        report({"done": done, "whole": whole, "name": name})

    known = KeptAnswers(answers_folder(store))
    try:
        made = make_job(job, known=known, effort=Effort(argument["seconds"]), on_step=step)
    except StoppedError:
        return {"computed": -1}
    return {"computed": len(made.outcome.computed)}


def look_at(job: Job, known: KeptAnswers, effort: Effort) -> MadeJob | None:
    """Return a job as far as it is known, without any slow computing.

    Parameters
    ----------
    job : Job
        The job.
    known : KeptAnswers
        Answers from before.
    effort : Effort
        How long a search was.

    Returns
    -------
    MadeJob or None
        None while slow answers are missing.
    """
    if slow_tasks(job, known, effort):
        return None
    return make_job(job, known=known, effort=effort, ahead=False)
