"""The journal's addresses in-process: form, list, changes, errors, limits and strangers."""

from __future__ import annotations

import re
from collections.abc import Iterator
from html.parser import HTMLParser
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

import pytest
from fastapi.testclient import TestClient
from tests.integration.journals import entry, rows_of
from tests.integration.test_web import Page
from tests.swatches import JPEG, TODAY

from samite.garment.bench import KeptIron
from samite.services.card import make_card
from samite.services.journal import record_swatch
from samite.services.stock import keep_stock
from samite.web.app import make_app
from samite.web.guard import LONGEST_SWATCH

WOOL = "100% wool flannel, 150 cm, 300 g/m2"
BARE = {"label": WOOL, "tried": "press", "dial": "medium", "steam": "none", "side": "wrong"}
BARE |= {"press_cloth": "dry", "seconds": "6", "seen": "set-flat"}


@pytest.fixture
def place(tmp_path: Path) -> Path:
    return tmp_path / "store.sqlite"


@pytest.fixture
def client(place: Path) -> Iterator[TestClient]:
    with TestClient(make_app(place), follow_redirects=False) as opened:
        yield opened


class Form(HTMLParser):
    """The fields of a page's form as a browser would send them."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.fields: dict[str, list[str]] = {}
        self._select = self._area = ""
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {name: value if value is not None else "" for name, value in attrs}
        name = given.get("name", "")
        if tag == "input" and name and given.get("type") != "file":
            chosen = given.get("type") not in ("checkbox", "radio") or "checked" in given
            if chosen:
                self.fields.setdefault(name, []).append(given.get("value", ""))
        elif tag == "select":
            self._select = name
        elif tag == "option" and self._select and "selected" in given:
            self.fields[self._select] = [given.get("value", "")]
        elif tag == "textarea":
            self._area = name
            self.fields[name] = [""]

    def handle_data(self, data: str) -> None:
        if self._area:
            self.fields[self._area] = [data.removeprefix("\n")]
            self._area = ""


def sent(**changed: Any) -> dict[str, Any]:
    return {**BARE, **changed}


def test_the_card_leads_to_a_form_that_is_filled_in(client: TestClient) -> None:
    page = client.get("/", params={"label": WOOL, "window": "1"}).text
    link = re.search(r'href="\.(/swatch\?[^"]+)">Keep a swatch of this', page)
    assert link
    fields = Form(client.get(link[1].replace("&amp;", "&")).text).fields
    card = make_card(WOOL, window=True)
    step = card.press.value.passes[-1]
    assert fields["label"] == [WOOL]
    assert fields["dial"] == [step.iron.value]
    assert fields["seconds"] == [f"{step.seconds[0]:g}"]
    assert fields["needle_size"] == [str(card.sewing.needle.value.size_nm)]
    assert fields["tried"] == ["press"]
    assert "seen" not in fields


def test_the_form_as_it_comes_needs_one_sign_to_be_kept(client: TestClient, place: Path) -> None:
    fields = Form(client.get("/swatch", params={"label": WOOL}).text).fields
    reply = client.post("/swatch", data={**fields, "seen": ["set-flat"]})
    assert reply.status_code == 303
    page = client.get("/" + reply.headers["location"].removeprefix("./")).text
    assert "Kept." in page
    assert "Set flat" in page
    told = client.get("/api/swatches", params={"label": WOOL}).json()
    assert told["cloths"][0]["count"] == 1
    assert told["cloths"][0]["swatches"][0]["tried"]["sew"] is None


def test_a_photo_comes_back_as_it_was(client: TestClient) -> None:
    photo = JPEG + bytes(range(256)) * 400
    files = {"photo": ("any name.jpg", photo, "text/html")}
    reply = client.post("/swatch", data=sent(), files=files)
    assert reply.status_code == 303
    page = client.get("/swatches", params={"label": WOOL}).text
    found = re.search(r'src="\.(/photo\?key=[0-9a-f]{64})"', page)
    assert found
    shown = client.get(found[1])
    assert shown.content == photo
    assert shown.headers["content-type"] == "image/jpeg"
    assert shown.headers["x-content-type-options"] == "nosniff"


@pytest.mark.parametrize(
    ("changed", "field", "told"),
    [
        ({"seconds": "-4"}, "seconds", "seconds = -4 is impossible"),
        ({"sole": "900"}, "sole", "sole = 900 is impossible"),
        ({"seen": [], "doubtful": []}, "seen", "not said what was seen"),
        ({"seen": "shrunk"}, "shrunk", "but not by how much"),
        ({"seen": "shrunk", "shrunk": "a lot"}, "shrunk", "is no quantity"),
        ({"seen": "cracked", "cracked": "-2"}, "cracked", "impossible"),
        ({"seen": "<b>"}, "seen", "is no sign"),
        ({"dial": "scorching"}, "dial", "is no dial position"),
        ({"label": " "}, "label", "no label is given"),
        ({"made_on": "2999-01-01"}, "made_on", "yet to come"),
        ({"tried": "sewing"}, "needle_size", "needle size is missing"),
        ({"tried": "hope"}, "tried", "is no trial"),
        ({"iron": "nobody's"}, "iron", "there is no iron"),
        ({"note": "n" * 4001}, "note", "4001 characters"),
    ],
)
def test_a_mistake_stands_beside_its_field_and_what_was_typed_is_kept(
    client: TestClient, place: Path, changed: dict[str, Any], field: str, told: str
) -> None:
    filled = sent(**{"note": "kept note", "doubtful": ["shine"], **changed})
    reply = client.post("/swatch", data=filled)
    assert reply.status_code == 422
    text = reply.text
    beside = text[text.index(f'id="{field}-error"') :][:1200]
    assert told in beside
    assert "mend" in beside
    fields = Form(text).fields
    for name, value in filled.items():
        known = value if isinstance(value, list) else [value]
        kept = [item.strip() for item in fields.get(name, [])]
        if known not in (["hope"], ["<b>"]):  # not to be typed, only forged
            assert kept == [item.strip() for item in known], name
    assert not place.exists() or rows_of(place)["swatches"] == []


def test_several_mistakes_are_told_at_once(client: TestClient) -> None:
    text = client.post("/swatch", data=sent(seconds="x", sole="y", shrunk="z", seen=[])).text
    assert text.count('class="error"') >= 3
    assert "aria-invalid" in text


def test_a_label_that_cannot_be_read_still_has_its_form(client: TestClient) -> None:
    reply = client.get("/swatch", params={"label": "50% polyester velvet"})
    assert reply.status_code == 200
    assert "50% polyester velvet" in reply.text
    assert 'id="label-error"><div class="error"' in reply.text.replace("\n", "")


def test_only_its_own_page_may_change_anything(client: TestClient, place: Path) -> None:
    record_swatch(place, entry(), TODAY)
    before = rows_of(place)
    key = client.get("/api/swatches").json()["cloths"][0]["swatches"][0]["key"]
    strangers = (
        {"sec-fetch-site": "cross-site"},
        {"sec-fetch-site": "same-site"},
        {"origin": "https://elsewhere.example"},
        {"origin": "null"},
        {"host": "rebound.example", "origin": "http://rebound.example"},
    )
    for path, data in (
        ("/swatch", sent()),
        ("/swatch-undo", {"again": ""}),
        ("/swatch-bin", {"key": key}),
        ("/swatch-aside", {"key": key}),
    ):
        for headers in strangers:
            reply = client.post(path, data=data, headers=headers)
            assert reply.status_code == 422, (path, headers)
            assert "from elsewhere" in reply.text
        assert client.get(path).status_code == (200 if path == "/swatch" else 405)
    assert rows_of(place) == before


@pytest.mark.parametrize(
    "host", ["127.0.0.1:8765", "192.168.1.7:8765", "[::1]:8765", "kitchen", "kitchen.lan"]
)
def test_its_own_page_may_by_any_name_of_the_home(client: TestClient, host: str) -> None:
    headers = {"host": host, "origin": f"http://{host}", "sec-fetch-site": "same-origin"}
    assert client.post("/swatch", data=sent(), headers=headers).status_code == 303


def test_set_aside_bin_and_undo_from_the_list(client: TestClient, place: Path) -> None:
    client.post("/swatch", data=sent(note="the one"))
    (cloth,) = client.get("/api/swatches").json()["cloths"]
    key = cloth["swatches"][0]["key"]
    client.post("/swatch-aside", data={"key": key})
    assert "Take in again" in client.get("/swatches", params={"label": WOOL}).text
    client.post("/swatch-aside", data={"key": key, "back": "1"})
    client.post("/swatch-bin", data={"key": key})
    assert "the one" not in client.get("/swatches", params={"label": WOOL}).text
    client.post("/swatch-undo")
    assert "the one" in client.get("/swatches", params={"label": WOOL}).text
    client.post("/swatch-undo", data={"again": "1"})
    assert "the one" not in client.get("/swatches", params={"label": WOOL}).text


def test_its_pages_name_only_their_own_files_and_hold_no_inline_code(client: TestClient) -> None:
    client.post("/swatch", data=sent(), files={"photo": ("a.jpg", JPEG + b"a", "image/jpeg")})
    replies = [
        client.get(path, params=params)
        for path, params in (
            ("/swatches", {}),
            ("/swatches", {"label": WOOL}),
            ("/swatches", {"label": "unknown"}),
            ("/swatch", {"label": WOOL}),
        )
    ] + [client.post("/swatch", data=sent(seconds="-1"))]
    for reply in replies:
        page = Page(reply.text)
        assert page.inline == []
        assert len(page.ids) == len(set(page.ids))
        assert all(re.match(r"\./|\?|#|static/", address) for address in page.addresses)
        assert "default-src 'none'" in reply.headers["content-security-policy"]


def test_what_is_written_is_never_markup(client: TestClient) -> None:
    sly = "<script>alert(1)</script>"
    client.post("/swatch", data=sent(label=f"{WOOL} {sly}", note=sly, maker=sly))
    for text in (
        client.get("/swatches").text,
        client.get("/swatches", params={"label": f"{WOOL} {sly}"}).text,
        client.get("/swatch", params={"label": sly, "dial": sly, "note": sly}).text,
    ):
        assert "<script>alert" not in text
        assert "&lt;script&gt;" in text


def test_older_ones_stand_on_further_pages(client: TestClient, place: Path) -> None:
    for number in range(53):
        record_swatch(place, entry(label=WOOL, note=f"number {number}."), TODAY)
    first = client.get("/swatches", params={"label": WOOL}).text
    assert "number 52." in first
    assert "number 2." not in first
    older = re.search(r'href="\.(/swatches\?[^"]+)">Older', first)
    assert older
    second = client.get(older[1].replace("&amp;", "&")).text
    assert "number 2." in second
    assert ">Newer<" in second
    assert ">Older<" not in second


def test_irons_that_are_kept_can_be_chosen(client: TestClient, place: Path) -> None:
    keep_stock(place, KeptIron("the heavy one"), TODAY)
    assert "the heavy one" in client.get("/swatch", params={"label": WOOL}).text
    client.post("/swatch", data=sent(iron="the heavy one"))
    assert "of the heavy one" in client.get("/swatches", params={"label": WOOL}).text


def test_a_photo_that_is_too_large_or_none_is_refused(client: TestClient) -> None:
    reply = client.post("/swatch", data=sent(), files={"photo": ("a.svg", b"<svg/>", "image/png")})
    assert reply.status_code == 422
    assert "that file is no photo" in reply.text
    assert "choose the photo again" in reply.text
    huge = {"photo": ("a.jpg", JPEG + bytes(LONGEST_SWATCH), "image/jpeg")}
    reply = client.post("/swatch", data=sent(), files=huge)
    assert reply.status_code == 413
    assert set(reply.json()) == {"code", "message", "where", "hint"}
    in_pieces = client.post("/swatch", content=iter([b"s" * 50_000] * 20))
    assert in_pieces.status_code == 413
    assert client.post("/swatches", content=b"x" * 100_000).status_code == 413


@pytest.mark.parametrize(
    "path",
    ["/photo?key=" + "a" * 64, "/photo?key=../../etc", "/photo", "/swatches?label=unknown"],
)
def test_what_is_not_there_is_told(client: TestClient, path: str) -> None:
    reply = client.get(path)
    assert reply.status_code in (422, 503)
    assert "Traceback" not in reply.text
    assert "All swatches" in reply.text


def test_a_store_that_cannot_be_opened_is_told_and_the_card_still_comes(tmp_path: Path) -> None:
    place = tmp_path / "notes.txt"
    place.write_text("no store at all " * 50)
    with TestClient(make_app(place)) as client:
        assert client.get("/", params={"label": WOOL}).status_code == 200
        for path in ("/swatches", "/swatch", "/api/swatches"):
            reply = client.get(path)
            assert reply.status_code == 503
            assert "no store of samite" in reply.text


def test_a_garbled_form_is_refused(client: TestClient) -> None:
    headers = {"content-type": "multipart/form-data; boundary=x"}
    for content in (b"", b"--x\r\n", b"--x\r\nbroken\r\n\r\n--x--", b"\xff\xfe"):
        reply = client.post("/swatch", content=content, headers=headers)
        assert reply.status_code in (400, 422)
        assert "Traceback" not in reply.text
    many = urlencode([("seen", "shine")] * 2000)
    headers = {"content-type": "application/x-www-form-urlencoded"}
    assert client.post("/swatch", content=many, headers=headers).status_code in (400, 422)
