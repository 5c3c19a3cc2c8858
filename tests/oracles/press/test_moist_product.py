"""The solver of heat and moisture against independent references, balances and laws.

The twin (`moist_twin`) is written from the equations alone, integrates them by scipy's BDF and takes
saturation from the international steam tables (iapws). FiPy, by another method, agrees with the twin
to 0.1 C (`test_moist_twin`).
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from iapws import IAPWS97
from tests.oracles.press.moist_cases import CASES, named
from tests.oracles.press.moist_product import product_answer, product_grid
from tests.oracles.press.moist_twin import solve_twin

from samite.press._moist_scheme import SATURATION_ROOT
from samite.press.moist import (
    Above,
    Below,
    MoistLayers,
    Network,
    advance,
    build_network,
    heat_of,
    regain_at,
    rest_state,
    sorption_heat,
)

pytestmark = pytest.mark.oracle

NAMES = [case.name for case in CASES]


@pytest.mark.parametrize("name", NAMES)
def test_product_against_the_independent_twin_on_the_same_nodes(name: str) -> None:
    case = named(name)
    twin = solve_twin(case, product_grid(case), rtol=1e-7)
    tight, screening = (product_answer(case, tolerance_c=tol) for tol in (0.01, 0.5))
    assert tight.temperature_c == pytest.approx(twin.temperature_c, abs=0.05)
    assert tight.layer_water_kg_m2 == pytest.approx(twin.layer_water_kg_m2, abs=1e-5)
    assert screening.temperature_c == pytest.approx(twin.temperature_c, abs=0.5)
    assert screening.layer_water_kg_m2 == pytest.approx(twin.layer_water_kg_m2, abs=5e-5)


def test_saturation_pressure_against_the_steam_tables() -> None:
    """IAPWS-IF97 by the library iapws, 1 to 250 C: within 0.05 %."""
    celsius = np.linspace(1.0, 250.0, 250)
    tables = np.array([IAPWS97(T=t + 273.15, x=0).P * 1e6 for t in celsius])
    root = np.polynomial.polynomial.polyval((celsius - 100.0) / 100.0, SATURATION_ROOT)
    assert np.abs(root**8 / tables - 1.0).max() < 5e-4


def test_heat_of_sorption_against_the_published_curve() -> None:
    """Gibson 1996: 0.195e6 (1 - phi)(1/(0.2 + phi) + 1/(1.05 - phi)) J/kg (from memory)."""
    phi = np.linspace(0.0, 0.95, 40)
    published = 0.195e6 * (1.0 - phi) * (1.0 / (0.2 + phi) + 1.0 / (1.05 - phi))
    assert np.abs(sorption_heat(regain_at(phi)) - published).max() < 0.055e6


@pytest.mark.parametrize(
    ("humidity", "cotton", "wool"),
    [(0.2, 3.0, 6.3), (0.4, 4.8, 9.9), (0.6, 7.0, 13.6), (0.8, 10.8, 18.4), (0.9, 14.5, 22.8)],
)
def test_regain_curve_against_cotton_and_wool(humidity: float, cotton: float, wool: float) -> None:
    """Absorption at 20 to 25 C after Morton and Hearle, figures of chapter 7 (from memory)."""
    for at_65, told in ((7.5, cotton), (14.5, wool)):
        assert at_65 * float(regain_at(humidity)) == pytest.approx(told, rel=0.25, abs=0.6)


def layers(draws: int = 1, **changed: float) -> MoistLayers:
    """Two plies of wool on each other, or something changed in both."""
    usual = {
        "thickness_mm": 0.5,
        "conductivity_w_mk": 0.045,
        "wetting_w_mk": 0.08,
        "dry_mass_kg_m2": 0.2,
        "heat_capacity_j_m2k": 270.0,
        "regain_kg_kg": 0.145,
        "permeability_kg_mspa": 1.2e-10,
        "escape_kg_m2spa": 0.0,
        "wicking_kg_ms": 4.0e-5,
    } | changed
    contact = {
        "contact_w_m2k": 1500.0,
        "contact_wetting_w_m2k": 900.0,
        "contact_permeance_kg_m2spa": 2.0e-6,
        "contact_wicking_kg_m2s": 0.02,
    }
    return MoistLayers(
        **{name: np.full((draws, 2), value) for name, value in usual.items()},
        **{name: np.full((draws, 1), value) for name, value in contact.items()},
    )


def stack(water: float = 0.3, fineness: float = 1.0, **changed: float) -> tuple[Network, object]:
    network = build_network(layers(**changed), (0, 0), fineness=fineness)
    return network, rest_state(network, 20.0, np.array([[water, 0.145]]))


INSULATED = Below(20.0, 0.0)


def test_a_closed_stack_keeps_its_heat_and_its_water() -> None:
    """Sole of finite heat, no way out: energy and water to 1e-9 of what moves."""
    network, start = stack()
    above = Above(180.0, 600.0, 900.0, heat_capacity_j_m2k=8000.0)
    end = advance(network, start, above, INSULATED, (1.0, 5.0, 20.0))
    given = 8000.0 * (180.0 - end.sole_c[:, 0])
    taken = [float((state.heat_j_m2 - start.heat_j_m2)[:, 0].sum()) for state in end.states]
    assert given == pytest.approx(taken, rel=1e-9)
    total = end.water_kg_m2[:, :, 0].sum(axis=1)
    assert total == pytest.approx([start.water_kg_m2[:, 0].sum()] * 3, rel=1e-12)


def test_water_that_goes_is_what_escapes() -> None:
    """Open stack: the escape of the recorded states, integrated, against the water that is gone."""
    network, start = stack(escape_kg_m2spa=3.0e-5)
    times = np.linspace(0.005, 12.0, 2400)
    end = advance(network, start, Above(180.0, 600.0), INSULATED, tuple(times), tolerance_c=0.002)
    over = vapour_pa(network, end.temperature_c[:, :, 0], end.water_kg_m2[:, :, 0]) - 101325.0
    rate = (network.escape[:, 0] * ramp(over, 3000.0)).sum(axis=1)
    lost = start.water_kg_m2[:, 0].sum() - end.water_kg_m2[-1, :, 0].sum()
    assert np.trapezoid(rate, times) == pytest.approx(lost, rel=1e-4)


def ramp(x: np.ndarray, ease: float) -> np.ndarray:
    bend = np.clip(x + ease, 0.0, 2.0 * ease)
    return bend**2 / (4.0 * ease) + np.maximum(x - ease, 0.0)


def vapour_pa(network: Network, temperature_c: np.ndarray, water: np.ndarray) -> np.ndarray:
    """Activity times saturation, by the equations of docs/models/press.md."""
    u = water / network.dry[:, 0] / network.regain[:, 0]
    low, high = 0.321, 1.262
    gain = 0.578 * (low + high)
    b = gain - (high - low) * u
    phi = 2.0 * low * high * u / (b + np.sqrt(b * b + 4.0 * low * high * u * u))
    root = np.polynomial.polynomial.polyval((temperature_c - 100.0) / 100.0, SATURATION_ROOT)
    return (phi - ramp(phi - 1.0, 0.2)) * root**8


def at_core(network: Network, above: Above, start: object, times: tuple[float, ...], **how: float):
    history = advance(network, start, above, INSULATED, times, **how)
    return history, history.temperature_c[:, network.node_at(0, 1.0), 0]


def test_the_order_in_time_is_the_third() -> None:
    """Smooth case: the error falls with the third power of the number of steps (2.3 at least)."""
    network, start = stack(water=0.145)
    above = Above(110.0, 200.0)
    _, exact = at_core(network, above, start, (4.0,), tolerance_c=1e-7)
    found = [at_core(network, above, start, (4.0,), tolerance_c=tol) for tol in (0.3, 0.003)]
    errors = [abs(float(core[0] - exact[0])) for _, core in found]
    steps = [history.steps for history, _ in found]
    order = np.log(errors[0] / errors[1]) / np.log(steps[1] / steps[0])
    assert order > 2.3


def test_the_order_in_depth_is_the_second() -> None:
    """Smooth case: halving the cells quarters the error (a factor of 3 at least)."""
    above = Above(110.0, 200.0)
    cores = []
    for fineness in (1.0, 2.0, 4.0, 16.0):
        network, start = stack(water=0.145, fineness=fineness)
        cores.append(float(at_core(network, above, start, (4.0,), tolerance_c=1e-4)[1][0]))
    errors = np.abs(np.array(cores[:3]) - cores[3])
    assert errors[0] / errors[1] > 3.0
    assert errors[1] / errors[2] > 3.0


def test_a_wet_cloth_holds_near_100_until_its_water_is_gone() -> None:
    """STEA013's idea: on an insulated stack the plateau lasts as the energy balance says."""
    network, start = stack(water=0.9, escape_kg_m2spa=2.0e-4, conductivity_w_mk=2.0)
    times = tuple(np.linspace(0.25, 40.0, 160))
    history, core = at_core(network, Above(180.0, 400.0), start, times)
    water = history.water_kg_m2[:, :, 0].sum(axis=1)
    wet = (water > 0.12) & (core > 97.0)
    assert wet.sum() > 20
    assert core[wet].max() < 104.0
    inside = np.flatnonzero(wet)
    span = times[inside[-1]] - times[inside[0]]
    top = history.temperature_c[inside, 0, 0]
    given = 400.0 * (180.0 - top.mean()) * span
    boiled = (water[inside[0]] - water[inside[-1]]) * 2.2565e6
    assert boiled == pytest.approx(given, rel=0.06)


@pytest.mark.parametrize("water", [0.02, 0.145, 0.7])
def test_a_hotter_sole_never_cools_the_seam(water: float) -> None:
    network, start = stack(water=water, escape_kg_m2spa=3.0e-5)
    times = (0.3, 1.0, 3.0, 10.0, 30.0)
    cooler, hotter = (at_core(network, Above(t, 500.0), start, times)[1] for t in (130.0, 170.0))
    assert np.all(hotter >= cooler - 0.1)


def test_a_thicker_press_cloth_without_water_never_heats_it_faster() -> None:
    cores = []
    for thick in (0.2, 0.4, 0.8):
        network, start = stack(water=1e-6, regain_kg_kg=1e-4, thickness_mm=thick)
        cores.append(at_core(network, Above(150.0, 500.0), start, (0.5, 1.0, 3.0))[1])
    assert np.all(np.diff(np.array(cores), axis=0) <= 0.05)


def test_more_steam_never_dries() -> None:
    network, start = stack(escape_kg_m2spa=3.0e-5)
    totals = []
    for steam in (0.0, 0.005, 0.02):
        above = Above(150.0, 500.0, steam_kg_m2s=steam)
        end = advance(network, start, above, INSULATED, (1.0, 2.0))
        totals.append(end.water_kg_m2[:, :, 0].sum(axis=1))
    assert np.all(np.diff(np.array(totals), axis=0) > 0.0)


def test_enthalpy_and_temperature_are_each_others_inverse() -> None:
    network, start = stack()
    temperature = np.full_like(start.heat_j_m2, 87.0)
    heat = heat_of(network, temperature, start.water_kg_m2)
    state = type(start)(heat, start.water_kg_m2, start.peak_c, start.dose_s)
    assert network.temperature_of(state) == pytest.approx(temperature, abs=1e-9)


def test_random_stacks_come_to_an_end_and_stay_finite(heavy: Callable[[int], int]) -> None:
    """Films to thick wool, no regain to much, shut to open, up to three times an iron's steam."""
    generator = np.random.default_rng(5)
    for _ in range(heavy(300)):
        pick = {
            "thickness_mm": 10.0 ** generator.uniform(-2.0, 0.7),
            "conductivity_w_mk": generator.uniform(0.03, 0.2),
            "dry_mass_kg_m2": 10.0 ** generator.uniform(-2.0, 0.0),
            "regain_kg_kg": generator.uniform(0.0, 0.18),
            "permeability_kg_mspa": 10.0 ** generator.uniform(-14.0, -9.7),
            "escape_kg_m2spa": 10.0 ** generator.uniform(-6.0, -3.5),
            "wicking_kg_ms": 10.0 ** generator.uniform(-7.0, -3.5),
        }
        pick["heat_capacity_j_m2k"] = 1350.0 * pick["dry_mass_kg_m2"]
        network, start = stack(water=generator.uniform(0.0, 1.2), **pick)
        sole = generator.uniform(60.0, 230.0)
        above = Above(sole, 500.0, 900.0, steam_kg_m2s=generator.choice([0.0, 0.01, 0.05]))
        end = advance(network, start, above, Below(20.0, 5.0, 3e-8, 1500.0), (2.0, 10.0))
        assert np.isfinite(end.temperature_c).all(), pick
        assert end.temperature_c.min() > -5.0, pick
        assert end.temperature_c.max() < max(sole, 100.0) + 25.0, pick
        assert end.steps + end.refused < 6000, pick
