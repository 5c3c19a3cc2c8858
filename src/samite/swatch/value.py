"""What a test is worth before it is made: by how much its answer is expected to better a choice."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from samite.kernel.errors import InputError

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]

HARDLY = 1e-12
"""Below this a worth is rounding [-]."""


def expected_utilities(weights: Real, utilities: Real) -> Real:
    """Return what each choice is expected to bring.

    Parameters
    ----------
    weights : ndarray of float, shape (draws,)
        Weight of each state of the world, summing to 1 [-].
    utilities : ndarray of float, shape (draws, choices)
        What each choice brings in each state [-].

    Returns
    -------
    ndarray of float, shape (choices,)
        Expected utilities.

    Raises
    ------
    InputError
        If the shapes do not fit or the weights are not chances.
    """
    if utilities.ndim != 2 or weights.shape != utilities.shape[:1] or not utilities.size:
        raise InputError("the shapes do not fit", "utilities", "give shape (draws, choices)")
    if weights.min() < 0.0 or abs(float(weights.sum()) - 1.0) > 1e-6:
        raise InputError("the weights are no chances", "weights", "let them sum to 1")
    return np.asarray(weights @ utilities)


def worth_of_test(weights: Real, utilities: Real, outcomes: Real) -> float:
    """Return the expected gain of the best choice by one test.

    Parameters
    ----------
    weights : ndarray of float, shape (draws,)
        Weight of each state of the world, summing to 1 [-].
    utilities : ndarray of float, shape (draws, choices)
        What each choice brings in each state [-].
    outcomes : ndarray of float, shape (draws, outcomes)
        Chance of each outcome of the test in each state; each row sums to 1 [-].

    Returns
    -------
    float
        Expected utility of the best choice after the test, less that before; never negative.

    Raises
    ------
    InputError
        If the shapes do not fit or a row of outcomes does not sum to 1.

    Notes
    -----
    Pre-posterior analysis, sum over outcomes of max over choices of the joint expectation, less
    the max of the marginal one. It holds for the states given; few of them err to a test that
    looks too telling. A test that makes no difference to the choice is worth exactly nothing.

    References
    ----------
    raiffa-schlaifer-1961, chapter 4.
    """
    before = float(expected_utilities(weights, utilities).max())
    if outcomes.ndim != 2 or len(outcomes) != len(weights):
        raise InputError("the shapes do not fit", "outcomes", "give shape (draws, outcomes)")
    if outcomes.min() < -HARDLY or np.abs(outcomes.sum(axis=1) - 1.0).max() > 1e-6:
        raise InputError("the chances of the outcomes do not sum to 1", "outcomes", "mend a row")
    joint = joint_utilities(weights, utilities, outcomes)
    gain = float(joint.max(axis=1).sum()) - before
    return gain if gain > HARDLY * max(1.0, abs(before)) else 0.0


def joint_utilities(weights: Real, utilities: Real, outcomes: Real) -> Real:
    """Return what each choice brings together with each outcome.

    Parameters
    ----------
    weights : ndarray of float, shape (draws,)
        Weight of each state of the world [-].
    utilities : ndarray of float, shape (draws, choices)
        What each choice brings in each state [-].
    outcomes : ndarray of float, shape (draws, outcomes)
        Chance of each outcome in each state [-].

    Returns
    -------
    ndarray of float, shape (outcomes, choices)
        Sums over the states; over the chance of its outcome each row is an expectation.

    Notes
    -----
    Summed in one thread: so small a product is slower when it is shared out.

    References
    ----------
    raiffa-schlaifer-1961, chapter 4.
    """
    sums: Real = np.einsum("so,sc->oc", weights[:, np.newaxis] * outcomes, utilities)
    return sums


def worth_of_knowing(weights: Real, utilities: Real) -> float:
    """Return what it would be worth to know everything.

    Parameters
    ----------
    weights : ndarray of float, shape (draws,)
        Weight of each state of the world, summing to 1 [-].
    utilities : ndarray of float, shape (draws, choices)
        What each choice brings in each state [-].

    Returns
    -------
    float
        Bound of the worth of any test.

    References
    ----------
    raiffa-schlaifer-1961, chapter 4.
    """
    before = float(expected_utilities(weights, utilities).max())
    return max(float(weights @ utilities.max(axis=1)) - before, 0.0)


def worth_of_branches(chances: Real, utilities: Real) -> float:
    """Return what a test is worth from what each choice would bring after each outcome.

    Parameters
    ----------
    chances : ndarray of float, shape (outcomes,)
        Chance of each outcome, summing to 1 [-].
    utilities : ndarray of float, shape (outcomes, choices)
        Expected utility of each choice once the outcome is known [-].

    Returns
    -------
    float
        As `worth_of_test`, where the beliefs after each outcome are at hand; never negative.

    Raises
    ------
    InputError
        If the shapes do not fit or the chances do not sum to 1.

    Notes
    -----
    The belief before is taken as the mixture of those after, so that rounding and resampling
    cannot make a useless test look useful.

    References
    ----------
    raiffa-schlaifer-1961, chapter 4.
    """
    before = float(expected_utilities(chances, utilities).max())
    gain = float(chances @ utilities.max(axis=1)) - before
    return gain if gain > HARDLY * max(1.0, abs(before)) else 0.0
