"""What to test next, fibre tests, iron check and what was learnt: commands, JSON, pages, errors."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pypdfium2
import pytest
from fastapi.testclient import TestClient

from samite.cli import main
from samite.services.iron import kept_iron_profile
from samite.services.stock import kept_iron
from samite.web.app import make_app

SATIN = "polyester satin, 150 cm, lot one"
PRESSED = ("--tried", "press", "--steam", "none", "--press-cloth", "dry", "--side", "wrong")
BARE = ("--hold-tool", "none", "--hold-seconds", "0", "--support", "board", "--piece", "seam")
MAKER, NOTE = "Ottilie Example", "from the shop at the corner"

Run = Callable[..., tuple[int, Any, str]]


@pytest.fixture
def run(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Run:
    def go(*words: str) -> tuple[int, Any, str]:
        with pytest.raises(SystemExit) as left:
            main([*words, "--store", str(tmp_path / "store.sqlite")])
        said = capsys.readouterr()
        told = json.loads(said.out) if "--json" in words and said.out else said.out
        return int(left.value.code or 0), told, said.err

    return go


@pytest.fixture
def client(tmp_path: Path) -> Iterator[TestClient]:
    with TestClient(make_app(tmp_path / "store.sqlite"), follow_redirects=False) as opened:
        yield opened


def keep(run: Run, seconds: str, seen: str, *more: str, dial: str = "medium") -> str:
    trial = (*PRESSED, *BARE, "--dial", dial, "--seconds", seconds)
    code, view, error = run("swatch", "add", SATIN, *trial, "--seen", seen, *more, "--json")
    assert code == 0, error
    return str(view["key"])


def test_next_tells_tests_and_a_slip_of_twenty_minutes(run: Run, tmp_path: Path) -> None:
    svg, pdf = tmp_path / "slip.svg", tmp_path / "slip.pdf"
    code, view, _ = run("swatch", "next", SATIN, "--svg", str(svg), "--pdf", str(pdf), "--json")
    assert code == 0
    assert view["format"] == "samite.next.v1"
    assert view["slip"]["minutes"] <= 20.0
    assert [step["number"] for step in view["slip"]["steps"]] == list(
        range(1, len(view["slip"]["steps"]) + 1)
    )
    press = [test for test in view["tests"] if test["kind"] == "press"]
    assert press[0]["now"]
    assert press[0]["fields"]["dial"] == "low"
    for test in press:
        assert test["worth"] >= 0.0
        assert test["worth"] <= view["decision"]["worth_of_knowing"] + 1e-9
        assert test["worth_per_min"] == pytest.approx(test["worth"] / test["minutes"], abs=1e-4)
    assert svg.read_text(encoding="utf-8").startswith("<svg")
    pages = pypdfium2.PdfDocument(pdf.read_bytes())
    assert len(pages) == 1
    told = pages[0].get_textpage().get_text_range()
    assert "Mind first" in told
    assert "station 1" in told


def test_what_went_well_lets_the_next_step_be_hotter_and_harm_ends_it(run: Run) -> None:
    keep(run, "6", "set-flat", dial="low")
    keep(run, "3", "shine")
    _, view, _ = run("swatch", "next", SATIN, "--json")
    press = [test["fields"] for test in view["tests"] if test["kind"] == "press"]
    assert press
    assert not any(f["dial"] != "low" and float(f["seconds"]) >= 3.0 for f in press)
    assert view["swatches"] == 2


def test_learnt_tells_before_and_after_and_goes_back_when_set_aside(run: Run) -> None:
    _, blank, _ = run("swatch", "learnt", SATIN, "--json")
    assert blank["before"] == blank["after"]
    keys = [keep(run, "3", "set-flat"), keep(run, "4", "set-flat")]
    _, taught, _ = run("swatch", "learnt", SATIN, "--json")
    assert taught["format"] == "samite.learnt.v1"
    assert taught["used"] == 2
    assert taught["after"]["chance_set"][2] > taught["before"]["chance_set"][2] + 0.02
    for key in keys:
        run("swatch", "set-aside", key)
    _, back, _ = run("swatch", "learnt", SATIN, "--json")
    assert back["used"] == 0
    assert back["set_aside"] == 2
    assert back["before"] == back["after"] == blank["before"]


def test_the_export_names_nobody_and_nothing(run: Run, tmp_path: Path) -> None:
    run("stock", "iron", "Ottilie's iron", "--reading", "medium 148 C")
    keep(run, "6", "set-flat", "--maker", MAKER, "--note", NOTE, "--iron", "Ottilie's iron")
    file = tmp_path / "learnt.json"
    code, _, _ = run("swatch", "learnt", SATIN, "--iron", "Ottilie's iron", "--export", str(file))
    assert code == 0
    text = file.read_text(encoding="utf-8")
    told = json.loads(text)
    assert told["format"] == "samite.learnt-export.v1"
    assert told["swatches"][0]["press"]["seconds"] == 6.0
    assert told["swatches"][0]["seen"][0]["sign"] == "set-flat"
    for word in ("Ottilie", "corner", "lot one", "iron_key", "photo", "maker", "note", "made_on"):
        assert word not in text, word


def test_drawings_are_written(run: Run, tmp_path: Path) -> None:
    keep(run, "6", "set-flat")
    pair, moved = tmp_path / "pair.svg", tmp_path / "moved.svg"
    run("swatch", "learnt", SATIN, "--svg", str(pair), "--moved-svg", str(moved))
    drawn = pair.read_text(encoding="utf-8")
    assert ">before<" in drawn
    assert ">after<" in drawn
    assert "<title" in moved.read_text(encoding="utf-8")


def test_fibre_tests_by_command(run: Run) -> None:
    code, text, _ = run("swatch", "fibre")
    assert code == 0
    assert "burn test" in text
    assert "tweezers" in text
    _, view, _ = run("swatch", "fibre", "--float", "floats", "--smell", "wax", "--json")
    assert view["format"] == "samite.fibre.v1"
    assert view["chances"][0]["fibre"] == "polypropylene"
    code, _, error = run("swatch", "fibre", "--smell", "soap")
    assert code == 2
    assert "soap" in error
    assert "vinegar" in error
    _, text, _ = run("swatch", "fibre", "--tests")
    assert "float test" in text
    assert "baking paper" in text
    _, view, _ = run("swatch", "fibre", "--near", "stays", "--after", "glows", "--left", "soft-ash",
                     "--iron-touch", "never", "--json")  # fmt: skip
    assert view["chances"][0]["fibre"] == "cotton"


def test_an_iron_is_checked_and_kept_for_every_answer(run: Run, tmp_path: Path) -> None:
    _, guide, _ = run("stock", "check-iron", "--json")
    assert "never" in " ".join(guide["cautions"]) or "no substance" in " ".join(guide["cautions"])
    first = ("--reading", "medium 142 C", "--reading", "medium 300 F", "--reading", "medium 150 C")
    code, view, error = run("stock", "check-iron", "green", *first, "--json")
    assert code == 0, error
    assert view["dials"]["medium"]["measured"]
    assert view["swing_c"]["high"] < view["swing_before_c"]["high"] + 1.0
    again = ("--strip", "high 182 C, 193 C", "--note", "second day")
    _, view, _ = run("stock", "check-iron", "GREEN", *again, "--json")
    assert view["dials"]["medium"]["measured"]
    assert view["dials"]["high"]["strips_c"] == [[182.0, 193.0]]
    _, listed, _ = run("stock", "list", "--json")
    assert len(listed["irons"]) == 1
    iron = kept_iron_profile(kept_iron(tmp_path / "store.sqlite", "green"))
    assert iron.dial_c("medium").low == pytest.approx(
        view["dials"]["medium"]["sole_c"]["low"], abs=1
    )
    code, card, _ = run("card", SATIN, "--iron", "green", "--json")
    assert code == 0
    assert card["iron"]["measured"]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("x", "--reading", "medium 900 C"), "readings_c"),
        (("x", "--reading", "hot 100 C"), "names no dial position"),
        (("x", "--strip", "medium 160 C, 149 C"), "has turned"),
        (("x", "--strip", "medium 160 C"), "is no strip"),
        (("--reading", "medium 140 C"), "has no name"),
    ],
)
def test_what_cannot_be_read_off_a_sole_is_refused(
    run: Run, words: tuple[str, ...], said: str
) -> None:
    code, _, error = run("stock", "check-iron", *words)
    assert code == 2
    assert said in error
    assert "mend" in error


def test_pages_of_learning(run: Run, client: TestClient) -> None:
    key = keep(run, "6", "set-flat", "--maker", MAKER)
    waiting = client.get("/swatch-next", params={"label": SATIN})
    assert 'http-equiv="refresh"' in waiting.text
    page = client.get("/swatch-next", params={"label": SATIN, "go": "1"})
    assert page.status_code == 200
    for words in ("Test next", "The slip: 20 x 20 cm", "Keep what it showed", "<svg"):
        assert words in page.text
    learnt = client.get("/swatch-learnt", params={"label": SATIN, "go": "1"})
    assert "Before and after" in learnt.text
    assert "1 swatch learnt from" in learnt.text
    sent = client.post("/swatch-aside", data={"key": key, "to": "learnt"}, headers=SAME)
    assert sent.status_code == 303
    assert sent.headers["location"].startswith("./swatch-learnt?label=")
    back = client.get("/swatch-learnt", params={"label": SATIN, "go": "1"})
    assert "nothing is learnt yet" in back.text.lower()
    told = client.get("/swatch-learnt.json", params={"label": SATIN})
    assert told.headers["content-disposition"].startswith("attachment")
    assert MAKER not in told.text
    assert client.get("/swatch-slip.pdf", params={"label": SATIN}).content.startswith(b"%PDF")
    assert (
        client.get("/api/swatch-next", params={"label": SATIN}).json()["format"] == "samite.next.v1"
    )
    api = client.get("/api/swatch-learnt", params={"label": SATIN}).json()
    assert api["format"] == "samite.learnt.v1"
    assert client.get("/swatch-next").status_code == 422
    assert client.get("/swatch-next", params={"label": SATIN, "own_iron": "nobody's", "go": "1"}).status_code == 422  # fmt: skip


SAME = {"sec-fetch-site": "same-origin", "host": "testserver.localhost"}


def test_fibre_page_keeps_what_was_chosen_and_says_what_is_wrong(client: TestClient) -> None:
    page = client.get("/fibre", params={"smell": "hair", "left": "brittle-bead"})
    assert page.status_code == 200
    assert 'name="smell" value="hair" checked' in page.text
    assert "wool" in page.text
    assert "laboratory" in page.text
    wrong = client.get("/fibre", params={"smell": "soap", "label": "satin <b>"})
    assert wrong.status_code == 422
    assert "no answer" in wrong.text
    assert "satin &lt;b&gt;" in wrong.text
    told = client.get("/api/fibre", params={"float": "floats"}).json()
    assert told["format"] == "samite.fibre.v1"
    assert client.get("/api/fibre", params={"float": "flies"}).status_code == 422


def test_iron_page_keeps_what_was_typed(client: TestClient) -> None:
    assert client.get("/iron-check").status_code == 200
    wrong = {"name": "green", "medium_1": "142 C", "medium_2": "hot", "high_turned": "182"}
    page = client.post("/iron-check", data=wrong, headers=SAME)
    assert page.status_code == 422
    assert 'value="142 C"' in page.text
    assert 'value="hot"' in page.text
    assert "Nothing is kept yet" in page.text
    right = {"name": "green", "medium_1": "142 C", "medium_2": "300 F", "high_turned": "182 C",
             "high_kept": "193 C"}  # fmt: skip
    page = client.post("/iron-check", data=right, headers=SAME)
    assert page.status_code == 200
    assert "Kept: green" in page.text
    strange = {"sec-fetch-site": "cross-site"}
    assert client.post("/iron-check", data=right, headers=strange).status_code == 422
