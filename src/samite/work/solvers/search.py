"""All solvers together: the best plan that any of them finds, and the best bound."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from samite.work.solvers._model import FAR, Model
from samite.work.solvers._orders import Steps
from samite.work.solvers.beam import Found, follow, found_of, search
from samite.work.solvers.block_bound import block_bound
from samite.work.solvers.blocks import by_blocks
from samite.work.solvers.bound import OrderBound, good_order, order_bound
from samite.work.solvers.lateness import why_late
from samite.work.solvers.own_moves import own_moves
from samite.work.solvers.plateau import walk_plateau
from samite.work.solvers.simple import solve_simply
from samite.work.solvers.windows import improve

EXACT_UP_TO = 45
"""Most operations for which the constraint solver is asked [1]."""

PATIENT = 0.5
"""Effort from which on it is asked about more than a few operations [-]."""

SMALL = 9
"""Up to so many operations it is asked to the end."""

SECONDS = 0.6
"""Its budget at effort 1 [deterministic seconds]."""

NODES = 30_000
"""Nodes of the bound at effort 1 [1]."""

BLOCK_NODES = 10_000
"""Nodes for a block, and for the bound of all blocks of a slot, at effort 1 [1]."""

Tell = Callable[[str], None]


def _quiet(_: str) -> None:
    return None


@dataclass(frozen=True, slots=True)
class Answer:
    """What the solvers say together.

    Parameters
    ----------
    status : str
        ``optimal``, ``feasible``, ``infeasible`` or ``out-of-time``.
    found : Found or None
        The best plan, or the one that is least late.
    bound : int
        Nobody can do with fewer ticks at the bench [1].
    why : str
        What the status rests on.
    proof : bool
        Whether it is proved that there is no plan on time.
    """

    status: str
    found: Found | None
    bound: int
    why: str
    proof: bool = False


def solve(
    model: Model, *, effort: float, seed: int, exact: bool = True, tell: Tell = _quiet
) -> Answer:
    """Return the best plan that any solver finds.

    Parameters
    ----------
    model : Model
        The problem in numbers.
    effort : float
        1 for an answer within seconds [-].
    seed : int
        Of the random numbers [1].
    exact : bool
        Whether the constraint solver may be asked.
    tell : callable
        Is told what is being done.

    Returns
    -------
    Answer
        Plan, bound and what they rest on.

    Notes
    -----
    An order blind to time that is the best of all, laid into the sessions without waiting, is the
    best plan. Else the search in time, stretches of the order, and for small jobs the constraint
    solver go on from there.

    References
    ----------
    ``derivation``: docs/models/work.md.
    """
    if not model.ops:
        return Answer("optimal", Found((), 0, 0, 0), 0, "nothing is left to do")
    tell(f"counting the fewest change-overs of {len(model.ops)} operations")
    order = order_bound(model, most_nodes=int(NODES * effort), turns=True)
    fewest = _fewest(model, order, int(BLOCK_NODES * effort))
    bound = model.work + fewest
    found = _search(model, order, bound, effort, seed, tell)
    proof = why_late(model, fewest)
    if proof:
        return Answer("infeasible", found, bound, proof, proof=True)
    if found and not found.late and found.cost == bound:
        return Answer(
            "optimal", found, bound, "no order needs fewer change-overs, and nobody waits"
        )
    if exact and len(model.ops) <= (EXACT_UP_TO if effort >= PATIENT else SMALL):
        tell("asking the constraint solver")
        return _exactly(model, found, bound, effort, seed)
    return _open(found, bound)


def _fewest(model: Model, order: OrderBound, nodes: int) -> int:
    blocks = 0 if order.exact else block_bound(model, most_nodes=nodes)
    moves = own_moves(model, most_nodes=nodes) if len(model.sessions) > 1 else 0
    return max(order.ticks, blocks) + moves


def _open(found: Found | None, bound: int) -> Answer:
    if found is None or found.late:
        return Answer("out-of-time", found, bound, "no plan on time was found")
    return Answer(
        "feasible", found, bound, "the best that was found; the bound says how far off it may be"
    )


def _search(
    model: Model, order: OrderBound, bound: int, effort: float, seed: int, tell: Tell
) -> Found | None:
    plans = []
    single = len(model.sessions) == 1
    if single and order.exact:
        plans.append(follow(model, order.order, width=8))
        plans.append(_along(model, order, plans[0], bound, effort, seed))
        if plans[1] and not plans[1].late and plans[1].cost == bound:
            return plans[1]
    tell("laying it into the sessions")
    simple = solve_simply(model)
    plans.append(found_of(model, simple) if simple else None)
    plans += [_alone(model, maker, effort) for maker in range(len(model.sessions)) if not single]
    width = max(int(1500 * effort / len(model.ops)), 3)
    for haste in (0.0, 0.05, 1.0):
        plans.append(search(model, width=width, haste=haste))
        best = _best(plans)
        if best and not best.late and (best.cost == bound or haste > 0.0):
            break
    if single and not order.exact:
        tell("putting the order right stretch by stretch")
        plans.append(_by_stretches(model, _best(plans), effort, seed))
    return _best(plans)


def _along(
    model: Model, order: OrderBound, held: Found | None, bound: int, effort: float, seed: int
) -> Found | None:
    """Go along the orders that are as good blind to time, for one that fits the sessions."""
    if held is None:
        return None
    plans = max(int(6000 * effort / len(model.ops)), 4)
    return walk_plateau(
        model, order.order, held, least_cost=bound, tries=20 * plans, plans=plans,
        generator=np.random.default_rng(seed),
    )  # fmt: skip


def _alone(model: Model, maker: int, effort: float) -> Found | None:
    """Return the plan in which one of several makers does it all, if they can."""
    if any(maker not in op.makers for op in model.ops):
        return None
    ops = tuple(replace(op, makers=(0,)) for op in model.ops)
    start = replace(model.start, stations=model.start.stations[:1])
    single = replace(model, ops=ops, sessions=(model.sessions[maker],), start=start)
    order = order_bound(single, most_nodes=int(NODES * effort / 3))
    found = follow(single, order.order, width=8) if order.exact else None
    if found is None:
        width = max(int(4000 * effort / len(model.ops)), 4)
        found = follow(single, good_order(single, width=width), width=4)
    if found is None:
        return None
    return found_of(model, [replace(step, maker=maker) for step in found.steps])


def _best(plans: list[Found | None]) -> Found | None:
    return min((plan for plan in plans if plan), key=lambda plan: plan.rank, default=None)


def _by_stretches(model: Model, best: Found | None, effort: float, seed: int) -> Found | None:
    """Improve the best orders, blind to time, as long as the plan gets no later."""
    width = max(int(4000 * effort / len(model.ops)), 4)
    beginnings = [good_order(model, width=width)]
    if best:
        beginnings.append(tuple((step.op, step.way) for step in best.steps))
    plans = [best]
    for beginning in beginnings:
        held = follow(model, beginning, width=4)
        late = held.late if held else FAR

        def no_later(order: Steps, late: int = late) -> bool:
            plan = follow(model, order, width=2)
            return plan is not None and plan.late <= late

        generator = np.random.default_rng(seed)
        begun = by_blocks(model, beginning, no_later, most_nodes=int(BLOCK_NODES * effort))
        better = improve(
            model, begun, no_later,
            tries=int(60 * effort), size=45, most_nodes=3000, generator=generator,
        )  # fmt: skip
        plans += [held, follow(model, better, width=8)]
        if begun != beginning and (plans[-1] and not plans[-1].late):
            break  # Another beginning would only be drawn into the same blocks.
    return _best(plans)


def _exactly(model: Model, found: Found | None, bound: int, effort: float, seed: int) -> Answer:
    from samite.work.solvers.cp_sat import solve_exactly

    begin = found if found and not found.late else None
    seconds = SECONDS * effort * (20.0 if len(model.ops) <= SMALL else 1.0)
    solved = solve_exactly(model, begin, least_cost=bound, seconds=seconds, seed=seed)
    if solved.status == "infeasible":
        why = "the constraint solver has proved that no plan keeps it"
        return Answer("infeasible", found, bound, why, proof=True)
    best = _best([begin, solved.found])
    if best is None:
        return _open(found, bound)
    if best.cost <= solved.bound:
        why = "the constraint solver has proved that no plan takes less time at the bench"
        return Answer("optimal", best, best.cost, why)
    return replace(_open(best, bound), bound=max(bound, solved.bound))
