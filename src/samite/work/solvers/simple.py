"""The simple solver: of what is ready take what needs the least change-over. A twin to beat."""

from __future__ import annotations

from samite.work.solvers._model import Model
from samite.work.solvers._steps import (
    Node,
    Step,
    first_node,
    place,
    put,
    set_up_ticks,
    tails,
)
from samite.work.solvers._urgent import ancestors


def solve_simply(model: Model) -> list[Step] | None:
    """Return the plan of a careful person without a computer.

    Parameters
    ----------
    model : Model
        The problem in numbers.

    Returns
    -------
    list of Step or None
        In the order of putting; None if the sessions do not hold it.

    Notes
    -----
    The maker whose clock stands earliest takes, of what can begin at once, what needs the fewest
    minutes of change-over; of equals the first in the list. Only if nothing can begin at once is
    waited, for what can begin first. Appointments are kept: what they wait for goes first, and
    what would run into one waits.

    References
    ----------
    ``derivation``: docs/models/work.md, the simple solver.
    """
    tail = tails(model)
    node = first_node(model, tail)
    before = ancestors(model)
    fixed = sorted((op.fixed, k) for k, op in enumerate(model.ops) if op.fixed is not None)
    while node.ready:
        wanted = next((before[k] | 1 << k for _, k in fixed if not node.done >> k & 1), 0)
        urgent = tuple(one for one in node.ready if wanted >> one & 1)
        best = _next(model, node, urgent) if urgent else None
        best = best or _next(model, node, node.ready)
        if best is None:
            return None
        node = put(model, tail, node, best)
    return node.steps()


def _next(model: Model, node: Node, ready: tuple[int, ...]) -> Step | None:
    choices = []
    for number in ready:
        for index, way in enumerate(model.ops[number].ways):
            for maker in model.ops[number].makers:
                step = place(model, node, number, index, maker)
                if step is None or _hinders(model, node, step):
                    continue
                set_up = set_up_ticks(model, node, number, way, maker)
                same = step.session == node.session[maker]
                waits = step.begin - node.clock[maker] if same else step.begin
                fresh = not same
                choices.append((step.begin, fresh, waits, set_up, number, index, maker, step))
    if not choices:
        return None
    soonest = min(choice[0] for choice in choices)
    at_once = [choice for choice in choices if choice[0] <= soonest]
    return min(at_once, key=lambda choice: choice[3:7])[7]


def _hinders(model: Model, node: Node, step: Step) -> bool:
    """Whether the step makes a maker, or what must be before it, late for an appointment."""
    for number, op in enumerate(model.ops):
        if op.fixed is None or number == step.op or node.done >> number & 1:
            continue
        if step.maker in op.makers and len(op.makers) == 1:
            set_up = 2 * model.costs.move
            if step.begin < op.fixed + op.ticks and step.end > op.fixed - set_up:
                return True
            if step.begin >= op.fixed:
                return True
    return False
