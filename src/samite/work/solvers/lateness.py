"""Why no plan can be on time, where that can be seen without a search."""

from __future__ import annotations

from samite.work.solvers._model import TICKS, Model
from samite.work.solvers._rest import in_order


def why_late(model: Model, fewest: int) -> str:
    """Return why no plan can be on time, if that can be seen at once.

    Parameters
    ----------
    model : Model
        The problem in numbers.
    fewest : int
        No order has fewer ticks of change-overs [1].

    Returns
    -------
    str
        One sentence; empty if it cannot be seen.

    Notes
    -----
    Either work and change-overs are more than the sessions hold, or one chain of operations,
    each as early as the sessions let it, ends too late.

    References
    ----------
    ``derivation``: docs/models/work.md, when it cannot be done.
    """
    last = max(op.deadline for op in model.ops)
    room = sum(max(0, min(close, last) - opens) for one in model.sessions for opens, close in one)
    needed = model.work + fewest
    if needed > room:
        return (
            f"work and change-overs take {needed / TICKS:.0f} min at least, the sessions hold"
            f" {room / TICKS:.0f}"
        )
    return _late_chain(model)


def _late_chain(model: Model) -> str:
    ends = [0] * len(model.ops)
    came: list[int | None] = [None] * len(model.ops)
    for number in in_order(model):
        op = model.ops[number]
        work = op.release
        for earlier, lag in op.before:
            if ends[earlier] + lag > work:
                work, came[number] = ends[earlier] + lag, earlier
        if op.fixed is not None:
            if work > op.fixed:
                return f"{op.name} cannot begin when it is appointed: {_chain(model, came, number)} takes longer"
            work = op.fixed
        end = _soonest_end(model, number, work)
        if end is None:
            return f"the sessions end before {_chain(model, came, number)} can be over"
        if end > op.deadline:
            return f"{_chain(model, came, number)} cannot be over in time, one after the other"
        ends[number] = end
    return ""


def _soonest_end(model: Model, number: int, work: int) -> int | None:
    op = model.ops[number]
    ends = [
        max(work, opens) + op.ticks
        for maker in op.makers
        for opens, close in model.sessions[maker]
        if max(work, opens) + op.ticks <= close
    ]
    return min(ends, default=None)


def _chain(model: Model, came: list[int | None], number: int) -> str:
    names: list[str] = []
    at: int | None = number
    while at is not None:
        names.insert(0, model.ops[at].name)
        at = came[at]
    shown = names if len(names) <= 5 else [*names[:2], "…", *names[-2:]]
    return ", ".join(shown)
