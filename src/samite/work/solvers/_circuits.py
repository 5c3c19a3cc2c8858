"""The parts of the constraint model that say what follows what: makers, slots, and what lies about."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Any

from samite.work.solvers._model import Model, Way


@dataclass(slots=True)
class Parts:
    """Variables of the constraint model, by operation.

    Parameters
    ----------
    cp : CpModel
        The model.
    work, end : list
        Begin and end of the work [ticks].
    begin : list
        Begin of the setting up [ticks].
    on : dict of (int, int)
        Whether an operation is done in a way.
    by : dict of (int, int)
        Whether an operation is done by a maker.
    terms : list of list
        What setting up consists of: coefficient and literal.
    arcs : dict
        Literals of what follows what, by circuit; for the hint.
    """

    cp: Any
    work: list[Any]
    end: list[Any]
    begin: list[Any]
    on: dict[tuple[int, int], Any]
    by: dict[tuple[int, int], Any]
    terms: list[list[tuple[int, Any]]]
    arcs: dict[object, dict[tuple[int, int], Any]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Stop:
    """One stop of a circuit: operation, way, and the literal that it is there."""

    op: int
    way: Way
    present: Any


Price = Callable[["Stop | None", Stop], int]
Follow = Callable[["Stop | None", Stop, Any], None]


def add_circuit(
    parts: Parts,
    key: object,
    stops: Sequence[Stop],
    may_follow: Callable[[int, int], bool],
    price: Price,
    follow: Follow,
) -> None:
    """Put stops into an unknown order from a beginning to an end, with a price for each step.

    Parameters
    ----------
    parts : Parts
        The model so far.
    key : object
        Name of the circuit.
    stops : sequence of Stop
        The stops; those not present are passed over.
    may_follow : callable
        Whether the second operation can come next after the first.
    price : callable
        Ticks of setting up when the second stop follows the first (None: the beginning).
    follow : callable
        Adds what is true if a literal says that it follows.
    """
    cp = parts.cp
    arcs, known = [], {}
    empty = cp.new_bool_var("")
    arcs.append((0, 0, empty))
    for j, stop in enumerate(stops):
        arcs.append((j + 1, j + 1, ~stop.present))
        cp.add_implication(stop.present, ~empty)
        first, last = cp.new_bool_var(""), cp.new_bool_var("")
        arcs += [(0, j + 1, first), (j + 1, 0, last)]
        known[-1, j], known[j, -1] = first, last
        _add_step(parts, None, stop, first, price, follow)
        for i, earlier in enumerate(stops):
            if i == j or earlier.op == stop.op or not may_follow(earlier.op, stop.op):
                continue
            literal = cp.new_bool_var("")
            arcs.append((i + 1, j + 1, literal))
            known[i, j] = literal
            _add_step(parts, earlier, stop, literal, price, follow)
    cp.add_circuit(arcs)
    parts.arcs[key] = known


def _add_step(
    parts: Parts, earlier: Stop | None, stop: Stop, literal: Any, price: Price, follow: Follow
) -> None:
    ticks = price(earlier, stop)
    if ticks:
        parts.terms[stop.op].append((ticks, literal))
    follow(earlier, stop, literal)


def slot_groups(model: Model) -> dict[tuple[int, ...], list[int]]:
    """Return the slots of a machine that the same operations ask for, by the first of them."""
    askers: dict[tuple[int, frozenset[int]], list[int]] = {}
    for slot, info in enumerate(model.slots):
        asking = frozenset(
            number
            for number, op in enumerate(model.ops)
            if any(slot == one for way in op.ways for one, _ in way.needs)
        )
        if asking:
            askers.setdefault((info.machine, asking), []).append(slot)
    return {tuple(slots): sorted(asking) for (_, asking), slots in askers.items()}
