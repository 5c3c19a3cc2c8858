"""``samite piece`` and ``samite metres`` as a script sees them."""

from __future__ import annotations

import json
import math
from pathlib import Path

import pytest
from click.testing import CliRunner
from shapely.geometry import Polygon

from samite.cli import samite
from samite.kernel.errors import InfeasibleError, InputError, SamiteError
from samite.pieces.shapes.registry import shapes
from samite.services.metres import metres, read_counter
from samite.services.raster import CELL_MM, on_grid, packed_length_mm


def run(*words: str) -> str:
    done = CliRunner().invoke(samite, list(words), catch_exceptions=False)
    assert done.exit_code == 0
    return done.output


def test_a_half_circle_skirt_has_the_radius_of_the_arithmetic() -> None:
    found = json.loads(run("piece", "circle-skirt", "--measure", "waist_girth=70 cm",
                           "--set", "fraction=0.5", "--set", "length=60", "--json"))  # fmt: skip
    assert found["format"] == "samite.piece.v1"
    assert found["values"]["waist_radius_mm"] == pytest.approx(222.817, abs=0.01)  # 700 / pi
    assert found["values"]["hem_length_mm"] == pytest.approx(700 + math.pi * 600, abs=0.01)
    (piece,) = found["pieces"]
    assert Polygon(piece["outline_mm"]).area == pytest.approx(piece["area_mm2"], rel=1e-4)
    assert Polygon(piece["cut_outline_mm"]).area == pytest.approx(piece["cut_area_mm2"], rel=1e-6)
    assert {edge["name"] for edge in piece["edges"]} == {"hem", "right", "waist", "left"}
    assert all(one["equal"] for one in found["walked"])
    assert found["measures"][0] | {"given": True} == found["measures"][0]


@pytest.mark.parametrize("name", list(shapes()))
def test_every_shape_answers_in_the_one_form(name: str) -> None:
    found = json.loads(run("piece", name, "--size", "8", "--measure", "stature=168", "--json"))
    for piece in found["pieces"]:
        assert set(piece) >= {"outline_mm", "edges", "area_mm2", "notches", "grain", "copies",
                              "cut_outline_mm", "cut_area_mm2", "label", "way_up"}  # fmt: skip
        assert piece["cut_area_mm2"] >= piece["area_mm2"]
        assert all(edge["length_mm"] > 0 for edge in piece["edges"])
    assert all(reason["source"] for reason in found["reasons"])


def test_left_and_right_are_pieces_of_their_own_where_they_differ() -> None:
    found = json.loads(run("piece", "sleeve", "--measure", "upper_arm_girth.left=30 cm",
                           "--measure", "upper_arm_girth.right=33 cm", "--json"))  # fmt: skip
    names = [piece["name"] for piece in found["pieces"]]
    assert names == ["sleeve, left", "sleeve, right"]
    widths = [
        max(x for x, _ in p["outline_mm"]) - min(x for x, _ in p["outline_mm"])
        for p in found["pieces"]
    ]
    assert widths[1] - widths[0] == pytest.approx(30.0, abs=0.1)


def test_layers_beneath_add_two_pi_times_their_thickness() -> None:
    plain, thick = (
        json.loads(run("piece", "circle-skirt", "--measure", "waist_girth=700 mm", *more, "--json"))
        for more in ((), ("--layers", "3 mm"))
    )
    gained = thick["values"]["waist_length_mm"] - plain["values"]["waist_length_mm"]
    assert gained == pytest.approx(18.85, abs=0.01)  # Steiner, as in P40


def test_alterations_facings_linings_and_files(tmp_path: Path) -> None:
    files = {kind: tmp_path / f"tunic.{kind}" for kind in ("svg", "pdf", "dxf")}
    overview = tmp_path / "all.svg"
    found = json.loads(
        run("piece", "tunic", "--size", "12", "--alter", "hem up 2 cm", "--lining", "--facing", "neck",
            "--allow", "side=25 mm", "--seam", "shoulder=french", "--shrink", "3 %; 1 %", "--one-way",
            "--overview", str(overview), "--paper", "roll",
            "--roll-width", "91 cm", *(w for k, f in files.items() for w in (f"--{k}", str(f))),
            "--json")
    )  # fmt: skip
    assert found["fittings"][0]["changes"][0]["moved_mm"] == -20.0
    assert found["fittings"][0]["before"]
    names = {piece["name"] for piece in found["pieces"]}
    assert {"front lining", "front neck facing"} <= names
    side = next(e for e in found["pieces"][0]["edges"] if e["name"] == "side")
    assert side["allowance_mm"] == 25.0
    assert all(path.stat().st_size > 1000 for path in (*files.values(), overview))
    read = json.loads(run("piece", "--from", str(files["svg"]), "--json"))
    assert len(read["pieces"]) == len(found["pieces"])


@pytest.mark.parametrize(
    "words",
    [
        ("piece",), ("piece", "pumpkin"), ("piece", "tunic", "--measure", "waist"),
        ("piece", "tunic", "--set", "moon=1"), ("piece", "tunic", "--set", "length=1 km"),
        ("piece", "tunic", "--allow", "moon=1 cm"), ("piece", "tunic", "--size", "99"),
        ("piece", "tunic", "--pdf", "x.pdf", "--paper", "roll"), ("metres",), ("metres", "moonbeam"),
    ],
)  # fmt: skip
def test_what_is_malformed_is_refused(words: tuple[str, ...]) -> None:
    with pytest.raises(InputError):
        CliRunner().invoke(samite, list(words), catch_exceptions=False)


def test_the_counter_reads_shape_body_width_and_cloth() -> None:
    asked = read_counter("hooded cloak, tall adult, 140 cm velvet")
    assert (asked.shape.name, asked.group, asked.tall) == ("hooded-cloak", "adult", 1.0)
    assert (asked.width_mm, asked.width_given, asked.one_way) == (1400.0, True, True)
    child = read_counter("tunic for a boy of 7 in 45 in linen")
    assert (child.group, child.age_years, child.width_mm) == ("boys", 7.0, 1143.0)


@pytest.mark.parametrize(
    "words", ["hooded cloak, tall adult, 140 cm velvet", "circle skirt", "trousers man 60 in wool"]
)
def test_the_counter_answers_with_a_range(words: str) -> None:
    found = json.loads(run("metres", words, "--json"))
    assert found["format"] == "samite.metres.v1"
    assert found["low"] <= found["metres"] <= found["high"]
    assert found["assumed"]


def test_more_cloth_for_tall_people_and_for_one_way_cloth() -> None:
    assert metres("tunic tall man 150 cm")["metres"] >= metres("tunic short man 150 cm")["metres"]
    plain = metres("gored skirt woman 150 cm cotton poplin")["metres"]
    assert metres("gored skirt woman 150 cm silk velvet")["metres"] >= plain


def test_the_estimate_is_never_less_than_the_area_and_refuses_what_is_too_wide() -> None:
    square = on_grid([(0, 0), (300, 0), (300, 300), (0, 300)], 0.0)
    length = packed_length_mm([(square, square)] * 8, 1200.0)
    assert 8 * 300 * 300 / 1200 <= length <= 600 + 2 * CELL_MM
    with pytest.raises(InfeasibleError):
        packed_length_mm([(square, square)], 250.0)
    triangle = (
        on_grid([(0, 0), (300, 0), (0, 600)], 0.0),
        on_grid([(0, 0), (300, 0), (0, 600)], 180.0),
    )
    assert packed_length_mm([triangle] * 2, 360.0) < 2 * 600


def test_every_error_of_a_wrong_word_has_a_hint() -> None:
    for words in ("pumpkin coach", ""):
        with pytest.raises(SamiteError) as caught:
            metres(words)
        assert caught.value.hint


def test_a_fitted_shape_by_command() -> None:
    asked = (
        "piece", "fitted-leggings", "--measure", "stature=168", "--measure", "hip_girth=98",
        "--measure", "waist_girth=74", "--cloth", "80% polyamide 20% elastane knit",
    )  # fmt: skip
    text = run(*asked)
    for part in ("WAYS TO PART IT", "PRESSURE", "NATURAL EASE", "TRIAL"):
        assert part in text
    listed = run("piece", "--list")
    assert "fitted-bodice: full bodice" in listed
