"""With several makers: the moves that one of them cannot be spared."""

from __future__ import annotations

from dataclasses import replace

from samite.work.solvers._blocks import bits
from samite.work.solvers._model import Model, Op, with_ops
from samite.work.solvers._urgent import ancestors
from samite.work.solvers.bound import order_bound


def own_moves(model: Model, *, most_nodes: int) -> int:
    """Return the ticks of moves that makers need for what nobody else can do.

    Parameters
    ----------
    model : Model
        The problem in numbers.
    most_nodes : int
        Nodes for each maker [1].

    Returns
    -------
    int
        Ticks; they come on top of the change-overs of the machines.

    Notes
    -----
    What a maker does besides can only make the way longer, save that to come to an appointment
    takes no move; so many are counted off.

    References
    ----------
    ``derivation``: docs/models/work.md, the bound.
    """
    total = 0
    for maker in range(len(model.sessions)):
        own = sum(1 << k for k, op in enumerate(model.ops) if op.makers == (maker,))
        if not own:
            continue
        shared = sum(
            1
            for op in model.ops
            if op.fixed is not None and maker in op.makers and len(op.makers) > 1
        )
        ticks = order_bound(_ways_only(model, own, maker), most_nodes=most_nodes).ticks
        total += max(ticks - shared * model.costs.move, 0)
    return total


def _ways_only(model: Model, own: int, maker: int) -> Model:
    """Return what one maker alone can do as a job in which nothing costs but moves."""
    before, numbers = ancestors(model), bits(own)
    place = {number: k for k, number in enumerate(numbers)}
    ops = tuple(
        _bare(model.ops[number], [place[one] for one in bits(before[number] & own)])
        for number in numbers
    )
    start = replace(model.start, stations=model.start.stations[:1])
    return replace(with_ops(model, ops), sessions=(model.sessions[maker],), start=start)


def _bare(op: Op, before: list[int]) -> Op:
    ways = tuple(replace(way, needs=(), dirties=0, shuns=0) for way in op.ways)
    return replace(op, ways=ways, makers=(0,), before=tuple((one, 0) for one in before))
