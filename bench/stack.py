"""Layer solvers against a stiff integrator at equal error: ratios of time, and peak memory.

Run ``python bench/stack.py``. Prints one line a claim; needs scipy from the test environment.
"""

from __future__ import annotations

import time
import tracemalloc
from collections.abc import Callable
from statistics import median

import numpy as np
from scipy.integrate import solve_ivp
from scipy.sparse import diags

from samite.press.batch import Batch, Phase, solve_batch
from samite.press.layers import Conductance, Layer, ReadingPlace, Stack
from samite.press.solver import solve

LAYERS = (
    Layer("press cloth", 0.35, 0.05, 450, 1340),
    Layer("garment", 0.25, 0.06, 500, 1150),
    Layer("pad", 3.0, 0.04, 150, 1300),
)
STACK = Stack(20.0, Conductance(150, 500), Conductance(20, 5), LAYERS)
TIMES = [1.0, 2.0, 3.0, 5.0, 10.0, 20.0]
MIDDLE = [ReadingPlace(1, 0.5)]
DRAWS = 1000


def integrate(cells: int, tolerance: float) -> np.ndarray:
    """Return the middle of the garment by scipy's BDF with a sparse Jacobian."""
    wide = np.repeat([layer.thickness_mm * 1e-3 / cells for layer in LAYERS], cells)
    half = wide / 2 / np.repeat([layer.conductivity_w_mk for layer in LAYERS], cells)
    heat = wide * np.repeat([layer.heat_capacity_j_m3k for layer in LAYERS], cells)
    link = 1 / (half[1:] + half[:-1])
    top, bottom = 1 / (half[0] + 1 / 500), 1 / (half[-1] + 1 / 5)
    loss = np.append(link, bottom) + np.append(top, link)
    matrix = diags([link / heat[1:], -loss / heat, link / heat[:-1]], [-1, 0, 1], format="csc")
    rate = np.zeros_like(heat)
    rate[0], rate[-1] = top * 150 / heat[0], bottom * 20 / heat[-1]
    found = solve_ivp(
        lambda _, state: matrix @ state + rate,
        (0.0, TIMES[-1]),
        np.full(heat.size, 20.0),
        method="BDF",
        jac=matrix,
        t_eval=TIMES,
        rtol=tolerance,
        atol=tolerance * 100,
    )
    return 0.5 * (found.y[cells + cells // 2 - 1] + found.y[cells + cells // 2])


def seconds(work: Callable[[], object], repeats: int = 7) -> float:
    """Return the middle time of several runs after one to warm up [s]."""
    work()
    spans = []
    for _ in range(repeats):
        begin = time.perf_counter()
        work()
        spans.append(time.perf_counter() - begin)
    return median(spans)


def memory(work: Callable[[], object]) -> float:
    """Return the peak of memory that Python and numpy took [MB]."""
    tracemalloc.start()
    work()
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    return peak / 1e6


def many() -> Batch:
    factors = np.exp(0.2 * np.random.default_rng(1).standard_normal((3, DRAWS, 3)))
    names = ("thickness_mm", "conductivity_w_mk", "heat_capacity_j_m3k")
    values = [np.array([getattr(layer, name) for layer in LAYERS]) for name in names]
    tables = [value * factor for value, factor in zip(values, factors, strict=True)]
    return Batch(*tables, 20.0, 20.0, 5.0)


def main() -> None:
    exact = solve(STACK, TIMES, MIDDLE).temperature_c[:, 0]
    single = seconds(lambda: solve(STACK, TIMES, MIDDLE))
    print(f"exact solver: {memory(lambda: solve(STACK, TIMES, MIDDLE)):.2f} MB")
    for cells, tolerance in ((10, 1e-4), (20, 1e-5), (80, 1e-6)):
        error = np.abs(integrate(cells, tolerance) - exact).max()
        ratio = seconds(lambda c=cells, t=tolerance: integrate(c, t)) / single
        peak = memory(lambda c=cells, t=tolerance: integrate(c, t))
        print(
            f"BDF, {cells} cells a layer: off by {error:.4f} C, {ratio:.0f} times the exact"
            f" solver's time, {peak:.2f} MB"
        )
    batch, phases = many(), [Phase(20.0, 150.0, 500.0)]
    run = solve_batch(batch, phases, TIMES, MIDDLE)
    together = seconds(lambda: solve_batch(batch, phases, TIMES, MIDDLE))
    one_bdf = seconds(lambda: integrate(20, 1e-5))
    peak = memory(lambda: solve_batch(batch, phases, TIMES, MIDDLE))
    print(
        f"batch: {DRAWS} stacks, {run.nodes} nodes, {run.steps} steps in the time of"
        f" {together / one_bdf:.2f} BDF runs of one stack"
        f" ({DRAWS * one_bdf / together:.0f} times faster than one by one), {peak:.1f} MB"
    )


if __name__ == "__main__":
    main()
