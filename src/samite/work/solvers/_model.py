"""The problem in whole half minutes, as every solver reads it."""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta

from samite.work.operation import HEATS, Operation, Setting
from samite.work.problem import WorkProblem
from samite.work.setup import ChangeOvers, heat_lag_minutes, warm_up_minutes

TICKS = 2
"""Ticks of a minute."""

FAR = 10**7
"""A tick that never comes."""

PARTS = ("needle", "thread", "foot")
TABLE = -1
"""Station of work without a machine."""


@dataclass(frozen=True, slots=True)
class Costs:
    """Change-overs [ticks]."""

    part: dict[str, int]
    move: int
    dial: int
    heating: int
    cooling: int
    warm_up: int
    clean: tuple[int, ...]

    def lag(self, before: int, after: int) -> int:
        """Ticks in which an iron comes from one heat to another; -1 is not known."""
        if after < 0 or before == after:
            return 0
        return self.heating if after > before else self.cooling


@dataclass(frozen=True, slots=True)
class Slot:
    """One part of a setting on one machine."""

    machine: int
    part: str
    cost: int


@dataclass(frozen=True, slots=True)
class Way:
    """One machine for an operation: its station and what each slot must hold."""

    station: int
    needs: tuple[tuple[int, int], ...]
    dirties: int
    shuns: int


@dataclass(frozen=True, slots=True)
class Op:
    """One operation."""

    name: str
    ticks: int
    ways: tuple[Way, ...]
    makers: tuple[int, ...]
    before: tuple[tuple[int, int], ...]
    release: int
    deadline: int
    fixed: int | None


@dataclass(frozen=True, slots=True)
class State:
    """Where things stand: what every slot holds, what lies about, when machines are free."""

    config: tuple[int, ...]
    dirt: int
    stations: tuple[int, ...]
    free: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Model:
    """Operations, slots, makers and moments, all by number."""

    ops: tuple[Op, ...]
    slots: tuple[Slot, ...]
    costs: Costs
    sessions: tuple[tuple[tuple[int, int], ...], ...]
    start: State
    origin: datetime
    values: tuple[tuple[str, ...], ...]
    dirt_names: tuple[tuple[str, str], ...]
    heat_slots: dict[int, int] = field(default_factory=dict)
    irons: frozenset[int] = frozenset()
    hot: frozenset[int] = frozenset()

    @property
    def work(self) -> int:
        """Ticks of all operations."""
        return sum(op.ticks for op in self.ops)

    def moment(self, tick: int) -> datetime:
        """Return a tick as a moment."""
        return self.origin + timedelta(seconds=tick * 60 / TICKS)

    def clean_ticks(self, bits: int) -> int:
        """Ticks to clean off what bits say."""
        total = 0
        while bits:
            low = bits & -bits
            total += self.costs.clean[low.bit_length() - 1]
            bits ^= low
        return total

    def set_up(self, config: tuple[int, ...], dirt: int, way: Way) -> int:
        """Ticks with hands on the machine before work on it, moves left out."""
        total = 0
        for slot, value in way.needs:
            if config[slot] != value:
                total += self.slots[slot].cost
        return total + self.clean_ticks(dirt & way.shuns) if dirt & way.shuns else total

    def move(self, number: int, station: int, way: Way) -> int:
        """Ticks to go to the place of work; who comes to an appointment comes straight to it."""
        if station in (way.station, TABLE - 1) or self.ops[number].fixed is not None:
            return 0
        return self.costs.move

    def turn(self, config: tuple[int, ...], station: int, way: Way, set_up: int) -> int:
        """Least ticks from work at an iron to work at it in another heat, by the same maker.

        Either the iron heats or cools, or it is cold after a break, or something else is done in
        between, which takes two moves.
        """
        if station != way.station or station not in self.irons:
            return set_up
        if all(config[slot] == value for slot, value in way.needs):
            return set_up
        costs = self.costs
        least = min(costs.heating, costs.cooling, costs.warm_up)
        return max(set_up, min(least, set_up + 2 * costs.move))

    def lag(self, config: tuple[int, ...], way: Way) -> int:
        """Ticks that an iron needs alone before work on it."""
        for slot, value in way.needs:
            if self.slots[slot].part == "heat":
                return self.costs.lag(config[slot], value)
        return 0

    def warm_up(self, way: Way, opens: int) -> int:
        """Ticks from the maker's coming to the first work on it; `opens` is the session's."""
        on = way.station in self.hot and opens <= self.start.free[way.station]
        return 0 if on or way.station not in self.irons else self.costs.warm_up

    def after_way(
        self, config: tuple[int, ...], dirt: int, way: Way
    ) -> tuple[tuple[int, ...], int]:
        """Return slots and dirt once the work is done."""
        if any(config[slot] != value for slot, value in way.needs):
            changed = list(config)
            for slot, value in way.needs:
                changed[slot] = value
            config = tuple(changed)
        return config, (dirt & ~way.shuns) | way.dirties


def ticks(minutes: float) -> int:
    """Return minutes in ticks, to the nearest."""
    return round(minutes * TICKS)


def _up(minutes: float) -> int:
    return math.ceil(minutes * TICKS - 1e-9)


def _costs(change: ChangeOvers, clean: tuple[int, ...]) -> Costs:
    part = {
        "needle": ticks(change.of("needle")),
        "thread": ticks(change.of("thread") + change.of("tension")),
        "foot": ticks(change.of("foot")),
    }
    heating, cooling = (
        heat_lag_minutes(HEATS[0], HEATS[1], change),
        heat_lag_minutes(HEATS[1], HEATS[0], change),
    )
    warm_up = ticks(warm_up_minutes(change))
    move, dial = ticks(change.of("move")), ticks(change.of("dial"))
    return Costs(part, move, dial, _up(heating), _up(cooling), warm_up, clean)


class _Names:
    """Numbers for the slots of machines and for what is set in them."""

    def __init__(self, problem: WorkProblem) -> None:
        self.machines = problem.machines
        self.slots: dict[tuple[int, str], int] = {}
        self.values: list[list[str]] = []
        self.dirt: dict[tuple[str, str], int] = {}
        self.change = problem.change

    def slot(self, machine: int, part: str) -> int:
        key = (machine, part)
        if key not in self.slots:
            self.slots[key] = len(self.slots)
            self.values.append(list(HEATS) if part == "heat" else [])
        return self.slots[key]

    def value(self, slot: int, word: str) -> int:
        known = self.values[slot]
        if word not in known:
            known.append(word)
        return known.index(word)

    def needs(self, machine: int, setting: Setting) -> tuple[tuple[int, int], ...]:
        kind = self.machines[machine].kind
        parts = () if kind == "steamer" else ("heat",) if kind == "iron" else PARTS
        wanted = [(part, getattr(setting, part)) for part in parts]
        return tuple(
            (slot, self.value(slot, word))
            for slot, word in ((self.slot(machine, part), word) for part, word in wanted if word)
        )

    def bits(self, names: tuple[str, ...], station: int) -> int:
        total = 0
        for name in names:
            where = "room"
            if self.change.contaminations[name].place == "machine":
                where = self.machines[station].name if station >= 0 else "table"
            total |= 1 << self.dirt.setdefault((name, where), len(self.dirt))
        return total


def _ways(names: _Names, operation: Operation) -> tuple[Way, ...]:
    stations = [
        number for number, one in enumerate(names.machines) if one.can(operation.machines)
    ] or [TABLE]
    return tuple(
        Way(
            station,
            names.needs(station, operation.setting) if station >= 0 else (),
            names.bits(operation.leaves, station),
            names.bits(operation.shuns, station),
        )
        for station in stations
    )


def _makers(problem: WorkProblem, operation: Operation) -> tuple[int, ...]:
    return tuple(
        number
        for number, maker in enumerate(problem.makers)
        if (not operation.makers or maker.name in operation.makers)
        and (operation.helper or not maker.helper)
    )


def build_model(problem: WorkProblem, due: datetime | None) -> Model:
    """Put a checked problem into numbers; what is finished is left out.

    Parameters
    ----------
    problem : WorkProblem
        Without faults.
    due : datetime or None
        When all must be over, margin taken off; None for no such day.

    Returns
    -------
    Model
        Of what is left.
    """
    origin = problem.start.replace(hour=0, minute=0, second=0, microsecond=0)

    def tick(moment: datetime) -> int:
        return ticks((moment - origin).total_seconds() / 60.0)

    names = _Names(problem)
    left = problem.left()
    numbers = {one.name: number for number, one in enumerate(left)}
    over = {one.name: tick(one.end) for one in problem.finished}
    last = FAR if due is None else tick(due)
    ops = []
    for one in left:
        release = tick(max(problem.start, one.not_before or problem.start))
        for after in one.after:
            if after.name in over:
                release = max(release, over[after.name] + _up(after.wait_min))
        ops.append(
            Op(
                one.name,
                max(ticks(one.minutes.value), 1),
                _ways(names, one),
                _makers(problem, one),
                tuple(
                    (numbers[after.name], _up(after.wait_min))
                    for after in one.after
                    if after.name in numbers
                ),
                release,
                min(last, tick(one.by) if one.by else FAR),
                tick(one.at) if one.at else None,
            )
        )
    return _finish(problem, names, tuple(ops), origin, tick(problem.start))


def _finish(
    problem: WorkProblem, names: _Names, ops: tuple[Op, ...], origin: datetime, start: int
) -> Model:
    config = [-1] * len(names.slots)
    for (machine, part), slot in names.slots.items():
        word = getattr(problem.machines[machine].now, part)
        config[slot] = names.value(slot, word) if word else -1
    clean = tuple(
        ticks(problem.change.contaminations[name].minutes.value) for name, _ in names.dirt
    )
    costs = _costs(problem.change, clean)
    slots = tuple(
        Slot(machine, part, costs.dial if part == "heat" else costs.part[part])
        for machine, part in names.slots
    )

    def tick(moment: datetime) -> int:
        return ticks((moment - origin).total_seconds() / 60.0)

    sessions = tuple(
        tuple(
            (max(tick(one.begin), start), tick(one.end))
            for one in sorted(maker.sessions, key=lambda item: item.begin)
            if tick(one.end) > max(start, tick(one.begin))
        )
        for maker in problem.makers
    )
    state = State(
        tuple(config),
        0,
        tuple(TABLE - 1 for _ in problem.makers),
        tuple(start for _ in problem.machines),
    )
    heat = {slot.machine: n for n, slot in enumerate(slots) if slot.part == "heat"}
    values = tuple(tuple(one) for one in names.values)
    irons = frozenset(n for n, one in enumerate(problem.machines) if one.kind == "iron")
    on = problem.hot()
    hot = frozenset(n for n in irons if problem.machines[n].name in on)
    return Model(
        ops, slots, costs, sessions, state, origin, values, tuple(names.dirt), heat, irons, hot
    )


def with_ops(model: Model, ops: tuple[Op, ...]) -> Model:
    """Return the model with other operations."""
    return replace(model, ops=ops)
