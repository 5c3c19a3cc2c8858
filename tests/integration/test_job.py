"""A costume job from its file to its folder: recomputed like from scratch, nothing lost."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from samite.services.job import read_job
from samite.services.job_edit import set_value
from samite.services.job_lays import Effort
from samite.services.kept_answers import KeptAnswers
from samite.services.make import MadeJob, make_job, make_json

TODAY = date(2031, 1, 5)
EFFORT = Effort(lay_seconds=0.0, work_effort=0.05)
"""No search, so that the same question has the same answer."""

START = "import sys; from samite.cli import main; main(sys.argv[1:])"
JOB = """\
format = "samite.project.v1"
title = "A lantern skirt"
due = 2031-02-02

[money]
budget = 60
rate = 18
thread = 3.2

[hours]
saturday = "10:00-16:00"

[person.mara]
group = "women"
measures = { stature = "168 cm", waist_girth = "70 cm" }

[cloth.lawn]
label = "100% cotton lawn, 140 cm, 90 g/m2"
price = "10/m"

[cloth.lining]
label = "100% acetate taffeta, 140 cm, 90 g/m2"
price = "6/m"

[costume.skirt]
person = "mara"
for = "lined, 40 wearings"

[costume.skirt.piece.skirt]
shape = "gored-skirt"
cloth = "lawn"
lining = "lining"
set = { length = "60 cm" }

[costume.skirt.piece.band]
shape = "waistband"
cloth = "lawn"

[costume.skirt.join.waist]
first = "skirt.waist"
second = "band.bottom"

[costume.skirt.fastening.side]
kind = "concealed-zip"
price = 2.4
at = "skirt.right"
"""


def made(text: str, known: KeptAnswers | None = None) -> MadeJob:
    return make_job(read_job(text, TODAY), known=known, effort=EFFORT)


def without_times(document: Any) -> Any:
    """Drop what tells how long it took."""
    if isinstance(document, dict):
        dropped = ("seconds", "computed")
        return {k: without_times(v) for k, v in document.items() if k not in dropped}
    return [without_times(one) for one in document] if isinstance(document, list) else document


@pytest.fixture(scope="module")
def known() -> KeptAnswers:
    answers = KeptAnswers()
    made(JOB, answers)
    return answers


CHANGES: dict[str, tuple[tuple[str, ...], str]] = {
    "price": (("cloth", "lawn", "price"), "23.40/m"),
    "stock": (("cloth", "lining", "on_hand"), "85 cm"),
    "due": (("due",), "2031-03-11"),
    "budget": (("money", "budget"), "31"),
    "zip": (("costume", "skirt", "fastening", "side", "price"), "4"),
    "length": (("costume", "skirt", "piece", "skirt", "set", "length"), "74 cm"),
    "waist": (("person", "mara", "measures", "waist_girth"), "83 cm"),
}
"""Where one thing is changed, and to what."""


def changed(name: str) -> str:
    return set_value(JOB, *CHANGES[name])


@pytest.mark.parametrize("name", CHANGES)
def test_a_change_gives_what_a_job_from_scratch_gives(
    name: str, known: KeptAnswers, heavy: Callable[[int], int]
) -> None:
    if heavy(10) < 10 and name not in ("price", "length"):
        pytest.skip("every change in the full run")
    text = changed(name)
    again, fresh = made(text, known), made(text)
    assert without_times(make_json(again)) == without_times(make_json(fresh))
    assert set(again.outcome.computed) < set(fresh.outcome.computed)


@pytest.mark.parametrize("name", ["price", "stock", "budget", "zip"])
def test_money_touches_neither_pieces_nor_lays_nor_cards(name: str, known: KeptAnswers) -> None:
    computed = made(changed(name), known).outcome.computed
    touched = {one.partition("/")[0] for one in computed}
    assert touched <= {"buy", "operations"}


def test_a_day_touches_the_work_alone(known: KeptAnswers) -> None:
    computed = made(set_value(JOB, ("due",), "2031-04-04"), known).outcome.computed
    assert set(computed) <= {"work", "buy", "operations"}


def test_a_bad_piece_takes_only_what_rests_on_it() -> None:
    text = JOB.replace('waist_girth = "70 cm"', 'waist_girth = "70 cm", hip_girth = "7 cm"')
    job = made(text)
    assert job.problems
    assert job.problems[0].line > 0
    assert job.all_of("card")


def test_what_is_bought_covers_what_is_laid(known: KeptAnswers) -> None:
    job = made(JOB, known)
    buy = job.answer("buy")
    lawn = next(line for line in buy["lines"] if line["what"].startswith("lawn"))
    laid = job.answer("lay/lawn")["lays"][0]["lay"]["length_mm"]
    assert laid <= lawn["needed"] * 1000.0 <= lawn["buy"] * 1000.0 + 1e-6
    assert buy["sum"]["gross"] == pytest.approx(
        sum(line["cost"] for line in buy["lines"] if line["cost"] is not None)
    )


def test_every_operation_stands_in_the_plan_after_what_it_waits_for(known: KeptAnswers) -> None:
    lines = made(JOB, known).answer("work")["plan"]["lines"]
    begun = {line["operation"]: line["begin"] for line in lines}
    ends = {line["operation"]: line["end"] for line in lines}
    assert any("press" in name for name in begun)
    assert any("hem" in name for name in begun)
    for line in lines:
        for earlier in line["after"]:
            assert ends[earlier["name"]] <= begun[line["operation"]]


def run(*words: str, folder: Path) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-c", START, *words]
    return subprocess.run(command, cwd=folder, capture_output=True, text=True, check=False)


def test_the_command_writes_what_it_can_and_lists_what_is_wrong(tmp_path: Path) -> None:
    wrong = JOB.replace('shape = "waistband"', 'shape = "waistband"\nsett = 1')
    (tmp_path / "job.toml").write_text(wrong, encoding="utf-8")
    words = ("make", "job.toml", "--json", "--today", "2031-01-05", "--seconds", "0")
    done = run(*words, folder=tmp_path)
    assert done.returncode == 2, done.stderr
    answer = json.loads(done.stdout)
    assert answer["format"] == "samite.make.v1"
    (problem,) = answer["problems"]
    assert problem["line"] == wrong.splitlines().index("sett = 1") + 1
    assert "sett" in problem["what"]
    assert (tmp_path / "job" / "packet.pdf").read_bytes().startswith(b"%PDF")
    assert (tmp_path / "job" / "buy.csv").read_text().startswith("kind,what,needed")


def test_the_buying_list_alone_and_no_file(tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_text(JOB, encoding="utf-8")
    words = ("buy", "job.toml", "--csv", "--today", "2031-01-05", "--seconds", "0")
    done = run(*words, folder=tmp_path)
    assert done.returncode == 0, done.stderr
    assert "concealed zip" in done.stdout
    missing = run("make", "nothing.toml", folder=tmp_path)
    assert missing.returncode == 2
    assert "nothing.toml" in missing.stderr


def test_work_is_planned_from_the_job(tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_text(JOB, encoding="utf-8")
    words = ("work", "job.toml", "--json", "--effort", "0.05", "--now", "2031-01-05 09:00")
    done = run(*words, folder=tmp_path)
    assert done.returncode == 0, done.stderr
    assert json.loads(done.stdout)["format"] == "samite.work.v1"
