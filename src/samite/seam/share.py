"""What the cloths of a joint share, whatever the seam: needle, thread, length, holding and foot."""

from __future__ import annotations

from samite.garment.workroom import OwnedThread, Workroom
from samite.kernel.reasons import Advice
from samite.seam import traits
from samite.seam.candidate import Settled
from samite.seam.demands import Demands
from samite.seam.needle import STANDARD_SIZES, Needle, needle_count
from samite.seam.on_hand import choose_owned_needle, choose_owned_thread
from samite.seam.points import SharedPoint, shared_point
from samite.seam.settle import (
    point_conflict,
    settle_foot,
    settle_holding,
    settle_length,
    settle_size,
    settle_tex,
    size_conflict,
    thread_conflict,
)
from samite.seam.sides import behind_of
from samite.seam.stretch_wanted import body_conflict, bounded_stretch_percent, stretch_conflict
from samite.seam.wants import Wants, each


def settle(wants: tuple[Wants, ...], workroom: Workroom, asked: Demands) -> Settled:
    """Choose what the cloths share, whatever the seam.

    Parameters
    ----------
    wants : tuple of Wants
        The cloths.
    workroom : Workroom
        What is on hand.
    asked : Demands
        What the person insists on.

    Returns
    -------
    Settled
        Needle, thread, stitch length, holding, foot, and the conflicts between the cloths.
    """
    cloths = tuple(one.cloth for one in wants)
    point = shared_point(cloths)
    tex = settle_tex(wants)
    stretches = any(traits.is_stretch_knit(cloth) for cloth in cloths)
    thread = choose_owned_thread(tex.value, workroom, stretches=stretches)
    if asked.tex is not None:
        thread = OwnedThread(thread.kind, asked.tex)
    size = settle_size(wants, _bounded_tex(thread.linear_density_tex))
    length = settle_length(wants)
    needle = choose_owned_needle(wants, _needle(wants, point, size, length.value), workroom)
    found = (
        point_conflict(wants, point),
        size_conflict(wants, size),
        thread_conflict(wants, tex),
        stretch_conflict(wants),
        body_conflict(wants, asked.body_percent),
    )
    return Settled(
        point=point,
        size=size,
        tex=tex,
        thread=thread,
        needle=needle,
        length=length,
        holding=settle_holding(wants),
        foot=settle_foot(wants),
        needed_stretch_percent=bounded_stretch_percent(wants, asked.body_percent),
        conflicts=tuple(one for one in found if one),
        behind=behind_of(cloths, asked.behind),
    )


def _bounded_tex(tex: float) -> int:
    """Return a fineness for which there is a needle; what is coarser is refused elsewhere."""
    return round(min(tex, 90.0))


def _needle(
    wants: tuple[Wants, ...], point: SharedPoint, size: Advice[int], length_mm: float
) -> Needle:
    place = STANDARD_SIZES.index(size.value)
    span = (STANDARD_SIZES[max(place - 1, 0)], STANDARD_SIZES[min(place + 1, 11)])
    count = max(needle_count(one.cloth, length_mm).value for one in each(wants))
    tender = any(one.cloth.sheer or one.cloth.holes_show for one in wants)
    note = "new for this seam" if count > 1 or tender else ""
    return Needle("seam", point.point, size.value, span, count, note)
