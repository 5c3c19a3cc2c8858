"""The bound of blocks never goes above the best order, and comes near it where blocks decide."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from tests.oracles.work.jobs import random_job, tangled_job
from tests.oracles.work.test_small_jobs import ladder

from samite.work.solvers._model import build_model
from samite.work.solvers._rest import NOWHERE, Rest
from samite.work.solvers.block_bound import block_bound
from samite.work.solvers.bound import order_bound


def test_no_order_goes_below_the_bound_of_blocks(heavy: Callable[[int], int]) -> None:
    higher = 0
    for seed in range(heavy(600)):
        job = (random_job if seed % 3 == 0 else tangled_job)(seed, (6, 8, 10)[seed % 3])
        model = build_model(job, None)
        least = order_bound(model, most_nodes=10**6)
        assert least.exact
        bound = block_bound(model, most_nodes=5000)
        assert bound <= least.ticks, seed
        higher += bound > Rest(model, moves=True).least(0, model.start.config, NOWHERE)
    assert higher


@pytest.mark.parametrize(("garments", "rungs"), [(2, 4), (4, 4), (5, 5)])
def test_threads_of_their_own_are_bounded_all_but_exactly(garments: int, rungs: int) -> None:
    """One by one is best, known by construction; a visit shared at each change saves two moves."""
    model = build_model(ladder(garments, rungs, crossed=True), None)
    bound = block_bound(model, most_nodes=5000)
    least = order_bound(model, most_nodes=10**5).ticks
    assert bound <= least
    assert least - bound <= 2
