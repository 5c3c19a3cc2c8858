"""The least that the rest of the work still costs in change-overs, for any set of it that is done.

A slot (one part of a setting on one machine) must be set to a value at least as often as a chain of
operations, each after the other, comes back to that value from another one. Entries into different
values are different change-overs, so they add up over values and over slots; moves are counted
likewise, with the place of work as the value.

Moves and settings bear on each other: where chains in several settings go to and fro between a
machine and another place, they share a visit to the machine only if it is changed over during the
visit. So there are at least as many visits as chains come back in each setting, added up, less the
change-overs; and as a change-over costs no less than a move, to make more of them saves nothing.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable
from typing import NamedTuple

from samite.work.solvers._model import TABLE, Model

NOWHERE = TABLE - 1
"""Station of a maker who has not begun."""


def successors(model: Model) -> list[list[int]]:
    """Return for each operation those that follow it directly."""
    found: list[list[int]] = [[] for _ in model.ops]
    for number, op in enumerate(model.ops):
        for before, _ in op.before:
            found[before].append(number)
    return found


def in_order(model: Model) -> list[int]:
    """Return the operations so that each stands after what it follows."""
    after = successors(model)
    missing = [len(op.before) for op in model.ops]
    ready = [number for number, count in enumerate(missing) if not count]
    order = []
    while ready:
        number = ready.pop()
        order.append(number)
        for later in after[number]:
            missing[later] -= 1
            if not missing[later]:
                ready.append(later)
    return order


def _runs(
    model: Model, label: Callable[[int], int | None], wanted: int, order: list[int]
) -> list[int]:
    """Return for each operation how many runs of a value a chain from it on must have."""
    after = successors(model)
    count = len(model.ops)
    # inside: the chain stands in a run of the value before this operation; outside: it does not.
    inside, outside = [0] * count, [0] * count
    for number in reversed(order):
        best_in = max((inside[later] for later in after[number]), default=0)
        best_out = max((outside[later] for later in after[number]), default=0)
        value = label(number)
        if value is None:
            inside[number], outside[number] = best_in, best_out
        elif value == wanted:
            inside[number], outside[number] = best_in, best_in + 1
        else:
            inside[number] = outside[number] = best_out
    return outside


def _levels(runs: list[int]) -> tuple[int, ...]:
    """Return for k = 1, 2, ... the operations from which a chain has at least k runs."""
    masks = [0] * max(runs, default=0)
    for number, count in enumerate(runs):
        for k in range(count):
            masks[k] |= 1 << number
    return tuple(masks)


def _height(masks: tuple[int, ...], left: int) -> int:
    for k, mask in enumerate(masks):
        if not mask & left:
            return k
    return len(masks)


_Levels = tuple[int, ...]
_Shared = tuple[tuple[int, ...], tuple[_Levels, ...]]


class _Visits(NamedTuple):
    """Visits to a place: appointments there, levels of all, levels by setting for sets of slots."""

    place: int
    appointed: int
    masks: _Levels
    shared: tuple[_Shared, ...]


class Rest:
    """Least change-overs of what is left.

    Parameters
    ----------
    model : Model
        The problem in numbers.
    moves : bool
        Whether moves are counted; only where one maker does it all.
    """

    def __init__(self, model: Model, moves: bool) -> None:
        self._model = model
        self._order = in_order(model)
        self._slots = self._of_slots()
        self._groups = self._of_groups()
        self._moves = self._of_moves() if moves else ()

    def _of_slots(self) -> tuple[tuple[int, int, int, tuple[int, ...]], ...]:
        model = self._model
        found = []
        for slot, info in enumerate(model.slots):

            def label(number: int, slot: int = slot) -> int | None:
                ways = model.ops[number].ways
                return dict(ways[0].needs).get(slot) if len(ways) == 1 else None

            values = {label(number) for number in range(len(model.ops))} - {None}
            for value in sorted(v for v in values if v is not None):
                masks = _levels(_runs(model, label, value, self._order))
                found.append((slot, value, info.cost, masks))
        return tuple(found)

    def _of_moves(self) -> tuple[_Visits, ...]:
        model = self._model

        def label(number: int) -> int | None:
            op = model.ops[number]
            return op.ways[0].station if len(op.ways) == 1 and op.fixed is None else None

        stations = {label(number) for number in range(len(model.ops))} - {None}
        return tuple(
            _Visits(
                one,
                self._appointed_at(one),
                _levels(_runs(model, label, one, self._order)),
                tuple(self._shared(one, slots) for slots in self._slot_sets(one)),
            )
            for one in sorted(v for v in stations if v is not None)
        )

    def _appointed_at(self, station: int) -> int:
        """Appointments at a place: who comes to one is there without a move."""
        return sum(
            1 << number
            for number, op in enumerate(self._model.ops)
            if op.fixed is not None and any(way.station == station for way in op.ways)
        )

    def _slot_sets(self, station: int) -> list[tuple[int, ...]]:
        """Sets of slots of a machine whose change-overs cost no less than a move."""
        model = self._model
        slots = [
            slot
            for slot, info in enumerate(model.slots)
            if info.machine == station and info.cost >= model.costs.move
        ]
        return [
            chosen
            for count in range(1, len(slots) + 1)
            for chosen in itertools.combinations(slots, count)
        ]

    def _shared(self, station: int, slots: tuple[int, ...]) -> _Shared:
        """Levels of visits in each setting of the slots."""
        model = self._model

        def setting(number: int) -> tuple[int, ...] | None:
            ways = model.ops[number].ways
            if len(ways) != 1 or ways[0].station != station or model.ops[number].fixed is not None:
                return None
            needs = dict(ways[0].needs)
            return tuple(needs[one] for one in slots) if set(slots) <= set(needs) else None

        settings = sorted({setting(n) for n in range(len(model.ops))} - {None}, key=str)
        levels = []
        for wanted in settings:

            def label(number: int, wanted: tuple[int, ...] | None = wanted) -> int | None:
                ways = model.ops[number].ways
                if len(ways) != 1 or model.ops[number].fixed is not None:
                    return None
                if ways[0].station != station:
                    return 0
                return 1 if setting(number) == wanted else None

            levels.append(_levels(_runs(model, label, 1, self._order)))
        return slots, tuple(levels)

    def _of_groups(self) -> tuple[tuple[int, int, int, tuple[tuple[int, int], ...]], ...]:
        """Values that any of several machines may hold: needed by, also set by, cost, where."""
        model = self._model
        wants: dict[tuple[frozenset[int], str, str], int] = {}
        cost: dict[str, int] = {}
        places: dict[tuple[frozenset[int], str, str], set[tuple[int, int]]] = {}
        for number, op in enumerate(model.ops):
            machines = frozenset(way.station for way in op.ways)
            # A way without a need for the part (a steamer) makes the part no need at all.
            shared = set.intersection(
                *({model.slots[slot].part for slot, _ in way.needs} for way in op.ways)
            )
            for way in op.ways:
                for slot, value in way.needs:
                    part = model.slots[slot].part
                    if part not in shared:
                        continue
                    key = (machines, part, model.values[slot][value])
                    wants[key] = wants.get(key, 0) | 1 << number
                    places.setdefault(key, set()).add((slot, value))
                    cost[part] = model.slots[slot].cost
        found = []
        for key, mask in wants.items():
            machines, part, _ = key
            if len(machines) < 2:
                continue
            others = 0
            for number, op in enumerate(model.ops):
                if mask >> number & 1:
                    continue
                if any(need in places[key] for way in op.ways for need in way.needs):
                    others |= 1 << number
            found.append((mask, others, cost[part], tuple(sorted(places[key]))))
        return tuple(found)

    def entries(self, config: tuple[int, ...]) -> list[int]:
        """Return how often each slot must be set at least, from the beginning.

        Parameters
        ----------
        config : tuple of int
            What every slot holds.

        Returns
        -------
        list of int
            Change-overs of each slot.
        """
        counts = [0] * len(config)
        for slot, value, _, masks in self._slots:
            counts[slot] += len(masks) - (config[slot] == value)
        return counts

    def least(self, done: int, config: tuple[int, ...], station: int) -> int:
        """Return the least ticks of change-overs that are still to come.

        Parameters
        ----------
        done : int
            Bits of the operations that are done.
        config : tuple of int
            What every slot holds.
        station : int
            Where the maker is.

        Returns
        -------
        int
            Ticks.
        """
        left = ((1 << len(self._model.ops)) - 1) & ~done
        if not left:
            return 0
        total = 0
        changes = [0] * len(config)
        for slot, value, cost, masks in self._slots:
            if masks[0] & left:
                entries = _height(masks, left) - (config[slot] == value)
                changes[slot] += entries
                total += cost * entries
        for mask, others, cost, places in self._groups:
            held = any(config[slot] == value for slot, value in places)
            if mask & left and not others & left and not held:
                total += cost
        return total + self._least_moves(left, changes, station)

    def _least_moves(self, left: int, changes: list[int], station: int) -> int:
        if not self._moves:
            return 0
        entries = 0
        for place, appointed, masks, shared in self._moves:
            visits = _height(masks, left)
            for slots, levels in shared:
                alone = sum(_height(level, left) for level in levels)
                visits = max(visits, alone - sum(changes[slot] for slot in slots))
            free = (station == place) + (appointed & left).bit_count()
            entries += max(visits - free, 0)
        if station == NOWHERE and entries:
            entries -= 1
        return self._model.costs.move * entries
