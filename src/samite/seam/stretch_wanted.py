"""How far a joint has to stretch: from its cloths, or from the body under it."""

from __future__ import annotations

from samite.seam import traits
from samite.seam.settle import Conflict
from samite.seam.stitch import STRETCH_IN_WEAR
from samite.seam.wants import Wants, each


def needed_stretch_percent(wants: tuple[Wants, ...]) -> float:
    """Return the stretch that the seam must give in wear.

    Parameters
    ----------
    wants : tuple of Wants
        The cloths, with how the seam runs in each.

    Returns
    -------
    float
        Stretch along the seam [%].

    Notes
    -----
    A share of what the firmest cloth stretches: the seam cannot stretch further than it. Below 15 %
    a straight stitch with its thread's own extension serves.
    """
    firmest = min(one.stretch_percent for one in wants)
    if firmest < traits.STRETCH_CLOTH_PERCENT:
        return 0.0
    if not any(one.cloth.construction in ("knit", "net", "lace") for one in wants):
        return 0.0
    return STRETCH_IN_WEAR * firmest


def bounded_stretch_percent(wants: tuple[Wants, ...], body_percent: float | None) -> float:
    """Return the stretch that the seam must give, from the body if that is known.

    Parameters
    ----------
    wants : tuple of Wants
        The cloths.
    body_percent : float or None
        Stretch that the body asks for [%]; None if it is not known.

    Returns
    -------
    float
        Stretch along the seam, not above that of the firmest cloth [%].
    """
    if body_percent is None:
        return needed_stretch_percent(wants)
    return min(body_percent, *(one.stretch_percent for one in wants))


def stretch_conflict(wants: tuple[Wants, ...]) -> Conflict | None:
    """Say that one cloth stretches along the seam and another does not.

    Parameters
    ----------
    wants : tuple of Wants
        The cloths.

    Returns
    -------
    Conflict or None
        None if they stretch alike.
    """
    stretches = [(one.name, one.stretch_percent) for one in each(wants)]
    least, most = min(s for _, s in stretches), max(s for _, s in stretches)
    if most < traits.STRETCH_CLOTH_PERCENT or most - least < 15.0 or least >= 0.5 * most:
        return None
    said = tuple((name, f"stretches {share:.0f} % along the seam") for name, share in stretches)
    firm = min(stretches, key=lambda item: item[1])[0]
    settled = (
        f"the seam stretches no further than the {firm}: do not pull the other, lay it underneath; "
        "where the body needs the stretch, cut the firm cloth on the bias or add ease"
    )
    return Conflict("stretch", said, settled, traits.practice("the firm cloth stays the seam"))


def body_conflict(wants: tuple[Wants, ...], body_percent: float | None) -> Conflict | None:
    """Say that a cloth stretches less than the body under it asks for.

    Parameters
    ----------
    wants : tuple of Wants
        The cloths.
    body_percent : float or None
        Stretch that the body asks for [%]; None if it is not known.

    Returns
    -------
    Conflict or None
        None if the cloths stretch far enough.
    """
    if body_percent is None:
        return None
    short = [one for one in each(wants) if one.stretch_percent < body_percent]
    if not short:
        return None
    said = tuple((one.name, f"stretches {one.stretch_percent:.0f} %") for one in short)
    missing = body_percent - min(one.stretch_percent for one in short)
    settled = (
        f"the body asks for {body_percent:.0f} % along this seam: no negative ease there, and "
        f"{missing:.0f} % of ease, a gusset or the bias; a stretchier stitch does not help"
    )
    return Conflict("body", said, settled, traits.practice("the cloth stops before its seam does"))
