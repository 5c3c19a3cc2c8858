"""Draws of everything uncertain, by name, the same for every technique."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from samite.kernel.quantity import Quantity

    Real = NDArray[np.float64]


class Draws:
    """Standard normal scores of named doubts; a name always gives the same scores.

    Parameters
    ----------
    count : int
        How many draws.
    seed : int
        Seed of the generator.

    Notes
    -----
    Each name's scores are a Latin hypercube: one in every 1/count of the distribution, which
    steadies means without bias. Names are independent of each other and of the order of asking.
    """

    def __init__(self, count: int, seed: int) -> None:
        self.count = count
        self.seed = seed
        self._scores: dict[str, Real] = {}

    @property
    def names(self) -> tuple[str, ...]:
        """Names asked for so far."""
        return tuple(self._scores)

    def score(self, name: str) -> Real:
        """Return the scores of a doubt.

        Parameters
        ----------
        name : str
            What is in doubt, in words that a person reads.

        Returns
        -------
        ndarray of float, shape (count,)
            Standard normal scores.
        """
        if name not in self._scores:
            generator = np.random.default_rng([self.seed, *name.encode()])
            strata = (generator.permutation(self.count) + generator.random(self.count)) / self.count
            self._scores[name] = normal_score(strata)
        return self._scores[name]

    def of(self, name: str, quantity: Quantity) -> Real:
        """Return draws of a quantity.

        Parameters
        ----------
        name : str
            What is in doubt.
        quantity : Quantity
            Its distribution.

        Returns
        -------
        ndarray of float, shape (count,)
            Values in the quantity's unit.
        """
        return quantity.at(self.score(name))


def normal_score(share: Real) -> Real:
    """Return standard normal scores of shares..

    Parameters
    ----------
    share : ndarray of float
        Shares between 0 and 1 [-].

    Returns
    -------
    ndarray of float, same shape
        Scores.
    """
    from statistics import NormalDist

    inverse = NormalDist().inv_cdf
    flat = np.clip(np.asarray(share, dtype=np.float64), 1e-12, 1.0 - 1e-12)
    return np.array([inverse(float(value)) for value in flat.ravel()]).reshape(flat.shape)


ERF_COEFFICIENTS = (0.254829592, -0.284496736, 1.421413741, -1.453152027, 1.061405429)
ERF_STEP = 0.3275911


def normal_cdf(score: Real) -> Real:
    """Return the standard normal distribution function.

    Parameters
    ----------
    score : ndarray of float, any shape
        Scores, infinities allowed [-].

    Returns
    -------
    ndarray of float, same shape
        Chances.

    Notes
    -----
    Rational form within 1e-7: far under the smallest chance that decides anything.

    References
    ----------
    abramowitz-stegun-1964, 7.1.26.
    """
    with np.errstate(invalid="ignore", over="ignore"):
        size = np.minimum(np.abs(score), 40.0) / np.sqrt(2.0)
        step = 1.0 / (1.0 + ERF_STEP * size)
        powers = np.zeros_like(step)
        for coefficient in reversed(ERF_COEFFICIENTS):
            powers = step * (coefficient + powers)
        tail = 0.5 * powers * np.exp(-(size**2))
    return np.asarray(np.where(score < 0.0, tail, 1.0 - tail), dtype=np.float64)
