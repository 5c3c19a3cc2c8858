"""The batch solver against the exact one and against slow twins."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from tests.oracles.press.twins import GARMENT, PAD, PRESS, CellTwin, plain_march

from samite.press.batch import Batch, Body, Phase, solve_batch
from samite.press.grid import plan_grid, plan_steps, shortest_time
from samite.press.layers import Conductance, Held, Insulated, Layer, ReadingPlace, Stack
from samite.press.solver import solve

pytestmark = pytest.mark.oracle

LAYERS = (PRESS, GARMENT, PAD)
PLACES = [ReadingPlace(i, d) for i in range(3) for d in (0.0, 0.5, 1.0)]
TIMES = [0.25, 0.5, 1.0, 2.0, 3.0, 5.0, 10.0, 20.0]


def batch_of(draws: list[tuple[Layer, ...]], **others) -> Batch:
    table = {
        name: np.array([[getattr(layer, name) for layer in layers] for layers in draws])
        for name in ("thickness_mm", "conductivity_w_mk", "heat_capacity_j_m3k")
    }
    given = {"start_c": 20.0, "bottom_c": 20.0, "bottom_conductance_w_m2k": 5.0, **others}
    return Batch(**table, **given)


def spread(count: int) -> list[tuple[Layer, ...]]:
    """Return stacks whose properties vary by a factor of about 1.5 either way."""
    factors = np.exp(0.25 * np.random.default_rng(7).standard_normal((count, 3, 3)))
    return [
        tuple(
            replace(
                layer,
                thickness_mm=layer.thickness_mm * factor[0],
                conductivity_w_mk=layer.conductivity_w_mk * factor[1],
                density_kg_m3=layer.density_kg_m3 * factor[2],
            )
            for layer, factor in zip(LAYERS, row, strict=True)
        )
        for row in factors
    ]


@pytest.mark.parametrize("contact", [None, 1000.0])
@pytest.mark.parametrize("conductance", [100.0, 500.0, 2000.0, np.inf])
def test_every_draw_equals_the_exact_solver(contact: float | None, conductance: float) -> None:
    draws = spread(21)
    sole = np.linspace(120.0, 200.0, 21)
    phases = [Phase(20.0, sole, conductance)]
    found = solve_batch(batch_of(draws, contact_w_m2k=contact), phases, TIMES, PLACES)
    for index, layers in enumerate(draws):
        iron = Held(sole[index]) if np.isinf(conductance) else Conductance(sole[index], conductance)
        exact = solve(Stack(20.0, iron, Conductance(20, 5), layers, contact), TIMES, PLACES)
        assert found.temperature_c[index] == pytest.approx(exact.temperature_c, abs=0.1)


def test_the_error_falls_by_four_when_cells_and_steps_are_halved() -> None:
    stack = Stack(20.0, Conductance(150, 500), Conductance(20, 5), LAYERS)
    exact = solve(stack, TIMES, PLACES).temperature_c
    errors = []
    for fineness in (1.0, 2.0, 4.0):
        found = solve_batch(
            batch_of([LAYERS]), [Phase(20.0, 150.0, 500.0)], TIMES, PLACES, fineness=fineness
        )
        errors.append(np.abs(found.temperature_c[0] - exact).max())
    assert errors[0] < 0.05
    assert errors[1] < errors[0] / 3.3
    assert errors[2] < errors[1] / 3.3


def test_layers_may_start_at_temperatures_of_their_own() -> None:
    starts = np.array([[150.0, 20.0, 35.0]])
    layers = tuple(
        replace(layer, start_c=float(start)) for layer, start in zip(LAYERS, starts[0], strict=True)
    )
    stack = Stack(20.0, Insulated(), Held(10.0), layers, 700.0)
    found = solve_batch(
        batch_of(
            [LAYERS],
            start_c=starts,
            contact_w_m2k=700.0,
            bottom_c=10.0,
            bottom_conductance_w_m2k=np.inf,
        ),
        [Phase(20.0, 0.0, 0.0)],
        TIMES,
        PLACES,
    )
    exact = solve(stack, TIMES, PLACES).temperature_c
    assert found.temperature_c[0] == pytest.approx(exact, abs=0.1)


def test_iron_then_lifted_then_clapper_equals_a_matrix_exponential() -> None:
    # every phase is a twin of its own that starts where the last one ended
    wood = Layer("wood", 20.0, 0.17, 700, 1660, start_c=20.0)
    phases = [Phase(4.0, 160.0, 600.0), Phase(0.5, 20.0, 12.0), Phase(6.0, 20.0, 0.0, 300.0)]
    body = Body(20.0, 0.17, 700 * 1660.0, 20.0)
    times = [1.0, 4.0, 4.5, 5.5, 8.0, 10.5]
    middle = [ReadingPlace(i, 0.5) for i in range(3)]
    found = solve_batch(batch_of([LAYERS], body=body), phases, times, middle)
    cells = 40

    def stack(top, *extra: Layer) -> Stack:
        contacts = (300.0, None, None) if extra else None
        return Stack(20.0, top, Conductance(20, 5), (*extra, *LAYERS), contacts)

    states = []
    press = CellTwin(stack(Conductance(160, 600)), cells)
    states += list(press.by_exponential([1.0, 4.0]).T)
    lifted = CellTwin(stack(Conductance(20, 12)), cells)
    lifted.start = states[-1]
    states += list(lifted.by_exponential([0.5]).T)
    # the wood needs finer cells near its face than equal ones give: 20 mm in four slabs
    slabs = [
        replace(wood, name=f"wood {i}", thickness_mm=t) for i, t in enumerate((16, 3, 0.8, 0.2))
    ]
    clapped = CellTwin(
        Stack(
            20.0,
            Insulated(),
            Conductance(20, 5),
            (*slabs, *LAYERS),
            (None, None, None, 300.0, None, None),
        ),
        cells,
    )
    clapped.start = np.concatenate([np.full(4 * cells, 20.0), states[-1]])
    clap = clapped.by_exponential([1.0, 3.5, 6.0])
    expected = [[press.middle(state, i) for i in range(3)] for state in states]
    expected += [[clapped.middle(state, 4 + i) for i in range(3)] for state in clap.T]
    assert found.temperature_c[0] == pytest.approx(np.array(expected), abs=0.1)


@pytest.mark.parametrize("merged", [True, False])
def test_the_compiled_march_equals_plain_matrices_on_the_same_grid(*, merged: bool) -> None:
    dwell, times = [2.0, 1.0], [0.5, 2.0, 2.4, 3.0]
    contact = None if merged else 650.0
    batch = batch_of(spread(3), contact_w_m2k=contact, body=Body(10.0, 0.17, 1.16e6, 25.0))
    phases = [Phase(2.0, 150.0, 500.0), Phase(1.0, 20.0, 8.0, 400.0)]
    places = [ReadingPlace(1, 0.5)]
    found = solve_batch(batch, phases, times, places)
    grid = plan_grid(
        np.quantile(
            (batch.thickness_mm * 1e-3) ** 2 * batch.heat_capacity_j_m3k / batch.conductivity_w_mk,
            0.95,
            axis=0,
        ),
        shortest_time(dwell, times),
        places,
        1.0,
        merged=merged,
        body_diffusion_time_s=10e-3**2 * 1.16e6 / 0.17,
    )
    steps = plan_steps(dwell, times, 1.0)
    capacity = np.zeros(grid.nodes)
    conductance, energy = np.zeros(grid.nodes - 1), np.zeros(grid.nodes)
    draw = 1
    slabs = [(grid.body, 10.0, 0.17, 1.16e6, 25.0)] + [
        (
            slab,
            batch.thickness_mm[draw, i],
            batch.conductivity_w_mk[draw, i],
            batch.heat_capacity_j_m3k[draw, i],
            20.0,
        )
        for i, slab in enumerate(grid.layers)
    ]
    for slab, thick, k, heat, start in slabs:
        for i in range(len(slab.depths) - 1):
            wide = (slab.depths[i + 1] - slab.depths[i]) * thick * 1e-3
            conductance[slab.first + i] = k / wide
            for node in (slab.first + i, slab.first + i + 1):
                capacity[node] += wide * heat / 2
                energy[node] += wide * heat / 2 * start
    if not merged:
        conductance[[slab.first - 1 for slab in grid.layers[1:]]] = contact
    top = grid.layers[0].first
    plain = [
        (top, 500.0, 150.0, grid.body.last, 0.0, 5.0, 20.0),
        (top, 8.0, 20.0, grid.body.last, 400.0, 5.0, 20.0),
    ]
    states = plain_march(capacity, conductance, energy / capacity, plain, steps)
    kept = [state for state, row in zip(states, steps.record, strict=True) if row >= 0]
    node = grid.layers[1].node_at(0.5)
    assert found.temperature_c[draw, :, 0] == pytest.approx([s[node] for s in kept], abs=1e-7)
    slab = grid.layers[2]
    hottest = max(state[slab.first : slab.last + 1].max() for state in [energy / capacity, *states])
    assert found.peak_c[draw, -1, 2] == pytest.approx(hottest, abs=1e-7)
