"""A number with its spread, unit and evidence."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from samite.kernel.errors import OutOfRangeError
from samite.kernel.evidence import Evidence, weakest

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

Z95 = 1.6448536269514722
"""Standard normal score of the 95th percentile."""


@dataclass(frozen=True, slots=True)
class Quantity:
    """A value between a low and a high, with the evidence for it.

    ``low`` and ``high`` are the 5th and 95th percentiles of a two-piece normal whose median is
    ``value``; for quantities that cannot be negative the two-piece normal stands on a log scale.

    Parameters
    ----------
    value : float
        The median, in `unit`.
    low : float
        5th percentile, in `unit`.
    high : float
        95th percentile, in `unit`.
    unit : str
        Unit of all three numbers.
    evidence : Evidence
        Source and grade.
    given : bool
        True if the person gave it.

    Raises
    ------
    OutOfRangeError
        If the numbers are not finite or not in the order low <= value <= high.
    """

    value: float
    low: float
    high: float
    unit: str
    evidence: Evidence
    given: bool = False

    def __post_init__(self) -> None:
        if not all(math.isfinite(number) for number in (self.value, self.low, self.high)):
            raise OutOfRangeError("a quantity needs finite numbers", self.unit, "give a number")
        if not self.low <= self.value <= self.high:
            raise OutOfRangeError(
                f"the spread {self.low:g} to {self.high:g} does not contain {self.value:g}",
                self.unit,
                "give low <= value <= high",
            )

    @property
    def logarithmic(self) -> bool:
        """Whether the spread stands on a log scale (all three numbers positive)."""
        return self.low > 0.0

    def at(self, score: NDArray[np.float64]) -> NDArray[np.float64]:
        """Map standard normal scores to values.

        Parameters
        ----------
        score : ndarray of float, any shape
            Standard normal scores (0 gives `value`, -1.645 gives `low`).

        Returns
        -------
        ndarray of float, same shape
            Values in `unit`.
        """
        import numpy as np

        centre, down, up = self._scale()
        step = np.where(score < 0.0, (centre - down) / Z95, (up - centre) / Z95)
        drawn = centre + np.asarray(score, dtype=np.float64) * step
        return np.exp(drawn) if self.logarithmic else drawn

    def score(self, number: NDArray[np.float64]) -> NDArray[np.float64]:
        """Map values to standard normal scores; the inverse of `at`.

        Parameters
        ----------
        number : ndarray of float, any shape
            Values in `unit`.

        Returns
        -------
        ndarray of float, same shape
            Scores; the chance that the quantity lies below `number` is the normal
            distribution function of the score. Without spread it is minus or plus infinity.
        """
        import numpy as np

        centre, down, up = self._scale()
        with np.errstate(divide="ignore", invalid="ignore"):
            place = np.asarray(number, dtype=np.float64)
            if self.logarithmic:
                place = np.log(np.maximum(place, 1e-300))
            gap = place - centre
            width = np.where(gap < 0.0, (centre - down) / Z95, (up - centre) / Z95)
            scored = np.where(width > 0.0, gap / width, np.where(gap >= 0.0, np.inf, -np.inf))
        return np.asarray(scored, dtype=np.float64)

    def draws(self, generator: np.random.Generator, count: int) -> NDArray[np.float64]:
        """Draw values at random.

        Parameters
        ----------
        generator : numpy.random.Generator
            Source of randomness (an argument, so that answers repeat).
        count : int
            How many.

        Returns
        -------
        ndarray of float, shape (count,)
            Values in `unit`.
        """
        return self.at(generator.standard_normal(count))

    def scaled(self, factor: float, unit: str) -> Quantity:
        """Return the quantity multiplied by a positive factor, in another unit.

        Parameters
        ----------
        factor : float
            Positive multiplier.
        unit : str
            Unit of the result.

        Returns
        -------
        Quantity
            Same evidence and relative spread.
        """
        return replace(
            self,
            value=self.value * factor,
            low=self.low * factor,
            high=self.high * factor,
            unit=unit,
        )

    def as_dict(self) -> dict[str, object]:
        """Return the JSON form used on the faces.

        Returns
        -------
        dict of str to object
            Keys ``value``, ``low``, ``high``, ``given``, ``source`` and ``grade``.
        """
        return {
            "value": round_shown(self.value),
            "low": round_shown(self.low),
            "high": round_shown(self.high),
            "given": self.given,
            "source": self.evidence.source,
            "grade": self.evidence.grade.value,
        }

    def _scale(self) -> tuple[float, float, float]:
        if self.logarithmic:
            return math.log(self.value), math.log(self.low), math.log(self.high)
        return self.value, self.low, self.high


def exact(value: float, unit: str, evidence: Evidence, *, given: bool = False) -> Quantity:
    """Return a quantity without spread.

    Parameters
    ----------
    value : float
        The number, in `unit`.
    unit : str
        Its unit.
    evidence : Evidence
        Source and grade.
    given : bool
        True if the person gave it.

    Returns
    -------
    Quantity
        With low = value = high.
    """
    return Quantity(value, value, value, unit, evidence, given)


def spread(
    value: float, share: float, unit: str, evidence: Evidence, *, given: bool = False
) -> Quantity:
    """Return a quantity with the same relative spread on both sides.

    Parameters
    ----------
    value : float
        The median, in `unit`; positive.
    share : float
        Half-width of the 90 % range as a share of the value (0.1 means about +-10 %).
    unit : str
        Its unit.
    evidence : Evidence
        Source and grade.
    given : bool
        True if the person gave it.

    Returns
    -------
    Quantity
        With low = value / (1 + share) and high = value * (1 + share).
    """
    return Quantity(value, value / (1 + share), value * (1 + share), unit, evidence, given)


def between(low: float, high: float, unit: str, evidence: Evidence) -> Quantity:
    """Return a quantity known only by its range; its median is the middle of the range.

    Parameters
    ----------
    low : float
        5th percentile, in `unit`.
    high : float
        95th percentile, in `unit`.
    unit : str
        Their unit.
    evidence : Evidence
        Source and grade.

    Returns
    -------
    Quantity
        Median is the geometric mean for positive ranges, else the arithmetic mean.
    """
    middle = math.sqrt(low * high) if low > 0.0 else 0.5 * (low + high)
    return Quantity(min(max(middle, low), high), low, high, unit, evidence)


def product(unit: str, *factors: Quantity) -> Quantity:
    """Multiply independent positive quantities, spreads added in quadrature on the log scale.

    Parameters
    ----------
    unit : str
        Unit of the result.
    *factors : Quantity
        Positive quantities.

    Returns
    -------
    Quantity
        Graded like the weakest factor.
    """
    value = math.prod(factor.value for factor in factors)
    down = math.sqrt(sum(math.log(f.value / f.low) ** 2 for f in factors))
    up = math.sqrt(sum(math.log(f.high / f.value) ** 2 for f in factors))
    grade = weakest(*(factor.evidence.grade for factor in factors))
    source = " x ".join(dict.fromkeys(factor.evidence.source for factor in factors))
    given = all(factor.given for factor in factors)
    evidence = Evidence(source, grade)
    return Quantity(value, value * math.exp(-down), value * math.exp(up), unit, evidence, given)


def round_shown(number: float) -> float:
    """Round to three significant figures for showing.

    Parameters
    ----------
    number : float
        Any finite number.

    Returns
    -------
    float
        The number to three significant figures (integers of four digits and more kept whole).
    """
    if number == 0.0:
        return 0.0
    digits = 2 - math.floor(math.log10(abs(number)))
    return round(number, max(digits, 0))
