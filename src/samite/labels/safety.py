"""Cautions that follow from what the cloth is, how it is worked and who wears it."""

from __future__ import annotations

from dataclasses import replace

from samite.cloth.model import Cloth
from samite.garment.use import Use
from samite.labels.rules.caution import KINDS, Caution
from samite.labels.rules.child import child_cautions
from samite.labels.rules.flame import flame_cautions
from samite.labels.rules.hands import fume_cautions, heat_cautions, needle_cautions
from samite.labels.rules.wear import wear_cautions

__all__ = ["DEFER", "KINDS", "Caution", "find_cautions"]

DEFER = "Local codes and licensed practice go before this."
LAWFUL = ("flame", "child")
"""Kinds of caution that speak of law."""


def find_cautions(cloth: Cloth, use: Use, *, ironed: bool) -> tuple[Caution, ...]:
    """Find what can hurt the maker or the wearer of this cloth.

    Parameters
    ----------
    cloth : Cloth
        The cloth.
    use : Use
        What it is wanted for.
    ironed : bool
        Whether an iron comes near it at all, touching or only steaming.

    Returns
    -------
    tuple of Caution
        Heat, needle, fume, flame, child and care, in that order; the last flame and the last child
        caution defer to local codes and licensed practice.

    Notes
    -----
    Errs to the safe side: unknown materials count as the worst that is likely, an assumed mass by
    its lower end, and a child of no stated age as the youngest.

    References
    ----------
    ``cfr-16-1610``, ``en-71-2``, ``en-14682-scope``, ``astm-f1816``, ``cfr-16-1615``: by caution.
    """
    found = [
        *heat_cautions(cloth, ironed=ironed),
        *needle_cautions(cloth),
        *fume_cautions(cloth),
        *flame_cautions(cloth, use),
        *child_cautions(cloth, use),
        *wear_cautions(cloth, use),
    ]
    for kind in LAWFUL:
        places = [place for place, item in enumerate(found) if item.kind == kind]
        if places:
            last = found[places[-1]]
            found[places[-1]] = replace(last, text=f"{last.text.rstrip('.')}. {DEFER}")
    return tuple(found)
