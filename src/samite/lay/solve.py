"""Solve a lay: the first answer at once, then better ones until the time is up."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from samite.kernel.errors import InfeasibleError, InputError
from samite.lay.bounds import bound_mm
from samite.lay.check import check_problem
from samite.lay.fits import misfits
from samite.lay.outline import signed_area_mm2
from samite.lay.problem import Lay, placements_of
from samite.lay.solvers.clock import now_s

if TYPE_CHECKING:
    from collections.abc import Callable

    from samite.lay._model import Model, State
    from samite.lay.problem import Problem
    from samite.lay.solvers.engine import Engine
    from samite.lay.solvers.own import Runner

LOOK_S = 0.02
"""Between two looks at the searches [s]."""

SHARE_AT = (0.3, 0.5, 0.65, 0.85)
"""Shares of the time at which searches that are far behind take up the best [-]."""

LAST_FROM = 0.6
"""Share of the time from which all go on from the best, and none begins anew [-]."""

QUICK_S = 0.4
"""If making ready takes longer than this, a rougher first lay is told before [s]."""

ROWS_S = 1.0
"""If making even a rough lay ready takes longer than this, and than the time, rows have to do [s]."""

LATE = 1.5
"""A better first lay that would be ready only after so many times the time is not begun [-]."""

ENGINE_FROM_S = 20.0
"""With less time than this the engine is left out: our own search is ahead of it by then [s]."""

ENGINE_SHARE = 0.2
"""Share of the time that the engine may search; our own search goes on from what it found."""

ENGINE_LATEST = 0.35
"""Share of the time after which an engine that overruns is stopped."""


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
        return _search(problem, _Wish(seconds, seed, began, on_better, cancelled, searches, engine))
    except InfeasibleError as error:
        why = f"{error.message}. What could help: {error.hint}."
        return Lay("infeasible", why, seed=seed, seconds=now_s() - began)


@dataclass(frozen=True, slots=True)
class _Wish:
    seconds: float
    seed: int
    began: float
    on_better: Callable[[Lay], None] | None
    cancelled: Callable[[], bool] | None
    searches: int
    engine: bool

    def over(self) -> bool:
        """Tell whether the time is up or the person has had enough."""
        late = now_s() - self.began >= self.seconds
        return late or (self.cancelled is not None and self.cancelled())


def _search(problem: Problem, wish: _Wish) -> Lay:
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
    best = _better(
        model, (math.inf if first is None else model.length_of(first), first), best, least, wish
    )
    if _done(best, least) or wish.over():
        return _answer(best, wish, least)
    seeds = tuple(wish.seed * 1000 + k for k in range(max(wish.searches, 1)))
    runner = Runner(model, first, seeds)
    helper = _engine(model, wish)
    runner.begin(len(seeds) if helper is None else max(len(seeds) - 1, 1))
    shares = [wish.began + share * wish.seconds for share in SHARE_AT]
    try:
        while not wish.over() and not _done(best, least) and runner.running():
            runner.stop.wait(LOOK_S)
            best = _better(model, runner.best(), best, least, wish)
            if helper is not None:
                helper = _listen(helper, runner, wish)
            if shares and now_s() >= shares[0]:
                runner.share(last=shares.pop(0) >= wish.began + LAST_FROM * wish.seconds)
    finally:
        if helper is not None:
            helper.end()
        runner.end()
    best = _better(model, runner.best(), best, least, wish)
    return _answer(best, wish, least)


def _quick(problem: Problem, least: float, wish: _Wish) -> Lay | None:
    """Return a first lay of outlines with few corners, where the whole takes a while."""
    from samite.lay._improve import first_lay
    from samite.lay._model import FEW_CORNERS, model_of
    from samite.lay.fits import one_way_each

    model = model_of(one_way_each(problem), FEW_CORNERS)
    first = first_lay(model)
    return None if first is None else _tell(model, first, least, wish)


def _engine(model: Model, wish: _Wish) -> Engine | None:
    """Start the packing engine for the first fifth of the time, where its model fits."""
    from samite.lay.solvers.engine import Engine, engine_fits

    left = wish.seconds - (now_s() - wish.began)
    if not wish.engine or left < ENGINE_FROM_S or not engine_fits(model.problem):
        return None
    helper = Engine(model, seconds=left * ENGINE_SHARE, seed=wish.seed)
    helper.begin()
    return helper


def _listen(helper: Engine, runner: Runner, wish: _Wish) -> Engine | None:
    """Pass on what the engine found; once it is over the last search takes its place."""
    over = now_s() - wish.began > wish.seconds * ENGINE_LATEST
    if over:
        helper.end()
    running = helper.running()
    state = helper.lay()
    if state is not None:
        runner.offer(state)
    if running:
        return helper
    helper.end()
    runner.begin()
    return None


def _better(
    model: Model, found: tuple[float, State | None], best: Lay | None, least: float, wish: _Wish
) -> Lay | None:
    length, state = found
    length -= model.origin_mm
    if state is None or (best is not None and length >= best.length_mm - 1e-6):
        return best
    return _tell(model, state, least, wish)


def _tell(model: Model, state: State, least: float, wish: _Wish) -> Lay:
    lay = lay_of(model, state, least)
    lay = replace(lay, seconds=now_s() - wish.began, seed=wish.seed)
    if wish.on_better is not None:
        wish.on_better(lay)
    return lay


def lay_of(model: Model, state: State, least: float) -> Lay:
    """Return a state of the search as an answer.

    Parameters
    ----------
    model : Model
        The problem made ready.
    state : State
        Where the items lie.
    least : float
        The bound [mm].

    Returns
    -------
    Lay
        Feasible, or optimal if it meets the bound.

    Notes
    -----
    The share used counts the whole width, folded cloth in both layers.
    """
    problem = model.problem
    length = model.length_of(state) - model.origin_mm
    wanted = sum(
        abs(signed_area_mm2(piece.outline_mm)) * placements_of(piece, folded=problem.folded)
        for piece in problem.pieces
    )
    use = 100.0 * wanted / (problem.lying_width_mm * length) if length > 0.0 else 0.0
    return Lay(
        "optimal" if length <= least * (1.0 + 1e-9) + 1e-6 else "feasible",
        _note(problem),
        round(length, 6),
        round(min(least, length), 6),
        round(use, 4),
        placements=model.placements(state),
    )


def _note(problem: Problem) -> str:
    if not problem.folded:
        return ""
    spare = [p.name for p in problem.pieces if not p.on_fold and p.copies % 2]
    return f"Folded cloth cuts one to spare of {', '.join(spare)}." if spare else ""


def _done(best: Lay | None, least: float) -> bool:
    return best is not None and best.length_mm <= least * (1.0 + 1e-9) + 1e-6


def _answer(best: Lay | None, wish: _Wish, least: float) -> Lay:
    spent = now_s() - wish.began
    if best is not None:
        return replace(best, seconds=spent, seed=wish.seed)
    why = (
        "no lay of all pieces was found in the time; that does not prove that none exists."
        " What could help: more time, fewer pieces, or more cloth."
    )
    least = least if math.isfinite(least) else 0.0
    return Lay("out-of-time", why, bound_mm=least, seconds=spent, seed=wish.seed)
