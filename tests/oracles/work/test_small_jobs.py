"""Small jobs against every order of them, and jobs whose best plan is known by construction."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from tests.oracles.work.every_order import least_time
from tests.oracles.work.jobs import MINUTES, change_overs, minutes, moment, random_job

from samite.work.calendar import moment_before, session_minutes
from samite.work.check import check_work
from samite.work.operation import After, Operation, Setting
from samite.work.problem import Machine, Maker, Session, WorkProblem
from samite.work.replay import check_plan, score, with_changes
from samite.work.schedule import Budget, plan_work, simple_plan
from samite.work.setup import change_over_minutes, heat_lag_minutes

SIZES = (3, 4, 5, 6, 4, 5, 7, 8)


def agrees(job: WorkProblem) -> None:
    best = least_time(job)
    plan = plan_work(job)
    if best is None:
        assert plan.status == "infeasible" or not plan.lines or not plan.on_time
        return
    assert plan.on_time
    assert check_plan(job, plan.lines) == []
    assert score(plan.lines) == plan.score
    assert with_changes(job, plan.lines) == plan.lines
    assert plan.score.there_min == pytest.approx(best)
    assert plan.bound_min <= best + 1e-9
    assert plan.status == "optimal"
    simple = simple_plan(job)
    assert simple is None or score(simple).there_min >= best - 1e-9


def test_small_jobs_of_one_maker_take_as_little_as_the_best_of_all_orders(
    heavy: Callable[[int], int],
) -> None:
    tried = 0
    for seed in range(heavy(80)):
        job = random_job(seed, SIZES[seed % len(SIZES)])
        if not check_work(job):
            agrees(job)
            tried += 1
    assert tried > 6


def test_small_jobs_of_two_makers_take_as_little_as_the_best_of_all_orders(
    heavy: Callable[[int], int],
) -> None:
    for seed in range(heavy(40)):
        job = random_job(seed, SIZES[seed % 3], makers=2)
        if not check_work(job):
            agrees(job)


def ladder(colours: int, rungs: int, *, crossed: bool) -> WorkProblem:
    """Garments, each sewn and pressed in turn; all rungs can be done together, or none can.

    Every garment has a chain sew, press, sew, press ... With all in one thread, rung by rung is
    best: `rungs` times to the machine and to the iron, and one thread. With a thread of its own
    for every garment, changing the thread costs more than all the moves of a garment: garment by
    garment is best.
    """
    operations = []
    for garment in range(colours):
        thread = f"colour {garment if crossed else 0}"
        before: tuple[After, ...] = ()
        for rung in range(rungs):
            sew, press = f"sew {garment} {rung}", f"press {garment} {rung}"
            operations += [
                Operation(
                    sew,
                    minutes(4),
                    "sew",
                    after=before,
                    machines=("lockstitch",),
                    setting=Setting(thread=thread),
                ),
                Operation(
                    press,
                    minutes(2),
                    "press",
                    after=(After(sew),),
                    machines=("iron",),
                    setting=Setting(heat="low"),
                ),
            ]
            before = (After(press),)
    person = Maker("Ida", tuple(Session(moment(d, 9), moment(d, 13)) for d in range(6)))
    machines = (Machine("sewing machine", "lockstitch"), Machine("iron", "iron"))
    return WorkProblem(
        "ladder", moment(0, 8), None, tuple(operations), machines, (person,), change_overs(), 0.0
    )


@pytest.mark.parametrize(("garments", "rungs"), [(3, 4), (5, 6), (8, 10)])
def test_like_garments_go_rung_by_rung(garments: int, rungs: int) -> None:
    job = ladder(garments, rungs, crossed=False)
    thread = MINUTES["thread"] + MINUTES["tension"]
    known = thread + MINUTES["dial"] + (2 * rungs - 1) * MINUTES["move"]
    plan = plan_work(job)
    assert plan.status == "optimal"
    assert plan.score.change_min == pytest.approx(known)
    assert plan.score.wait_min == 0.0


@pytest.mark.parametrize(("garments", "rungs"), [(2, 4), (4, 4), (5, 5)])
def test_garments_in_their_own_threads_go_one_by_one(garments: int, rungs: int) -> None:
    """A thread costs five minutes and all moves of a garment together less: none is set twice."""
    job = ladder(garments, rungs, crossed=True)
    thread = MINUTES["thread"] + MINUTES["tension"]
    moves = garments * (2 * rungs - 1) + (garments - 1)
    # Between garments the iron of one and the first seam of the next lie apart: one move each; the
    # change of thread may fall into one visit to the machine, which saves two moves.
    known = garments * thread + MINUTES["dial"] + MINUTES["move"] * (moves - 2 * (garments - 1))
    plan = plan_work(job)
    assert plan.status == "optimal"
    assert plan.score.change_min == pytest.approx(known)


def test_an_iron_goes_from_cool_to_hot() -> None:
    """Heating takes 2 min and cooling 14, so three pressings without other work go upwards."""
    heats = ("high", "low", "medium")
    operations = tuple(
        Operation(f"press {heat}", minutes(5), machines=("iron",), setting=Setting(heat=heat))
        for heat in heats
    )
    person = Maker("Ida", (Session(moment(0, 9), moment(0, 11)),))
    job = WorkProblem(
        "press",
        moment(0, 8),
        None,
        operations,
        (Machine("iron", "iron"),),
        (person,),
        change_overs(),
        0.0,
    )
    plan = plan_work(job)
    assert [line.operation.setting.heat for line in plan.lines] == ["low", "medium", "high"]
    # Each turn takes half a minute by hand; three waits of the rest of two minutes, the first for
    # an iron that is cold.
    assert plan.score.there_min == pytest.approx(3 * 5 + 3 * 0.5 + 3 * 1.5)
    two = replace(job, machines=(*job.machines, Machine("small iron", "iron")))
    assert plan_work(two).score.there_min <= plan.score.there_min


def test_change_overs_are_those_of_the_settings() -> None:
    change = change_overs()
    old, new = Setting("sharp 70", "black", "standard"), Setting("stretch 75", "white", "zip")
    assert change_over_minutes(old, old, change) == 0.0
    assert change_over_minutes(old, new, change) == 1 + 5 + 1
    assert change_over_minutes(old, Setting(thread="white"), change) == 5
    assert heat_lag_minutes("low", "high", change) == 2
    assert heat_lag_minutes("high", "low", change) == 14
    assert heat_lag_minutes("high", "", change) == 0


def test_the_margin_is_time_of_sessions() -> None:
    people = [
        Maker("Ida", (Session(moment(0, 9), moment(0, 11)), Session(moment(1, 9), moment(1, 11)))),
        Maker("Ove", (Session(moment(1, 10), moment(1, 12)),)),
    ]
    due = moment(1, 12)
    # Backwards: an hour of one, an hour of two, an hour of one.
    assert moment_before(people, due=due, free_min=60) == moment(1, 11)
    assert moment_before(people, due=due, free_min=120) == moment(1, 10.5)
    assert moment_before(people, due=due, free_min=240) == moment(1, 9)
    assert moment_before(people, due=due, free_min=300) == moment(0, 10)
    sessions = [one for person in people for one in person.sessions]
    for free in (0.0, 60.0, 200.0, 300.0):
        since = moment_before(people, due=due, free_min=free)
        assert session_minutes(sessions, since=since, until=due) == pytest.approx(free)


def test_the_same_budget_gives_the_same_plan() -> None:
    job = random_job(3, 7)
    assert plan_work(job, Budget(0.5, 7)) == plan_work(job, Budget(0.5, 7))
