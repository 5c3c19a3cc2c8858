"""The press as steps, pictures and offers."""

from __future__ import annotations

import html
import re
from functools import cache
from pathlib import Path
from typing import Any
from xml.etree import ElementTree as ET

import pytest
from click.testing import CliRunner
from fastapi.testclient import TestClient
from tests.contracts.tree import ROOT

from samite.cli import samite
from samite.services.press import press_window_view
from samite.services.press_pictures import hold_svg, steps_svg
from samite.web.app import make_app
from samite.web.words import in_units

SATIN, SATIN_USE = "polyester duchesse satin, 200 g/m2", ""
LAME = "crushed polyester lame"
PVC = "PVC vinyl on polyester knit"


@cache
def view(label: str) -> dict[str, Any]:
    return press_window_view(label)


def words_of(svg: str) -> str:
    root = ET.fromstring(svg)  # noqa: S314
    return " ".join(text.strip() for text in root.itertext() if text.strip())


def test_every_pass_and_the_hold_are_a_numbered_step_with_its_seconds() -> None:
    found = view(SATIN)
    pressed = [step for step in found["steps"] if step["do"] == "press"]
    assert len(pressed) == len(found["best"]["passes"])
    low, high = found["best"]["passes"][-1]["seconds"]
    assert f"count {low:.0f}" in pressed[-1]["text"]
    assert f"{high:.0f}" in pressed[-1]["text"]
    held = [step for step in found["steps"] if step["do"] == "hold"]
    assert f"{found['best']['hold']['seconds']:.0f} s" in held[0]["text"]


def test_a_seam_pressed_from_both_sides_is_turned_over_between() -> None:
    found = view(LAME)
    sides = [step["side"] for step in found["best"]["passes"]]
    assert sides == ["wrong", "right"]
    assert any("turn" in step["text"].lower() for step in found["steps"])


@pytest.mark.parametrize("label", [SATIN, LAME])
def test_the_strip_has_a_panel_a_pass_and_says_so_to_a_screen_reader(label: str) -> None:
    found = view(label)
    svg = steps_svg(found)
    assert svg is not None
    words = words_of(svg)
    for step in found["best"]["passes"]:
        assert f"{step['seconds'][0]:.0f}" in words
    assert "hold" in words
    root = ET.fromstring(svg)  # noqa: S314
    names = {re.sub(r"\{.*\}", "", child.tag) for child in root}
    assert {"title", "desc"} <= names
    assert "wrong side up" in words


def test_the_hold_curve_tells_from_when_on_holding_adds_nothing() -> None:
    found = view(SATIN)
    svg = hold_svg(found)
    assert svg is not None
    assert f"{found['hold']['enough_s']:g} s" in words_of(svg)
    assert found["hold"]["chance_set"] == sorted(found["hold"]["chance_set"])


def test_nothing_safe_brings_offers_and_a_press_along_the_line_never_harms_more() -> None:
    found = view(SATIN)
    assert found["best"]["status"] == "compromise"
    offered = {offer["do"] for offer in found["offers"]}
    assert {"finger press", "weights", "stitch down"} <= offered
    for offer in found["offers"]:
        assert offer.get("chance_damage", 0.0) <= max(0.01, found["best"]["chance_damage"])


def test_a_cloth_that_bears_no_iron_is_offered_what_needs_none() -> None:
    found = view(PVC)
    assert found["best"]["passes"] == []
    assert found["hold"] is None
    assert {offer["do"] for offer in found["offers"]} & {"finger press", "weights"}


def test_slips_are_answered_and_a_hotter_dial_never_harms_less() -> None:
    slips = {slip["name"]: slip for slip in view(SATIN)["what_ifs"]}
    assert {"no press cloth", "one dot hotter", "twice as long"} <= set(slips)
    assert slips["one dot hotter"]["damage_change"] >= 0.0


def test_every_tender_part_says_how_it_is_hurt() -> None:
    for part in view(SATIN)["weak_parts"]:
        assert part["hurt"].split()[0] in part["words"]


def test_the_strip_is_written_where_it_is_asked_for(tmp_path: Path) -> None:
    target = tmp_path / "steps.svg"
    result = CliRunner().invoke(samite, ["press", SATIN, "--steps-svg", str(target)])
    assert result.exit_code == 0
    assert "1. " in result.output
    assert target.read_text(encoding="utf-8").startswith("<svg")


PLAIN = "polyester satin 150 g/m2"


def test_along_its_line_a_seam_is_pressed_by_what_is_not_barred_and_harms_nothing() -> None:
    found = view(PLAIN)
    edge = found["edge"]
    keys = ("iron", "steam", "cloth", "side")
    (entry,) = [t for t in found["techniques"] if all(t[k] == edge[k] for k in keys)]
    assert entry["barred"] == ""
    assert edge["chance_damage"] <= 0.01
    assert edge["chance_set"] >= 0.5
    (offer,) = [item for item in found["offers"] if item["do"] == "edge-only press"]
    assert offer["chance_set"] == edge["chance_set"]
    assert edge["words"] in offer["text"]


def test_a_safe_press_needs_no_offers() -> None:
    found = view("100% cotton poplin 120 g/m2")
    assert found["best"]["status"] == "safe"
    assert found["offers"] == []
    assert found["edge"] is None


@pytest.mark.parametrize("label", [SATIN, LAME, PVC, PLAIN])
def test_every_documented_key_of_the_window_is_there(label: str) -> None:
    text = (ROOT / "docs" / "faces" / "cli.md").read_text(encoding="utf-8")
    table = text.partition("The other keys of the document:")[2].partition("\n\n`--stack")[0]
    cells = [line.split("|")[1] for line in table.splitlines() if line.startswith("| `")]
    keys = [key for cell in cells for key in re.findall(r"`(\w+)`", cell)]
    assert len(keys) >= 10
    assert [key for key in keys if key not in view(label)] == []


def test_the_page_offers_what_does_instead_and_says_how_parts_are_hurt() -> None:
    client = TestClient(make_app())
    text = client.get("/part/window", params={"label": PLAIN}).text
    page = html.unescape(text)
    found = view(PLAIN)
    for offer in found["offers"]:
        assert in_units(offer["text"], "metric") in page
    for step in found["steps"]:
        assert in_units(step["text"], "metric") in page
    for part in found["weak_parts"]:
        assert in_units(part["words"], "metric") in page
    for slip in found["what_ifs"]:
        assert slip["name"] in page
