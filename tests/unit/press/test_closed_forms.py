"""Closed forms refuse what they cannot answer and say which argument it was."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest

from samite.kernel.errors import InputError, OutOfRangeError
from samite.press import closed_forms, steady, substances, walls, water

CLOTH = {"conductivity_w_mk": 0.06, "density_kg_m3": 400.0, "specific_heat_j_kgk": 1400.0}

REFUSED: list[tuple[Callable[..., object], dict[str, object], str]] = [
    (closed_forms.thermal_diffusivity, {**CLOTH, "density_kg_m3": 0.0}, "density_kg_m3"),
    (closed_forms.thermal_effusivity, {**CLOTH, "density_kg_m3": -1.0}, "density_kg_m3"),
    (
        closed_forms.semi_infinite_temperature,
        {"start_c": 20, "surface_c": 150, "depth_mm": -1, "time_s": 1, "diffusivity_m2_s": 1e-7},
        "depth_mm",
    ),
    (
        closed_forms.depth_reaching,
        {"start_c": 20, "surface_c": 150, "reached_c": 160, "time_s": 1, "diffusivity_m2_s": 1e-7},
        "reached_c",
    ),
    (walls.slab_ratio, {"fourier": 1.0, "depth_share": 1.5}, "depth_share"),
    (walls.slab_centre_ratio, {"fourier": -1.0}, "fourier"),
    (walls.insulated_face_fourier, {"share": 1.0}, "share"),
    (walls.wall_root, {"biot": math.nan}, "biot"),
    (walls.wall_root, {"biot": 1.0, "number": 0}, "number"),
    (walls.plane_wall_ratio, {"biot": 1, "fourier": math.inf, "depth_share": 0}, "fourier"),
    (steady.steady_temperatures, {"hot_c": 1, "cold_c": 0, "resistances_m2k_w": []}, "resistances"),
    (
        steady.steady_temperatures,
        {"hot_c": 1, "cold_c": 0, "resistances_m2k_w": [0.0, 0.0]},
        "resistances",
    ),
    (
        steady.lumped_time,
        {"time_constant_s": 1, "start_c": 20, "surrounding_c": 100, "reached_c": 10},
        "reached_c",
    ),
    (
        steady.insulation_thickness,
        {
            "area_m2": 1,
            "heat_loss_w": 1e6,
            "inside_c": 35,
            "surrounding_c": 10,
            "inner_thickness_mm": 3,
            "inner_conductivity_w_mk": 0.3,
            "insulation_conductivity_w_mk": 0.014,
            "outer_conductance_w_m2k": 8,
        },
        "heat_loss_w",
    ),
    (steady.iron_pressure, {"mass_kg": 1, "sole_area_cm2": 0}, "sole_area_cm2"),
    (
        steady.iron_pressure,
        {"mass_kg": 1, "sole_area_cm2": 200, "hand_force_n": -1},
        "hand_force_n",
    ),
    (substances.air_conductivity, {"air_c": -200}, "air_c"),
    (
        substances.wood_conductivity,
        {"specific_gravity": 0.6, "moisture_percent": 40},
        "moisture_percent",
    ),
    (substances.wood_specific_heat, {"wood_c": 300, "moisture_percent": 12}, "wood_c"),
    (water.saturation_pressure, {"water_c": 351}, "water_c"),
    (water.saturation_temperature, {"pressure_kpa": 0.1}, "pressure_kpa"),
    (water.steam_temperature, {"gauge_bar": -0.5}, "gauge_bar"),
    (water.steaming_heat, {"water_c": 100, "steam_c": 20}, "steam_c"),
    (water.boiling_point, {"altitude_m": 20000}, "altitude_m"),
    (water.drying_time, {"water_gsm": 100, "water_c": 20, "flux_kw_m2": 0}, "flux_kw_m2"),
    (water.drying_heat, {"water_gsm": -1, "water_c": 20}, "water_gsm"),
    (
        water.steam_condensed,
        {"mass_per_area_gsm": 100, "specific_heat_j_gk": 1.3, "start_c": 120},
        "start_c",
    ),
]


@pytest.mark.parametrize(("function", "arguments", "where"), REFUSED)
def test_what_cannot_be_answered_is_refused(
    function: Callable[..., object], arguments: dict[str, object], where: str
) -> None:
    with pytest.raises(InputError) as caught:
        function(**arguments)
    assert caught.value.where.startswith(where)
    assert caught.value.hint


def test_refusals_of_numbers_are_out_of_range() -> None:
    with pytest.raises(OutOfRangeError):
        walls.insulated_face_fourier(share=0.0)


@pytest.mark.parametrize("share", [0.01, 0.5, 0.95, 0.999])
def test_the_time_to_a_share_gives_that_share(share: float) -> None:
    fourier = walls.insulated_face_fourier(share=share)
    assert 1 - walls.slab_centre_ratio(fourier=fourier) == pytest.approx(share, abs=1e-9)


def test_walls_start_with_the_whole_step() -> None:
    assert walls.slab_ratio(fourier=0.0, depth_share=0.3) == 1.0
    assert walls.plane_wall_ratio(biot=2.0, fourier=0.0, depth_share=0.3) == 1.0


@pytest.mark.parametrize("number", [1, 2, 3, 10])
@pytest.mark.parametrize("biot", [1e-6, 0.5, 30.0, 1e9])
def test_roots_solve_their_equation(biot: float, number: int) -> None:
    root = walls.wall_root(biot=biot, number=number)
    assert (number - 1) * math.pi <= root <= (number - 0.5) * math.pi
    assert root * math.sin(root) == pytest.approx(
        biot * math.cos(root), abs=1e-9 * max(1.0, biot * root)
    )


def test_pressure_and_temperature_of_saturation_are_inverse() -> None:
    for celsius in (0.5, 20.0, 100.0, 250.0, 349.0):
        pressure = water.saturation_pressure(water_c=celsius)
        assert water.saturation_temperature(pressure_kpa=pressure) == pytest.approx(celsius)
