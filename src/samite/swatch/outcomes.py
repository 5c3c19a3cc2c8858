"""What a trial may show, and how likely each record is."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from samite.press.draws import normal_cdf
from samite.swatch.exposure import Exposure, Reach
from samite.swatch.limits import KnownLimits
from samite.swatch.records import unsaid_share
from samite.swatch.seen import Finding, Sign
from samite.tables.learning import learning_value

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]

USUAL_SIGN = {
    "glazes": Sign.SHINE,
    "scorches": Sign.COLOUR_OFF,
    "dulls": Sign.COLOUR_OFF,
    "loosens": Sign.STUCK,
    "curls": Sign.MELTED,
    "shrinks": Sign.SHRUNK,
    "is crushed": Sign.PILE_CRUSHED,
    "spots": Sign.WATER_SPOT,
}
"""The sign by which each way of being hurt usually shows first."""

SHRUNK_MM = 1.0
"""Shrinking that a possible record names in 10 cm [mm]."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """One record that a trial may lead to.

    Parameters
    ----------
    findings : tuple of Finding
        The record that would be written.
    chance : float
        Its chance, misreading included [-].
    """

    findings: tuple[Finding, ...]
    chance: float


def possible_outcomes(
    exposure: Exposure, limits: KnownLimits, weights: Real
) -> tuple[Outcome, ...]:
    """Return the records that a trial may lead to.

    Parameters
    ----------
    exposure : tuple of Reach
        What the trial puts the cloth to.
    limits : KnownLimits
        What is known of its limits.
    weights : ndarray of float, shape (draws,)
        What each draw counts [-].

    Returns
    -------
    tuple of Outcome
        The likeliest first: unharmed, or one way of being hurt, each with the seam flat or not.
        Two ways at once count with the likelier one. Chances sum to 1.

    Notes
    -----
    A record is misread with the stated chance, and then says anything with equal chance.
    """
    acts = [_acts(reach, limits) for reach in exposure]
    kinds: dict[str, Real] = {}
    for reach, act in zip(exposure, acts, strict=True):
        if reach.hurt != "set":
            spared = kinds.get(reach.hurt, np.ones_like(act))
            kinds[reach.hurt] = spared * (1.0 - act)
    sets = [act for reach, act in zip(exposure, acts, strict=True) if reach.hurt == "set"]
    flat = (1.0 - unsaid_share()) * np.sum(sets, axis=0) if sets else None
    return _told(_first_hurt(kinds, acts), flat, limits, weights)


def _first_hurt(kinds: dict[str, Real], acts: list[Real]) -> dict[str, Real]:
    """Return chances that sum to one: of no damage, and of each way as the one that is named."""
    whole = np.ones_like(acts[0]) if acts else np.ones((1, 1))
    unharmed = whole.copy()
    for spared in kinds.values():
        unharmed = unharmed * spared
    harmed = sum((1.0 - spared for spared in kinds.values()), start=np.zeros_like(whole))
    share = (1.0 - unharmed) / np.maximum(harmed, 1e-300)
    return {"": unharmed, **{hurt: (1.0 - spared) * share for hurt, spared in kinds.items()}}


def _told(
    hurts: dict[str, Real], flat: Real | None, limits: KnownLimits, weights: Real
) -> tuple[Outcome, ...]:
    misread = learning_value("swatch misread_percent").value / 100.0
    states: list[tuple[str, bool | None]] = [
        (hurt, lies) for hurt in hurts for lies in ((True, False) if flat is not None else (None,))
    ]
    found = []
    for hurt, lies in states:
        chance = hurts[hurt]
        if flat is not None:
            chance = chance * (flat if lies else 1.0 - flat)
        true = float(weights @ _mean(chance, limits))
        found.append(Outcome(_findings(hurt, lies), (1.0 - misread) * true + misread / len(states)))
    return tuple(sorted(found, key=lambda item: -item.chance))


def _mean(chance: Real, limits: KnownLimits) -> Real:
    if chance.shape[1] == 1 or limits.weights.shape[1] != chance.shape[1]:
        return np.asarray(chance.mean(axis=1))
    return np.asarray((chance * limits.weights).sum(axis=1))


def _findings(hurt: str, lies: bool | None) -> tuple[Finding, ...]:
    found = [Finding(Sign.SET_FLAT)] if lies else []
    if hurt:
        sign = USUAL_SIGN[hurt]
        found.append(Finding(sign, shrunk_mm=SHRUNK_MM if sign is Sign.SHRUNK else None))
    return tuple(found) or (Finding(Sign.NOTHING),)


def _acts(reach: Reach, limits: KnownLimits) -> Real:
    """Return the chance that the trial acts, draw by draw and sample by sample."""
    if reach.doubt in limits.doubts:
        score = limits.scores[limits.doubts.index(reach.doubt)]
        width, upper = reach.width[:, np.newaxis], reach.upper[:, np.newaxis]
        over = normal_cdf((upper - score) / width)
        under = (score < reach.lower[:, np.newaxis]).astype(np.float64)
        return np.asarray(reach.share * np.clip(over - under, 0.0, 1.0))
    wide = np.sqrt(1.0 + reach.width**2)
    chance = np.clip(normal_cdf(reach.upper / wide) - normal_cdf(reach.lower), 0.0, 1.0)
    samples = max(limits.weights.shape[1], 1)
    return np.tile((reach.share * chance)[:, np.newaxis], (1, samples))
