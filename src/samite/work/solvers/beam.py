"""Our own search in time: many half-made plans side by side, the best of each length kept."""

from __future__ import annotations

import heapq
from dataclasses import dataclass

from samite.work.solvers._model import Model, Way
from samite.work.solvers._rest import NOWHERE, Rest
from samite.work.solvers._steps import (
    Node,
    Step,
    Tail,
    attended,
    finish,
    first_node,
    place,
    put,
    set_up_ticks,
    tails,
    tightened,
)
from samite.work.solvers._urgent import Urgent

LONG_WAIT = 20
"""Waiting after which it is also tried to leave for the day [ticks]."""

MOST_CHILDREN = 10


@dataclass(frozen=True, slots=True)
class Found:
    """A whole plan.

    Parameters
    ----------
    steps : tuple of Step
        In the order of putting.
    late : int
        Ticks by which operations end after they must, added up [1].
    cost : int
        Ticks for which makers are there [1].
    end : int
        When the last operation is over [1].
    """

    steps: tuple[Step, ...]
    late: int
    cost: int
    end: int

    @property
    def rank(self) -> tuple[int, int, int]:
        """On time first, then cheap, then early."""
        return self.late, self.cost, self.end


def found_of(model: Model, steps: list[Step]) -> Found:
    """Return a plan with everybody coming as late as they may.

    Parameters
    ----------
    model : Model
        The problem in numbers.
    steps : list of Step
        In the order of putting.

    Returns
    -------
    Found
        The plan and what it costs.

    Notes
    -----
    The order stays, so the change-overs stay; only waiting gets less.

    References
    ----------
    ``derivation``: docs/models/work.md, coming later.
    """
    best = tightened(model, steps)
    late = sum(max(0, step.end - model.ops[step.op].deadline) for step in best)
    return Found(tuple(best), late, attended(model, best), max((s.end for s in best), default=0))


class _Beam:
    def __init__(self, model: Model, width: int, haste: float) -> None:
        self.model, self.width, self.haste = model, width, haste
        self.tail: Tail = tails(model)
        self.single = len(model.sessions) == 1
        self.rest = Rest(model, self.single)
        self.urgent = Urgent(model)
        self.left: dict[int, list[int]] = {}

    def score(self, node: Node) -> tuple[float, float]:
        station = node.station[0] if self.single else NOWHERE
        rest = self.rest.least(node.done, node.config, station)
        late = node.late + self.urgent.lack(node, self.left[id(node)])
        over = node.cost - node.work + rest
        return late, over + self.haste * max(node.clock)

    def put(self, node: Node, step: Step) -> Node:
        new = put(self.model, self.tail, node, step)
        self.left[id(new)] = self.urgent.less(self.left[id(node)], step.op)
        return new

    def steps_from(self, node: Node) -> list[Step]:
        model = self.model
        tried: set[tuple[tuple[Way, ...], int, int, int]] = set()
        found: list[Step] = []
        for number in sorted(node.ready, key=lambda one: -self.tail.ticks[one]):
            op = model.ops[number]
            for index in range(len(op.ways)):
                for maker in op.makers:
                    step = place(model, node, number, index, maker)
                    if step is None:
                        continue
                    mark = (op.ways, index, maker, step.begin)
                    if mark in tried and op.fixed is None:
                        continue
                    tried.add(mark)
                    found.append(step)
        if not found:
            return []
        first_end = min(step.end for step in found)
        active = [step for step in found if step.begin < first_end]
        active += self._leaving(node, active)
        return heapq.nsmallest(MOST_CHILDREN, active, key=lambda step: self._promise(node, step))

    def _leaving(self, node: Node, active: list[Step]) -> list[Step]:
        found = []
        for step in active:
            maker = step.maker
            waits = step.begin - node.clock[maker]
            if step.session == node.session[maker] and waits > LONG_WAIT:
                later = place(self.model, node, step.op, step.way, maker, leave=True)
                found += [later] if later else []
        return found

    def _promise(self, node: Node, step: Step) -> tuple[int, int]:
        way = self.model.ops[step.op].ways[step.way]
        waits = (
            step.begin - node.clock[step.maker] if step.session == node.session[step.maker] else 0
        )
        cost = set_up_ticks(self.model, node, step.op, way, step.maker) + waits
        return cost, -self.tail.ticks[step.op]

    def close(self, node: Node) -> Node:
        """Go on at the same place while that costs nothing at all."""
        moved = node.last is not None
        while moved and node.last is not None:
            moved = False
            maker = node.last.maker
            ready = sorted(node.ready, key=lambda one: -self.tail.ticks[one])
            for number in ready:
                step = self._free_step(node, number, maker)
                if step:
                    node = self.put(node, step)
                    moved = True
                    break
        return node

    def _free_step(self, node: Node, number: int, maker: int) -> Step | None:
        op = self.model.ops[number]
        if maker not in op.makers or op.fixed is not None:
            return None
        for index, way in enumerate(op.ways):
            if way.station != node.station[maker] or way.dirties & ~node.dirt:
                continue
            if set_up_ticks(self.model, node, number, way, maker):
                continue
            step = place(self.model, node, number, index, maker)
            if step and step.begin == node.clock[maker] and step.session == node.session[maker]:
                return step
        return None

    def run(self) -> list[Node]:
        model = self.model
        start = first_node(model, self.tail)
        self.left[id(start)] = self.urgent.first()
        count = len(model.ops)
        buckets: list[dict[object, tuple[tuple[float, float], int, Node]]] = [
            {} for _ in range(count + 1)
        ]
        buckets[0][0] = (self.score(start), 0, start)
        number = 0
        for done in range(count):
            kept = heapq.nsmallest(self.width, buckets[done].values(), key=lambda item: item[:2])
            buckets[done] = {}
            for _, _, node in kept:
                for step in self.steps_from(node):
                    new = self.close(self.put(node, step))
                    number += 1
                    key = (new.done, new.config, new.dirt, new.station, tuple(new.session))
                    scored = (self.score(new), number, new)
                    bucket = buckets[new.done.bit_count()]
                    if key not in bucket or scored[0] < bucket[key][0]:
                        bucket[key] = scored
        return [node for _, _, node in buckets[count].values()]


def search(model: Model, *, width: int, haste: float) -> Found | None:
    """Return the best plan that a beam of half-made plans comes to.

    Parameters
    ----------
    model : Model
        The problem in numbers.
    width : int
        Half-made plans kept of each length [1].
    haste : float
        Change-over that is accepted to be earlier by as much [-].

    Returns
    -------
    Found or None
        None if it comes to none.

    Notes
    -----
    Half-made plans are ranked by how late they are bound to be, then by change-overs and waiting
    so far and the least still to come. What is ready at the same place in the same setting is
    done at once.

    References
    ----------
    ``derivation``: docs/models/work.md, the search.
    """
    if not model.ops:
        return Found((), 0, 0, 0)
    ends = _Beam(model, width, haste).run()
    plans = [found_of(model, node.steps()) for node in ends]
    return min(plans, key=lambda plan: plan.rank, default=None)


def follow(model: Model, order: tuple[tuple[int, int], ...], *, width: int) -> Found | None:
    """Return the best plan of one maker that keeps to an order.

    Parameters
    ----------
    model : Model
        The problem in numbers, with one maker.
    order : tuple of (int, int)
        Operations and ways.
    width : int
        Half-made plans kept [1].

    Returns
    -------
    Found or None
        None if no session holds it.

    Notes
    -----
    Only whether to wait or to leave for the day is free.

    References
    ----------
    ``derivation``: docs/models/work.md, the search.
    """
    tail = tails(model)
    nodes = [first_node(model, tail)]
    for number, index in order:
        new = []
        for node in nodes:
            for leave in (False, True):
                step = place(model, node, number, index, 0, leave=leave)
                if step is not None:
                    new.append(put(model, tail, node, step))
        new.sort(key=_rank, reverse=True)  # Of two with the same clock the better one is kept.
        nodes = heapq.nsmallest(width, {n.clock[0]: n for n in new}.values(), key=_rank)
        if not nodes:
            return None
    plans = [found_of(model, node.steps()) for node in nodes]
    return min(plans, key=lambda plan: plan.rank, default=None)


def _rank(node: Node) -> tuple[int, int, int]:
    return node.late, node.cost, finish(node)
