"""Damaged jobs of work: an answer or a clear refusal, never a defect."""

from __future__ import annotations

import contextlib
import json
import random
import tomllib
from collections.abc import Callable
from datetime import datetime
from typing import Any

from samite.kernel.errors import SamiteError
from samite.services.work import plan_file
from samite.services.work_ics import work_ics
from samite.services.work_jobs import example_job
from samite.services.work_json import work_json
from samite.services.work_paper import slip_of, work_svg
from samite.work.schedule import Budget

NOW = datetime.fromisoformat("2031-10-06T16:00")
ODD: tuple[Any, ...] = (
    None, 0, -1, 1e308, float("nan"), "", " ", "x" * 200, [], [[]], {}, {"name": {}}, True, "2031-13-40",
    "9" * 400, ["cut the satin"], [{"name": "cut the satin", "wait": "-3 h"}], "1 h", 10**400, "\u202e", [None],
)  # fmt: skip


def damaged(generator: random.Random) -> str:
    document = tomllib.loads(example_job())
    kept = generator.sample(document["operation"], 8)
    names = {one["name"] for one in kept}
    for one in kept:
        befores = one.get("after", [])
        one["after"] = [b for b in befores if (b if isinstance(b, str) else b["name"]) in names]
    document["operation"] = kept
    for _ in range(generator.randrange(1, 4)):
        section = generator.choice(("machine", "maker", "operation", "top"))
        place = document if section == "top" else generator.choice(document[section])
        if isinstance(place, dict) and place:
            key = generator.choice([*place, "after", "at", "by", "leaves", "simpler"])
            if generator.random() < 0.3:
                place.pop(key, None)
            else:
                place[key] = generator.choice(ODD)
        if any(
            not isinstance(document.get(one), list) or not document[one]
            for one in ("machine", "maker", "operation")
        ):
            break
    return json.dumps(document)


def test_damaged_jobs_are_answered_or_refused(heavy: Callable[[int], int]) -> None:
    generator = random.Random(11)  # noqa: S311
    answered, said = 0, []
    for _ in range(heavy(2000)):
        text = damaged(generator)
        try:
            answer = plan_file(text, NOW, budget=Budget(0.02))
        except SamiteError as error:
            said.append(error.message)
            continue
        answered += 1
        json.dumps(work_json(answer), allow_nan=False)
        assert work_ics(answer).startswith("BEGIN")
        assert slip_of(answer).title
        if answer.plan.lines:
            assert work_svg(answer).startswith("<svg")
    assert answered > 5
    assert said
    assert all(said)


def test_damaged_text_is_refused(heavy: Callable[[int], int]) -> None:
    generator = random.Random(12)  # noqa: S311
    source = example_job()
    for _ in range(heavy(300)):
        at = generator.randrange(len(source))
        text = (
            source[:at]
            + generator.choice(('"', "[", "\x00", "=", "\n\n", "é", ""))
            + source[at + 3 :]
        )
        with contextlib.suppress(SamiteError):
            plan_file(text, NOW, budget=Budget(0.01))
