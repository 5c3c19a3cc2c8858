"""Bodies kept under a name, used, and erased for good."""

from __future__ import annotations

import json
import stat
from pathlib import Path

import pytest
from click.testing import CliRunner

from samite.cli import samite
from samite.kernel.errors import InputError, OutOfRangeError, UnknownNameError
from samite.store.bodies import BodyFiles


@pytest.fixture(autouse=True)
def own_home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("SAMITE_HOME", str(tmp_path))
    return tmp_path


def run(*words: str) -> str:
    done = CliRunner().invoke(samite, list(words), catch_exceptions=False)
    assert done.exit_code == 0
    return done.output


def test_a_body_is_kept_used_and_erased(own_home: Path) -> None:
    run("body", "keep", "Łucja / 2nd", "--measure", "waist_girth=70 cm", "--group", "women")
    assert run("body", "list").strip() == "Łucja / 2nd"
    (path,) = (own_home / "bodies").iterdir()
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    found = json.loads(
        run("piece", "circle-skirt", "--body", "Łucja / 2nd", "--set", "length=60", "--json")
    )
    assert found["values"]["waist_length_mm"] == pytest.approx(700.0)
    other = json.loads(
        run(
            "piece",
            "circle-skirt",
            "--body",
            "Łucja / 2nd",
            "--measure",
            "waist_girth=80",
            "--json",
        )
    )
    assert other["values"]["waist_length_mm"] == pytest.approx(800.0)
    assert json.loads(run("body", "show", "Łucja / 2nd", "--json"))["group"] == "women"
    run("body", "erase", "Łucja / 2nd")
    assert list((own_home / "bodies").iterdir()) == []
    with pytest.raises(UnknownNameError):
        CliRunner().invoke(samite, ["body", "erase", "Łucja / 2nd"], catch_exceptions=False)


def test_an_impossible_body_is_not_kept_and_a_doubtful_one_is_told(own_home: Path) -> None:
    with pytest.raises(OutOfRangeError):
        CliRunner().invoke(
            samite, ["body", "keep", "x", "--measure", "waist_girth=7 cm"], catch_exceptions=False
        )
    assert run("body", "list").strip() == ""
    told = run("body", "keep", "x", "--group", "women", "--measure", "waist_girth=37",
               "--measure", "hip_girth=98", "--measure", "bust_girth=92")  # fmt: skip
    assert "measured on the half" in told


def test_names_cannot_leave_the_folder_and_broken_files_are_told(tmp_path: Path) -> None:
    files = BodyFiles(tmp_path / "bodies")
    files.keep("../../evil", {"measures": {}})
    assert [path.parent for path in tmp_path.rglob("*.json")] == [tmp_path / "bodies"]
    (tmp_path / "bodies" / "bad.body.json").write_text("{", encoding="utf-8")
    with pytest.raises(InputError, match="broken"):
        files.take("bad")
    for name in ("", "x" * 100):
        with pytest.raises(InputError):
            files.keep(name, {})


def test_every_tape_is_told() -> None:
    assert "string" in run("body", "tapes")
    assert len(json.loads(run("body", "tapes", "--json"))["measures"]) > 40
