"""Searches that run side by side, and what they have found so far."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from samite.lay.answer import lay_of
from samite.lay.solvers.clock import now_s

if TYPE_CHECKING:
    from collections.abc import Callable

    from samite.lay._model import Model, State
    from samite.lay.problem import Lay
    from samite.lay.solvers.engine import Engine
    from samite.lay.solvers.own import Runner

LOOK_S = 0.02
"""Between two looks at the searches [s]."""

SHARE_AT = (0.3, 0.5, 0.65, 0.75, 0.85, 0.92)
"""Shares of the time at which searches that are far behind take up the best [-]."""

LAST_FROM = 0.6
"""Share of the time from which all go on from the best, and none begins anew [-]."""

FINE_FROM = 0.7
"""Share of the time from which outlines with many corners are looked at more finely [-]."""

ENGINE_LATEST = 0.35
"""Share of the time after which an engine that overruns is stopped."""


@dataclass(frozen=True, slots=True)
class Wish:
    """What is asked of a search, and when it began."""

    seconds: float
    seed: int
    began: float
    on_better: Callable[[Lay], None] | None
    cancelled: Callable[[], bool] | None
    searches: int
    engine: bool

    def over(self) -> bool:
        """Tell whether the time is up or the person has had enough."""
        late = now_s() - self.began >= self.seconds
        return late or (self.cancelled is not None and self.cancelled())


@dataclass(slots=True)
class Hunt:
    """The searches that run, and the best that they and all before them have found."""

    model: Model
    runner: Runner
    best: Lay | None
    least: float
    wish: Wish
    helper: Engine | None = None
    shared: int = 0

    def begin(self, helper: Engine | None) -> None:
        """Start the searches; where the engine runs one of them waits till it is over."""
        self.helper = helper
        count = len(self.runner.streams)
        self.runner.begin(count if helper is None else max(count - 1, 1))

    def over(self) -> bool:
        """Tell whether nothing more can come."""
        return self.wish.over() or is_done(self.best, self.least) or not self.runner.running()

    def follow(self, until: float) -> None:
        """Listen to the searches until a share of the time is over."""
        wish = self.wish
        while not self.over() and now_s() < wish.began + until * wish.seconds:
            self.runner.stop.wait(LOOK_S)
            self.look()
            if self.helper is not None:
                self.helper = _listen(self.helper, self.runner, wish)
            self._share()

    def look(self) -> None:
        """Tell the best if it is better than before."""
        self.best = better(self.model, self.runner.best(), self.best, self.least, self.wish)

    def _share(self) -> None:
        """Let searches that are far behind take up the best, at certain times."""
        due = sum(now_s() >= self.wish.began + share * self.wish.seconds for share in SHARE_AT)
        if due > self.shared:
            self.shared = due
            self.runner.share(last=SHARE_AT[due - 1] >= LAST_FROM)

    def refine(self, corners: int, seeds: tuple[int, ...]) -> None:
        """Go on in finer outlines; while they are made ready the search goes on."""
        from samite.lay._finer import finer_model, pressed
        from samite.lay.solvers.own import Runner

        fine = finer_model(self.model, corners)
        length, coarse = self.runner.best()
        state = None if coarse is None else pressed(fine, self.model.placements(coarse))
        if state is None or fine.length_of(state) > length:
            return
        self.runner.end()
        self.look()
        self.model, self.runner = fine, Runner(fine, state, seeds)
        self.runner.share(last=True)
        self.runner.begin()

    def end(self) -> None:
        """Stop all that runs and take what it found."""
        if self.helper is not None:
            self.helper.end()
        self.runner.end()
        self.look()


def _listen(helper: Engine, runner: Runner, wish: Wish) -> Engine | None:
    """Pass on what the engine found; once it is over the last search takes its place."""
    over = now_s() - wish.began > wish.seconds * ENGINE_LATEST
    if over:
        helper.end()
    running = helper.running()
    state = helper.lay()
    if state is not None:
        runner.offer(state)
    if running:
        return helper
    helper.end()
    runner.begin()
    return None


def better(
    model: Model, found: tuple[float, State | None], best: Lay | None, least: float, wish: Wish
) -> Lay | None:
    length, state = found
    length -= model.origin_mm
    if state is None or (best is not None and length >= best.length_mm - 1e-6):
        return best
    return tell(model, state, least, wish)


def tell(model: Model, state: State, least: float, wish: Wish) -> Lay:
    lay = lay_of(model, state, least)
    lay = replace(lay, seconds=now_s() - wish.began, seed=wish.seed)
    if wish.on_better is not None:
        wish.on_better(lay)
    return lay


def is_done(best: Lay | None, least: float) -> bool:
    return best is not None and best.length_mm <= least * (1.0 + 1e-9) + 1e-6
