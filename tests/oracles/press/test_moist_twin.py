"""The twin of heat and water against laws, closed forms and FiPy; no product takes part."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from iapws import IAPWS97
from scipy.optimize import brentq
from tests.conftest import FULL
from tests.oracles.press.moist_cases import CLOTH_ON_CLOTH, MUSLIN, ROOM_PA, WOOL, holding, named
from tests.oracles.press.moist_problem import (
    Air,
    Bottom,
    MoistCase,
    MoistContact,
    MoistLayer,
    MoistPhase,
    MoistPlace,
    Sole,
)
from tests.oracles.press.moist_twin import (
    MoistTwin,
    activity,
    even_depths,
    free_water,
    humidity_over,
    ramp,
    regain_at,
    saturation_pa,
    solve_twin,
    sorption_energy,
)

pytestmark = pytest.mark.oracle

SHUT = Bottom(20, 0.0, 0.0, 0.0)
DAMP = replace(holding(MUSLIN, 0.5), escape_kg_m2spa=2e-7)


def one_phase(layers, contacts, top, bottom, times) -> MoistCase:
    places = tuple(MoistPlace(i, 0.5) for i in range(len(layers)))
    return MoistCase("", layers, contacts, bottom, (MoistPhase(times[-1], top),), times, places)


def test_saturation_is_that_of_the_steam_tables() -> None:
    # IAPWS-IF97 region 4, here by the whole-table class and between the spline's knots
    for celsius in (1.37, 20.11, 99.97, 100.21, 143.6, 199.9, 249.3):
        expected = IAPWS97(T=celsius + 273.15, x=0.0).P * 1e6
        assert saturation_pa(celsius) == pytest.approx(expected, rel=1e-7)
    assert saturation_pa(99.974) == pytest.approx(101325.0, rel=2e-4)


def test_activity_undoes_the_isotherm_and_bends_over_to_one() -> None:
    humidity = np.linspace(0.0, 1.0, 41)
    assert humidity_over(regain_at(humidity)) == pytest.approx(humidity, abs=1e-12)
    assert regain_at(0.65) == pytest.approx(1.0, abs=2e-3)
    assert activity(regain_at(humidity[:33])) == pytest.approx(humidity[:33], abs=1e-12)
    # half way round the bend a quarter of its half-width is missing; behind it nothing is
    assert activity(regain_at(1.0)) == pytest.approx(1.0 - 0.2 / 4.0)
    assert activity(np.array([12.0, 50.0, 400.0])) == pytest.approx(1.0)
    assert activity(-1e-6) == pytest.approx(-activity(1e-6), rel=1e-4)
    assert (np.diff(activity(np.linspace(-1.0, 30.0, 4001))) >= -1e-15).all()


def test_a_ramp_is_the_positive_part_with_a_smooth_corner() -> None:
    value, step = np.linspace(-2.0, 2.0, 81), 1e-6
    slope = (ramp(value + step, 0.5) - ramp(value - step, 0.5)) / (2.0 * step)
    assert slope == pytest.approx(np.clip(value + 0.5, 0.0, 1.0), abs=1e-6)
    assert ramp(np.array([-0.6, 0.6, 3.0]), 0.5) == pytest.approx([0.0, 0.6, 3.0])


def test_only_free_water_wicks() -> None:
    # water held as regain stays; all that is over the curve's end by more than the bend goes
    assert free_water(np.array([0.0, 0.05, 0.149]), 0.07) == pytest.approx(0.0, abs=1e-15)
    assert free_water(1.0, 0.07) == pytest.approx(1.0 - 2.64 * 0.07)


def test_the_heat_of_sorption_is_the_slope_of_its_energy() -> None:
    water, regain, step = 0.05, 0.14, 1e-6
    slope = sorption_energy(water + step, regain) - sorption_energy(water - step, regain)
    expected = 1.16e6 / (1.0 + water / regain / 0.85) ** 2
    assert slope / (2.0 * step) == pytest.approx(expected, rel=1e-6)


@pytest.mark.parametrize("method", ["BDF", "Radau"])
def test_a_closed_stack_keeps_its_heat_and_its_water(method: str) -> None:
    layers = tuple(replace(one, escape_kg_m2spa=0.0) for one in (DAMP, WOOL))
    sole = Sole(180, 0, 5000.0, np.inf, MoistContact(500, 955))
    twin = MoistTwin(layers, (CLOTH_ON_CLOTH,), sole, SHUT, even_depths(8))
    begin = twin.start()
    states = twin.march(begin, [0.1, 1.0, 5.0, 20.0], method=method)
    assert abs(states[-1, -1] - 180.0) > 20.0
    assert np.abs(twin.layer_water(states[:, -1]) - twin.layer_water(begin)).max() > 5e-3
    for state in states.T:
        assert twin.energy(state) == pytest.approx(twin.energy(begin), rel=1e-8)
        assert twin.water(state) == pytest.approx(twin.water(begin), rel=1e-8)


def test_a_shut_stack_comes_to_one_temperature_and_one_humidity() -> None:
    layers = tuple(replace(one, escape_kg_m2spa=0.0) for one in (holding(MUSLIN, 0.12), WOOL))
    layers = (replace(layers[0], start_c=80.0), layers[1])
    blind = Air(20, 0.0, MoistContact(0.0, 0.0, 0.0))
    twin = MoistTwin(layers, (CLOTH_ON_CLOTH,), blind, SHUT, even_depths(6))
    celsius, water, _ = twin.unpack(twin.march(twin.start(), [20000.0])[:, -1:])
    assert np.ptp(celsius) < 1e-3
    assert np.ptp(water / twin.regain) < 1e-4


@pytest.mark.parametrize("name", ["iron, air", "French seam", "damp cotton", "steam held"])
def test_two_ways_of_marching_agree(name: str) -> None:
    quick, other = (solve_twin(named(name), 8, method=one, rtol=1e-7) for one in ("BDF", "Radau"))
    assert quick.temperature_c == pytest.approx(other.temperature_c, abs=2e-3)
    assert quick.layer_water_kg_m2 == pytest.approx(other.layer_water_kg_m2, abs=1e-6)


def test_a_grid_of_ones_own_tells_the_same() -> None:
    # finer at the faces: 24 cells where the even grid needs 64
    depths = 0.5 - 0.5 * np.cos(np.pi * np.linspace(0.0, 1.0, 25))
    case = named("French seam")
    own = solve_twin(case, lambda _index, _layer: depths, rtol=1e-6).temperature_c
    assert own == pytest.approx(solve_twin(case, 64, rtol=1e-6).temperature_c, abs=0.03)


def test_a_wet_layer_boils_near_100_c_until_it_is_dry_and_in_the_time_that_heat_tells() -> None:
    # one lump: it conducts well, holds next to nothing by sorption, and lets its vapour out
    wet = MoistLayer(0.35, 100.0, 0.0, 450, 1340, 1e-3, 1e-8, 3e-5, 20, 0.8)
    conductance, sole_c = 500.0, 180.0
    sole = Sole(sole_c, sole_c, np.inf, np.inf, MoistContact(conductance))
    dry, water = wet.dry_mass_kg_m2, 0.8 * wet.dry_mass_kg_m2
    warm_s = dry * 1340 + water * 4180
    warm_s *= np.log((sole_c - 20.0) / (sole_c - 100.0)) / conductance
    boil_s = water * 2.2565e6 / (conductance * (sole_c - 100.0))
    times = tuple(warm_s + boil_s * np.array([0.1, 0.3, 0.5, 0.7, 0.9, 0.95, 1.1, 1.3]))
    case = one_phase((wet,), (), sole, Bottom(20, 0, 0, 0), times)
    found = solve_twin(case, 8)
    assert np.abs(found.temperature_c[:6, 0] - 100.0).max() < 2.0
    assert found.temperature_c[7, 0] > 120.0
    left = found.layer_water_kg_m2[:, 0] / water
    expected = 1.0 - np.array([0.1, 0.3, 0.5, 0.7, 0.9, 0.95])
    assert left[:6] == pytest.approx(expected, abs=0.01)
    assert left[6] < 0.01


@pytest.mark.parametrize("biot", [0.5, 3.0, 50.0])
def test_a_dry_slab_follows_the_series(biot: float) -> None:
    # Carslaw and Jaeger (1959), Conduction of Heat in Solids, section 3.11: heat given to one face
    # of a slab by a conductance, none through the other
    slab = MoistLayer(1.0, 0.05, 0.0, 400, 1300, 1e-4, 0.0)
    conductance = biot * 0.05 / 1e-3
    sole = Sole(150, 150, np.inf, np.inf, MoistContact(conductance))
    times = (0.5, 1.0, 3.0, 10.0, 30.0)
    depths = (0.0, 0.25, 0.5, 1.0)
    case = one_phase((slab,), (), sole, Bottom(20, 0, 0, 0), times)
    case = replace(case, places=tuple(MoistPlace(0, depth) for depth in depths))
    roots = [
        brentq(lambda z: z * np.sin(z) - biot * np.cos(z), n * np.pi, (n + 0.5) * np.pi)
        for n in range(60)
    ]
    fourier = 0.05 / (400 * 1300) / 1e-3**2
    expected = [
        [
            150.0
            - 130.0
            * sum(
                4.0
                * np.sin(z)
                / (2.0 * z + np.sin(2.0 * z))
                * np.exp(-(z**2) * fourier * t)
                * np.cos(z * (1.0 - depth))
                for z in roots
            )
            for depth in depths
        ]
        for t in times
    ]
    assert solve_twin(case, 64).temperature_c == pytest.approx(np.array(expected), abs=0.03)


DAY = (CLOTH_ON_CLOTH,)
HOT = Sole(180, 180, 15000.0, 30.0, MoistContact(500, 955))
BELOW = Bottom(20, ROOM_PA, 20, 1e-7)
STEAMING = Air(100, ROOM_PA, MoistContact(40, 0, 1e-7), 0.010)
SECOND = {
    "steam into a dry cloth": (one_phase((MUSLIN,), (), STEAMING, BELOW, (0.5,)), 16, 0.05),
    "damp cloth on a sole": (one_phase((DAMP,), (), HOT, BELOW, (2.0, 4.0)), 20, 0.05),
    "damp cloth on wool": (one_phase((DAMP, WOOL), DAY, HOT, BELOW, (4.0,)), 20, 0.05),
}


@pytest.mark.parametrize("name", list(SECOND) if FULL else list(SECOND)[:1])
def test_fipy_tells_the_same_temperatures(name: str) -> None:
    from tests.oracles.press.moist_fipy import solve_by_fipy

    case, cells, step = SECOND[name]
    expected = solve_twin(case, 64, rtol=1e-6).temperature_c
    assert expected.max() > 60.0
    found = solve_by_fipy(case, cells, step, front=name.startswith("damp"))
    assert found == pytest.approx(expected, abs=0.1)
