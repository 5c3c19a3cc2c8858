"""An iron is cold at the begin of every session: worked by hand, and every order of small jobs.

Heating takes 2 min, turning the dial and going to another place half a minute each.
"""

from __future__ import annotations

import random
from dataclasses import replace

import numpy as np
import pytest
from tests.oracles.work.every_order import least_time
from tests.oracles.work.jobs import MACHINES, change_overs, minutes, moment

from samite.work.operation import After, Operation, Setting
from samite.work.plan import Line, came
from samite.work.problem import Finished, Machine, Maker, Session, WorkProblem
from samite.work.replay import check_plan
from samite.work.schedule import plan_work
from samite.work.setup import usual_change_overs, warm_up_minutes
from samite.work.solvers._model import build_model
from samite.work.solvers.beam import follow
from samite.work.solvers.plateau import walk_plateau

IRON = MACHINES[2]


def job(*operations: Operation, iron: Machine = IRON) -> WorkProblem:
    days = (Session(moment(0, 9), moment(0, 9.5)), Session(moment(1, 9), moment(1, 9.5)))
    return WorkProblem(
        "irons", moment(0, 8), moment(2, 0), operations, (MACHINES[0], iron),
        (Maker("Ida", days),), change_overs(), 0.0,
    )  # fmt: skip


def press(name: str, time: float, *after: str, heat: str = "low") -> Operation:
    told = tuple(After(one) for one in after)
    setting = Setting(heat=heat)
    return Operation(name, minutes(time), after=told, machines=("iron",), setting=setting)


def by_hand(name: str, time: float, *after: str) -> Operation:
    return Operation(name, minutes(time), after=tuple(After(one) for one in after))


def test_who_begins_with_pressing_comes_earlier() -> None:
    plan = plan_work(job(press("press", 20)))
    (line,) = plan.lines
    # On at 9:00, half a minute for the dial meanwhile: pressing from 9:02 to 9:22.
    assert (line.begin, line.work) == (moment(0, 9 + 1.5 / 60), moment(0, 9 + 2 / 60))
    assert came(plan.lines) == moment(0, 9)
    assert plan.score.there_min == 22.0
    assert (plan.score.change_min, plan.score.wait_min) == (0.5, 1.5)
    assert next(one.words for one in line.changes) == "iron on: 2 min before"


def test_an_iron_cools_over_the_break() -> None:
    plan = plan_work(job(press("one", 20), press("two", 20, "one")))
    # The second day the dial stands right, and the whole heating is waited for.
    assert plan.score.there_min == 20 + 2 + 20 + 2
    assert plan.score.changes == 1
    assert [line.waited_min for line in plan.lines] == [1.5, 2.0]
    assert [one.what for line in plan.lines for one in line.changes] == ["on", "heat", "on"]


def test_an_iron_heats_while_something_else_is_done() -> None:
    plan = plan_work(job(by_hand("pin", 5), press("press", 20)))
    assert [line.operation.name for line in plan.lines] == ["pin", "press"]
    assert plan.score.there_min == 5 + 0.5 + 0.5 + 20
    assert plan.score.wait_min == 0.0
    # What takes half a minute is not long enough: 2 min less 0.5 and the move and the dial.
    short = plan_work(job(by_hand("pin", 0.5), press("press", 20, "pin")))
    assert short.score.there_min == 2 + 20


def test_of_orders_with_like_change_overs_the_one_that_waits_least_is_found() -> None:
    model = build_model(job(by_hand("pin", 5), press("press", 20)), None)
    order = ((1, 0), (0, 0))
    begun = follow(model, order, width=4)
    assert begun is not None
    assert begun.cost == 2 * (2 + 20 + 0.5 + 5)
    best = walk_plateau(
        model, order, begun, least_cost=0, tries=40, plans=10, generator=np.random.default_rng(1)
    )
    assert best.cost == 2 * (5 + 0.5 + 0.5 + 20)
    assert [step.op for step in best.steps] == [0, 1]


def test_who_presses_at_once_is_told() -> None:
    operation = press("press", 20)
    cold = Line(
        operation, "Ida", "iron", moment(0, 9), moment(0, 9 + 0.5 / 60), moment(0, 9 + 20.5 / 60), 0
    )
    assert check_plan(job(operation), [cold]) == ["the iron is still cold for press"]


def test_an_iron_that_is_on_stays_on() -> None:
    """Replanned within a session in which it was used; not in the next."""
    whole = job(
        press("one", 5), press("two", 5, "one"), iron=replace(IRON, now=Setting(heat="low"))
    )
    done = (Finished("one", moment(0, 9.2), 5.0, "iron"),)
    on = plan_work(replace(whole, start=moment(0, 9.25), finished=done))
    assert on.score.there_min == 5.0
    later = plan_work(replace(whole, start=moment(0, 12), finished=done))
    assert later.score.there_min == 5.0 + 2.0


def test_heating_is_rounded_up_to_half_minutes() -> None:
    heating = usual_change_overs().of("heating")
    assert heating <= warm_up_minutes(usual_change_overs()) < heating + 0.5


@pytest.mark.parametrize("seed", range(8))
def test_no_order_of_a_small_job_takes_less(seed: int) -> None:
    generator = random.Random(seed)  # noqa: S311
    operations = []
    for number in range(4 + seed % 3):
        after = [f"op {k}" for k in range(number) if generator.random() < 1.2 / number]
        time = generator.randrange(1, 12)
        make = by_hand if generator.random() < 0.4 else press
        operations.append(make(f"op {number}", time, *after))
        if make is press:
            setting = Setting(heat=generator.choice(("low", "high")))
            operations[-1] = replace(operations[-1], setting=setting)
    small = job(*operations)
    plan, best = plan_work(small), least_time(small)
    assert best is not None
    assert check_plan(small, plan.lines) == []
    assert plan.score.there_min == pytest.approx(best)
    assert plan.bound_min <= best + 1e-9
    assert plan.status == "optimal"
