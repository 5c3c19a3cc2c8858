"""Cases of heat and water with what an independent solver makes of them, computed anew every time.

The reference comes on two grids: by how much they differ is how well it is known itself. Behind a
front, where a layer dries through or steam strikes cold cloth, that is degrees and not tenths.
"""

from __future__ import annotations

from functools import cache
from itertools import pairwise

import numpy as np
import pytest
from tests.conftest import FULL
from tests.oracles.press.moist_cases import CASES, named
from tests.oracles.press.moist_problem import Air, MoistAnswer, MoistCase, Sole
from tests.oracles.press.moist_twin import solve_twin, times_fit

pytestmark = pytest.mark.oracle

NAMES = [case.name for case in CASES]
FRONT = ("damp cotton", "wet cloth", "film that bars", "heavy wool", "thin sole", "iron, air")
CELLS = 64 if FULL else 32


@cache
def told(name: str, cells: int) -> MoistAnswer:
    """Return what the twin makes of a case; several tests ask for the same."""
    return solve_twin(named(name), cells, rtol=1e-6)


def reference(name: str, cells: int = CELLS) -> tuple[MoistAnswer, np.ndarray]:
    """Return a case's answer and by how much every temperature moved when the cells were halved."""
    fine, coarse = told(name, cells), told(name, cells // 2)
    return fine, np.abs(fine.temperature_c - coarse.temperature_c)


def hottest(case: MoistCase) -> float:
    """Return the highest temperature that anything around or in the stack has."""
    tops = [phase.top for phase in case.phases]
    around = [max(top.start_c, top.set_c) for top in tops if isinstance(top, Sole)]
    around += [top.air_c for top in tops if isinstance(top, Air)]
    return max([*around, case.bottom.surrounding_c, *(layer.start_c for layer in case.layers)])


def test_there_are_enough_cases_and_their_times_fit() -> None:
    assert len(CASES) >= 12
    assert len(set(NAMES)) == len(NAMES)
    assert all(times_fit(case) for case in CASES)


@pytest.mark.parametrize("name", NAMES)
def test_the_reference_is_known_well_enough(name: str) -> None:
    _, spread = reference(name)
    mean = float(np.sqrt(np.mean(spread**2)))
    assert mean < (2.5 if name.startswith(FRONT) else 0.1)


@pytest.mark.parametrize("name", NAMES)
def test_temperatures_and_waters_are_those_of_cloth_under_an_iron(name: str) -> None:
    case, (answer, _) = named(name), reference(name)
    # steam that a cloth takes up warms it above the steam itself, by less than ten degrees
    steam = 110.0 if any(getattr(p.top, "steam_kg_m2s", 0.0) for p in case.phases) else 0.0
    assert answer.temperature_c.min() > 19.0
    assert answer.temperature_c.max() < max(hottest(case), steam)
    assert answer.water_kg_kg.min() > -1e-6
    start = sum(one.start_water_kg_kg * one.dry_mass_kg_m2 for one in case.layers)
    steamed = sum(getattr(p.top, "steam_kg_m2s", 0.0) * p.duration_s for p in case.phases)
    assert answer.layer_water_kg_m2.sum(axis=1).max() <= start + steamed + 1e-4


@pytest.mark.parametrize("name", NAMES if FULL else NAMES[::5])
def test_the_reference_does_not_hang_on_how_it_marches(name: str) -> None:
    answer = told(name, 16)
    other = solve_twin(named(name), 16, method="Radau", rtol=1e-7)
    assert answer.temperature_c == pytest.approx(other.temperature_c, abs=0.01)
    assert answer.layer_water_kg_m2 == pytest.approx(other.layer_water_kg_m2, abs=1e-5)


def jumps(name: str, cells: list[int]) -> list[float]:
    """Return by how much the readings move from one grid to the next, root of the mean square."""
    found = [told(named(name).name, one).temperature_c for one in cells]
    return [float(np.sqrt(np.mean((b - a) ** 2))) for a, b in pairwise(found)]


SMOOTH = ["French seam", "full steam", "one ply of organza", "damp cotton"]


@pytest.mark.parametrize("name", [*SMOOTH, "heavy wool", "wet cloth"] if FULL else SMOOTH)
def test_the_error_falls_by_four_behind_a_drying_front_too(name: str) -> None:
    # free water wicks after the front, so that it stands in no single cell
    first, second = jumps(name, [8, 16, 32])
    assert second < first / 3.0
    assert second < 0.1
