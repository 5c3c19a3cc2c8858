"""A plan that grows step by step: every solver that puts one operation after another uses it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from samite.work.solvers._model import FAR, Model, Way
from samite.work.solvers._rest import in_order, successors


@dataclass(frozen=True, slots=True)
class Step:
    """One operation as placed [ticks]."""

    op: int
    way: int
    maker: int
    begin: int
    work: int
    end: int
    session: int


@dataclass(frozen=True, slots=True)
class Tail:
    """What every operation still has behind it, for the order of the ready ones."""

    after: tuple[tuple[int, ...], ...]
    before: tuple[int, ...]
    ticks: tuple[int, ...]


def tails(model: Model) -> Tail:
    """Return followers, bits of what is before, and the longest chain behind each operation."""
    after = successors(model)
    before = tuple(sum(1 << b for b, _ in op.before) for op in model.ops)
    lags: list[list[tuple[int, int]]] = [[] for _ in model.ops]
    for number, op in enumerate(model.ops):
        for earlier, lag in op.before:
            lags[earlier].append((number, lag))
    behind = [0] * len(model.ops)
    for number in reversed(in_order(model)):
        rest = [behind[later] + lag for later, lag in lags[number]]
        behind[number] = model.ops[number].ticks + max(rest, default=0)
    return Tail(tuple(tuple(one) for one in after), before, tuple(behind))


class Node:
    """A plan so far. `cost` is the time for which makers are there [ticks]."""

    __slots__ = (
        "came", "clock", "config", "cost", "dirt", "dirt_time", "done", "end", "free", "last", "late",
        "parent", "ready", "session", "station", "work",
    )  # fmt: skip

    came: list[int]
    clock: list[int]
    config: tuple[int, ...]
    cost: int
    dirt: int
    dirt_time: int
    done: int
    end: list[int]
    free: list[int]
    last: Step | None
    late: int
    parent: Node | None
    ready: tuple[int, ...]
    session: list[int]
    station: tuple[int, ...]
    work: int

    def steps(self) -> list[Step]:
        """Return all steps, in the order in which they were put."""
        found = []
        node: Node | None = self
        while node is not None:
            if node.last is not None:
                found.append(node.last)
            node = node.parent
        return found[::-1]


def first_node(model: Model, tail: Tail) -> Node:
    """Return the plan with nothing in it."""
    node = Node()
    node.done, node.cost, node.work, node.late = 0, 0, 0, 0
    node.config, node.dirt, node.dirt_time = model.start.config, model.start.dirt, 0
    node.station = model.start.stations
    node.clock = [0] * len(model.sessions)
    node.came = node.clock
    node.session = [-1] * len(model.sessions)
    node.free = list(model.start.free)
    node.end = [0] * len(model.ops)
    node.ready = tuple(number for number, bits in enumerate(tail.before) if not bits)
    node.last, node.parent = None, None
    return node


def set_up_ticks(model: Model, node: Node, number: int, way: Way, maker: int) -> int:
    """Return change-over and move before the work [ticks]."""
    move = model.move(number, node.station[maker], way)
    return model.set_up(node.config, node.dirt, way) + move


def earliest(model: Model, node: Node, number: int, way: Way) -> tuple[int, int]:
    """Return from when the machine can be set up, and from when the work can begin [ticks]."""
    op = model.ops[number]
    work = op.release
    for earlier, lag in op.before:
        work = max(work, node.end[earlier] + lag)
    begin = 0
    if way.station >= 0:
        begin = node.free[way.station]
        work = max(work, begin + model.lag(node.config, way))
    if way.dirties | way.shuns:
        work = max(work, node.dirt_time)
    return begin, work


def place(
    model: Model, node: Node, number: int, index: int, maker: int, *, leave: bool = False
) -> Step | None:
    """Return where the next operation of a maker would be put; None if no session holds it.

    `leave` passes over the rest of the session in which the maker is.
    """
    op = model.ops[number]
    way = op.ways[index]
    begin_from, work_from = earliest(model, node, number, way)
    set_up = set_up_ticks(model, node, number, way, maker)
    sessions = model.sessions[maker]
    at = max(node.session[maker], 0)
    if leave and node.session[maker] >= 0:
        at += 1
    for session in range(at, len(sessions)):
        opens, closes = sessions[session]
        begin = max(opens, begin_from, max(work_from, opens + model.warm_up(way, opens)) - set_up)
        if session == node.session[maker]:
            begin = max(begin, node.clock[maker])
        if op.fixed is not None:
            if begin + set_up > op.fixed:
                return None
            begin = op.fixed - set_up
            if begin < opens:
                return None
        end = begin + set_up + op.ticks
        if end <= closes:
            return Step(number, index, maker, begin, begin + set_up, end, session)
        if op.fixed is not None and op.fixed < closes:
            return None
    return None


def put(model: Model, tail: Tail, node: Node, step: Step) -> Node:
    """Return the plan with one step more."""
    op = model.ops[step.op]
    way = op.ways[step.way]
    maker = step.maker
    new = Node()
    new.parent, new.last = node, step
    new.done = node.done | 1 << step.op
    new.config, new.dirt = model.after_way(node.config, node.dirt, way)
    new.dirt_time = (
        max(node.dirt_time, step.work + 1) if way.dirties | way.shuns else node.dirt_time
    )
    came = came_for(model, step)
    if step.session == node.session[maker]:
        since, came = node.clock[maker], min(came, node.came[maker])
        new.cost = node.cost + step.end - since + node.came[maker] - came
    else:
        new.cost = node.cost + step.end - came
    new.came = node.came
    if came != node.came[maker]:
        new.came = node.came.copy()
        new.came[maker] = came
    new.work = node.work + op.ticks
    new.late = node.late + max(0, step.end - op.deadline)
    new.end = node.end.copy()
    new.end[step.op] = step.end
    new.clock, new.session, new.free = node.clock, node.session, node.free
    new.clock = node.clock.copy()
    new.clock[maker] = step.end
    if step.session != node.session[maker]:
        new.session = node.session.copy()
        new.session[maker] = step.session
    new.station = node.station
    if way.station != node.station[maker]:
        station = list(node.station)
        station[maker] = way.station
        new.station = tuple(station)
    if way.station >= 0:
        new.free = node.free.copy()
        new.free[way.station] = step.end
    opened = tuple(later for later in tail.after[step.op] if not tail.before[later] & ~new.done)
    new.ready = tuple(one for one in node.ready if one != step.op) + opened
    return new


def came_for(model: Model, step: Step) -> int:
    """Return when its maker must have come: to set up, and to switch a cold iron on [ticks]."""
    opens = model.sessions[step.maker][step.session][0]
    return min(step.begin, step.work - model.warm_up(model.ops[step.op].ways[step.way], opens))


def finish(node: Node) -> int:
    """Return when the last operation is over [ticks]."""
    return max(node.end, default=0)


def tightened(model: Model, steps: list[Step]) -> list[Step]:
    """Let everybody come later where that saves waiting, and end as early as before.

    Steps that begin a session move towards the work that follows them; the last step of a session
    and appointments stay.
    """
    by_time = sorted(range(len(steps)), key=lambda k: (steps[k].work, steps[k].end))
    after: dict[int, list[tuple[int, int]]] = {}
    for op_number, op in enumerate(model.ops):
        for earlier, lag in op.before:
            after.setdefault(earlier, []).append((op_number, lag))
    begins: dict[int, int] = {}
    works: dict[int, int] = {}
    next_of_maker: dict[tuple[int, int], int] = {}
    next_on_machine: dict[int, tuple[int, int]] = {}
    dirt_work = FAR
    moved: dict[int, Step] = {}
    for k in reversed(by_time):
        step = steps[k]
        op = model.ops[step.op]
        way = op.ways[step.way]
        session = (step.maker, step.session)
        shift = 0
        if session in next_of_maker and op.fixed is None:
            latest = min(next_of_maker[session], op.deadline)
            latest = min(
                [latest, *(works[later] - lag for later, lag in after.get(step.op, ()))],
                default=latest,
            )
            if way.station in next_on_machine:
                begin, work_less_lag = next_on_machine[way.station]
                latest = min(latest, begin, work_less_lag)
            shift = max(0, latest - step.end)
            if way.dirties | way.shuns:
                shift = max(0, min(shift, dirt_work - step.work))
        new = Step(
            step.op, step.way, step.maker,
            step.begin + shift, step.work + shift, step.end + shift, step.session,
        )  # fmt: skip
        moved[k] = new
        begins[step.op], works[step.op] = new.begin, new.work
        next_of_maker[session] = new.begin
        if way.dirties | way.shuns:
            dirt_work = new.work - 1  # Who begins first must be plain: no two at once.
        if way.station >= 0:
            lag = _lag_before(model, steps, by_time, k)
            next_on_machine[way.station] = (new.begin, new.work - lag)
    return [moved[k] for k in range(len(steps))]


def _lag_before(model: Model, steps: list[Step], by_time: list[int], k: int) -> int:
    """Return the lag of the iron before a step, from the heat that the step before it left."""
    way = model.ops[steps[k].op].ways[steps[k].way]
    slot = model.heat_slots.get(way.station)
    wanted = dict(way.needs).get(slot) if slot is not None else None
    if slot is None or wanted is None:
        return 0
    heat = model.start.config[slot]
    for other in by_time:
        if other == k:
            break
        before = model.ops[steps[other].op].ways[steps[other].way]
        if before.station == way.station:
            heat = dict(before.needs).get(slot, heat)
    return model.costs.lag(heat, wanted)


def spans(model: Model, steps: Sequence[Step]) -> dict[tuple[int, int], tuple[int, int]]:
    """Return from when to when every maker is there in every session [ticks]."""
    found: dict[tuple[int, int], tuple[int, int]] = {}
    for step in steps:
        key = (step.maker, step.session)
        first, last = found.get(key, (step.begin, step.end))
        found[key] = (min(first, came_for(model, step)), max(last, step.end))
    return found


def attended(model: Model, steps: Sequence[Step]) -> int:
    """Return for how long makers are there: from first to last of each session [ticks]."""
    return sum(last - first for first, last in spans(model, steps).values())
