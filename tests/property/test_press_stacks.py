"""Laws that every stack obeys."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from tests.oracles.press.twins import CellTwin

from samite.press.layers import Boundary, Conductance, Held, Insulated, Layer, ReadingPlace, Stack
from samite.press.solver import solve

pytestmark = pytest.mark.property

TIMES = [0.01, 0.3, 2.0, 30.0, 3600.0]


def between(low: float, high: float) -> st.SearchStrategy[float]:
    """Return numbers spread evenly on a log scale."""
    return st.floats(np.log(low), np.log(high)).map(lambda x: float(np.exp(x)))


temperatures = st.floats(-50.0, 1100.0)
boundaries = st.one_of(
    st.builds(Held, temperatures),
    st.builds(Conductance, temperatures, between(1.0, 1e5)),
    st.just(Insulated()),
)
layers = st.builds(
    Layer,
    st.just("layer"),
    between(0.001, 50.0),
    between(0.02, 400.0),
    between(1.0, 9000.0),
    between(300.0, 4500.0),
    st.just(0.0),
    st.one_of(st.none(), temperatures),
)


@st.composite
def stacks(draw: st.DrawFn) -> Stack:
    chosen = tuple(draw(st.lists(layers, min_size=1, max_size=5)))
    one = st.one_of(st.none(), between(1.0, 1e5))
    contact = draw(
        st.one_of(one, st.tuples(*[one] * (len(chosen) - 1))) if len(chosen) > 1 else one
    )
    return Stack(draw(temperatures), draw(boundaries), draw(boundaries), chosen, contact)


def everywhere(stack: Stack) -> list[ReadingPlace]:
    return [ReadingPlace(i, d) for i in range(len(stack.layers)) for d in (0.0, 0.4, 1.0)]


def heated(boundary: Boundary, by: float) -> Boundary:
    if isinstance(boundary, Held):
        return Held(boundary.held_c + by)
    if isinstance(boundary, Conductance):
        return replace(boundary, surrounding_c=boundary.surrounding_c + by)
    return boundary


@given(stacks())
def test_no_answer_lies_outside_the_given_temperatures(stack: Stack) -> None:
    low, high = stack.span_c
    found = solve(stack, TIMES, everywhere(stack))
    assert found.temperature_c.min() >= low - 1e-4
    assert found.temperature_c.max() <= high + 1e-4
    assert found.error_estimate_c < 0.01


@given(stacks(), st.floats(0.0, 200.0))
def test_a_hotter_sole_never_cools(stack: Stack, by: float) -> None:
    places = everywhere(stack)
    before = solve(stack, TIMES, places).temperature_c
    after = solve(replace(stack, top=heated(stack.top, by)), TIMES, places).temperature_c
    assert np.all(after >= before - 1e-4)


@given(stacks(), st.floats(0.0, 200.0))
def test_everything_shifted_shifts_the_answer(stack: Stack, by: float) -> None:
    shifted = Stack(
        stack.start_c + by,
        heated(stack.top, by),
        heated(stack.bottom, by),
        tuple(
            replace(layer, start_c=start + by)
            for layer, start in zip(stack.layers, stack.starts_c, strict=True)
        ),
        stack.contact_w_m2k,
    )
    places = everywhere(stack)
    before = solve(stack, TIMES, places).temperature_c
    assert solve(shifted, TIMES, places).temperature_c == pytest.approx(before + by, abs=1e-4)


@given(stacks())
def test_the_stack_upside_down_reads_upside_down(stack: Stack) -> None:
    turned = Stack(
        stack.start_c, stack.bottom, stack.top, stack.layers[::-1], stack.contacts[::-1] or None
    )
    last = len(stack.layers) - 1
    places = everywhere(stack)
    mirrored = [ReadingPlace(last - place.layer, 1.0 - place.depth) for place in places]
    found = solve(stack, TIMES, places).temperature_c
    assert solve(turned, TIMES, mirrored).temperature_c == pytest.approx(found, abs=1e-4)


@given(stacks(), st.floats(0.1, 0.9))
def test_a_layer_cut_in_two_is_the_same_stack(stack: Stack, share: float) -> None:
    first = stack.layers[0]
    upper = replace(first, thickness_mm=first.thickness_mm * share)
    lower = replace(first, thickness_mm=first.thickness_mm * (1 - share))
    cut = replace(
        stack,
        layers=(upper, lower, *stack.layers[1:]),
        contact_w_m2k=(None, *stack.contacts),
    )
    whole = solve(stack, TIMES, [ReadingPlace(0, share), ReadingPlace(0, 0.0)]).temperature_c
    parts = solve(cut, TIMES, [ReadingPlace(1, 0.0), ReadingPlace(0, 0.0)]).temperature_c
    assert parts == pytest.approx(whole, abs=1e-4)


@given(stacks())
def test_perfect_contact_is_the_limit_of_a_good_one(stack: Stack) -> None:
    perfect = replace(stack, contact_w_m2k=None)
    good = replace(stack, contact_w_m2k=1e15)
    places = everywhere(stack)
    found = solve(perfect, TIMES, places).temperature_c
    assert solve(good, TIMES, places).temperature_c == pytest.approx(found, abs=1e-3)


@given(stacks(), st.sampled_from([0.5, 5.0, 60.0]))
def test_random_stacks_agree_with_a_matrix_exponential(stack: Stack, time: float) -> None:
    # exact in time, so the twin errs by its cells only: compared where it has converged, that is
    # where its values extrapolated from 12 and 24 and from 24 and 48 cells agree
    fastest = np.abs(CellTwin(stack, 48).matrix().diagonal()).max()
    assume(fastest * time < 1e9)  # beyond this the exponential itself loses its digits
    middles = [ReadingPlace(i, 0.5) for i in range(len(stack.layers))]
    found = solve(stack, [time], middles).temperature_c[0]
    coarse, middle, fine = (
        np.array([twin.middle(state, i) for i in range(len(middles))])
        for twin in (CellTwin(stack, 12), CellTwin(stack, 24), CellTwin(stack, 48))
        for state in [twin.by_exponential([time])[:, 0]]
    )
    better, worse = fine + (fine - middle) / 3, middle + (middle - coarse) / 3
    known = np.abs(better - worse) < 0.02
    assert np.abs(better - found)[known].max(initial=0.0) < 0.1
