"""Orders blind to time against all of them, and the solvers one by one."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import numpy as np
import pytest
from tests.oracles.work.every_order import least_time
from tests.oracles.work.jobs import random_job

from samite.work.check import check_work
from samite.work.minutes import machine_minutes
from samite.work.solvers._model import TICKS, Model, build_model
from samite.work.solvers._rest import NOWHERE, Rest
from samite.work.solvers.beam import follow, found_of, search
from samite.work.solvers.bound import good_order, order_bound
from samite.work.solvers.cp_sat import solve_exactly
from samite.work.solvers.search import solve
from samite.work.solvers.simple import solve_simply
from samite.work.solvers.windows import improve, order_price, window_ends, window_model

Order = tuple[tuple[int, int], ...]


def orders(model: Model, done: Order = ()) -> Iterator[Order]:
    """Every order and every machine."""
    taken = {number for number, _ in done}
    if len(taken) == len(model.ops):
        yield done
    for number, op in enumerate(model.ops):
        if number not in taken and all(before in taken for before, _ in op.before):
            for way in range(len(op.ways)):
                yield from orders(model, (*done, (number, way)))


def is_order(model: Model, order: Order) -> bool:
    place = {number: k for k, (number, _) in enumerate(order)}
    before = all(place[b] < place[n] for n, op in enumerate(model.ops) for b, _ in op.before)
    return before and sorted(place) == list(range(len(model.ops)))


def models(count: int, sizes: tuple[int, ...]) -> Iterator[Model]:
    for seed in range(1000, 1000 + count):
        yield build_model(random_job(seed, sizes[seed % len(sizes)]), None)


def test_the_bound_is_the_price_of_the_best_of_all_orders(heavy: Callable[[int], int]) -> None:
    for model in models(heavy(300), (3, 4, 5, 6)):
        prices = [order_price(model, order) for order in orders(model)]
        found = order_bound(model, most_nodes=100_000)
        assert found.exact
        assert found.ticks == min(prices)
        assert is_order(model, found.order)
        assert order_price(model, found.order) == found.ticks
        start = model.start
        assert Rest(model, True).least(0, start.config, NOWHERE) <= found.ticks


def test_a_search_that_is_stopped_still_bounds() -> None:
    for model in models(12, (9, 11)):
        whole = order_bound(model, most_nodes=10**6)
        for most in (1, 10, 100):
            assert order_bound(model, most_nodes=most).ticks <= whole.ticks


def test_good_orders_are_orders_and_stretches_never_make_them_dearer() -> None:
    for model in models(8, (14, 20)):
        order = good_order(model, width=3)
        assert is_order(model, order)
        generator = np.random.default_rng(1)
        better = improve(
            model, order, lambda _: True, tries=12, size=8, most_nodes=2000, generator=generator
        )
        assert is_order(model, better)
        least = order_bound(model, most_nodes=10**4)
        assert least.ticks <= order_price(model, better) <= order_price(model, order)


def test_a_stretch_that_is_the_whole_costs_what_the_whole_costs() -> None:
    for model in models(8, (6,)):
        order = good_order(model, width=2)
        numbers = [number for number, _ in order]
        ends = window_ends(model, order, 0, len(order))
        part = order_bound(window_model(model, numbers), most_nodes=10**5, ends=ends)
        assert part.ticks == order_bound(model, most_nodes=10**5).ticks


@pytest.mark.parametrize("seed", [1, 3, 4, 11, 19])
def test_every_solver_finds_a_plan_no_better_than_the_best(seed: int) -> None:
    job = random_job(seed, 5)
    assert not check_work(job)
    model, best = build_model(job, job.due), least_time(job)
    assert best is not None
    exact = solve_exactly(model, None, least_cost=0, seconds=5.0)
    assert exact.found is not None
    assert exact.found.cost / TICKS == pytest.approx(best)
    assert exact.bound == exact.found.cost
    assert solve(model, effort=0.5, seed=1).bound / TICKS <= best + 1e-9
    order = order_bound(model, most_nodes=10**5).order
    simple = solve_simply(model)
    plans = [search(model, width=5, haste=0.0), follow(model, order, width=4)]
    plans.append(found_of(model, simple) if simple else None)
    for plan in plans:
        assert plan is None or plan.late or plan.cost / TICKS >= best - 1e-9


def test_machine_minutes_are_those_of_work_study() -> None:
    """Worked example of the work-study page: 20 in at 10 SPI and 4000 1/min, one stop: 100.3 TMU."""
    minutes = machine_minutes(
        seam_length_mm=508.0, stitch_length_mm=2.54, stitches_per_min=4000.0, stops=1
    )
    assert minutes / 0.0006 == pytest.approx(100.3, abs=0.05)
