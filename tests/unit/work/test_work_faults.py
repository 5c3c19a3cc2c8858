"""Faults of a job of work are named, all at once; when it cannot be done, it says how it could."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

import pytest
from tests.oracles.work.jobs import MACHINES, change_overs, minutes, moment

from samite.kernel.errors import InputError
from samite.services.work import Tick, plan_file, tick_from
from samite.services.work_jobs import example_job
from samite.work.check import check_work
from samite.work.operation import After, Operation, Setting, Simpler
from samite.work.problem import Finished, Machine, Maker, Session, WorkProblem
from samite.work.progress import learned, with_progress
from samite.work.replay import check_plan
from samite.work.schedule import Budget, plan_work

QUICK = Budget(0.1, 1)
NOW = datetime.fromisoformat("2031-10-06T16:00")


def job(*operations: Operation, days: int = 3, due: datetime | None = None) -> WorkProblem:
    sessions = tuple(Session(moment(d, 9), moment(d, 10)) for d in range(days))
    return WorkProblem(
        "job", moment(0, 8), due, operations, MACHINES, (Maker("Ida", sessions),), change_overs(), 0.0
    )  # fmt: skip


def test_everything_wrong_is_named_at_once() -> None:
    broken = replace(
        job(
            Operation("cut", minutes(5), after=(After("press"),)),
            Operation("sew", minutes(5), after=(After("cut"),)),
            Operation("press", minutes(5), after=(After("sew"),)),
            Operation("felt", minutes(5), machines=("felting machine",)),
            due=moment(-1, 0),
        ),
        makers=(
            Maker(
                "Ida", (Session(moment(0, 10), moment(0, 9)), Session(moment(1, 9), moment(1, 10)))
            ),
        ),
    )
    told = [f"{one.where}: {one.what}" for one in check_work(broken)]
    assert any("cut after press after sew after cut" in one for one in told)
    assert any("felt: no machine can do it" in one and "felting machine" in one for one in told)
    assert any("Ida: a session ends" in one and "before it begins" in one for one in told)
    assert any("due: the day" in one and "past" in one for one in told)
    assert len(told) == 4


def test_two_circles_are_both_named() -> None:
    circles = job(
        Operation("a", minutes(1), after=(After("b"),)),
        Operation("b", minutes(1), after=(After("a"),)),
        Operation("c", minutes(1), after=(After("d"), After("a"))),
        Operation("d", minutes(1), after=(After("c"),)),
    )
    told = [one.what for one in check_work(circles)]
    assert len(told) == 2
    assert "a after b after a" in told[0]
    assert "c after d after c" in told[1]


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (('heat = "medium"', 'heat = "scorching"'), "no iron has the heat"),
        (('rule = "cut-before-mark"', 'rule = "cut-before-marc"'), "no rule 'cut-before-marc'"),
        (('leaves = "dark-fluff"', 'leaves = "soot"'), "nothing is known of 'soot'"),
        (("length_m = 14", "length_m = -1"), "impossible"),
        (('element = "hand-hem"', 'element = "hand-hen"'), "no minutes for hand-hen"),
        (('due = "2031-10-25 12:00"', 'due = "soon"'), "no moment"),
        (('at = "2031-10-18 14:00"', 'at = "2031-10-19 14:00"'), "nobody is there"),
        (("helper = true", 'helper = "yes"'), "neither true nor false"),
        (('kind = "zigzag"', 'kind = "kettle"'), "no machine can do it"),
        (('wait = "2 h"', 'wait = "2 miles"'), "wait"),
        (("pieces = 5", "piecs = 5"), "means nothing here"),
        (('format = "samite.work-problem.v1"', 'format = "v2"'), "format"),
        (("[[machine]]", "[[machine]"), "cannot be read"),
    ],
)
def test_a_slip_in_the_file_is_named(change: tuple[str, str], words: str) -> None:
    with pytest.raises(InputError) as caught:
        plan_file(example_job().replace(*change, 1), NOW, budget=QUICK)
    assert words in f"{caught.value.message} {caught.value.where} {caught.value.hint}"


@pytest.mark.parametrize(
    "text", ["", "{}", "[]", "{", "format = 3", "\x00", "operation = 4", '{"operation": [1]}']
)
def test_what_is_no_job_is_refused(text: str) -> None:
    with pytest.raises(InputError):
        plan_file(text, NOW)


def test_too_much_work_says_so_with_ways_out() -> None:
    sew = {"machines": ("lockstitch",), "setting": Setting(thread="black")}
    late = job(
        Operation("cut", minutes(40), helper=True),
        Operation("sew", minutes(50), after=(After("cut"),), **sew),
        Operation(
            "hem",
            minutes(55),
            after=(After("sew"),),
            simpler=Simpler("hem it by machine", minutes(10), **sew),
        ),
        Operation("fringe", minutes(45), after=(After("sew"),), may_drop="no fringe", helper=True),
        days=3,
        due=moment(4, 0),
    )
    plan = plan_work(late, QUICK)
    assert plan.status == "infeasible"
    assert not plan.on_time
    assert "196 min at least, the sessions hold 180" in plan.why
    assert check_plan(replace(late, makers=(_week(),)), plan.lines) == []
    kinds = {one.kind: one for one in plan.ways_out}
    assert set(kinds) == {"simplify", "drop", "helper", "sessions", "earlier", "later-day"}
    assert "hem it by machine" in kinds["simplify"].words
    assert kinds["drop"].operations == ("fringe",)
    assert all(one.finish <= moment(4, 0) for kind, one in kinds.items() if kind != "later-day")
    assert kinds["later-day"].finish > moment(4, 0)


def _week() -> Maker:
    return Maker("Ida", tuple(Session(moment(d, 9), moment(d, 10)) for d in range(30)))


def test_a_chain_of_waits_that_is_too_long_is_named() -> None:
    waits = job(
        Operation("glue", minutes(5)),
        Operation("sew", minutes(5), after=(After("glue", "it dries", 3 * 1440),)),
        due=moment(2, 12),
    )
    plan = plan_work(waits, QUICK)
    assert plan.status == "infeasible"
    assert "glue" in plan.why
    assert "sew" in plan.why


def test_the_margin_is_kept_if_it_can_be() -> None:
    spread = [Operation(f"op {k}", minutes(20)) for k in range(6)]
    loose = replace(job(*spread, days=4, due=moment(4, 0)), margin_share=0.5)
    plan = plan_work(loose, QUICK)
    assert plan.free_min >= plan.margin_min == 60.0
    tight = replace(loose, margin_share=1.1)
    squeezed = plan_work(tight, QUICK)
    assert squeezed.on_time
    assert "margin" in squeezed.why
    assert squeezed.ways_out


def test_fur_and_glitter_go_last_and_are_else_cleaned_off() -> None:
    operations = (
        Operation("cut the fur", minutes(10), leaves=("fur",)),
        Operation("sew the satin", minutes(10), shuns=("fur",)),
    )
    plan = plan_work(job(*operations), QUICK)
    assert [line.operation.name for line in plan.lines] == ["sew the satin", "cut the fur"]
    assert plan.score.change_min == 0.0
    forced = plan_work(
        job(operations[0], replace(operations[1], after=(After("cut the fur"),))), QUICK
    )
    assert [one.what for one in forced.lines[1].changes] == ["clean"]
    assert "mask" in forced.lines[1].changes[0].words


def test_a_hem_waits_till_the_skirt_has_hung() -> None:
    hung = job(
        Operation("close the skirt", minutes(10)),
        Operation("hem", minutes(10), after=(After("close the skirt", "it drops", 1440),)),
    )
    plan = plan_work(hung, QUICK)
    assert plan.lines[1].begin.date() > plan.lines[0].end.date()
    assert plan.score.wait_min == 0.0


def test_two_makers_never_use_one_machine_at_once() -> None:
    sew = [
        Operation(
            f"sew {k}", minutes(25), machines=("lockstitch",), setting=Setting(thread="black")
        )
        for k in range(4)
    ]
    pair = replace(job(*sew), makers=(_week(), replace(_week(), name="Ove")))
    plan = plan_work(pair, QUICK)
    assert check_plan(pair, plan.lines) == []


def test_what_is_done_stays_done_and_the_rest_is_planned_around_it() -> None:
    sew = {"machines": ("lockstitch",), "kind": "sew"}
    work = job(
        Operation("sew black", minutes(10), setting=Setting(thread="black"), **sew),
        Operation("sew white", minutes(10), setting=Setting(thread="white"), **sew),
        Operation("more black", minutes(10), setting=Setting(thread="black"), **sew),
    )
    done = (Finished("sew white", moment(0, 9.5), 20.0),)
    problem = with_progress(replace(work, start=moment(0, 9.5)), done)
    assert next(one for one in problem.machines if one.kind == "lockstitch").now.thread == "white"
    plan = plan_work(problem, QUICK)
    assert {line.operation.name for line in plan.lines} == {"sew black", "more black"}
    assert all(line.begin >= moment(0, 9.5) for line in plan.lines)
    only = learned(work, done)
    assert (only[0].kind, only[0].times) == ("sew", 1)
    # One time twice as long against a table that counts for three: a quarter of the way, on a log scale.
    assert only[0].factor == pytest.approx(2**0.25)
    table = replace(work.operations[0], minutes=replace(minutes(10), low=7.0, high=14.0))
    wide = replace(work, operations=(table, *work.operations[1:]))
    assert with_progress(wide, done).operations[0].minutes.value == pytest.approx(10 * 2**0.25)


def test_ticks_are_read_with_and_without_minutes() -> None:
    assert tick_from("cut the satin=25", NOW) == Tick("cut the satin", NOW, 25.0)
    assert tick_from("cut the satin", NOW) == Tick("cut the satin", NOW)
    with pytest.raises(InputError):
        tick_from("cut the satin=soon", NOW)


def test_a_second_machine_of_a_kind_is_used_where_that_saves() -> None:
    sew = [
        Operation(f"{colour} {k}", minutes(5), machines=("lockstitch",), setting=Setting(thread=colour),
                  after=(After(f"{other} {k - 1}"),) if k else ())
        for k in range(3)
        for colour, other in (("black", "white"), ("white", "black"))
    ]  # fmt: skip
    one = job(*sew)
    two = replace(one, machines=(*MACHINES, Machine("old machine", "lockstitch")))
    assert plan_work(two, QUICK).score.change_min < plan_work(one, QUICK).score.change_min
