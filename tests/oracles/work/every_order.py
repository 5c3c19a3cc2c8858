"""Every order of a small job, every machine, maker and session: the slow twin of the solvers.

Reads the job itself, in minutes; shares nothing with the solvers. For a given order the least time
at the bench is a linear program.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from scipy.optimize import linprog

from samite.work.operation import HEATS, Operation, Setting
from samite.work.problem import Machine, WorkProblem


@dataclass
class Put:
    """One operation in an order."""

    operation: Operation
    machine: Machine | None
    maker: int
    session: int
    set_up: float
    befores: list[tuple[int, str, float]]
    """(earlier, "work" or "begin", minutes): that part is no earlier than the end of it and so long."""
    soonest: float = 0.0
    after_works: list[int] = field(default_factory=list)


class EveryOrder:
    def __init__(self, job: WorkProblem) -> None:
        self.job = job
        self.best: float | None = None
        self.leaves = 0

    def at(self, moment: object) -> float:
        return (moment - self.job.start).total_seconds() / 60.0  # type: ignore[operator]

    def run(self) -> float | None:
        settings = {one.name: one.now for one in self.job.machines}
        self._grow(
            [],
            settings,
            frozenset(),
            [None] * len(self.job.makers),
            [0] * len(self.job.makers),
            {},
            None,
        )
        return self.best

    def _grow(self, puts, settings, dirt, places, sessions, last_on, last_dirty) -> None:
        job = self.job
        if len(puts) == len(job.operations):
            self._leaf(puts)
            return
        floor = sum(p.operation.minutes.value + p.set_up for p in puts)
        rest = sum(o.minutes.value for o in job.operations) - sum(
            p.operation.minutes.value for p in puts
        )
        if self.best is not None and floor + rest >= self.best - 1e-9:
            return
        placed = {p.operation.name: k for k, p in enumerate(puts)}
        for operation in job.operations:
            if operation.name in placed or any(a.name not in placed for a in operation.after):
                continue
            machines = [m for m in job.machines if m.can(operation.machines)] or [None]
            for machine in machines:
                for maker, person in enumerate(job.makers):
                    if person.helper and not operation.helper:
                        continue
                    for session in range(sessions[maker], len(person.sessions)):
                        self._try(
                            puts,
                            settings,
                            dirt,
                            places,
                            sessions,
                            last_on,
                            last_dirty,
                            placed,
                            operation,
                            machine,
                            maker,
                            session,
                        )

    def _try(
        self,
        puts,
        settings,
        dirt,
        places,
        sessions,
        last_on,
        last_dirty,
        placed,
        operation,
        machine,
        maker,
        session,
    ) -> None:
        change = self.job.change
        name = machine.name if machine else "table"
        set_up, lag, now = 0.0, 0.0, None
        if places[maker] not in (None, name) and operation.at is None:
            set_up += change.of("move")
        if machine:
            set_up_machine, lag, now = self._machine(machine, settings[name], operation.setting)
            set_up += set_up_machine
        new_dirt = set(dirt)
        for tag in operation.shuns:
            where = (tag, "room" if change.contaminations[tag].place == "room" else name)
            if where in new_dirt:
                set_up += change.contaminations[tag].minutes.value
                new_dirt.discard(where)
        for tag in operation.leaves:
            new_dirt.add((tag, "room" if change.contaminations[tag].place == "room" else name))
        befores = [(placed[a.name], "work", a.wait_min) for a in operation.after]
        mine = [k for k, p in enumerate(puts) if p.maker == maker]
        if mine:
            befores.append((mine[-1], "begin", 0.0))
        if machine and name in last_on:
            befores += [(last_on[name], "begin", 0.0), (last_on[name], "work", lag)]
        put = Put(operation, machine, maker, session, set_up, befores)
        if last_dirty is not None and (operation.leaves or operation.shuns):
            put.after_works = [last_dirty]
        if not self._soonest(puts, put):
            return
        self._grow(
            [*puts, put],
            {**settings, name: now} if machine else settings,
            frozenset(new_dirt),
            [name if k == maker else p for k, p in enumerate(places)],
            [session if k == maker else s for k, s in enumerate(sessions)],
            {**last_on, name: len(puts)} if machine else last_on,
            len(puts) if operation.leaves or operation.shuns else last_dirty,
        )

    def _machine(self, machine: Machine, old: Setting, wanted: Setting):
        of = self.job.change.of
        if machine.kind == "steamer":
            return 0.0, 0.0, old
        if machine.kind == "iron":
            if not wanted.heat:
                return 0.0, 0.0, old
            if wanted.heat == old.heat:
                return 0.0, 0.0, old
            hotter = not old.heat or HEATS.index(wanted.heat) > HEATS.index(old.heat)
            return of("dial"), of("heating" if hotter else "cooling"), Setting(heat=wanted.heat)
        needle, thread, foot = (
            getattr(wanted, p) or getattr(old, p) for p in ("needle", "thread", "foot")
        )
        total = (needle != old.needle) * of("needle") + (foot != old.foot) * of("foot")
        total += (thread != old.thread) * (of("thread") + of("tension"))
        return total, 0.0, Setting(needle, thread, foot)

    def _cold(self, put: Put) -> float:
        """An iron is cold when its maker comes, and heats while nothing or something is done."""
        iron = put.machine is not None and put.machine.kind == "iron"
        return self.job.change.of("heating") if iron else 0.0

    def _limits(self, put: Put) -> tuple[float, float]:
        session = self.job.makers[put.maker].sessions[put.session]
        last = self.at(session.end)
        for moment in (self.job.due, put.operation.by):
            last = min(last, self.at(moment)) if moment else last
        return max(self.at(session.begin), 0.0), last

    def _soonest(self, puts: list[Put], put: Put) -> bool:
        """Earliest work; False if it breaks a session, a limit or an appointment."""
        opens, last = self._limits(put)
        work = max(opens + max(put.set_up, self._cold(put)), put.soonest)
        for earlier, part, wait in put.befores:
            end = puts[earlier].soonest + puts[earlier].operation.minutes.value
            work = max(work, end + wait + (put.set_up if part == "begin" else 0.0))
        for earlier in put.after_works:
            work = max(work, puts[earlier].soonest + 0.5)  # Who begins first must be plain.
        if put.operation.at is not None:
            if work > self.at(put.operation.at) + 1e-9:
                return False
            work = self.at(put.operation.at)
        put.soonest = work
        return work + put.operation.minutes.value <= last + 1e-9

    def _leaf(self, puts: list[Put]) -> None:
        self.leaves += 1
        keys = sorted({(p.maker, p.session) for p in puts})
        count, spans = len(puts), len(keys)
        rows, right = [], []

        def add(coefficients: dict[int, float], bound: float) -> None:
            row = [0.0] * (count + 2 * spans)
            for k, value in coefficients.items():
                row[k] += value
            rows.append(row)
            right.append(bound)

        limits = []
        for k, put in enumerate(puts):
            span = keys.index((put.maker, put.session))
            minutes = put.operation.minutes.value
            add({count + span: 1.0, k: -1.0}, -put.set_up)
            add({k: 1.0, count + spans + span: -1.0}, -minutes)
            for earlier, part, wait in put.befores:
                extra = put.set_up if part == "begin" else 0.0
                add(
                    {earlier: 1.0, k: -1.0}, -(puts[earlier].operation.minutes.value + wait + extra)
                )
            for earlier in put.after_works:
                add({earlier: 1.0, k: -1.0}, -0.5)
            opens, last = self._limits(put)
            add({count + span: 1.0, k: -1.0}, -self._cold(put))
            low = opens + max(put.set_up, self._cold(put))
            fixed = self.at(put.operation.at) if put.operation.at else None
            limits.append((fixed, fixed) if fixed is not None else (max(low, 0.0), last - minutes))
        cost = [0.0] * count + [-1.0] * spans + [1.0] * spans
        found = linprog(cost, rows, right, bounds=[*limits, *[(None, None)] * (2 * spans)])
        if found.status == 0 and (self.best is None or found.fun < self.best - 1e-9):
            self.best = float(found.fun)


def least_time(job: WorkProblem) -> float | None:
    """Least time at the bench of all plans; None if there is none."""
    return EveryOrder(job).run()
