"""A costume job from its file to its folder: recomputed like from scratch, nothing lost."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from tests.swatches import plain_swatch

from samite.garment.stock import Remnant
from samite.project.model import Drawer
from samite.services.job import Job, read_job
from samite.services.job_edit import set_value
from samite.services.job_lays import Effort
from samite.services.kept_answers import KeptAnswers
from samite.services.make import MadeJob, make_job, make_json
from samite.services.past import Past

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
    "cloth": (("cloth", "lawn", "label"), "100% cotton poplin, 150 cm, 115 g/m2"),
    "seam": (("costume", "skirt", "piece", "skirt", "seams", "seam"), "french"),
    "hours": (("hours", "saturday"), "09:00-12:00"),
}
"""Where one thing is changed, and to what."""


LAWN = "100% cotton lawn, 140 cm, 90 g/m2"
KEPT = Drawer((Remnant(LAWN, ((0.0, 0.0), (1400.0, 0.0), (1400.0, 1400.0), (0.0, 1400.0))),))


def changed(name: str) -> str:
    return set_value(JOB, *CHANGES[name])


def changed_job(name: str) -> Job:
    """Return the job with one thing changed, in its file or in what the store holds."""
    if name == "drawer":
        return read_job(JOB, TODAY, drawer=KEPT)
    if name == "swatch":
        return replace(read_job(JOB, TODAY), pasts={LAWN: Past((plain_swatch(),))})
    return read_job(changed(name), TODAY)


@pytest.mark.parametrize("name", [*CHANGES, "drawer", "swatch"])
def test_a_change_gives_what_a_job_from_scratch_gives(
    name: str, known: KeptAnswers, heavy: Callable[[int], int]
) -> None:
    if heavy(10) < 10 and name not in ("price", "length"):
        pytest.skip("every change in the full run")
    job = changed_job(name)
    again, fresh = make_job(job, known=known, effort=EFFORT), make_job(job, effort=EFFORT)
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


def test_stock_that_is_kept_is_bought_less_and_can_be_left_out(known: KeptAnswers) -> None:
    def lawn(text: str, drawer: Drawer) -> dict[str, Any]:
        made = make_job(read_job(text, TODAY, drawer=drawer), known=known, effort=EFFORT)
        lines: list[dict[str, Any]] = made.answer("buy")["lines"]
        return next(line for line in lines if line["what"].startswith("lawn"))

    without, with_it = lawn(JOB, Drawer()), lawn(JOB, KEPT)
    assert with_it["needed"] == without["needed"]
    assert with_it["buy"] < without["buy"]
    assert with_it["stock"].startswith("have 1.40 m in stock")
    off = lawn(JOB.replace("title =", "stock = false\ntitle ="), KEPT)
    assert off["buy"] == without["buy"]
    # What the file says is on hand may be the same remnant: the larger counts, not the sum.
    both = lawn(JOB.replace('price = "10/m"', 'price = "10/m"\non_hand = "20 cm"'), KEPT)
    assert both["buy"] == with_it["buy"]


def test_the_list_is_told_in_yards(known: KeptAnswers) -> None:
    job = read_job(JOB, TODAY, units="imperial")
    buy = make_job(job, known=known, effort=EFFORT, wanted=("buy",)).answer("buy")
    assert buy["units"] == "imperial"
    for line in buy["lines"]:
        if line["unit"] == "m":
            assert line["amount"].endswith(" yd")
            # Shops cut by the eighth of a yard, 114.3 mm.
            eighths = line["buy"] / 0.1143  # told to the millimetre
            assert eighths == pytest.approx(round(eighths), abs=0.01)


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


PLAIN = JOB.replace('lining = "lining"\n', "")
"""Without lining, for what a command says and not what it computes."""


def test_the_command_writes_what_it_can_and_lists_what_is_wrong(tmp_path: Path) -> None:
    wrong = PLAIN.replace('shape = "waistband"', 'shape = "waistband"\nsett = 1')
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
    (tmp_path / "job.toml").write_text(PLAIN, encoding="utf-8")
    words = ("buy", "job.toml", "--csv", "--today", "2031-01-05", "--seconds", "0")
    done = run(*words, folder=tmp_path)
    assert done.returncode == 0, done.stderr
    assert "concealed zip" in done.stdout
    missing = run("make", "nothing.toml", folder=tmp_path)
    assert missing.returncode == 2
    assert "nothing.toml" in missing.stderr


def test_work_is_planned_from_the_job(tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_text(PLAIN, encoding="utf-8")
    words = ("work", "job.toml", "--json", "--effort", "0.05", "--now", "2031-01-05 09:00")
    done = run(*words, folder=tmp_path)
    assert done.returncode == 0, done.stderr
    assert json.loads(done.stdout)["format"] == "samite.work.v1"
