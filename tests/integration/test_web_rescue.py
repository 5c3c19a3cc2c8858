"""The page of what has gone wrong, in-process: page, JSON, and what is refused."""

from __future__ import annotations

import re
from html import unescape
from urllib.parse import parse_qs, urlsplit

import pytest
from fastapi.testclient import TestClient
from tests.integration.test_web import BAD, LABEL, VELVET, Page, flat

from samite.services.rescue import rescue_view, trouble_names
from samite.web.app import make_app
from samite.web.words import evidence_words, in_units

SHAPE = {"code", "message", "where", "hint"}
SHINE = "shine or an iron's mark on a pile"


@pytest.fixture(scope="module")
def client() -> TestClient:
    return TestClient(make_app())


def options(text: str) -> list[str]:
    return [unescape(name) for name in re.findall(r"<option(?: selected)?>([^<]+)</option>", text)]


def shown(text: str) -> str:
    return " ".join(in_units(text, "metric").split())


@pytest.mark.parametrize("path", ["/", "/part/card", "/rescue"])
def test_every_trouble_is_a_choice_below_the_cautions(client: TestClient, path: str) -> None:
    text = client.get(path, params={"label": VELVET, "trouble": "water ring"}).text
    assert options(text) == trouble_names()
    if path != "/rescue":
        assert text.index('id="mind"') < text.index('id="gone"') < text.index('id="tests"')


def test_the_form_of_the_card_carries_what_was_typed(client: TestClient) -> None:
    query = {"label": LABEL, "for": "lined, child of 6", "units": "imperial"}
    form = client.get("/", params=query).text.split('<form class="gone"')[1].split("</form>")[0]
    hidden = dict(re.findall(r'type="hidden" name="(\w+)" value="([^"]*)"', form))
    assert hidden == query
    assert 'name="trouble"' in form


@pytest.mark.parametrize(
    ("label", "trouble"),
    [(VELVET, SHINE), (LABEL, "water ring"), ("100% silk chiffon, 40 g/m2", "scorch")],
)
def test_the_page_says_what_the_service_says_in_its_order(
    client: TestClient, label: str, trouble: str
) -> None:
    view = rescue_view(trouble, label)
    reply = client.get("/rescue", params={"label": label, "trouble": trouble})
    assert reply.status_code == 200
    words = flat(reply.text)
    place = 0
    for number, step in enumerate(view["steps"], start=1):
        said = f"{number} {shown(step['do'])} {shown(step['why'])} " + evidence_words(
            step["source"], step["grade"]
        )
        assert said in words[place:]
        place = words.index(said, place)
    assert words.index(f"Stop {shown(view['stop'])}") > place
    for item in view["left_out"]:
        assert f"Not here: {shown(item['do'])} {shown(item['because'])}" in words
    for item in view["cautions"]:
        assert shown(item["text"]) in words
    assert f"<option selected>{trouble}" in unescape(reply.text)


def test_steam_is_left_out_where_something_is_glued_on(client: TestClient) -> None:
    """Steam raises a crushed pile but softens glue (common practice, no source)."""
    for label, left_out in ((VELVET, True), (VELVET.replace(", glued glitter", ""), False)):
        reply = client.get("/rescue", params={"label": label, "trouble": "shine on the velvet"})
        tried, _, rest = flat(reply.text).partition(" Stop ")
        assert ("Not here: hang the place in steam" in rest) == left_out
        assert ("hang the place in steam" in tried) != left_out
        assert "You said: shine on the velvet" in tried


def test_the_way_back_keeps_label_use_and_units(client: TestClient) -> None:
    query = {"label": VELVET, "for": "lined", "units": "imperial"}
    text = client.get("/rescue", params=query | {"trouble": SHINE}).text
    back = re.search(r'href="([^"]+)">Back to the card', text)
    assert back
    link = unescape(back[1])
    assert parse_qs(urlsplit(link).query) == {name: [value] for name, value in query.items()}
    assert client.get(link.removeprefix(".")).status_code == 200


def test_the_api_answers_as_the_service_does(client: TestClient) -> None:
    reply = client.get("/api/rescue", params={"label": VELVET, "trouble": SHINE})
    assert reply.status_code == 200
    assert reply.json() == rescue_view(SHINE, VELVET)
    assert "/api/rescue" in client.get("/api/openapi.json").json()["paths"]


@pytest.mark.parametrize(
    ("label", "trouble", "field"),
    [
        (LABEL, "the dog ate it", "gone"),
        (LABEL, "", "gone"),
        (LABEL, "crushed pile", "gone"),
        (BAD, "water ring", "label"),
        ("", "water ring", "label"),
        ("silk\x00organza", "water ring", "label"),
    ],
    ids=["unknown", "none", "not on this cloth", "shares", "no label", "control"],
)
def test_what_cannot_be_answered_is_kept_with_the_error_beside_its_field(
    client: TestClient, label: str, trouble: str, field: str
) -> None:
    query = {"label": label, "trouble": trouble}
    told = client.get("/api/rescue", params=query)
    reply = client.get("/rescue", params=query)
    assert told.status_code == reply.status_code == 422
    assert set(told.json()) == SHAPE
    beside = re.search(
        rf'<div id="{field}-error">\s*<div class="error"(.*?)</div>', reply.text, re.DOTALL
    )
    assert beside
    words = flat(f"<p{beside[1]}")
    for key in ("message", "where", "hint"):
        assert " ".join(told.json()[key].split()) in words
    assert reply.text.count('class="error"') == 1
    assert reply.text.count('aria-invalid="true"') == 1
    if trouble:
        assert f"<option selected>{trouble}</option>" in reply.text
    if field == "gone":
        assert re.search(rf">\s*{re.escape(label)}</textarea>", reply.text)
    assert "Stop" not in flat(reply.text)


def test_units_that_are_none_are_refused_on_the_page(client: TestClient) -> None:
    query = {"label": LABEL, "trouble": "scorch", "units": "cubits"}
    assert client.get("/rescue", params=query).status_code == 422


def test_the_bare_address_asks_both(client: TestClient) -> None:
    reply = client.get("/rescue")
    assert reply.status_code == 200
    assert 'class="error"' not in reply.text
    assert options(reply.text) == trouble_names()


@pytest.mark.parametrize("trouble", [SHINE, "<script>alert(1)</script>", ""])
def test_the_page_keeps_to_its_own_files_and_markup_is_text(
    client: TestClient, trouble: str
) -> None:
    reply = client.get("/rescue", params={"label": VELVET, "trouble": trouble})
    page = Page(reply.text)
    assert page.inline == []
    assert "<script>alert" not in reply.text
    assert len(page.ids) == len(set(page.ids))
    for address in page.addresses:
        assert re.match(r"\./|#|static/", address), address
