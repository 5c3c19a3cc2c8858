"""Operations that want the same of a dear slot, and parts of a job as jobs of their own."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from samite.work.solvers._model import TABLE, Model, Op, Way, with_ops
from samite.work.solvers._rest import in_order, successors
from samite.work.solvers._urgent import ancestors


def dear_slots(model: Model) -> list[int]:
    """Return of each machine the slot that is dearest to change over, dearest first."""
    best: dict[int, int] = {}
    for slot, info in enumerate(model.slots):
        if info.machine not in best or info.cost > model.slots[best[info.machine]].cost:
            best[info.machine] = slot
    return sorted(best.values(), key=lambda slot: (-model.slots[slot].cost, slot))


def blocks_of(model: Model, slot: int) -> dict[int, int]:
    """Return the bits of the operations that want each value of a slot and can do with no other."""
    found: dict[int, int] = {}
    for number, op in enumerate(model.ops):
        value = dict(op.ways[0].needs).get(slot) if len(op.ways) == 1 else None
        if value is not None and op.fixed is None:
            found[value] = found.get(value, 0) | 1 << number
    return found


def bits(mask: int) -> list[int]:
    """Return the numbers of the bits that are set."""
    found = []
    while mask:
        low = mask & -mask
        found.append(low.bit_length() - 1)
        mask ^= low
    return found


def between(model: Model, block: int, machine: int) -> int:
    """Return the bits of what must lie between operations of a block, away from its machine."""
    before, behind = ancestors(model), followers(model)
    return sum(
        1 << number
        for number, op in enumerate(model.ops)
        if len(op.ways) == 1 and op.fixed is None and op.ways[0].station != machine
        if before[number] & block and behind[number] & block
    )


def followers(model: Model) -> list[int]:
    """Return for each operation the bits of all that must be later."""
    after = successors(model)
    found = [0] * len(model.ops)
    for number in reversed(in_order(model)):
        for later in after[number]:
            found[number] |= found[later] | 1 << later
    return found


def before_without(model: Model, left_out: int) -> list[int]:
    """Return what must be earlier, chains through the operations left out not counted."""
    found = [0] * len(model.ops)
    for number in in_order(model):
        for earlier, _ in model.ops[number].before:
            if not left_out >> earlier & 1:
                found[number] |= found[earlier] | 1 << earlier
    return found


def part_of(model: Model, chosen: int, before: Sequence[int], slots: frozenset[int]) -> Model:
    """Return some operations as a job of their own, with these slots only and nothing lying about.

    `before` says what must be earlier, chains over others included. Places where no slot is kept
    and that are not the machine of one that is, stay what they are.
    """
    numbers = bits(chosen)
    place = {number: k for k, number in enumerate(numbers)}
    ops = []
    for number in numbers:
        earlier = before[number] & chosen
        over = 0
        for one in bits(earlier):
            over |= before[one]
        way = model.ops[number].ways[0]
        needs = tuple(need for need in way.needs if need[0] in slots)
        ops.append(_plain(model.ops[number], needs, [place[one] for one in bits(earlier & ~over)]))
    blank = replace(model.start, config=tuple(-1 for _ in model.slots), dirt=0)
    return replace(with_ops(model, tuple(ops)), start=blank)


def _plain(op: Op, needs: tuple[tuple[int, int], ...], before: list[int]) -> Op:
    way = Way(op.ways[0].station, needs, 0, 0)
    return replace(op, ways=(way,), before=tuple((one, 0) for one in before))


def merged(part: Model, machine: int) -> Model:
    """Return the part with every place but the machine as one."""
    ops = tuple(
        op
        if op.ways[0].station == machine
        else replace(op, ways=(replace(op.ways[0], station=TABLE),))
        for op in part.ops
    )
    return with_ops(part, ops)
