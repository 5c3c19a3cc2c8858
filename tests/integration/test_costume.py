"""A costume of several shapes: one sheet, one file each, its settings, fittings and the hang."""

from __future__ import annotations

import io
import json
import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pypdfium2
import pytest
from click.testing import CliRunner
from shapely.geometry import Polygon
from svgelements import SVG

from samite.cli import samite
from samite.kernel.errors import OutOfRangeError, SamiteError, UnknownNameError
from samite.services.costume import costume_pdf, costume_svg, make_costume
from samite.services.piece import PieceAsk, make_piece

TAPES = {"stature": "168", "bust_girth": "36 1/4 in", "waist_girth": "740 mm", "hip_girth": "98"}


def run(*words: str) -> str:
    done = CliRunner().invoke(samite, list(words), catch_exceptions=False)
    assert done.exit_code == 0
    return done.output


def test_a_costume_is_written_to_one_file_of_each_kind(tmp_path: Path) -> None:
    files = [
        tmp_path / name for name in ("all.svg", "all.pdf", "all.dxf", "sheet.svg", "sheet.pdf")
    ]
    base = ("piece", "tunic", "--with", "trousers", "--with", "waistband", "--size", "10")
    found = json.loads(
        run(*base, "--svg", str(files[0]), "--pdf", str(files[1]), "--dxf", str(files[2]),
            "--overview", str(files[3]), "--set", "trousers.hem=50", "--alter",
            "trousers: hem up 2 cm", "--json")
    )  # fmt: skip
    assert found["format"] == "samite.costume.v1"
    by_name = {one["shape"]: one for one in found["shapes"]}
    assert list(by_name) == ["tunic", "trousers", "waistband"]
    assert by_name["trousers"]["parameters"]["hem"]["value"] == 500.0
    assert by_name["tunic"]["fittings"] == []
    (fitting,) = by_name["trousers"]["fittings"]
    assert fitting["effect"]["cut_area_after_mm2"] < fitting["effect"]["cut_area_before_mm2"]
    assert "lay" in fitting["effect"]["told"]
    run(*base, "--overview", str(files[4]))
    assert all(path.stat().st_size > 1000 for path in files)
    groups = {e.values.get("data-piece") for e in SVG.parse(str(files[0])).elements()}
    assert {"tunic: front", "trousers: front", "waistband: waistband"} <= groups


def test_the_sheet_shows_the_wearer_at_the_scale_of_the_pieces() -> None:
    costume = make_costume(PieceAsk("tunic", TAPES, group="women"), ["circle-skirt"])
    drawn = SVG.parse(io.StringIO(costume_svg(costume)), reify=True)
    assert drawn.viewbox is not None
    text = costume_svg(costume)
    inches = costume_svg(costume, "imperial")
    assert ("H520" in text, "H528" in inches) == (True, True)  # from 20: 500 mm, and 20 in of 25.4
    assert (">50 cm<" in text, ">20 in<" in inches, ">50 cm<" in inches) == (True, True, False)
    for number, one in enumerate(costume.pieces, 1):
        assert f"{number} {one.piece.name}" in text
    page = pypdfium2.PdfDocument(costume_pdf(costume, "a3"))
    assert len(page) == 1
    assert page[0].get_size() == pytest.approx((420 / 25.4 * 72, 297 / 25.4 * 72), abs=0.5)
    words = page[0].get_textpage().get_text_range()
    assert "50 cm; 1 : " in words
    scale = float(words.partition("1 : ")[2].split(",")[0])
    # The bar of half a metre, measured in pixels: as long as its words say, to half a millimetre.
    image = page[0].render(scale=6).to_numpy()[..., 0]
    dark = image[int(image.shape[0] * 0.8) :, : int(image.shape[1] * 0.6)] < 128
    longest = 0
    for row in dark:
        edges = np.flatnonzero(np.diff(np.concatenate(([0], row.view(np.int8), [0]))))
        longest = max([longest, *(edges[1::2] - edges[::2])])
    assert longest / 6 / 72 * 25.4 == pytest.approx(500.0 / scale, rel=0.01)
    with pytest.raises(UnknownNameError):
        costume_pdf(costume, "parchment")


def test_too_many_or_unknown_shapes_are_refused() -> None:
    ask = PieceAsk("tunic", TAPES)
    with pytest.raises(UnknownNameError):
        make_costume(ask, ["pumpkin"])
    from samite.pieces.shapes.registry import shapes

    with pytest.raises(OutOfRangeError):
        make_costume(ask, list(shapes()))


def test_a_fitting_tells_what_followed_and_keeps_what_was() -> None:
    found = json.loads(
        run("piece", "tunic", "--size", "12", "--alter", "right shoulder down 8 mm", "--json")
    )
    (fitting,) = found["fittings"]
    followed = {(one["piece"], one["edge"]) for one in fitting["followed"]}
    assert ("sleeve, right", "front-cap") in followed
    assert ("sleeve, left", "front-cap") not in followed
    assert all(one["equal"] for one in found["walked"])
    assert {one["name"] for one in fitting["before"]} == {
        "front", "back", "sleeve", "gusset", "side gore",
    }  # fmt: skip
    seams = {tuple(one["first"]) for one in fitting["effect"]["seams"]}
    assert ("front", "armhole, right") in seams


def test_a_sleeve_is_solved_again_to_the_armhole_of_one_side() -> None:
    made = make_piece(PieceAsk("sleeve", TAPES, alterations=("right armhole 12 mm longer",)))
    plain = make_piece(PieceAsk("sleeve", TAPES))
    wanted = plain.values["front_cap_mm"] + plain.values["back_cap_mm"]
    caps = {
        one.piece.name: sum(one.piece.edge(e).length_mm for e in ("front-cap", "back-cap"))
        for one in made.pieces
    }
    assert caps["sleeve, left"] == pytest.approx(wanted, abs=1e-6)
    assert caps["sleeve, right"] == pytest.approx(wanted + 12.0, abs=1e-6)


@pytest.mark.parametrize("hang", ["soft", "slack, 80 g/m2", "5 %, 150 g/m2", "cloth"])
def test_the_hang_changes_the_hem_with_its_range_and_says_what_it_is(hang: str) -> None:
    plain = make_piece(PieceAsk("circle-skirt", TAPES))
    made = make_piece(PieceAsk("circle-skirt", TAPES, hang=hang, cloth="silk satin"))
    (hung,) = made.hung
    assert 0.0 < hung.least_mm < hung.drop_mm < hung.most_mm
    assert made.pieces[0].piece.area_mm2 < plain.pieces[0].piece.area_mm2
    room = made.pieces[0].cut.allowances_mm["hem"] - plain.pieces[0].cut.allowances_mm["hem"]
    assert room == pytest.approx(hung.drop_mm - hung.least_mm)
    told = [why for why in made.reasons if "raised by" in why.claim]
    assert told[0].evidence.grade.value == "guess"
    assert any("24 hours" in why.claim for why in made.reasons)


def test_nothing_hangs_where_nothing_is_asked_and_bias_turns_the_grain() -> None:
    assert make_piece(PieceAsk("circle-skirt", TAPES)).hung == ()
    turned = make_piece(PieceAsk("gathered-skirt", TAPES, bias=True, hang="soft"))
    assert turned.pieces[0].piece.grain_deg == 135.0
    assert turned.hung
    for words in ("moon", "7", "%"):
        with pytest.raises(SamiteError):
            make_piece(PieceAsk("circle-skirt", TAPES, hang=words))
    with pytest.raises(SamiteError):
        make_piece(PieceAsk("circle-skirt", TAPES, hang="cloth"))


def test_front_and_back_that_were_measured_apart_make_front_and_back_apart() -> None:
    halves = {"waist_girth.front": "40", "waist_girth.back": "34", "hip_girth.back": "52"}
    made = make_piece(PieceAsk("trousers", {**TAPES, **halves}, group="women"))
    waist = {
        one.piece.name: sum(e.length_mm for e in one.piece.edges if e.name.startswith("waist"))
        for one in made.pieces
    }
    assert waist["front"] / waist["back"] == pytest.approx(40.0 / 34.0)
    assert made.values["sewn_waist_mm"] == pytest.approx(740.0 + 15.0)
    assert all(one.equal for one in made.walked)
    assert all(one.runs_smooth for one in made.breaks)
    bust = {"bust_girth.front": "50", "bust_girth.back": "44"}
    tunic = make_piece(PieceAsk("tunic", {**TAPES, **bust}, group="women"))
    hems = [next(e for e in one.piece.edges if e.name == "hem") for one in tunic.pieces[:2]]
    assert hems[0].length_mm / hems[1].length_mm == pytest.approx(50.0 / 44.0)
    assert all(one.equal for one in tunic.walked)
    with pytest.raises(SamiteError, match="only one half"):
        make_piece(PieceAsk("trousers", {"waist_girth.front": "40"}))


def test_an_allowance_ends_as_it_is_asked_to() -> None:
    base = PieceAsk("regular-polygon", {}, {"sides": "3", "side": "20"}, {"seam": "10 mm"})
    areas = {}
    for rule in ("mitre", "square", "bevel"):
        (one,) = make_piece(replace(base, corners={"seam": rule})).pieces
        assert Polygon(one.cut.points).contains(Polygon(one.piece.flat()))
        areas[rule] = one.cut.area_mm2
    # A triangle of 200 mm with 10 mm all around, mitred: as row P47 of the check values.
    assert areas["mitre"] == pytest.approx(
        math.sqrt(3.0) / 4.0 * (200.0 + 20.0 * math.sqrt(3.0)) ** 2
    )
    assert areas["bevel"] < areas["mitre"]
    assert areas["square"] < areas["mitre"]
    for corners in ({"seam": "round"}, {"moon": "square"}):
        with pytest.raises(UnknownNameError):
            make_piece(replace(base, corners=corners))
