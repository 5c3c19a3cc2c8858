"""Blocks of one thread: their bound is never above the best order, and they are no worse an order."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from tests.oracles.work.every_order import least_time
from tests.oracles.work.jobs import MINUTES, random_job, tangled_job
from tests.oracles.work.test_orders import is_order
from tests.oracles.work.test_small_jobs import ladder

from samite.work.check import check_work
from samite.work.solvers._model import TICKS, build_model
from samite.work.solvers._rest import NOWHERE, Rest
from samite.work.solvers.block_bound import block_bound
from samite.work.solvers.blocks import by_blocks, drawn_together
from samite.work.solvers.bound import good_order, order_bound
from samite.work.solvers.own_moves import own_moves
from samite.work.solvers.windows import order_price


def test_no_order_goes_below_the_bound_of_blocks(heavy: Callable[[int], int]) -> None:
    for seed in range(heavy(600)):
        job = (random_job if seed % 3 == 0 else tangled_job)(seed, (6, 8, 10)[seed % 3])
        model = build_model(job, None)
        least = order_bound(model, most_nodes=10**6)
        assert least.exact
        assert block_bound(model, most_nodes=5000) <= least.ticks, seed


@pytest.mark.parametrize("seed", [75, 86, 105, 127])
def test_blocks_see_what_chains_do_not(seed: int) -> None:
    model = build_model(tangled_job(seed, 12), None)
    bound = block_bound(model, most_nodes=2000)
    assert bound > Rest(model, moves=True).least(0, model.start.config, NOWHERE)
    assert bound <= order_bound(model, most_nodes=10**6).ticks


@pytest.mark.parametrize(("garments", "rungs"), [(2, 4), (4, 4), (5, 5), (9, 8)])
def test_threads_of_their_own_are_bounded_all_but_exactly(garments: int, rungs: int) -> None:
    """One by one is best, known by construction; between garments a move or two are left open."""
    model = build_model(ladder(garments, rungs, crossed=True), None)
    known = garments * (MINUTES["thread"] + MINUTES["tension"]) + MINUTES["dial"]
    known += MINUTES["move"] * (garments * 2 * rungs - 1 - 2 * (garments - 1))
    assert 0.0 <= known - block_bound(model, most_nodes=5000) / TICKS <= 1.0


def test_blocks_are_an_order_and_never_dearer(heavy: Callable[[int], int]) -> None:
    cheaper = 0
    for seed in range(21, 21 + heavy(80)):
        model = build_model(tangled_job(seed, 12), None)
        order = good_order(model, width=1)
        better = by_blocks(model, order, lambda _: True, most_nodes=2000)
        assert is_order(model, better)
        assert order_price(model, better) <= order_price(model, order)
        cheaper += better != order
    assert cheaper


def test_a_block_is_drawn_with_what_it_waits_for() -> None:
    model = build_model(ladder(3, 2, crossed=True), None)
    order = good_order(model, width=1)
    last = 0b1111 << 8
    drawn, behind = drawn_together(model, order, last & 0b010101010101, 0, 0)
    assert is_order(model, drawn)
    # Both seams of the third garment and the pressing between them, not the one behind.
    assert {number for number, _ in drawn[:behind]} == {8, 9, 10}


def test_moves_that_no_helper_spares_are_in_every_plan(heavy: Callable[[int], int]) -> None:
    seen = 0
    for seed in range(heavy(150)):
        job = random_job(seed, 3, makers=2)
        model = build_model(job, job.due)
        best = None if check_work(job) else least_time(job)
        if best is None:
            continue
        moves = own_moves(model, most_nodes=1000)
        set_ups = order_bound(model, most_nodes=10**5).ticks
        assert (model.work + set_ups + moves) / TICKS <= best + 1e-9, seed
        seen += moves > 0
    assert seen
