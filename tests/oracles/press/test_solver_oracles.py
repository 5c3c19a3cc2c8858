"""The exact solver against analytic series and against two numerical twins."""

from __future__ import annotations

import math

import numpy as np
import pytest
from tests.oracles.press.twins import GARMENT, PAD, PRESS, PRESSING, CellTwin

from samite.press.closed_forms import (
    contact_temperature,
    scaled_erfc,
    semi_infinite_contact_temperature,
    semi_infinite_temperature,
    thermal_effusivity,
)
from samite.press.layers import Conductance, Held, Insulated, Layer, ReadingPlace, Stack
from samite.press.solver import solve
from samite.press.steady import steady_temperatures
from samite.press.walls import plane_wall_ratio, plane_wall_temperature, slab_ratio
from samite.press.water import air_pressure

pytestmark = pytest.mark.oracle

FABRIC = {"conductivity_w_mk": 0.06, "density_kg_m3": 400.0, "specific_heat_j_kgk": 1400.0}
SPREAD = 0.06 / (400 * 1400)
DEEP = Layer("deep", 50.0, 0.06, 400, 1400)
CLOTH = Layer("cloth", 0.3, 0.06, 400, 1400)
TIMES = [0.01, 0.1, 0.5, 2.0, 10.0]


@pytest.mark.parametrize("depth_mm", [0.01, 0.05, 0.3, 1.0, 3.0])
def test_deep_body_with_a_held_face_follows_the_error_function(depth_mm: float) -> None:
    # Carslaw and Jaeger, section 2.4; scipy's erf on its own
    from scipy.special import erf

    stack = Stack(20.0, Held(150.0), Insulated(), (DEEP,))
    found = solve(stack, TIMES, [ReadingPlace(0, depth_mm / 50)]).temperature_c[:, 0]
    own = [
        semi_infinite_temperature(
            start_c=20, surface_c=150, depth_mm=depth_mm, time_s=t, diffusivity_m2_s=SPREAD
        )
        for t in TIMES
    ]
    series = [150 - 130 * erf(depth_mm * 1e-3 / (2 * math.sqrt(SPREAD * t))) for t in TIMES]
    assert own == pytest.approx(series, abs=1e-9)
    assert found == pytest.approx(series, abs=1e-6)


@pytest.mark.parametrize("depth_mm", [0.0, 0.05, 0.3, 1.0])
@pytest.mark.parametrize("conductance", [10.0, 500.0, 1e5])
def test_deep_body_behind_a_contact(depth_mm: float, conductance: float) -> None:
    # Carslaw and Jaeger, section 2.7; scipy's erfcx on its own
    from scipy.special import erfc, erfcx

    stack = Stack(20.0, Conductance(150.0, conductance), Insulated(), (DEEP,))
    found = solve(stack, TIMES, [ReadingPlace(0, depth_mm / 50)]).temperature_c[:, 0]
    for time, temperature in zip(TIMES, found, strict=True):
        near = depth_mm * 1e-3 / (2 * math.sqrt(SPREAD * time))
        lag = conductance * math.sqrt(SPREAD * time) / 0.06
        share = erfc(near) - math.exp(-(near**2)) * erfcx(near + lag)
        own = semi_infinite_contact_temperature(
            start_c=20,
            source_c=150,
            conductance_w_m2k=conductance,
            depth_mm=depth_mm,
            time_s=time,
            **FABRIC,
        )
        assert own == pytest.approx(20 + 130 * share, abs=1e-9)
        assert temperature == pytest.approx(20 + 130 * share, abs=1e-6)


@pytest.mark.parametrize("x", [0.0, 0.3, 5.0, 19.9, 20.1, 100.0])
def test_scaled_complement_of_the_error_function(x: float) -> None:
    from scipy.special import erfcx

    assert scaled_erfc(x) == pytest.approx(erfcx(x), rel=1e-9)


@pytest.mark.parametrize("depth", [0.0, 0.25, 0.5, 1.0])
def test_slab_with_an_insulated_face(depth: float) -> None:
    # Carslaw and Jaeger, section 3.3: both forms of the series, 400 terms
    stack = Stack(20.0, Held(150.0), Insulated(), (CLOTH,))
    found = solve(stack, TIMES, [ReadingPlace(0, depth)]).temperature_c[:, 0]
    for time, temperature in zip(TIMES, found, strict=True):
        fourier = SPREAD * time / 3e-4**2
        z = (np.arange(400) + 0.5) * np.pi
        terms = (
            2 * (-1.0) ** np.arange(400) / z * np.cos(z * (1 - depth)) * np.exp(-z * z * fourier)
        )
        assert slab_ratio(fourier=fourier, depth_share=depth) == pytest.approx(
            terms.sum(), abs=1e-9
        )
        assert temperature == pytest.approx(150 - 130 * terms.sum(), abs=1e-6)


@pytest.mark.parametrize("conductance", [5.0, 200.0, 5000.0])
@pytest.mark.parametrize("depth", [0.0, 0.5, 1.0])
def test_wall_with_convection(conductance: float, depth: float) -> None:
    # Carslaw and Jaeger, section 3.11
    stack = Stack(20.0, Conductance(150.0, conductance), Insulated(), (CLOTH,))
    times = [1e-4, *TIMES]
    found = solve(stack, times, [ReadingPlace(0, depth)]).temperature_c[:, 0]
    series = [
        plane_wall_temperature(
            start_c=20,
            source_c=150,
            conductance_w_m2k=conductance,
            thickness_mm=0.3,
            depth_share=depth,
            time_s=t,
            **FABRIC,
        )
        for t in times
    ]
    assert found == pytest.approx(series, abs=1e-5)


def test_wall_with_convection_goes_over_into_the_half_space() -> None:
    # both forms just above and below the change-over agree
    for depth in (0.0, 0.02, 0.1):
        below = plane_wall_ratio(biot=2.0, fourier=0.000999999, depth_share=depth)
        above = plane_wall_ratio(biot=2.0, fourier=0.001000001, depth_share=depth)
        assert below == pytest.approx(above, abs=1e-6)


def test_two_deep_bodies_in_contact() -> None:
    # Carslaw and Jaeger, section 2.15
    wood = Layer("wood", 500.0, 0.17, 700, 1660, start_c=20.0)
    sole = Layer("sole", 5000.0, 237.0, 2700, 900, start_c=150.0)
    stack = Stack(20.0, Insulated(), Insulated(), (sole, wood))
    found = solve(stack, [0.01, 1.0, 30.0], [ReadingPlace(0, 1.0), ReadingPlace(1, 0.0)])
    expected = contact_temperature(
        body_a_c=150,
        body_a_conductivity_w_mk=237,
        body_a_density_kg_m3=2700,
        body_a_specific_heat_j_kgk=900,
        body_b_c=20,
        body_b_conductivity_w_mk=0.17,
        body_b_density_kg_m3=700,
        body_b_specific_heat_j_kgk=1660,
    )
    weight = thermal_effusivity(
        conductivity_w_mk=237, density_kg_m3=2700, specific_heat_j_kgk=900
    ) / math.sqrt(0.17 * 700 * 1660)
    assert expected == pytest.approx((weight * 150 + 20) / (weight + 1))
    assert found.temperature_c == pytest.approx(np.full((3, 2), expected), abs=1e-6)


def test_after_hours_the_stack_is_steady() -> None:
    # series resistances
    resistances = [1 / 500, 0.35e-3 / 0.05, 0.25e-3 / 0.06, 3e-3 / 0.04, 1 / 5]
    expected = steady_temperatures(hot_c=150, cold_c=20, resistances_m2k_w=resistances)
    faces = [ReadingPlace(0, 0.0), ReadingPlace(1, 0.0), ReadingPlace(2, 0.0), ReadingPlace(2, 1.0)]
    found = solve(PRESSING, [7200.0], faces).temperature_c[0]
    assert found == pytest.approx(expected, abs=1e-5)


FELT = tuple(
    Layer(f"felt {thick} mm", thick, 0.04, 200, 1300) for thick in (1.0, 9.0, 40.0)
)  # one pad of 50 mm: the twin needs finer cells near its face than equal ones give

HARD = {
    "pressing": PRESSING,
    "contacts": Stack(20.0, PRESSING.top, PRESSING.bottom, PRESSING.layers, 800.0),
    "one contact": Stack(20.0, Held(150.0), Held(20.0), PRESSING.layers, (300.0, None)),
    "metal sole and air gap": Stack(
        20.0,
        Insulated(),
        Held(20.0),
        (
            Layer("sole", 8.0, 200.0, 2700, 900, start_c=180.0),
            Layer("air", 0.02, 0.03, 1.0, 1005),
            GARMENT,
            PAD,
        ),
    ),
    "film on a frozen pad": Stack(
        -40.0,
        Conductance(1100.0, 1e5),
        Conductance(-60.0, 1.0),
        (Layer("film", 0.012, 0.15, 1390, 1170), *FELT),
        (1e4, None, None),
    ),
}


@pytest.mark.parametrize("name", HARD)
def test_stack_agrees_with_a_stiff_integrator(name: str) -> None:
    # scipy BDF with a sparse Jacobian, 80 and 160 cells a layer extrapolated
    stack = HARD[name]
    times = [0.5, 1.0, 5.0, 20.0]
    places = [ReadingPlace(i, 0.5) for i in range(len(stack.layers))]
    found = solve(stack, times, places).temperature_c
    for index in range(len(stack.layers)):
        coarse, fine = (
            twin.middle(twin.by_bdf(times), index)
            for twin in (CellTwin(stack, 80), CellTwin(stack, 160))
        )
        assert found[:, index] == pytest.approx(fine + (fine - coarse) / 3, abs=0.05)


@pytest.mark.parametrize("name", ["pressing", "one contact", "metal sole and air gap"])
def test_stack_agrees_with_a_matrix_exponential_and_the_twin_converges(name: str) -> None:
    # exact in time: what is left is the twin's error in depth, a quarter a doubling
    stack = HARD[name]
    times = [1.0, 5.0]
    index = len(stack.layers) - 2
    found = solve(stack, times, [ReadingPlace(index, 0.5)]).temperature_c[:, 0]
    errors = []
    for cells in (10, 20, 40):
        twin = CellTwin(stack, cells)
        errors.append(np.abs(twin.middle(twin.by_exponential(times), index) - found).max())
    assert errors[2] < 0.1
    assert errors[1] < errors[0] / 3.3
    assert errors[2] < errors[1] / 3.3


def test_heat_that_enters_is_heat_that_is_stored() -> None:
    # conservation of energy, by Gauss quadrature in depth and time
    stack = Stack(20.0, Conductance(150, 500), Insulated(), (PRESS, GARMENT, PAD), 900.0)
    point, weight = np.polynomial.legendre.leggauss(40)
    share, weight = 0.5 * (point + 1), 0.5 * weight
    end = 6.0
    times = end * share**2
    face = solve(stack, times.tolist(), [ReadingPlace(0, 0.0)]).temperature_c[:, 0]
    entered = np.sum(500 * (150 - face) * 2 * end * share * weight)
    stored = 0.0
    for index, layer in enumerate(stack.layers):
        places = [ReadingPlace(index, float(x)) for x in share]
        rise = solve(stack, [end], places).temperature_c[0] - 20
        stored += layer.heat_capacity_j_m3k * layer.thickness_mm * 1e-3 * np.sum(rise * weight)
    assert stored == pytest.approx(entered, rel=1e-6)


def test_the_error_estimate_bounds_the_error() -> None:
    stack = Stack(20.0, Held(150.0), Insulated(), (DEEP,))
    answer = solve(stack, [1.0], [ReadingPlace(0, 0.01)])
    exact = 20 + 130 * math.erfc(5e-4 / (2 * math.sqrt(SPREAD)))
    assert abs(answer.temperature_c[0, 0] - exact) <= answer.error_estimate_c + 1e-12
    assert answer.error_estimate_c < 1e-6


@pytest.mark.parametrize(
    ("altitude", "expected"), [(0, 101.325), (1000, 89.875), (2000, 79.495), (5000, 54.020)]
)
def test_standard_atmosphere(altitude: float, expected: float) -> None:
    # ISO 2533:1975, table by geopotential altitude (from memory)
    assert air_pressure(altitude_m=altitude) == pytest.approx(expected, abs=0.002)
