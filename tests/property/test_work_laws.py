"""Laws that every order of work obeys."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from tests.oracles.work.jobs import EVIDENCE, minutes, moment, random_job

from samite.kernel.quantity import spread
from samite.work.check import check_work
from samite.work.minutes import learned_minutes
from samite.work.problem import Maker, Session, WorkProblem
from samite.work.replay import check_plan
from samite.work.schedule import Budget, plan_work, simple_plan

QUICK = Budget(0.05, 1)


def roomy(seed: int, count: int, makers: int) -> WorkProblem:
    job = random_job(seed, count, makers)
    days = tuple(Session(moment(d, 9), moment(d, 12)) for d in range(9))
    people = tuple(replace(one, sessions=days) for one in job.makers)
    loose = tuple(replace(one, by=None, at=None) for one in job.operations)
    return replace(job, makers=people, operations=loose, due=None)


@given(st.integers(0, 10**6), st.integers(8, 24), st.integers(1, 2))
def test_no_plan_breaks_an_order_a_session_or_a_machine(seed: int, count: int, makers: int) -> None:
    job = roomy(seed, count, makers)
    plan = plan_work(job, QUICK)
    assert plan.lines
    assert check_plan(job, plan.lines) == []
    assert plan.bound_min <= plan.score.there_min + 1e-9
    simple = simple_plan(job)
    assert simple is not None
    assert check_plan(job, simple) == []


@given(st.integers(0, 10**6), st.integers(4, 14))
def test_more_sessions_never_take_longer_at_the_bench(seed: int, count: int) -> None:
    job = roomy(seed, count, 1)
    plan = plan_work(job, QUICK)
    assume(plan.status == "optimal")
    first = job.makers[0]
    more = Maker(first.name, (*first.sessions, Session(moment(20, 9), moment(20, 12))))
    again = plan_work(replace(job, makers=(more,)), QUICK)
    assert again.bound_min <= plan.score.there_min + 1e-9


@given(
    st.floats(1, 100), st.floats(0.1, 1.5), st.lists(st.floats(0.2, 5.0), min_size=1, max_size=30)
)
def test_logged_times_draw_the_minutes_and_narrow_the_range(
    value: float, share: float, ratios: list[float]
) -> None:
    table = spread(value, share, "min", EVIDENCE)
    learned = learned_minutes(table, ratios=ratios)
    low, high = min(1.0, *ratios), max(1.0, *ratios)
    assert value * low * (1 - 1e-9) <= learned.value <= value * high * (1 + 1e-9)
    assert learned.high / learned.low < table.high / table.low
    many = learned_minutes(table, ratios=ratios * 40)
    middle = 1.0
    for ratio in ratios:
        middle *= ratio ** (1.0 / len(ratios))
    assert abs(many.value / value - middle) <= abs(learned.value / value - middle) + 1e-9


def test_without_a_log_the_table_stands() -> None:
    assert learned_minutes(minutes(5), ratios=[]) == minutes(5)


@given(st.integers(0, 10**6))
def test_a_job_with_a_circle_is_refused_by_name(seed: int) -> None:
    from samite.work.operation import After

    job = random_job(seed, 6)
    first = replace(job.operations[0], after=(After("op 5"),))
    last = replace(job.operations[5], after=(*job.operations[5].after, After("op 0")))
    broken = replace(job, operations=(first, *job.operations[1:5], last))
    faults = [one for one in check_work(broken) if "after itself" in one.what]
    assert faults
    assert "op 0" in faults[0].what
    with pytest.raises(ValueError, match="faults"):
        plan_work(broken, QUICK)
