"""``samite lay`` from a file and from computed pieces: JSON, drawings, going on, errors."""

from __future__ import annotations

import io
import json
import math
from pathlib import Path
from typing import Any

import ezdxf
import pypdfium2
import pytest
from click.testing import CliRunner, Result
from svgelements import SVG
from tests.oracles.lay.shelves import shelf_lay

from samite.cli.lay import command
from samite.kernel.errors import InputError, SamiteError
from samite.lay.problem import Lay
from samite.lay.verify import check_lay
from samite.readers.lay_file import lay_problem_of, read_lay_problem
from samite.services import lay as service
from samite.services.lay import lay_of, problem_json

KEYS = {
    "format", "status", "why", "length_mm", "bound_mm", "use_percent", "seconds", "seed",
    "placements",
}  # fmt: skip
PLACE = {"piece", "copy", "x_mm", "y_mm", "angle_deg", "mirrored"}


def square(side: float) -> list[list[float]]:
    return [[0, 0], [side, 0], [side, side], [0, side]]


PROBLEM: dict[str, Any] = {
    "format": "samite.lay-problem.v1", "width_mm": 1000, "edge_mm": 10, "gap_mm": 2,
    "holes": [[[300, 300], [320, 300], [320, 330], [300, 330]]],
    "pieces": [
        {"name": "front", "outline_mm": [[0, 0], [400, 0], [400, 200], [0, 300]], "copies": 2,
         "mirror": "pairs", "angles_deg": [0]},
        {"name": "cuff", "outline_mm": square(120), "copies": 4, "angles_deg": [0, 180]},
    ],
}  # fmt: skip


def run(*words: str) -> Result:
    return CliRunner().invoke(command, list(words), catch_exceptions=True)


@pytest.fixture
def problem(tmp_path: Path) -> Path:
    path = tmp_path / "apron.json"
    path.write_text(json.dumps(PROBLEM), encoding="utf-8")
    return path


def solved(path: Path, *words: str) -> dict[str, Any]:
    done = run(str(path), "--seconds", "0.5", "--json", *words)
    assert done.exception is None, done.output
    document: dict[str, Any] = json.loads(done.stdout)
    return document


def test_the_json_of_a_lay_is_as_agreed_and_passes(problem: Path) -> None:
    document = solved(problem)
    assert set(document) >= KEYS
    assert document["format"] == "samite.lay.v1"
    assert document["status"] in {"feasible", "optimal"}
    assert all(set(one) == PLACE for one in document["placements"])
    assert check_lay(read_lay_problem(problem.read_text()), lay_of(document)) == ()
    assert 0.0 < document["bound_mm"] <= document["length_mm"] + 1e-6


def test_a_piece_that_cannot_fit_is_an_answer_in_words(tmp_path: Path) -> None:
    path = tmp_path / "wide.json"
    wide = {"width_mm": 500, "pieces": [{"name": "cape", "outline_mm": square(900)}]}
    path.write_text(json.dumps(wide), encoding="utf-8")
    document = solved(path)
    assert document["status"] == "infeasible"
    assert "cape" in document["why"]
    assert document["placements"] == []
    assert "cape" in run(str(path)).output


def test_the_drawings_are_read_by_others(problem: Path, tmp_path: Path) -> None:
    svg, pdf, dxf = (tmp_path / f"lay.{kind}" for kind in ("svg", "pdf", "dxf"))
    written = run(
        str(problem), "--seconds", "0.3", "--svg", str(svg), "--pdf", str(pdf), "--dxf", str(dxf),
        "--face", "down", "--table", "60 cm", "--units", "imperial",
    )  # fmt: skip
    assert written.exception is None, written.output
    drawn = [one for one in SVG.parse(str(svg)).elements() if one.values.get("class") == "piece"]
    assert len(drawn) == 6
    pages = pypdfium2.PdfDocument(io.BytesIO(pdf.read_bytes()))
    text = pages[0].get_textpage().get_text_range()
    assert "WRONG side up" in text
    assert "dye lot" in text
    steps = "".join(page.get_textpage().get_text_range() for page in list(pages)[1:])
    assert all(f"{number} " in steps for number in range(1, 7))
    assert "print down" in steps
    outlines = [e for e in ezdxf.readfile(dxf).modelspace() if e.dxf.layer == "CUT"]
    assert len(outlines) == 6
    areas = sorted(abs(ezdxf.math.area([v.dxf.location for v in e.vertices])) for e in outlines)
    assert areas == pytest.approx([14400.0] * 4 + [100000.0] * 2)


def test_the_rest_is_laid_round_what_is_cut(problem: Path, tmp_path: Path) -> None:
    first = tmp_path / "first.json"
    first.write_text(json.dumps(solved(problem)), encoding="utf-8")
    rest = tmp_path / "rest.json"
    document = solved(
        problem, "--lay", str(first), "--cut", "front 1", "--cut", "cuff 2", "--spoilt", "cuff 3",
        "--turned-out", "98 cm", "--flaw", "50 x 60 x 4 x 4 cm", "--problem", str(rest),
    )  # fmt: skip
    left = read_lay_problem(rest.read_text())
    assert left.width_mm == 980.0
    assert len(left.holes) == 1 + 3 + 1
    assert sum(piece.copies for piece in left.pieces) == 4
    assert check_lay(left, lay_of(document)) == ()
    pinned = solved(problem, "--lay", str(first), "--pin", "cuff 1", "--pin", "front 2")
    before = {(p["piece"], p["copy"]): p for p in json.loads(first.read_text())["placements"]}
    places = [(p["x_mm"], p["y_mm"]) for p in pinned["placements"]]
    for name in (("cuff", 0), ("front", 1)):
        assert (before[name]["x_mm"], before[name]["y_mm"]) in places


def test_other_choices_are_solved_not_estimated(problem: Path) -> None:
    document = solved(problem, "--options")
    names = {one["name"] for one in document["options"]}
    assert "one piece joined" in names
    assert all("buy_mm" in one or one["why"] for one in document["options"])


def test_a_tilt_within_the_tolerance_is_told_with_what_it_saves_and_its_caution(
    tmp_path: Path,
) -> None:
    turn, corners = math.radians(2.0), ((0, 0), (500, 0), (500, 100), (0, 100))
    c, s = math.cos(turn), math.sin(turn)
    panel = {"name": "panel", "copies": 2, "angles_deg": [0, 180], "grain_tolerance_deg": "2 deg",
             "outline_mm": [[x * c - y * s, x * s + y * c] for x, y in corners]}  # fmt: skip
    path = tmp_path / "panels.json"
    path.write_text(json.dumps({"width_mm": 201, "pieces": [panel]}), encoding="utf-8")
    document = json.loads(run(str(path), "--seconds", "0.1", "--options", "--json").output)
    (found,) = [one for one in document["options"] if one["name"].startswith("tilted")]
    assert found["tilted"] == ["panel 1", "panel 2"]
    assert found["buy_mm"] == 500.0
    assert found["saves_mm"] >= 974.2 - 500.0
    assert "hangs a little off grain" in found["says"]
    text = run(str(path), "--seconds", "0.1", "--options").output
    assert "50.0 cm laid, tilted: panel 1, panel 2;" in text
    assert all(one["angle_deg"] % 180.0 == 0.0 for one in document["placements"])


@pytest.mark.parametrize(
    ("words", "part"),
    [
        ([], "lay what"),
        (["apron.json"], "cannot read"),
        (["tunic", "--pin", "front"], "problem in a file"),
        (["no-such-shape"], "no shape"),
        (["tunic", "--width", "3 cm"], "impossible"),
        (["tunic", "--join", "sash"], "no piece 'sash'"),
        (["tunic", "--seconds", "-1"], "no time"),
    ],
)
def test_what_cannot_be_asked_is_refused_in_words(words: list[str], part: str) -> None:
    done = run(*words)
    assert isinstance(done.exception, SamiteError)
    assert part in done.exception.message


def test_options_of_pieces_do_not_go_with_a_file(problem: Path) -> None:
    done = run(str(problem), "--cloth", "velvet")
    assert isinstance(done.exception, InputError)
    assert "--cloth" in done.exception.message
    bad = run(str(problem), "--cut", "front 1")
    assert isinstance(bad.exception, InputError)
    assert "--lay" in bad.exception.hint


def test_a_costume_is_laid_on_every_cloth_and_width(tmp_path: Path) -> None:
    pdf = tmp_path / "lay.pdf"
    done = run(
        "tunic", "--lining", "--cloth", "cotton velvet, 150 cm, 18.90/m", "--lining-cloth",
        "viscose lining, 140 cm", "--width", "112 cm", "--width", "150 cm", "--seconds", "0.2",
        "--json", "--pdf", str(pdf),
    )  # fmt: skip
    assert done.exception is None, done.output
    document = json.loads(done.stdout)
    assert document["format"] == "samite.lays.v1"
    kinds = [(one["kind"], one["width_mm"]) for one in document["lays"]]
    assert kinds == [("shell", 1120.0), ("shell", 1500.0), ("lining", 1400.0)]
    velvet = document["lays"][1]
    assert velvet["rules"]["one_way"]
    assert not velvet["rules"]["folded"]
    assert velvet["rules"]["face"] == "down"
    buy = velvet["buy"]
    assert buy["buy_mm"] % 100.0 == 0.0
    assert buy["buy_mm"] >= buy["needed_mm"] >= velvet["lay"]["length_mm"]
    assert buy["price"]["amount"] == pytest.approx(buy["buy_mm"] / 1000.0 * 18.9, abs=0.01)
    assert buy["best_buy_mm"] <= buy["buy_mm"]
    for one in document["lays"]:
        assert check_lay(lay_problem_of(one["problem"]), lay_of(one["lay"])) == ()
    assert [path.name for path in sorted(tmp_path.glob("*.pdf"))] == [
        "lay-2.pdf", "lay-3.pdf", "lay.pdf",
    ]  # fmt: skip


def test_remnants_go_to_the_stock_and_come_back_as_cloth(problem: Path, tmp_path: Path) -> None:
    store = tmp_path / "store.sqlite"
    done = run(str(problem), "--seconds", "0.2", "--keep", "--store", str(store))
    assert done.exception is None, done.output
    from samite.services.stock import list_stock

    kept = list_stock(store)["remnants"]
    assert kept
    small = tmp_path / "small.json"
    ask = {"width_mm": 1000, "pieces": [{"name": "patch", "outline_mm": square(60)}]}
    small.write_text(json.dumps(ask), encoding="utf-8")
    document = solved(small, "--remnant", kept[0]["key"], "--store", str(store))
    assert document["status"] in {"feasible", "optimal"}


def test_a_lay_that_does_not_pass_is_never_shown(monkeypatch: pytest.MonkeyPatch) -> None:
    import numpy as np

    problem = lay_problem_of({**PROBLEM, "holes": []})
    good = shelf_lay(np.random.default_rng(1), problem)
    wrong = Lay("feasible", length_mm=good.length_mm - 50.0, placements=good.placements)

    def offers(
        problem: Any, *, seconds: float, seed: int, on_better: Any = None, cancelled: Any = None
    ) -> Lay:
        on_better(good)
        return wrong

    monkeypatch.setattr(service, "solve", offers)
    answer = service.solve_lay(problem, seconds=1.0)
    assert answer.lay.length_mm == good.length_mm
    assert {fault.kind for fault in answer.refused} == {"length"}
    monkeypatch.setattr(service, "solve", lambda *_, **__: wrong)
    with pytest.raises(SamiteError, match="cannot be cut"):
        service.solve_lay(problem, seconds=1.0)


def test_a_problem_written_and_read_is_the_same() -> None:
    problem = lay_problem_of(PROBLEM)
    assert lay_problem_of(json.loads(json.dumps(problem_json(problem)))) == problem
