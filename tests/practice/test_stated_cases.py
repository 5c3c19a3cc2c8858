"""Facts of the trade as a practitioner states them (common practice, no source).

Compositions are our own. Where a fact differs from ``practice.csv`` both are practice, and the
accepted answers are the union of the two.
"""

from __future__ import annotations

from typing import Any

import pytest

from samite.services.card import card_json, make_card
from samite.tables.press_tools import press_cloth, press_tool


def card(label: str, use: str = "") -> dict[str, Any]:
    return card_json(make_card(label, use))


GLITTER_VELVETS = (
    "94% polyester 6% elastane velvet with stuck-on glitter, 150 cm, 290 g/m2",
    "stretch velvet, glued glitter, polyester 92 elastane 8",
    "glitter velvet knit 95/5 polyester/elastane 260 gsm",
)
FLOCKED_ORGANZAS = (
    "polyester organza with nylon flock, 145 cm, 50 g/m2",
    "flocked organza, 100% polyester ground, flock: 100% nylon",
    "organza 100% PES, flocked dots of polyamide, 60 gsm",
)
CRUSHED_LAMES = (
    "crushed lame, 60% polyester 40% nylon, 110 cm, 90 g/m2",
    "crushed lamé polyester/nylon 55/45",
    "65% polyester 35% polyamide crinkled lame, 100 gsm",
)
DOTTED = (
    "96% nylon 4% metallic with stuck-on plastic dots",
    "nylon metallic 95/5 cloth, glued plastic dots, 150 cm wide, 140 g/m2",
    "metallic knit, 93% nylon 7% metallised fibre, stuck-on dots, 130 gsm",
)
METALLIC_BROCADES = (
    "brocade, 88% polyester 12% metallic, 140 cm, 300 g/m2",
    "polyester-metallic brocade 90/10, 260 gsm",
    "92% polyester 8% metallised fibre brocade, 110 cm",
)


@pytest.mark.parametrize("label", GLITTER_VELVETS)
def test_stretch_velvet_with_stuck_on_glitter(label: str) -> None:
    answer = card(label)
    assert answer["cloth"]["construction"] == "knit"
    assert answer["needle"]["point"] in ("ballpoint", "stretch")
    assert answer["needle"]["range_nm"][0] <= 80 <= answer["needle"]["range_nm"][1]
    assert answer["thread"]["fibre"] == "polyester"
    assert answer["seam"]["finish"] == "none"
    assert answer["holding"]["method"] in ("pins", "clips")
    assert answer["stitch"]["type"] in ("304", "514", "504") or answer["stitch"]["length_mm"] > 2.5
    press = answer["press"]
    assert press["iron"] in ("low", "medium")
    assert press["steam"] in ("light", "hover", "none")
    assert press["side"] == "wrong"
    assert press["cloth"] is True
    assert press["hold"]["tool"] in ("hand", "weight")
    assert any("melt" in text for text in answer["never"])


@pytest.mark.parametrize("label", FLOCKED_ORGANZAS)
def test_polyester_organza_with_nylon_flock(label: str) -> None:
    answer = card(label)
    assert answer["needle"]["point"] == "sharp"
    assert answer["needle"]["range_nm"][0] <= 70 <= answer["needle"]["range_nm"][1]
    assert answer["seam"]["type"] == "SSae"
    assert answer["seam"]["finish"] == "french"
    assert answer["holding"]["method"] == "clips"
    assert answer["stitch"]["length_mm"] < 2.5
    assert answer["press"]["iron"] in ("low", "medium")
    assert answer["press"]["steam"] == "none"
    assert answer["press"]["hold"]["tool"] in ("hand", "weight")
    parts = [part["part"] for part in answer["cloth"]["components"]]
    assert parts.index("flock") < parts.index("base")


@pytest.mark.parametrize("label", CRUSHED_LAMES)
def test_crushed_polyester_nylon_lame(label: str) -> None:
    answer = card(label)
    assert answer["needle"]["point"] == "sharp"
    assert answer["needle"]["size_nm"] == 70
    assert "metallic" in answer["thread"]["topstitch"]
    assert answer["seam"]["finish"] in ("overedge", "zigzag")
    assert answer["holding"]["method"] in ("clips", "basting")
    assert answer["stitch"]["type"] == "301"
    assert 2.3 <= answer["stitch"]["length_mm"] <= 3.0
    press = answer["press"]
    assert (press["iron"], press["steam"]) == ("low", "none")
    first, second = press["passes"]
    assert (first["side"], first["cloth"]) == ("wrong", False)
    assert (second["side"], second["cloth"]) == ("right", True)
    assert second["seconds"][1] > first["seconds"][1]
    assert any("crush" in text for text in answer["never"])


@pytest.mark.parametrize("label", DOTTED)
def test_nylon_metallic_cloth_with_plastic_dots(label: str) -> None:
    answer = card(label)
    assert answer["needle"]["point"] in ("sharp", "stretch")
    assert answer["needle"]["range_nm"][0] <= 70 <= answer["needle"]["range_nm"][1]
    assert answer["needle"]["count"] >= 2
    assert answer["seam"]["finish"] == "none"
    assert answer["holding"]["method"] in ("pins", "clips")
    press = answer["press"]
    assert press["iron"] in ("none", "low")
    assert press["steam"] == "none"
    assert all(step["cloth"] and step["seconds"][1] <= 3 for step in press["passes"])


@pytest.mark.parametrize("label", METALLIC_BROCADES)
def test_polyester_metallic_brocade(label: str) -> None:
    answer = card(label)
    assert answer["needle"]["point"] in ("universal", "sharp")
    assert answer["needle"]["size_nm"] in (80, 90)
    overlock = [needle for needle in answer["needles"] if needle["use"] == "overlock"]
    assert overlock[0]["size_nm"] == answer["needle"]["size_nm"]
    assert answer["seam"]["finish"] == "overedge"
    assert answer["seam"]["finish_when"] == "before-assembly"
    assert answer["holding"]["method"] in ("pins", "clips")
    assert 2.5 <= answer["stitch"]["length_mm"] <= 3.0
    press = answer["press"]
    assert press["steam"] == "none"
    assert press["passes"][0]["iron"] == "low"
    assert press["passes"][-1]["cloth"] is True
    assert press["passes"][-1]["iron"] in ("low", "medium")


def test_needle_of_the_brocade_follows_its_weight() -> None:
    light = card("polyester-metallic brocade 90/10, 220 gsm")
    heavy = card("polyester-metallic brocade 90/10, 380 gsm")
    assert light["needle"]["size_nm"] == 80
    assert heavy["needle"]["size_nm"] == 90


def test_thin_cotton_press_cloth_passes_heat() -> None:
    lawn, felt = press_cloth("cotton-lawn"), press_cloth("wool")
    assert lawn.thickness_mm.high < felt.thickness_mm.low


def test_raw_wood_clapper_takes_up_steam() -> None:
    assert "wood" in press_tool("clapper").material


@pytest.mark.parametrize(
    ("label", "irons", "sides"),
    [
        (GLITTER_VELVETS[0], {"medium", "low"}, {"wrong"}),
        (FLOCKED_ORGANZAS[0], {"medium", "low"}, {"wrong"}),
        (CRUSHED_LAMES[0], {"low"}, {"wrong", "right"}),
        (DOTTED[0], {"low"}, {"wrong", "right"}),
        (METALLIC_BROCADES[0], {"low", "medium"}, {"wrong", "right"}),
    ],
)
def test_the_computed_window_keeps_what_practice_presses(
    label: str, irons: set[str], sides: set[str]
) -> None:
    """Poor chances are told, not hidden: practice presses all five."""
    press = card_json(make_card(label, window=True))["press"]
    assert press["status"] == "compromise"
    assert {step["iron"] for step in press["passes"]} <= irons
    assert {step["side"] for step in press["passes"]} == sides
    assert press["cloth"] is True
