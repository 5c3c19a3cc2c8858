"""Measures that were not taken, estimated from those that were; slips of the tape that would explain impossible ones."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from functools import lru_cache
from types import MappingProxyType

from samite.garment.body import Body
from samite.kernel.errors import OutOfRangeError, UnknownNameError
from samite.kernel.evidence import GIVEN, Evidence, Grade, weakest
from samite.kernel.quantity import Z95, Quantity
from samite.pieces.measure_beliefs import Estimate, beliefs, from_beliefs, joint
from samite.pieces.measure_relations import GUESSED, RELATED, reconciled
from samite.tables.bodies import (
    child_measure,
    measure_entry,
    population,
)

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
    survey's waist is at the navel; the natural waist hangs on it by a guess. Waist, hip and crotch
    levels and the crotch's length are estimated together, so that they make one body.

    References
    ----------
    ``natick-tr-15-007``: derived statistics.
    """
    entry = measure_entry(name)
    check_possible(body.measures_mm)
    given = body.middle().measures_mm
    if entry.name in given:
        return Estimate(entry.name, given[entry.name], 0.0, True, GIVEN)
    if entry.name in RELATED:
        return _related(body.group, body.age_years, tuple(given.items()))[entry.name]
    return _by_itself(body.group, body.age_years, given, entry.name)


def _by_itself(
    group: str, age_years: float | None, given: Mapping[str, float], name: str
) -> Estimate:
    """Estimate a measure from the leading ones, whatever its neighbours are."""
    if group in ("girls", "boys"):
        return _child(Body(MappingProxyType(dict(given)), group, age_years), given, name)
    return from_beliefs(beliefs(group, given), name)


@lru_cache(maxsize=64)
def _related(
    group: str, age_years: float | None, pairs: tuple[tuple[str, float], ...]
) -> Mapping[str, Estimate]:
    """Estimate the measures that hang together, together."""
    given = {name: value for name, value in pairs if name in RELATED}
    others = {name: value for name, value in pairs if name not in RELATED}
    alone = [_by_itself(group, age_years, others, name) for name in RELATED]
    if group in ("girls", "boys"):
        means = tuple(one.value_mm for one in alone)
        spreads = [one.spread_mm for one in alone]
        together = tuple(
            tuple(spreads[i] ** 2 if i == j else 0.0 for j in range(len(alone)))
            for i in range(len(alone))
        )
    else:
        means, together = joint(beliefs(group, others), RELATED)
    values, sds = reconciled(means, together, given)
    found = {}
    for one, value, spread in zip(alone, values, sds, strict=True):
        by_guess = one.name in GUESSED or bool(given)
        found[one.name] = replace(
            one, value_mm=value, spread_mm=spread,
            evidence=Evidence("guess", weakest(Grade.GUESS, one.evidence.grade))
            if by_guess else one.evidence,
        )  # fmt: skip
    return MappingProxyType(found)


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


def _child(body: Body, given: Mapping[str, float], name: str) -> Estimate:
    """Estimate a child's measure: from the tables, else by the proportions of adults."""
    age = body.age_years or 0.0
    if age > 19.0:
        adults = "women" if body.group == "girls" else "men"
        return from_beliefs(beliefs(adults, given), name)
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
    adult = from_beliefs(beliefs("women" if body.group == "girls" else "men", {}), name)
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
