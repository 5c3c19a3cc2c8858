"""Orders without time: what is done and how the machines stand, and what each next step costs."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from samite.work.solvers._model import Model, Way
from samite.work.solvers._rest import NOWHERE, Rest, successors

Steps = tuple[tuple[int, int], ...]
Key = tuple[int, tuple[int, ...], int, int]
"""Done, slots, dirt, station."""


@dataclass(frozen=True, slots=True)
class Ends:
    """Where an order begins, and what comes after its end.

    Parameters
    ----------
    config : tuple of int
        What every slot holds at the beginning.
    dirt : int
        What lies about.
    station : int
        Where the maker is.
    next_values : tuple of (int, int)
        Slots and the values that are wanted next, after the end.
    next_station : int
        Where the work goes on.
    next_shuns : int
        What must not lie about after the end.
    """

    config: tuple[int, ...]
    dirt: int = 0
    station: int = NOWHERE
    next_values: tuple[tuple[int, int], ...] = ()
    next_station: int = NOWHERE
    next_shuns: int = 0


class Orders:
    """The graph of orders; operations that are ready and free are done at once.

    Parameters
    ----------
    model : Model
        The problem in numbers.
    moves : bool
        Whether moves count; only where one maker does it all.
    ends : Ends or None
        Where it begins and goes on; None for the whole.
    turns : bool
        Whether an iron that is turned while one stands at it counts as waited for.
    """

    def __init__(
        self, model: Model, moves: bool, ends: Ends | None = None, *, turns: bool = False
    ) -> None:
        self.model, self.moves, self.turns = model, moves, turns
        self.ends = ends or Ends(model.start.config, model.start.dirt)
        self.rest = Rest(model, moves)
        self.all_done = (1 << len(model.ops)) - 1
        self._after = successors(model)
        self._before = [sum(1 << b for b, _ in op.before) for op in model.ops]
        self._alike = self._numbers()

    def _numbers(self) -> list[int]:
        """Number the operations so that those with the same ways have the same number."""
        known: dict[tuple[Way, ...], int] = {}
        count = len(self.model.ops)
        return [
            # What dirties what it shuns is never free the second time: which one comes first counts.
            count + number
            if op.fixed is not None or any(way.dirties & way.shuns for way in op.ways)
            else known.setdefault(op.ways, len(known))
            for number, op in enumerate(self.model.ops)
        ]

    def start(self) -> tuple[Key, tuple[int, ...], Steps]:
        """Return the beginning: its key, what is ready, what was free and is done."""
        ends = self.ends
        ready = tuple(number for number, before in enumerate(self._before) if not before)
        station = ends.station if self.moves else NOWHERE
        done, ready, taken = self._close(0, ready, ends.config, ends.dirt, station)
        return (done, ends.config, ends.dirt, station), ready, taken

    def least(self, key: Key) -> int:
        """Return the least ticks still to come."""
        done, config, dirt, station = key
        if done == self.all_done:
            return self._price_of_end(config, dirt, station)
        return self.rest.least(done, config, station)

    def _price_of_end(self, config: tuple[int, ...], dirt: int, station: int) -> int:
        ends = self.ends
        total = self.model.clean_ticks(dirt & ends.next_shuns)
        for slot, value in ends.next_values:
            if config[slot] != value:
                total += self.model.slots[slot].cost
        if self.moves and NOWHERE not in (station, ends.next_station):
            total += self.model.costs.move if station != ends.next_station else 0
        return total

    def children(
        self, key: Key, ready: tuple[int, ...]
    ) -> Iterator[tuple[int, Key, tuple[int, ...], Steps]]:
        """Yield cost, key, what is ready and the steps of every next step."""
        done, config, dirt, station = key
        tried = set()
        for one in ready:
            for index, way in enumerate(self.model.ops[one].ways):
                mark = (self._alike[one], index)
                if mark in tried:
                    continue
                tried.add(mark)
                cost = self._price(one, config, dirt, station, way)
                new_config, new_dirt = self.model.after_way(config, dirt, way)
                new_station = way.station if self.moves else NOWHERE
                now = done | 1 << one
                others = tuple(x for x in ready if x != one) + self._opened(one, now)
                now, others, taken = self._close(now, others, new_config, new_dirt, new_station)
                new = (now, new_config, new_dirt, new_station)
                yield cost, new, others, ((one, index), *taken)

    def _opened(self, one: int, done: int) -> tuple[int, ...]:
        return tuple(
            later
            for later in self._after[one]
            if not self._before[later] & ~done and not done >> later & 1
        )

    def _price(
        self, number: int, config: tuple[int, ...], dirt: int, station: int, way: Way
    ) -> int:
        move = self.model.move(number, station, way) if self.moves else 0
        set_up = self.model.set_up(config, dirt, way)
        if self.turns and set_up:
            set_up = self.model.turn(config, station, way, set_up)
        return set_up + move

    def _close(
        self, done: int, ready: tuple[int, ...], config: tuple[int, ...], dirt: int, station: int
    ) -> tuple[int, tuple[int, ...], Steps]:
        """Do all that is ready and costs nothing: by the triangle inequality that is never wrong."""
        if station == NOWHERE and self.moves:
            return done, ready, ()
        taken: list[tuple[int, int]] = []
        kept: list[int] = []
        waiting = list(ready)
        while waiting:
            number = waiting.pop(0)
            index = self._free_way(number, config, dirt, station)
            if index is None:
                kept.append(number)
                continue
            done |= 1 << number
            taken.append((number, index))
            waiting += self._opened(number, done)
        return done, tuple(kept), tuple(taken)

    def _free_way(
        self, number: int, config: tuple[int, ...], dirt: int, station: int
    ) -> int | None:
        for index, way in enumerate(self.model.ops[number].ways):
            if way.dirties & ~dirt or (self.moves and way.station != station):
                continue
            if not self._price(number, config, dirt, station, way):
                return index
        return None


def steps_to(came: dict[Key, tuple[Key | None, Steps]], key: Key) -> Steps:
    """Return the steps that lead to a node."""
    parts = []
    at: Key | None = key
    while at is not None:
        at, taken = came[at]
        parts.append(taken)
    return tuple(step for part in reversed(parts) for step in part)
