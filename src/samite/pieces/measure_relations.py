"""Measures of hip and leg that hang together: what is estimated of them is estimated as one."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from samite.tables.body_relations import relation_value

GUESSED = ("waist_height", "waist_to_hip", "body_rise", "total_crotch_length")
"""Measures whose statistics are guesses: they give way to the relations."""

SURVEYED = ("inside_leg_length", "hip_height", "hip_depth")
"""Measures of the survey: the relations leave them alone unless one of the others was given."""

RELATED = (*GUESSED, *SURVEYED)
"""All measures that the relations join, in the order of the vectors here."""

_ROUNDS = 4
_STEP_MM = 0.5
_LEAST_MM = 10.0

Vector = tuple[float, ...]
Matrix = tuple[Vector, ...]


@dataclass(frozen=True, slots=True)
class _Relation:
    """Something that is nought on a body, give or take.

    Parameters
    ----------
    off : callable
        How far measures are off it [mm].
    spread_mm : float
        By how much bodies differ from it [mm].
    """

    off: Callable[[Sequence[float]], float]
    spread_mm: float


def crotch_loop_mm(*, waist_to_hip_mm: float, body_rise_mm: float, hip_depth_mm: float) -> float:
    """Return how long the crotch of a body is between its waist and its depth.

    Parameters
    ----------
    waist_to_hip_mm : float
        From waist to hip [mm].
    body_rise_mm : float
        From waist to crotch [mm].
    hip_depth_mm : float
        Front to back at the hip [mm].

    Returns
    -------
    float
        Waist in front to waist behind between the legs [mm].

    Notes
    -----
    Two tapes down to the hip, two quarters of a super-ellipse from there to the crotch point. It
    errs by what belly and seat differ from that, 15 mm by a guess.

    References
    ----------
    ``derivation``: quarter arcs; ``guess``: their shape.
    """
    share = relation_value("crotch_loop", "loop_front_share").value
    power = relation_value("crotch_loop", "loop_power").value
    depth = hip_depth_mm * relation_value("crotch_loop", "loop_depth").value
    under = body_rise_mm - waist_to_hip_mm
    # never under nought, so that hopeless measures still have a slope back
    fall = (under + math.hypot(under, 2.0 * _LEAST_MM)) / 2.0
    arcs = sum(
        float((part**power + fall**power) ** (1.0 / power))
        for part in (share * depth, (1.0 - share) * depth)
    )
    return 2.0 * relation_value("crotch_loop", "loop_slant").value * waist_to_hip_mm + arcs


def reconciled(
    means_mm: Vector, covariance_mm2: Matrix, given: Mapping[str, float]
) -> tuple[Vector, Vector]:
    """Return the related measures as they agree with each other and with those given.

    Parameters
    ----------
    means_mm : tuple of float
        What is believed of `RELATED`, each by itself [mm].
    covariance_mm2 : tuple of tuple of float
        Their covariance [mm2].
    given : mapping of str to float
        Those that were measured [mm].

    Returns
    -------
    tuple of (tuple of float, tuple of float)
        Values and standard deviations, in the order of `RELATED` [mm].

    Notes
    -----
    The relations, drawn as straight lines, move the guessed measures only; then those given condition
    all of them. The lines are drawn anew at what was found. Where more was given than the
    relations leave free, what was given stands.

    References
    ----------
    ``derivation``: Kalman's update with a part that is considered only.
    """
    at, free = means_mm, len(GUESSED)
    found, spread = means_mm, covariance_mm2
    for _ in range(_ROUNDS):
        found, spread = means_mm, covariance_mm2
        for relation in _relations():
            slopes = _slopes(relation, at)
            there = relation.off(at) + sum(
                s * (x - a) for s, x, a in zip(slopes, found, at, strict=True)
            )
            found, spread = _updated(found, spread, slopes, -there, relation.spread_mm, free)
        for k, name in enumerate(RELATED):
            if name in given:
                slopes = tuple(float(j == k) for j in range(len(RELATED)))
                found, spread = _updated(
                    found, spread, slopes, given[name] - found[k], 0.0, len(RELATED)
                )
        at = found
    sds = tuple(math.sqrt(max(spread[k][k], 0.0)) for k in range(len(RELATED)))
    return found, sds


def _updated(
    mean: Vector, covariance: Matrix, slopes: Vector, gap: float, noise: float, free: int
) -> tuple[Vector, Matrix]:
    """Condition on one reading; only the first so many measures move."""
    size = range(len(mean))
    shared = [sum(covariance[i][j] * slopes[j] for j in size) for i in size]
    moving = sum(
        slopes[i] * covariance[i][j] * slopes[j]
        for i, j in itertools.product(range(free), repeat=2)
    )
    own = [sum(covariance[i][j] * slopes[j] for j in range(free)) for i in range(free)]
    total = sum(s * c for s, c in zip(slopes, shared, strict=True)) + noise**2
    scale = moving + noise**2
    if scale < 1e-9:
        return mean, covariance
    gain = [own[i] / scale if i < free else 0.0 for i in size]
    moved = tuple(m + g * gap for m, g in zip(mean, gain, strict=True))
    spread = tuple(
        tuple(
            covariance[i][j] - gain[i] * shared[j] - gain[j] * shared[i] + gain[i] * gain[j] * total
            for j in size
        )
        for i in size
    )
    return moved, spread


def _slopes(relation: _Relation, at: Sequence[float]) -> Vector:
    found = []
    for k in range(len(at)):
        ends = [
            relation.off([x + (step if j == k else 0.0) for j, x in enumerate(at)])
            for step in (-_STEP_MM, _STEP_MM)
        ]
        found.append((ends[1] - ends[0]) / (2.0 * _STEP_MM))
    return tuple(found)


@lru_cache(maxsize=1)
def _relations() -> tuple[_Relation, ...]:
    place = {name: k for k, name in enumerate(RELATED)}
    waist, drop, rise = place["waist_height"], place["waist_to_hip"], place["body_rise"]
    sitting = 10.0 * relation_value("leg_level", "sitting_cm").value

    def loop(x: Sequence[float]) -> float:
        return x[place["total_crotch_length"]] - crotch_loop_mm(
            waist_to_hip_mm=x[drop], body_rise_mm=x[rise], hip_depth_mm=x[place["hip_depth"]]
        )

    def leg(x: Sequence[float]) -> float:
        return x[waist] + sitting - x[rise] - x[place["inside_leg_length"]]

    def hip(x: Sequence[float]) -> float:
        return x[waist] - x[drop] - x[place["hip_height"]]

    return tuple(
        _Relation(off, 10.0 * relation_value(name, "relation_spread_cm").value)
        for name, off in (("leg_level", leg), ("hip_level", hip), ("crotch_loop", loop))
    )
