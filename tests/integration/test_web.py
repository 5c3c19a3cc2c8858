"""The web application in-process: pages, parts, JSON, errors, limits and headers."""

from __future__ import annotations

import re
from html.parser import HTMLParser

import pytest
from fastapi.testclient import TestClient

from samite.services.card import card_json, make_card
from samite.tables.loader import read_toml
from samite.web import answers
from samite.web.app import make_app
from samite.web.words import in_units

LABEL = "100% silk organza, 140 cm, 40 g/m2"
VELVET = "93% polyester 7% elastane velvet knit, glued glitter, 150 cm, 280 g/m2"
BAD = "50% polyester velvet"
PATHS = ("/", "/part/card", "/part/window", "/api/card", "/api/press", "/card.pdf")


@pytest.fixture(scope="module")
def client() -> TestClient:
    return TestClient(make_app())


class Page(HTMLParser):
    """What a page names: addresses, ids, inline styles and scripts, and its text."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.addresses: list[str] = []
        self.ids: list[str] = []
        self.inline: list[str] = []
        self.words = ""
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        for name, value in attrs:
            if name in ("href", "src", "action"):
                self.addresses.append(value or "")
            if name == "id":
                self.ids.append(value or "")
            if name == "style" or name.startswith("on"):
                self.inline.append(f"{tag} {name}")
        if tag == "style" or (tag == "script" and "src" not in dict(attrs)):
            self.inline.append(tag)

    def handle_data(self, data: str) -> None:
        self.words += data


def flat(text: str) -> str:
    return " ".join(Page(text).words.split())


def test_the_start_page_offers_the_eight_bolts(client: TestClient) -> None:
    page = Page(client.get("/").text)
    for bolt in read_toml("demo.toml")["bolt"]:
        assert bolt["role"] in page.words
        assert bolt["label"] in page.words
    links = [address for address in page.addresses if "label=" in address]
    assert len(links) == 8
    for link in links:
        reply = client.get(link.removeprefix("."))
        assert reply.status_code == 200
        assert 'id="press"' in reply.text


def test_the_card_says_what_the_service_says(client: TestClient) -> None:
    made = make_card(LABEL, "on skin")
    page = flat(client.get("/", params={"label": LABEL, "for": "on skin"}).text)
    needle, press = made.sewing.needle.value, made.press.value
    assert f"{needle.point} {needle.size_nm}/" in page
    assert made.sewing.cut.value.text.split(", ")[-1] in page
    assert f"stop by {press.passes[-1].seconds[1]:g}" in page
    for text in [item.text for item in made.cautions] + [item.test for item in made.swatches]:
        assert text[:20] in page
    for unknown in made.cloth.unknown:
        assert unknown in page


def test_every_reason_is_on_the_page_to_full_depth(client: TestClient) -> None:
    made = make_card(VELVET)
    page = flat(client.get("/", params={"label": VELVET}).text)
    claims: list[str] = []

    def gather(reason: dict[str, object]) -> None:
        claims.append(str(reason["claim"]))
        for under in reason["because"]:
            gather(under)

    for key, reason in made.reasons().items():
        if not key.startswith("cloth."):
            gather(reason.as_dict())
    assert len(claims) > 20
    shown = [" ".join(in_units(claim, "metric").split()) for claim in claims]
    assert [claim for claim in shown if claim not in page] == []


def test_the_window_comes_as_a_second_part_with_its_number(client: TestClient) -> None:
    first = client.get("/part/card", params={"label": LABEL, "seq": "7"})
    assert 'data-seq="7"' in first.text
    assert 'data-window="wanted"' in first.text
    assert "seams stay set" not in first.text
    second = client.get("/part/window", params={"label": LABEL, "seq": "7"})
    assert 'data-seq="7"' in second.text
    assert 'data-window=""' in second.text
    words = flat(second.text)
    assert "seams stay set" in words
    assert "What if" in words
    assert "<figure" in second.text


def test_what_if_is_read_off_the_window(client: TestClient) -> None:
    view = answers.window(LABEL, "")
    chosen = {key: view["best_technique"][key] for key in ("iron", "steam", "cloth", "side")}
    bare = next(
        t
        for t in view["techniques"]
        if all(t[k] == v for k, v in {**chosen, "cloth": "none"}.items())
    )
    words = flat(client.get("/part/window", params={"label": LABEL}).text)
    shown = re.search(r"No press cloth|no press cloth", words)
    assert shown
    held = int(words[shown.end() :].split()[0])
    assert min(bare["chance_set"]) * 100 - 1 <= held <= max(bare["chance_set"]) * 100
    assert bare["barred"] in words


def test_without_a_script_the_whole_card_comes_at_once(client: TestClient) -> None:
    page = client.get("/", params={"label": LABEL, "window": "1"})
    assert "seams stay set" in flat(page.text)
    assert "window=1" in client.get("/", params={"label": LABEL}).text


def test_choices_stay_taken_and_other_words_stay_written(client: TestClient) -> None:
    query = {"label": LABEL, "for": ["lined", "hood", "child of 6", "one night"]}
    text = client.get("/", params=query).text
    for word in ("lined", "hood", "one night"):
        assert re.search(rf'value="{word}" checked', text), word
    assert 'value="unlined" checked' not in text
    assert re.search(r'id="other"[^>]*value="child of 6"', text)


def test_units_are_switched_everywhere(client: TestClient) -> None:
    text = flat(client.get("/", params={"label": VELVET, "units": "imperial"}).text)
    card = text[text.index("Cut ") :]
    assert "8.26 oz/yd²" in text
    assert "to the inch" in card
    assert not re.search(r"\d mm\b|\d cm\b|°C", card.split("What this stands on")[0])


@pytest.mark.parametrize("said", ["stretches", "does not stretch", "ravels", "does not ravel"])
def test_pictures_answer_what_the_label_hides(client: TestClient, said: str) -> None:
    text = client.get("/", params={"label": "velvet"}).text
    assert f'data-say="{said}"' in text
    link = re.search(rf'href="([^"]+)" data-say="{said}"', text)
    assert link
    after = client.get("/" + link[1].replace("&amp;", "&"))
    assert after.status_code == 200
    assert f"velvet, {said}" in after.text
    assert f'data-say="{said}"' not in after.text


def test_a_label_that_hides_nothing_asks_nothing(client: TestClient) -> None:
    assert "data-say" not in client.get("/", params={"label": LABEL}).text


@pytest.mark.parametrize("label", [BAD, "100% snorkwool", "silk, 100 g/m2, 300 g/m2"])
def test_an_error_keeps_what_was_typed_and_says_how_to_mend_it(
    client: TestClient, label: str
) -> None:
    reply = client.get("/", params={"label": label, "for": "lined"})
    told = client.get("/api/card", params={"label": label, "for": "lined"})
    assert reply.status_code == told.status_code == 422
    error = told.json()
    assert set(error) == {"code", "message", "where", "hint"}
    words = flat(reply.text)
    for key in ("message", "where", "hint"):
        assert " ".join(error[key].split()) in words
    assert re.search(rf"<textarea[^>]*aria-invalid=\"true\"[^>]*>\s*{re.escape(label)}", reply.text)
    assert 'value="lined" checked' in reply.text
    part = client.get("/part/card", params={"label": label, "seq": "3"})
    assert part.status_code == 422
    assert 'class="error" data-seq="3"' in part.text


@pytest.mark.parametrize("path", PATHS)
@pytest.mark.parametrize(
    "query",
    [
        {"label": BAD},
        {"label": LABEL, "for": "lined, unlined"},
        {"label": LABEL, "for": "purple"},
        {"label": LABEL, "units": "cubits"},
        {"label": "x" * 30_000},
        {"label": "silk\x00organza"},
    ],
    ids=["shares", "contradiction", "unknown use", "units", "long", "control"],
)
def test_what_is_malformed_is_refused_everywhere(
    client: TestClient, path: str, query: dict[str, str]
) -> None:
    reply = client.get(path, params=query)
    assert reply.status_code == 422
    assert "Traceback" not in reply.text


@pytest.mark.parametrize("path", ["/part/card", "/part/window", "/api/card", "/api/press"])
def test_no_label_is_an_error_where_one_is_needed(client: TestClient, path: str) -> None:
    assert client.get(path).status_code == 422


@pytest.mark.parametrize("path", [*PATHS, "/nowhere"])
def test_a_megabyte_is_refused_politely(client: TestClient, path: str) -> None:
    told = client.post(path, content=b"label=" + b"s" * 1_000_000)
    in_pieces = client.post(path, content=iter([b"s" * 50_000] * 20))
    for reply in (told, in_pieces):
        assert reply.status_code == 413
        assert set(reply.json()) == {"code", "message", "where", "hint"}


def test_what_is_not_there_is_said_in_the_one_shape(client: TestClient) -> None:
    assert set(client.get("/api/nothing").json()) == {"code", "message", "where", "hint"}
    assert client.get("/api/nothing").status_code == 404
    assert client.get("/nothing").status_code == 404
    assert client.post("/api/card", json={}).status_code == 405


def test_a_defect_shows_no_traceback(monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(label: str, use: str, iron: object) -> None:
        raise RuntimeError("secret of the house")

    monkeypatch.setattr(answers, "card", fail)
    monkeypatch.setattr(answers, "timed", fail)
    client = TestClient(make_app(), raise_server_exceptions=False)
    for path in ("/", "/part/card", "/api/card"):
        reply = client.get(path, params={"label": LABEL})
        assert reply.status_code == 500
        assert "secret" not in reply.text
        assert "Traceback" not in reply.text
    assert LABEL in client.get("/", params={"label": LABEL}).text


@pytest.mark.parametrize("path", [*PATHS, "/nowhere", "/static/samite.css", "/static/samite.js"])
def test_every_answer_keeps_the_page_at_home(client: TestClient, path: str) -> None:
    reply = client.get(path, params={"label": LABEL})
    policy = reply.headers["content-security-policy"]
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy
    assert "http" not in policy
    assert reply.headers["x-content-type-options"] == "nosniff"
    assert "set-cookie" not in reply.headers


@pytest.mark.parametrize(
    "query", [{}, {"label": VELVET, "window": "1"}, {"label": "velvet"}, {"label": BAD}]
)
def test_pages_name_only_their_own_files_and_hold_no_inline_code(
    client: TestClient, query: dict[str, str]
) -> None:
    page = Page(client.get("/", params=query).text)
    assert page.inline == []
    assert len(page.ids) == len(set(page.ids))
    for address in page.addresses:
        assert re.match(r"\./|\?|#|static/|card\.pdf\?", address), address
        if address.startswith("static/"):
            assert client.get("/" + address).status_code == 200


def test_markup_in_a_label_is_text(client: TestClient) -> None:
    label = '100% silk organza, "<script>alert(1)</script>" <img src=x onerror=y>'
    reply = client.get("/", params={"label": label, "for": "lined"})
    assert "<script>alert" not in reply.text
    assert "<img" not in reply.text
    assert "&lt;script&gt;" in reply.text


def test_the_api_answers_as_the_command_does(client: TestClient) -> None:
    wanted = card_json(make_card(LABEL, "lined, one night", window=True))
    assert (
        client.get("/api/card", params={"label": LABEL, "for": "lined, one night"}).json() == wanted
    )
    twice = client.get(
        "/api/card", params=[("label", LABEL), ("for", "lined"), ("for", "one night")]
    )
    assert twice.json() == wanted
    press = client.get("/api/press", params={"label": LABEL}).json()
    assert press["format"] == "samite.press.v1"
    assert press["best"] == client.get("/api/card", params={"label": LABEL}).json()["press"]


def test_the_card_comes_as_a_pdf(client: TestClient) -> None:
    reply = client.get("/card.pdf", params={"label": LABEL})
    assert reply.headers["content-type"] == "application/pdf"
    assert reply.content.startswith(b"%PDF-")
