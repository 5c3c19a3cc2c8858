"""The graph of what depends on what: an answer is computed again only if what it rests on changed."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, MutableMapping
from dataclasses import dataclass
from typing import Any

from samite.kernel.errors import SamiteError
from samite.kernel.keys import content_key
from samite.project.order import construction_order


@dataclass(frozen=True, slots=True)
class Task:
    """One answer that is wanted.

    Parameters
    ----------
    name : str
        Its name, unique in the graph.
    function : str
        Name and version of what computes it, ``"lay/1"``.
    facts : object
        What it takes from the job itself; has a canonical JSON.
    needs : tuple of str
        Names of the answers it rests on.
    compute : callable
        Takes the answers it needs, by name, and returns its own.
    tables : str
        Hash of the tables read.
    """

    name: str
    function: str
    facts: object
    needs: tuple[str, ...]
    compute: Callable[[Mapping[str, Any]], Any]
    tables: str = ""


@dataclass(frozen=True, slots=True)
class Trouble:
    """An answer that could not be had.

    Parameters
    ----------
    task : str
        Its name.
    error : SamiteError or None
        Why; None if an answer that it needs could not be had.
    missing : tuple of str
        Answers that it needs and that could not be had.
    """

    task: str
    error: SamiteError | None
    missing: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Outcome:
    """All answers of a graph.

    Parameters
    ----------
    answers : mapping of str to object
        By name of the task.
    troubles : tuple of Trouble
        What could not be had.
    computed : tuple of str
        Tasks that were computed now; the others were known.
    keys : mapping of str to str
        Content key of every task.
    """

    answers: Mapping[str, Any]
    troubles: tuple[Trouble, ...]
    computed: tuple[str, ...]
    keys: Mapping[str, str]


def task_keys(tasks: Iterable[Task]) -> dict[str, str]:
    """Return the content key of every task.

    Parameters
    ----------
    tasks : iterable of Task
        A whole graph.

    Returns
    -------
    dict of str to str
        In an order in which they can be computed.

    Raises
    ------
    InfeasibleError
        If tasks need each other in a circle.

    Notes
    -----
    The key of a task holds the keys of what it needs, not their answers: equal keys mean equal
    answers, while unequal keys may still give equal answers and are then computed once too often.

    References
    ----------
    ``derivation``: keys of a graph without circles, each holding those before it.
    """
    named = {task.name: task for task in tasks}
    keys: dict[str, str] = {}
    for name in construction_order({task.name: task.needs for task in named.values()}):
        task = named[name]
        below = {need: keys[need] for need in task.needs}
        keys[name] = content_key([task.facts, below], task.function, task.tables)
    return keys


def needed_for(tasks: Iterable[Task], wanted: Iterable[str]) -> list[Task]:
    """Return the tasks that some answers rest on, themselves included.

    Parameters
    ----------
    tasks : iterable of Task
        A whole graph.
    wanted : iterable of str
        Names of the answers; one that is not there is passed over.

    Returns
    -------
    list of Task
        In the order of the graph.

    References
    ----------
    ``derivation``: reachability.
    """
    named = {task.name: task for task in tasks}
    waiting = [name for name in wanted if name in named]
    found: set[str] = set()
    while waiting:
        name = waiting.pop()
        if name not in found:
            found.add(name)
            waiting += named[name].needs
    return [task for name, task in named.items() if name in found]


def compute(
    tasks: Iterable[Task],
    known: MutableMapping[str, Any],
    on_step: Callable[[int, int, str], None] | None = None,
) -> Outcome:
    """Compute what is not known yet, in order.

    Parameters
    ----------
    tasks : iterable of Task
        A whole graph.
    known : mutable mapping of str to object
        Answers by content key; new ones are put in at once, so that a stop loses nothing.
    on_step : callable or None
        Told before each task that is computed: how many are done, of how many, and its name.

    Returns
    -------
    Outcome
        Answers and troubles: a task that fails takes only those with it that need it.

    Raises
    ------
    InfeasibleError
        If tasks need each other in a circle.

    References
    ----------
    ``derivation``: memo by content key.
    """
    named = {task.name: task for task in tasks}
    keys = task_keys(named.values())
    wanted = [name for name in keys if keys[name] not in known]
    answers: dict[str, Any] = {}
    troubles: list[Trouble] = []
    computed: list[str] = []
    for name, key in keys.items():
        task = named[name]
        missing = tuple(need for need in task.needs if need not in answers)
        if missing:
            troubles.append(Trouble(name, None, missing))
            continue
        if key not in known:
            if on_step:
                on_step(len(computed), len(wanted), name)
            try:
                known[key] = task.compute({need: answers[need] for need in task.needs})
            except SamiteError as error:
                troubles.append(Trouble(name, error))
                continue
            computed.append(name)
        answers[name] = known[key]
    return Outcome(answers, tuple(troubles), tuple(computed), keys)
