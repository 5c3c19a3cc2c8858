"""The order of work: by the day, with the fewest change-overs, and how good it is."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from samite.work.calendar import moment_before, session_minutes
from samite.work.check import check_work
from samite.work.operation import Operation
from samite.work.plan import Line, Plan, Score
from samite.work.problem import TABLE, WorkProblem
from samite.work.replay import score, with_changes
from samite.work.solvers._model import TICKS, Model, build_model
from samite.work.solvers.beam import Found, found_of
from samite.work.solvers.search import Answer, solve
from samite.work.solvers.simple import solve_simply

Tell = Callable[[str], None]

MINUTE = timedelta(minutes=1)
"""Nobody is late for a fitting by less."""


@dataclass(frozen=True, slots=True)
class Budget:
    """How hard to look.

    Parameters
    ----------
    effort : float
        1 for an answer within seconds; more looks longer [-].
    seed : int
        Of the random numbers [1].
    """

    effort: float = 1.0
    seed: int = 1


def _quiet(_: str) -> None:
    return None


def plan_work(problem: WorkProblem, budget: Budget | None = None, tell: Tell = _quiet) -> Plan:
    """Return the order of work.

    Parameters
    ----------
    problem : WorkProblem
        The job, without faults.
    budget : Budget or None
        How hard to look; the usual one if None.
    tell : callable
        Is told what is being done.

    Returns
    -------
    Plan
        The same for the same job and budget. Where the day cannot be kept it is the plan that
        ends soonest, with the ways out.

    Raises
    ------
    ValueError
        If the job has faults, which `check_work` names.

    Notes
    -----
    First with the margin free before the day, then without it. The cost is the time for which
    makers are there: work, change-overs and waiting. Bound: the work and the fewest change-overs
    of any order, or the constraint solver's bound if that is higher.

    References
    ----------
    ``derivation``: docs/models/work.md.
    """
    faults = check_work(problem)
    if faults:
        raise ValueError(f"{len(faults)} faults, the first: {faults[0].where}: {faults[0].what}")
    budget = budget or Budget()
    margin = margin_minutes(problem)
    tell("looking for an order with the margin kept free")
    answer, model = _answer(problem, _early_due(problem, margin), budget, tell)
    kept = answer.found is not None and not answer.found.late
    first = answer
    if not kept and problem.due is not None and margin > 0.0:
        tell("the margin cannot be kept: looking without it")
        answer, model = _answer(problem, problem.due, budget, tell)
    if answer.found is None:
        answer, model = _soonest(problem, answer, budget)
    plan = _plan(problem, model, answer, margin, budget)
    if not kept:
        plan = replace(plan, why=_why_not(plan, first, answer))
        if problem.due is not None or not plan.on_time:
            from samite.work.ways_out import ways_out

            tell("looking for ways out")
            plan = replace(plan, ways_out=ways_out(problem, plan, budget))
    return plan


def margin_minutes(problem: WorkProblem) -> float:
    """Return the session time that is to stay free before the day.

    Parameters
    ----------
    problem : WorkProblem
        The job.

    Returns
    -------
    float
        Its share of the work that is left [min].

    Notes
    -----
    For what goes wrong: a new design needs more of it than a repeat.

    References
    ----------
    ``common-practice``: 15 to 25 % for a new design, 10 % for a repeat.
    """
    return problem.margin_share * sum(one.minutes.value for one in problem.left())


def _early_due(problem: WorkProblem, margin: float) -> datetime | None:
    if problem.due is None:
        return None
    return moment_before(problem.makers, due=problem.due, free_min=margin)


def _answer(
    problem: WorkProblem, due: datetime | None, budget: Budget, tell: Tell
) -> tuple[Answer, Model]:
    model = build_model(problem, due)
    return solve(model, effort=budget.effort, seed=budget.seed, tell=tell), model


def lines_of(problem: WorkProblem, model: Model, found: Found) -> tuple[Line, ...]:
    """Return a plan in names and moments.

    Parameters
    ----------
    problem : WorkProblem
        The job.
    model : Model
        The same in numbers.
    found : Found
        A plan in numbers.

    Returns
    -------
    tuple of Line
        In the order of beginning, change-overs named.

    Notes
    -----
    Times are whole half minutes.

    References
    ----------
    ``definition``: half minutes.
    """
    left = problem.left()
    lines = []
    for step in found.steps:
        way = model.ops[step.op].ways[step.way]
        machine = problem.machines[way.station].name if way.station >= 0 else TABLE
        lines.append(
            Line(
                left[step.op],
                problem.makers[step.maker].name,
                machine,
                model.moment(step.begin),
                model.moment(step.work),
                model.moment(step.end),
                step.session,
                late=_is_late(
                    problem, left[step.op], model.moment(step.work), model.moment(step.end)
                ),
            )
        )
    return with_changes(problem, lines)


def _soonest(problem: WorkProblem, answer: Answer, budget: Budget) -> tuple[Answer, Model]:
    """Plan without a day, the sessions going on as they did, so that there is something to see."""
    from samite.work.ways_out import without_days

    open_ended = without_days(problem)
    model = build_model(open_ended, None)
    found = solve(model, effort=budget.effort / 4.0, seed=budget.seed, exact=False).found
    status = "infeasible" if answer.proof else answer.status
    return replace(answer, found=found, status=status), model


def _is_late(problem: WorkProblem, one: Operation, work: datetime, end: datetime) -> bool:
    missed = one.at is not None and work > one.at + MINUTE
    return missed or any(moment is not None and end > moment for moment in (one.by, problem.due))


def simple_plan(problem: WorkProblem) -> tuple[Line, ...] | None:
    """Return the plan of the simple solver: first ready, fewest change-overs.

    Parameters
    ----------
    problem : WorkProblem
        The job, without faults.

    Returns
    -------
    tuple of Line or None
        None if the sessions do not hold it.

    Notes
    -----
    What a careful person does without a computer; the other solvers are measured against it.

    References
    ----------
    ``derivation``: docs/models/work.md, the simple solver.
    """
    model = build_model(problem, problem.due)
    steps = solve_simply(model)
    return None if steps is None else lines_of(problem, model, found_of(model, steps))


def _simple_score(problem: WorkProblem) -> Score | None:
    lines = simple_plan(problem)
    return None if lines is None else score(lines)


def _plan(
    problem: WorkProblem, model: Model, answer: Answer, margin: float, budget: Budget
) -> Plan:
    lines = lines_of(problem, model, answer.found) if answer.found else ()
    finish = max((line.end for line in lines), default=problem.start)
    sessions = [one for maker in problem.makers if not maker.helper for one in maker.sessions]
    due = problem.due
    free = session_minutes(sessions, since=finish, until=due) if due and lines else 0.0
    minutes = [one.minutes for one in problem.left()]
    slow = math.sqrt(sum((one.high - one.value) ** 2 for one in minutes))
    late = any(line.late for line in lines)
    status = answer.status if not late or answer.proof else "out-of-time"
    return Plan(
        problem,
        status,
        answer.why,
        lines,
        score(lines),
        answer.bound / TICKS,
        _simple_score(problem),
        margin,
        free,
        slow,
        (),
        budget.seed,
        budget.effort,
    )


def _why_not(plan: Plan, with_margin: Answer, answer: Answer) -> str:
    if plan.on_time and plan.lines:
        return (
            f"the day is kept, but only {plan.free_min:.0f} of the {plan.margin_min:.0f} min of margin"
            f" stay free; {answer.why}"
        )
    if plan.problem.due is None and not plan.on_time:
        return f"it cannot be done as it is asked: {answer.why}"
    proof = answer.why if answer.proof else "no plan was found; that there is none is not proved"
    return f"it cannot be done by then: {proof or with_margin.why}"
