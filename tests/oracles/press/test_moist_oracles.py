"""Cases of heat and water with what an independent solver makes of them, computed anew every time.

The reference comes on two grids: by how much they differ is how well it is known itself. Behind a
front, where a layer dries through or steam strikes cold cloth, that is degrees and not tenths.
"""

from __future__ import annotations

from functools import cache

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
def reference(name: str, cells: int = CELLS) -> tuple[MoistAnswer, np.ndarray]:
    """Return a case's answer and by how much every temperature moved when the cells were halved."""
    case = named(name)
    fine, coarse = (solve_twin(case, n, rtol=1e-6) for n in (cells, cells // 2))
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
    answer = solve_twin(named(name), 16, rtol=1e-6)
    other = solve_twin(named(name), 16, method="Radau", rtol=1e-7)
    assert answer.temperature_c == pytest.approx(other.temperature_c, abs=0.01)
    assert answer.layer_water_kg_m2 == pytest.approx(other.layer_water_kg_m2, abs=1e-5)
