"""What sewn swatches say of a card's own seam: each trouble with its chance, and how sure that is."""

from __future__ import annotations

from dataclasses import dataclass

from samite.swatch.seam_learn import SewnCloth, counted
from samite.swatch.seam_place import SeamPlace
from samite.swatch.seam_reach import Reach, reaches
from samite.swatch.seam_taught import percentiles
from samite.swatch.seen import Sign


@dataclass(frozen=True, slots=True)
class SeamChance:
    """Chance that a seam shows one trouble.

    Parameters
    ----------
    sign : Sign
        The trouble.
    chance : float
        Mean [-].
    low, high : float
        5th and 95th percentile [-].
    seen : int
        Swatches that showed it [1].
    tried : int
        Swatches that looked for it [1].
    """

    sign: Sign
    chance: float
    low: float
    high: float
    seen: int
    tried: int


def seam_chances(known: SewnCloth, place: SeamPlace) -> tuple[SeamChance, ...]:
    """Return the chance of each trouble of a cloth's own seam after its swatches.

    Parameters
    ----------
    known : SewnCloth
        What is known of how it sews.
    place : SeamPlace
        The seam that is asked about, of the cloth to itself.

    Returns
    -------
    tuple of SeamChance
        One a trouble that the seam is asked for.

    References
    ----------
    derivation, docs/models/swatch-seams.md.
    """
    return tuple(_chance(known, reach) for reach in reaches(place, place.wants[0]))


def _chance(known: SewnCloth, reach: Reach) -> SeamChance:
    low, _, high = percentiles(reach.chance, known.belief(reach.sign))
    seen, tried = counted(known, reach.sign)
    return SeamChance(reach.sign, known.chance(reach), low, high, seen, tried)
