"""Published garment instances of the strip-packing benchmark: areas, uses, and lays that are refused.

The instances and the best lengths known stand in ``lay/`` with their source. The placements of the
records themselves are not shipped: what is accepted and then spoilt here is a lay of our own solver.
"""

from __future__ import annotations

import csv
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from samite.lay.problem import Lay, Problem
from samite.lay.verify import check_lay, use_percent
from samite.readers.lay_file import read_lay_problem
from samite.services.lay import solve_lay

FOLDER = Path(__file__).parent / "lay"


def records() -> dict[str, dict[str, str]]:
    with (FOLDER / "records.csv").open(encoding="utf-8", newline="") as file:
        return {row["instance"]: row for row in csv.DictReader(file)}


RECORDS = records()


@cache
def instance(name: str) -> Problem:
    return read_lay_problem((FOLDER / f"{name}.json").read_text(encoding="utf-8"))


@cache
def laid(name: str) -> Lay:
    answer = solve_lay(instance(name), seconds=0.3, seed=1)
    assert answer.refused == ()
    return answer.lay


@pytest.mark.parametrize("name", list(RECORDS))
def test_pieces_and_use_of_the_records_are_those_published(name: str) -> None:
    problem, record = instance(name), RECORDS[name]
    assert sum(piece.copies for piece in problem.pieces) == int(record["pieces"])
    use = use_percent(problem, float(record["best_known_length_mm"]))
    assert use == pytest.approx(float(record["best_known_use_percent"]), abs=0.002)


@pytest.mark.parametrize("name", list(RECORDS))
def test_a_lay_passes_and_is_refused_once_it_is_spoilt(name: str) -> None:
    problem, lay = instance(name), laid(name)
    assert check_lay(problem, lay) == ()
    assert lay.length_mm >= float(RECORDS[name]["best_known_length_mm"]) * 0.999
    shift = 0.002 * problem.width_mm
    for at in range(0, len(lay.placements), max(1, len(lay.placements) // 4)):
        one = lay.placements[at]
        others = (*lay.placements[:at], *lay.placements[at + 1 :])
        assert "copies" in {f.kind for f in check_lay(problem, replace(lay, placements=others))}
        turned = replace(one, angle_deg=one.angle_deg + 45.0)
        spoilt = replace(lay, placements=(*others, turned))
        assert "angle" in {fault.kind for fault in check_lay(problem, spoilt)}
    refused, tried = 0, range(0, len(lay.placements), max(1, len(lay.placements) // 5))
    for at in tried:
        one = lay.placements[at]
        for dx, dy in ((shift, 0.0), (-shift, 0.0), (0.0, shift), (0.0, -shift)):
            others = (*lay.placements[:at], *lay.placements[at + 1 :])
            moved = replace(one, x_mm=one.x_mm + dx, y_mm=one.y_mm + dy)
            refused += bool(check_lay(problem, replace(lay, placements=(*others, moved))))
    assert refused > 2 * len(tried), "most shifts of a tight lay hit a neighbour or a rim"
