"""Check rows that are stacks, posed to the bare solver as ``samite press --stack`` poses them."""

from __future__ import annotations

import pytest
from tests.published.asked import STACKS
from tests.published.test_check_rows import ROWS

from samite.press.stack import answer_stack

LONG_S = 1.0e6
"""Long after the stack is steady; its slowest time constant is a few minutes."""


def layer(name: str, thickness: float, conductivity: float, density: float, heat: float) -> dict:
    return {
        "name": name,
        "thickness_mm": thickness,
        "conductivity_w_mk": conductivity,
        "density_kg_m3": density,
        "specific_heat_j_kgk": heat,
    }


def question(garment_conductivity: float, bottom: dict, time_s: float, depth: float) -> dict:
    return {
        "format": "samite.stack.v1",
        "start_c": 20.0,
        "top": {"sole_c": 150.0, "conductance_w_m2k": 500.0},
        "bottom": bottom,
        "layers": [
            layer("press cloth", 0.35, 0.05, 450.0, 1340.0),
            layer("garment", 0.25, garment_conductivity, 500.0, 1150.0),
            layer("pad", 3.0, 0.04, 150.0, 1300.0),
        ],
        "contact_w_m2k": None,
        "times_s": [time_s],
        "read_at": [{"layer": "garment", "depth": depth}],
    }


ROOM = {"air_c": 20.0, "conductance_w_m2k": 5.0}
QUESTIONS = {
    "COND023": question(0.05, {"held_c": 20.0}, LONG_S, 0.0),
    "COND024": question(0.06, ROOM, 1.0, 0.5),
    "COND026": question(0.06, ROOM, 10.0, 0.5),
}


@pytest.mark.parametrize("row_id", STACKS)
def test_the_solver_agrees_with_the_row(row_id: str) -> None:
    check = ROWS[row_id]
    found = answer_stack(QUESTIONS[row_id])["temperature_c"][0][0]
    assert found == pytest.approx(float(check.expected), abs=float(check.tolerance)), (
        f"{check}: the product says {found}"
    )
