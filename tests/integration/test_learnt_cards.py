"""Card and press learn from the store; without swatches nothing changes, and what is set aside goes back."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from fastapi.testclient import TestClient

from samite.cli import samite
from samite.press import decide
from samite.press.dials import Dial
from samite.services.card import card_json, make_card
from samite.services.journal import Entry, record_swatch, set_aside
from samite.services.kept_window import kept_window
from samite.services.past import kind_of, past_of
from samite.swatch.seen import Finding, Sign
from samite.swatch.trial import PressTrial, SewTrial
from samite.web.app import make_app

DAY = date(2031, 2, 3)
SATIN = "polyester satin, 150 g/m2"


def keep(store: Path, label: str, trial: PressTrial, *signs: Sign) -> str:
    findings = tuple(Finding(sign) for sign in signs)
    kept: str = record_swatch(store, Entry(label, DAY, findings, press=trial), DAY)["key"]
    return kept


def card(store: Path, label: str = SATIN) -> dict[str, Any]:
    return card_json(make_card(label, window=True, past=past_of(store, label)))


FINE = PressTrial(Dial.MEDIUM, "none", "dry", "wrong", 10.0)
SHINE = PressTrial(Dial.MEDIUM, "none", "dry", "wrong", 3.0)


@pytest.fixture
def store(tmp_path: Path) -> Path:
    return tmp_path / "store.sqlite"


@pytest.fixture(autouse=True)
def fewer_draws(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """What is told is asked here, not how exactly it is computed; nobody else gets to see it."""
    for name, count in (("SCREEN_DRAWS", 40), ("FULL_DRAWS", 80), ("HOLD_DRAWS", 40)):
        monkeypatch.setattr(decide, name, count)
    kept_window.cache_clear()
    yield
    kept_window.cache_clear()


def test_without_a_store_the_card_is_what_it_was(store: Path) -> None:
    assert past_of(store, SATIN) is None
    assert past_of(None, SATIN) is None
    assert "learnt" not in card(store)
    assert not store.exists()


def test_a_swatch_is_learnt_from_and_set_aside_it_goes_back(store: Path) -> None:
    before = card(store)
    key = keep(store, SATIN, FINE, Sign.SET_FLAT)
    learnt = card(store)
    assert learnt["learnt"]["swatches"] == 1
    assert learnt["learnt"]["before"]["chance_set"] != learnt["learnt"]["after"]["chance_set"]
    assert "learnt from 1 swatch of this cloth" in learnt["learnt"]["words"][0]
    set_aside(store, key, True, DAY)
    assert card(store) == before


def test_a_failure_lowers_the_recipe_at_once(store: Path) -> None:
    before = make_card(SATIN).press.value.passes[-1]
    trial = PressTrial(before.iron, before.steam, "dry", before.side, 1.0)
    keep(store, SATIN, trial, Sign.MELTED)
    made = make_card(SATIN, past=past_of(store, SATIN))
    assert made.press.value.iron.dots < before.iron.dots
    assert any("1 s on 2031-02-03" in line for line in made.press.reason.lines(4))


def test_a_cloth_alike_lends_what_it_taught(store: Path) -> None:
    other = "polyester satin, 180 g/m2"
    assert kind_of(other) == kind_of(SATIN) != kind_of("silk satin")
    keep(store, other, FINE, Sign.SET_FLAT)
    found = card(store)["learnt"]
    assert (found["swatches"], found["alike"]) == (0, 1)
    assert past_of(store, "wool flannel") is None


def test_sewn_swatches_move_the_chances_of_the_cards_own_seam(store: Path) -> None:
    advice = make_card(SATIN).sewing
    needle, thread, stitch = advice.needle.value, advice.thread.value, advice.stitch.value
    like = SewTrial(
        2, needle.point, needle.size_nm, thread.fibre, thread.tex, stitch.type, stitch.length_mm
    )
    for signs in ((Sign.PUCKERED,), (Sign.PUCKERED,), (Sign.NOTHING,)):
        findings = tuple(Finding(sign) for sign in signs)
        record_swatch(store, Entry(SATIN, DAY, findings, sew=like), DAY)
    found = card_json(make_card(SATIN, past=past_of(store, SATIN)))
    puckered = next(item for item in found["sewn"] if item["trouble"] == "puckered")  # type: ignore[attr-defined]
    assert (puckered["seen"], puckered["tried"]) == (2, 3)
    assert 0.25 < puckered["chance"]["chance"] < 0.6
    assert "learnt" not in found


def test_command_and_page_say_what_was_learnt(store: Path) -> None:
    keep(store, SATIN, FINE, Sign.SET_FLAT)
    run = CliRunner().invoke(samite, ["press", SATIN, "--json", "--store", str(store)])
    assert json.loads(run.output)["learnt"]["swatches"] == 1
    run = CliRunner().invoke(samite, ["card", SATIN, "--store", str(store)])
    assert "LEARNT" in run.output
    client = TestClient(make_app(store), base_url="http://127.0.0.1")
    page = client.get("/", params={"label": SATIN, "window": "1"})
    assert "Learnt from 1 swatch of this cloth" in page.text
