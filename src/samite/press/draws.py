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

    @property
    def learnt(self) -> bool:
        """Whether anything was learnt: then `below` knows more than the tables."""
        return False

    @property
    def independent(self) -> float:
        """How many independent draws they are worth [-]."""
        return float(self.count)

    @property
    def pace(self) -> Real | None:
        """Seconds that the person presses over seconds counted, draw by draw [-].

        None where nothing is known of the person: the doubt is then one of placements.
        """
        return None

    def below(self, name: str, score: Real) -> Real:  # noqa: ARG002 -- learnt draws need it
        """Return the chance that a doubt lies below a score, draw by draw, without drawing it.

        Parameters
        ----------
        name : str
            A doubt that is integrated: a limit or a glass transition.
        score : ndarray of float, shape (count, any)
            Scores of its table's distribution [-].

        Returns
        -------
        ndarray of float, same shape
            Chances; of the table's distribution itself, as nothing was learnt.
        """
        return normal_cdf(score)

    def first(self, count: int) -> Draws:
        """Return only the first draws, with the same scores.

        Parameters
        ----------
        count : int
            How many.

        Returns
        -------
        Draws
            Draws that ask this one.
        """
        return _FirstDraws(self, count)

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


class _FirstDraws(Draws):
    """The first draws of others."""

    def __init__(self, whole: Draws, count: int) -> None:
        super().__init__(count, whole.seed)
        self._whole = whole

    def score(self, name: str) -> Real:
        return self._whole.score(name)[: self.count]


CENTRE = (
    (
        3.3871328727963666080,
        1.3314166789178437745e2,
        1.9715909503065514427e3,
        1.3731693765509461125e4,
        4.5921953931549871457e4,
        6.7265770927008700853e4,
        3.3430575583588128105e4,
        2.5090809287301226727e3,
    ),
    (
        1.0,
        4.2313330701600911252e1,
        6.8718700749205790830e2,
        5.3941960214247511077e3,
        2.1213794301586595867e4,
        3.9307895800092710610e4,
        2.8729085735721942674e4,
        5.2264952788528545610e3,
    ),
)
FLANK = (
    (
        1.42343711074968357734,
        4.63033784615654529590,
        5.76949722146069140550,
        3.64784832476320460504,
        1.27045825245236838258,
        2.41780725177450611770e-1,
        2.27238449892691845833e-2,
        7.74545014278341407640e-4,
    ),
    (
        1.0,
        2.05319162663775882187,
        1.67638483018380384940,
        6.89767334985100004550e-1,
        1.48103976427480074590e-1,
        1.51986665636164571966e-2,
        5.47593808499534494600e-4,
        1.05075007164441684324e-9,
    ),
)
"""Coefficients of the two inner pieces, numerator and denominator, constant first."""


def normal_score(share: Real) -> Real:
    """Return standard normal scores of shares.

    Parameters
    ----------
    share : ndarray of float
        Shares between 0 and 1 [-].

    Returns
    -------
    ndarray of float, same shape
        Scores.

    Notes
    -----
    Rational pieces, to 1e-14 between 1.4e-11 and 1 - 1.4e-11; shares beyond are held there.

    References
    ----------
    wichura-1988, algorithm AS 241.
    """
    held = np.clip(np.asarray(share, dtype=np.float64), 1.4e-11, 1.0 - 1.4e-11)
    offset = held - 0.5
    inner = offset * _ratio(CENTRE, 0.180625 - offset**2)
    depth = np.sqrt(-np.log(np.minimum(held, 1.0 - held)))
    outer = np.sign(offset) * _ratio(FLANK, depth - 1.6)
    return np.where(np.abs(offset) <= 0.425, inner, outer)


def _ratio(coefficients: tuple[tuple[float, ...], tuple[float, ...]], at: Real) -> Real:
    top, bottom = (np.polynomial.polynomial.polyval(at, part) for part in coefficients)
    return np.asarray(top / bottom, dtype=np.float64)


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
