"""Circuits of the model in time against published optima of set-up scheduling with precedence."""

from __future__ import annotations

from pathlib import Path

import pytest
from ortools.sat.python import cp_model

from samite.work.solvers._circuits import Parts, Stop, add_circuit
from samite.work.solvers._model import Way

FOLDER = Path(__file__).parent / "set_up"
PLAIN = Way(0, (), 0, 0)


def matrix(name: str) -> list[list[int]]:
    text = (FOLDER / f"{name}.sop").read_text(encoding="utf-8")
    rows = text.partition("EDGE_WEIGHT_SECTION\n")[2].splitlines()
    return [[int(number) for number in row.split()] for row in rows if row != "EOF"]


@pytest.mark.parametrize(("name", "optimum"), [("ESC07", 2125), ("ESC11", 2075), ("ESC25", 1681)])
def test_the_circuit_of_change_overs_reaches_the_published_optimum(name: str, optimum: int) -> None:
    cost = matrix(name)
    inner = range(1, len(cost) - 1)
    cp = cp_model.CpModel()
    work = [cp.new_int_var(0, len(cost), "") for _ in cost]
    present = cp.new_constant(1)
    parts = Parts(cp, work, [at + 1 for at in work], work, {}, {}, [[] for _ in cost])
    for later in inner:
        for earlier in inner:
            if cost[later][earlier] == -1:
                cp.add(work[later] >= work[earlier] + 1)

    def price(earlier: Stop | None, stop: Stop) -> int:
        return cost[earlier.op if earlier else 0][stop.op]

    def follow(earlier: Stop | None, stop: Stop, literal: object) -> None:
        if earlier:
            cp.add(work[stop.op] >= work[earlier.op] + 1).only_enforce_if(literal)

    stops = [Stop(number, PLAIN, present) for number in inner]
    add_circuit(parts, "machine", stops, lambda a, b: cost[a][b] >= 0, price, follow)
    cp.minimize(sum(ticks * one for terms in parts.terms for ticks, one in terms))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_deterministic_time = 60.0
    assert solver.solve(cp) == cp_model.OPTIMAL
    assert round(solver.objective_value) == optimum
