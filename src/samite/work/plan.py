"""A plan: who does what when, what is changed over before it, and how good that is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from samite.work.operation import Operation
from samite.work.problem import WorkProblem


@dataclass(frozen=True, slots=True)
class Change:
    """One change-over.

    Parameters
    ----------
    what : str
        ``needle``, ``thread``, ``foot``, ``heat``, ``on``, ``move`` or ``clean``.
    old : str
        What it was; empty if not known.
    new : str
        What it becomes.
    minutes : float
        Time with hands on it [min].
    words : str
        What to do.
    """

    what: str
    old: str
    new: str
    minutes: float
    words: str


@dataclass(frozen=True, slots=True)
class Line:
    """One operation in the plan.

    Parameters
    ----------
    operation : Operation
        What is done.
    maker : str
        By whom.
    machine : str
        On what; ``table`` if on none.
    begin : datetime
        When the setting up begins.
    work : datetime
        When the work begins.
    end : datetime
        When it is over.
    session : int
        Number of the maker's session, from 0 [1].
    changes : tuple of Change
        What is changed over before it.
    waited_min : float
        Time that the maker waits before it, in the same session; before the first, for a cold
        iron [min].
    late : bool
        Whether it ends after it must.
    """

    operation: Operation
    maker: str
    machine: str
    begin: datetime
    work: datetime
    end: datetime
    session: int
    changes: tuple[Change, ...] = ()
    waited_min: float = 0.0
    late: bool = False

    @property
    def change_minutes(self) -> float:
        """Time of its change-overs [min]."""
        return (self.work - self.begin).total_seconds() / 60.0


def came(lines: Sequence[Line]) -> datetime:
    """Return when a maker comes to a session.

    Parameters
    ----------
    lines : sequence of Line
        Their lines in that session, with their waiting.

    Returns
    -------
    datetime
        The begin of the first; earlier if a cold iron has to be switched on for it.

    Notes
    -----
    What waits before the first line is a cold iron.

    References
    ----------
    ``definition``: the waiting before the first line.
    """
    first = min(lines, key=lambda one: (one.begin, one.end))
    return first.begin - timedelta(minutes=first.waited_min)


@dataclass(frozen=True, slots=True)
class Score:
    """What a plan takes.

    Parameters
    ----------
    there_min : float
        Time for which makers are there, all sessions together [min].
    work_min : float
        Time at the operations [min].
    change_min : float
        Time of change-overs, moves and cleaning [min].
    wait_min : float
        Time of waiting [min].
    changes : int
        How many change-overs, moves left out [1].
    """

    there_min: float
    work_min: float
    change_min: float
    wait_min: float
    changes: int


@dataclass(frozen=True, slots=True)
class WayOut:
    """Something that would bring the work in on time.

    Parameters
    ----------
    kind : str
        ``simplify``, ``drop``, ``helper``, ``sessions``, ``earlier`` or ``later-day``.
    words : str
        What to do, and what it costs.
    finish : datetime
        When all is over then.
    minutes : float
        Minutes that it takes off the work, or adds in helpers' time or sessions [min].
    operations : tuple of str
        Operations that it touches.
    """

    kind: str
    words: str
    finish: datetime
    minutes: float
    operations: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Plan:
    """The order of work.

    Parameters
    ----------
    problem : WorkProblem
        What it was made for.
    status : str
        ``optimal``, ``feasible``, ``infeasible`` or ``out-of-time``.
    why : str
        What the status rests on.
    lines : tuple of Line
        In the order of beginning; if it cannot be done on time, the plan that ends soonest.
    score : Score
        What it takes.
    bound_min : float
        Nobody can do with less time at the bench [min].
    simple : Score or None
        What the simple solver's plan takes; None if it finds none.
    margin_min : float
        Session time to be kept free before the day [min].
    free_min : float
        Session time that is free between the end and the day [min].
    slow_min : float
        How much longer it takes when operations go slowly, 95th percentile [min].
    ways_out : tuple of WayOut
        What would bring it in on time, cheapest first.
    seed : int
        Of the random numbers [1].
    effort : float
        Budget of the solvers [-].
    """

    problem: WorkProblem
    status: str
    why: str
    lines: tuple[Line, ...]
    score: Score
    bound_min: float
    simple: Score | None
    margin_min: float
    free_min: float
    slow_min: float
    ways_out: tuple[WayOut, ...]
    seed: int
    effort: float

    @property
    def finish(self) -> datetime:
        """When all is over."""
        return max((line.end for line in self.lines), default=self.problem.start)

    @property
    def on_time(self) -> bool:
        """Whether everything ends when it must, margin left out of account."""
        due = self.problem.due
        return (due is None or self.finish <= due) and not any(line.late for line in self.lines)

    @property
    def gap_percent(self) -> float:
        """Distance to the bound, of the time at the bench [%]."""
        there = self.score.there_min
        return 100.0 * (there - self.bound_min) / there if there else 0.0

    @property
    def lost_min(self) -> float:
        """Change-overs and waiting, all that an order can change [min]."""
        return self.score.there_min - self.score.work_min

    @property
    def lost_bound_min(self) -> float:
        """What nobody can spare of them [min]."""
        return max(self.bound_min - self.score.work_min, 0.0)
