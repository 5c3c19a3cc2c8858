"""What makes a joint pucker, and how much of it."""

from __future__ import annotations

from samite.cloth.model import Cloth
from samite.seam import traits
from samite.seam.appraise import thread_diameter_of
from samite.seam.candidate import Candidate, Settled
from samite.seam.pucker import jamming_percent, shrinkage_excess_percent, yarn_cover
from samite.tables.sewing import sewing_entry

WASH_SHRINKAGE_PERCENT = {
    "cotton": 4.0,
    "linen": 4.0,
    "hemp": 4.0,
    "ramie": 4.0,
    "jute": 5.0,
    "wool": 3.0,
    "cashmere": 3.0,
    "mohair": 3.0,
    "viscose": 5.0,
    "modal": 3.0,
    "lyocell": 2.0,
    "cupro": 4.0,
    "silk": 3.0,
    "acetate": 1.0,
    "triacetate": 1.0,
}
"""Shrinkage of cloth in its first wash or steam, not preshrunk (guess) [%]; others 0.5."""

FEED_PERCENT = {0: 0.0, 1: 0.2, 2: 0.6, 3: 1.2}
"""How far the upper ply is fed ahead of the lower, by the more slippery of the two (guess) [%]."""

CURES = {
    "thread jams the yarns": "finer thread, finer needle, a longer stitch; cut a few degrees off grain",
    "plies creep": "walking foot or hand basting; the slippery or stretchy ply underneath; hold both taut",
    "plies shrink unlike": "shrink both before cutting; say dry clean on the care label",
    "thread shrinks": "polyester thread, easy tension",
}
"""What helps against each cause of pucker (common practice)."""


def pucker_causes(
    candidate: Candidate, settled: Settled, cloths: tuple[Cloth, ...]
) -> tuple[tuple[str, float], ...]:
    """Return the causes of pucker with the excess length that each makes.

    Parameters
    ----------
    candidate : Candidate
        Stitch length.
    settled : Settled
        Thread and foot.
    cloths : tuple of Cloth
        The cloths.

    Returns
    -------
    tuple of (str, float)
        Cause and excess [%], the largest first.
    """
    diameter = thread_diameter_of(settled)
    jams = max(
        (
            jamming_percent(
                cover=yarn_cover(packing=cloth.packing.value),
                thread_diameter_mm=diameter,
                stitch_length_mm=candidate.stitch.length_mm,
            )
            for cloth in cloths
            if cloth.construction == "woven" and not traits.is_sheet(cloth)
        ),
        default=0.0,
    )
    shrinks = [wash_shrinkage_percent(cloth) for cloth in cloths]
    creeping = FEED_PERCENT[max(cloth.slippery for cloth in cloths)]
    fed = creeping * (0.4 if settled.foot.value == "walking" else 1.0)
    fed *= 0.5 if settled.holding.value.method == "basting" else 1.0
    unlike = shrinkage_excess_percent(
        ply_shrinkage_percent=min(shrinks), other_shrinkage_percent=max(shrinks)
    )
    # Printed for a boil wash or an iron: a costume meets the low end of it.
    thread = sewing_entry("thread", settled.thread.kind).quantity("thread_shrinkage_percent").low
    found = (
        ("thread jams the yarns", jams),
        ("plies creep", fed),
        ("plies shrink unlike", unlike),
        ("thread shrinks", max(thread - min(shrinks), 0.0)),
    )
    return tuple(sorted(found, key=lambda item: -item[1]))


def wash_shrinkage_percent(cloth: Cloth) -> float:
    """Return about how much a cloth shrinks that was not shrunk before.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    float
        Shrinkage in the first wash or steam (guess) [%].
    """
    shares = [
        (item.percent, WASH_SHRINKAGE_PERCENT.get(item.fibre, 0.5)) for item in cloth.base.fibres
    ]
    whole = sum(percent for percent, _ in shares)
    if not whole:
        return 3.0
    return sum(percent * shrinks for percent, shrinks in shares) / whole
