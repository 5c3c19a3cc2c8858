"""The pieces page, in-process: form, drawing, files, JSON, and what is refused."""

from __future__ import annotations

import io
import re

import pypdfium2
import pytest
from fastapi.testclient import TestClient

from samite.pieces.shapes.registry import every_shape, shapes
from samite.services.piece import PieceAsk, make_piece
from samite.services.piece_json import piece_json
from samite.web.app import make_app

ASKED = {"shape": "tunic", "group": "women", "m.stature": "168", "m.bust_girth": "36 1/4 in"}


@pytest.fixture(scope="module")
def client() -> TestClient:
    return TestClient(make_app())


def test_the_empty_page_offers_every_shape_and_the_tapes(client: TestClient) -> None:
    text = client.get("/pieces").text
    assert set(re.findall(r'<option value="([\w-]+)"', text)) == set(every_shape())
    for name in ("stature", "bust_girth", "waist_girth", "hip_girth"):
        assert f'href="#m-{name}"' in text
        assert f'id="m-{name}"' in text


@pytest.mark.parametrize("name", list(shapes()))
def test_every_shape_is_drawn_and_every_tape_leads_to_its_field(
    client: TestClient, name: str
) -> None:
    reply = client.get("/pieces", params={"shape": name, "m.stature": "172", "group": "men"})
    assert reply.status_code == 200
    links = set(re.findall(r'href="#(m-\w+)"', reply.text))
    fields = set(re.findall(r'<input id="(m-\w+)"', reply.text))
    assert links == fields
    assert 'class="sheet"' in reply.text


def test_the_page_keeps_what_was_typed_and_marks_what_is_estimated(client: TestClient) -> None:
    text = client.get("/pieces", params=ASKED).text
    assert 'value="36 1/4 in"' in text
    assert "estimated, +-" in text
    assert "equal to 0.1 mm" in text


def test_the_api_answers_like_the_service(client: TestClient) -> None:
    ask = PieceAsk("tunic", {"stature": "168", "bust_girth": "36 1/4 in"}, group="women")
    assert client.get("/api/piece", params=ASKED).json() == piece_json(make_piece(ask))


@pytest.mark.parametrize("kind", ["svg", "pdf", "dxf"])
def test_files_are_given(client: TestClient, kind: str) -> None:
    reply = client.get(f"/pieces.{kind}", params={**ASKED, "paper": "a3"})
    assert reply.status_code == 200
    assert f'filename="tunic.{kind}"' in reply.headers["content-disposition"]
    if kind == "pdf":
        assert len(pypdfium2.PdfDocument(io.BytesIO(reply.content))) > 3


@pytest.mark.parametrize(
    ("query", "word"),
    [
        ({**ASKED, "m.waist_girth": "7 cm"}, "impossible"),
        ({**ASKED, "m.waist_girth": "moon"}, "no quantity"),
        ({**ASKED, "m.moon": "70"}, "no body measure"),
        ({**ASKED, "s.moon": "70"}, "no parameter"),
        ({"shape": "pumpkin"}, "no shape"),
        ({"shape": "tunic", "group": "girls"}, "how old"),
        ({**ASKED, "alter": "a bit out"}, "no amount"),
    ],
)
def test_what_cannot_be_answered_stays_in_the_form(
    client: TestClient, query: dict[str, str], word: str
) -> None:
    page = client.get("/pieces", params=query)
    api = client.get("/api/piece", params=query)
    assert page.status_code == 422
    assert word in page.text
    assert api.status_code == 422
    assert set(api.json()) == {"code", "message", "where", "hint"}


def test_far_too_much_is_refused_in_the_one_shape(client: TestClient) -> None:
    reply = client.get("/pieces", params={f"m.x{k}": "1" for k in range(500)})
    assert reply.status_code == 422
    assert "more than the page asks" in reply.text
    assert client.get("/pieces.exe", params=ASKED).status_code == 404
    script = client.get("/pieces", params={**ASKED, "m.stature": '"><script>'}).text
    assert "<script>" not in script


def test_fitted_pieces_are_drawn_with_what_is_told_of_the_fit(client: TestClient) -> None:
    query = {
        "shape": "fitted-skirt", "group": "women", "m.stature": "168", "m.waist_girth": "74",
        "m.hip_girth": "98", "cloth": "wool crepe, 260 g/m2",
    }  # fmt: skip
    text = client.get("/pieces", params=query).text
    for head in ("Cloth", "Ways to part it", "Girths", "Trial"):
        assert f"<h3>{head}" in text
    assert 'name="cloth" value="wool crepe, 260 g/m2"' in text
    assert client.get("/api/piece", params=query).json()["fit"]["chosen"].endswith("darts")
    impossible = {**query, "s.warp_limit": "0.05", "s.weft_limit": "0.05"}
    refused = client.get("/pieces", params=impossible)
    assert refused.status_code == 422
    assert "take a cloth that gives" in refused.text
