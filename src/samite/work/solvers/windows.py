"""Large jobs piece by piece: a stretch of a good order is put into its best order, again and again."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from samite.work.solvers._model import Model, with_ops
from samite.work.solvers._orders import Ends, Steps
from samite.work.solvers._rest import NOWHERE
from samite.work.solvers.bound import order_bound


def order_price(model: Model, order: Steps) -> int:
    """Return the ticks of change-overs of an order, moves of one maker included.

    Parameters
    ----------
    model : Model
        The problem in numbers.
    order : tuple of (int, int)
        Operations and ways.

    Returns
    -------
    int
        Ticks.

    Notes
    -----
    Blind to time.

    References
    ----------
    ``derivation``: docs/models/work.md, the bound.
    """
    config, dirt, station, total = model.start.config, model.start.dirt, NOWHERE, 0
    for number, index in order:
        way = model.ops[number].ways[index]
        total += model.set_up(config, dirt, way)
        total += model.move(number, station, way)
        config, dirt = model.after_way(config, dirt, way)
        station = way.station
    return total


def window_model(model: Model, numbers: list[int]) -> Model:
    """Return the problem of some operations alone.

    Parameters
    ----------
    model : Model
        The whole.
    numbers : list of int
        Operations that are kept; the others count as done or as later.

    Returns
    -------
    Model
        With what must be earlier among them.

    Notes
    -----
    The operations are numbered anew, in the order given.

    References
    ----------
    ``derivation``: docs/models/work.md, large jobs.
    """
    from dataclasses import replace

    place = {number: k for k, number in enumerate(numbers)}
    ops = tuple(
        replace(
            model.ops[number],
            before=tuple((place[b], lag) for b, lag in model.ops[number].before if b in place),
        )
        for number in numbers
    )
    return with_ops(model, ops)


def window_ends(model: Model, order: Steps, first: int, last: int) -> Ends:
    """Return how things stand before a stretch of an order, and what is wanted after it.

    Parameters
    ----------
    model : Model
        The problem in numbers.
    order : tuple of (int, int)
        Operations and ways.
    first, last : int
        The stretch: from `first` to before `last` [1].

    Returns
    -------
    Ends
        For `order_bound`.

    Notes
    -----
    What is wanted next is the first value of each slot after the stretch.

    References
    ----------
    ``derivation``: docs/models/work.md, large jobs.
    """
    config, dirt, station = model.start.config, model.start.dirt, NOWHERE
    for number, index in order[:first]:
        way = model.ops[number].ways[index]
        config, dirt = model.after_way(config, dirt, way)
        station = way.station
    wanted: dict[int, int] = {}
    shuns = seen = 0
    for number, index in order[last:]:
        way = model.ops[number].ways[index]
        for slot, value in way.needs:
            wanted.setdefault(slot, value)
        shuns |= way.shuns & ~seen
        seen |= way.dirties
    following = NOWHERE
    if last < len(order):
        number, index = order[last]
        if model.ops[number].fixed is None:
            following = model.ops[number].ways[index].station
    return Ends(config, dirt, station, tuple(wanted.items()), following, shuns)


def improve(
    model: Model,
    order: Steps,
    accept: Callable[[Steps], bool],
    *,
    tries: int,
    size: int,
    most_nodes: int,
    generator: np.random.Generator,
) -> Steps:
    """Return a better order, stretch by stretch.

    Parameters
    ----------
    model : Model
        The problem in numbers, with one maker.
    order : tuple of (int, int)
        Where to begin.
    accept : callable
        Says of a cheaper order whether its plan is no later; it is kept then.
    tries : int
        Stretches that are tried [1].
    size : int
        Operations in a stretch [1].
    most_nodes : int
        Nodes for a stretch [1].
    generator : numpy.random.Generator
        Source of randomness.

    Returns
    -------
    tuple of (int, int)
        Never dearer than the order given.

    Notes
    -----
    Each stretch is put into its best order with `order_bound`, knowing how the machines stand
    before it and what is wanted after it. Before that, operations from elsewhere that may stand in
    the stretch are drawn to it, else like and like never meet.

    References
    ----------
    ``derivation``: docs/models/work.md, large jobs.
    """
    price = order_price(model, order)
    for _ in range(tries):
        first = int(generator.integers(0, max(len(order) - size // 2, 1)))
        wide = int(generator.integers(size // 2, size + 1))
        drawn, last = _drawn(model, order, first, wide, generator)
        new = _solved(model, drawn, first, last, most_nodes)
        if new is None or new == order:
            continue
        now = order_price(model, new)
        if now < price and accept(new):
            order, price = new, now
        elif now == price:
            # A plateau: another order at the same price opens other stretches.
            order = new if accept(new) else order
    return order


def _drawn(
    model: Model, order: Steps, first: int, wide: int, generator: np.random.Generator
) -> tuple[Steps, int]:
    """Draw later operations with the setting of the stretch forward into it."""
    last = min(first + wide, len(order))
    if generator.random() < 0.5:
        return order, last
    inside = {model.ops[n].ways[i] for n, i in order[first:last]}
    done = {n for n, _ in order[:last]}
    taken, rest = list(order[first:last]), []
    for step in order[last:]:
        number, index = step
        ready = all(b in done for b, _ in model.ops[number].before)
        if ready and model.ops[number].ways[index] in inside and len(taken) < 2 * wide:
            taken.append(step)
            done.add(number)
        else:
            rest.append(step)
    return (*order[:first], *taken, *rest), first + len(taken)


def _solved(model: Model, order: Steps, first: int, last: int, most_nodes: int) -> Steps | None:
    numbers = [number for number, _ in order[first:last]]
    if not numbers:
        return None
    ends = window_ends(model, order, first, last)
    found = order_bound(window_model(model, numbers), most_nodes=most_nodes, ends=ends)
    if not found.exact:
        return None
    middle = tuple((numbers[number], index) for number, index in found.order)
    return (*order[:first], *middle, *order[last:])
