"""Measures that were not taken, estimated from those that were; slips of the tape found."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType

from samite.garment.body import Body
from samite.kernel.errors import OutOfRangeError, UnknownError, UnknownNameError
from samite.kernel.evidence import GIVEN, Evidence, Grade, weakest
from samite.kernel.quantity import Z95, Quantity
from samite.tables.bodies import (
    POPULATIONS,
    PREDICTORS,
    Population,
    child_measure,
    measure_entry,
    population,
)

MEASURING_MM = 3.0
"""Standard error of a tape in a workroom, a guess [mm]."""

STRANGE = 4.0
"""Standard deviations off beyond which a measure is questioned."""

SLIPS: Mapping[str, float] = MappingProxyType(
    {
        "inches written as centimetres": 2.54,
        "millimetres written as centimetres": 0.1,
        "centimetres written as millimetres": 10.0,
        "a girth measured on the half": 2.0,
        "a half written where the girth was doubled": 0.5,
        "centimetres written as inches": 1 / 2.54,
    }
)
"""Usual slips and what the number must be multiplied by to mend them."""

_GUESS = Evidence("guess", Grade.GUESS)
_CHILD_HEAD_MM = 520.0
_CHILD_SPREAD = 0.07
_TRUNK_GIRTHS = frozenset(
    {
        "bust_girth",
        "upper_chest_girth",
        "underbust_girth",
        "waist_girth",
        "navel_girth",
        "hip_girth",
        "thigh_girth",
        "shoulder_girth",
    }
)


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
class Doubt:
    """A measure that does not fit the others.

    Parameters
    ----------
    name : str
        The measure.
    value_mm : float
        As given [mm].
    expected_mm : float
        What the others make likely [mm].
    spread_mm : float
        Standard deviation of that [mm].
    slip : str
        The likely slip; empty if none explains it.
    mended_mm : float
        The value with that slip mended [mm].
    """

    name: str
    value_mm: float
    expected_mm: float
    spread_mm: float
    slip: str
    mended_mm: float

    def told(self) -> str:
        """Return it as one sentence.

        Returns
        -------
        str
            What is strange, and what it may have been.
        """
        says = measure_entry(self.name).says
        text = (
            f"{says} {self.value_mm / 10:.1f} cm does not fit the other measures: they make"
            f" {self.expected_mm / 10:.0f} +- {self.spread_mm * Z95 / 10:.0f} cm likely"
        )
        if self.slip:
            return f"{text}; perhaps {self.slip}: {self.mended_mm / 10:.1f} cm"
        return f"{text}; measure again"


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


def estimate(body: Body, name: str) -> Estimate:
    """Return a measure of a body: as given, or the conditional mean with its spread.

    Parameters
    ----------
    body : Body
        The body.
    name : str
        The measure.

    Returns
    -------
    Estimate
        Value, spread, and whether it was given.

    Raises
    ------
    UnknownNameError
        If there is no such measure.
    UnknownError
        If nothing can estimate it.
    OutOfRangeError
        If a given measure is impossible.

    Notes
    -----
    All measures of adults are taken as jointly normal: four leading ones with the covariance of
    the survey, each other one as a line in them with an independent residual. What is given
    conditions the four, and they give the rest. Leaving out the correlation of residuals errs wide
    where a neighbouring measure is known. Soldiers were surveyed: other bodies differ more. The
    survey's waist is at the navel; the natural waist hangs on it by a guess.

    References
    ----------
    ``natick-tr-15-007``: derived statistics.
    """
    entry = measure_entry(name)
    check_possible(body.measures_mm)
    given = body.middle().measures_mm
    if entry.name in given:
        return Estimate(entry.name, given[entry.name], 0.0, True, GIVEN)
    if body.group in ("girls", "boys"):
        return _child(body, given, entry.name)
    return _from_beliefs(_beliefs(body.group, given), entry.name)


def check_possible(measures_mm: Mapping[str, float]) -> None:
    """Refuse measures that no body has.

    Parameters
    ----------
    measures_mm : mapping of str to float
        By name, with or without a side [mm].

    Raises
    ------
    OutOfRangeError
        Naming the first, and the slip that would explain it.
    """
    for key, value in measures_mm.items():
        entry = measure_entry(key.partition(".")[0])
        if math.isfinite(value) and entry.min_mm <= value <= entry.max_mm:
            continue
        fits = [
            f"{slip}: {value * factor / 10:.1f} cm"
            for slip, factor in SLIPS.items()
            if entry.min_mm <= value * factor <= entry.max_mm
        ]
        span = f"from {entry.min_mm / 10:.0f} to {entry.max_mm / 10:.0f} cm"
        raise OutOfRangeError(
            f"{entry.says} of {value / 10:g} cm is impossible",
            key,
            f"{span}; perhaps {fits[0]}" if fits else f"give one {span}",
        )


def find_doubts(body: Body) -> tuple[Doubt, ...]:
    """Find given measures that the others make very unlikely.

    Parameters
    ----------
    body : Body
        The body.

    Returns
    -------
    tuple of Doubt
        The strangest first; empty if all fit.

    Notes
    -----
    Each is compared with its conditional distribution given the others; more than four standard
    deviations off is strange. A slip is named if mending it brings it within two and a half. The
    strangest is mended or left out before the rest are looked at again.
    Children are compared with their tables only.

    References
    ----------
    ``natick-tr-15-007``: derived statistics.
    """
    left = dict(body.middle().measures_mm)
    found: list[Doubt] = []
    while len(left) > 1:
        strange = max(_strangeness(body, left), key=lambda pair: pair[0], default=None)
        if strange is None or strange[0] <= STRANGE:
            break
        doubt = strange[1]
        found.append(doubt)
        del left[doubt.name]
        if doubt.slip:
            left = {**left, doubt.name: doubt.mended_mm}
        if len(found) > len(body.measures_mm):
            break
    return tuple(found)


def _strangeness(body: Body, given: Mapping[str, float]) -> list[tuple[float, Doubt]]:
    """Return how many deviations each measure is off what the others make likely."""
    found = []
    for name, value in given.items():
        others = {key: other for key, other in given.items() if key != name}
        try:
            expected = estimate(Body(MappingProxyType(others), body.group, body.age_years), name)
        except UnknownError:
            continue
        spread = math.hypot(expected.spread_mm, MEASURING_MM)
        off = abs(value - expected.value_mm) / spread
        found.append((off, _doubt(name, value, expected, spread)))
    return found


def _doubt(name: str, value: float, expected: Estimate, spread: float) -> Doubt:
    best, mended = "", value
    closest = 2.5 * spread
    for slip, factor in SLIPS.items():
        off = abs(value * factor - expected.value_mm)
        if off < closest:
            best, mended, closest = slip, value * factor, off
    return Doubt(name, value, expected.value_mm, spread, best, mended)


def estimated_measure(
    *,
    measure: str,
    group: str = "adult",
    stature_mm: float = 0.0,
    bust_girth_mm: float = 0.0,
    waist_girth_mm: float = 0.0,
    hip_girth_mm: float = 0.0,
    age_years: float = 0.0,
) -> Quantity:
    """Return an estimated measure of a body of which a few measures are known.

    Parameters
    ----------
    measure : str
        Name of the measure wanted.
    group : str
        ``women``, ``men``, ``adult``, ``girls`` or ``boys``.
    stature_mm : float
        Height; 0 if unknown [mm].
    bust_girth_mm : float
        Bust or chest girth; 0 if unknown [mm].
    waist_girth_mm : float
        Girth of the natural waist; 0 if unknown [mm].
    hip_girth_mm : float
        Hip girth; 0 if unknown [mm].
    age_years : float
        Age of a child; 0 for an adult [-].

    Returns
    -------
    Quantity
        Conditional mean with its 5th and 95th percentile [mm].

    Raises
    ------
    UnknownNameError
        If there is no such measure.
    InputError
        If the group is unknown.
    OutOfRangeError
        If a measure is impossible.

    References
    ----------
    ``natick-tr-15-007``: derived statistics.
    """
    known = {
        "stature": stature_mm,
        "bust_girth": bust_girth_mm,
        "waist_girth": waist_girth_mm,
        "hip_girth": hip_girth_mm,
    }
    measures = MappingProxyType({name: value for name, value in known.items() if value})
    found = estimate(Body(measures, group, age_years or None), measure)
    half = Z95 * found.spread_mm
    low, high = found.value_mm - half, found.value_mm + half
    return Quantity(found.value_mm, low, high, "mm", found.evidence, found.given)


def _beliefs(group: str, given: Mapping[str, float]) -> tuple[_Belief, ...]:
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


def _from_beliefs(beliefs: Sequence[_Belief], name: str) -> Estimate:
    top = max(belief.fit for belief in beliefs)
    weights = [math.exp(belief.fit - top) for belief in beliefs]
    total = sum(weights)
    predicted = [_predict(belief, name) for belief in beliefs]
    mean = sum(w * p[0] for w, p in zip(weights, predicted, strict=True)) / total
    variance = (
        sum(w * (p[1] + (p[0] - mean) ** 2) for w, p in zip(weights, predicted, strict=True))
        / total
    )
    evidence = max((p[2] for p in predicted), key=lambda found: found.grade.rank)
    return Estimate(name, mean, math.sqrt(variance), False, evidence)


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


def _child(body: Body, given: Mapping[str, float], name: str) -> Estimate:
    """Estimate a child's measure: from the tables, else by the proportions of adults."""
    age = body.age_years or 0.0
    if age > 19.0:
        adults = "women" if body.group == "girls" else "men"
        return _from_beliefs(_beliefs(adults, given), name)
    stature, stature_sd = _child_stature(body, given, age)
    if name == "stature":
        return Estimate(name, stature, stature_sd, False, Evidence("nchs-3-50", Grade.PUBLICATION))
    tabled = _tabled_child(body.group, age, name)
    usual = _child_middle(body.group, age, "stature")
    if tabled is not None:
        value = tabled.value_mm * stature / usual
        return Estimate(name, value, tabled.spread_mm, False, tabled.evidence)
    if name == "head_girth":
        value = min(_CHILD_HEAD_MM + 5.0 * (age - 6.0), 565.0)
        return Estimate(name, value, 20.0, False, _GUESS)
    adult = _from_beliefs(_beliefs("women" if body.group == "girls" else "men", {}), name)
    grown = population("women" if body.group == "girls" else "men").means_mm[0]
    share = math.pow(stature / grown, _growth(name))
    scaled = adult.value_mm * share
    grade = weakest(Grade.GUESS, adult.evidence.grade)
    return Estimate(name, scaled, _CHILD_SPREAD * scaled, False, Evidence("guess", grade))


def _growth(name: str) -> float:
    """Return the power of the stature with which a measure grows, a guess."""
    if name in _TRUNK_GIRTHS:
        return 1.5
    return 0.8 if measure_entry(name).run == "girth" else 1.0


def _child_stature(body: Body, given: Mapping[str, float], age: float) -> tuple[float, float]:
    if "stature" in given:
        return given["stature"], 0.0
    tabled = _tabled_child(body.group, age, "stature")
    return (tabled.value_mm, tabled.spread_mm) if tabled else (1200.0, 100.0)


def _child_middle(group: str, age: float, name: str) -> float:
    tabled = _tabled_child(group, age, name)
    return tabled.value_mm if tabled else 1200.0


def _tabled_child(group: str, age: float, name: str) -> Estimate | None:
    try:
        middle = child_measure(measure=name, group=group, age_years=age).value * 10.0
    except UnknownNameError:
        return None
    spread = 0.06 * middle
    for statistic in ("p95", "p5"):
        try:
            edge = child_measure(measure=name, group=group, age_years=age, statistic=statistic)
        except UnknownNameError:
            continue
        spread = abs(edge.value * 10.0 - middle) / Z95
        break
    return Estimate(name, middle, spread, False, Evidence("nchs-3-50", Grade.PUBLICATION))
