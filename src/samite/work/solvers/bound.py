"""A bound of our own: the fewest minutes of change-overs that any order needs.

Best-first search over what is done and how the machines stand, blind to time. It is exact where it
ends, and a true bound wherever it is stopped.
"""

from __future__ import annotations

import heapq
from dataclasses import dataclass

from samite.work.solvers._model import Model
from samite.work.solvers._orders import Ends, Key, Orders, Steps, steps_to


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
    order: Steps


def order_bound(
    model: Model, *, most_nodes: int, ends: Ends | None = None, turns: bool = False
) -> OrderBound:
    """Return the fewest ticks of change-overs.

    Parameters
    ----------
    model : Model
        The problem in numbers.
    most_nodes : int
        Nodes that are made before the search is stopped [1].
    ends : Ends or None
        Where it begins and what comes after; None for the whole.
    turns : bool
        Whether the least wait is counted where an iron is turned while the maker stands at it;
        only for the whole job of one maker.

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
    alone = len(model.sessions) == 1
    orders = Orders(model, alone, ends, turns=turns and alone)
    start, ready, taken = orders.start()
    floor = orders.least(start)
    # Ties go to the node on which more is done.
    heap = [(floor, len(model.ops) - start[0].bit_count(), 0, start, ready, 0)]
    best: dict[Key, int] = {start: 0}
    came: dict[Key, tuple[Key | None, Steps]] = {start: (None, taken)}
    number = 0
    while heap:
        total, _, _, key, ready, spent = heapq.heappop(heap)
        if spent > best[key]:
            continue
        floor = max(floor, total)
        if key[0] == orders.all_done:
            return OrderBound(total, True, steps_to(came, key))
        if number > most_nodes:
            return OrderBound(floor, False, ())
        for cost, new, others, steps in orders.children(key, ready):
            now = spent + cost
            if now >= best.get(new, now + 1):
                continue
            best[new] = now
            came[new] = (key, steps)
            number += 1
            left = len(model.ops) - new[0].bit_count()
            heapq.heappush(heap, (now + orders.least(new), left, number, new, others, now))
    return OrderBound(floor, False, ())


def good_order(model: Model, *, width: int, ends: Ends | None = None) -> Steps:
    """Return an order with few change-overs, found by keeping the best beginnings of each length.

    Parameters
    ----------
    model : Model
        The problem in numbers.
    width : int
        Beginnings kept of each length [1].
    ends : Ends or None
        Where it begins and what comes after; None for the whole.

    Returns
    -------
    tuple of (int, int)
        Operations and ways.

    Notes
    -----
    Blind to time, like `order_bound`, and without proof.

    References
    ----------
    ``derivation``: docs/models/work.md, the search.
    """
    orders = Orders(model, len(model.sessions) == 1, ends)
    start, ready, taken = orders.start()
    came: dict[Key, tuple[Key | None, Steps]] = {start: (None, taken)}
    count = len(model.ops)
    buckets: list[dict[Key, tuple[int, int, int, tuple[int, ...]]]] = [{} for _ in range(count + 1)]
    buckets[start[0].bit_count()][start] = (orders.least(start), 0, 0, ready)
    number = 0
    for done in range(count):
        kept = heapq.nsmallest(width, buckets[done].items(), key=lambda item: item[1][:2])
        buckets[done] = {}
        for key, (_, _, spent, now_ready) in kept:
            for cost, new, others, steps in orders.children(key, now_ready):
                number += 1
                scored = (spent + cost + orders.least(new), number, spent + cost, others)
                bucket = buckets[new[0].bit_count()]
                if new not in bucket or scored[0] < bucket[new][0]:
                    bucket[new] = scored
                    came[new] = (key, steps)
    whole = buckets[count]
    return steps_to(came, min(whole, key=lambda key: whole[key][:2])) if whole else ()
