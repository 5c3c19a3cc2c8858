"""Solve a lay: the first answer at once, then better ones until the time is up."""

from __future__ import annotations

from typing import TYPE_CHECKING

from samite.kernel.errors import InputError
from samite.lay.check import check_problem
from samite.lay.problem import Lay

if TYPE_CHECKING:
    from collections.abc import Callable

    from samite.lay.problem import Problem


def solve(
    problem: Problem,
    *,
    seconds: float,
    seed: int,
    on_better: Callable[[Lay], None] | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> Lay:
    """Lay the pieces on the cloth as short as the time allows.

    Parameters
    ----------
    problem : Problem
        The question.
    seconds : float
        Time to search [s].
    seed : int
        Start of the random numbers.
    on_better : callable or None
        Called with every better lay, from the first on.
    cancelled : callable or None
        Asked often; once it answers True the best so far is returned.

    Returns
    -------
    Lay
        The best found.

    Raises
    ------
    InputError
        If the problem contradicts itself; the first of its problems.
    """
    problems = check_problem(problem)
    if problems:
        raise InputError(*problems[0])
    raise NotImplementedError
