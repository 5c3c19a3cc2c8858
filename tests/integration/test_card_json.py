"""The card's JSON against its schema, and the commands as a person runs them."""

from __future__ import annotations

import io
import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from tests.practice.agreement import practice_rows

from samite.cli import main
from samite.services.card import card_json, make_card

ROOT = Path(__file__).parents[2]
SCHEMA = json.loads((ROOT / "docs/faces/card.v1.schema.json").read_text(encoding="utf-8"))
VALIDATOR = jsonschema.Draft202012Validator(SCHEMA)


def check(card: dict[str, Any]) -> None:
    VALIDATOR.validate(json.loads(json.dumps(card, allow_nan=False)))


def run(*words: str, text: bytes | None = None) -> subprocess.CompletedProcess[bytes]:
    code = "import sys; from samite.cli import main; main(sys.argv[1:])"
    command = [sys.executable, "-c", code, *words]
    return subprocess.run(command, input=text, capture_output=True, check=False, timeout=60)


@pytest.mark.parametrize("row", practice_rows(), ids=lambda row: row["id"])
def test_every_cloth_gives_a_card_that_fits_the_schema(row: dict[str, str]) -> None:
    check(card_json(make_card(row["cloth"])))


@pytest.mark.parametrize(
    "label",
    [
        "94% polyester 6% elastane velvet with stuck-on glitter, 150 cm, 290 g/m2",
        "silk organza 5 momme",
        "faux fur acrylic, 900 g/m2",
        "PVC film",
        "something shiny, 150 cm",
    ],
)
def test_a_card_with_its_window_fits_the_schema(label: str) -> None:
    card = card_json(make_card(label, window=True))
    check(card)
    press = card["press"]
    touching = [step for step in press["passes"] if step["steam"] != "hover"]  # type: ignore[index]
    if press["iron"] == "none":  # type: ignore[index]
        assert press["cloth"] is False  # type: ignore[index]
        assert not touching


def test_no_fibre_named_is_answered_by_the_worst_case() -> None:
    card = card_json(make_card("shiny party fabric, 150 cm"))
    assert "fibres of the cloth" in card["cloth"]["unknown"]  # type: ignore[index]
    assert card["press"]["iron"] in ("none", "low")  # type: ignore[index]
    assert card["swatches"]


def test_card_command_prints_one_document() -> None:
    done = run("card", "100% silk chiffon, 8 momme", "--json")
    assert done.returncode == 0, done.stderr
    check(json.loads(done.stdout))
    assert done.stderr == b""


def test_card_fits_80_columns_and_says_what_to_do_in_order() -> None:
    done = run("card", "polyester-metallic brocade, 90/10, 280 g/m2", "--why", "4")
    lines = done.stdout.decode().splitlines()
    assert max(map(len, lines)) <= 80
    order = [line[:9].split()[1] for line in lines if line[:1] in "123456" and line[1:2] == " "]
    assert order == ["CUT", "HOLD", "NEEDLE", "STITCH", "SEAM", "PRESS"]


@pytest.mark.parametrize(
    ("label", "says"),
    [
        ("60% polyester 60% cotton", "120"),
        ("90% polyester 10% elasthanx", "elasthanx"),
        ("", "empty"),
        ("polyester\x00 velvet", "control"),
        ("80% polyester", "80"),
    ],
)
def test_a_bad_label_exits_2_and_says_what_where_and_how(
    label: str, says: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(label.encode())))
    with pytest.raises(SystemExit) as left:
        main(["card", "-"])
    assert left.value.code == 2
    told = capsys.readouterr()
    assert says in told.err
    assert "where:" in told.err
    assert "mend:" in told.err
    assert told.out == ""


def test_a_megabyte_of_text_exits_2() -> None:
    done = run("card", "-", text=b"polyester " * 120_000)
    assert done.returncode == 2
    assert b"mend:" in done.stderr


def test_a_use_that_is_not_known_exits_2_and_names_those_that_are() -> None:
    done = run("card", "polyester satin", "--for", "upside down")
    assert done.returncode == 2
    assert b"lined" in done.stderr


@pytest.mark.parametrize("content", ["", "[]", "{", '{"layers": 3}', "nul"])
def test_a_bad_stack_file_exits_2(tmp_path: Path, content: str) -> None:
    path = tmp_path / "stack.json"
    path.write_text(content, encoding="utf-8")
    done = run("press", "--stack", str(path))
    assert done.returncode == 2
    assert b"where:" in done.stderr


def test_press_command_covers_55_techniques() -> None:
    done = run("press", "polyester crepe, 180 g/m2", "--json")
    assert done.returncode == 0, done.stderr
    view = json.loads(done.stdout)
    assert view["format"] == "samite.press.v1"
    assert len(view["techniques"]) == 55
    assert len(view["moved_most"]) == 2


def test_rescue_command_answers_and_refuses() -> None:
    done = run("rescue", "water ring", "silk charmeuse", "--json")
    assert done.returncode == 0, done.stderr
    assert json.loads(done.stdout)["steps"]
    assert run("rescue", "alien slime", "silk charmeuse").returncode == 2


def test_what_it_is_for_changes_the_answer() -> None:
    label = "polyester organza, 35 g/m2"
    plain = card_json(make_card(label))
    gathered = card_json(make_card(label, "gathered"))
    assert plain["seam"]["finish"] == "french"  # type: ignore[index]
    assert gathered["seam"]["finish"] == "narrow-double"  # type: ignore[index]
    satin = "polyester satin, 200 g/m2"
    once = card_json(make_card(satin, "one night, lined"))
    often = card_json(make_card(satin, "forty wearings"))
    assert once["seam"]["finish"] != often["seam"]["finish"]  # type: ignore[index]
    fitted = card_json(make_card(satin, "fitted"))
    assert fitted["stitch"]["length_mm"] < often["stitch"]["length_mm"]  # type: ignore[index]
    child = card_json(make_card("sequin mesh", "child"))
    kinds = [caution["kind"] for caution in child["cautions"]]  # type: ignore[union-attr]
    assert "child" in kinds
