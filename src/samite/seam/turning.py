"""Corners, and edges that are eased into shorter ones."""

from __future__ import annotations

from collections.abc import Iterator

from samite.cloth.model import Cloth
from samite.garment.use import Use
from samite.kernel.reasons import Reason
from samite.seam import traits
from samite.seam.practice import Practice, say

EASE_PERCENT = {"woven": (2.0, 4.0), "wool": (4.0, 8.0), "knit": (3.0, 6.0), "firm": (0.0, 1.0)}
"""How much longer an edge may be and still be eased without gathers (guess) [%]."""


def _ease_kind(cloth: Cloth) -> str:
    if traits.is_sheet(cloth) or (cloth.holes_show and cloth.packing.value > 0.4):
        return "firm"
    if cloth.construction == "knit":
        return "knit"
    return "wool" if cloth.share("wool", "cashmere", "mohair", "alpaca") >= 50.0 else "woven"


def corners_and_easing(cloths: tuple[Cloth, ...], use: Use) -> Iterator[Practice]:
    """Say what a corner or an eased edge asks for.

    Parameters
    ----------
    cloths : tuple of Cloth
        The cloths, each once.
    use : Use
        What the seam has to bear.

    Yields
    ------
    Practice
        Nothing if the seam neither turns nor eases.
    """
    if use.corner:
        name = max(cloths, key=lambda c: c.frays).structure_name
        yield say(
            "corner",
            "stitches of 1.5 mm for 20 mm either side; pivot on the needle, one stitch across the point; "
            f"an inner corner of the {name} is reinforced with a square of organza before it is "
            "clipped to the stitch; an outer one is trimmed slant",
            "a clip frays out of a corner that nothing holds",
        )
    if use.eased:
        firm = min(cloths, key=lambda c: EASE_PERCENT[_ease_kind(c)][1])
        soft = max(cloths, key=lambda c: EASE_PERCENT[_ease_kind(c)][1])
        low, high = EASE_PERCENT[_ease_kind(soft)]
        yield Practice(
            "ease",
            f"ease the {soft.structure_name}, {low:g} to {high:g} % of the seam, no more; a row of 4 mm "
            "stitches in the allowance draws it in; shrink it over a ham if it bears steam; sew with "
            f"the {soft.structure_name} underneath, on the feed",
            Reason(
                f"the {firm.structure_name} takes {EASE_PERCENT[_ease_kind(firm)][1]:g} % at most",
                (),
                traits.GUESS,
            ),
        )
