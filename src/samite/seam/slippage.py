"""Whether yarns slip out of a strained seam, and what helps, in order."""

from __future__ import annotations

from dataclasses import dataclass

from samite.cloth.model import Cloth
from samite.garment.use import Use
from samite.kernel.reasons import Reason
from samite.seam import traits

LEVELS = ("none", "low", "some", "high")
"""Words of the risk, 0 to 3."""

REMEDIES = (
    "no strain on the seam: a looser fit",
    "stitch 2.0 mm instead of 3 mm",
    "allowance 15 to 20 mm, overlocked",
    "underline with firm organza or lawn, so that the underlining carries the load",
    "a French or felled seam",
    "a narrow tape or selvedge strip caught in the seam",
)
"""What helps, in the order in which to try it (common practice)."""


@dataclass(frozen=True, slots=True)
class SlippageRisk:
    """How likely yarns are to slip at a seam.

    Parameters
    ----------
    level : int
        0 none, 1 low, 2 some, 3 high.
    remedies : tuple of str
        What helps, in order; empty below 2.
    reason : Reason
        Why.
    """

    level: int
    remedies: tuple[str, ...]
    reason: Reason

    def as_dict(self) -> dict[str, object]:
        """Return the JSON form.

        Returns
        -------
        dict of str to object
            Keys ``risk``, ``level`` and ``remedies``.
        """
        return {
            "risk": LEVELS[self.level],
            "level": self.level,
            "remedies": list(self.remedies),
        }


def slippage_risk(cloth: Cloth, use: Use) -> SlippageRisk:
    """Return how likely a cloth's yarns are to slip at a seam.

    Parameters
    ----------
    cloth : Cloth
        The cloth.
    use : Use
        Whether the seam is strained.

    Returns
    -------
    SlippageRisk
        Level, remedies and reasons.

    Notes
    -----
    A count of what lets yarns slide: smooth filament, slipperiness, an open weave, fraying, a
    strained seam. Calibrated on the list of cloths known to slip (common practice); the measured
    test is ISO 13936.
    """
    if cloth.construction != "woven" or traits.is_sheet(cloth):
        return SlippageRisk(0, (), traits.practice("no yarns that could slide out of a seam"))
    signs = [
        (cloth.yarn == "filament", "smooth filament yarns"),
        (cloth.slippery >= 2, "slippery"),
        (cloth.packing.value < 0.24, "an open weave"),
        (cloth.frays >= 2, "frays readily"),
        (use.strain, "the seam is strained"),
    ]
    found = [claim for holds, claim in signs if holds]
    level = min(max(len(found) - 1, 0), 3)
    leaves = tuple(traits.practice(claim) for claim in found) or (
        traits.practice("rough yarns set closely"),
    )
    reason = Reason(f"{LEVELS[level]} risk of slippage in {cloth.structure_name}", leaves)
    return SlippageRisk(level, REMEDIES if level >= 2 else (), reason)


def worst_slippage(cloths: tuple[Cloth, ...], use: Use) -> SlippageRisk:
    """Return the risk of the cloth that slips most.

    Parameters
    ----------
    cloths : tuple of Cloth
        The cloths of the joint.
    use : Use
        Whether the seam is strained.

    Returns
    -------
    SlippageRisk
        The highest.
    """
    return max((slippage_risk(cloth, use) for cloth in cloths), key=lambda risk: risk.level)
