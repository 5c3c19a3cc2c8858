"""Costumes, bodies and own drawings on the page, in-process."""

from __future__ import annotations

import io
import re
from pathlib import Path
from urllib.parse import parse_qs, urlsplit

import ezdxf
import pypdfium2
import pytest
from fastapi.testclient import TestClient
from tests.integration.test_own_drawing import ANSWERS, OWN, SQUARE, svg

from samite.services.bodies import body_names, kept_body
from samite.web.app import make_app
from samite.web.drawing_pages import KEPT_DRAWINGS, Drawings

ASKED = {
    "shape": "tunic", "with": ["trousers", "waistband"], "group": "women", "m.stature": "168",
    "m.waist_girth": "29 in", "s.trousers.hem": "50",
    "alter": ["right shoulder down 8 mm", "trousers: hem up 2 cm"],
}  # fmt: skip


@pytest.fixture
def store(tmp_path: Path) -> Path:
    return tmp_path / "store.sqlite"


@pytest.fixture
def client(store: Path) -> TestClient:
    return TestClient(make_app(store), base_url="http://127.0.0.1")


def test_all_shapes_of_a_costume_are_on_one_sheet_with_their_fittings(client: TestClient) -> None:
    text = client.get("/pieces", params=ASKED).text
    assert text.count('class="shape"') == 3
    assert "trousers: front, cut 2" in text
    assert text.count("<h4>Fitting 1</h4>") == 2
    assert "seams change" in text or "seam changes" in text
    assert 'id="s-trousers.hem" name="s.trousers.hem" value="50"' in text
    api = client.get("/api/piece", params=ASKED).json()
    assert api["format"] == "samite.costume.v1"
    assert [one["shape"] for one in api["shapes"]] == ["tunic", "trousers", "waistband"]
    assert "25.0 cm" not in text


@pytest.mark.parametrize("kind", ["svg", "pdf", "dxf", "sheet.svg", "sheet.pdf"])
def test_files_hold_all_shapes(client: TestClient, kind: str) -> None:
    reply = client.get(f"/pieces.{kind}", params=ASKED)
    assert reply.status_code == 200
    if kind == "sheet.pdf":
        assert len(pypdfium2.PdfDocument(io.BytesIO(reply.content))) == 1
    if kind == "dxf":
        drawing = ezdxf.read(io.StringIO(reply.content.decode("cp1252")))
        assert len([b for b in drawing.blocks if not b.name.startswith("*")]) >= 8
    if kind.endswith("svg"):
        assert b"waistband" in reply.content


def test_tapes_that_are_taken_stand_dark_and_sides_may_differ(client: TestClient) -> None:
    text = client.get(
        "/pieces", params={**ASKED, "m.arm_length.left": "58", "m.arm_length.right": "60"}
    ).text
    assert 'aria-label="1 height, taken"' in text
    assert 'name="m.arm_length.left" value="58"' in text
    assert "each side is its own piece" in text


def test_front_and_back_of_a_girth_may_differ(client: TestClient) -> None:
    asked = {"shape": "gored-skirt", "m.waist_girth.front": "40", "m.waist_girth.back": "36"}
    text = client.get("/pieces", params=asked).text
    assert 'name="m.waist_girth.front" value="40"' in text
    assert "front gore" in text
    assert "back gore" in text


def test_an_allowance_may_be_a_length_or_a_seam(client: TestClient) -> None:
    asked = {"shape": "tunic", "a.side": "25", "a.shoulder": "french", "a.hem": "1 1/2 in"}
    (front, *_) = client.get("/api/piece", params=asked).json()["pieces"]
    found = {edge["name"]: edge["allowance_mm"] for edge in front["edges"]}
    assert (found["side"], found["shoulder"], found["hem"]) == (25.0, 15.0, pytest.approx(38.1))


def test_a_body_is_kept_used_binned_and_erased_from_the_page(
    client: TestClient, store: Path
) -> None:
    form = {**ASKED, "keep_as": "Łucja"}
    reply = client.post("/body-keep", data=form, follow_redirects=False)
    assert reply.status_code == 303
    query = parse_qs(urlsplit(reply.headers["location"]).query)
    assert query["kept"] == ["Łucja"]
    assert query["with"] == ["trousers", "waistband"]
    assert kept_body(store, "Łucja")["measures"] == {"stature": "168", "waist_girth": "29 in"}
    used = client.get("/pieces", params={"body": "Łucja", "shape": "circle-skirt"}).text
    assert 'name="m.waist_girth" value="29 in"' in used
    assert "Put Łucja into the bin" in used
    assert client.post("/body-bin", data={"name": "Łucja"}).status_code == 200
    assert body_names(store) == []
    client.post("/body-bin", data={"name": "Łucja", "back": "yes"})
    assert body_names(store) == ["Łucja"]
    client.post("/body-bin", data={"name": "Łucja"})
    client.post("/body-erase", data={"name": "Łucja"})
    assert body_names(store, binned=True) == []
    assert client.get("/pieces", params={"body": "Łucja"}).status_code == 422


def test_a_body_that_cannot_be_kept_leaves_the_form_as_it_was(client: TestClient) -> None:
    for name, stature in (("", "168"), ("x" * 90, "168"), ("Ann", "3 m")):
        reply = client.post("/body-keep", data={**ASKED, "m.stature": stature, "keep_as": name})
        assert reply.status_code == 422
        assert f'name="m.stature" value="{stature}"' in reply.text


def test_a_page_from_elsewhere_keeps_nothing(client: TestClient, store: Path) -> None:
    away = {"origin": "http://elsewhere.example"}
    for path in ("/body-keep", "/body-erase", "/body-bin"):
        assert (
            client.post(path, data={"keep_as": "A", "name": "A"}, headers=away).status_code == 422
        )
    sent = client.post("/pieces-own", files={"file": ("a.svg", svg(OWN))}, headers=away)
    assert sent.status_code == 422
    assert not store.exists() or body_names(store) == []


def test_a_drawing_is_sent_asked_about_and_made(client: TestClient) -> None:
    sent = client.post(
        "/pieces-own", files={"file": ("own.svg", svg(SQUARE + OWN))}, follow_redirects=False
    )
    assert sent.status_code == 303
    address = sent.headers["location"].removeprefix(".")
    asked = client.get(address).text
    assert set(re.findall(r'name="q\.([^"]+)"', asked)) == set(ANSWERS)
    assert 'class="sheet"' not in asked
    key = parse_qs(urlsplit(address).query)["drawing"][0]
    query = {"drawing": key, **{f"q.{name}": text for name, text in ANSWERS.items()}}
    query["sew"] = "piece 2:edge 2 = back:edge 2"
    made = client.get("/pieces-own", params=query)
    assert made.status_code == 200
    assert 'class="sheet"' in made.text
    assert "Seams walked" in made.text
    for kind in ("svg", "pdf", "dxf", "json"):
        assert client.get(f"/own.{kind}", params=query).status_code == 200
    assert client.get("/own.svg", params={"drawing": key}).status_code == 422
    assert client.get("/own.exe", params=query).status_code == 404
    wrong = client.get("/pieces-own", params={**query, "q.back.grain": "sideways"})
    assert wrong.status_code == 422
    assert 'value="sideways"' in wrong.text


@pytest.mark.parametrize(
    "data",
    [b"", b"no svg", b'<!DOCTYPE svg [<!ENTITY a "b">]><svg/>', svg("<path d='M0 0L5 5'/>"),
     b"<svg>" + b"<g>" * 5000],
)  # fmt: skip
def test_what_is_no_drawing_is_refused(client: TestClient, data: bytes) -> None:
    reply = client.post("/pieces-own", files={"file": ("own.svg", data)})
    assert reply.status_code == 422
    assert "error" in reply.text


def test_a_drawing_of_200_mb_is_refused_before_it_is_read(client: TestClient) -> None:
    reply = client.post(
        "/pieces-own", content=b"x", headers={"content-length": "200000000", "content-type": "x/y"}
    )
    assert reply.status_code == 413


def test_only_some_drawings_are_held() -> None:
    drawings = Drawings()
    keys = [drawings.hold(bytes([k])) for k in range(KEPT_DRAWINGS + 3)]
    assert drawings.get(keys[-1]) == bytes([KEPT_DRAWINGS + 2])
    with pytest.raises(Exception, match="not held any more"):
        drawings.get(keys[0])
