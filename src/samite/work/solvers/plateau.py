"""Other orders that are as good blind to time: one of them may fit the sessions better."""

from __future__ import annotations

import numpy as np

from samite.work.solvers._model import Model
from samite.work.solvers._orders import Steps
from samite.work.solvers._urgent import ancestors
from samite.work.solvers.beam import Found, follow

MOST_MOVED = 8
"""Operations that change their place together [1]."""


def walk_plateau(
    model: Model,
    order: Steps,
    begun: Found,
    *,
    least_cost: int,
    tries: int,
    plans: int,
    generator: np.random.Generator,
) -> Found:
    """Return the best plan among orders that need no more change-overs.

    Parameters
    ----------
    model : Model
        The problem in numbers, with one maker.
    order : tuple of (int, int)
        Operations and ways, with the fewest change-overs.
    begun : Found
        That order laid into the sessions.
    least_cost : int
        Where it stops: no plan costs less [1].
    tries : int
        Changes of the order that are tried [1].
    plans : int
        Orders that are laid into the sessions at most [1].
    generator : numpy.random.Generator
        For the changes.

    Returns
    -------
    Found
        No worse than `begun`.

    Notes
    -----
    Some operations in a row are put elsewhere. What needs more change-overs is dropped before it
    is laid into the sessions; of the rest what is no worse is gone on from.

    References
    ----------
    ``derivation``: docs/models/work.md, the search.
    """
    before, fewest = ancestors(model), _change_ticks(model, order)
    best, count = begun, len(order)
    for _ in range(tries):
        if best.cost <= least_cost or plans <= 0 or count < 2:
            break
        first, to = (int(one) for one in generator.integers(0, count, 2))
        other = _moved(order, first, 1 + int(generator.integers(MOST_MOVED)), to, before)
        if other is None or _change_ticks(model, other) > fewest:
            continue
        plans -= 1
        plan = follow(model, other, width=8)
        if plan is not None and plan.rank[:2] <= best.rank[:2]:
            order, best = other, plan
    return best


def _moved(order: Steps, first: int, length: int, to: int, before: list[int]) -> Steps | None:
    """Return the order with some of it put elsewhere; None if that breaks what must be earlier."""
    some = order[first : first + length]
    rest = order[:first] + order[first + length :]
    to = min(to, len(rest))
    if to == first:
        return None
    passed = rest[min(first, to) : max(first, to)]
    earlier, later = (some, passed) if to > first else (passed, some)
    # The passed ones change sides: none of the later may be one of what the earlier lead to.
    led = sum(1 << number for number, _ in earlier)
    if any(before[number] & led for number, _ in later):
        return None
    return (*rest[:to], *some, *rest[to:])


def _change_ticks(model: Model, order: Steps) -> int:
    """Return what an order costs in change-overs and moves, blind to time [ticks]."""
    config, dirt, station = model.start.config, model.start.dirt, model.start.stations[0]
    total = 0
    for number, index in order:
        way = model.ops[number].ways[index]
        set_up = model.set_up(config, dirt, way)
        total += model.turn(config, station, way, set_up) + model.move(number, station, way)
        config, dirt = model.after_way(config, dirt, way)
        station = way.station
    return total
