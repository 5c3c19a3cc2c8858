"""Large jobs block by block: what wants one thread is drawn together and put into its best order."""

from __future__ import annotations

import itertools
from collections.abc import Callable

from samite.work.solvers._blocks import blocks_of, dear_slots
from samite.work.solvers._model import Model
from samite.work.solvers._orders import Steps
from samite.work.solvers._urgent import ancestors
from samite.work.solvers.bound import good_order, order_bound
from samite.work.solvers.windows import order_price, window_ends, window_model

MOST_BLOCKS = 4
"""Blocks that are tried in every sequence [1]."""

WIDTH = 20
"""Beginnings of each length that are kept where a block is too large for the search [1]."""

MOST_SEQUENCES = 2
"""Sequences of blocks that are worked out [1]."""


def by_blocks(
    model: Model, order: Steps, accept: Callable[[Steps], bool], *, most_nodes: int
) -> Steps:
    """Return a better order, with the operations of each value of a dear slot together.

    Parameters
    ----------
    model : Model
        The problem in numbers, with one maker.
    order : tuple of (int, int)
        Where to begin.
    accept : callable
        Says of a cheaper order whether its plan is no later; it is kept then.
    most_nodes : int
        Nodes for each block [1].

    Returns
    -------
    tuple of (int, int)
        Never dearer than the order given.

    Notes
    -----
    Of the slots that are dearest, the first that helps. What a block waits for is drawn with it as
    far as that belongs to no other block. The sequence of few blocks is the best of all sequences, else that of the order given.

    References
    ----------
    ``derivation``: docs/models/work.md, large jobs.
    """
    best, price = order, order_price(model, order)
    slots = dear_slots(model)
    for slot in slots:
        if model.slots[slot].cost < model.slots[slots[0]].cost or best is not order:
            break
        for sequence in _sequences(model, best, slot):
            new = best
            at = 0
            for block in sequence:
                new, at = _drawn_and_solved(model, new, block, slot, at, most_nodes)
            now = order_price(model, new)
            if now < price and accept(new):
                best, price = new, now
    return best


def _sequences(model: Model, order: Steps, slot: int) -> list[list[int]]:
    place = {number: k for k, (number, _) in enumerate(order)}
    blocks = sorted(
        blocks_of(model, slot).values(),
        key=lambda block: min(k for number, k in place.items() if block >> number & 1),
    )
    if len(blocks) < 2:
        return []
    if len(blocks) > MOST_BLOCKS:
        return [blocks]
    tried: list[tuple[int, int, list[int]]] = []
    for sequence in itertools.permutations(blocks):
        drawn = order
        at = 0
        for block in sequence:
            drawn, at = drawn_together(model, drawn, block, slot, at)
        tried.append((order_price(model, drawn), len(tried), list(sequence)))
    return [sequence for _, _, sequence in sorted(tried)[:MOST_SEQUENCES]]


def drawn_together(model: Model, order: Steps, block: int, slot: int, at: int) -> tuple[Steps, int]:
    """Draw a block, and what it waits for, forward to a place.

    Parameters
    ----------
    model : Model
        The problem in numbers.
    order : tuple of (int, int)
        Operations and ways.
    block : int
        Bits of the operations.
    slot : int
        The slot that they want the same of.
    at : int
        The place, a number of steps [1].

    Returns
    -------
    tuple
        The new order, and the place behind what was drawn.

    Notes
    -----
    What is left of the block because it waits for another block stays where it was.

    References
    ----------
    ``derivation``: docs/models/work.md, large jobs.
    """
    before = ancestors(model)
    others = 0
    for one in blocks_of(model, slot).values():
        others |= 0 if one == block else one
    wanted = block
    for number in range(len(model.ops)):
        if block >> number & 1:
            wanted |= before[number]
    wanted &= ~others
    done = sum(1 << number for number, _ in order[:at])
    taken, rest = [], []
    for number, index in order[at:]:
        ready = not before[number] & ~done
        if wanted >> number & 1 and ready:
            taken.append((number, index))
            done |= 1 << number
        else:
            rest.append((number, index))
    return (*order[:at], *taken, *rest), at + len(taken)


def _drawn_and_solved(
    model: Model, order: Steps, block: int, slot: int, at: int, most_nodes: int
) -> tuple[Steps, int]:
    drawn, last = drawn_together(model, order, block, slot, at)
    numbers = [number for number, _ in drawn[at:last]]
    if not numbers:
        return drawn, last
    part, ends = window_model(model, numbers), window_ends(model, drawn, at, last)
    found = order_bound(part, most_nodes=most_nodes, ends=ends)
    steps = found.order if found.exact else good_order(part, width=WIDTH, ends=ends)
    middle = tuple((numbers[number], index) for number, index in steps)
    return (*drawn[:at], *middle, *drawn[last:]), last
