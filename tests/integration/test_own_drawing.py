"""A drawing of one's own on the command line: asked about, answered, written like any other."""

from __future__ import annotations

import json
import time
from pathlib import Path

import ezdxf
import pytest
from click.testing import CliRunner

from samite.cli import samite
from samite.kernel.errors import InputError, OutOfRangeError, UnknownNameError
from samite.services.piece_import import import_text, read_answers

SQUARE = '<rect class="test-square" x="5" y="5" width="50" height="50"/>'
OWN = (
    '<path d="M100 100C200 80 300 80 400 100L420 600"/><path d="M420 600L90 600"/>'
    '<path d="M90 600L100 100"/><path d="M250 150V500"/><path d="M96 300h8"/>'
    '<path d="M95.9 307h8"/><path d="M500 100H800V600H500Z"/><path d="M515 115H785V585H515Z"/>'
    '<text x="600" y="300">back, cut 2, mirrored</text>'
)
ANSWERS = {"piece 2.allowance": "15 mm", "back.stitch": "yes", "back.grain": "up"}


def svg(inside: str, head: str = 'width="900mm" height="700mm" viewBox="0 0 900 700"') -> bytes:
    return f'<svg xmlns="http://www.w3.org/2000/svg" {head}>{inside}</svg>'.encode()


def run(*words: str) -> str:
    done = CliRunner().invoke(samite, list(words), catch_exceptions=False)
    assert done.exit_code == 0
    return done.output


@pytest.fixture
def own(tmp_path: Path) -> Path:
    path = tmp_path / "own.svg"
    path.write_bytes(svg(SQUARE + OWN))
    return path


def test_what_is_asked_has_a_key_and_files_wait_for_the_answers(own: Path) -> None:
    found = json.loads(run("piece", "--from", str(own), "--json"))
    assert {one["key"] for one in found["asked"]} == set(ANSWERS)
    assert found["made"] == []
    assert "50.00 mm" in found["scale_proved_by"]
    with pytest.raises(InputError, match="answer first"):
        run("piece", "--from", str(own), "--svg", str(own.with_name("out.svg")))
    assert not own.with_name("out.svg").exists()


def test_answered_it_is_finished_walked_altered_and_written_like_any_other(own: Path) -> None:
    answers = own.with_name("answers.json")
    answers.write_text(json.dumps(ANSWERS), encoding="utf-8")
    files = {kind: own.with_name(f"out.{kind}") for kind in ("svg", "pdf", "dxf")}
    found = json.loads(
        run("piece", "--from", str(own), "--answers", str(answers), "--answer",
            "piece 2.edge 1=hem, 40 mm", "--sew", "piece 2:edge 2 = back:edge 2", "--json",
            *(word for kind, path in files.items() for word in (f"--{kind}", str(path))))
    )  # fmt: skip
    made = {one["name"]: one for one in found["made"]}
    back, front = made["back"], made["piece 2"]
    assert (back["copies"], back["mirrored"]) == (2, True)
    assert {edge["allowance_mm"] for edge in back["edges"]} == {15.0}
    assert back["area_mm2"] == pytest.approx(270.0 * 470.0, rel=1e-6)
    assert front["cut_area_mm2"] == pytest.approx(found["pieces"][1]["area_mm2"], rel=1e-6)
    hem = front["edges"][0]
    assert (hem["kind"], hem["allowance_mm"]) == ("hem", 40.0)
    assert [(n["edge"], n["count"]) for n in front["notches"]] == [("edge 4", 2), ("edge 2", 1)]
    (seam,) = found["walked"]
    assert not seam["equal"]
    assert "3 lines were joined" in " ".join(found["notes"])
    drawing = ezdxf.readfile(files["dxf"])
    assert len([b for b in drawing.blocks if not b.name.startswith("*")]) == 2
    again = json.loads(run("piece", "--from", str(files["svg"]), "--json"))
    assert sorted(one["area_mm2"] for one in again["made"]) == pytest.approx(
        sorted(one["area_mm2"] for one in found["made"]), rel=1e-4
    )
    assert files["pdf"].read_bytes().startswith(b"%PDF")
    more = ("--answers", str(answers), "--answer", "piece 2.edge 1=hem, 40 mm", "--json")
    altered = json.loads(run("piece", "--from", str(own), *more, "--alter", "hem up 20 mm"))
    (shorter,) = [one for one in altered["made"] if one["name"] == "piece 2"]
    lost = front["area_mm2"] - shorter["area_mm2"]
    assert lost == pytest.approx(20.0 * hem["length_mm"], rel=0.06)
    lined = json.loads(run("piece", "--from", str(own), *more, "--lining", "--hang", "soft"))
    assert {"back lining", "piece 2 lining"} <= {one["name"] for one in lined["made"]}
    assert "hem" in " ".join(lined["notes"])
    with pytest.raises(InputError, match="own grain"):
        run("piece", "--from", str(own), *more, "--bias")
    shrunk = json.loads(run("piece", "--from", str(own), *more, "--shrink", "3 %; 2 %"))
    (larger,) = [one for one in shrunk["made"] if one["name"] == "piece 2"]
    assert larger["area_mm2"] == pytest.approx(front["area_mm2"] / 0.97 / 0.98, rel=1e-4)


def test_a_wrong_square_is_put_right_by_its_answer() -> None:
    small = svg(SQUARE.replace('"50" height="50"', '"48" height="48"') + OWN)
    asked = import_text(small).asked[0]
    assert asked.key == "scale"
    assert import_text(small, answers={"scale": "50 mm"}).read.proved
    grown = import_text(small, answers={"scale": "50 mm", **ANSWERS}).pieces[0]
    assert grown.piece.area_mm2 == pytest.approx(270.0 * 470.0 * (50.0 / 48.0) ** 2, rel=1e-3)
    with pytest.raises(InputError, match="scale"):
        import_text(small, answers={"scale": "no"})


def test_folds_marks_and_an_outline_that_crosses_itself_are_told() -> None:
    made = import_text(
        svg(
            SQUARE
            + '<path d="M100 100H400V600H100Z"/><path d="M100 100V600"/><path d="M250 200V500"/>'
            + '<g class="drill"><path d="M300 298v4"/><path d="M298 300h4"/></g>'
        ),
        answers={"allowance": "10 mm"},
    )
    (one,) = made.pieces
    assert one.piece.on_fold
    assert len(one.piece.marks) == 1
    assert one.cut.allowances_mm["fold"] == 0.0
    assert one.piece.area_mm2 == pytest.approx(290.0 * 480.0, rel=1e-9)
    bow = '<path d="M100 100H400V350L100 450V650H400V450L100 350Z"/><path d="M250 150V300"/>'
    crossed = import_text(svg(SQUARE + bow), answers={"allowance": "0"})
    assert "rest" in [q.key.rpartition(".")[2] for q in crossed.unanswered]
    with pytest.raises(InputError, match="cannot be mended"):
        import_text(svg(SQUARE + bow), answers={"allowance": "0", "rest": "no"})


@pytest.mark.parametrize(
    ("wrong", "kind"),
    [
        ({"moon": "1"}, UnknownNameError),
        ({"back.grain": "sideways"}, InputError),
        ({"piece 2.allowance": "400 mm"}, InputError),
        ({"back.copies": "many"}, InputError),
    ],
)
def test_a_wrong_answer_is_refused(wrong: dict[str, str], kind: type[Exception]) -> None:
    with pytest.raises(kind):
        import_text(svg(SQUARE + OWN), answers={**ANSWERS, **wrong})


@pytest.mark.parametrize("text", ["[]", "{", '{"a": []}', "1" * 200_000, "[" * 50_000])
def test_answers_that_are_no_object_are_refused(text: str) -> None:
    with pytest.raises(InputError):
        read_answers(text, "--answers")


def test_hostile_files_are_refused_at_once(tmp_path: Path) -> None:
    bomb = (
        b'<!DOCTYPE svg [<!ENTITY a "aaaaaaaaaa">'
        + b"".join(b'<!ENTITY %c "%s">' % (98 + k, b"&%c;" % (97 + k) * 10) for k in range(9))
        + b']><svg xmlns="http://www.w3.org/2000/svg"><text>&j;</text></svg>'
    )
    huge = tmp_path / "huge.svg"
    with huge.open("wb") as file:
        file.truncate(200_000_000)
    began = time.process_time()
    with pytest.raises(InputError, match="entities"):
        import_text(bomb)
    with pytest.raises(OutOfRangeError, match="200 MB"):
        run("piece", "--from", str(huge))
    with pytest.raises(OutOfRangeError):
        import_text(b"<svg>" + b"<g>" * 100_000)
    assert time.process_time() - began < 1.0
