"""What a change of a job touches: the keys of what rests on it, and of nothing else."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
from tests.swatches import plain_swatch

from samite.garment.stock import NeedlePacket, Remnant
from samite.project.graph import task_keys
from samite.project.model import Drawer
from samite.services.job import Job, read_job
from samite.services.job_edit import set_value
from samite.services.job_lays import Effort
from samite.services.job_store import demo_job_text
from samite.services.job_tasks import job_tasks
from samite.services.past import Past

TODAY = date(2031, 1, 5)
TEXT = demo_job_text()


def keys_of(job: Job) -> dict[str, str]:
    return task_keys(job_tasks(job.project, Effort(), TODAY, job.pasts))


def changed(job: Job) -> set[str]:
    before = keys_of(read_job(TEXT, TODAY))
    after = keys_of(job)
    return {name for name, key in after.items() if before.get(name) != key}


def edited(*change: tuple[tuple[str, ...], str]) -> Job:
    text = TEXT
    for path, value in change:
        text = set_value(text, path, value)
    return read_job(text, TODAY)


def kinds(names: set[str]) -> set[str]:
    return {name.partition("/")[0] for name in names}


@pytest.mark.parametrize(
    ("path", "value", "touched"),
    [
        (("cloth", "snow", "price"), "11/m", {"buy"}),
        (("cloth", "lining", "on_hand"), "90 cm", {"buy"}),
        (("money", "budget"), "99", {"buy"}),
        (("money", "rate"), "22", {"buy"}),
        (("due",), "2031-02-09", {"work"}),
        (("begin",), "2031-01-07", {"work"}),
    ],
)
def test_money_stock_and_days_touch_their_own_list_alone(
    path: tuple[str, ...], value: str, touched: set[str]
) -> None:
    assert changed(edited((path, value))) == touched


def test_the_price_of_a_candidate_touches_its_comparison_but_none_of_its_lays() -> None:
    touched = changed(edited((("cloth", "moss", "price"), "11/m")))
    assert kinds(touched) == {"buy", "compare"}


def test_what_is_kept_touches_the_buying_list_alone() -> None:
    job = read_job(TEXT, TODAY)
    square = ((0.0, 0.0), (900.0, 0.0), (900.0, 900.0), (0.0, 900.0))
    for drawer in (
        Drawer((Remnant("any", square),)),
        Drawer(needles=(NeedlePacket("sharp", 70, 1),)),
    ):
        held = replace(job, project=replace(job.project, drawer=drawer))
        assert changed(held) == {"buy"}
        off = replace(held, project=replace(held.project, use_stock=False))
        without = replace(job, project=replace(job.project, use_stock=False))
        assert keys_of(off) == keys_of(without)


def test_a_measure_touches_the_pieces_of_its_wearer_but_no_card() -> None:
    touched = changed(edited((("person", "orrin", "measures", "stature"), "181 cm")))
    assert not kinds(touched) & {"card", "pair", "cloth"}
    pieces = {name for name in touched if name.startswith("piece/")}
    assert pieces == {"piece/moon/cloak", "piece/moon/sash"}
    assert {"lay/night", "lay/ember", "lay/lining", "operations", "work", "buy"} <= touched
    assert not {"lay/frost", "lay/river", "labels/sprite", "seams/frost-queen"} & touched


def test_a_cloth_touches_what_is_made_of_it_alone() -> None:
    label = "93% polyester 7% elastane velvet knit, 150 cm, 300 g/m2, 50% stretch across"
    touched = changed(edited((("cloth", "frost", "label"), label)))
    assert {"cloth/frost", "card/frost/frost-queen", "lay/frost"} <= touched
    assert {name for name in touched if name.startswith("card/")} == {"card/frost/frost-queen"}
    assert not {"lay/night", "pair/moon/night+night", "labels/moon"} & touched
    assert "pair/frost-queen/snow+snow" not in touched


def test_a_seam_touches_its_piece_and_what_rests_on_that() -> None:
    path = ("costume", "frost-queen", "piece", "overskirt", "seams", "seam")
    touched = changed(edited((path, "flat-felled")))
    assert {name for name in touched if name.startswith("piece/")} == {
        "piece/frost-queen/overskirt"
    }
    assert "lay/frost" not in touched
    assert not kinds(touched) & {"card", "pair"}
    joined = changed(edited((("costume", "frost-queen", "join", "bodice", "after"), "waist")))
    assert joined == {"seams/frost-queen", "pairs/frost-queen", "operations", "work", "buy"}


def test_a_pressed_swatch_touches_the_cards_of_its_cloth_alone() -> None:
    job = read_job(TEXT, TODAY)
    label = next(cloth.label for cloth in job.project.cloths if cloth.name == "night")
    pressed = plain_swatch()
    taught = replace(job, pasts={label: Past((pressed,))})
    assert changed(taught) == {
        "card/night/moon",
        "trial/moon/night/card",
        "candidate/moon/night",
        "compare/moon",
    }
