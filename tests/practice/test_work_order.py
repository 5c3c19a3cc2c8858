"""The order of work as the trade has it: common practice, no source."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from samite.kernel.errors import UnknownNameError
from samite.work.construction import ClothWork, Construction, ExtraWork, PieceWork, SeamWork
from samite.work.generate import operations_of, rule
from samite.work.operation import Setting
from samite.work.problem import Machine, Maker, Session, WorkProblem
from samite.work.replay import check_plan
from samite.work.schedule import Budget, plan_work
from samite.work.setup import usual_change_overs

MONDAY = datetime.fromisoformat("2031-03-03T00:00")
SATIN = Setting("sharp 70", "polyester 27 red", "standard")
SKIRT = Construction(
    "skirt",
    (
        ClothWork("satin", "slippery", "low", SATIN, "polyester 18 red", shuns=("glitter", "fur")),
        ClothWork("sequin net", "sequins", "", SATIN, washed=False, leaves=("glitter",)),
    ),
    (
        PieceWork("panel", "satin", 4.0, count=6, hangs=True),
        PieceWork("band", "satin", 1.8, interfaced_m2=0.06),
        PieceWork("yoke", "sequin net", 2.0, count=2, curve_m=0.4),
    ),
    (
        SeamWork("panel seams", ("panel",), 4.5, SATIN),
        SeamWork("side seam", ("panel",), 0.9, SATIN, after=("panel seams",)),
        SeamWork("waist seam", ("panel", "band"), 0.7, SATIN, crosses=("panel seams", "side seam")),
        SeamWork("yoke seam", ("panel", "yoke"), 0.9, SATIN, crosses=("panel seams",), clear=True),
    ),
    (
        ExtraWork(
            "zip",
            "zip",
            ("panel",),
            setting=Setting("sharp 70", "polyester 27 red", "zip"),
            machines=("zigzag",),
            before=("side seam",),
        ),
        ExtraWork("hem", "hand-hem", ("panel",), length_m=4.0),
        ExtraWork("feathers", "trim", ("band",), may_drop="no feathers"),
    ),
    (("fitting", None),),
)
MACHINES = (
    Machine("sewing machine", "zigzag"), Machine("overlocker", "overlocker"), Machine("iron", "iron"),
)  # fmt: skip


def job(*constructions: Construction) -> WorkProblem:
    operations = tuple(one for made in constructions for one in operations_of(made))
    days = tuple(
        Session(MONDAY + timedelta(days=d, hours=9), MONDAY + timedelta(days=d, hours=13))
        for d in range(20)
    )
    return WorkProblem(
        "job", MONDAY, None, operations, MACHINES, (Maker("Ida", days),), usual_change_overs()
    )


@pytest.mark.parametrize(
    ("earlier", "later"),
    [
        ("pretreat satin", "swatches of satin"),
        ("swatches of satin", "lay and cut satin"),
        ("lay and cut satin", "mark satin"),
        ("mark satin", "overlock satin"),
        ("overlock satin", "sew panel seams"),
        ("interface band", "sew waist seam"),
        ("staystitch yoke", "sew yoke seam"),
        ("clear yoke seam", "sew yoke seam"),
        ("zip", "sew side seam"),
        ("press panel seams", "sew waist seam"),
        ("press side seam", "sew waist seam"),
        ("press waist seam", "sew yoke seam"),
        ("press waist seam", "fitting"),
        ("fitting", "hem"),
        ("hem", "feathers"),
        ("feathers", "finish"),
    ],
)
def test_what_comes_first_in_the_sewing_room(earlier: str, later: str) -> None:
    plan = plan_work(job(SKIRT), Budget(0.1))
    place = {line.operation.name: line for line in plan.lines}
    assert place[f"skirt: {earlier}"].end <= place[f"skirt: {later}"].work
    assert check_plan(plan.problem, plan.lines) == []


def test_bias_hangs_a_day_before_it_is_hemmed() -> None:
    plan = plan_work(job(SKIRT), Budget(0.1))
    place = {line.operation.name: line for line in plan.lines}
    hung = place["skirt: hem"].work - place["skirt: press waist seam"].end
    assert hung >= timedelta(hours=24)
    assert rule("hang-before-hem", "x").wait_min == 1440.0


def test_a_cloth_that_bears_no_iron_is_pressed_by_finger_and_its_neighbours_before() -> None:
    made = {one.name: one for one in operations_of(SKIRT)}
    assert made["skirt: press yoke seam"].machines == ()
    before = {one.name: one.reason for one in made["skirt: sew yoke seam"].after}
    assert "bears no iron" in before["skirt: press side seam"]


def test_glitter_comes_after_light_satin_and_helpers_take_what_needs_no_machine() -> None:
    plan = plan_work(job(SKIRT), Budget(0.1))
    made = {one.name: one for one in operations_of(SKIRT)}
    assert made["skirt: mark satin"].helper
    assert made["skirt: hem"].helper
    assert not made["skirt: sew waist seam"].helper
    cleaned = [one for line in plan.lines for one in line.changes if one.what == "clean"]
    assert len(cleaned) <= 1


def test_two_costumes_share_the_machines() -> None:
    other = replace(SKIRT, name="second skirt")
    both = plan_work(job(SKIRT, other), Budget(0.1))
    one = plan_work(job(SKIRT), Budget(0.1))
    assert check_plan(both.problem, both.lines) == []
    assert both.score.change_min < 2 * one.score.change_min


def test_a_piece_without_a_cloth_is_named() -> None:
    broken = replace(SKIRT, pieces=(PieceWork("panel", "satan", 4.0),))
    with pytest.raises(UnknownNameError, match="satan"):
        operations_of(broken)
