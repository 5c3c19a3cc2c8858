"""Needles and threads on hand that suit a joint, and what has to be bought."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from samite.garment.workroom import OwnedNeedle, OwnedThread, Workroom
from samite.seam.needle import STANDARD_SIZES, Needle
from samite.seam.points import WILL_DO, point_objection
from samite.seam.settle import SEAM_THREAD
from samite.seam.wants import Wants, each
from samite.tables.sewing import sewing_entry

SUITS = {
    "polyester-core": 0,
    "polyester-spun": 0,
    "silk-filament": 1,
    "polyester-filament": 1,
    "polyamide-bonded": 2,
    "cotton-mercerised": 2,
}
"""Threads that sew a seam, best first; the others are for decoration and loopers."""

NEAR_TEX = 0.30
"""How far the fineness of a thread on hand may be off, on a log scale [-]."""


@dataclass(frozen=True, slots=True)
class Purchase:
    """Something that is not on hand.

    Parameters
    ----------
    what : str
        In words.
    why : str
        What it is for.
    """

    what: str
    why: str

    def as_dict(self) -> dict[str, str]:
        """Return the JSON form.

        Returns
        -------
        dict of str to str
            Keys ``what`` and ``why``.
        """
        return {"what": self.what, "why": self.why}


def choose_owned_thread(tex: int, workroom: Workroom, *, stretches: bool) -> OwnedThread:
    """Return the thread to use: one on hand if it suits, else the one to buy.

    Parameters
    ----------
    tex : int
        Linear density wanted [tex].
    workroom : Workroom
        What is on hand.
    stretches : bool
        Whether the seam must stretch: cotton does not.

    Returns
    -------
    OwnedThread
        Kind and fineness.
    """

    def distance(one: OwnedThread) -> float:
        return abs(math.log(one.linear_density_tex / tex))

    near = [
        one
        for one in workroom.threads
        if one.kind in SUITS
        and distance(one) <= NEAR_TEX
        and not (stretches and one.kind == "cotton-mercerised")
    ]
    bought = OwnedThread(SEAM_THREAD, float(tex))
    return min(near, key=lambda one: (SUITS[one.kind], distance(one)), default=bought)


def choose_owned_needle(wants: tuple[Wants, ...], needle: Needle, workroom: Workroom) -> Needle:
    """Return the needle to use: one on hand if it suits, else the one to buy.

    Parameters
    ----------
    wants : tuple of Wants
        The cloths.
    needle : Needle
        The needle that suits best.
    workroom : Workroom
        What is on hand.

    Returns
    -------
    Needle
        The same point in a near size, or another point to which no cloth objects much, or the
        one that suits best.
    """
    low, high = needle.range_nm

    def order(one: OwnedNeedle) -> tuple[int, int, int]:
        return (
            one.point != needle.point,
            max(point_objection(want.cloth, one.point).level for want in each(wants)),
            abs(one.size_nm - needle.size_nm),
        )

    usable = [
        one
        for one in workroom.needles
        if low <= one.size_nm <= high
        and one.size_nm in STANDARD_SIZES
        and _bears(wants, one, needle)
    ]
    if not usable:
        return needle
    best = min(usable, key=order)
    note = "on hand" if best.point == needle.point else f"on hand; a {needle.point} point is better"
    return replace(needle, point=best.point, size_nm=best.size_nm, note=note)


def _bears(wants: tuple[Wants, ...], one: OwnedNeedle, needle: Needle) -> bool:
    if one.point == needle.point:
        return True
    if one.point == "large-eye":
        return False
    return all(point_objection(want.cloth, one.point).level <= WILL_DO for want in each(wants))


def to_buy(
    needle: Needle, thread: OwnedThread, foot: str, finishes: tuple[str, ...], workroom: Workroom
) -> tuple[Purchase, ...]:
    """Return what the seam needs and the workroom lacks.

    Parameters
    ----------
    needle : Needle
        Needle chosen.
    thread : OwnedThread
        Thread chosen.
    foot : str
        Key in ``feet.csv``.
    finishes : tuple of str
        Keys in ``edge_finishes.csv``.
    workroom : Workroom
        What is on hand.

    Returns
    -------
    tuple of Purchase
        Empty if the workroom was not named.
    """
    if not workroom.stated:
        return ()
    found = []
    owned = [(one.point, one.size_nm) for one in workroom.needles]
    if (needle.point, needle.size_nm) not in owned:
        many = f" ({needle.count} for 10 m)" if needle.count > 1 else ""
        found.append(Purchase(f"needle {needle.point} Nm {needle.size_nm}{many}", "the seam"))
    if thread not in workroom.threads:
        name = sewing_entry("thread", thread.kind).word("name")
        found.append(Purchase(f"{name} thread, tex {thread.linear_density_tex:g}", "the seam"))
    if foot not in (*workroom.feet, "normal", "wide"):
        entry = sewing_entry("foot", foot)
        found.append(Purchase(entry.word("name"), entry.word("fits")))
    if "bound" in finishes:
        found.append(Purchase("light silk or bias strip, twice the seam length", "binding"))
    return tuple(found)
