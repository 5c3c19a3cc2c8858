"""Conduction, steam, wood, air and the iron's pressure against what sources print.

"From memory" says that the source was not opened: the number is what we remember of it,
confirmed by computing it again with a general-purpose library.
"""

from __future__ import annotations

import math

import pytest

from samite.press import closed_forms, steady, substances, walls, water
from samite.press.layers import Conductance, Held, Insulated, Layer, ReadingPlace, Stack
from samite.press.solver import solve
from samite.press.stack import answer_stack

pytestmark = pytest.mark.published

SOIL = 0.52 / (2050 * 1840)
CLOTH = {"conductivity_w_mk": 0.06, "density_kg_m3": 400, "specific_heat_j_kgk": 1400}
STEEL = {"conductivity_w_mk": 63.9, "density_kg_m3": 7832, "specific_heat_j_kgk": 434}


def test_water_main_is_buried_as_in_incropera_example_5_7() -> None:
    # Incropera and DeWitt, example 5.7, book 0.68 m (from memory); scipy erfinv 0.6766 m
    depth = closed_forms.depth_reaching(
        start_c=20, surface_c=-15, reached_c=0, time_s=60 * 86400, diffusivity_m2_s=SOIL
    )
    assert depth == pytest.approx(676.6, abs=10)


def test_water_main_stands_at_freezing_when_posed_to_the_solver() -> None:
    # the same example as a stack: the answer at 0.6766 m after 60 days is 0 C
    soil = Layer("soil", 30000.0, 0.52, 2050, 1840)
    stack = Stack(20.0, Held(-15.0), Insulated(), (soil,))
    answer = solve(stack, [60 * 86400.0], [ReadingPlace(0, 676.6 / 30000.0)])
    assert answer.temperature_c[0, 0] == pytest.approx(0.0, abs=0.1)


def test_thermocouple_junction_as_in_incropera_example_5_1() -> None:
    # Incropera and DeWitt, example 5.1, book 0.706 mm (from memory)
    diameter = steady.lumped_ball_diameter(
        time_constant_s=1, conductance_w_m2k=400, density_kg_m3=8500, specific_heat_j_kgk=400
    )
    assert diameter == pytest.approx(0.7059, abs=0.005)
    constant = steady.lumped_time_constant(
        density_kg_m3=8500,
        specific_heat_j_kgk=400,
        volume_per_area_mm=diameter / 6,
        conductance_w_m2k=400,
    )
    assert constant == pytest.approx(1.0)
    # the same example: 25 to 199 C in gas at 200 C takes 5.2 s (from memory)
    time = steady.lumped_time(time_constant_s=1, start_c=25, surrounding_c=200, reached_c=199)
    assert time == pytest.approx(5.2, abs=0.05)


@pytest.mark.parametrize(("conductance", "thickness"), [(7.9, 4.388), (200.0, 6.09)])
def test_insulating_suit_as_in_incropera_example_3_1(conductance: float, thickness: float) -> None:
    # Incropera and DeWitt, example 3.1, book 4.4 and 6.1 mm (from memory)
    found = steady.insulation_thickness(
        area_m2=1.8,
        heat_loss_w=100,
        inside_c=35,
        surrounding_c=10,
        inner_thickness_mm=3,
        inner_conductivity_w_mk=0.3,
        insulation_conductivity_w_mk=0.014,
        outer_conductance_w_m2k=conductance,
    )
    assert found == pytest.approx(thickness, abs=0.05)


@pytest.mark.parametrize(
    ("biot", "root", "weight"),
    [(0.1, 0.3111, 1.0161), (0.2, 0.4328, 1.0311), (1.0, 0.8603, 1.1191), (10.0, 1.4289, 1.2620)],
)
def test_plane_wall_roots_as_in_incropera_table_5_1(
    biot: float, root: float, weight: float
) -> None:
    # Incropera and DeWitt, table 5.1; Carslaw and Jaeger, chapter III (from memory, scipy brentq)
    found = walls.wall_root(biot=biot)
    assert found == pytest.approx(root, abs=1e-4)
    assert walls.wall_coefficient(root=found) == pytest.approx(weight, abs=1e-4)


def test_oil_pipeline_as_in_incropera_example_5_5() -> None:
    # Incropera and DeWitt, example 5.5: Bi 0.313, Fo 5.64, 42.9 and 45.2 C (from memory)
    biot = walls.biot_number(conductance_w_m2k=500, thickness_mm=40, conductivity_w_mk=63.9)
    spread = closed_forms.thermal_diffusivity(**STEEL)
    fourier = walls.fourier_number(diffusivity_m2_s=spread, time_s=480, thickness_mm=40)
    assert biot == pytest.approx(0.313, abs=0.005)
    assert fourier == pytest.approx(5.64, abs=0.05)
    for depth, expected in ((1.0, 43.0), (0.0, 45.4)):
        found = walls.plane_wall_temperature(
            start_c=-20,
            source_c=60,
            conductance_w_m2k=500,
            thickness_mm=40,
            depth_share=depth,
            time_s=480,
            **STEEL,
        )
        assert found == pytest.approx(expected, abs=0.3)


def test_oil_pipeline_posed_to_the_solver() -> None:
    # the same example as a stack
    answer = answer_stack(
        {
            "format": "samite.stack.v1",
            "start_c": -20,
            "top": {"sole_c": 60, "conductance_w_m2k": 500},
            "bottom": {"insulated": True},
            "layers": [{"name": "steel", "thickness_mm": 40, **STEEL}],
            "contact_w_m2k": None,
            "times_s": [480],
            "read_at": [{"layer": "steel", "depth": 1.0}, {"layer": "steel", "depth": 0.0}],
        }
    )
    assert answer["temperature_c"] == [pytest.approx([43.0, 45.4], abs=0.3)]


def test_slab_centre_at_fourier_0_2() -> None:
    # Carslaw and Jaeger, section 3.3 (series, computed)
    assert walls.slab_centre_ratio(fourier=0.2) == pytest.approx(0.772312, abs=1e-4)


def test_insulated_face_reaches_95_percent() -> None:
    # Carslaw and Jaeger, section 3.3 (series, computed)
    assert walls.insulated_face_fourier(share=0.95) == pytest.approx(1.31203, abs=1e-4)
    time = walls.insulated_face_time(share=0.95, thickness_mm=0.30, **CLOTH)
    assert time == pytest.approx(1.1021, abs=0.01)


def test_far_face_of_a_cloth_with_contact_conductance() -> None:
    # Carslaw and Jaeger, section 3.11 (series, computed; a finite-difference run agrees)
    found = walls.plane_wall_temperature(
        start_c=20,
        source_c=150,
        conductance_w_m2k=500,
        thickness_mm=0.30,
        depth_share=1.0,
        time_s=1.0,
        **CLOTH,
    )
    assert found == pytest.approx(117.09, abs=0.05)


def test_deep_pad_flux_half_a_second_after_a_step() -> None:
    # Carslaw and Jaeger, section 2.4 (arithmetic)
    found = closed_forms.semi_infinite_flux(temperature_step_k=130, time_s=0.5, **CLOTH)
    assert found == pytest.approx(19013.0, abs=5)


def test_deep_cloth_with_contact_conductance() -> None:
    # Carslaw and Jaeger, section 2.7 (computed with scipy)
    found = closed_forms.semi_infinite_contact_ratio(
        conductance_w_m2k=500, depth_mm=0, time_s=1.0, **CLOTH
    )
    assert found == pytest.approx(0.80492, abs=1e-3)


def test_aluminium_sole_against_wood() -> None:
    # contact of two deep bodies, Carslaw and Jaeger, section 2.15 (arithmetic)
    found = closed_forms.contact_temperature(
        body_a_c=150,
        body_a_conductivity_w_mk=237,
        body_a_density_kg_m3=2700,
        body_a_specific_heat_j_kgk=900,
        body_b_c=20,
        body_b_conductivity_w_mk=0.17,
        body_b_density_kg_m3=700,
        body_b_specific_heat_j_kgk=1660,
    )
    assert found == pytest.approx(147.64, abs=0.1)


def test_series_resistances_of_iron_press_cloth_garment_and_pad() -> None:
    # series resistances (arithmetic)
    layers = [(0.35, 0.05), (0.25, 0.05), (3.0, 0.04)]
    resistances = [
        1 / 500,
        *(steady.layer_resistance(thickness_mm=t, conductivity_w_mk=k) for t, k in layers),
    ]
    found = steady.steady_temperatures(hot_c=150, cold_c=20, resistances_m2k_w=resistances)
    assert found[1] == pytest.approx(136.85, abs=0.05)


def test_steady_flux_through_a_cloth() -> None:
    # Fourier's law (arithmetic)
    found = steady.steady_flux(
        thickness_mm=0.4, conductivity_w_mk=0.05, temperature_difference_k=50
    )
    assert found == pytest.approx(6250.0, abs=0.1)


def test_pressing_stack_with_a_press_cloth() -> None:
    # computed: finite volumes with a matrix exponential, 40 cells a layer, agree with a BDF run;
    # without the press cloth they were read in a cell centred half a cell under the middle
    press = Layer("press cloth", 0.35, 0.05, 450, 1340)
    garment = Layer("garment", 0.25, 0.06, 500, 1150)
    pad = Layer("pad", 3.0, 0.04, 150, 1300)
    stack = Stack(20.0, Conductance(150, 500), Conductance(20, 5), (press, garment, pad))
    times = [1.0, 2.0, 3.0, 5.0, 10.0, 20.0]
    found = solve(stack, times, [ReadingPlace(1, 0.5)]).temperature_c[:, 0]
    assert found == pytest.approx([45.24, 70.5, 86.3, 104.5, 122.2, 133.1], abs=0.1)
    bare = Stack(20.0, stack.top, stack.bottom, (garment, pad))
    found = solve(bare, times, [ReadingPlace(0, 0.5125)]).temperature_c[:, 0]
    assert found == pytest.approx([110.3, 126.0, 131.9, 136.9, 141.2, 144.5], abs=0.06)


def test_thermostat_ripple_sinks_in_cloth() -> None:
    # exp(-x / delta), Carslaw and Jaeger, section 2.6 (arithmetic)
    found = steady.ripple_attenuation(period_s=60, diffusivity_m2_s=1e-7, depth_mm=1.0)
    assert found == pytest.approx(0.485, abs=1e-3)
    assert steady.ripple_depth(period_s=60, diffusivity_m2_s=1e-7) == pytest.approx(1.38, abs=0.01)


def test_pressure_of_an_iron() -> None:
    # p = F / A with g = 9.80665 m/s2 (arithmetic)
    assert steady.iron_pressure(mass_kg=1.3, sole_area_cm2=210) == pytest.approx(607.08, abs=1)
    found = steady.iron_pressure(mass_kg=1.3, sole_area_cm2=210, hand_force_n=40)
    assert found == pytest.approx(2511.8, abs=1)


@pytest.mark.parametrize(("gravity", "expected"), [(0.63, 0.17165), (0.56, 0.15465)])
def test_wood_across_the_grain(gravity: float, expected: float) -> None:
    # Wood Handbook FPL-GTR-190, equation 4-7 (from memory)
    found = substances.wood_conductivity(specific_gravity=gravity, moisture_percent=12)
    assert found == pytest.approx(expected, abs=1e-4)


def test_specific_heat_of_wood() -> None:
    # Wood Handbook FPL-GTR-190, equation 4-16; its table prints 1.7 kJ/(kg K) (from memory)
    found = substances.wood_specific_heat(wood_c=300 - 273.15, moisture_percent=12)
    assert found == pytest.approx(1663.2, abs=20)


@pytest.mark.parametrize(("air_c", "expected"), [(20, 0.02587), (100, 0.03162), (150, 0.03500)])
def test_air_conductivity(air_c: float, expected: float) -> None:
    # Lemmon and Jacobsen 2004 as computed by an open property library
    assert substances.air_conductivity(air_c=air_c) == pytest.approx(expected, abs=5e-5)


def test_saturation_line_at_one_atmosphere_and_100_c() -> None:
    # IAPWS-95 as computed by two open property libraries
    boiling = water.saturation_temperature(pressure_kpa=101.325)
    assert boiling == pytest.approx(99.9743, abs=0.002)
    assert water.saturation_pressure(water_c=100) == pytest.approx(101.418, abs=0.005)
    assert water.latent_heat(water_c=boiling) == pytest.approx(2256.5, abs=0.1)
    assert water.steam_density(water_c=100) == pytest.approx(0.59814, abs=0.0001)


@pytest.mark.parametrize(("gauge", "expected"), [(3, 143.73), (4, 151.93), (5, 158.9)])
def test_steam_in_a_boiler(gauge: float, expected: float) -> None:
    # IAPWS-95; popular text calls 5 bar absolute, 151.8 C, "5 bar = 150 C"
    assert water.steam_temperature(gauge_bar=gauge) == pytest.approx(expected, abs=0.1)


def test_boiling_point_at_1500_m() -> None:
    # ISO 2533 standard atmosphere (ISA) and IAPWS-95
    assert water.boiling_point(altitude_m=1500) == pytest.approx(94.983, abs=0.01)


def test_heat_and_time_to_dry_a_press_cloth() -> None:
    # IAPWS-95 and an energy balance
    assert water.steaming_heat(water_c=20, steam_c=100) == pytest.approx(2591.56, abs=0.2)
    heat = water.drying_heat(water_gsm=100, water_c=20)
    assert heat == pytest.approx(259.16, abs=0.02)
    time = water.drying_time(water_gsm=100, water_c=20, flux_kw_m2=20)
    assert time == pytest.approx(12.958, abs=0.005)


def test_steam_condensed_on_dry_cotton() -> None:
    # m = m_cloth c dT / latent heat (arithmetic, no heat of sorption)
    found = water.steam_condensed(mass_per_area_gsm=100, specific_heat_j_gk=1.30, start_c=20)
    assert found == pytest.approx(4.6091, abs=0.002)


@pytest.mark.parametrize(
    ("kelvin", "mpa"),
    [(300.0, 0.353658941e-2), (500.0, 0.263889776e1), (600.0, 0.123443146e2)],
)
def test_saturation_line_as_in_the_release(kelvin: float, mpa: float) -> None:
    # IAPWS-IF97 (2007 release), table 35
    from samite.press.steam_equations import saturation_line_k, saturation_line_mpa

    assert saturation_line_mpa(kelvin) == pytest.approx(mpa, rel=1e-8)
    assert saturation_line_k(mpa) == pytest.approx(kelvin, abs=1e-6)


@pytest.mark.parametrize(
    ("kelvin", "mpa", "volume", "enthalpy"),
    [
        (300.0, 3.0, 0.100215168e-2, 0.115331273e3),
        (300.0, 80.0, 0.971180894e-3, 0.184142828e3),
        (500.0, 3.0, 0.120241800e-2, 0.975542239e3),
    ],
)
def test_liquid_as_in_the_release(
    kelvin: float, mpa: float, volume: float, enthalpy: float
) -> None:
    # IAPWS-IF97 (2007 release), table 5
    from samite.press.steam_equations import liquid_volume_enthalpy

    assert liquid_volume_enthalpy(kelvin, mpa) == pytest.approx((volume, enthalpy), rel=1e-8)


@pytest.mark.parametrize(
    ("kelvin", "mpa", "volume", "enthalpy"),
    [
        (300.0, 0.0035, 0.394913866e2, 0.254991145e4),
        (700.0, 0.0035, 0.923015898e2, 0.333568375e4),
        (700.0, 30.0, 0.542946619e-2, 0.263149474e4),
    ],
)
def test_steam_as_in_the_release(kelvin: float, mpa: float, volume: float, enthalpy: float) -> None:
    # IAPWS-IF97 (2007 release), table 15
    from samite.press.steam_equations import steam_volume_enthalpy

    assert steam_volume_enthalpy(kelvin, mpa) == pytest.approx((volume, enthalpy), rel=1e-8)


def test_saturation_line_against_a_reference_library() -> None:
    # the open library iapws, its own IAPWS-95
    from iapws import IAPWS95

    for kelvin in (280.0, 330.0, 373.15, 430.0, 520.0, 600.0):
        steam, liquid = IAPWS95(T=kelvin, x=1), IAPWS95(T=kelvin, x=0)
        celsius = kelvin - 273.15
        pressure = water.saturation_pressure(water_c=celsius)
        assert pressure == pytest.approx(1000 * steam.P, rel=5e-4)
        heat = water.latent_heat(water_c=celsius)
        assert heat == pytest.approx(steam.h - liquid.h, abs=1.5)
        assert water.steam_density(water_c=celsius) == pytest.approx(steam.rho, rel=2e-3)
        assert water.liquid_density(water_c=celsius) == pytest.approx(liquid.rho, rel=1e-3)
        assert math.isclose(water.liquid_enthalpy(water_c=celsius), liquid.h, abs_tol=1.0)
