"""Ways out when the day cannot be kept, each one found by planning anew."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from samite.work.calendar import moment_before
from samite.work.operation import After, Operation
from samite.work.plan import Plan, WayOut
from samite.work.problem import Maker, Session, WorkProblem
from samite.work.solvers._model import Model, build_model
from samite.work.solvers.beam import Found
from samite.work.solvers.search import solve

if TYPE_CHECKING:
    from samite.work.schedule import Budget

MOST_SESSIONS = 32
"""Sessions that are added at most [1]."""

FAR_DAYS = 400


def ways_out(problem: WorkProblem, plan: Plan, budget: Budget) -> tuple[WayOut, ...]:
    """Return what would bring the work in on time, margin kept.

    Parameters
    ----------
    problem : WorkProblem
        The job.
    plan : Plan
        The plan that is late or has no margin.
    budget : Budget
        How hard to look.

    Returns
    -------
    tuple of WayOut
        Least lost first: simplify, a helper, more sessions, an earlier begin, drop, another day.

    Notes
    -----
    Operations are simplified or dropped one at a time, the smallest saving that does first; if
    none does alone, together from the greatest saving on. Each proposal has been planned.

    References
    ----------
    ``derivation``: docs/models/work.md, ways out.
    """
    found: list[WayOut | None] = []
    if problem.due is not None:
        found = [
            _simplify(problem, budget),
            _helper(problem, budget),
            _sessions(problem, budget),
            _earlier(problem, budget),
            _drop(problem, budget),
        ]
    found.append(_later_day(problem, plan, budget))
    return tuple(one for one in found if one)


def _on_time(problem: WorkProblem, budget: Budget) -> tuple[Found, Model] | None:
    share = problem.margin_share * sum(one.minutes.value for one in problem.left())
    due = None
    if problem.due is not None:
        due = moment_before(problem.makers, due=problem.due, free_min=share)
    model = build_model(problem, due)
    found = solve(model, effort=budget.effort / 4.0, seed=budget.seed, exact=False).found
    return (found, model) if found and not found.late else None


def simplified(problem: WorkProblem, names: Iterable[str]) -> WorkProblem:
    """Return the job with some operations done the simpler way.

    Parameters
    ----------
    problem : WorkProblem
        The job.
    names : iterable of str
        Operations that have a simpler way.

    Returns
    -------
    WorkProblem
        What must be earlier stays.

    Notes
    -----
    Only minutes, machines and setting change.

    References
    ----------
    ``definition``: the person's own simpler way.
    """
    chosen = set(names)
    return replace(
        problem,
        operations=tuple(
            replace(
                one,
                minutes=one.simpler.minutes,
                machines=one.simpler.machines,
                setting=one.simpler.setting,
            )
            if one.name in chosen and one.simpler
            else one
            for one in problem.operations
        ),
    )


def dropped(problem: WorkProblem, names: Iterable[str]) -> WorkProblem:
    """Return the job without some operations.

    Parameters
    ----------
    problem : WorkProblem
        The job.
    names : iterable of str
        Operations that are left out.

    Returns
    -------
    WorkProblem
        What came before a dropped one now comes before what followed it.

    Notes
    -----
    Waits behind a dropped operation are dropped with it.

    References
    ----------
    ``definition``: a partial order without some of its members.
    """
    gone = set(names)
    befores = {one.name: one.after for one in problem.operations}

    def reaching(after: After) -> list[After]:
        if after.name not in gone:
            return [after]
        return [one for earlier in befores[after.name] for one in reaching(earlier)]

    operations = tuple(
        replace(
            one, after=tuple({a.name: a for after in one.after for a in reaching(after)}.values())
        )
        for one in problem.operations
        if one.name not in gone
    )
    return replace(problem, operations=operations)


def _smallest(
    problem: WorkProblem, savings: dict[str, float], change: object, budget: Budget
) -> tuple[tuple[str, ...], Found, Model] | None:
    """Return the smallest set of operations whose change brings the work in on time."""
    assert callable(change)  # noqa: S101
    upwards = sorted(savings, key=lambda name: (savings[name], name))
    for name in upwards[:12]:
        done = _on_time(change(problem, [name]), budget)
        if done:
            return (name,), *done
    for count in range(2, len(upwards) + 1):
        names = upwards[-count:]
        done = _on_time(change(problem, names), budget)
        if done:
            return tuple(reversed(names)), *done
    return None


def _simplify(problem: WorkProblem, budget: Budget) -> WayOut | None:
    savings = {
        one.name: one.minutes.value - one.simpler.minutes.value
        for one in problem.left()
        if one.simpler and one.simpler.minutes.value < one.minutes.value
    }
    done = _smallest(problem, savings, simplified, budget)
    if done is None:
        return None
    names, found, model = done
    how = [one.simpler.words for one in problem.left() if one.name in names and one.simpler]
    minutes = sum(savings[name] for name in names)
    words = f"simplify: {'; '.join(how)} ({minutes:.0f} min less)"
    return WayOut("simplify", words, model.moment(found.end), minutes, names)


def _drop(problem: WorkProblem, budget: Budget) -> WayOut | None:
    savings = {one.name: one.minutes.value for one in problem.left() if one.may_drop}
    done = _smallest(problem, savings, dropped, budget)
    if done is None:
        return None
    names, found, model = done
    lost = [f"{one.name} ({one.may_drop})" for one in problem.left() if one.name in names]
    minutes = sum(savings[name] for name in names)
    words = f"leave out {'; '.join(lost)}: {minutes:.0f} min less"
    return WayOut("drop", words, model.moment(found.end), minutes, names)


def _helper(problem: WorkProblem, budget: Budget) -> WayOut | None:
    able = [one.name for one in problem.left() if one.helper]
    first = next((maker for maker in problem.makers if not maker.helper), None)
    if not able or first is None:
        return None
    to_come = [
        one
        for one in first.sessions
        if one.end > problem.start and (problem.due is None or one.begin < problem.due)
    ]
    for count in _doubling(len(to_come)):
        helper = Maker("a helper", tuple(to_come[:count]), helper=True)
        done = _on_time(replace(problem, makers=(*problem.makers, helper)), budget)
        if done is None:
            continue
        found, model = done
        number = len(problem.makers)
        left = problem.left()
        taken = tuple(left[step.op].name for step in found.steps if step.maker == number)
        minutes = sum(one.minutes.value for one in left if one.name in taken)
        listed = ", ".join(taken[:4]) + (" and more" if len(taken) > 4 else "")
        words = f"a helper for {minutes:.0f} min in the first {count} session{'s' * (count > 1)}: {listed}"
        return WayOut("helper", words, model.moment(found.end), minutes, taken)
    return None


def _doubling(most: int) -> list[int]:
    counts, count = [], 1
    while count < most:
        counts.append(count)
        count *= 2
    return [*counts, most] if most else []


def _main_maker(problem: WorkProblem) -> Maker | None:
    return next((one for one in problem.makers if not one.helper and one.sessions), None)


def _sessions(problem: WorkProblem, budget: Budget) -> WayOut | None:
    """Find out how many sessions more, on days that are free yet, would do."""
    maker = _main_maker(problem)
    if maker is None or problem.due is None:
        return None
    free = _free_days(maker, problem.start, problem.due)
    tried = [_fewest(problem, maker, free, budget), _fewest(problem, maker, free[::-1], budget)]
    fewest = min((one for one in tried if one), key=lambda one: len(one[0]), default=None)
    if fewest is None:
        return None
    more, found, model = fewest
    days = ", ".join(
        f"{one.begin:%a} {one.begin.day} {one.begin:%b}"
        for one in sorted(more, key=lambda one: one.begin)[:6]
    )
    minutes = sum(one.minutes for one in more)
    words = f"{len(more)} session{'s' * (len(more) > 1)} more for {maker.name}, {minutes:.0f} min: {days}"
    return WayOut("sessions", words, model.moment(found.end), minutes)


def _free_days(maker: Maker, start: datetime, due: datetime) -> list[Session]:
    """Return a session like the first one for every day on which there is none."""
    pattern = min(maker.sessions, key=lambda one: one.begin)
    taken = {one.begin.date() for one in maker.sessions}
    found = []
    for k in range((due - pattern.begin).days + 2):
        for step in {timedelta(days=k), timedelta(days=-k)}:
            one = Session(pattern.begin + step, min(pattern.end + step, due))
            if one.begin.date() not in taken and start <= one.begin < one.end:
                found.append(one)
    return sorted(found, key=lambda one: one.begin)


def _earlier(problem: WorkProblem, budget: Budget) -> WayOut | None:
    """Find out how many days earlier it would have had to begin."""
    maker = _main_maker(problem)
    if maker is None:
        return None
    pattern = min(maker.sessions, key=lambda one: one.begin)
    before = [
        Session(pattern.begin - timedelta(days=k), pattern.end - timedelta(days=k))
        for k in range(1, MOST_SESSIONS + 1)
    ]
    fewest = _fewest(problem, maker, before, budget)
    if fewest is None:
        return None
    more, found, model = fewest
    words = (
        f"begin {len(more)} day{'s' * (len(more) > 1)} earlier: as many sessions of"
        f" {pattern.minutes:.0f} min more for {maker.name}"
    )
    minutes = sum(one.minutes for one in more)
    return WayOut("earlier", words, model.moment(found.end), minutes)


def _fewest(
    problem: WorkProblem, maker: Maker, more: list[Session], budget: Budget
) -> tuple[list[Session], Found, Model] | None:
    """Return how many of more sessions, from the first on, bring the work in on time."""
    low, best = 0, None
    for high in _doubling(min(len(more), MOST_SESSIONS)):
        best = _with_sessions(problem, maker, more[:high], budget)
        if best:
            break
        low = high
    if best is None:
        return None
    while high - low > 1:
        middle = (low + high) // 2
        tried = _with_sessions(problem, maker, more[:middle], budget)
        low, high, best = (low, middle, tried) if tried else (middle, high, best)
    return more[:high], *best


def _with_sessions(
    problem: WorkProblem, maker: Maker, more: list[Session], budget: Budget
) -> tuple[Found, Model] | None:
    held = tuple(sorted((*maker.sessions, *more), key=lambda one: one.begin))
    makers = tuple(replace(one, sessions=held) if one == maker else one for one in problem.makers)
    start = min(problem.start, more[0].begin)
    return _on_time(replace(problem, start=start, makers=makers), budget)


def _later_day(problem: WorkProblem, plan: Plan, budget: Budget) -> WayOut | None:
    """Find the first day that can be kept, the sessions going on as they did."""
    open_ended = without_days(problem)
    model = build_model(open_ended, None)
    found = solve(model, effort=budget.effort / 4.0, seed=budget.seed, exact=False).found
    if found is None or found.late:
        return None
    end = model.moment(found.end)
    return WayOut(
        "later-day",
        f"another day: all is over on {end:%A %d %B %Y at %H:%M}, without margin",
        end,
        plan.margin_min,
    )


def without_days(problem: WorkProblem) -> WorkProblem:
    """Return the job with no day to keep and sessions that go on as they did.

    Parameters
    ----------
    problem : WorkProblem
        The job.

    Returns
    -------
    WorkProblem
        Appointments have become the earliest moment.

    Notes
    -----
    The sessions are repeated week after week.

    References
    ----------
    ``definition``: the job without its limits.
    """
    makers = tuple(replace(one, sessions=_going_on(one.sessions)) for one in problem.makers)
    return replace(problem, due=None, makers=makers, operations=tuple(_on_any_day(problem)))


def _on_any_day(problem: WorkProblem) -> list[Operation]:
    """Appointments become the earliest moment, and what must be over by then is let go."""
    return [
        replace(
            one,
            at=None,
            not_before=max(filter(None, (one.at, one.not_before)), default=None),
            by=None,
        )
        for one in problem.operations
    ]


def _going_on(sessions: tuple[Session, ...]) -> tuple[Session, ...]:
    """Repeat the sessions week after week."""
    if not sessions:
        return sessions
    first = min(one.begin for one in sessions)
    last = max(one.end for one in sessions)
    weeks = (last - first).days // 7 + 1
    found = list(sessions)
    for k in range(1, FAR_DAYS // (7 * weeks) + 1):
        step = timedelta(weeks=weeks * k)
        found += [Session(one.begin + step, one.end + step) for one in sessions]
        if len(found) > 200:
            break
    return tuple(found)
