"""The order of work through the command, the page and its files."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
import xml.etree.ElementTree as ET
from datetime import datetime
from pathlib import Path

import icalendar
import pytest
from fastapi.testclient import TestClient
from tests.unit.sheets.pages import sizes_mm, text_of

from samite.cli import main
from samite.services.job_store import demo_job_text
from samite.services.work_jobs import example_job
from samite.web.app import make_app

QUICK = ["--effort", "0.1"]


@pytest.fixture
def job(tmp_path: Path) -> Path:
    path = tmp_path / "job.toml"
    path.write_text(example_job(), encoding="utf-8")
    return path


def run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    with pytest.raises(SystemExit) as caught:
        main(["work", *words])
    told = capsys.readouterr()
    return int(caught.value.code or 0), told.out, told.err


def test_the_answer_is_json_alone_and_holds_together(
    job: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code, out, err = run(capsys, str(job), "--json", *QUICK)
    answer = json.loads(out)
    assert code == 0
    assert "looking" in err
    assert answer["format"] == "samite.work.v1"
    assert answer["on_time"]
    assert len(answer["lines"]) == 33
    assert answer["bound_min"] <= answer["score"]["there_min"]
    assert answer["free_min"] >= answer["margin_min"]
    score = answer["score"]
    assert answer["lost_min"] == pytest.approx(score["change_min"] + score["wait_min"])
    assert 0.0 < answer["lost_bound_min"] <= answer["lost_min"]
    ends = {one["operation"]: one["end"] for one in answer["lines"]}
    for line in answer["lines"]:
        assert all(ends[one["name"]] <= line["work"] for one in line["after"])
    again = json.loads(run(capsys, str(job), "--json", *QUICK)[1])
    assert again == answer


def test_another_process_makes_the_same_plan(job: Path) -> None:
    told = set()
    for salt in ("1", "2"):
        start = "import sys; from samite.cli import main; main(sys.argv[1:])"
        words = [sys.executable, "-c", start, "work", str(job), "--json", "--effort", "0.02"]
        salted = {**os.environ, "PYTHONHASHSEED": salt}
        told.add(subprocess.run(words, capture_output=True, check=True, env=salted).stdout)
    assert len(told) == 1


def test_json_and_toml_say_the_same(
    job: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    import tomllib

    other = tmp_path / "job.json"
    other.write_text(json.dumps(tomllib.loads(example_job())), encoding="utf-8")
    first = json.loads(run(capsys, str(job), "--json", *QUICK)[1])
    assert json.loads(run(capsys, str(other), "--json", *QUICK)[1]) == first


def test_the_calendar_is_read_again_by_another_reader(
    job: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "work.ics"
    out = run(capsys, str(job), "--json", "--ics", str(path), *QUICK)[1]
    text = path.read_bytes()
    assert all(len(line) <= 75 for line in text.split(b"\r\n"))
    events = icalendar.Calendar.from_ical(text).walk("VEVENT")
    lines = json.loads(out)["lines"]
    sessions = {(one["maker"], one["session"]) for one in lines}
    # A session each, the fitting, the day.
    assert len(events) == len(sessions) + 2
    assert len({str(one["UID"]) for one in events}) == len(events)
    told = "\n".join(str(one["DESCRIPTION"]) for one in events)
    assert all(one["operation"] in told for one in lines)
    begins = {one["DTSTART"].dt for one in events}
    assert min(datetime.fromisoformat(one["begin"]) for one in lines) in begins
    fitting = next(one for one in events if "fitting" in one["SUMMARY"])
    assert fitting["DTSTART"].dt == datetime.fromisoformat("2031-10-18T14:00")


def test_strip_and_slip_are_written(
    job: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    svg, pdf = tmp_path / "strip.svg", tmp_path / "slip.pdf"
    code, out, _ = run(
        capsys, str(job), "--svg", str(svg), "--pdf", str(pdf), "--paper", "us-letter", *QUICK
    )
    assert code == 0
    assert "[ ]" in out
    root = ET.fromstring(svg.read_text(encoding="utf-8"))  # noqa: S314
    words = " ".join(root.itertext())
    assert "33 operations" in words
    assert all(name in words for name in ("sewing machine", "overlocker", "iron", "table"))
    content = pdf.read_bytes()
    assert sizes_mm(content)[0] == pytest.approx((215.9, 279.4), abs=0.1)
    told = " ".join(text_of(content, page) for page in range(len(sizes_mm(content))))
    assert "sew the lining" in told
    assert "took" in told


def test_what_is_ticked_is_left_out_and_learned_from(
    job: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    words = ["--done", "wash the cotton=40", "--done", "wash the lining satin=40", "--json", *QUICK]
    answer = json.loads(run(capsys, str(job), *words)[1])
    assert len(answer["lines"]) == 31
    assert [one["name"] for one in answer["done"]] == ["wash the cotton", "wash the lining satin"]
    kind = next(one for one in answer["learned"] if one["kind"] == "pretreat")
    assert kind["times"] == 2
    assert kind["factor"] == pytest.approx(2 ** (2 / 5), rel=0.01)


def test_a_day_that_cannot_be_kept_is_an_answer(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "late.toml"
    path.write_text(example_job().replace("2031-10-25 12:00", "2031-10-19 20:00"), encoding="utf-8")
    code, out, _ = run(capsys, str(path), "--json", "--effort", "0.03")
    answer = json.loads(out)
    assert code == 0
    assert answer["status"] == "infeasible"
    assert answer["ways_out"]
    assert answer["lines"]


def test_all_that_is_wrong_is_told_at_once(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = example_job().replace('due = "2031-10-25 12:00"', 'due = "2031-10-01"')
    text = text.replace("tuesday 18:00-21:00", "tuesday 21:00-18:00").replace(
        'heat = "low"', 'heat = "cool"'
    )
    path = tmp_path / "bad.toml"
    path.write_text(text, encoding="utf-8")
    code, out, err = run(capsys, str(path))
    assert code == 2
    assert not out
    for words in ("past", "no iron has the heat 'cool'"):
        assert words in err


@pytest.fixture
def page(tmp_path: Path) -> TestClient:
    return TestClient(make_app(tmp_path / "store.db"))


def kept(page: TestClient) -> str:
    sent = page.post("/work", data={"job": example_job()}, follow_redirects=False)
    assert sent.status_code == 303
    return str(re.search(r"job=(\w+)", sent.headers["location"])[1])


def test_the_slip_rolls_on_as_it_is_ticked(page: TestClient) -> None:
    key = kept(page)
    first = page.get(f"/work?job={key}").text
    now = re.search(r'class="roll-now".*?<h2>(.*?)</h2>', first, re.DOTALL)[1]
    assert "Next ·" in first
    assert 'class="roll-last"' not in first
    page.post("/work-tick", data={"key": key, "name": now, "minutes": "25"})
    second = page.get(f"/work?job={key}").text
    assert re.search(rf'class="roll-last".*?<s>{now}</s>', second, re.DOTALL)
    assert re.search(r'class="roll-now".*?<h2>(.*?)</h2>', second, re.DOTALL)[1] != now
    assert "1 of 33 done" in second
    page.post("/work-tick", data={"key": key, "name": now, "back": "1"})
    assert "0 of 33 done" in page.get(f"/work?job={key}").text
    assert page.get(f"/work?job={key}").text == page.get(f"/work?job={key}").text


def test_what_the_page_hands_out(page: TestClient) -> None:
    key = kept(page)
    assert page.get(f"/api/work?job={key}").json()["format"] == "samite.work.v1"
    assert page.get(f"/work.pdf?job={key}").content.startswith(b"%PDF")
    assert page.get(f"/work.svg?job={key}").text.startswith("<svg")
    assert icalendar.Calendar.from_ical(page.get(f"/work.ics?job={key}").content)
    assert "Two lantern costumes" in page.get("/work").text
    page.post("/work-bin", data={"key": key})
    assert "Two lantern costumes" not in page.get("/work").text


def test_the_page_keeps_what_was_typed_and_says_what_is_wrong(page: TestClient) -> None:
    sent = page.post("/work", data={"job": example_job().replace("18:00-21:00", "21:00-18:00")})
    assert sent.status_code == 422
    assert "before it begins" in sent.text
    assert "Two lantern costumes" in sent.text
    assert page.get("/work?job=nowhere").status_code in (404, 422)
    assert page.post("/work-tick", data={"key": kept(page), "name": "nothing"}).status_code == 422
    foreign = page.post("/work", data={"job": ""}, headers={"origin": "http://elsewhere.example"})
    assert foreign.status_code == 422


def test_a_session_of_a_costume_job_that_is_turned_round_is_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = demo_job_text().replace('"10:00-16:00"', '"16:00-10:00"')
    path = tmp_path / "costumes.toml"
    path.write_text(text, encoding="utf-8")
    code, _, told = run(capsys, str(path), *QUICK)
    assert code == 2
    assert "hours.saturday" in told
    assert "ends before it begins" in told
