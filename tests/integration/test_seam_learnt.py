"""Sewn swatches sharpen a joint on every face, and set aside they leave no trace."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from fastapi.testclient import TestClient

from samite.cli import samite as main
from samite.web.app import make_app

CHIFFON = "polyester chiffon, 60 g/m2"


def run(store: Path, *arguments: str) -> str:
    result = CliRunner().invoke(main, [*arguments, "--store", str(store)])
    assert result.exit_code == 0, result.output
    return result.output


def joint(store: Path, *labels: str) -> dict[str, Any]:
    told: dict[str, Any] = json.loads(run(store, "seam", *labels, "--json"))
    return told


def sew(store: Path, *arguments: str) -> str:
    kept = run(
        store, "swatch", "add", CHIFFON, "--tried", "sewing", "--layers", "2",
        "--needle-point", "sharp", "--needle-size", "70", "--thread-fibre", "polyester",
        "--thread-tex", "18 tex", "--stitch-type", "301", "--stitch-length", "1.8 mm",
        "--stitch-width", "0 mm", "--tension", "4", "--stretched", "5 %", *arguments, "--json",
    )  # fmt: skip
    return str(json.loads(kept)["key"])


def test_a_joint_learns_and_a_swatch_set_aside_takes_it_back(tmp_path: Path) -> None:
    store = tmp_path / "store.sqlite"
    before = joint(store, CHIFFON)
    assert before["learnt"] is None
    keys = [sew(store, "--seen", "perforated", "--seen", "broke", "--hung", "2 kg") for _ in "ab"]
    after = joint(store, CHIFFON)
    learnt = after["learnt"]
    assert learnt["swatches"] == 2
    holes = next(item for item in learnt["troubles"] if item["trouble"] == "perforated")
    assert holes["after"] > 0.5 > holes["before"]
    assert (holes["seen"], holes["tried"]) == (2, 2)
    assert after["status"] == "compromise"
    assert any("perforated" in text for text in after["why"])
    force = learnt["numbers"]["strength_n_per_cm"]
    assert force["after"][1] < force["before"][1] == before["numbers"]["strength_n_per_cm"]
    assert after["ranges"]["strength_n_per_cm"]["grade"] == "measured-here"
    assert "LEARNT   from 2 sewn swatches" in run(store, "seam", CHIFFON)
    for key in keys:
        run(store, "swatch", "set-aside", key)
    assert joint(store, CHIFFON) == before


def test_the_page_shows_before_and_after_and_the_way_to_the_swatches(tmp_path: Path) -> None:
    store = tmp_path / "store.sqlite"
    sew(store, "--seen", "puckered")
    page = TestClient(make_app(store), base_url="http://127.0.0.1")
    text = page.get("/seam", params={"label": CHIFFON, "label2": "silk organza, 40 g/m2"}).text
    assert "What your swatches taught" in text
    assert "./swatch-learnt?" in text
    assert "puckered, chance" in text  # the drawing says in words what it shows
    plain = page.get("/seam", params={"label": "silk organza, 40 g/m2"}).text
    assert "What your swatches taught" not in plain


@pytest.mark.parametrize(("hung", "word"), [("900 kg", "hung"), ("two", "hung")])
def test_an_impossible_weight_is_told_beside_its_field(
    tmp_path: Path, hung: str, word: str
) -> None:
    result = CliRunner().invoke(
        main,
        [
            "swatch", "add", CHIFFON, "--tried", "sewing", "--seen", "nothing", "--hung", hung,
            "--store", str(tmp_path / "store.sqlite"),
        ],
    )  # fmt: skip
    assert result.exit_code != 0
    assert word in f"{result.output} {getattr(result.exception, 'where', '')}"
