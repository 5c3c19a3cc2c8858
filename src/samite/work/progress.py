"""What is done already: the machines as they stand, and minutes that the log has corrected."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from samite.kernel.quantity import Quantity
from samite.work.minutes import learned_minutes
from samite.work.operation import Operation, Setting
from samite.work.problem import Finished, Machine, WorkProblem


@dataclass(frozen=True, slots=True)
class Learned:
    """What the log says of one kind of work.

    Parameters
    ----------
    kind : str
        The kind.
    times : int
        How many times were logged [1].
    factor : float
        Minutes now over minutes of the table [-].
    """

    kind: str
    times: int
    factor: float


def with_progress(problem: WorkProblem, finished: Sequence[Finished]) -> WorkProblem:
    """Return the job as it stands after what is done.

    Parameters
    ----------
    problem : WorkProblem
        The job, as it was.
    finished : sequence of Finished
        What is done.

    Returns
    -------
    WorkProblem
        Machines set as the last operation left them, minutes of what is left drawn to the log.

    Notes
    -----
    Without a note on what machine it was, the first that can do it is taken. Times are learned by
    kind of work.

    References
    ----------
    ``derivation``: docs/models/work.md, progress.
    """
    known = {one.name: one for one in problem.operations}
    done = sorted((one for one in finished if one.name in known), key=lambda one: one.end)
    machines = {one.name: one for one in problem.machines}
    for item in done:
        operation = known[item.name]
        machine = _machine(problem, operation, item.machine)
        if machine:
            old = machines[machine.name]
            machines[machine.name] = replace(old, now=_set_to(old.now, operation.setting))
    ratios = _ratios(known, done)
    names = {one.name for one in done}
    operations = tuple(
        one
        if one.name in names or not ratios.get(one.kind)
        else replace(one, minutes=learned_minutes(one.minutes, ratios=ratios[one.kind]))
        for one in problem.operations
    )
    return replace(
        problem,
        operations=operations,
        machines=tuple(machines.values()),
        finished=(*problem.finished, *done, *(one for one in finished if one.name not in known)),
    )


def learned(problem: WorkProblem, finished: Sequence[Finished]) -> tuple[Learned, ...]:
    """Return what the log says of every kind of work.

    Parameters
    ----------
    problem : WorkProblem
        The job, as it was.
    finished : sequence of Finished
        What is done.

    Returns
    -------
    tuple of Learned
        By kind.

    Notes
    -----
    Only times that were noted count.

    References
    ----------
    ``derivation``: docs/models/work.md, progress.
    """
    known = {one.name: one for one in problem.operations}
    found = []
    for kind, ratios in sorted(_ratios(known, finished).items()):
        table = next(one.minutes for one in problem.operations if one.kind == kind)
        now: Quantity = learned_minutes(table, ratios=ratios)
        found.append(Learned(kind, len(ratios), now.value / table.value))
    return tuple(found)


def _machine(problem: WorkProblem, operation: Operation, name: str) -> Machine | None:
    able = [one for one in problem.machines if operation.machines and one.can(operation.machines)]
    return next((one for one in able if one.name == name), able[0] if able else None)


def _set_to(now: Setting, wanted: Setting) -> Setting:
    return Setting(
        wanted.needle or now.needle,
        wanted.thread or now.thread,
        wanted.foot or now.foot,
        wanted.heat or now.heat,
    )


def _ratios(known: dict[str, Operation], done: Sequence[Finished]) -> dict[str, list[float]]:
    found: dict[str, list[float]] = {}
    for item in done:
        operation = known.get(item.name)
        if operation and item.minutes and operation.kind:
            found.setdefault(operation.kind, []).append(item.minutes / operation.minutes.value)
    return found
