"""The order of work: read a job, plan it, plan it anew around what is done."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from functools import lru_cache

from samite.kernel.errors import InputError
from samite.readers.problem import Problem, refuse
from samite.readers.work_file import WorkFile, read_work
from samite.work.check import check_work
from samite.work.plan import Plan
from samite.work.problem import Finished, WorkProblem
from samite.work.progress import Learned, learned, with_progress
from samite.work.schedule import Budget, plan_work

Tell = Callable[[str], None]


@dataclass(frozen=True, slots=True)
class Tick:
    """An operation that is ticked off.

    Parameters
    ----------
    name : str
        Its name.
    end : datetime
        When it was over.
    minutes : float or None
        How long it took, if that was noted [min].
    """

    name: str
    end: datetime
    minutes: float | None = None


@dataclass(frozen=True, slots=True)
class WorkAnswer:
    """A job with its plan.

    Parameters
    ----------
    job : WorkProblem
        The job as it was given.
    finished : tuple of Finished
        What is done.
    plan : Plan
        The order of what is left.
    learned : tuple of Learned
        What the logged times say.
    """

    job: WorkProblem
    finished: tuple[Finished, ...]
    plan: Plan
    learned: tuple[Learned, ...]


def _quiet(_: str) -> None:
    return None


def plan_file(
    text: str,
    now: datetime,
    *,
    budget: Budget | None = None,
    ticks: Sequence[Tick] = (),
    tell: Tell = _quiet,
    anew: bool = False,
) -> WorkAnswer:
    """Plan a job of work.

    Parameters
    ----------
    text : str
        In the form ``samite.work-problem.v1``.
    now : datetime
        The present moment; a ``today`` in the text goes before it.
    budget : Budget or None
        How hard to look.
    ticks : sequence of Tick
        What is done besides what the text says.
    tell : callable
        Is told what is being done.
    anew : bool
        Plan from `now` on even if the text has a ``today``.

    Returns
    -------
    WorkAnswer
        The same for the same arguments.

    Raises
    ------
    InputError
        If anything is wrong; everything is named at once.
    """
    read, problems = read_work(text, now)
    if read is None:
        raise refuse(
            problems or [Problem(1, "the file", "it holds no job", "see docs/faces/work.md")],
            "the job",
        )
    start = now if anew else read.problem.start
    finished = _all_finished(read, ticks)
    job = replace(read.problem, start=max([start, *(one.end for one in finished)]))
    problem = with_progress(job, finished)
    faults = check_work(problem)
    told = [Problem(0, one.where, one.what, one.mend) for one in faults]
    if problems or told:
        raise refuse([*problems, *(one for one in told if not _repeats(one, problems))], "the job")
    plan = plan_work(problem, budget, tell)
    return WorkAnswer(job, finished, plan, learned(job, finished))


def _repeats(one: Problem, problems: Sequence[Problem]) -> bool:
    """Whether a fault only follows from one that the reader has named for the same thing."""
    return any(other.where.partition(".")[2].partition(".")[0] == one.where for other in problems)


def _all_finished(read: WorkFile, ticks: Sequence[Tick]) -> tuple[Finished, ...]:
    names = {one.name for one in read.finished}
    more = [Finished(one.name, one.end, one.minutes) for one in ticks if one.name not in names]
    return (*read.finished, *more)


@lru_cache(maxsize=32)
def plan_kept(
    text: str, now: datetime, ticks: tuple[Tick, ...], effort: float, anew: bool
) -> WorkAnswer:
    """Plan a job of work, or give the plan that was made for the same arguments.

    Parameters
    ----------
    text : str
        In the form ``samite.work-problem.v1``.
    now : datetime
        The present moment.
    ticks : tuple of Tick
        What is done.
    effort : float
        How hard to look [-].
    anew : bool
        Plan from `now` on even if the text has a ``today``.

    Returns
    -------
    WorkAnswer
        As `plan_file` gives it.
    """
    return plan_file(text, now, budget=Budget(effort), ticks=ticks, anew=anew)


def tick_from(text: str, now: datetime) -> Tick:
    """Read what a person says is done.

    Parameters
    ----------
    text : str
        A name, or a name and minutes: ``"cut the satin=25"``.
    now : datetime
        When it is said.

    Returns
    -------
    Tick
        With the minutes, if they are there.

    Raises
    ------
    InputError
        If the minutes are no number.
    """
    name, _, minutes = text.partition("=")
    if not minutes.strip():
        return Tick(" ".join(name.split()), now)
    try:
        taken = float(minutes.replace(",", "."))
    except ValueError:
        taken = 0.0
    if not 0.0 < taken < 10_000.0:
        raise InputError(f"{minutes.strip()!r} is no number of minutes", "done", 'write "NAME=25"')
    return Tick(" ".join(name.split()), now, taken)
