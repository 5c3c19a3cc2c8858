"""My iron through every face: command, JSON, text, paper, page and its links."""

from __future__ import annotations

import html
import json
import re
from pathlib import Path
from urllib.parse import parse_qs, urlsplit

import jsonschema
import pypdfium2 as pdfium
import pytest
from click.testing import CliRunner
from fastapi.testclient import TestClient
from tests.contracts.tree import ROOT

from samite.cli import main
from samite.services.card import card_json, make_card
from samite.services.iron import load_iron
from samite.services.paper import card_pdf
from samite.services.press import press_window_view
from samite.web.app import make_app

LABEL = "polyester satin, 150 g/m2"
MINE = """format = "samite.iron.v1"
name = "green iron"
steams_from = "linen"
[dial.silk]
dots = 2
readings_c = [138, 146, 142]
[dial.linen]
dots = 3
[hold]
clapper = false
"""
WRONG = 'format = "samite.iron.v1"\nmass_kg = -1\n[dial.b]\ndots = 2\nsole_c = 300\n'


def run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    with pytest.raises(SystemExit) as left:
        main(list(words))
    told = capsys.readouterr()
    return int(left.value.code or 0), told.out, told.err


@pytest.fixture
def mine(tmp_path: Path) -> str:
    path = tmp_path / "iron.toml"
    path.write_text(MINE, encoding="utf-8")
    return str(path)


@pytest.fixture(scope="module")
def client() -> TestClient:
    return TestClient(make_app())


def test_the_card_counts_with_it_and_says_so(capsys: pytest.CaptureFixture[str], mine: str):
    code, out, _ = run(capsys, "card", LABEL, "--iron", mine, "--json")
    card = json.loads(out)
    assert code == 0
    iron = card["iron"]
    assert (iron["name"], iron["kind"], iron["measured"]) == ("green iron", "iron", True)
    assert iron["dials"]["medium"]["sole_c"]["value"] == 142.0
    assert iron["dials"]["medium"]["word"] == "silk"
    assert [iron["dials"][key]["measured"] for key in ("low", "medium", "high")] == [
        False,
        True,
        False,
    ]
    assert card["press"]["steam"] == "none"
    assert card["press"]["hold"]["tool"] == "weight"
    jsonschema.validate(
        card, json.loads((ROOT / "docs" / "faces" / "card.v1.schema.json").read_text())
    )
    text = run(capsys, "card", LABEL, "--iron", mine, "--why", "4")[1]
    flat = " ".join(text.split())
    assert 'counted for: green iron: two dots ("silk")' in flat
    assert "no clapper at hand" in flat


def test_without_a_file_the_answer_says_that_nothing_was_measured(
    capsys: pytest.CaptureFixture[str],
):
    out = run(capsys, "press", LABEL, "--json")[1]
    iron = json.loads(out)["iron"]
    assert not iron["measured"]
    assert "unmeasured household iron" in iron["words"]
    assert iron["words"] in " ".join(run(capsys, "press", LABEL)[1].split())


def test_a_measured_sole_narrows_what_the_face_gets():
    usual = press_window_view(LABEL)
    iron = load_iron(
        'format = "samite.iron.v1"\n[dial.b]\ndots = 2\nreadings_c = [127, 133, 130]\n'
    )
    measured = press_window_view(LABEL, iron=iron)

    def width(view: dict[str, object]) -> float:
        item = next(
            x
            for x in view["techniques"]
            if (x["iron"], x["steam"], x["cloth"], x["side"]) == ("medium", "none", "dry", "wrong")
        )
        return item["core_c"]["p95"][-1] - item["core_c"]["p05"][-1]

    assert width(measured) < width(usual)


def test_every_problem_of_a_file_is_told_with_exit_code_two(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
):
    path = tmp_path / "wrong.toml"
    path.write_text(WRONG, encoding="utf-8")
    for command in ("card", "press"):
        code, out, err = run(capsys, command, LABEL, "--iron", str(path))
        assert (code, out) == (2, "")
        assert "line 2: mass_kg" in err
        assert "line 5: dial.b.sole_c: 300 C is hotter than any iron" in err
        assert '"300 F"' in err
        assert "Traceback" not in err


@pytest.mark.parametrize("content", [b"\xff\xfe\x00", b"", b"\x00\x01"])
def test_what_is_no_text_is_refused(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, content: bytes
):
    path = tmp_path / "odd.toml"
    path.write_bytes(content)
    code, _, err = run(capsys, "card", LABEL, "--iron", str(path))
    assert code == 2
    assert "mend:" in err


def test_a_file_that_is_not_there_and_an_iron_for_the_bare_solver_are_refused(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, mine: str
):
    assert run(capsys, "press", LABEL, "--iron", str(tmp_path / "none.toml"))[0] == 2
    code, _, err = run(capsys, "press", "--stack", mine, "--iron", mine)
    assert code == 2
    assert "knows no iron" in err


def test_the_paper_says_which_iron():
    card = make_card(LABEL, window=True, iron=load_iron(MINE))
    pages = pdfium.PdfDocument(card_pdf(card))
    text = " ".join(pages[0].get_textpage().get_text_range().split())
    assert "green iron" in text


FIELDS = {"medium_c": "142", "steams": "high", "no_clapper": "yes"}


def test_the_page_counts_with_the_fields_and_keeps_them(client: TestClient):
    page = client.get("/", params={"label": LABEL, **FIELDS})
    assert page.status_code == 200
    assert re.search(r'name="medium_c" value="142"', page.text)
    assert re.search(r'<option value="high" selected', page.text)
    assert re.search(r'name="no_clapper" value="yes" checked', page.text)
    assert re.search(r'<details class="more" id="my-iron" open', page.text)
    assert "two dots 139 to 145" in page.text
    assert "under a weight" in page.text
    told = client.get("/api/card", params={"label": LABEL, **FIELDS}).json()
    assert told["press"]["steam"] == "none"
    assert told["iron"]["measured"]


@pytest.mark.parametrize("start", ["?", "card.pdf?"])
def test_every_link_carries_the_iron(client: TestClient, start: str):
    text = client.get("/", params={"label": "velvet", **FIELDS}).text
    links = [html.unescape(x) for x in re.findall(r'href="([^"]+)"', text)]
    ours = [x for x in links if x.startswith(start) and "label=" in x]
    assert ours
    for link in ours:
        query = parse_qs(urlsplit(link).query)
        assert all(query[name] == [value] for name, value in FIELDS.items()), link
    assert re.search(r'type="hidden" name="medium_c" value="142"', text)


def test_the_pasted_file_says_the_same_as_the_command(client: TestClient):
    told = client.get("/api/card", params={"label": LABEL, "iron": MINE}).json()
    assert told == json.loads(
        json.dumps(card_json(make_card(LABEL, window=True, iron=load_iron(MINE))))
    )


@pytest.mark.parametrize("path", ["/", "/part/card", "/part/window", "/api/card", "/card.pdf"])
@pytest.mark.parametrize(
    ("query", "where"),
    [
        ({"low_c": "warm"}, "one dot"),
        ({"high_c": "390"}, "three dots"),
        ({"low_c": "140", "medium_c": "120"}, "one dot"),
        ({"steams": "sometimes"}, "steams from"),
        ({"iron": WRONG}, "lines 2, 5"),
        ({"iron": MINE, "low_c": "99"}, "file"),
    ],
)
def test_what_cannot_be_stands_beside_its_field(
    client: TestClient, path: str, query: dict[str, str], where: str
):
    reply = client.get(path, params={"label": LABEL, **query})
    assert reply.status_code == 422
    assert where in reply.text
    if path == "/part/card":
        assert 'data-beside="iron"' in reply.text
    if path == "/":
        for value in query.values():
            assert html.escape(value, quote=False).replace('"', "&#34;") in reply.text
        box = reply.text[reply.text.index('id="my-iron"') :]
        assert 'class="error"' in box
        assert 'class="error"' not in reply.text[: reply.text.index('id="my-iron"')]


def test_markup_in_an_iron_is_text(client: TestClient):
    file = 'format = "samite.iron.v1"\nname = "<script>x</script>"\n'
    text = client.get("/", params={"label": LABEL, "iron": file}).text
    assert "<script>x" not in text
    assert "&lt;script&gt;x" in text


def test_help_names_the_option():
    from samite.cli.card import command

    assert "--iron" in CliRunner().invoke(command, ["--help"]).output
