"""Needle, thread, stitch length, holding and feed that several cloths can share; conflicts named."""

from __future__ import annotations

import math
from dataclasses import dataclass

from samite.kernel.reasons import Advice, Reason
from samite.seam import traits
from samite.seam.holding import Holding
from samite.seam.needle import STANDARD_SIZES
from samite.seam.needle_size import size_for_thread_nm
from samite.seam.points import SharedPoint
from samite.seam.thread_size import thread_diameter_mm
from samite.seam.wants import Wants, each
from samite.tables.fibres import fibre
from samite.tables.sewing import sewing_entry

SEAM_THREAD = "polyester-spun"
"""The all-purpose thread, key in ``threads.csv``."""


@dataclass(frozen=True, slots=True)
class Conflict:
    """Two cloths want different things.

    Parameters
    ----------
    about : str
        ``needle point``, ``needle size``, ``thread``, ``stretch``, ``stitch length``, ``finish``,
        ``holding`` or ``press``.
    wants : tuple of tuple of (str, str)
        Cloth and what it wants.
    settled : str
        What is done.
    because : Reason
        Why.
    """

    about: str
    wants: tuple[tuple[str, str], ...]
    settled: str
    because: Reason

    def as_dict(self) -> dict[str, object]:
        """Return the JSON form.

        Returns
        -------
        dict of str to object
            Keys ``about``, ``wants``, ``settled`` and ``because``.
        """
        return {
            "about": self.about,
            "wants": [{"cloth": cloth, "wants": want} for cloth, want in self.wants],
            "settled": self.settled,
            "because": self.because.as_dict(),
        }


def settle_tex(wants: tuple[Wants, ...]) -> Advice[int]:
    """Choose the fineness of thread for several cloths.

    Parameters
    ----------
    wants : tuple of Wants
        The cloths.

    Returns
    -------
    Advice of int
        Linear density that is sold [tex].

    Notes
    -----
    The geometric mean of what each wants, rounded to a thread that is sold: finer than the heavy
    cloth's own, so that it does not cut the light one, and the stitching stays its weaker part.
    """
    own = [one.tex.value for one in wants]
    if len(set(own)) == 1:
        return wants[0].tex
    middle = math.exp(sum(math.log(tex) for tex in own) / len(own))
    sold = [int(tex) for tex in sewing_entry("thread", SEAM_THREAD).word("sold_tex").split()]
    chosen = min(sold, key=lambda tex: (abs(math.log(tex / middle)), tex))
    claim = "between what each cloth wants: strong enough for the one, not cutting the other"
    leaves = tuple(one.tex.reason for one in each(wants))
    return Advice(chosen, Reason(claim, leaves))


def settle_size(wants: tuple[Wants, ...], tex: int) -> Advice[int]:
    """Choose the size of needle for several cloths.

    Parameters
    ----------
    wants : tuple of Wants
        The cloths.
    tex : int
        Linear density of the needle thread [tex].

    Returns
    -------
    Advice of int
        Metric size [needle Nm].

    Notes
    -----
    Where the ranges of the cloths overlap, the size in the overlap nearest to the mean of their
    own; else the smallest that the heavier cloth bears. Never smaller than one size under what
    the thread needs.
    """
    own = [one.needle.value for one in wants]
    low = max(needle.range_nm[0] for needle in own)
    high = min(needle.range_nm[1] for needle in own)
    middle = math.exp(sum(math.log(needle.size_nm) for needle in own) / len(own))
    if low <= high:
        inside = [size for size in STANDARD_SIZES if low <= size <= high]
        size = min(inside, key=lambda one: (abs(one - middle), one))
        claim = f"Nm {size}: within what each cloth bears"
    else:
        size = low
        claim = f"Nm {size}: the finest that goes through the heavier cloth"
    floor = _floor_nm(tex)
    if size < floor:
        size, claim = floor, f"Nm {floor}: the thread would fray in a smaller eye"
    return Advice(size, Reason(claim, tuple(one.needle.reason for one in each(wants))))


def _floor_nm(tex: int) -> int:
    diameter = seam_thread_diameter_mm(tex)
    needed = size_for_thread_nm(thread_diameter_mm=diameter)
    return STANDARD_SIZES[max(STANDARD_SIZES.index(needed) - 1, 0)]


def seam_thread_diameter_mm(tex: float) -> float:
    """Return the diameter of the all-purpose thread.

    Parameters
    ----------
    tex : float
        Linear density [tex].

    Returns
    -------
    float
        Diameter [mm].
    """
    entry = sewing_entry("thread", SEAM_THREAD)
    density = fibre(entry.word("fibre")).quantity("density_g_cm3").value
    return thread_diameter_mm(
        linear_density_tex=tex,
        fibre_density_g_cm3=density,
        packing=entry.number("thread_packing"),
    )


def settle_length(wants: tuple[Wants, ...]) -> Advice[float]:
    """Choose the stitch length for several cloths.

    Parameters
    ----------
    wants : tuple of Wants
        The cloths.

    Returns
    -------
    Advice of float
        Stitch length [mm].

    Notes
    -----
    The mean of what each wants; but not below what a film, skin or coating wants, which close
    holes tear like a stamp.
    """
    own = [one.stitch.value.length_mm for one in wants]
    leaves = tuple(one.stitch.reason for one in each(wants))
    if len(set(own)) == 1:
        return Advice(own[0], wants[0].stitch.reason)
    sheets = [one.stitch.value.length_mm for one in wants if traits.is_sheet(one.cloth)]
    mean = round(sum(own) / len(own), 1)
    if sheets and max(sheets) > mean:
        return Advice(max(sheets), Reason("close holes tear the sheet like a stamp", leaves))
    return Advice(mean, Reason("between what each cloth wants", leaves))


HOLDS = ("pins", "weights", "tape", "clips", "basting", "glue")
"""Ways of holding, from the plainest to the surest."""


def settle_holding(wants: tuple[Wants, ...]) -> Advice[Holding]:
    """Choose how to hold several cloths together.

    Parameters
    ----------
    wants : tuple of Wants
        The cloths.

    Returns
    -------
    Advice of Holding
        The surer way; inside the allowance if one of them wants that.

    Notes
    -----
    What is basted lies as it was laid, whatever the foot pushes; but a needle leaves holes in a
    skin or film, which is clipped whatever it is joined to.
    """
    own = [one.holding.value for one in wants]
    if len({(hold.method, hold.where) for hold in own}) == 1:
        return wants[0].holding
    usable = own if _all_glue(own) else [_clipped(hold) for hold in own]
    if any(traits.is_sheet(one.cloth) for one in wants):
        usable = [hold for hold in usable if hold.method != "basting"] or usable
    strict = max(usable, key=lambda hold: HOLDS.index(hold.method))
    inside = any(hold.where == "allowance-only" for hold in own)
    also = [
        f"{one.name}: {one.holding.value.also}"
        for one in each(wants)
        if one.holding.value.also and one.holding.value.method != "glue"
    ]
    slip = any(one.cloth.slippery >= 3 for one in wants) and strict.method == "clips"
    if slip:
        also.insert(0, "baste by hand as well: one of the two slides")
    chosen = Holding(
        strict.method, "allowance-only" if inside else "anywhere", "; ".join(dict.fromkeys(also))
    )
    leaves = tuple(one.holding.reason for one in each(wants))
    return Advice(chosen, Reason("the way that the more tender cloth asks for", leaves))


def _clipped(hold: Holding) -> Holding:
    """What is glued to its like is clipped to anything else: cement strikes through a cloth."""
    return Holding("clips", hold.where, "") if hold.method == "glue" else hold


def _all_glue(own: list[Holding]) -> bool:
    return all(hold.method == "glue" for hold in own)


FEET = ("normal", "wide", "straight-stitch", "walking", "non-stick", "zipper")
"""Feet, from the plainest to the one that a cloth most depends on."""


def settle_foot(wants: tuple[Wants, ...]) -> Advice[str]:
    """Choose the foot for several cloths.

    Parameters
    ----------
    wants : tuple of Wants
        The cloths.

    Returns
    -------
    Advice of str
        Key in ``feet.csv``.
    """
    own = {dict(one.feed.value.details).get("foot", "normal"): one for one in wants}
    foot = max(own, key=FEET.index)
    unlike = len({one.cloth.slippery for one in wants}) > 1 or len(own) > 1
    if foot in ("normal", "wide") and unlike:
        return Advice(
            "walking", traits.practice("unlike cloths creep: feed both from above and below")
        )
    return Advice(foot, own[foot].feed.reason)


def point_conflict(wants: tuple[Wants, ...], shared: SharedPoint) -> Conflict | None:
    """Say that the cloths want different points.

    Parameters
    ----------
    wants : tuple of Wants
        The cloths.
    shared : SharedPoint
        The point that all bear best.

    Returns
    -------
    Conflict or None
        None if they agree.
    """
    said = tuple((one.name, f"{one.needle.value.point} point") for one in each(wants))
    if len({want for _, want in said}) < 2:
        return None
    risk = ", on a scrap of both first" if shared.worst >= 2 else ""
    return Conflict("needle point", said, f"{shared.point} point{risk}", shared.reason)


def size_conflict(wants: tuple[Wants, ...], size: Advice[int]) -> Conflict | None:
    """Say that no needle size lies in the range of every cloth.

    Parameters
    ----------
    wants : tuple of Wants
        The cloths.
    size : Advice of int
        What was chosen.

    Returns
    -------
    Conflict or None
        None if the ranges overlap.
    """
    ranges = [(one.name, one.needle.value.range_nm) for one in each(wants)]
    if max(low for _, (low, _) in ranges) <= min(high for _, (_, high) in ranges):
        return None
    said = tuple((name, f"Nm {low} to {high}") for name, (low, high) in ranges)
    settled = (
        f"Nm {size.value}; a larger hole in the lighter cloth: lengthen the stitch, do not unpick"
    )
    return Conflict("needle size", said, settled, size.reason)


def thread_conflict(wants: tuple[Wants, ...], tex: Advice[int]) -> Conflict | None:
    """Say that the cloths want threads of very different fineness.

    Parameters
    ----------
    wants : tuple of Wants
        The cloths.
    tex : Advice of int
        What was chosen [tex].

    Returns
    -------
    Conflict or None
        None if the finest and the coarsest differ by less than a third.
    """
    own = [(one.name, one.tex.value) for one in each(wants)]
    if max(tex for _, tex in own) < 1.33 * min(tex for _, tex in own):
        return None
    said = tuple((name, f"tex {fine}") for name, fine in own)
    return Conflict("thread", said, f"tex {tex.value} above and below", tex.reason)
