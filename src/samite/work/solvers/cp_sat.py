"""The whole problem in time for the constraint solver of OR-tools."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from samite.work.solvers._circuits import Parts, Stop, add_circuit, slot_groups
from samite.work.solvers._model import FAR, Model
from samite.work.solvers._steps import Step, spans
from samite.work.solvers._urgent import ancestors
from samite.work.solvers.beam import Found, found_of

WORKERS = 4
"""Searches side by side; they take turns, so that the answer is the same on every machine."""

ALONE_UP_TO = 9
"""Up to so many operations one search is quicker [1]."""


@dataclass(frozen=True, slots=True)
class Solved:
    """What the solver says.

    Parameters
    ----------
    status : str
        ``optimal``, ``feasible``, ``infeasible`` or ``out-of-time``.
    found : Found or None
        The plan.
    bound : int
        Nobody is there for fewer ticks in any plan [1].
    """

    status: str
    found: Found | None
    bound: int


class _Whole:
    """Variables and rules of one problem."""

    def __init__(self, model: Model) -> None:
        from ortools.sat.python import cp_model

        self.model = model
        self.cp = cp_model.CpModel()
        self.before = ancestors(model)
        self.horizon = max((close for one in model.sessions for _, close in one), default=0)
        self.sessions: dict[tuple[int, int, int], Any] = {}
        self.spans: dict[tuple[int, int], tuple[Any, Any]] = {}
        self.set_ups: list[Any] = []
        self.warm: list[Any] = []
        self.parts = self._moments()
        self._add_order()
        self._add_sessions()
        self._add_machines()
        self._add_makers()
        self._add_slots()
        self._add_dirt()
        self._add_set_ups()

    def _moments(self) -> Parts:
        cp, model = self.cp, self.model
        work, end, begin, on, by = [], [], [], {}, {}
        for number, op in enumerate(model.ops):
            first = op.release if op.fixed is None else op.fixed
            last = min(op.deadline, self.horizon) - op.ticks
            last = last if op.fixed is None else op.fixed
            at = cp.new_int_var(first, max(last, first), f"work {number}")
            if last < first:
                cp.add_bool_or([])
            work.append(at)
            end.append(at + op.ticks)
            set_up = cp.new_int_var(0, self._most_set_up(), f"set up {number}")
            self.set_ups.append(set_up)
            start = cp.new_int_var(-self._most_set_up(), max(last, first), f"begin {number}")
            cp.add(start + set_up == at)
            begin.append(start)
            for way in range(len(op.ways)):
                on[number, way] = cp.new_bool_var(f"way {number} {way}")
            cp.add_exactly_one([on[number, way] for way in range(len(op.ways))])
            for maker in op.makers:
                by[number, maker] = cp.new_bool_var(f"maker {number} {maker}")
            cp.add_exactly_one([by[number, maker] for maker in op.makers])
        return Parts(cp, work, end, begin, on, by, [[] for _ in model.ops])

    def _most_set_up(self) -> int:
        model = self.model
        slots = sum(slot.cost for slot in model.slots)
        return slots + sum(model.costs.clean) + model.costs.move

    def _add_order(self) -> None:
        for number, op in enumerate(self.model.ops):
            for earlier, lag in op.before:
                self.cp.add(self.parts.work[number] >= self.parts.end[earlier] + lag)

    def _add_sessions(self) -> None:
        cp, model, parts = self.cp, self.model, self.parts
        for maker, sessions in enumerate(model.sessions):
            for place, (opens, closes) in enumerate(sessions):
                first = cp.new_int_var(opens, closes, "")
                last = cp.new_int_var(opens, closes, "")
                cp.add(first <= last)
                self.spans[maker, place] = first, last
                inside = []
                for number, op in enumerate(model.ops):
                    if (number, maker) not in parts.by or op.ticks > closes - opens:
                        continue
                    here = cp.new_bool_var("")
                    self.sessions[number, maker, place] = here
                    cp.add(first <= parts.begin[number]).only_enforce_if(here)
                    cp.add(last >= parts.end[number]).only_enforce_if(here)
                    self._add_warm_up(number, here, first, opens)
                    inside.append(op.ticks * here)
                if inside:
                    cp.add(last - first >= sum(inside))
                    self._add_lead(maker, place)
        for (number, maker), literal in parts.by.items():
            places = range(len(model.sessions[maker]))
            keys = [(number, maker, place) for place in places]
            cp.add(sum(self.sessions[key] for key in keys if key in self.sessions) == literal)

    def _add_lead(self, maker: int, place: int) -> None:
        """Name the first operation of a session: before an iron's work its maker waits."""
        cp, model, parts = self.cp, self.model, self.parts
        opens, closes = model.sessions[maker][place]
        here = {n: b for (n, m, p), b in self.sessions.items() if (m, p) == (maker, place)}
        irons = {n for n in here if all(model.warm_up(way, opens) for way in model.ops[n].ways)}
        if not irons:
            return
        lead, come = cp.new_int_var(opens, closes, ""), self.spans[maker, place][0]
        cp.add(come <= lead)
        begins = {n: cp.new_bool_var("") for n in here}
        used = cp.new_bool_var("")
        cp.add(sum(begins.values()) == used)
        for number, inside in here.items():
            cp.add_implication(begins[number], inside)
            cp.add_implication(inside, used)
            cp.add(lead <= parts.begin[number]).only_enforce_if(inside)
            cp.add(lead == parts.begin[number]).only_enforce_if(begins[number])
        warm = cp.new_int_var(0, model.costs.warm_up, "")
        for number in irons:
            rule = warm >= model.costs.warm_up - self.set_ups[number]
            cp.add(rule).only_enforce_if(begins[number])
        cp.add(lead - come >= warm)
        self.warm.append(warm)

    def _add_warm_up(self, number: int, here: Any, first: Any, opens: int) -> None:
        """A cold iron is switched on by who comes, and heats before the work."""
        for index, way in enumerate(self.model.ops[number].ways):
            heats = self.model.warm_up(way, opens)
            if heats:
                rule = first + heats <= self.parts.work[number]
                self.cp.add(rule).only_enforce_if(here, self.parts.on[number, index])

    def _interval(self, number: int, literal: Any) -> Any:
        op = self.model.ops[number]
        return self.cp.new_optional_interval_var(
            self.parts.begin[number],
            self.set_ups[number] + op.ticks,
            self.parts.end[number],
            literal,
            "",
        )

    def _add_machines(self) -> None:
        for station in range(len(self.model.start.free)):
            users = [
                self._interval(number, self.parts.on[number, index])
                for number, op in enumerate(self.model.ops)
                for index, way in enumerate(op.ways)
                if way.station == station
            ]
            if len(users) > 1:
                self.cp.add_no_overlap(users)

    def _may_follow(self, alone: bool, among: int) -> Any:
        """Return a test whether one operation can come right after another in a circuit."""
        before = self.before

        def test(first: int, second: int) -> bool:
            if before[first] >> second & 1:
                return False
            if not alone or not before[second] >> first & 1:
                return True
            between = before[second] & among
            return not any(
                between >> middle & 1 and before[middle] >> first & 1
                for middle in range(len(before))
            )

        return test

    def _add_makers(self) -> None:
        model, parts = self.model, self.parts
        everyone = (1 << len(model.ops)) - 1

        def price(earlier: Stop | None, stop: Stop) -> int:
            return 0 if earlier is None else model.move(stop.op, earlier.way.station, stop.way)

        def follow(earlier: Stop | None, stop: Stop, literal: Any) -> None:
            if earlier is not None:
                rule = parts.begin[stop.op] >= parts.end[earlier.op]
                parts.cp.add(rule).only_enforce_if(literal)

        for maker in range(len(model.sessions)):
            stops = [
                Stop(number, way, self._both(number, index, maker))
                for number, op in enumerate(model.ops)
                for index, way in enumerate(op.ways)
                if (number, maker) in parts.by
            ]
            may = self._may_follow(len(model.sessions) == 1, everyone)
            add_circuit(parts, ("maker", maker), stops, may, price, follow)

    def _both(self, number: int, index: int, maker: int) -> Any:
        on, by = self.parts.on[number, index], self.parts.by[number, maker]
        if len(self.model.ops[number].ways) == 1:
            return by
        if len(self.model.ops[number].makers) == 1:
            return on
        both = self.cp.new_bool_var("")
        self.cp.add_bool_or([~on, ~by, both])
        self.cp.add_implication(both, on)
        self.cp.add_implication(both, by)
        return both

    def _add_slots(self) -> None:
        model, parts = self.model, self.parts
        for slots, askers in slot_groups(model).items():
            machine = model.slots[slots[0]].machine
            stops = [
                Stop(number, way, parts.on[number, index])
                for number in askers
                for index, way in enumerate(model.ops[number].ways)
                if way.station == machine
            ]
            alone = all(len(model.ops[number].ways) == 1 for number in askers)
            among = sum(1 << number for number in askers)
            may = self._may_follow(alone, among)
            add_circuit(parts, slots, stops, may, self._price_of(slots), self._after_of(slots))

    def _price_of(self, slots: tuple[int, ...]) -> Any:
        model = self.model

        def price(earlier: Stop | None, stop: Stop) -> int:
            held = dict(earlier.way.needs) if earlier else dict(enumerate(model.start.config))
            wanted = dict(stop.way.needs)
            return sum(model.slots[one].cost for one in slots if held[one] != wanted[one])

        return price

    def _after_of(self, slots: tuple[int, ...]) -> Any:
        model, parts = self.model, self.parts
        heat = next((one for one in slots if model.slots[one].part == "heat"), None)

        def follow(earlier: Stop | None, stop: Stop, literal: Any) -> None:
            free = model.start.free[stop.way.station]
            came = parts.end[earlier.op] if earlier else free
            parts.cp.add(parts.begin[stop.op] >= came).only_enforce_if(literal)
            if heat is None:
                return
            held = dict(earlier.way.needs)[heat] if earlier else model.start.config[heat]
            lag = model.costs.lag(held, dict(stop.way.needs)[heat])
            if lag:
                parts.cp.add(parts.work[stop.op] >= came + lag).only_enforce_if(literal)

        return follow

    def _add_dirt(self) -> None:
        model, parts = self.model, self.parts

        def follow(earlier: Stop | None, stop: Stop, literal: Any) -> None:
            if earlier is not None:
                rule = parts.work[stop.op] > parts.work[earlier.op]
                parts.cp.add(rule).only_enforce_if(literal)

        for bit, ticks in enumerate(model.costs.clean):
            sign = 1 << bit
            stops = [
                Stop(number, way, parts.on[number, index])
                for number, op in enumerate(model.ops)
                for index, way in enumerate(op.ways)
                if (way.dirties | way.shuns) & sign
            ]

            def price(
                earlier: Stop | None, stop: Stop, sign: int = sign, ticks: int = ticks
            ) -> int:
                lies = earlier.way.dirties & sign if earlier else model.start.dirt & sign
                return ticks if lies and stop.way.shuns & sign else 0

            may = self._may_follow(False, 0)
            if stops:
                add_circuit(parts, ("dirt", bit), stops, may, price, follow)

    def _add_set_ups(self) -> None:
        for number, terms in enumerate(self.parts.terms):
            self.cp.add(self.set_ups[number] == sum(ticks * one for ticks, one in terms))

    def attended(self) -> Any:
        """Time for which makers are there."""
        return sum(last - first for first, last in self.spans.values())

    def hint(self, steps: tuple[Step, ...]) -> None:
        """Tell the solver a plan to begin with."""
        cp, parts, model = self.cp, self.parts, self.model
        held = spans(model, steps)
        for step in steps:
            cp.add_hint(parts.work[step.op], step.work)
            cp.add_hint(self.set_ups[step.op], step.work - step.begin)
            cp.add_hint(parts.begin[step.op], step.begin)
            for index in range(len(model.ops[step.op].ways)):
                cp.add_hint(parts.on[step.op, index], index == step.way)
            for maker in model.ops[step.op].makers:
                cp.add_hint(parts.by[step.op, maker], maker == step.maker)
        chosen = {(step.op, step.maker, step.session) for step in steps}
        for place, literal in self.sessions.items():
            cp.add_hint(literal, place in chosen)
        for where, (first_var, last_var) in self.spans.items():
            opens = model.sessions[where[0]][where[1]][0]
            first, last = held.get(where, (opens, opens))
            cp.add_hint(first_var, first)
            cp.add_hint(last_var, last)


def solve_exactly(
    model: Model,
    start: Found | None,
    *,
    least_cost: int,
    seconds: float,
    seed: int = 1,
) -> Solved:
    """Return the plan in which makers are there for the least time, as far as it gets.

    Parameters
    ----------
    model : Model
        The problem in numbers.
    start : Found or None
        A plan to begin with; must not be late.
    least_cost : int
        A bound that is known already [1].
    seconds : float
        Budget in deterministic seconds, about as long as real ones on a usual machine [-].
    seed : int
        Of the solver [1].

    Returns
    -------
    Solved
        Same for the same budget and seed.

    Notes
    -----
    Sessions, machines, settings, heat, what lies about, waiting and makers are all in it. A circuit
    a maker gives moves, a circuit a machine its change-overs, one a contamination the cleaning.

    References
    ----------
    ``derivation``: docs/models/work.md, the model in time.
    """
    from ortools.sat.python import cp_model

    whole = _Whole(model)
    cost = whole.attended()
    work = sum(op.ticks for op in model.ops)
    whole.cp.add(cost >= work + sum(whole.set_ups) + sum(whole.warm))
    whole.cp.add(cost >= least_cost)
    whole.cp.minimize(cost)
    if start is not None:
        whole.hint(start.steps)
    solver = cp_model.CpSolver()
    solver.parameters.max_deterministic_time = seconds
    alone = len(model.ops) <= ALONE_UP_TO
    solver.parameters.interleave_search = not alone
    solver.parameters.num_workers = 1 if alone else WORKERS
    solver.parameters.random_seed = seed
    status = solver.solve(whole.cp)
    words = {
        cp_model.OPTIMAL: "optimal",
        cp_model.FEASIBLE: "feasible",
        cp_model.INFEASIBLE: "infeasible",
    }
    word = words.get(status, "out-of-time")
    if word not in ("optimal", "feasible"):
        bound = FAR if word == "infeasible" else least_cost
        return Solved(word, None, bound)
    found = found_of(model, _steps(whole, solver))
    bound = max(least_cost, round(solver.best_objective_bound))
    return Solved(word, found, min(bound, found.cost))


def _steps(whole: _Whole, solver: Any) -> list[Step]:
    found = []
    for number, op in enumerate(whole.model.ops):
        work = solver.value(whole.parts.work[number])
        begin = work - solver.value(whole.set_ups[number])
        _, maker, session = next(
            key
            for key, literal in whole.sessions.items()
            if key[0] == number and solver.boolean_value(literal)
        )
        way = next(
            index
            for index in range(len(op.ways))
            if solver.boolean_value(whole.parts.on[number, index])
        )
        found.append(Step(number, way, maker, begin, work, work + op.ticks, session))
    return sorted(found, key=lambda step: (step.work, step.end, step.op))
