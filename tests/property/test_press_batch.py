"""Laws of the batch solver."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from samite.press.batch import Batch, Phase, solve_batch
from samite.press.layers import Conductance, Insulated, Layer, ReadingPlace, Stack
from samite.press.solver import solve

pytestmark = pytest.mark.property

TIMES = [0.5, 1.0, 3.0, 8.0]
PLACES = [ReadingPlace(i, d) for i in range(2) for d in (0.0, 0.5, 1.0)]


def batches(seed: int, contact: float | None) -> Batch:
    generator = np.random.default_rng(seed)

    def some(low: float, high: float) -> np.ndarray:
        return np.exp(generator.uniform(np.log(low), np.log(high), (4, 2)))

    return Batch(some(0.1, 0.6), some(0.03, 0.1), some(2e5, 1e6), 20.0, 20.0, 6.0, contact)


@given(
    st.integers(0, 10**6),
    st.one_of(st.none(), st.floats(50.0, 5000.0)),
    st.floats(50.0, 2000.0),
    st.floats(90.0, 220.0),
)
def test_random_batches_equal_the_exact_solver(
    seed: int, contact: float | None, conductance: float, sole: float
) -> None:
    batch = batches(seed, contact)
    found = solve_batch(batch, [Phase(8.0, sole, conductance)], TIMES, PLACES)
    for draw in range(4):
        layers = tuple(
            Layer(
                f"{i}",
                batch.thickness_mm[draw, i],
                batch.conductivity_w_mk[draw, i],
                1000.0,
                batch.heat_capacity_j_m3k[draw, i] / 1000.0,
            )
            for i in range(2)
        )
        stack = Stack(20.0, Conductance(sole, conductance), Conductance(20.0, 6.0), layers, contact)
        exact = solve(stack, TIMES, PLACES).temperature_c
        assert found.temperature_c[draw] == pytest.approx(exact, abs=0.1)


@given(st.integers(0, 10**6), st.floats(1.0, 80.0))
def test_a_hotter_sole_never_cools_any_draw(seed: int, by: float) -> None:
    batch = batches(seed, 500.0)
    runs = [
        solve_batch(batch, [Phase(3.0, sole, 400.0), Phase(5.0, 20.0, 10.0)], TIMES, PLACES)
        for sole in (120.0, 120.0 + by)
    ]
    assert np.all(runs[1].temperature_c >= runs[0].temperature_c - 1e-9)
    assert np.all(runs[1].peak_c >= runs[0].peak_c - 1e-9)
    assert runs[1].temperature_c.max() <= 120.0 + by


@given(st.integers(0, 10**6))
def test_an_insulated_stack_keeps_its_heat(seed: int) -> None:
    # after long, all is at the mean by heat capacity
    batch = batches(seed, 500.0)
    starts = np.array([[150.0, 20.0]] * 4)
    alone = Batch(
        batch.thickness_mm,
        batch.conductivity_w_mk,
        batch.heat_capacity_j_m3k,
        starts,
        0.0,
        0.0,
        batch.contact_w_m2k,
    )
    found = solve_batch(alone, [Phase(3600.0, 0.0, 0.0)], [1.0, 3600.0], PLACES)
    heat = batch.thickness_mm * batch.heat_capacity_j_m3k
    mean = (heat * starts).sum(axis=1) / heat.sum(axis=1)
    assert found.temperature_c[:, 1] == pytest.approx(
        np.repeat(mean[:, np.newaxis], 6, 1), abs=1e-6
    )


def test_an_insulated_stack_at_rest_stays_at_rest() -> None:
    stack = Stack(37.0, Insulated(), Insulated(), (Layer("cloth", 0.3, 0.05, 400, 1300),))
    assert np.all(solve(stack, [0.0, 1e-6, 1e6], [ReadingPlace(0, 0.5)]).temperature_c == 37.0)
