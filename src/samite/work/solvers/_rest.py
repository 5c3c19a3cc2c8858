"""The least that the rest of the work still costs in change-overs, for any set of it that is done.

A slot (one part of a setting on one machine) must be set to a value at least as often as a chain of
operations, each after the other, comes back to that value from another one. Entries into different
values are different change-overs, so they add up over values and over slots; moves are counted
likewise, with the place of work as the value.
"""

from __future__ import annotations

from collections.abc import Callable

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

    def _of_moves(self) -> tuple[tuple[int, tuple[int, ...]], ...]:
        model = self._model

        def label(number: int) -> int | None:
            ways = model.ops[number].ways
            return ways[0].station if len(ways) == 1 else None

        stations = {label(number) for number in range(len(model.ops))} - {None}
        return tuple(
            (one, _levels(_runs(model, label, one, self._order)))
            for one in sorted(v for v in stations if v is not None)
        )

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
        for slot, value, cost, masks in self._slots:
            if masks and masks[0] & left:
                entries = _height(masks, left)
                total += cost * (entries - 1 if config[slot] == value else entries)
        for mask, others, cost, places in self._groups:
            if mask & left and not others & left:
                if not any(config[slot] == value for slot, value in places):
                    total += cost
        if self._moves:
            entries = 0
            for place, masks in self._moves:
                count = _height(masks, left)
                entries += count - 1 if count and station == place else count
            if station == NOWHERE and entries:
                entries -= 1
            total += self._model.costs.move * entries
        return total
