"""Shorter lays by letting pieces lie in each other and pushing them apart, guided by what resists.

The strip is made a little shorter than the best lay; pieces that now lie in each other are moved,
one at a time, to where they lie least deep, each pair weighted by how long it has resisted. What
comes apart, or nearly, is pressed together by a linear program. What does not is disturbed.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from samite.lay._compact import compact
from samite.lay._construct import construct
from samite.lay._model import buffers
from samite.lay._search_kernel import all_depths, separate

if TYPE_CHECKING:
    from collections.abc import Generator, Iterator

    from samite.lay._model import Model, State

TOUCH_MM = 1e-5
"""Depths that together count as touching [mm]."""

HOPELESS = 0.04
"""Pieces that lie deeper in each other, all together as a share of the width, never came apart
by pressing alone [-]."""

CHUNK = 60
"""Moves between two looks at the clock."""


@dataclass(frozen=True, slots=True)
class Tuning:
    """How the search steps; found by trial on outlines of garments.

    The strip is shortened by `first_shrink`, then by more after success (`grow`) and less after
    failure (`fade`). Pushing apart ends after `patience` sweeps without gain, `longer` after each of
    up to `most_fails` failures, `lasting` times that at most. For each move `picks` cells of every
    option are noted and the `settles` best of all tried, each with up to `tries` looks nearby, none
    beyond `skip` times the best; a `part` of all moves looks only so `wide` around, as a share of
    the width. A search begins anew when it was stuck for `old` times what it took to get there and
    at least `young` moves a piece. Pieces change places the likelier, the more `alike` their size
    and the `close` nearer they are.
    """

    first_shrink: float = 0.01
    least_shrink: float = 0.001
    most_shrink: float = 0.02
    grow: float = 1.3
    fade: float = 0.6
    patience: int = 20
    longer: float = 1.2
    lasting: int = 2
    most_fails: int = 10
    picks: int = 1
    settles: int = 2
    part: float = 0.8
    wide: float = 0.25
    tries: int = 2
    skip: float = 2.0
    old: float = 1.0
    young: float = 1000.0
    alike: float = 4.0
    close: float = 2.0


class Stream:
    """One search from one seed; `run` yields after every chunk of work."""

    def __init__(self, model: Model, seed: int, tuning: Tuning | None = None) -> None:
        self.model = model
        self.rng = np.random.default_rng(seed)
        self.word = np.array([self.rng.integers(1, 2**63)], np.uint64)
        self.tuning = tuning or Tuning()
        self.best: State | None = None
        self.best_mm = math.inf
        self.kept: tuple[float, State | None] = (math.inf, None)
        self.offered: State | None = None
        self.moves = 0
        self.first: State | None = None
        self.born_at = self.gained_at = 0
        self.last_life = False
        self.weight = np.ones((model.count, model.count))
        self.depths = np.zeros((model.count, model.count))
        self.scale = np.ones((model.count, model.count))
        self.bufs: tuple[object, ...] = ()

    def take(self, state: State) -> bool:
        """Keep a state if it is shorter than the best and nothing lies in anything."""
        length = self.model.length_of(state)
        if length >= self.best_mm - 1e-7 or self.overlap_mm(state) > TOUCH_MM:
            return False
        self.best, self.best_mm = state.copy(), length
        self.gained_at = self.moves
        if length < self.kept[0]:
            self.kept = (length, self.best)
        return True

    def overlap_mm(self, state: State) -> float:
        """Return how deep pieces lie in each other, all together [mm]."""
        return overlap_mm(self.model, state, self.depths)

    def start(self) -> bool:
        """Make the first lay if there is none; tell whether one is there now."""
        if self.best is None:
            found = first_lay(self.model)
            if found is not None:
                self.take(found)
        self.first = self.best
        return self.best is not None

    def run(self) -> Iterator[None]:
        """Search for ever; whoever runs it stops it between two chunks."""
        if not self.start() or self.best is None or self.model.movable == 0:
            return
        self.bufs = buffers(self.model, self.best_mm + 1.0)
        t = self.tuning
        shrink, fails = t.first_shrink, 0
        self.take(compact(self.model, self.best))
        yield
        while True:
            if self._take_offer():
                fails = 0
            elif self._is_old():
                self._begin_anew()
                shrink, fails = t.first_shrink, 0
            state = self.best.copy()
            target = self.best_mm * (1.0 - (t.least_shrink if fails else shrink))
            for _ in range(int(self.rng.integers(1, 3 + fails // 4)) if fails else 0):
                self._disturb(state, self.best_mm)
            apart = yield from self._reach(state, target, int(t.patience * t.longer**fails))
            took = self._press(state)
            if apart and not fails:
                shrink = min(shrink * t.grow, t.most_shrink)
            elif not took:
                shrink = max(shrink * t.fade, t.least_shrink)
            fails = 0 if took else min(fails + 1, t.most_fails)
            yield

    def _press(self, state: State) -> bool:
        """Press a state together unless that is hopeless; tell whether it is now the best."""
        deep = HOPELESS * self.model.problem.lying_width_mm
        return self.overlap_mm(state) <= deep and self.take(compact(self.model, state))

    def _is_old(self) -> bool:
        """Tell whether nothing has been gained for as long as it took to get here."""
        t, lived = self.tuning, self.gained_at - self.born_at
        stuck = self.moves - self.gained_at
        return not self.last_life and stuck > max(t.old * lived, t.young * self.model.movable)

    def _begin_anew(self) -> None:
        """Go back to the first lay, where luck leads elsewhere; the shortest lay stays kept."""
        if self.first is None:
            return
        self.best, self.best_mm = self.first, self.model.length_of(self.first)
        self.born_at = self.gained_at = self.moves

    def _take_offer(self) -> bool:
        """Press a lay from elsewhere together; tell whether it is now the best."""
        state, self.offered = self.offered, None
        if state is None:
            return False
        return self.take(state) | self.take(compact(self.model, state))

    def _reach(self, state: State, length: float, patience: int) -> Generator[None, None, bool]:
        """Push pieces apart in a strip of some length; the state ends as the best that was met."""
        if not all(self._put_inside(state, i, length) for i in range(self.model.movable)):
            return False
        self.weight[:] = 1.0
        best, used = np.array([math.inf]), np.zeros(2, np.int64)
        keep = state.copy()
        result, most = 0, self.tuning.lasting * patience * max(self.model.movable, 20)
        while result == 0 and self.offered is None and used[0] < most:
            result = self._chunk(state, keep, length, best, patience, used)
            yield
        self.moves += int(used[0])
        if result != 1:
            state.x[:], state.y[:] = keep.x, keep.y
            state.shape[:], state.opt[:] = keep.shape, keep.opt
        return result == 1

    def _chunk(
        self,
        state: State,
        keep: State,
        length: float,
        best: np.ndarray,
        patience: int,
        used: np.ndarray,
    ) -> int:
        m = self.model
        now = (state.shape, state.opt, state.x, state.y)
        kept = (keep.x, keep.y, keep.shape, keep.opt, best)
        learnt = (self.weight, self.scale, self.depths)
        work = (length, self.word, self.bufs, CHUNK)
        t = self.tuning
        looks = (t.picks, t.settles, t.part, t.wide * m.problem.lying_width_mm, t.tries, t.skip)
        rules = (patience, looks, used)
        return int(
            separate(m.geometry, m.rules, m.movable, m.count, *now, *learnt, *work, *kept, *rules)
        )

    def _disturb(self, state: State, length: float) -> None:
        """Swap two pieces of unlike shape but like size, the larger and nearer the likelier."""
        area = self.model.area
        t = self.tuning
        i = int(self.rng.choice(self.model.movable, p=area / area.sum()))
        others = np.flatnonzero(state.shape[: self.model.movable] != state.shape[i])
        if not len(others):
            return
        far = np.hypot(state.x[others] - state.x[i], state.y[others] - state.y[i])
        like = area[others] * np.exp(
            -t.alike * np.abs(np.log(area[others] / area[i]))
            - t.close * far / self.model.problem.lying_width_mm
        )
        j = int(self.rng.choice(others, p=like / like.sum()))
        state.x[[i, j]], state.y[[i, j]] = state.x[[j, i]], state.y[[j, i]]
        self._put_inside(state, i, length)
        self._put_inside(state, j, length)

    def _put_inside(self, state: State, i: int, length: float) -> bool:
        """Move an item to the nearest place that its lattice has in the strip; tell if one is."""
        rules, opt = self.model.rules, state.opt[i]
        e = self.model.geometry.extent[state.shape[i]]
        ox, oy, px, py = rules.opt[opt]
        start, low, high = rules.strip
        x = nearest_place(state.x[i], start - e[0], length - e[2], ox, px)
        y = nearest_place(state.y[i], low - e[1], high - e[3], oy, py)
        if x is None or y is None:
            return False
        state.x[i], state.y[i] = x, y
        return True


def overlap_mm(model: Model, state: State, depths: np.ndarray | None = None) -> float:
    """Return how deep pieces lie in each other, all together [mm]; fills the depths of all pairs."""
    if depths is None:
        depths = np.zeros((model.count, model.count))
    places = (state.shape, state.x, state.y)
    return float(all_depths(model.geometry, model.movable, model.count, *places, depths))


def nearest_place(at: float, low: float, high: float, offset: float, period: float) -> float | None:
    """Return the place nearest to one on an axis, on a lattice if there is one."""
    if period < 0.0:
        return offset
    if period == 0.0:
        return float(min(max(at, low), high)) if low <= high + 1e-6 else None
    first = math.ceil((low - 1e-9 - offset) / period)
    last = math.floor((high + 1e-9 - offset) / period)
    if last < first:
        return None
    return float(offset + period * min(max(round((at - offset) / period), first), last))


def first_lay(model: Model) -> State | None:
    """Return the first lay, the largest pieces first; None if not all pieces find room."""
    return construct(model, by_area(model), buffers(model, longest_mm(model)), math.inf)


def by_area(model: Model) -> list[int]:
    """Return the items, the largest first."""
    return [int(i) for i in np.argsort(-model.area, kind="stable")]


def longest_mm(model: Model) -> float:
    """Return a length that the first lay cannot pass: all pieces one after the other."""
    if np.isfinite(model.limit_mm):
        return model.limit_mm
    problem = model.problem
    half = [max(model.geometry.extent[o.shape, 2] for o in i.options) for i in model.items]
    holes = [[x for x, _ in hole] for hole in problem.holes]
    return float(
        model.facts.get("kept_mm", 0.0)
        + sum(2.0 * h + problem.gap_mm + problem.repeat_along_mm for h in half)
        + 4.0 * max(half, default=0.0)
        + 2.0 * sum(max(xs) - min(xs) for xs in holes)
        + 100.0
    )
