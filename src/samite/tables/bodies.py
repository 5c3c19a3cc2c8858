"""Body measures, survey statistics, size tables and tables of children."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from samite.kernel.errors import UnknownNameError
from samite.kernel.evidence import Evidence, weakest
from samite.kernel.quantity import Quantity
from samite.tables.loader import did_you_mean, read_table, read_toml

BODY_TABLES = (
    "body_measures.toml",
    "body_statistics.csv",
    "size_tables.csv",
    "child_statistics.csv",
    "body_relations.csv",
)
"""The files that answers of this module rest on, for `table_hash`."""

POPULATIONS = ("women", "men")
PREDICTORS = ("stature", "bust_girth", "navel_girth", "hip_girth")
_SLOPES = ("per_stature", "per_bust", "per_navel", "per_hip")
CM = 10.0


@dataclass(frozen=True, slots=True)
class MeasureEntry:
    """A body measure: its name, how to take it, what is possible.

    Parameters
    ----------
    name : str
        Name after ISO 8559-1, in one word.
    says : str
        As people say it.
    how : str
        How to take it.
    min_mm : float
        Smallest possible [mm].
    max_mm : float
        Largest possible [mm].
    run : str
        ``girth``, ``height`` or ``width``: how the tape runs.
    low_level : float
        Share of the stature where the tape runs or begins.
    high_level : float
        Share of the stature where it ends.
    side : str
        ``trunk`` or ``arm``.
    """

    name: str
    says: str
    how: str
    min_mm: float
    max_mm: float
    run: str
    low_level: float
    high_level: float
    side: str


@dataclass(frozen=True, slots=True)
class Line:
    """A measure as a straight line in the four leading measures of a population.

    Parameters
    ----------
    constant_mm : float
        Constant [mm].
    slopes : tuple of float
        On stature, bust, navel and hip girth.
    residual_mm : float
        Standard deviation about the line [mm].
    evidence : Evidence
        Where the line comes from.
    """

    constant_mm: float
    slopes: tuple[float, ...]
    residual_mm: float
    evidence: Evidence


@dataclass(frozen=True, slots=True)
class Population:
    """The joint normal distribution of the measures of a population.

    Parameters
    ----------
    name : str
        ``women`` or ``men``.
    means_mm : tuple of float
        Means of the four leading measures [mm].
    covariance_mm2 : tuple of tuple of float
        Their covariance [mm2].
    lines : mapping of str to Line
        Every other measure, by name.
    """

    name: str
    means_mm: tuple[float, ...]
    covariance_mm2: tuple[tuple[float, ...], ...]
    lines: Mapping[str, Line]


@cache
def measure_entries() -> Mapping[str, MeasureEntry]:
    """Return all body measures, by name.

    Returns
    -------
    mapping of str to MeasureEntry
        In the order of the table, from head to foot.
    """
    found = {}
    for name, entry in read_toml("body_measures.toml").items():
        low = float(entry["from"])
        found[name] = MeasureEntry(
            name,
            str(entry["says"]),
            str(entry["how"]),
            CM * float(entry["min"]),
            CM * float(entry["max"]),
            str(entry["run"]),
            low,
            float(entry.get("to", low)),
            str(entry.get("side", "trunk")),
        )
    return MappingProxyType(found)


def measure_entry(name: str) -> MeasureEntry:
    """Return one body measure.

    Parameters
    ----------
    name : str
        Its name, blanks or underscores.

    Returns
    -------
    MeasureEntry
        The measure.

    Raises
    ------
    UnknownNameError
        If there is none of that name.
    """
    entries = measure_entries()
    plain = re.sub(r"[\s-]+", "_", name.strip().casefold())
    found = entries.get(plain) or _by_words().get(plain) or entries.get(_ALIASES.get(plain, ""))
    if found is None:
        raise UnknownNameError(
            f"there is no body measure {name!r}", "measure", did_you_mean(plain, entries)
        )
    return found


@cache
def _by_words() -> Mapping[str, MeasureEntry]:
    return {re.sub(r"\s+", "_", entry.says): entry for entry in measure_entries().values()}


_ALIASES = {
    "height": "stature",
    "bust": "bust_girth",
    "chest": "bust_girth",
    "chest_girth": "bust_girth",
    "underbust": "underbust_girth",
    "waist": "waist_girth",
    "hip": "hip_girth",
    "hips": "hip_girth",
    "head": "head_girth",
    "neck": "neck_girth",
    "neck_base": "neck_base_girth",
    "upper_arm": "upper_arm_girth",
    "bicep": "upper_arm_girth",
    "wrist": "wrist_girth",
    "thigh": "thigh_girth",
    "knee": "knee_girth",
    "calf": "calf_girth",
    "ankle": "ankle_girth",
    "armhole": "armscye_girth",
    "armscye": "armscye_girth",
    "inside_leg": "inside_leg_length",
    "inseam": "inside_leg_length",
    "crotch_length": "total_crotch_length",
    "shoulder": "shoulder_length",
    "arm": "arm_length",
    "sleeve_length": "arm_length",
    "back_length": "back_waist_length",
    "front_length": "front_waist_length",
}


@cache
def population(name: str) -> Population:
    """Return the statistics of a population.

    Parameters
    ----------
    name : str
        ``women`` or ``men``.

    Returns
    -------
    Population
        The joint distribution.

    Raises
    ------
    UnknownNameError
        If there are no statistics under that name.
    """
    if name not in POPULATIONS:
        raise UnknownNameError(f"no statistics of {name!r}", "population", "women or men")
    values: dict[str, dict[str, Quantity]] = {}
    correlations: dict[str, float] = {}
    for row in read_table("body_statistics.csv", "measure"):
        group, _, measure = row.key.partition(".")
        if group != name:
            continue
        if row.property == "correlation":
            correlations[row.condition] = row.number.value
        elif measure:
            values.setdefault(measure, {})[row.property] = row.number
    means = tuple(CM * values[one]["mean_cm"].value for one in PREDICTORS)
    spreads = [CM * values[one]["sd_cm"].value for one in PREDICTORS]
    covariance = tuple(
        tuple(a * b * _correlation(correlations, i, j) for j, b in enumerate(spreads))
        for i, a in enumerate(spreads)
    )
    lines = {m: _line(found) for m, found in values.items() if "constant_cm" in found}
    return Population(name, means, covariance, MappingProxyType(lines))


def _correlation(found: Mapping[str, float], i: int, j: int) -> float:
    if i == j:
        return 1.0
    first, second = sorted((i, j))
    return found[f"{PREDICTORS[first]} with {PREDICTORS[second]}"]


def _line(found: Mapping[str, Quantity]) -> Line:
    constant = found["constant_cm"]
    slopes = tuple(found[s].value if s in found else 0.0 for s in _SLOPES)
    grade = weakest(
        constant.evidence.grade, *(found[s].evidence.grade for s in _SLOPES if s in found)
    )
    evidence = Evidence(constant.evidence.source, grade, constant.evidence.locator)
    return Line(CM * constant.value, slopes, CM * found["residual_cm"].value, evidence)


def survey_respondents(*, population_name: str) -> Quantity:
    """Return how many people a population's statistics rest on.

    Parameters
    ----------
    population_name : str
        ``women`` or ``men``.

    Returns
    -------
    Quantity
        Number of people [1].

    Raises
    ------
    UnknownNameError
        If there are no statistics under that name.

    References
    ----------
    ``natick-tr-15-007``: rows of the public data file.
    """
    for row in read_table("body_statistics.csv", "measure"):
        if row.key == population_name and row.property == "respondents":
            return row.number
    raise UnknownNameError(
        f"no statistics of {population_name!r}", "population_name", "women or men"
    )


def size_names() -> tuple[str, ...]:
    """Return the sizes of the table of women's girths.

    Returns
    -------
    tuple of str
        ``00`` to ``20``, as they are named.
    """
    rows = read_table("size_tables.csv", "measure")
    return tuple(dict.fromkeys(r.condition[5:] for r in rows if r.property == "girth_in"))


def size_girths(size: str) -> dict[str, Quantity]:
    """Return the girths of a women's size.

    Parameters
    ----------
    size : str
        ``00`` to ``20``.

    Returns
    -------
    dict of str to Quantity
        Girths by measure [in].

    Raises
    ------
    UnknownNameError
        If the table has no such size.
    """
    rows = read_table("size_tables.csv", "measure")
    wanted = f"size {size.strip()}"
    found = {r.key: r.number for r in rows if r.property == "girth_in" and r.condition == wanted}
    if not found:
        told = f"one of {', '.join(size_names())}"
        raise UnknownNameError(f"there is no size {size!r}", "size", told)
    return found


def size_girth(*, measure: str, size: str) -> Quantity:
    """Return one girth of a women's size.

    Parameters
    ----------
    measure : str
        Name of the measure, ``bust_girth``.
    size : str
        ``00`` to ``20``.

    Returns
    -------
    Quantity
        Girth [in].

    Raises
    ------
    UnknownNameError
        If the table has no such size or measure.

    References
    ----------
    ``astm-d5585-11e1``: girth rows; hip and lengths were not seen.
    """
    girths = size_girths(size)
    name = measure if measure in girths else measure_entry(measure).name
    if name not in girths:
        raise UnknownNameError(
            f"the size table has no {measure}", "measure", f"one of {', '.join(girths)}"
        )
    return girths[name]


def bust_class_edges_cm() -> tuple[float, ...]:
    """Return the limits of the European bust classes.

    Returns
    -------
    tuple of float
        Limits, ascending [cm].

    References
    ----------
    ``en-13402-3-page``: 74 to 102 by 4, 107 to 131 by 6.
    """
    rows = read_table("size_tables.csv", "measure")
    return tuple(row.number.value for row in rows if row.property == "class_edge_cm")


def bust_class_count(*, low_cm: float = 74.0, high_cm: float = 131.0) -> int:
    """Return how many European bust classes lie between two of their limits.

    Parameters
    ----------
    low_cm : float
        Lower limit [cm].
    high_cm : float
        Upper limit [cm].

    Returns
    -------
    int
        Classes that lie wholly between.

    References
    ----------
    ``en-13402-3-page``: twelve sizes.
    """
    inside = [edge for edge in bust_class_edges_cm() if low_cm <= edge <= high_cm]
    return max(len(inside) - 1, 0)


def child_measure(
    *, measure: str, group: str, age_years: float, statistic: str = "p50"
) -> Quantity:
    """Return a measure of children of an age.

    Parameters
    ----------
    measure : str
        ``stature``, ``hip_girth``, ``upper_arm_girth``, ``upper_arm_length``,
        ``upper_leg_length`` or ``iliac_girth``, which surveys call the waist.
    group : str
        ``girls`` or ``boys``.
    age_years : float
        Age, 2 to 19 [-].
    statistic : str
        ``mean``, ``p5``, ``p50`` or ``p95``.

    Returns
    -------
    Quantity
        Its value for the two years of age printed together [cm].

    Raises
    ------
    UnknownNameError
        If the table has no such measure, group, age or statistic.

    References
    ----------
    ``nchs-3-50``: tables of measures by age.
    """
    young = 2 * int(age_years // 2)
    wanted = f"{group} {young}-{young + 1}"
    for row in read_table("child_statistics.csv", "measure"):
        if (row.key, row.property, row.condition) == (measure, f"{statistic}_cm", wanted):
            return row.number
    raise UnknownNameError(
        f"the tables have no {statistic} of {measure} for {wanted}",
        "measure",
        "girls or boys from 2 to 19; mean, p5, p50 or p95",
    )
