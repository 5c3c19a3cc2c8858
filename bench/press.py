"""Many stacks at once against a stiff integrator one by one, at equal error: ratios of time.

Run ``.venv-test/bin/python bench/press.py``. Dry: `bench/stack.py`'s stack. Moist: a damp cotton press
cloth on wool under a hot sole (the case of the tests), the same nodes for both, and scipy's BDF with
the pattern of its Jacobian and a vectorised right-hand side. "Equal error": the loosest tolerance of
BDF whose error over all readings is at most 0.1 C, and ours likewise.
"""

from __future__ import annotations

import sys
import tracemalloc
from dataclasses import replace
from functools import partial
from pathlib import Path
from time import perf_counter

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from bench.stack import MIDDLE, TIMES, integrate, many, seconds
from tests.oracles.press.moist_cases import named
from tests.oracles.press.moist_product import (
    above_of,
    begin,
    product_answer,
    product_grid,
)
from tests.oracles.press.moist_twin import solve_twin

from samite.press.batch import Phase, solve_batch
from samite.press.moist import (
    Below,
    MoistLayers,
    advance,
    build_network,
    rest_state,
)

DRAWS = 1000
WANTED_C = 0.1
CASE = "damp cotton press cloth on wool"
TOLERANCES = (1e-2, 1e-3, 1e-4, 1e-5, 1e-6, 1e-7)


def loosest(errors: dict[float, float]) -> float:
    """Return the loosest tolerance whose error is small enough."""
    return max(tolerance for tolerance, error in errors.items() if error <= WANTED_C)


def dry() -> None:
    exact = integrate(20, 1e-9)
    errors = {t: float(np.abs(integrate(20, t) - exact).max()) for t in TOLERANCES}
    chosen = loosest(errors)
    batch, phases = many(), [Phase(TIMES[-1], 150.0, 500.0)]
    ours = seconds(lambda: solve_batch(batch, phases, TIMES, MIDDLE))
    theirs = seconds(lambda: integrate(20, chosen))
    print(
        f"dry: BDF at {chosen:g} is off by {errors[chosen]:.3f} C; 1,000 stacks at once "
        f"{theirs * DRAWS / ours:.0f} times faster than one by one"
    )


def moist() -> None:
    case = named(CASE)
    grid = product_grid(case)
    exact = solve_twin(case, grid, rtol=1e-9).temperature_c
    theirs = {
        t: float(np.abs(solve_twin(case, grid, rtol=t).temperature_c - exact).max())
        for t in TOLERANCES
    }
    ours = {
        t: float(np.abs(product_answer(case, tolerance_c=t).temperature_c - exact).max())
        for t in (1.0, 0.5, 0.2, 0.05)
    }
    rtol, tolerance = loosest(theirs), loosest(ours)
    bdf = seconds(lambda: solve_twin(case, grid, rtol=rtol), 3)
    single = seconds(lambda: product_answer(case, tolerance_c=tolerance))
    print(
        f"moist: BDF at {rtol:g} off by {theirs[rtol]:.3f} C, ours at {tolerance:g} C off by "
        f"{ours[tolerance]:.3f} C; a single call {bdf / single:.0f} times faster"
    )
    spans = {count: march(case, count, tolerance) for count in (250, 500, 1000, 2000)}
    print(f"moist: 1,000 stacks at once {bdf * DRAWS / spans[1000]:.0f} times faster")
    per_draw = [f"{1e6 * span / count:.0f}" for count, span in spans.items()]
    print(f"moist: microseconds a stack at 250, 500, 1,000, 2,000 draws: {', '.join(per_draw)}")
    tracemalloc.start()
    march(case, DRAWS, tolerance)
    print(f"moist: peak of numpy's memory {tracemalloc.get_traced_memory()[1] / 1e6:.0f} MB")


def march(case, draws: int, tolerance: float) -> float:
    """Return the time of varied stacks of a case [s]."""
    base = layers_of_case(case)
    factors = np.exp(0.1 * np.random.default_rng(2).standard_normal((draws, 3)))
    tables = {name: np.repeat(values, draws, axis=0) for name, values in base.items()}
    for column, name in enumerate(("thickness_mm", "conductivity_w_mk", "regain_kg_kg")):
        tables[name] = tables[name] * factors[:, column : column + 1]
    top = case.phases[0].top
    grading = [0] * (len(case.layers) - 1) + [1]
    network = build_network(MoistLayers(**tables), grading)
    warm = np.array([[one.start_c for one in case.layers]])
    held = np.array([[one.start_water_kg_kg for one in case.layers]])
    start = rest_state(network, np.repeat(warm, draws, 0), np.repeat(held, draws, 0))
    bottom = case.bottom
    below = Below(
        bottom.surrounding_c, bottom.conductance_w_m2k, bottom.permeance_kg_m2spa, bottom.vapour_pa
    )
    times = tuple(sorted({*case.times_s, case.phases[0].duration_s}))
    work = partial(advance, network, start, above_of(top), below, times, tolerance_c=tolerance)
    return seconds(work, 3)


def layers_of_case(case) -> dict[str, np.ndarray]:
    from tests.oracles.press.moist_product import layers_of

    found = layers_of(case.layers, case.contacts)
    return {name: getattr(found, name) for name in MoistLayers.__dataclass_fields__}


def linear_in_layers() -> None:
    """Time against the number of layers: plies of one cloth."""
    case = named(CASE)
    spans = []
    for plies in (2, 4, 8):
        cloth, touch = case.layers[1], case.contacts[0]
        thick = replace(case, layers=(cloth,) * plies, contacts=(touch,) * (plies - 1))
        network, start = begin(thick, case.phases[0].top)
        run = partial(
            advance, network, start, above_of(case.phases[0].top), Below(20.0, 5.0), (5.0,)
        )
        begin_s = perf_counter()
        history = run()
        spans.append((plies, seconds(run), history.steps, perf_counter() - begin_s))
    told = [f"{plies} layers {1e6 * span / steps:.0f}" for plies, span, steps, _ in spans]
    print(f"moist: microseconds a step: {', '.join(told)}")


def main() -> None:
    dry()
    moist()
    linear_in_layers()
    print("bound by divisions and square roots of the state of every node, some 90 ns each step")


if __name__ == "__main__":
    main()
