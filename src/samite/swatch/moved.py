"""The doubts before and after: what swatches moved, in units that a person reads."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from samite.cloth.model import Cloth
from samite.kernel.quantity import Quantity
from samite.press.judge import own_pace, transition_doubts, transitions
from samite.press.weakness import weaknesses
from samite.swatch.limits import EDGES
from samite.tables.irons import Iron

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from samite.swatch.study import Study

    Real = NDArray[np.float64]

LEVELS = (0.05, 0.5, 0.95)
"""Percentiles that are told."""


@dataclass(frozen=True, slots=True)
class Moved:
    """One doubt before and after, as 5th, 50th and 95th percentile in its own unit.

    Parameters
    ----------
    doubt : str
        Its name.
    owner : str
        Whose it is: ``cloth``, ``iron`` or ``person``.
    unit : str
        Its unit.
    before, after : tuple of float
        Three percentiles each.
    sharper : float
        By what share its spread, in scores, shrank; negative if it grew [-].
    """

    doubt: str
    owner: str
    unit: str
    before: tuple[float, float, float]
    after: tuple[float, float, float]
    sharper: float


def what_moved(known: Study, cloth: Cloth, iron: Iron, maker: str) -> tuple[Moved, ...]:
    """Return the doubts that swatches speak of, before and after.

    Parameters
    ----------
    known : Study
        What was weighed.
    cloth : Cloth
        The cloth.
    iron : Iron
        The iron.
    maker : str
        Whose hand.

    Returns
    -------
    tuple of Moved
        First the one that sharpened most.
    """
    from samite.swatch.study import pace_doubt

    found = [
        _moved(doubt, "cloth", limit, _limit_scores(known, doubt))
        for doubt, limit in _limits_of(cloth).items()
        if doubt in known.limits.doubts
    ]
    drawn: list[tuple[str, str, str, Quantity]] = [
        (CONTACT, CONTACT, "cloth", iron.conductance_dry_w_m2k),
        (THICKNESS, THICKNESS, "cloth", cloth.thickness_mm),
    ]
    drawn += [
        (SOLE, f"sole of the {iron.name} at {item.word}", "iron", item.sole_c)
        for item in iron.settings
        if item.key in _dials(known)
    ]
    for name, told, owner, quantity in drawn:
        if name in known.draws.names:
            after = _percentiles(known.draws.score(name), known.weights)
            found.append(_moved(told, owner, quantity, after))
    pace = pace_doubt(maker)
    if pace in known.draws.names:
        found.append(_pace(_percentiles(known.draws.score(pace), known.weights)))
    return tuple(sorted(found, key=lambda item: -item.sharper))


CONTACT = "contact of iron and cloth"
THICKNESS = "thickness of the cloth"
SOLE = "sole temperature at this dial"

PRIOR_SCORES = (-1.6448536269514722, 0.0, 1.6448536269514722)


def _limits_of(cloth: Cloth) -> dict[str, Quantity]:
    found = {part.doubt: part.limit_c for part in weaknesses(cloth)}
    named = zip(transition_doubts(cloth), transitions(cloth), strict=True)
    return found | {doubt: transition for doubt, (transition, _, _) in named}


def _dials(known: Study) -> set[str]:
    own = known.bound.iron_key
    return {p.trial.dial.value for p in known.pressings if p.trial.iron_key == own}


def _limit_scores(known: Study, doubt: str) -> tuple[float, float, float]:
    table = known.weights @ known.limits.below[known.limits.doubts.index(doubt)]
    low, middle, high = (float(np.interp(level, table, EDGES)) for level in LEVELS)
    return low, middle, high


def _percentiles(scores: Real, weights: Real) -> tuple[float, float, float]:
    order = np.argsort(scores)
    mass = np.cumsum(weights[order]) - 0.5 * weights[order]
    low, middle, high = (float(np.interp(level, mass, scores[order])) for level in LEVELS)
    return low, middle, high


def _moved(told: str, owner: str, quantity: Quantity, after: tuple[float, float, float]) -> Moved:
    before = quantity.at(np.array(PRIOR_SCORES))
    now = quantity.at(np.array(after))
    sharper = 1.0 - (after[2] - after[0]) / (PRIOR_SCORES[2] - PRIOR_SCORES[0])
    return Moved(told, owner, quantity.unit, _three(before), _three(now), sharper)


def _pace(after: tuple[float, float, float]) -> Moved:
    before, now = own_pace(np.array(PRIOR_SCORES)), own_pace(np.array(after))
    sharper = 1.0 - (after[2] - after[0]) / (PRIOR_SCORES[2] - PRIOR_SCORES[0])
    return Moved(
        "seconds pressed for each counted", "person", "1", _three(before), _three(now), sharper
    )


def _three(values: Real) -> tuple[float, float, float]:
    low, middle, high = (float(value) for value in values)
    return low, middle, high
