"""Shorter lays by letting pieces overlap and pushing them apart again, guided by what resists."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from samite.lay._model import buffers
from samite.lay._search_kernel import all_depths, separate
from samite.lay.compact import compact
from samite.lay.construct import construct

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from samite.lay._model import Model, State

TOUCH_MM = 1e-5
"""Depths that together count as touching [mm]."""

CHUNK = 60
"""Moves between two looks at the clock."""


@dataclass(slots=True)
class Tuning:
    first_shrink: float = 0.01
    least_shrink: float = 0.001
    patience: int = 8
    picks: int = 2
    grow: float = 1.3
    fade: float = 0.6
    longer: float = 1.2
    most_fails: int = 16


class Stream:
    """One search from one seed; `run` yields after every chunk of work."""

    def __init__(self, model: Model, seed: int, tuning: Tuning | None = None) -> None:
        self.model = model
        self.rng = np.random.default_rng(seed)
        self.word = np.array([self.rng.integers(1, 2**63)], np.uint64)
        self.tuning = tuning or Tuning()
        self.best: State | None = None
        self.best_mm = np.inf
        self.kept: tuple[float, State | None] = (np.inf, None)
        self.offered: State | None = None
        self.moves = 0
        n = model.count
        self.weight = np.ones((n, n))
        self.depths = np.zeros((n, n))
        size = np.sqrt(4.0 * model.geometry.extent[:, 2] * model.geometry.extent[:, 3])
        self.size = size
        self.scale = np.ones((n, n))

    def take(self, state: State) -> bool:
        length = self.model.length_of(state)
        if length < self.best_mm - 1e-7 and self.overlap(state) <= TOUCH_MM:
            self.best, self.best_mm = state.copy(), length
            self.kept = (length, self.best)
            return True
        return False

    def overlap(self, state: State) -> float:
        """Return how deep pieces lie in each other, all together [mm]."""
        model = self.model
        return float(
            all_depths(
                model.geometry, model.movable, model.count, state.shape, state.x, state.y,
                self.depths,
            )  # fmt: skip
        )

    def _take_offer(self) -> bool:
        """Press a lay from elsewhere together; tell whether it is now the best."""
        state, self.offered = self.offered, None
        return state is not None and self.take(self.squeeze(state))

    def start(self) -> None:
        found = first_lay(self.model)
        if found is not None:
            self.take(found)

    def squeeze(self, state: State) -> State:
        return compact(self.model, state)

    def run(self) -> Iterator[None]:
        if self.best is None:
            self.start()
        yield
        if self.best is None:
            return
        self.bufs = buffers(self.model, self.best_mm + 1.0)
        t = self.tuning
        shrink = t.first_shrink
        self._take_offer()
        self.take(self.squeeze(self.best))
        yield
        fails = 0
        while True:
            if self._take_offer():
                fails = 0
            state = self.best.copy()
            if fails:
                for _ in range(1 + int(self.rng.integers(0, 2))):
                    self._disturb(state, self.best_mm)
            ok = yield from self._reach(
                state, self.best_mm * (1.0 - shrink), int(t.patience * t.longer**fails)
            )
            took = self.take(self.squeeze(state))
            if ok:
                shrink = min(shrink * t.grow, 0.02)
                fails = 0
            elif took:
                fails = 0
            else:
                shrink = max(shrink * t.fade, t.least_shrink)
                fails = min(fails + 1, t.most_fails)
            yield

    def _reach(self, state: State, length: float, patience: int) -> Iterator[None]:
        """Separate at a length."""
        model, t = self.model, self.tuning
        g = model.geometry
        m = model.movable
        for i in range(m):
            if not self._clip(state, i, length):
                return False
        self.weight[:] = 1.0
        best = np.array([np.inf])
        keep = state.copy()
        used = np.zeros(1, np.int64)
        while True:
            result = separate(
                g, model.rules, m, model.count, state.shape, state.opt, state.x, state.y,
                self.weight, self.scale, self.depths, length, self.word, self.bufs, CHUNK,
                keep.x, keep.y, keep.shape, keep.opt, best, patience, t.picks, used,
            )  # fmt: skip
            yield
            if result != 0 or self.offered is not None:
                break
        if result < 0:
            state.x[:], state.y[:], state.shape[:], state.opt[:] = keep.x, keep.y, keep.shape, keep.opt
        self.moves += int(used[0])
        return result == 1

    def _disturb(self, state: State, length: float) -> None:
        """Swap two pieces of unlike shape, the larger the likelier."""
        model = self.model
        m = model.movable
        area = model.area / model.area.sum()
        i = int(self.rng.choice(m, p=area))
        others = [j for j in range(m) if state.shape[j] != state.shape[i]]
        if not others:
            return
        p = model.area[others] / model.area[others].sum()
        j = int(self.rng.choice(others, p=p))
        state.x[i], state.x[j] = state.x[j], state.x[i]
        state.y[i], state.y[j] = state.y[j], state.y[i]
        self._clip(state, i, length)
        self._clip(state, j, length)

    def _clip(self, state: State, i: int, length: float) -> bool:
        """Move an item to the nearest place that its lattice has in the strip; tell if one is."""
        rules, opt = self.model.rules, state.opt[i]
        e = self.model.geometry.extent[state.shape[i]]
        (px, py), (ox, oy) = rules.period[opt], rules.opt_off[opt]
        start, low, high = rules.strip
        x = nearest_place(state.x[i], start - e[0], length - e[2], ox, px)
        y = nearest_place(state.y[i], low - e[1], high - e[3], oy, py)
        if x is None or y is None:
            return False
        state.x[i], state.y[i] = x, y
        return True


def nearest_place(
    at: float, low: float, high: float, offset: float, period: float
) -> float | None:
    """Return the place nearest to one on an axis, on a lattice if there is one."""
    if period < 0.0:
        return offset
    if period == 0.0:
        return min(max(at, low), high) if low <= high + 1e-6 else None
    first = math.ceil((low - 1e-9 - offset) / period)
    last = math.floor((high + 1e-9 - offset) / period)
    if last < first:
        return None
    return offset + period * min(max(round((at - offset) / period), first), last)


def first_lay(model: Model) -> State | None:
    """Return the first lay, the largest pieces first; None if not all pieces find room."""
    return construct(model, by_area(model), buffers(model, longest_mm(model)), np.inf)


def by_area(model: Model) -> list[int]:
    """Return the items, the largest first."""
    return [int(i) for i in np.argsort(-model.area, kind="stable")]


def longest_mm(model: Model) -> float:
    """Return a length that the first lay cannot pass: all pieces one after the other."""
    if np.isfinite(model.limit_mm):
        return model.limit_mm
    half = [max(model.geometry.extent[o.shape, 2] for o in i.options) for i in model.items]
    return (
        model.facts.get("kept_mm", 0.0)
        + sum(2.0 * h + model.problem.gap_mm + model.problem.repeat_along_mm for h in half)
        + 4.0 * max(half, default=0.0)
        + 2.0
        * sum(max(x for x, _ in hole) - min(x for x, _ in hole) for hole in model.problem.holes)
        + 100.0
    )
