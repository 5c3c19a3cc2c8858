"""The lay page, in-process: orders, work in the background, going on, files, what is refused."""

from __future__ import annotations

import io
import re
import time
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pypdfium2
import pytest
from fastapi.testclient import TestClient

from samite.kernel.errors import UnknownNameError
from samite.services.jobs import Jobs
from samite.services.kept_answers import KeptAnswers
from samite.services.lay_desk import LayDesk, lay_desk
from samite.services.make_work import answers_folder
from samite.services.stock import list_stock
from samite.web.app import make_app

ASKED = {
    "shape": "tunic", "label": "cotton velvet, 150 cm, 18.90/m", "widths": "112 cm; 150 cm",
    "table": "120 cm", "seconds": "2",
}  # fmt: skip


@pytest.fixture(scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("lay") / "store.sqlite"


@pytest.fixture(scope="module")
def client(store: Path) -> Iterator[TestClient]:
    with TestClient(make_app(store), base_url="http://localhost") as made:
        yield made


def keys(text: str) -> list[str]:
    return re.findall(r'<article[^>]* data-key="([0-9a-f]+)"', text)


def finished(client: TestClient, key: str) -> dict[str, Any]:
    until = time.monotonic() + 200.0
    while time.monotonic() < until:
        (job,) = client.get("/api/lay/jobs", params={"key": key}).json()["jobs"]
        if job["state"] in {"done", "cancelled", "failed"}:
            return dict(job)
        time.sleep(0.2)
    raise AssertionError("the lay is not ready")


@pytest.fixture(scope="module")
def laid(client: TestClient) -> str:
    """Key of a lay that is done."""
    key = keys(client.get("/lay", params=ASKED).text)[1]
    client.post("/lay-begin", data={"key": key}, headers={"accept": "application/json"})
    assert finished(client, key)["state"] == "done"
    return key


def test_the_empty_page_asks_and_a_question_puts_lays_side_by_side(client: TestClient) -> None:
    assert "No lay yet" in client.get("/lay").text
    text = client.get("/lay", params=ASKED).text
    assert len(keys(text)) == 2
    assert keys(client.get("/lay", params=ASKED).text) == keys(text)
    assert "not laid yet" in text
    assert 'value="cotton velvet, 150 cm, 18.90/m"' in text
    assert "Begin to lay them" in text
    more = client.get("/lay", params=ASKED | {"widths": "", "options": "yes"}).text
    titles = re.findall(r"<h3>([^<]+)<", more)
    assert "Shell: both directions" in titles
    assert "Shell: folded" in titles
    assert "Shell: narrower allowances" in titles
    assert "Shell: one piece joined" in titles
    assert "Shell: tilted within the grain&#39;s tolerance" in titles
    assert "hangs a little off grain" in more


def test_a_lay_that_is_done_says_what_to_buy_and_what_is_sure(
    client: TestClient, laid: str
) -> None:
    part = client.get("/part/lay", params={"key": laid}).text
    assert re.search(r"<strong>\d+ cm</strong> to buy", part)
    assert re.search(r"\d+ cm at best", part)
    assert "<svg" in part
    assert "%" not in part.split("<svg")[0]
    lay = client.get("/api/lay", params={"key": laid}).json()
    assert lay["format"] == "samite.lay.v1"
    assert lay["verified"]


def test_a_lay_that_is_done_outlasts_a_restart(laid: str, store: Path) -> None:
    folder = answers_folder(store) / "lays"
    before = lay_desk(folder).view(laid)
    anew = LayDesk(Jobs(), KeptAnswers(folder))
    view = anew.view(laid)
    assert view.state == "done"
    assert view.answer == before.answer
    assert view.buy == before.buy
    assert replace(view.order, extra=before.order.extra) == before.order
    anew.begin(laid)
    assert anew.view(laid).state == "done"
    with pytest.raises(UnknownNameError):
        anew.view("../../lays")


def test_facings_are_asked_of_the_first_shape(client: TestClient, store: Path) -> None:
    text = client.get("/lay", params={**ASKED, "shape2": "trousers", "facing": "neck"}).text
    view = lay_desk(answers_folder(store) / "lays").view(keys(text)[0])
    assert any("facing" in piece.name for piece in view.order.problem.pieces)


def test_the_page_of_one_lay_lists_every_piece_in_order(client: TestClient, laid: str) -> None:
    text = client.get("/strip", params={"key": laid}).text
    assert "WRONG side up" in text
    assert re.findall(r"<b>(\d+) ", text) == [str(k) for k in range(1, 9)]
    assert "Pull the cloth on" in text
    assert text.count('name="pin"') == text.count('name="cut"') == 8
    assert "Left, length x width" in text


def test_the_rest_is_laid_again_round_what_is_cut(client: TestClient, laid: str) -> None:
    sent = {"key": laid, "cut": ["front 1"], "spoilt": ["side gore 1"], "act": "rest",
            "turned_out": "144 cm", "seconds": "2"}  # fmt: skip
    reply = client.post("/lay-again", data=sent, follow_redirects=False)
    assert reply.status_code == 303
    key = reply.headers["location"].partition("key=")[2]
    assert finished(client, key)["state"] == "done"
    text = client.get("/strip", params={"key": key}).text
    assert "the rest, laid again" in text
    names = re.findall(r'name="cut" value="([^"]+)"', text)
    assert "front 1" not in names
    assert "side gore 1" in names
    assert "fits on the" in text or "more than there is" in text


def test_what_is_pinned_stays(client: TestClient, laid: str) -> None:
    before = client.get("/api/lay", params={"key": laid}).json()["placements"]
    sent = {"key": laid, "pin": ["back 1"], "act": "pin", "seconds": "2"}
    reply = client.post("/lay-again", data=sent, follow_redirects=False)
    key = reply.headers["location"].partition("key=")[2]
    finished(client, key)
    after = client.get("/api/lay", params={"key": key}).json()["placements"]
    (back,) = [one for one in before if one["piece"] == "back"]
    (kept,) = [one for one in after if one["piece"] == "back"]
    assert (kept["x_mm"], kept["y_mm"]) == (back["x_mm"], back["y_mm"])
    assert 'class="pinned"' in client.get("/strip", params={"key": key}).text


def test_files_are_drawn_and_remnants_kept(client: TestClient, laid: str, store: Path) -> None:
    pdf = client.get("/lay.pdf", params={"key": laid})
    text = pypdfium2.PdfDocument(io.BytesIO(pdf.content))[0].get_textpage().get_text_range()
    assert "to buy" in text
    assert client.get("/lay.svg", params={"key": laid}).text.startswith("<svg")
    assert "SECTION" in client.get("/lay.dxf", params={"key": laid}).text
    assert client.get("/lay.exe", params={"key": laid}).status_code == 404
    client.post("/lay-keep", data={"key": laid})
    remnants = list_stock(store)["remnants"]
    assert remnants
    assert remnants[0]["one_way"]


def test_a_lay_can_be_stopped_and_keeps_its_best(client: TestClient) -> None:
    (key,) = keys(client.get("/lay", params={"shape": "trousers", "seconds": "60"}).text)
    client.post("/lay-begin", data={"key": key})
    until = time.monotonic() + 120.0
    while time.monotonic() < until:
        (job,) = client.get("/api/lay/jobs", params={"key": key}).json()["jobs"]
        if job["length_mm"]:
            break
        time.sleep(0.1)
    client.post("/lay-cancel", data={"key": key})
    job = finished(client, key)
    assert job["state"] == "cancelled"
    assert job["length_mm"]
    assert job["seconds"] < 59.0


@pytest.mark.parametrize(
    ("query", "part"),
    [
        ({"shape": "no-such"}, "no shape"),
        ({"shape": "tunic", "widths": "3 cm"}, "impossible"),
        ({"shape": "tunic", "m.stature": "7 cm"}, "impossible"),
        ({"shape": "tunic", "seconds": "1e9"}, "no time"),
        ({"shape": "tunic", "join": "sash"}, "no piece"),
    ],
)
def test_what_cannot_be_asked_is_told_beside_what_was_typed(
    client: TestClient, query: dict[str, str], part: str
) -> None:
    reply = client.get("/lay", params=query)
    assert reply.status_code == 422
    assert part in reply.text
    assert "defect" not in reply.text


def test_an_unknown_lay_and_a_change_from_elsewhere_are_refused(
    client: TestClient, laid: str
) -> None:
    assert "no longer on the table" in client.get("/strip", params={"key": "abc"}).text
    foreign = client.post("/lay-begin", data={"key": laid}, headers={"origin": "http://other"})
    assert foreign.status_code == 422
    bad = client.post("/lay-again", data={"key": laid, "act": "rest", "flaws": "a hole"})
    assert bad.status_code == 422
    assert "is no flaw" in bad.text
