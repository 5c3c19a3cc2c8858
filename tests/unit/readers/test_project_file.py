"""The file of a costume job: what is read, and everything that is wrong told at once."""

from __future__ import annotations

from datetime import date, time

import pytest

from samite.readers.project_file import read_project
from samite.services.job import read_job

TODAY = date(2031, 1, 5)
WHOLE = """\
format = "samite.project.v1"
title = "Lanterns"
due = 2031-02-02

[money]
budget = 100
tax = "20 %"

[hours]
tuesday = "19:00-21:30"

[person.mara]
group = "women"
measures = { stature = "168 cm", arm_length.left = "60 cm" }

[cloth.night]
label = "100% cotton lawn, 140 cm, 90 g/m2"
price = "9.144/yd"
on_hand = "1 yd"

[costume.moon]
person = "mara"

[costume.moon.piece.skirt]
shape = "circle-skirt"
cloth = "night"
set = { length = "60 cm" }

[costume.moon.piece.band]
shape = "waistband"
cloth = "night"

[costume.moon.join.waist]
first = "skirt.waist"
second = "band.bottom"
"""


def test_a_whole_file_is_read_without_a_word() -> None:
    job = read_job(WHOLE, TODAY)
    assert job.problems == ()
    project = job.project
    assert project.due == date(2031, 2, 2)
    assert project.purse.tax_percent == 20.0
    assert project.hours.sessions == {"tuesday": (time(19, 0), time(21, 30))}
    assert project.people[0].measures == {"stature": "168 cm", "arm_length.left": "60 cm"}
    # An international yard is 0.9144 m, exactly.
    assert project.cloths[0].price_per_m == pytest.approx(10.0)
    assert project.cloths[0].on_hand_mm == pytest.approx(914.4)
    assert project.costumes[0].joins[0].first == ("skirt", "waist")


@pytest.mark.parametrize(
    ("old", "new", "where", "what"),
    [
        ("title", "titel", "titel", "means nothing here"),
        ('cloth = "night"\nset', 'cloth = "nigth"\nset', "cloth", "no cloth 'nigth'"),
        ('cloth = "night"\nset', "set", "piece.skirt", "has no cloth"),
        ("circle-skirt", "circle-skrit", "shape", "circle-skrit"),
        ("{ length", "{ lenght", "set.lenght", "no parameter of circle-skirt"),
        ('person = "mara"', 'person = "mira"', "costume.moon.person", "no person 'mira'"),
        ('first = "skirt.waist"', 'first = "skirt"', "first", "no edge of a piece"),
        ('first = "skirt.waist"', 'first = "shirt.waist"', "first", "no piece 'shirt'"),
        ("due = 2031-02-02", "due = 2030-02-02", "due", "past"),
        ("due = 2031-02-02", 'due = "soon"', "due", "no day"),
        ('"19:00-21:30"', '"21:30-19:00"', "hours.tuesday", "ends before it begins"),
        ('group = "women"', 'group = "girls"', "person.mara.age", "how old"),
        ("budget = 100", "budget = -3", "money.budget", "no price"),
        ('tax = "20 %"', 'tax = "200 %"', "money.tax", "impossible"),
        ('label = "100% cotton lawn, 140 cm, 90 g/m2"', 'label = ""', "cloth.night.label", "bolt"),
    ],
)
def test_one_mistake_is_told_with_its_line_and_its_mend(
    old: str, new: str, where: str, what: str
) -> None:
    text = WHOLE.replace(old, new, 1)
    problems = read_job(text, TODAY).problems
    found = [one for one in problems if where in one.where and what in one.what]
    assert found, problems
    assert found[0].line > 0
    assert found[0].mend


def test_everything_that_is_wrong_is_told_at_once_in_the_order_of_the_file() -> None:
    text = (
        WHOLE.replace("title", "titel")
        .replace("circle-skirt", "skrit")
        .replace("2031-02-02", "2030-02-02")
    )
    problems = read_job(text, TODAY).problems
    assert len(problems) == 3
    assert [one.line for one in problems] == sorted(one.line for one in problems)


def test_a_circle_of_joins_is_named() -> None:
    text = (
        WHOLE
        + 'after = ["hem"]\n\n[costume.moon.join.hem]\nfirst = "skirt.hem"\n'
        + ('second = "band.top"\nafter = ["waist"]\n')
    )
    problems = read_job(text, TODAY).problems
    assert any("waist after hem after waist" in one.what for one in problems)


def test_a_body_of_which_nothing_is_known_is_told() -> None:
    text = WHOLE.replace('measures = { stature = "168 cm", arm_length.left = "60 cm" }', "")
    problems = read_job(text, TODAY).problems
    assert any("nothing is known of mara" in one.what for one in problems)


@pytest.mark.parametrize("text", ["", "format = ", "[a]\n[a]", "x" * 500_000, "a.b.c = 1\n" * 3])
def test_what_is_no_project_is_one_problem_and_no_crash(text: str) -> None:
    project, _, _, problems = read_project(text)
    assert problems
    assert project.costumes == ()
