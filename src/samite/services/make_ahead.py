"""The slow answers of a job computed ahead, in several processes that share a folder."""

from __future__ import annotations

import multiprocessing
from collections.abc import Callable, Sequence
from concurrent.futures import ProcessPoolExecutor, as_completed
from concurrent.futures.process import BrokenProcessPool
from datetime import date
from pathlib import Path
from typing import Any

from samite.project.graph import compute, needed_for, task_keys
from samite.project.model import Person
from samite.services.job import Job, read_job
from samite.services.job_lays import Effort
from samite.services.job_tasks import job_tasks
from samite.services.kept_answers import KeptAnswers
from samite.services.past import Past

SLOW = ("card/", "pair/", "lay/", "test/", "trial/", "work")
"""Tasks that take long enough to be done in the background."""

ALONE = ("card/", "pair/", "lay/", "test/", "trial/")
"""Those of them that rest on nothing slow, so that several can be computed at once."""

WORTH_IT = 4
"""From this many slow answers on, starting processes pays."""

_there: dict[str, Any] = {}


def slow_tasks(job: Job, known: KeptAnswers, effort: Effort) -> tuple[str, ...]:
    """Return the slow answers of a job that are not known.

    Parameters
    ----------
    job : Job
        The job.
    known : KeptAnswers
        Answers from before.
    effort : Effort
        How long to search.

    Returns
    -------
    tuple of str
        Names of tasks.
    """
    keys = task_keys(job_tasks(job.project, effort, job.today, job.pasts))
    return tuple(name for name, key in keys.items() if name.startswith(SLOW) and key not in known)


def compute_ahead(
    job: Job,
    known: KeptAnswers,
    effort: Effort,
    on_step: Callable[[int, int, str], None] | None = None,
    *,
    processes: int = 2,
) -> None:
    """Compute the slow answers of a job into a folder.

    Parameters
    ----------
    job : Job
        The job.
    known : KeptAnswers
        Answers from before; nothing is done if they lie in no folder.
    effort : Effort
        How long to search.
    on_step : callable or None
        Told how many are done, of how many, and the name of the last.
    processes : int
        How many processes [count].
    """
    if known.folder is None:
        return
    missing = slow_tasks(job, known, effort)
    names = _once(job, effort, [name for name in missing if name.startswith(ALONE)])
    if len(names) < WORTH_IT or processes < 2:
        return
    facts = (
        job.text,
        job.today.isoformat(),
        effort,
        str(known.folder),
        dict(job.bodies),
        job.units,
        dict(job.pasts),
    )
    context = multiprocessing.get_context("spawn")
    with ProcessPoolExecutor(processes, context, _begin, facts) as pool:
        waiting = {pool.submit(_one, name): name for name in _longest_first(names)}
        try:
            for done, one in enumerate(as_completed(waiting)):
                if on_step:
                    on_step(done, len(names), waiting[one])
                one.result()
        except BrokenProcessPool:
            return  # what is missing is computed one by one
        except BaseException:
            pool.shutdown(wait=False, cancel_futures=True)
            raise


def _once(job: Job, effort: Effort, names: Sequence[str]) -> list[str]:
    """Leave out tasks that ask what another asks too, so that no two processes answer it."""
    keys = task_keys(job_tasks(job.project, effort, job.today, job.pasts))
    return list({keys[name]: name for name in reversed(names)}.values())[::-1]


def _longest_first(names: Sequence[str]) -> list[str]:
    """Begin with what takes longest, so that no process waits for it at the end."""
    order = ("pair/", "card/", "trial/", "lay/", "test/")
    return sorted(
        names, key=lambda name: next(i for i, x in enumerate(order) if name.startswith(x))
    )


def _begin(
    text: str,
    today: str,
    effort: Effort,
    folder: str,
    bodies: dict[str, Person],
    units: str,
    pasts: dict[str, Past],
) -> None:
    job = read_job(text, date.fromisoformat(today), bodies=bodies, units=units)
    _there["tasks"] = job_tasks(job.project, effort, job.today, pasts)
    _there["known"] = KeptAnswers(Path(folder))


def _one(name: str) -> None:
    compute(needed_for(_there["tasks"], (name,)), _there["known"])
