"""From a label to paper: every card of the built-in scenario, the commands and the files."""

from __future__ import annotations

import contextlib
import io
import json
import re
import subprocess
import sys
from functools import cache
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from tests.unit.sheets.pages import letters, sizes_mm, text_of

from samite.cli import main
from samite.services.card import make_card
from samite.services.paper import card_pdf, layers_svg, press_svg
from samite.services.paper_press import card_views, view_curve
from samite.services.paper_words import card_sheet
from samite.services.press import press_window_view
from samite.sheets.press_curve import draw_press_curve

START = "import sys; sys.argv[0] = 'samite'; from samite.cli import main; sys.exit(main())"
VELVET = "93% polyester 7% elastane velvet knit, glued glitter, 150 cm, 280 g/m2"
OILCLOTH = "100% PVC film, 140 cm, 400 g/m2"


def root(path: Path) -> ET.Element:
    return ET.parse(path).getroot()  # noqa: S314


def run(*words: str, folder: Path) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-c", START, *words]
    return subprocess.run(command, cwd=folder, capture_output=True, text=True, check=False)


def run_here(*words: str, folder: Path) -> subprocess.CompletedProcess[str]:
    """Run a command in this process, where the window of a cloth is kept from before."""
    out, err = io.StringIO(), io.StringIO()
    with (
        contextlib.chdir(folder),
        contextlib.redirect_stdout(out),
        contextlib.redirect_stderr(err),
        pytest.raises(SystemExit) as left,
    ):
        main(list(words))
    code = int(left.value.code or 0)
    return subprocess.CompletedProcess(words, code, out.getvalue(), err.getvalue())


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("demo")
    done = run("demo", "--out", "job", "--seconds", "0", folder=folder)
    assert done.returncode == 0, done.stderr
    return folder / "job"


def cards(folder: Path) -> list[Path]:
    found = sorted((folder / "cards").glob("*.json"))
    assert len(found) == 9
    return found


def test_the_demo_writes_a_page_a_card(demo: Path) -> None:
    for path in cards(demo):
        pdf = path.with_suffix(".pdf").read_bytes()
        assert sizes_mm(pdf) == [pytest.approx((210.0, 297.0), abs=0.01)]
        card = json.loads(path.read_text(encoding="utf-8"))
        text = text_of(pdf)
        assert f"{card['needle']['point']} {card['needle']['size_nm']}" in text
        assert f"{card['stitch']['length_mm']:g} mm" in text
        assert card["never"][0].removeprefix("never ") in text
        for step in card["press"]["passes"]:
            count, stop = step["seconds"]
            assert f"count {count:g}, stop by {stop:g}" in text


def test_the_number_to_stop_by_is_the_largest_on_every_card(demo: Path) -> None:
    for path in cards(demo):
        passes = json.loads(path.read_text(encoding="utf-8"))["press"]["passes"]
        found = letters(path.with_suffix(".pdf").read_bytes())
        largest = max(letter.size for letter in found)
        big = "".join(letter.sign for letter in found if letter.size > 0.98 * largest)
        assert big == ("".join(f"{step['seconds'][1]:g}" for step in passes) or "NOIRON"), path.name


def test_every_caution_of_every_card_is_on_its_page(demo: Path) -> None:
    whole = _bare(_packet_text(demo))
    for path in cards(demo):
        card = json.loads(path.read_text(encoding="utf-8"))
        text = _bare(text_of(path.with_suffix(".pdf").read_bytes()))
        for caution in card["cautions"]:
            assert _bare(caution["text"])[:40] in text, path.name
            assert _bare(caution["text"]) in whole, path.name


@cache
def _packet_text(demo: Path) -> str:
    pdf = (demo / "packet.pdf").read_bytes()
    return "".join(text_of(pdf, page) for page in range(len(sizes_mm(pdf))))


def _bare(text: str) -> str:
    """Return the letters alone: lines are broken where the page is full."""
    return re.sub(r"[\W_]", "", text)


def test_all_cards_stand_behind_an_index(demo: Path) -> None:
    pdf = (demo / "cards.pdf").read_bytes()
    assert len(sizes_mm(pdf)) == 10
    index = text_of(pdf)
    for costume in ("frost-queen", "moon", "sprite"):
        assert costume in index
    assert "6 PRESS" in text_of(pdf, 8)


def test_card_and_press_write_what_they_are_asked_for(tmp_path: Path) -> None:
    card = run("card", VELVET, "--pdf", "c.pdf", "--svg", "c.svg", "--json", folder=tmp_path)
    assert card.returncode == 0, card.stderr
    assert json.loads(card.stdout)["format"] == "samite.card.v1"
    assert "STOP" in text_of((tmp_path / "c.pdf").read_bytes())
    assert root(tmp_path / "c.svg").tag.endswith("svg")
    press = run("press", VELVET, "--svg", "p.svg", folder=tmp_path)
    assert press.returncode == 0, press.stderr
    assert root(tmp_path / "p.svg").tag.endswith("svg")


def test_letter_paper_and_the_date_asked_for(tmp_path: Path) -> None:
    words = ("--pdf", "c.pdf", "--paper", "us-letter", "--dated", "2031-02-03")
    done = run_here("card", VELVET, *words, folder=tmp_path)
    assert done.returncode == 0, done.stderr
    pdf = (tmp_path / "c.pdf").read_bytes()
    assert sizes_mm(pdf) == [pytest.approx((215.9, 279.4), abs=0.01)]
    assert "2031-02-03" in text_of(pdf)


def test_a_file_that_cannot_be_written_says_so(tmp_path: Path) -> None:
    done = run_here("card", VELVET, "--pdf", "nowhere/c.pdf", folder=tmp_path)
    assert done.returncode == 2
    assert "cannot write nowhere/c.pdf" in done.stderr
    assert "--pdf" in done.stderr


def test_what_bears_no_iron_says_so_instead_of_a_number(tmp_path: Path) -> None:
    card = make_card(OILCLOTH)
    assert not card.press.value.passes
    text = text_of(card_pdf(card))
    assert "NO IRON" in text
    assert "STOP" not in text
    assert layers_svg(card) is None
    done = run_here("card", OILCLOTH, "--svg", "c.svg", folder=tmp_path)
    assert done.returncode == 0
    assert "nothing to draw" in done.stderr
    assert not (tmp_path / "c.svg").exists()


def test_card_and_press_command_draw_the_same_curve() -> None:
    view = press_window_view(VELVET)
    views = card_views(make_card(VELVET, window=True))
    curve = view_curve(view)
    assert views
    assert curve
    assert press_svg(view) == draw_press_curve(curve)
    assert (curve.count_s, curve.stop_s) == (views[0].count_s, views[0].stop_s)
    for one, other in ((curve.limit, views[0].limit), (curve.softens, views[0].softens)):
        assert one
        assert other
        assert one.name == other.name
        assert one.value_c == pytest.approx(other.value_c, abs=0.1)
    assert curve.technique == views[0].technique


def test_the_layers_lie_in_their_true_order() -> None:
    views = card_views(make_card(VELVET))
    assert views
    names = [layer.name for layer in views[1].layers]
    assert names[0] == "sole of the iron"
    assert names[1] == "dry press cloth"
    assert names[2:6] == [
        "allowance: pile",
        "allowance: ground",
        "garment: ground",
        "garment: pile",
    ]
    assert names[6:] == ["on the face", "needle board"]
    for layer in views[1].layers:
        assert layer.span_c is None or layer.span_c[0] <= layer.span_c[1] <= layer.span_c[2]


def test_a_hostile_label_reaches_the_page_as_text() -> None:
    sheet = card_sheet(make_card("100% cotton poplin <script>&\"'"))
    assert "<script>" in sheet.label
    assert "<script>&" in text_of(card_pdf(make_card("100% cotton poplin <script>&\"'")))


def test_imperial_units_on_the_page() -> None:
    text = text_of(card_pdf(make_card("100% cotton poplin, 110 cm"), units="imperial"))
    assert "oz/yd²" in text
    assert "0.59 in" in text


def test_the_packet_holds_every_part_of_the_job(demo: Path) -> None:
    pdf = (demo / "packet.pdf").read_bytes()
    assert all(size == pytest.approx((210.0, 297.0), abs=0.01) for size in sizes_mm(pdf))
    whole = _packet_text(demo)
    for title in ("To buy", "Order of work", "Pieces: moon", "Cutting: night", "Seams",
                  "Fittings", "Labels and cautions", "Reasons and sources"):  # fmt: skip
        assert title in whole
    job = json.loads((demo / "job.json").read_text(encoding="utf-8"))
    assert job["problems"] == []
    for line in job["buy"]["lines"]:
        if line["buy"] > 0:
            assert _bare(line["what"]) in _bare(whole)
    for one in job["work"]["lines"]:
        assert _bare(one["operation"]) in _bare(whole)


def test_every_lay_of_the_job_is_drawn_and_bought_for(demo: Path) -> None:
    job = json.loads((demo / "job.json").read_text(encoding="utf-8"))
    bought = {line["what"].partition(":")[0]: line for line in job["buy"]["lines"]}
    for name, lays in job["lays"].items():
        best = min(one["lay"]["length_mm"] for one in lays if one["lay"]["length_mm"])
        line = bought[name]
        assert line["needed"] * 1000.0 >= best
        assert line["buy"] + line["on_hand"] >= line["needed"] - 1e-6
