"""The first lay: one piece after the other, each as far to the start as no-fit regions let it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from samite.lay._search_kernel import lay_one

if TYPE_CHECKING:
    from collections.abc import Sequence

    from samite.lay._model import Model, State

TRIES = 40


def construct(
    model: Model, order: Sequence[int], bufs: tuple[object, ...], most_mm: float
) -> State | None:
    """Lay the items in an order; None if one finds no free place."""
    state = model.stays.copy()
    still = model.count - model.movable
    n = model.count
    x, y, shape = np.empty(n), np.empty(n), np.empty(n, np.int64)
    x[:still], y[:still] = state.x[model.movable :], state.y[model.movable :]
    shape[:still] = state.shape[model.movable :]
    out = np.zeros(3)
    placed = still
    end = model.facts.get("kept_mm", 0.0)
    repeat = model.problem.repeat_along_mm
    for i in order:
        half = max(model.geometry.extent[o.shape, 2] for o in model.items[i].options)
        more = 2.0 * half + repeat + 2.0 * model.problem.gap_mm + 1.0
        found = False
        while not found:
            reach = min(end + more, model.limit_mm, most_mm)
            found = lay_one(
                model.geometry, model.rules, i, shape, x, y, placed, reach, bufs, TRIES, out
            )
            if not found and (reach < end + more or more > 1e7):
                return None
            more *= 2.0
        opt = int(out[2])
        x[placed], y[placed], shape[placed] = out[0], out[1], model.rules.opt_shape[opt]
        state.x[i], state.y[i], state.shape[i], state.opt[i] = out[0], out[1], shape[placed], opt
        end = max(end, out[0] + model.geometry.extent[shape[placed], 2])
        placed += 1
    return state
