"""What sewn swatches taught a joint: chances of trouble and ranges of its numbers, before and after."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from samite.kernel.evidence import Evidence, Grade
from samite.kernel.quantity import Quantity
from samite.seam.appraise import Numbers
from samite.seam.wants import Wants, each
from samite.swatch.seam_choice import SewChoice, sew_choice
from samite.swatch.seam_learn import SewnCloth, before, counted
from samite.swatch.seam_place import SeamPlace
from samite.swatch.seam_reach import (
    Reach,
    cloth_n_per_cm,
    gives_percent,
    reaches,
    stitching_n_per_cm,
)
from samite.swatch.seen import Sign

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]

OWN = Evidence("own-swatch", Grade.MEASURED_HERE)
LEVELS = (0.05, 0.5, 0.95)


@dataclass(frozen=True, slots=True)
class TroubleChance:
    """Chance that a joint shows one trouble.

    Parameters
    ----------
    sign : Sign
        The trouble.
    cloth : str
        The cloth of the joint that it is likeliest in.
    before : float
        Chance by the tables alone [-].
    before_range : tuple of (float, float)
        5th and 95th percentile of what was believed of it [-].
    after : float
        Chance now [-].
    after_range : tuple of (float, float)
        5th and 95th percentile of what is believed of it now [-].
    seen, tried : int
        Swatches of that cloth that showed it, of how many that looked for it [1].
    """

    sign: Sign
    cloth: str
    before: float
    before_range: tuple[float, float]
    after: float
    after_range: tuple[float, float]
    seen: int
    tried: int


@dataclass(frozen=True, slots=True)
class SeamTaught:
    """What swatches taught a joint.

    Parameters
    ----------
    swatches : int
        Sewn swatches of its cloths that were learnt from [1].
    set_aside : int
        Those set aside [1].
    alike : int
        Sewn swatches of cloths alike that lend a part [1].
    troubles : tuple of TroubleChance
        The likeliest first.
    ranges : dict of str to Quantity
        Numbers of the best way whose ranges swatches moved.
    gives_way : str
        ``stitching`` or the name of the cloth that breaks first, where a pull was learnt from.
    numbers : Numbers
        All numbers of the best way by the tables alone.
    rather : tuple of (str, float, float)
        A better way in words, what the card's own way is expected to cost, and what that one does;
        none if the card's own stays the best, or the joint is of unlike cloths [-].
    """

    swatches: int
    set_aside: int
    alike: int
    troubles: tuple[TroubleChance, ...]
    ranges: dict[str, Quantity]
    gives_way: str
    numbers: Numbers
    rather: tuple[str, float, float] | None


def taught_of(place: SeamPlace, known: Sequence[SewnCloth], numbers: Numbers) -> SeamTaught | None:
    """Return what swatches taught a joint.

    Parameters
    ----------
    place : SeamPlace
        The best way, stretched and pulled as in wear.
    known : sequence of SewnCloth
        What is known of each of its cloths, in their order.
    numbers : Numbers
        What it will do by the tables alone.

    Returns
    -------
    SeamTaught or None
        None if nothing was learnt of any: the answer is then that of the tables.

    Notes
    -----
    A trouble is as likely as in the cloth that shows it most; a number is that of the cloth that
    gives way first. Swatches are of one cloth sewn to itself: that a joint of unlike cloths puckers
    or skips as its parts do is assumed.

    References
    ----------
    derivation, docs/models/swatch-seams.md.
    """
    pairs = [
        (one, next(sewn for sewn in known if sewn.cloth is one.cloth)) for one in each(place.wants)
    ]
    if not any(sewn.teaches for _, sewn in pairs):
        return None
    ranges, gives_way = _ranges(place, pairs)
    return SeamTaught(
        swatches=sum(len(sewn.used) for _, sewn in pairs),
        set_aside=sum(sewn.set_aside for _, sewn in pairs),
        alike=sum(sewn.alike for _, sewn in pairs),
        troubles=_troubles(place, pairs),
        ranges=ranges,
        gives_way=gives_way,
        numbers=numbers,
        rather=_rather(place, pairs),
    )


Pairs = Sequence[tuple[Wants, SewnCloth]]


def _troubles(place: SeamPlace, pairs: Pairs) -> tuple[TroubleChance, ...]:
    found: dict[Sign, TroubleChance] = {}
    first: dict[Sign, TroubleChance] = {}
    for one, sewn in pairs:
        for reach in reaches(place, one):
            chance, sign = _chance(one, sewn, reach), reach.sign
            if sign not in first or chance.before > first[sign].before:
                first[sign] = chance
            if sign not in found or chance.after > found[sign].after:
                found[sign] = chance
    both = [
        replace(item, before=first[sign].before, before_range=first[sign].before_range)
        for sign, item in found.items()
    ]
    return tuple(sorted(both, key=lambda item: -item.after))


def _chance(one: Wants, sewn: SewnCloth, reach: Reach) -> TroubleChance:
    first, now = before(reach.sign), sewn.belief(reach.sign)
    return TroubleChance(
        reach.sign,
        one.name,
        float((first * reach.chance).sum()),
        percentiles(reach.chance, first)[::2],
        sewn.chance(reach),
        percentiles(reach.chance, now)[::2],
        *counted(sewn, reach.sign),
    )


def percentiles(values: Real, mass: Real) -> tuple[float, float, float]:
    """Return the 5th, 50th and 95th percentile of values that each have a chance.

    Parameters
    ----------
    values : ndarray of float
        Values, in any unit [-].
    mass : ndarray of float, same shape
        Their chances; they sum to 1 [-].

    Returns
    -------
    tuple of (float, float, float)
        In that unit [-].

    References
    ----------
    definition, by straight lines between the middles of the steps.
    """
    order = np.argsort(values, axis=None)
    ranked, share = values.ravel()[order], mass.ravel()[order]
    middle = np.cumsum(share) - 0.5 * share
    low, half, high = (float(np.interp(level, middle, ranked)) for level in LEVELS)
    return low, half, high


def _ranges(place: SeamPlace, pairs: Pairs) -> tuple[dict[str, Quantity], str]:
    """Return the numbers that swatches moved, and what gives way first if a pull was tried."""
    found: dict[str, Quantity] = {}
    stretched = [sewn for _, sewn in pairs if Sign.CRACKED in sewn.said]
    if stretched:
        gives = gives_percent(place)
        spans = [percentiles(gives, sewn.belief(Sign.CRACKED)) for sewn in stretched]
        found["stretch_percent"] = _quantity(min(spans, key=lambda span: span[1]), "%")
    if any(Sign.BROKE in sewn.said for _, sewn in pairs):
        forces, gives_way = _forces(place, pairs)
        return found | forces, gives_way
    return found, ""


def _forces(place: SeamPlace, pairs: Pairs) -> tuple[dict[str, Quantity], str]:
    """Stitching, the weaker cloth and the joint: of all cloths, that which gives way first."""
    stitching = stitching_n_per_cm(place)
    rows = []
    for one, sewn in pairs:
        belief, cloth = sewn.belief(Sign.BROKE), cloth_n_per_cm(place, one.cloth)
        held = np.minimum(stitching[:, np.newaxis], cloth[np.newaxis, :])
        rows.append(
            (
                percentiles(held, belief),
                percentiles(stitching, belief.sum(axis=1)),
                percentiles(cloth, belief.sum(axis=0)),
                one.name,
            )
        )
    held_, sewn_, torn, name = min(rows, key=lambda row: row[0][1])
    spans = {
        "strength_n_per_cm": held_,
        "stitching_n_per_cm": sewn_,
        "weakest_cloth_n_per_cm": torn,
    }
    gives_way = "stitching" if sewn_[1] <= torn[1] else name
    return {key: _quantity(span, "N/cm") for key, span in spans.items()}, gives_way


def _quantity(span: tuple[float, float, float], unit: str) -> Quantity:
    low, middle, high = span
    return Quantity(middle, low, high, unit, OWN)


WORTH_A_CHANGE = 0.02
"""Saving under which no other way is told [-]."""


def _rather(place: SeamPlace, pairs: Pairs) -> tuple[str, float, float] | None:
    if len(pairs) > 1:
        return None
    choice: SewChoice = sew_choice(pairs[0][1], place)
    costs = choice.costs
    best = choice.best
    if costs[0] - costs[best] < WORTH_A_CHANGE:
        return None
    return choice.ways[best].words, float(costs[0]), float(costs[best])
