"""Layers and stacks refuse what no stack can have."""

from __future__ import annotations

import math

import pytest

from samite.kernel.errors import InputError, OutOfRangeError
from samite.press.layers import Conductance, Held, Insulated, Layer, ReadingPlace, Stack
from samite.press.solver import solve

CLOTH = Layer("cloth", 0.5, 0.05, 400, 1300)


def test_heat_capacity_counts_the_water() -> None:
    damp = Layer("damp", 0.5, 0.05, 400, 1300, water_kg_kg=0.5)
    assert CLOTH.heat_capacity_j_m3k == pytest.approx(400 * 1300)
    assert damp.heat_capacity_j_m3k == pytest.approx(400 * (1300 + 0.5 * 4180))
    assert CLOTH.resistance_m2k_w == pytest.approx(0.01)


@pytest.mark.parametrize("number", [0.0, -1.0, math.nan, math.inf])
@pytest.mark.parametrize("place", range(4))
def test_a_property_must_be_positive(place: int, number: float) -> None:
    numbers = [0.5, 0.05, 400.0, 1300.0]
    numbers[place] = number
    with pytest.raises(OutOfRangeError):
        Layer("cloth", *numbers)


@pytest.mark.parametrize("water", [-0.1, math.nan, math.inf])
def test_water_must_be_a_share(water: float) -> None:
    with pytest.raises(OutOfRangeError):
        Layer("cloth", 0.5, 0.05, 400, 1300, water_kg_kg=water)


@pytest.mark.parametrize(
    "boundary",
    [Held(math.nan), Conductance(20, 0.0), Conductance(20, -1.0), Conductance(math.inf, 5)],
)
def test_a_boundary_must_be_possible(boundary: Held | Conductance) -> None:
    with pytest.raises(OutOfRangeError):
        Stack(20.0, boundary, Insulated(), (CLOTH,))
    with pytest.raises(OutOfRangeError):
        Stack(20.0, Insulated(), boundary, (CLOTH,))


def test_a_stack_needs_layers_one_contact_an_interface_and_finite_starts() -> None:
    with pytest.raises(InputError):
        Stack(20.0, Insulated(), Insulated(), ())
    with pytest.raises(InputError):
        Stack(20.0, Insulated(), Insulated(), (CLOTH, CLOTH), (1.0, 2.0))
    with pytest.raises(OutOfRangeError):
        Stack(20.0, Insulated(), Insulated(), (CLOTH, CLOTH), 0.0)
    with pytest.raises(OutOfRangeError):
        Stack(math.nan, Insulated(), Insulated(), (CLOTH,))


@pytest.mark.parametrize(("layer", "depth"), [(-1, 0.5), (0, -0.01), (0, 1.01), (0, math.nan)])
def test_a_reading_place_must_be_in_the_stack(layer: int, depth: float) -> None:
    with pytest.raises(OutOfRangeError):
        ReadingPlace(layer, depth)


def test_the_solver_refuses_a_place_or_a_time_that_is_not_there() -> None:
    stack = Stack(20.0, Held(100.0), Insulated(), (CLOTH,))
    with pytest.raises(InputError):
        solve(stack, [1.0], [ReadingPlace(1, 0.5)])
    for time in (-1.0, math.nan, math.inf):
        with pytest.raises(InputError):
            solve(stack, [time], [ReadingPlace(0, 0.5)])


def test_many_times_are_answered_as_few_are() -> None:
    stack = Stack(20.0, Held(100.0), Insulated(), (CLOTH,))
    place = [ReadingPlace(0, 0.5)]
    times = [0.001 * (i + 1) for i in range(40000)]
    found = solve(stack, times, place).temperature_c[:, 0]
    for index in (0, 16383, 16384, 39999):
        assert found[index] == pytest.approx(
            solve(stack, [times[index]], place).temperature_c[0, 0]
        )
