"""Adult measures as one joint distribution, conditioned on those that were given."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from samite.kernel.errors import UnknownError
from samite.kernel.evidence import Evidence, Grade
from samite.kernel.quantity import Z95
from samite.tables.bodies import (
    POPULATIONS,
    PREDICTORS,
    Population,
    measure_entry,
    population,
)

MEASURING_MM = 3.0
"""Standard error of a tape in a workroom, a guess [mm]."""


@dataclass(frozen=True, slots=True)
class Estimate:
    """One measure of a body, given or estimated.

    Parameters
    ----------
    name : str
        The measure.
    value_mm : float
        Value [mm].
    spread_mm : float
        Standard deviation; 0 if given [mm].
    given : bool
        Whether it was measured.
    evidence : Evidence
        Where it comes from.
    """

    name: str
    value_mm: float
    spread_mm: float
    given: bool
    evidence: Evidence

    def told(self) -> str:
        """Return how it is marked: given, or estimated with its spread.

        Returns
        -------
        str
            ``given`` or ``estimated, +- 3.4 cm``.
        """
        if self.given:
            return "given"
        return f"estimated, +- {self.spread_mm * Z95 / 10.0:.1f} cm"


@dataclass(frozen=True, slots=True)
class _Belief:
    """Mean and covariance of the four leading measures of a population.

    Parameters
    ----------
    group : Population
        The population.
    mean : tuple of float
        Means.
    covariance : tuple of tuple of float
        Covariance.
    fit : float
        Log likelihood of what was given.
    """

    group: Population
    mean: tuple[float, ...]
    covariance: tuple[tuple[float, ...], ...]
    fit: float = 0.0


def beliefs(group: str, given: Mapping[str, float]) -> tuple[_Belief, ...]:
    """Return what is believed of the leading measures of a body.

    Parameters
    ----------
    group : str
        Group of the body; one that is no population mixes women and men.
    given : mapping of str to float
        What was measured [mm].

    Returns
    -------
    tuple of _Belief
        One a population.

    Notes
    -----
    Normal distributions conditioned one reading after the other (Kalman's update).

    References
    ----------
    ``natick-tr-15-007``: derived statistics.
    """
    return _believed(group, tuple(given.items()))


@lru_cache(maxsize=64)
def _believed(group: str, pairs: tuple[tuple[str, float], ...]) -> tuple[_Belief, ...]:
    """Return what is believed of the leading measures; one body asks for many measures."""
    given = dict(pairs)
    names = (group,) if group in POPULATIONS else POPULATIONS
    return tuple(_condition(population(name), given) for name in names)


def _condition(group: Population, given: Mapping[str, float]) -> _Belief:
    belief = _Belief(group, group.means_mm, group.covariance_mm2)
    for name, value in given.items():
        slopes, constant, noise = _reading(group, name)
        if slopes is not None:
            belief = _updated(belief, slopes, value - constant, noise + MEASURING_MM**2)
    return belief


def _reading(group: Population, name: str) -> tuple[tuple[float, ...] | None, float, float]:
    """Return slopes, constant and variance of a measure as seen from the four leading ones."""
    if name in PREDICTORS:
        slopes = tuple(float(name == predictor) for predictor in PREDICTORS)
        return slopes, 0.0, 0.0
    line = group.lines.get(name)
    if line is None:
        return None, 0.0, 0.0
    return line.slopes, line.constant_mm, line.residual_mm**2


def _updated(belief: _Belief, slopes: Sequence[float], value: float, noise: float) -> _Belief:
    """Condition a normal distribution on one reading."""
    covariance, mean = belief.covariance, belief.mean
    shared = [sum(c * s for c, s in zip(row, slopes, strict=True)) for row in covariance]
    variance = sum(s * c for s, c in zip(slopes, shared, strict=True)) + noise
    gap = value - sum(s * m for s, m in zip(slopes, mean, strict=True))
    gain = [c / variance for c in shared]
    return _Belief(
        belief.group,
        tuple(m + g * gap for m, g in zip(mean, gain, strict=True)),
        tuple(
            tuple(c - gain[i] * shared[j] for j, c in enumerate(row))
            for i, row in enumerate(covariance)
        ),
        belief.fit - 0.5 * (gap * gap / variance + math.log(variance)),
    )


def from_beliefs(held: Sequence[_Belief], name: str) -> Estimate:
    """Return a measure as it is believed to be.

    Parameters
    ----------
    held : sequence of _Belief
        What is believed of the leading measures.
    name : str
        The measure.

    Returns
    -------
    Estimate
        Mean and spread over populations by the likelihood of what was given.

    Raises
    ------
    UnknownError
        If nothing estimates it.

    Notes
    -----
    Mean and variance of the mixture.

    References
    ----------
    ``natick-tr-15-007``: derived statistics.
    """
    weights = _weights(held)
    predicted = [_predict(belief, name) for belief in held]
    mean = sum(w * p[0] for w, p in zip(weights, predicted, strict=True))
    variance = sum(w * (p[1] + (p[0] - mean) ** 2) for w, p in zip(weights, predicted, strict=True))
    evidence = max((p[2] for p in predicted), key=lambda found: found.grade.rank)
    return Estimate(name, mean, math.sqrt(variance), False, evidence)


def joint(
    held: Sequence[_Belief], names: Sequence[str]
) -> tuple[tuple[float, ...], tuple[tuple[float, ...], ...]]:
    """Return several measures as they are believed to be together.

    Parameters
    ----------
    held : sequence of _Belief
        What is believed of the leading measures.
    names : sequence of str
        The measures.

    Returns
    -------
    tuple of (tuple of float, tuple of tuple of float)
        Means [mm] and covariance [mm2] of the mixture.

    Raises
    ------
    UnknownError
        If nothing estimates one of them.

    References
    ----------
    ``natick-tr-15-007``: derived statistics.
    """
    weights = _weights(held)
    size = range(len(names))
    means = [[_predict(belief, name)[0] for name in names] for belief in held]
    mean = [sum(w * one[i] for w, one in zip(weights, means, strict=True)) for i in size]
    spread = [[0.0 for _ in size] for _ in size]
    for weight, belief, own in zip(weights, held, means, strict=True):
        slopes = [_reading(belief.group, name)[0] or () for name in names]
        noise = [_reading(belief.group, name)[2] for name in names]
        for i in size:
            shared = [sum(c * s for c, s in zip(row, slopes[i], strict=True))
                      for row in belief.covariance]  # fmt: skip
            for j in size:
                within = sum(s * c for s, c in zip(slopes[j], shared, strict=True))
                within += noise[i] if i == j else 0.0
                spread[i][j] += weight * (within + (own[i] - mean[i]) * (own[j] - mean[j]))
    return tuple(mean), tuple(tuple(row) for row in spread)


def _weights(held: Sequence[_Belief]) -> list[float]:
    """Return how likely each population is, by what was given."""
    top = max(belief.fit for belief in held)
    weights = [math.exp(belief.fit - top) for belief in held]
    total = sum(weights)
    return [weight / total for weight in weights]


def _predict(belief: _Belief, name: str) -> tuple[float, float, Evidence]:
    slopes, constant, noise = _reading(belief.group, name)
    if slopes is None:
        raise UnknownError(
            f"nothing estimates {measure_entry(name).says}", name, measure_entry(name).how
        )
    mean = constant + sum(s * m for s, m in zip(slopes, belief.mean, strict=True))
    shared = [sum(c * s for c, s in zip(row, slopes, strict=True)) for row in belief.covariance]
    line = belief.group.lines.get(name)
    evidence = line.evidence if line else Evidence("natick-tr-15-007", Grade.DERIVED)
    return mean, sum(s * c for s, c in zip(slopes, shared, strict=True)) + noise, evidence
