"""How likely each trouble of a seam is, over the doubts about its cloth, by the seam engine's numbers."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from samite.cloth.model import Cloth
from samite.garment.use import Use
from samite.kernel.quantity import Z95
from samite.press.draws import normal_cdf
from samite.seam.forces import cloth_limit_n_per_cm, stitching_strength_n_per_cm
from samite.seam.make_candidates import stretch_of
from samite.seam.needle_size import perforation_share
from samite.seam.points import POINTS, point_objection
from samite.seam.pucker_causes import pucker_causes
from samite.seam.ranges import CLOTH, STITCHING
from samite.seam.slippage import slippage_risk
from samite.seam.trouble import tears_along_holes
from samite.seam.wants import Wants
from samite.swatch.seam_place import SeamPlace
from samite.swatch.seen import Sign
from samite.tables.learning import learning_value

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]

NODES = np.linspace(-4.5, 4.5, 121)
"""Scores of a doubt that are summed over: high means more trouble [-]."""

BEYOND = np.array([0.6, 0.45, 0.33, 0.2, 0.1])
"""Strength or stretch over what is computed, for a cloth that the engine misses: what no range
reaches must not stay impossible, however often it is seen [-]."""

BEYOND_CHANCE = 0.7
"""Chance of any other trouble in such a cloth, whatever needle and stitch [-]."""


def prior() -> Real:
    """Return the chance of each step of a doubt before anything was sewn.

    Returns
    -------
    ndarray of float, shape (steps,)
        Over `NODES` and then `BEYOND`; sums to 1 [-].

    References
    ----------
    derivation, docs/models/swatch-seams.md.
    """
    missed = value("engine_misses_percent") / 100.0
    usual = np.exp(-0.5 * NODES**2)
    beyond = np.full(len(BEYOND), missed / len(BEYOND))
    return np.concatenate([(1.0 - missed) * usual / usual.sum(), beyond])


def _with_beyond(chance: Real) -> Real:
    return np.concatenate([chance, np.full(len(BEYOND), BEYOND_CHANCE)])


TROUBLES = (
    Sign.PUCKERED,
    Sign.SKIPPED,
    Sign.PERFORATED,
    Sign.FRAYED,
    Sign.CRACKED,
    Sign.BROKE,
)
"""What a seam can show; each has doubts of its own."""

OVERLOCKED = ("504", "514", "516")
"""Stitches whose threads hold the edge."""

ENDS = 0.001
"""Chances are kept from 0 and 1 by so much where a score is taken of them [-]."""


@dataclass(frozen=True, slots=True, eq=False)
class Reach:
    """How likely one trouble is over the scores of its doubts.

    Parameters
    ----------
    sign : Sign
        The trouble.
    chance : ndarray of float, shape (steps,), or (steps, steps) of `BROKE`
        Chance over `NODES` and `BEYOND`; of a break, over the stitching and then the cloth [-].
    """

    sign: Sign
    chance: Real


def reaches(place: SeamPlace, one: Wants) -> tuple[Reach, ...]:
    """Return how likely each trouble is that a seam can show in one of its cloths.

    Parameters
    ----------
    place : SeamPlace
        The seam; cracks are asked for only where it is stretched, breaks only where it is pulled.
    one : Wants
        The cloth that is looked at, one of the seam's.

    Returns
    -------
    tuple of Reach
        In the order of `TROUBLES`.

    Notes
    -----
    Each trouble is a number of the seam engine against a limit, both on a log scale, blurred as
    seams sewn alike differ; the cloth's own doubt moves the number. Skipping and slipping, of which
    the engine has only a level, start from a chance by level. Nothing is common between doubts.

    References
    ----------
    derivation, docs/models/swatch-seams.md.
    """
    found = [
        Reach(Sign.PUCKERED, _puckers(place)),
        Reach(Sign.SKIPPED, _skips(place, one)),
        Reach(Sign.PERFORATED, _perforates(place, one.cloth)),
        Reach(Sign.FRAYED, _frays(place, one.cloth)),
    ]
    if place.stretch_percent is not None:
        found.append(Reach(Sign.CRACKED, cracked_by(place, place.stretch_percent)))
    if place.load_n_per_cm is not None:
        found.append(Reach(Sign.BROKE, broke_under(place, one.cloth, place.load_n_per_cm)))
    return tuple(found)


def value(name: str) -> float:
    """Return the middle of a value of the table about seams.

    Parameters
    ----------
    name : str
        Its property.

    Returns
    -------
    float
        In the unit that the name ends with.
    """
    return learning_value(f"seam {name}").value


def _blur(name: str) -> float:
    """Return the standard deviation of the logarithm of a value with a range."""
    found = learning_value(f"seam {name}")
    return math.log(found.high / found.low) / (2.0 * Z95)


def _puckers(place: SeamPlace) -> Real:
    """Chance that the waves are high enough to be called so: excess over that of such a wave."""
    causes = pucker_causes(place.candidate, place.settled, place.cloths)
    excess = max(*(share for _, share in causes), value("least_excess_percent"))
    seen = 100.0 * (math.pi * value("pucker_seen_mm") / (2.0 * WAVE_MM)) ** 2
    moved = learning_value("seam pucker_factor").at(NODES)
    # The height goes with the root of the excess.
    blur = 2.0 * _blur("pucker_seen_mm")
    return _with_beyond(normal_cdf(np.log(excess * moved / seen) / blur))


WAVE_MM = 10.0
"""Distance from wave to wave that `pucker_height_mm` counts with [mm]."""


def _by_level(percent: float, moved: float) -> Real:
    """Chance from that of a level, moved in standard deviations; the cloth's own share is learnt."""
    share = min(max(percent / 100.0, ENDS), 1.0 - ENDS)
    own = value("own_share_percent") / 100.0
    score = _score(share) + moved
    return _with_beyond(normal_cdf((score + math.sqrt(own) * NODES) / math.sqrt(1.0 - own)))


def _score(chance: float) -> float:
    from statistics import NormalDist

    return NormalDist().inv_cdf(chance)


POINT_LEVELS = ("none", "will_do", "risky", "cannot")
SLIP_LEVELS = ("none", "low", "some", "high")


def _skips(place: SeamPlace, one: Wants) -> Real:
    needle = place.settled.needle
    point = needle.point if needle.point in POINTS else "universal"
    level = POINT_LEVELS[point_objection(one.cloth, point).level]
    stouter = (needle.size_nm - one.needle.value.size_nm) / 10.0
    moved = -value("skips_size_step") * min(max(stouter, -3.0), 3.0)
    return _by_level(value(f"skips_{level}_percent"), moved)


def _perforates(place: SeamPlace, cloth: Cloth) -> Real:
    limit = learning_value(f"seam holes_{'tears' if tears_along_holes(cloth) else 'firm'}")
    share = perforation_share(
        size_nm=place.settled.needle.size_nm, stitch_length_mm=place.stitch.length_mm
    )
    blur = math.log1p(value("holes_blur_percent") / 100.0)
    return _with_beyond(normal_cdf((math.log(share) - np.log(limit.at(-NODES))) / blur))


def _frays(place: SeamPlace, cloth: Cloth) -> Real:
    level = SLIP_LEVELS[slippage_risk(cloth, Use()).level]
    moved = value("frays_length_slope") * math.log(place.stitch.length_mm / USUAL_LENGTH_MM)
    if place.stitch.type in OVERLOCKED:
        moved -= 1.0
    return _by_level(value(f"frays_{level}_percent"), moved)


USUAL_LENGTH_MM = 2.5
"""Stitch length at which the levels of slipping are counted [mm]."""


def cracked_by(place: SeamPlace, stretch_percent: float) -> Real:
    """Return how likely a seam has cracked once it is stretched so far.

    Parameters
    ----------
    place : SeamPlace
        The seam.
    stretch_percent : float
        Stretch along it [%].

    Returns
    -------
    ndarray of float, shape (steps,)
        Chance over the steps of its doubt [-].

    References
    ----------
    derivation, docs/models/swatch-seams.md.
    """
    gives = gives_percent(place)
    blur = math.log1p(value("give_blur_percent") / 100.0)
    return normal_cdf((math.log(max(stretch_percent, 0.01)) - np.log(gives)) / blur)


def _gives_percent(place: SeamPlace) -> float:
    return max(stretch_of(place.stitch, place.wants, place.settled.behind), 0.5)


def broke_under(place: SeamPlace, cloth: Cloth, load_n_per_cm: float) -> Real:
    """Return how likely a seam has given way under a load.

    Parameters
    ----------
    place : SeamPlace
        The seam.
    cloth : Cloth
        The cloth that may tear along it.
    load_n_per_cm : float
        Pull across [N/cm].

    Returns
    -------
    ndarray of float, shape (steps, steps)
        Chance over the doubts of the stitching and of the cloth [-].

    References
    ----------
    derivation, docs/models/swatch-seams.md.
    """
    stitching = stitching_n_per_cm(place)[:, np.newaxis]
    held = np.minimum(stitching, cloth_n_per_cm(place, cloth)[np.newaxis, :])
    blur = math.log1p(value("strength_blur_percent") / 100.0)
    return normal_cdf((math.log(load_n_per_cm) - np.log(held)) / blur)


def stitching_n_per_cm(place: SeamPlace) -> Real:
    """Return the force at which the stitching breaks, over the scores of its doubt.

    Parameters
    ----------
    place : SeamPlace
        The seam.

    Returns
    -------
    ndarray of float, shape (steps,)
        Weaker with the score [N/cm].

    References
    ----------
    derivation, docs/models/swatch-seams.md.
    """
    whole = stitching_strength_n_per_cm(place.candidate, place.settled)
    return whole * _factor(STITCHING)


def cloth_n_per_cm(place: SeamPlace, cloth: Cloth) -> Real:
    """Return the force at which a cloth tears along the holes, over the scores of its doubt.

    Parameters
    ----------
    place : SeamPlace
        The seam.
    cloth : Cloth
        The cloth.

    Returns
    -------
    ndarray of float, shape (steps,)
        Weaker with the score [N/cm].

    References
    ----------
    derivation, docs/models/swatch-seams.md.
    """
    whole = cloth_limit_n_per_cm(cloth, place.candidate, place.settled)
    return whole * _factor(CLOTH)


def _factor(ends: tuple[float, float]) -> Real:
    """Return what a strength is multiplied by, over the scores: its range is that of the seam page."""
    low, high = ends
    step = np.where(NODES > 0.0, -math.log(low), math.log(high)) / Z95
    return np.concatenate([np.exp(-NODES * step), BEYOND])


def gives_percent(place: SeamPlace) -> Real:
    """Return the stretch at which a seam cracks, over the scores of its doubt.

    Parameters
    ----------
    place : SeamPlace
        The seam.

    Returns
    -------
    ndarray of float, shape (steps,)
        Less with the score [%].

    References
    ----------
    derivation, docs/models/swatch-seams.md.
    """
    share = np.concatenate([learning_value("seam give_share").at(-NODES), BEYOND])
    return np.asarray(_gives_percent(place) * share)
