"""Push all pieces together at once: a linear program over the sides that face each other."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from samite.lay._search_kernel import facing_sides

if TYPE_CHECKING:
    from samite.lay._model import Model, State


def compact(model: Model, state: State, *, rounds: int = 6, reach_share: float = 0.06) -> State:
    """Return the shortest lay that keeps every piece on its side of its neighbours."""
    best = state
    for _ in range(rounds):
        new = _once(model, best, reach_share * model.problem.lying_width_mm)
        if new is None:
            break
        before, after = model.length_of(best), model.length_of(new)
        if after > before - 1e-6:
            break
        best = new
        if after > before * (1.0 - 1e-4):
            break
    return best


def _once(model: Model, state: State, reach: float) -> State | None:
    from scipy.optimize import linprog
    from scipy.sparse import csr_matrix

    g, m = model.geometry, model.movable
    rows, count = facing_sides(g, m, model.count, state.shape, state.x, state.y, 2.0 * reach)
    rows = rows[:count]
    k = np.arange(count)
    i, j = rows[:, 0].astype(int), rows[:, 1].astype(int)
    nx, ny, c = rows[:, 2], rows[:, 3], rows[:, 4]
    # n . (pos_i - pos_j) >= c   (i movable; j may stay)
    moved = j < m
    c = c + np.where(moved, 0.0, nx * state.x[j] + ny * state.y[j])
    r = np.concatenate([k, k, k[moved], k[moved]])
    col = np.concatenate([2 * i, 2 * i + 1, 2 * j[moved], 2 * j[moved] + 1])
    val = np.concatenate([-nx, -ny, nx[moved], ny[moved]])
    e = g.extent[state.shape[:m]]
    r = np.concatenate([r, count + np.arange(m), count + np.arange(m)])
    col = np.concatenate([col, 2 * np.arange(m), np.full(m, 2 * m)])
    val = np.concatenate([val, np.ones(m), -np.ones(m)])
    a = csr_matrix((val, (r, col)), shape=(count + m, 2 * m + 1))
    b = np.concatenate([-c, -e[:, 2]])
    strip = model.rules.strip
    period = model.rules.opt[state.opt[:m], 2:]
    lo, hi = np.empty(2 * m + 1), np.empty(2 * m + 1)
    lo[0:-1:2] = np.maximum(strip[0] - e[:, 0], state.x[:m] - reach)
    hi[0:-1:2] = np.minimum(state.x[:m] + reach, model.limit_mm - e[:, 2])
    lo[1:-1:2] = np.maximum(strip[1] - e[:, 1], state.y[:m] - reach)
    hi[1:-1:2] = np.minimum(strip[2] - e[:, 3], state.y[:m] + reach)
    still = period[:, 0] != 0.0
    lo[0:-1:2][still] = hi[0:-1:2][still] = state.x[:m][still]
    still = period[:, 1] != 0.0
    lo[1:-1:2][still] = hi[1:-1:2][still] = state.y[:m][still]
    lo[-1], hi[-1] = model.facts.get("kept_mm", 0.0), np.inf
    hi = np.maximum(lo, hi)
    cost = np.zeros(2 * m + 1)
    cost[0:-1:2] = 1e-4 / m
    cost[-1] = 1.0
    out = linprog(
        cost,
        A_ub=a,
        b_ub=b,
        bounds=np.column_stack([lo, hi]),
        method="highs-ds",
        options={"primal_feasibility_tolerance": 1e-9},
    )
    if out.x is None or out.status != 0:
        return None
    new = state.copy()
    new.x[:m], new.y[:m] = out.x[0:-1:2], out.x[1:-1:2]
    return new
