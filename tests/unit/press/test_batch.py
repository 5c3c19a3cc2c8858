"""The batch solver's shapes, refusals, steps and nodes."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from samite.kernel.errors import InputError, OutOfRangeError
from samite.press.batch import Batch, Body, Phase, solve_batch
from samite.press.grid import plan_grid, plan_steps
from samite.press.layers import ReadingPlace

ONE = np.ones((5, 2))
BATCH = Batch(0.3 * ONE, 0.05 * ONE, 6e5 * ONE, 20.0, 20.0, 5.0, 800.0)
IRON = Phase(3.0, 150.0, 500.0)
PLACE = [ReadingPlace(1, 0.5)]


def test_answers_have_one_row_a_draw_a_time_and_a_place() -> None:
    places = [ReadingPlace(0, 0.3), ReadingPlace(1, 1.0), ReadingPlace(1, 0.5)]
    found = solve_batch(BATCH, [IRON], [0.0, 1.0, 3.0], places)
    assert found.temperature_c.shape == (5, 3, 3)
    assert found.peak_c.shape == (5, 3, 2)
    assert found.temperature_c[:, 0] == pytest.approx(np.full((5, 3), 20.0))
    assert found.peak_c[:, 0] == pytest.approx(np.full((5, 2), 20.0))


def test_any_number_of_draws_is_answered_alike() -> None:
    first = solve_batch(BATCH, [IRON], [3.0], PLACE).temperature_c[0, 0, 0]
    for count in (1, 15, 16, 17, 40):
        one = np.ones((count, 2))
        batch = replace(
            BATCH,
            thickness_mm=0.3 * one,
            conductivity_w_mk=0.05 * one,
            heat_capacity_j_m3k=6e5 * one,
        )
        found = solve_batch(batch, [IRON], [3.0], PLACE).temperature_c
        assert found == pytest.approx(np.full((count, 1, 1), first))


def test_the_peak_never_falls_and_covers_what_is_read() -> None:
    times = np.linspace(0.5, 9.0, 18).tolist()
    places = [ReadingPlace(i, d) for i in range(2) for d in (0.0, 0.5, 1.0)]
    found = solve_batch(BATCH, [IRON, Phase(6.0, 20.0, 10.0)], times, places)
    assert np.all(np.diff(found.peak_c, axis=1) >= 0.0)
    for layer in range(2):
        read = found.temperature_c[:, :, 3 * layer : 3 * layer + 3].max(axis=2)
        assert np.all(found.peak_c[:, :, layer] >= read)
    assert np.all(found.temperature_c[:, -1, 0] < found.peak_c[:, -1, 0] - 10.0)


def test_a_body_stays_at_its_temperature_until_it_is_laid_on() -> None:
    body = Body(20.0, 0.17, 1.16e6, 20.0)
    with_body = replace(BATCH, body=body)
    bare = solve_batch(BATCH, [IRON], [3.0], PLACE).temperature_c
    waiting = solve_batch(with_body, [IRON], [3.0], PLACE).temperature_c
    assert waiting == pytest.approx(bare, abs=1e-9)
    laid = solve_batch(with_body, [IRON, Phase(4.0, 20.0, 0.0, 500.0)], [3.0, 7.0], PLACE)
    left = solve_batch(with_body, [IRON, Phase(4.0, 20.0, 10.0)], [3.0, 7.0], PLACE)
    assert np.all(laid.temperature_c[:, 1] < left.temperature_c[:, 1] - 10.0)


@pytest.mark.parametrize(
    ("change", "where"),
    [
        ({"thickness_mm": np.zeros((5, 2))}, "thickness_mm"),
        ({"thickness_mm": np.ones(5)}, "thickness_mm"),
        ({"conductivity_w_mk": np.ones((5, 3))}, "conductivity_w_mk"),
        ({"heat_capacity_j_m3k": np.full((5, 2), np.nan)}, "heat_capacity_j_m3k"),
        ({"start_c": np.full(5, np.nan)}, "start_c"),
        ({"start_c": np.ones(4)}, "start_c"),
        ({"bottom_c": np.ones(4)}, "bottom_c"),
        ({"bottom_conductance_w_m2k": -1.0}, "bottom_conductance_w_m2k"),
        ({"contact_w_m2k": 0.0}, "contact_w_m2k"),
        ({"contact_w_m2k": np.ones((5, 2))}, "contact_w_m2k"),
        ({"body": Body(0.0, 0.17, 1.16e6, 20.0)}, "thickness_mm"),
    ],
)
def test_a_batch_that_does_not_fit_is_refused(change: dict[str, object], where: str) -> None:
    with pytest.raises(InputError) as caught:
        solve_batch(replace(BATCH, **change), [IRON], [1.0], PLACE)
    assert caught.value.where == where


@pytest.mark.parametrize(
    "phase",
    [
        Phase(0.0, 150.0, 500.0),
        Phase(np.inf, 150.0, 500.0),
        Phase(3.0, np.nan, 500.0),
        Phase(3.0, 150.0, -5.0),
        Phase(3.0, np.ones(4), 5.0),
        Phase(3.0, 20.0, 0.0, np.nan),
    ],
)
def test_an_impossible_phase_is_refused(phase: Phase) -> None:
    with pytest.raises(InputError):
        solve_batch(BATCH, [phase], [1.0], PLACE)


@pytest.mark.parametrize("times", [[], [1.0, 1.0], [2.0, 1.0], [-1.0], [3.1], [np.nan, 2.0]])
def test_times_must_rise_within_the_phases(times: list[float]) -> None:
    with pytest.raises(InputError):
        solve_batch(BATCH, [IRON], times, PLACE)


def test_a_place_outside_the_stack_is_refused() -> None:
    with pytest.raises(InputError):
        solve_batch(BATCH, [IRON], [1.0], [ReadingPlace(2, 0.5)])
    with pytest.raises(OutOfRangeError):
        ReadingPlace(0, 2.0)


def test_steps_land_on_every_time_and_on_every_end_of_a_phase() -> None:
    dwell, times = [2.0, 0.7, 5.0], [0.1, 0.35, 2.0, 2.4, 3.0, 7.7]
    steps = plan_steps(dwell, times, 1.0)
    reached = np.cumsum(steps.step_s)
    assert reached[steps.record >= 0] == pytest.approx(times)
    assert steps.record[steps.record >= 0].tolist() == list(range(6))
    assert [steps.step_s[steps.phase == i].sum() for i in range(3)] == pytest.approx(dwell)
    first = [steps.step_s[steps.phase == i][0] for i in range(3)]
    assert max(first) < 0.01


def test_reading_depths_are_nodes_and_cells_are_finest_at_the_faces() -> None:
    places = [ReadingPlace(0, 0.123), ReadingPlace(0, 0.5)]
    grid = plan_grid(
        np.array([100.0, 60.0]), 1.0, places, 1.0, merged=True, body_diffusion_time_s=None
    )
    depths = grid.layers[0].depths
    assert depths[grid.layers[0].node_at(0.123)] == pytest.approx(0.123)
    assert depths[grid.layers[0].node_at(0.5)] == pytest.approx(0.5)
    assert np.all(np.diff(depths) > 0.0)
    cells = np.diff(grid.layers[1].depths)
    assert cells.max() > 1.5 * cells[0]
    assert cells == pytest.approx(cells[::-1])
    assert np.argmax(cells) in (len(cells) // 2 - 1, len(cells) // 2)
    assert grid.layers[0].last == grid.layers[1].first
    assert grid.layer_of[grid.layers[0].last].tolist() == [0, 1]
