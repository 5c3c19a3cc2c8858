"""Faults of a job of work, all at once and by name."""

from __future__ import annotations

import itertools
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from samite.tables.close_names import suggest
from samite.work.operation import HEATS, Operation
from samite.work.problem import WorkProblem


@dataclass(frozen=True, slots=True)
class Fault:
    """Something that keeps a job from being planned.

    Parameters
    ----------
    where : str
        Name of the operation, machine or maker.
    what : str
        What is wrong.
    mend : str
        How to mend it.
    """

    where: str
    what: str
    mend: str


def check_work(problem: WorkProblem) -> list[Fault]:
    """Return everything that keeps a job from being planned.

    Parameters
    ----------
    problem : WorkProblem
        The job.

    Returns
    -------
    list of Fault
        Empty if it can be planned; whether it is done by the day is another question.

    Notes
    -----
    Cycles are named operation by operation, one cycle for each knot.

    References
    ----------
    ``definition``: what must be earlier is a partial order.
    """
    return [
        *_of_names(problem),
        *_of_operations(problem),
        *_cycles(problem),
        *_of_machines(problem),
        *_of_makers(problem),
        *_of_days(problem),
    ]


def _of_names(problem: WorkProblem) -> Iterator[Fault]:
    sorts = (
        ("operations", [one.name for one in problem.operations]),
        ("machines", [one.name for one in problem.machines]),
        ("makers", [one.name for one in problem.makers]),
    )
    for sort, names in sorts:
        for name, count in Counter(names).items():
            if count > 1:
                yield Fault(name, f"{count} {sort} have this name", "give each a name of its own")
    if not problem.operations:
        yield Fault("operations", "there is nothing to do", "list at least one operation")
    if not problem.makers:
        yield Fault("makers", "there is nobody to do it", "list at least one maker with sessions")


def _of_operations(problem: WorkProblem) -> Iterator[Fault]:
    names = {one.name for one in problem.operations}
    makers = {one.name for one in problem.makers}
    for one in problem.operations:
        for after in one.after:
            if after.name not in names:
                yield Fault(
                    one.name,
                    f"it is after {after.name!r}, which is not there",
                    _close(after.name, names),
                )
            if after.wait_min < 0:
                yield Fault(
                    one.name,
                    f"it waits {after.wait_min:g} min for {after.name}",
                    "wait zero or more",
                )
        for name in one.makers:
            if name not in makers:
                yield Fault(one.name, f"no maker is called {name!r}", _close(name, makers))
        if one.setting.heat and one.setting.heat not in HEATS:
            yield Fault(
                one.name, f"no iron has the heat {one.setting.heat!r}", f"write {', '.join(HEATS)}"
            )
        for name in (*one.leaves, *one.shuns):
            if name not in problem.change.contaminations:
                known = sorted(problem.change.contaminations)
                yield Fault(
                    one.name,
                    f"nothing is known of {name!r}",
                    _close(name, set(known)) or f"known: {', '.join(known)}",
                )
        yield from _who(problem, one)
    done = {one.name for one in problem.finished}
    for name in sorted(done - names):
        yield Fault(name, "it is done, but no operation has that name", _close(name, names))


def _who(problem: WorkProblem, one: Operation) -> Iterator[Fault]:
    able = [
        maker
        for maker in problem.makers
        if (not one.makers or maker.name in one.makers) and (one.helper or not maker.helper)
    ]
    if problem.makers and not able:
        yield Fault(
            one.name,
            "nobody can do it: only helpers are left",
            "name a maker, or let a helper do it",
        )
    longest = max((s.minutes for maker in able for s in maker.sessions), default=0.0)
    if (
        longest > 0.0
        and one.minutes.value > longest
        and one.name not in {f.name for f in problem.finished}
    ):
        yield Fault(
            one.name,
            f"it takes {one.minutes.value:g} min, the longest session has {longest:g}",
            "split it into parts, or give a longer session",
        )


def _close(name: str, known: set[str]) -> str:
    close = suggest(name, sorted(known))
    return f"did you mean {' or '.join(close)}?" if close else "add it, or leave it out"


def _cycles(problem: WorkProblem) -> Iterator[Fault]:
    names = {one.name for one in problem.operations}
    left = {
        one.name: [after.name for after in one.after if after.name in names]
        for one in problem.operations
    }
    while True:
        free = [name for name, before in left.items() if not any(b in left for b in before)]
        if not free:
            break
        for name in free:
            del left[name]
    while left:
        cycle = _cycle(left)
        told = " after ".join([*cycle, cycle[0]])
        yield Fault(cycle[0], f"it is after itself: {told}", "take one of these out of the circle")
        for name in cycle:
            del left[name]
        _shed(left)


def _shed(left: dict[str, list[str]]) -> None:
    """Leave out what no longer stands in or behind a circle."""
    free = [name for name, before in left.items() if not any(b in left for b in before)]
    while free:
        for name in free:
            del left[name]
        free = [name for name, before in left.items() if not any(b in left for b in before)]


def _cycle(left: dict[str, list[str]]) -> list[str]:
    path: list[str] = []
    at = next(iter(left))
    while at not in path:
        path.append(at)
        at = next(b for b in left[at] if b in left)
    return path[path.index(at) :]


def _of_machines(problem: WorkProblem) -> Iterator[Fault]:
    known = {one.name for one in problem.machines} | {one.kind for one in problem.machines}
    for one in problem.operations:
        if one.machines and not any(machine.can(one.machines) for machine in problem.machines):
            wanted = " or ".join(one.machines)
            there = ", ".join(sorted(known)) or "none"
            yield Fault(
                one.name,
                f"no machine can do it: it needs {wanted}; there are {there}",
                "add the machine, or do it another way",
            )


def _of_makers(problem: WorkProblem) -> Iterator[Fault]:
    for maker in problem.makers:
        for one in maker.sessions:
            if one.end <= one.begin:
                yield Fault(
                    maker.name,
                    f"a session ends at {one.end:%Y-%m-%d %H:%M}, before it begins at {one.begin:%Y-%m-%d %H:%M}",
                    "swap begin and end, or mend the date",
                )
        good = sorted((s for s in maker.sessions if s.end > s.begin), key=lambda s: s.begin)
        for first, second in itertools.pairwise(good):
            if second.begin < first.end:
                yield Fault(
                    maker.name,
                    f"the session from {second.begin:%Y-%m-%d %H:%M} begins in the one from {first.begin:%Y-%m-%d %H:%M}",
                    "join them, or move one",
                )
        if not any(s.end > problem.start for s in good) and not maker.helper:
            yield Fault(
                maker.name, "there is no session yet to come", "give days with hours after now"
            )


def _of_days(problem: WorkProblem) -> Iterator[Fault]:
    if problem.due is not None and problem.due <= problem.start:
        yield Fault(
            "due",
            f"the day, {problem.due:%Y-%m-%d %H:%M}, is past: now is {problem.start:%Y-%m-%d %H:%M}",
            "set a day to come",
        )
    done = {one.name for one in problem.finished}
    for one in problem.operations:
        if one.name in done:
            continue
        if one.at is not None:
            yield from _appointment(problem, one)
        if one.by is not None and one.by <= problem.start:
            yield Fault(
                one.name,
                f"it must be over by {one.by:%Y-%m-%d %H:%M}, which is past",
                "set a moment to come",
            )
    for item in problem.finished:
        if item.end > problem.start:
            yield Fault(
                item.name,
                f"it is done at {item.end:%Y-%m-%d %H:%M}, which is yet to come",
                "mend the moment",
            )


def _appointment(problem: WorkProblem, one: Operation) -> Iterator[Fault]:
    if one.at is None:
        return
    if one.at < problem.start:
        yield Fault(
            one.name,
            f"its appointment at {one.at:%Y-%m-%d %H:%M} is past",
            "tick it off, or set another",
        )
        return
    minutes = one.minutes.value
    for maker in problem.makers:
        if one.makers and maker.name not in one.makers:
            continue
        for session in maker.sessions:
            left = (session.end - one.at).total_seconds() / 60.0
            if session.begin <= one.at and left >= minutes:
                return
    yield Fault(
        one.name,
        f"nobody is there for the appointment at {one.at:%Y-%m-%d %H:%M} and {minutes:g} min on",
        "add a session that holds it",
    )
