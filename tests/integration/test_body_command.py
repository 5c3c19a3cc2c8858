"""Bodies kept under a name, used, and erased for good."""

from __future__ import annotations

import json
import stat
from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner

from samite.cli import samite
from samite.kernel.errors import InputError, OutOfRangeError, UnknownNameError
from samite.services.archive import export_archive, import_archive
from samite.services.bodies import body_names, kept_body
from samite.services.journal import turn_back

TODAY = date(2031, 2, 3)


@pytest.fixture(autouse=True)
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("SAMITE_STORE", str(tmp_path / "store.sqlite"))
    return tmp_path / "store.sqlite"


def run(*words: str) -> str:
    done = CliRunner().invoke(samite, list(words), catch_exceptions=False)
    assert done.exit_code == 0
    return done.output


def test_a_body_is_kept_used_and_erased(place: Path) -> None:
    run("body", "keep", "Łucja / 2nd", "--measure", "waist_girth=70 cm", "--group", "women")
    assert run("body", "list").strip() == "Łucja / 2nd"
    assert stat.S_IMODE(place.stat().st_mode) == 0o600
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
    assert run("body", "list").strip() == ""
    with pytest.raises(UnknownNameError):
        CliRunner().invoke(samite, ["body", "erase", "Łucja / 2nd"], catch_exceptions=False)


def test_an_impossible_body_is_not_kept_and_a_doubtful_one_is_told(place: Path) -> None:
    with pytest.raises(OutOfRangeError):
        CliRunner().invoke(
            samite, ["body", "keep", "x", "--measure", "waist_girth=7 cm"], catch_exceptions=False
        )
    assert run("body", "list").strip() == ""
    told = run("body", "keep", "x", "--group", "women", "--measure", "waist_girth=37",
               "--measure", "hip_girth=98", "--measure", "bust_girth=92")  # fmt: skip
    assert "measured on the half" in told


def test_what_is_erased_is_in_no_file_and_cannot_be_brought_back(place: Path) -> None:
    run("body", "keep", "Łucja", "--measure", "waist_girth=70.25 cm")
    run("body", "keep", "other", "--measure", "waist_girth=81 cm")
    run("body", "keep", "Łucja", "--measure", "waist_girth=71.75 cm")
    run("body", "erase", " łucja ")
    left = b"".join(path.read_bytes() for path in place.parent.rglob("*") if path.is_file())
    for trace in ("Łucja", "łucja", "70.25", "71.75"):
        assert trace.encode() not in left
        assert json.dumps(trace)[1:-1].encode() not in left
    assert turn_back(place)["undone"] == "body kept"
    assert body_names(place) == []
    assert turn_back(place)["undone"] == ""
    assert turn_back(place, again=True)["done_again"] == "body kept"
    assert body_names(place) == ["other"]


def test_a_body_goes_into_the_bin_and_out_and_back_by_undo(place: Path) -> None:
    run("body", "keep", "x", "--measure", "waist_girth=70 cm")
    run("body", "keep", "X ", "--measure", "waist_girth=72 cm")
    assert kept_body(place, "x")["measures"] == {"waist_girth": "72 cm"}
    turn_back(place)
    assert kept_body(place, "x")["measures"] == {"waist_girth": "70 cm"}
    run("body", "bin", "x")
    told = json.loads(run("body", "list", "--json"))
    assert (told["names"], told["binned"]) == ([], ["x"])
    run("body", "bin", "x", "--back")
    assert body_names(place) == ["x"]
    run("body", "bin", "x")
    run("body", "keep", "x", "--measure", "waist_girth=75 cm")
    with pytest.raises(InputError, match="another body of that name"):
        CliRunner().invoke(samite, ["body", "bin", "x", "--back"], catch_exceptions=False)
    run("store", "empty-bin", "--yes")
    assert body_names(place, binned=True) == []
    assert body_names(place) == ["x"]


def test_an_archive_carries_bodies(place: Path, tmp_path: Path) -> None:
    run("body", "keep", "x", "--measure", "waist_girth=70 cm", "--group", "girls", "--age", "8")
    export_archive(place, tmp_path / "all.zip")
    other = tmp_path / "other.sqlite"
    assert import_archive(other, tmp_path / "all.zip", TODAY)["counts"]["body"] == 1
    told, wanted = kept_body(other, "x"), kept_body(place, "x")
    assert told | {"version": 0} == wanted | {"version": 0}


def test_a_name_has_letters_but_not_too_many(place: Path) -> None:
    for name in (" ", "x" * 100):
        with pytest.raises(InputError, match="short name"):
            CliRunner().invoke(
                samite, ["body", "keep", name, "--group", "women"], catch_exceptions=False
            )


def test_every_tape_is_told() -> None:
    assert "string" in run("body", "tapes")
    assert len(json.loads(run("body", "tapes", "--json"))["measures"]) > 40
