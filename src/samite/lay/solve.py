"""Solve a lay: the first answer at once, then better ones until the time is up."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from samite.kernel.errors import InfeasibleError, InputError
from samite.lay._hunt import FINE_FROM, Hunt, Wish, better, is_done, tell
from samite.lay.bounds import bound_mm
from samite.lay.check import check_problem
from samite.lay.fits import misfits
from samite.lay.problem import Lay
from samite.lay.solvers.clock import now_s

if TYPE_CHECKING:
    from collections.abc import Callable

    from samite.lay._model import Model
    from samite.lay.problem import Problem
    from samite.lay.solvers.engine import Engine

QUICK_S = 0.4
"""If making ready takes longer than this, a rougher first lay is told before [s]."""

ROWS_S = 1.0
"""If making even a rough lay ready takes longer than this, and than the time, rows have to do [s]."""

LATE = 1.5
"""A better first lay that would be ready only after so many times the time is not begun [-]."""

ENGINE_FROM_S = 120.0
"""With less time than this the engine is left out: our own search is ahead of both till then [s]."""

ENGINE_SHARE = 0.2
"""Share of the time that the engine may search; our own search goes on from what it found."""


def solve(
    problem: Problem,
    *,
    seconds: float,
    seed: int,
    on_better: Callable[[Lay], None] | None = None,
    cancelled: Callable[[], bool] | None = None,
    searches: int = 2,
    engine: bool = True,
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
    searches : int
        Searches side by side.
    engine : bool
        Whether the packing engine may help where its model fits.

    Returns
    -------
    Lay
        The best found.

    Raises
    ------
    InputError
        If the problem contradicts itself: all its mistakes, the first with its place.

    Notes
    -----
    The first lay is deterministic; what the searches find in a given time depends on the machine.
    The bound holds for every lay of these pieces; the gap to it is not all waste that could be
    saved.
    """
    began = now_s()
    problems = check_problem(problem)
    if problems:
        more = f" (and {len(problems) - 1} more)" if len(problems) > 1 else ""
        raise InputError(problems[0][0] + more, *problems[0][1:])
    reasons = misfits(problem)
    if reasons:
        return Lay("infeasible", " ".join(reasons), seed=seed, seconds=now_s() - began)
    try:
        return _search(problem, Wish(seconds, seed, began, on_better, cancelled, searches, engine))
    except InfeasibleError as error:
        why = f"{error.message}. What could help: {error.hint}."
        return Lay("infeasible", why, seed=seed, seconds=now_s() - began)


def _search(problem: Problem, wish: Wish) -> Lay:
    from samite.lay._finer import finer_corners
    from samite.lay._model import FEW_CORNERS, corners_for, model_of, work_s
    from samite.lay._phase import best_phase
    from samite.lay._rows import in_rows, rows_fit
    from samite.lay.solvers.own import Runner

    least = bound_mm(problem)
    corners = corners_for(problem, wish.seconds)
    best = None
    if work_s(problem, FEW_CORNERS) > max(wish.seconds, ROWS_S) and rows_fit(problem):
        best = in_rows(problem, least)
        if best is not None:
            return _answer(best, wish, least)
    if work_s(problem, corners) > QUICK_S and not any(p.fixed for p in problem.pieces):
        best = _quick(problem, least, wish)
        spent = now_s() - wish.began + work_s(problem, corners)
        if wish.over() or (best is not None and spent > LATE * wish.seconds):
            return _answer(best, wish, least)
    model, first = best_phase(model_of(problem, corners))
    best = better(
        model, (math.inf if first is None else model.length_of(first), first), best, least, wish
    )
    if is_done(best, least) or wish.over():
        return _answer(best, wish, least)
    seeds = tuple(wish.seed * 1000 + k for k in range(max(wish.searches, 1)))
    hunt = Hunt(model, Runner(model, first, seeds), best, least, wish)
    corners = finer_corners(problem, corners, wish.seconds)
    hunt.begin(_engine(model, wish))
    try:
        hunt.follow(FINE_FROM if corners else 1.0)
        if corners and not hunt.over():
            hunt.refine(corners, seeds)
            hunt.follow(1.0)
    finally:
        hunt.end()
    return _answer(hunt.best, wish, least)


def _quick(problem: Problem, least: float, wish: Wish) -> Lay | None:
    """Return a first lay of outlines with few corners, where the whole takes a while."""
    from samite.lay._improve import first_lay
    from samite.lay._model import FEW_CORNERS, model_of
    from samite.lay.fits import one_way_each

    model = model_of(one_way_each(problem), FEW_CORNERS)
    first = first_lay(model)
    return None if first is None else tell(model, first, least, wish)


def _engine(model: Model, wish: Wish) -> Engine | None:
    """Start the packing engine for the first fifth of the time, where its model fits."""
    from samite.lay.solvers.engine import Engine, engine_fits

    left = wish.seconds - (now_s() - wish.began)
    if not wish.engine or left < ENGINE_FROM_S or not engine_fits(model.problem):
        return None
    helper = Engine(model, seconds=left * ENGINE_SHARE, seed=wish.seed)
    helper.begin()
    return helper


def _answer(best: Lay | None, wish: Wish, least: float) -> Lay:
    spent = now_s() - wish.began
    if best is not None:
        return replace(best, seconds=spent, seed=wish.seed)
    why = (
        "no lay of all pieces was found in the time; that does not prove that none exists."
        " What could help: more time, fewer pieces, or more cloth."
    )
    least = least if math.isfinite(least) else 0.0
    return Lay("out-of-time", why, bound_mm=least, seconds=spent, seed=wish.seed)
