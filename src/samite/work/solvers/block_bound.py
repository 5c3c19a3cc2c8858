"""A bound for large jobs: what must be done in one thread stands together, or the thread is paid again."""

from __future__ import annotations

from dataclasses import dataclass

from samite.work.solvers._blocks import (
    before_without,
    between,
    blocks_of,
    dear_slots,
    merged,
    part_of,
)
from samite.work.solvers._model import Model
from samite.work.solvers._rest import Rest
from samite.work.solvers._urgent import ancestors
from samite.work.solvers.bound import good_order, order_bound
from samite.work.solvers.windows import order_price


@dataclass(frozen=True, slots=True)
class _Blocks:
    """Change-overs inside the blocks of a slot, and what one more stay at a value could save."""

    inside: int
    saves: int
    kept: frozenset[int]
    wanted: frozenset[tuple[int, int]]


def block_bound(model: Model, *, most_nodes: int) -> int:
    """Return a number of ticks of change-overs that no order goes below.

    Parameters
    ----------
    model : Model
        The problem in numbers.
    most_nodes : int
        Nodes that are made for each slot [1].

    Returns
    -------
    int
        Ticks; often higher than that of `order_bound` stopped early, and never exact by itself.

    Notes
    -----
    Operations that want one value of a dear slot, and what must lie between them, are a job of
    their own. If each value is set once, these jobs do not overlap and their change-overs add up.
    To set a value once more costs its change-over and saves no more than is counted off.
    Contaminations are left out, and what can be done on several machines.

    References
    ----------
    ``derivation``: docs/models/work.md, the bound of blocks.
    """
    best = 0
    for slot in dear_slots(model):
        for apart in (True, False):
            best = max(best, _of_slot(model, slot, apart, most_nodes))
    return best


def _of_slot(model: Model, slot: int, apart: bool, most_nodes: int) -> int:
    values = blocks_of(model, slot)
    if not values:
        return 0
    info = model.slots[slot]
    kept = frozenset(
        number
        for number, other in enumerate(model.slots)
        if number != slot and other.cost < info.cost and (apart or other.machine == info.machine)
    )
    nodes = most_nodes // len(values)
    blocks = [_inside(model, block, slot, kept, apart, nodes) for block in values.values()]
    inside = sum(block.inside for block in blocks)
    inside -= _move(model) * sum(1 for op in model.ops if op.fixed is not None)
    saves = max(block.saves for block in blocks)
    entries = Rest(model, moves=False).entries(model.start.config)
    stays = max(len(values), entries[slot] + (model.start.config[slot] in values))
    held = model.start.config[slot] in values
    least = min(
        info.cost * (stays + more - held) + max(inside - saves * (stays + more - len(values)), 0)
        for more in range(len(model.ops))
    )
    others = sum(
        model.slots[other].cost * count
        for other, count in enumerate(entries)
        if other != slot and other not in kept
    )
    return least + others + _first_settings(model, blocks)


def _move(model: Model) -> int:
    return model.costs.move if len(model.sessions) == 1 else 0


def _inside(
    model: Model, block: int, slot: int, kept: frozenset[int], apart: bool, nodes: int
) -> _Blocks:
    machine = model.slots[slot].machine
    middle = between(model, block, machine)
    whole = part_of(model, block | middle, ancestors(model), kept)
    whole = whole if apart else merged(whole, machine)
    wanted = frozenset(need for op in whole.ops for need in op.ways[0].needs)
    first = _cost_of(model, wanted)
    inside = max(order_bound(whole, most_nodes=nodes).ticks - first, 0)
    here = sum(model.slots[one].cost for one in kept if model.slots[one].machine == machine)
    there = sum(
        model.slots[one].cost
        for one in {one for one, _ in wanted}
        if model.slots[one].machine != machine
    )
    saves = here + 2 * there + 2 * _move(model) + _stretch(model, block, middle, kept, apart)
    return _Blocks(inside, saves, kept, wanted)


def _stretch(model: Model, block: int, middle: int, kept: frozenset[int], apart: bool) -> int:
    """Return the most that all that lies between a block may cost, done in one go."""
    if not middle or not apart:
        return 0
    part = part_of(model, middle, before_without(model, block), kept)
    found = order_bound(part, most_nodes=2000)
    price = found.ticks if found.exact else order_price(part, good_order(part, width=4))
    wanted = frozenset(need for op in part.ops for need in op.ways[0].needs)
    return price - _cost_of(model, wanted)


def _cost_of(model: Model, wanted: frozenset[tuple[int, int]]) -> int:
    return sum(model.slots[one].cost for one in {one for one, _ in wanted})


def _first_settings(model: Model, blocks: list[_Blocks]) -> int:
    """Return what the first setting of the slots costs whose first value nobody wants."""
    wanted = frozenset(need for block in blocks for need in block.wanted)
    held = {one for one, value in wanted if model.start.config[one] == value}
    return sum(model.slots[one].cost for one in {one for one, _ in wanted} - held)
