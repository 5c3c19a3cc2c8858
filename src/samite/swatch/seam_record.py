"""What sewn swatches say: how often a trouble showed on seams sewn alike, and how sure that is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from samite.swatch.seen import Sign, Sureness
from samite.swatch.trial import SewTrial, Swatch
from samite.tables.learning import learning_value

TROUBLES = (Sign.PUCKERED, Sign.SKIPPED, Sign.PERFORATED, Sign.FRAYED, Sign.CRACKED)
"""What a seam can show, each a need of its own."""

NEAR_SIZE_NM = 10
"""Needles that differ by no more count as one [Nm]."""

GRID = np.linspace(0.0, 1.0, 1002)[1:-1]


@dataclass(frozen=True, slots=True)
class SeamChance:
    """Chance that a seam sewn alike shows one trouble.

    Parameters
    ----------
    sign : Sign
        The trouble.
    chance : float
        Mean [-].
    low, high : float
        5th and 95th percentile [-].
    seen : int
        Swatches sewn alike that showed it [1].
    tried : int
        Swatches sewn alike [1].
    """

    sign: Sign
    chance: float
    low: float
    high: float
    seen: int
    tried: int


def alike(one: SewTrial, other: SewTrial) -> bool:
    """Say whether two seams are sewn alike.

    Parameters
    ----------
    one : SewTrial
        One.
    other : SewTrial
        The other.

    Returns
    -------
    bool
        True for the same stitch, point of the needle and fibre of the thread, and a needle of
        about the same size; length, width and tension of the stitch are left free.
    """
    return (
        one.stitch_type == other.stitch_type
        and one.needle_point.casefold() == other.needle_point.casefold()
        and one.thread_fibre.casefold() == other.thread_fibre.casefold()
        and abs(one.needle_size_nm - other.needle_size_nm) <= NEAR_SIZE_NM
    )


def seam_chances(swatches: Sequence[Swatch], like: SewTrial) -> tuple[SeamChance, ...]:
    """Return the chance of each trouble from the swatches sewn alike.

    Parameters
    ----------
    swatches : sequence of Swatch
        Swatches of one cloth; those set aside, or not sewn alike, count for nothing.
    like : SewTrial
        The seam that is asked about.

    Returns
    -------
    tuple of SeamChance
        One a trouble.

    Notes
    -----
    The seam engine has no chance of its own to learn by: a guess of so many seams stands in front,
    and every swatch is one more, right as often as is stated. Nothing is learnt of why: needle,
    thread and tension are not told apart.

    References
    ----------
    derivation, Bayes' rule with a beta distribution in front, docs/models/swatch.md.
    """
    sewn = [item for item in swatches if item.sew and not item.set_aside and alike(item.sew, like)]
    return tuple(_chance(sign, sewn) for sign in TROUBLES)


def _chance(sign: Sign, sewn: Sequence[Swatch]) -> SeamChance:
    mean = learning_value("seam trouble_percent").value / 100.0
    weight = learning_value("seam prior_seams").value
    log = (weight * mean - 1.0) * np.log(GRID) + (weight * (1.0 - mean) - 1.0) * np.log1p(-GRID)
    seen = 0
    for item in sewn:
        finding = item.finding(sign)
        seen += finding is not None
        wrong = _wrong(finding.sureness if finding else Sureness.CLEAR)
        event = GRID if finding else 1.0 - GRID
        log = log + np.log((1.0 - wrong) * event + wrong * (1.0 - event))
    mass = np.exp(log - log.max())
    mass /= mass.sum()
    low, high = np.interp((0.05, 0.95), np.cumsum(mass), GRID)
    return SeamChance(sign, float(mass @ GRID), float(low), float(high), seen, len(sewn))


def _wrong(sureness: Sureness) -> float:
    """Return the chance that the contrary of a record is true."""
    misread = 0.5 * learning_value("swatch misread_percent").value / 100.0
    if sureness is Sureness.CLEAR:
        return misread
    return misread + learning_value("sign doubtful_percent").value / 100.0
