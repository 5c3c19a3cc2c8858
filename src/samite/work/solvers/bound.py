"""A bound of our own: the fewest minutes of change-overs that any order needs.

Best-first search over what is done and how the machines stand, blind to time. It is exact where it
ends, and a true bound wherever it is stopped.
"""

from __future__ import annotations

import heapq
from dataclasses import dataclass

from samite.work.solvers._model import Model, Way
from samite.work.solvers._rest import NOWHERE, Rest, successors


@dataclass(frozen=True, slots=True)
class OrderBound:
    """What the search found.

    Parameters
    ----------
    ticks : int
        No order has fewer ticks of change-overs [1].
    exact : bool
        Whether some order has just so many, waiting left out of account.
    order : tuple of (int, int)
        That order: operation and way; empty if none was found.
    """

    ticks: int
    exact: bool
    order: tuple[tuple[int, int], ...]


class _Search:
    """Nodes are (done, config, dirt, station); free operations are done at once."""

    def __init__(self, model: Model, moves: bool) -> None:
        self.model = model
        self.moves = moves
        self.rest = Rest(model, moves)
        self.after = successors(model)
        self.before = [sum(1 << b for b, _ in op.before) for op in model.ops]
        self.groups = self._alike()

    def _alike(self) -> list[int]:
        """Number the operations so that those with the same ways have the same number."""
        known: dict[tuple[Way, ...], int] = {}
        count = len(self.model.ops)
        return [
            # What dirties what it shuns is never free the second time: which one comes first counts.
            count + number
            if any(way.dirties & way.shuns for way in op.ways)
            else known.setdefault(op.ways, len(known))
            for number, op in enumerate(self.model.ops)
        ]

    def price(self, config: tuple[int, ...], dirt: int, station: int, way: Way) -> int:
        moved = self.moves and station not in (way.station, NOWHERE)
        return self.model.set_up(config, dirt, way) + (self.model.costs.move if moved else 0)

    def close(
        self, done: int, ready: tuple[int, ...], config: tuple[int, ...], dirt: int, station: int
    ) -> tuple[int, tuple[int, ...], tuple[tuple[int, int], ...]]:
        """Do all that is ready and costs nothing: by the triangle inequality that is never wrong."""
        taken: list[tuple[int, int]] = []
        waiting = list(ready)
        moved = True
        while moved:
            moved = False
            for number in list(waiting):
                for index, way in enumerate(self.model.ops[number].ways):
                    if way.dirties & ~dirt or self.price(config, dirt, station, way):
                        continue
                    if station == NOWHERE and self.moves:
                        continue
                    waiting.remove(number)
                    done |= 1 << number
                    taken.append((number, index))
                    waiting += [
                        later
                        for later in self.after[number]
                        if not self.before[later] & ~done and not done >> later & 1
                    ]
                    moved = True
                    break
        return done, tuple(waiting), tuple(taken)


def order_bound(model: Model, *, most_nodes: int) -> OrderBound:
    """Return the fewest ticks of change-overs.

    Parameters
    ----------
    model : Model
        The problem in numbers.
    most_nodes : int
        Nodes that are opened before the search is stopped [1].

    Returns
    -------
    OrderBound
        Exact if the search came to its end.

    Notes
    -----
    Times are left out: sessions, waiting and several makers at once can only cost more. With more
    than one maker, moves are left out too. The order is a linear extension of what must be
    earlier; a change-over never gets cheaper by a detour, hence what is ready and free is done at
    once.

    References
    ----------
    ``derivation``: docs/models/work.md, the bound.
    """
    search = _Search(model, len(model.sessions) == 1)
    state = model.start
    first = tuple(number for number, before in enumerate(search.before) if not before)
    done, ready, taken = search.close(0, first, state.config, state.dirt, NOWHERE)
    start = (done, state.config, state.dirt, NOWHERE)
    least = search.rest.least(done, state.config, NOWHERE)
    # Ties go to the node on which more is done.
    heap = [(least, len(model.ops) - done.bit_count(), 0, start, ready)]
    best = {start: 0}
    came: dict[object, tuple[object, tuple[tuple[int, int], ...]]] = {start: (None, taken)}
    all_done = (1 << len(model.ops)) - 1
    number = 0
    floor = least
    while heap:
        total, _, _, key, ready = heapq.heappop(heap)
        done, config, dirt, station = key
        spent = best[key]
        if total > spent + search.rest.least(done, config, station):
            continue
        floor = max(floor, total)
        if done == all_done:
            return OrderBound(total, True, _way_back(came, key))
        if number > most_nodes:
            return OrderBound(floor, False, ())
        tried = set()
        for one in ready:
            for index, way in enumerate(model.ops[one].ways):
                mark = (search.groups[one], index)
                if mark in tried:
                    continue
                tried.add(mark)
                cost = spent + search.price(config, dirt, station, way)
                new_config, new_dirt = model.after_way(config, dirt, way)
                new_station = way.station if search.moves else NOWHERE
                now = done | 1 << one
                others = tuple(x for x in ready if x != one) + tuple(
                    later
                    for later in search.after[one]
                    if not search.before[later] & ~now and not now >> later & 1
                )
                now, others, taken = search.close(now, others, new_config, new_dirt, new_station)
                new = (now, new_config, new_dirt, new_station)
                if cost >= best.get(new, cost + 1):
                    continue
                best[new] = cost
                came[new] = (key, ((one, index), *taken))
                number += 1
                total = cost + search.rest.least(now, new_config, new_station)
                left = len(model.ops) - now.bit_count()
                heapq.heappush(heap, (total, left, number, new, others))
    return OrderBound(floor, False, ())


def _way_back(
    came: dict[object, tuple[object, tuple[tuple[int, int], ...]]], key: object
) -> tuple[tuple[int, int], ...]:
    parts = []
    at: object = key
    while at is not None:
        at, taken = came[at]
        parts.append(taken)
    return tuple(step for part in reversed(parts) for step in part)
