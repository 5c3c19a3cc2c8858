"""Pages of costume jobs: list, change, computing in the background, ticks."""

from __future__ import annotations

import re
import time
from pathlib import Path

import pytest
from fastapi.testclient import TestClient
from httpx2 import Response
from tests.integration.test_job import JOB

from samite.web.app import make_app

ONE_CLOTH = JOB.replace('lining = "lining"\n', "").replace("due = 2031-02-02", "due = 2231-02-02")


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory) -> TestClient:
    store: Path = tmp_path_factory.mktemp("jobs") / "samite.sqlite"
    return TestClient(make_app(store), base_url="http://localhost")


@pytest.fixture(scope="module")
def key(page: TestClient) -> str:
    sent = page.post("/job-new", data={"text": ONE_CLOTH}, follow_redirects=False)
    assert sent.status_code == 303
    return sent.headers["location"].partition("key=")[2]


def version(page: TestClient, key: str) -> str:
    found = re.search(r'name="version" value="(\d+)"', page.get(f"/job-edit?key={key}").text)
    assert found
    return found[1]


def test_a_new_job_stands_in_the_list_and_says_what_is_missing(page: TestClient, key: str) -> None:
    assert "A lantern skirt" in page.get("/jobs").text
    shown = page.get(f"/job?key={key}").text
    assert "answers are to be computed" in shown
    assert page.get(f"/job.toml?key={key}").text == ONE_CLOTH


def test_a_form_changes_its_own_line_alone(page: TestClient, key: str) -> None:
    data = {"key": key, "section": "cloth/lawn", "v.price": "11/m", "version": version(page, key)}
    assert page.post("/job-section", data=data, follow_redirects=False).status_code == 303
    text = page.get(f"/job.toml?key={key}").text
    assert text == ONE_CLOTH.replace('price = "10/m"', 'price = "11/m"')


def test_a_change_of_what_has_changed_meanwhile_is_refused(page: TestClient, key: str) -> None:
    old = version(page, key)
    for price, status in (("12/m", 303), ("13/m", 409)):
        data = {"key": key, "section": "cloth/lawn", "v.price": price, "version": old}
        assert page.post("/job-section", data=data, follow_redirects=False).status_code == status
    assert 'price = "12/m"' in page.get(f"/job.toml?key={key}").text


def test_what_is_added_is_there_and_what_is_taken_out_is_gone(page: TestClient, key: str) -> None:
    add = {"key": key, "section": "cloth", "name": "dusk", "v.label": "wool flannel, 150 cm"}
    assert page.post("/job-add", data=add, follow_redirects=False).status_code == 303
    assert "[cloth.dusk]" in page.get(f"/job.toml?key={key}").text
    out = {"key": key, "section": "cloth/dusk", "remove": "1"}
    assert page.post("/job-section", data=out, follow_redirects=False).status_code == 303
    assert "dusk" not in page.get(f"/job.toml?key={key}").text


def test_what_cannot_be_is_refused_and_nothing_is_lost(page: TestClient, key: str) -> None:
    before = page.get(f"/job.toml?key={key}").text
    bad = {"key": key, "section": "cloth", "name": "two words", "v.label": "x"}
    refused = page.post("/job-add", data=bad, follow_redirects=False)
    assert refused.status_code == 422
    assert "no name for a section" in refused.text
    assert page.get(f"/job.toml?key={key}").text == before
    assert page.get("/job?key=ffffffffffff").status_code == 422
    assert page.post("/job-new", data={"text": " "}).status_code == 422


def send(page: TestClient, key: str, where: str, **fields: str) -> Response:
    data = {"key": key, "version": version(page, key), **fields}
    return page.post(where, data=data, follow_redirects=False)


def test_every_section_of_a_job_has_a_form(page: TestClient, key: str) -> None:
    before = page.get(f"/job.toml?key={key}").text
    costume = "costume/skirt"
    for section, name, field, value in (
        (f"{costume}/join", "hem", "v.first", "skirt.hem"),
        (f"{costume}/trim", "braid", "v.length", "3 m"),
        (f"{costume}/notion", "belt", "v.kind", "elastic"),
    ):
        assert send(page, key, "/job-add", section=section, name=name, **{field: value})
        text = page.get(f"/job.toml?key={key}").text
        assert f"[{section.replace('/', '.')}.{name}]" in text
        out = send(page, key, "/job-section", section=f"{section}/{name}", remove="1")
        assert out.status_code == 303
    piece = f"{costume}/piece/skirt"
    assert send(page, key, "/job-section", section=piece, **{"v.lining": "lining"})
    assert 'lining = "lining"' in page.get(f"/job.toml?key={key}").text
    assert send(page, key, "/job-section", section=piece, **{"v.lining": ""})
    for section, field, value in (
        ("", "v.due", "2231-03-03"), ("money", "v.prices/bobbin", "0.5"), ("have", "v.bobbin", "9"),
        ("hours", "v.monday", "18:00-20:00"), ("person/mara", "v.measures/head_girth", "56 cm"),
    ):  # fmt: skip
        sent = send(page, key, "/job-section", section=section, **{field: value})
        assert sent.status_code == 303
        assert value in page.get(f"/job.toml?key={key}").text
    room = send(page, key, "/job-workroom", machine="zigzag", foot="normal", needles="", threads="")
    assert room.status_code == 303
    shown = page.get(f"/job-edit?key={key}").text
    assert re.search(r'value="zigzag" checked', shown)
    assert 'name="v.measures/knee_height"' in shown
    send(page, key, "/job-text", text=before)
    assert page.get(f"/job.toml?key={key}").text == before


def test_what_is_wrong_stands_beside_its_field_and_what_was_typed_is_kept(
    page: TestClient, key: str
) -> None:
    before = page.get(f"/job.toml?key={key}").text
    send(page, key, "/job-section", section="person/mara", **{"v.measures/waist_girth": "ten"})
    shown = page.get(f"/job-edit?key={key}").text
    field = re.search(r'name="v.measures/waist_girth" value="ten"[^>]*aria-invalid="true"', shown)
    assert field
    line = page.get(f"/job.toml?key={key}").text.splitlines().index(
        'measures = { stature = "168 cm", waist_girth = "ten" }'
    ) + 1  # fmt: skip
    assert f"line {line}: " in shown
    send(page, key, "/job-text", text=before)
    bad = send(page, key, "/job-add", section="cloth", name="two words", **{"v.label": "my wool"})
    assert bad.status_code == 422
    assert 'value="two words"' in bad.text
    assert 'value="my wool"' in bad.text
    stale = page.post("/job-text", data={"key": key, "version": "1", "text": "title = 'mine'"})
    assert stale.status_code == 409
    assert "title = &#39;mine&#39;" in stale.text
    assert page.get(f"/job.toml?key={key}").text == before


def test_a_job_sent_from_elsewhere_is_not_kept(page: TestClient) -> None:
    foreign = {"origin": "http://elsewhere.example"}
    assert page.post("/job-new", data={"text": ONE_CLOTH}, headers=foreign).status_code == 422


def test_long_work_runs_in_the_background_and_is_kept(page: TestClient, key: str) -> None:
    begun = page.post("/job-make", data={"key": key}, follow_redirects=False)
    assert begun.status_code == 303
    until = time.monotonic() + 240.0
    while time.monotonic() < until:
        state = page.get(f"/api/job-state?key={key}").json()
        if state["state"] in ("done", "failed", "cancelled"):
            break
        time.sleep(0.5)
    assert state["state"] == "done", state
    shown = page.get(f"/job?key={key}").text
    for head in ("To buy", "Cutting", "Labels and cautions"):
        assert head in shown
    assert page.get(f"/job.pdf?key={key}").content.startswith(b"%PDF")
    assert page.get(f"/job.zip?key={key}").content.startswith(b"PK")
    what = re.search(r'name="what" value="(buy [^"]+)"', shown)
    assert what
    ticked = {"key": key, "what": what[1].replace("&#39;", "'"), "done": "1"}
    assert page.post("/job-tick", data=ticked, follow_redirects=False).status_code == 303
    assert 'aria-pressed="true"' in page.get(f"/job?key={key}").text
