"""The worth of a test against enumeration in plain loops and a worked example by hand."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from samite.swatch.value import (
    expected_utilities,
    joint_utilities,
    worth_of_branches,
    worth_of_knowing,
    worth_of_test,
)


def enumerated(
    weights: list[float], utilities: list[list[float]], outcomes: list[list[float]]
) -> float:
    """Try every rule that says what to choose at each outcome, and keep the best."""
    states, choices = range(len(weights)), range(len(utilities[0]))
    before = max(sum(weights[i] * utilities[i][a] for i in states) for a in choices)
    best = -1e300
    for rule in itertools.product(choices, repeat=len(outcomes[0])):
        brought = sum(
            weights[i] * outcomes[i][o] * utilities[i][choice]
            for i in states
            for o, choice in enumerate(rule)
        )
        best = max(best, brought)
    return best - before


@st.composite
def problems(draw: st.DrawFn) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    states, choices, seen = (draw(st.integers(1, 4)) for _ in range(3))
    number = st.floats(0.01, 1.0)
    weights = np.array([draw(number) for _ in range(states)])
    utilities = np.array(
        [[draw(st.floats(-1.0, 1.0)) for _ in range(choices)] for _ in range(states)]
    )
    outcomes = np.array([[draw(number) for _ in range(seen)] for _ in range(states)])
    return weights / weights.sum(), utilities, outcomes / outcomes.sum(axis=1, keepdims=True)


@given(problems())
def test_it_is_the_best_rule_by_enumeration(
    problem: tuple[np.ndarray, np.ndarray, np.ndarray],
) -> None:
    weights, utilities, outcomes = problem
    wanted = enumerated(weights.tolist(), utilities.tolist(), outcomes.tolist())
    assert worth_of_test(weights, utilities, outcomes) == pytest.approx(wanted, abs=1e-9)


@given(problems())
def test_it_is_never_negative_and_bounded_by_knowing_everything(
    problem: tuple[np.ndarray, np.ndarray, np.ndarray],
) -> None:
    weights, utilities, outcomes = problem
    worth = worth_of_test(weights, utilities, outcomes)
    assert 0.0 <= worth <= worth_of_knowing(weights, utilities) + 1e-9


def test_a_test_that_cannot_change_the_choice_is_worth_nothing() -> None:
    weights = np.array([0.4, 0.6])
    telling = np.array([[0.99, 0.01], [0.02, 0.98]])
    dominated = np.array([[1.0, 0.2], [0.5, 0.4]])  # the first choice is better in every state
    assert worth_of_test(weights, dominated, telling) == 0.0
    blind = np.array([[0.3, 0.7], [0.3, 0.7]])  # the same chances, whatever is true
    assert worth_of_test(weights, np.array([[1.0, 0.0], [0.0, 1.0]]), blind) == 0.0


def test_a_perfect_test_is_worth_knowing_everything() -> None:
    weights = np.array([0.2, 0.3, 0.5])
    utilities = np.array([[1.0, 0.0], [0.1, 0.6], [0.2, 0.9]])
    worth = worth_of_test(weights, utilities, np.eye(3))
    assert worth == pytest.approx(worth_of_knowing(weights, utilities))
    assert worth == pytest.approx(0.2)  # by hand: 0.2 x 1 + 0.3 x 0.6 + 0.5 x 0.9 - 0.63


def test_joint_utilities_by_hand() -> None:
    outcomes = np.array([[0.5, 0.5], [0.2, 0.8]])
    found = joint_utilities(np.array([0.25, 0.75]), np.array([[1.0], [2.0]]), outcomes)
    assert found.ravel().tolist() == pytest.approx([0.425, 1.325])  # 0.125 + 0.3, 0.125 + 1.2


def test_expected_utilities_by_hand() -> None:
    found = expected_utilities(np.array([0.25, 0.75]), np.array([[1.0, 0.0], [0.0, 1.0]]))
    assert found.tolist() == pytest.approx([0.25, 0.75])


@given(problems())
def test_by_branches_it_is_the_same(problem: tuple[np.ndarray, np.ndarray, np.ndarray]) -> None:
    """Bayes' rule by hand to each outcome's belief, then the worth of the branches."""
    weights, utilities, outcomes = problem
    chances = weights @ outcomes
    after = (weights[:, np.newaxis] * outcomes / chances).T @ utilities
    worth = worth_of_branches(chances, after)
    assert worth == pytest.approx(worth_of_test(weights, utilities, outcomes), abs=1e-9)
