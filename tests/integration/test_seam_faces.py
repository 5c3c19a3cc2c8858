"""The seam on its faces: command, JSON, drawing, page."""

from __future__ import annotations

import json
import re
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest
from click.testing import CliRunner
from fastapi.testclient import TestClient
from shapely.geometry import LineString
from tests.integration.test_web import Page

from samite.cli import samite
from samite.cli.seam_text import seam_text
from samite.cloth.build import build_cloth
from samite.cloth.label import read_label
from samite.kernel.errors import InputError, UnknownNameError
from samite.seam.sides import resting_side
from samite.seam.stacking import joint_stacks
from samite.services.inches import in_imperial
from samite.services.seam import SeamQuestion, make_seam
from samite.services.seam_picture import seam_svg, seam_view
from samite.sheets.seam_section import Section, ribbon, seam_section, split_sides
from samite.sheets.seam_views import SeamView
from samite.web.app import make_app

ORGANZA = "silk organza, 140 cm"
VELVET = "95% polyester 5% elastane stretch velvet"
LEATHER = "leather 1.2 mm"
SWIM = "80% polyamide 20% elastane swimwear knit"
KEYS = {
    *("format", "for", "status", "why", "nearest", "labels", "runs", "cloths", "conflicts"),
    *("needle", "needles", "thread", "stitch", "seam", "holding", "feed", "numbers", "trouble"),
    *("joint_stack", "press", "reasons", "ways", "ruled_out", "changes", "workroom", "practice"),
    *("additions", "cautions", "third", "ranges", "tests", "learnt"),
}
FORMS = ("SSa", "SSa-closed", "SSae", "LSa", "LSc", "LSq", "FSa")


def run(*words: str) -> str:
    result = CliRunner().invoke(samite, list(words), catch_exceptions=False)
    assert result.exit_code == 0, result.output
    return result.output


@pytest.fixture(scope="module")
def client() -> TestClient:
    return TestClient(make_app())


def test_the_command_answers_in_words_and_in_json(tmp_path: Path) -> None:
    drawing = tmp_path / "seam.svg"
    text = run("seam", ORGANZA, VELVET, "--why", "--svg", str(drawing))
    for word in ("1 HOLD", "2 NEEDLE", "6 PRESS", "CONFLICT", "OR 2", "OUT", "WHY 1"):
        assert word in text
    assert all(len(line) <= 78 for line in text.splitlines())
    ET.fromstring(drawing.read_text(encoding="utf-8"))  # noqa: S314
    answer = json.loads(run("seam", ORGANZA, VELVET, "--json"))
    assert answer["format"] == "samite.seam.v1"
    assert set(answer) == KEYS
    assert answer["press"]["chance_damage"] is not None


def test_a_contradiction_is_an_answer() -> None:
    text = run("seam", LEATHER, "silk chiffon", SWIM)
    assert "CANNOT" in text
    assert "NEAREST" in text
    answer = json.loads(run("seam", LEATHER, "silk chiffon", SWIM, "--json"))
    assert answer["status"] == "cannot"


def test_a_card_with_a_second_cloth_shows_the_joint(tmp_path: Path) -> None:
    text = run("card", ORGANZA, "--with", VELVET)
    assert "SEAM  SILK ORGANZA to STRETCH VELVET" in text
    answer = json.loads(run("card", ORGANZA, "--with", VELVET, "--json"))
    assert answer["format"] == "samite.card.v1"
    assert answer["with"]["format"] == "samite.seam.v1"
    room = tmp_path / "room.toml"
    room.write_text('format = "samite.workroom.v1"\n[[machine]]\nkind = "lockstitch"\n')
    kept = json.loads(run("seam", VELVET, "--workroom", str(room), "--json"))
    assert kept["workroom"]["stated"]
    with pytest.raises(InputError, match="belongs to a joint"):
        run("card", ORGANZA, "--workroom", str(room))
    with pytest.raises(InputError, match="cannot read"):
        run("seam", ORGANZA, "--workroom", str(tmp_path / "none.toml"))
    (tmp_path / "bytes.toml").write_bytes(b"\xff\xfe\xff")
    with pytest.raises(InputError, match="not text"):
        run("seam", ORGANZA, "--workroom", str(tmp_path / "bytes.toml"))


def test_a_joint_in_inches_says_no_millimetre() -> None:
    sheet = make_seam(SeamQuestion((ORGANZA, VELVET)))
    text = seam_text(sheet, why=True, units="imperial")
    assert not re.search(r"\d (mm|cm|g/m2|C)\b", text)
    assert "allowance 0.39\n         in:" in text or "allowance 0.39 in:" in text
    svg = seam_svg(sheet, "imperial")
    assert not re.search(r">[^<]*\d mm\b[^<]*<", svg)
    assert in_imperial("0.5 mm, 10 to 25.4 mm, 34 g/m2, 200 C, tex 21, 3 mm2") == (
        "0.020 in, 0.39 to 1.00 in, 1 oz/yd2, 390 F, tex 21, 3 mm2"
    )


def test_what_cannot_be_joined_cannot_be_drawn() -> None:
    sheet = make_seam(SeamQuestion((LEATHER, "silk chiffon", SWIM)))
    with pytest.raises(InputError, match="nothing to draw"):
        seam_svg(sheet)


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("thick", [(0.1, 0.1), (0.1, 1.5), (1.5, 0.1), (2.0, 2.0)])
@pytest.mark.parametrize("side", [0, 1])
def test_every_ply_of_a_cut_keeps_its_true_thickness(
    form: str, thick: tuple[float, float], side: int
) -> None:
    section = seam_section(form, thick, rest=side, upper=side, allowance_mm=10.0)
    assert {ply.which for ply in section.plies} == {0, 1}
    for ply in section.plies:
        assert ply.thickness_mm == thick[ply.which]
        outline = ribbon(ply)
        flat = [y for x, y in outline if abs(x) == max(abs(px) for px, _ in outline)]
        assert max(flat) - min(flat) == pytest.approx(ply.thickness_mm, abs=1e-6)
        ends = [ply.points[0][1], thick[ply.which] / 2.0]
        assert ends[0] == pytest.approx(ends[1])  # right sides lie level
    low_x, low_y, high_x, high_y = section.bounds()
    assert low_x < 0.0 < high_x
    assert low_y == pytest.approx(0.0, abs=1e-6)
    assert high_y >= max(thick)
    assert section.stitches


def test_the_cut_is_as_thick_as_the_plies_that_are_counted() -> None:
    # Plies at the thickest line: open 2, to one side 3, French 5, felled 4, lapped 2, butted 1.
    for form, plies in zip(FORMS, (2, 3, 5, 2, 4, 3, 1), strict=True):
        section = seam_section(form, (0.5, 0.5), rest=1, upper=0, allowance_mm=10.0)
        assert section.bounds()[3] == pytest.approx(plies * 0.5, abs=0.01)


def cut_down(section: Section, x: float) -> list[int]:
    """Numbers of the plies on a plumb line through a cut, from the wrong side to the face."""
    plumb = LineString([(x, -5.0), (x, 50.0)])
    found = []
    for ply in section.plies:
        meets = LineString(ply.points).intersection(plumb)
        points = getattr(meets, "geoms", [meets])
        found += [(point.y, ply.which) for point in points if not point.is_empty]
    return [which for _, which in sorted(found, reverse=True)]


@pytest.mark.parametrize("form", [form for form in FORMS if form != "FSa"])
@pytest.mark.parametrize("behind", ["", "first", "second", "both"])
@pytest.mark.parametrize("side", [0, 1])
def test_the_cut_shows_the_plies_that_the_iron_meets(form: str, behind: str, side: int) -> None:
    labels = ["linen", "cotton twill, 300 g/m2", "acetate lining"]
    cloths = [build_cloth(read_label(text)) for text in labels[: 3 if behind else 2]]
    if side == 0:
        cloths[:2] = reversed(cloths[:2])
    chosen = tuple(cloths)
    numbers = SeamView("", (), behind, "", (), "", 0.0, 0.0, "", 0.0).sides
    thick = [[chosen[n].thickness_mm.value for n in one] for one in numbers]
    whole = seam_section(
        form,
        (sum(thick[0]), sum(thick[1])),
        rest=resting_side(chosen, behind),
        upper=side,
        allowance_mm=10.0,
    )
    section = split_sides(whole, thick, numbers)
    stacks = joint_stacks(form, chosen, upper=side, behind=behind)
    wanted = [[chosen.index(layer.cloth) for layer in stack.layers] for stack in stacks]
    drawn = [cut_down(section, 0.1 * step) for step in range(-80, 81)]
    for order in wanted:
        assert order in drawn, (order, max(drawn, key=len))
    assert max(len(one) for one in drawn) == max(len(one) for one in wanted)


def test_a_third_cloth_is_drawn_to_scale_and_told() -> None:
    sheet = make_seam(SeamQuestion((ORGANZA, VELVET, "acetate lining")))
    view = seam_view(sheet)
    assert [len(side) for side in view.sides] == [2, 1]
    drawn = seam_svg(sheet)
    assert "lining behind the silk organza" in drawn
    assert drawn.count('id="seam-third"') == 1
    assert "url(#seam-third)" in drawn
    text = run("seam", ORGANZA, VELVET, "acetate lining", "--behind", "second")
    assert "behind the stretch velvet" in " ".join(text.split())


def test_the_drawing_gives_every_way_and_is_the_same_twice() -> None:
    sheet = make_seam(SeamQuestion((ORGANZA, VELVET)))
    drawn = seam_svg(sheet)
    assert drawn == seam_svg(sheet)
    for way in seam_view(sheet).ways:
        assert way.title in drawn
    colours = set(re.findall(r'fill="(#[0-9a-f]+)"', drawn))
    assert all(len({code[1:3], code[3:5], code[5:7]}) <= 3 for code in colours)


@pytest.mark.parametrize("stitch", ["301", "304", "514", "504", "202"])
def test_every_stitch_can_be_drawn(stitch: str) -> None:
    ET.fromstring(seam_svg(make_seam(SeamQuestion((VELVET,), stitch=stitch))))  # noqa: S314


@pytest.mark.parametrize(
    "query",
    [
        {},
        {"label": ORGANZA, "label2": VELVET, "for": "fitted"},
        {"label": ORGANZA, "label2": VELVET, "units": "imperial"},
        {"label": LEATHER, "label2": "silk chiffon", "label3": SWIM},
        {"label": "cotton <b>lawn</b>"},
        {"label": "5% elastane velvet"},
        {"label": "silk", "workroom": "no toml"},
    ],
)
def test_the_page_holds_only_its_own(client: TestClient, query: dict[str, str]) -> None:
    reply = client.get("/seam", params=query)
    bad = query.get("label", "").startswith("5%") or "workroom" in query
    assert reply.status_code == (422 if bad else 200)
    page = Page(reply.text)
    assert page.inline == []
    assert len(page.ids) == len(set(page.ids))
    for address in page.addresses:
        assert re.match(r"\./|\?|#|static/", address), address


def test_the_page_shows_what_the_service_says(client: TestClient) -> None:
    query = {"label": ORGANZA, "label2": VELVET}
    text = client.get("/seam", params=query).text
    answer = client.get("/api/seam", params=query).json()
    assert answer["format"] == "samite.seam.v1"
    for conflict in answer["conflicts"]:
        assert conflict["about"] in text
    assert text.count("<svg") >= 3 + len(answer["ways"])
    drawn = client.get("/seam.svg", params=query)
    assert drawn.headers["content-type"] == "image/svg+xml"
    ET.fromstring(drawn.text)  # noqa: S314


def test_the_card_leads_to_the_joint(client: TestClient) -> None:
    text = client.get("/", params={"label": ORGANZA}).text
    assert "Join it to another cloth" in text


def test_errors_have_the_one_shape(client: TestClient) -> None:
    reply = client.get("/api/seam", params={"label": ORGANZA, "stitch": "999"})
    assert reply.status_code == 422
    assert set(reply.json()) == {"code", "message", "where", "hint"}
    assert client.get("/api/seam").status_code == 422
    with pytest.raises(UnknownNameError):
        run("seam", ORGANZA, "--run", "sideways")
