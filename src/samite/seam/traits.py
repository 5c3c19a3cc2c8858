"""What the seam rules look at in a cloth, each named once."""

from __future__ import annotations

from samite.cloth.model import Cloth
from samite.cloth.reading import PartKind
from samite.kernel.evidence import Evidence, Grade
from samite.kernel.reasons import Reason

PRACTICE = Evidence("common-practice", Grade.COMMON_PRACTICE)
GUESS = Evidence("guess", Grade.GUESS)

STRETCH_CLOTH_PERCENT = 15.0
"""From this stretch on the seam has to stretch with the cloth [%]."""

FUR_BACK_MM = 1.2
"""Least thickness of the back of a fur with the stubble of its pile (guess) [mm]."""


def practice(claim: str, *because: Reason) -> Reason:
    """Return a reason that rests on common practice.

    Parameters
    ----------
    claim : str
        One plain sentence.
    *because : Reason
        Reasons under it.

    Returns
    -------
    Reason
        Graded common practice.
    """
    return Reason(claim, because, PRACTICE)


def guess(claim: str, *because: Reason) -> Reason:
    """Return a reason that is a guess of ours.

    Parameters
    ----------
    claim : str
        One plain sentence.
    *because : Reason
        Reasons under it.

    Returns
    -------
    Reason
        Graded guess.
    """
    return Reason(claim, because, GUESS)


def is_stretch_knit(cloth: Cloth) -> bool:
    """Whether the cloth is a knit whose seams must give.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    bool
        True for knits from `STRETCH_CLOTH_PERCENT` on.
    """
    return cloth.construction == "knit" and stretch_percent(cloth) >= STRETCH_CLOTH_PERCENT


def stretch_percent(cloth: Cloth) -> float:
    """Return the larger of the stretches across and along.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    float
        Stretch [%].
    """
    return max(cloth.stretch_cross_percent.value, cloth.stretch_length_percent.value)


def is_coarse(cloth: Cloth) -> bool:
    """Whether the cloth is woven of thick hard yarns: canvas, coating, hessian.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    bool
        True for heavy or loose coarse cloth of spun yarn without pile.
    """
    spun = cloth.construction == "woven" and cloth.yarn == "staple" and not cloth.has(PartKind.PILE)
    mass = cloth.mass_per_area_gsm.value
    return spun and (mass >= 330.0 or (mass >= 180.0 and cloth.packing.value < 0.24))


def is_fur(cloth: Cloth) -> bool:
    """Whether the cloth has a pile so long that it has to be parted at the seam.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    bool
        True from a pile of 2.5 mm on.
    """
    return cloth.has(PartKind.PILE) and cloth.pile_height_mm >= 2.5


def is_sheet(cloth: Cloth) -> bool:
    """Whether the cloth is a skin, film, coated cloth or foam rather than yarns.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    bool
        True for film, leather, foam and cloths with a continuous coating.
    """
    return cloth.construction in ("film", "leather", "foam") or cloth.has(PartKind.COATING)


def has_film_face(cloth: Cloth) -> bool:
    """Whether a film lies on the face, or film yarns make much of it.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    bool
        True for foil, laminated film, or 20 % metallised yarn and more.
    """
    return cloth.has(PartKind.FILM) or cloth.metallic_percent >= 20.0


def is_sewn_hard(cloth: Cloth) -> bool:
    """Whether sequins or beads lie in the needle's way.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    bool
        True with sequins or beads.
    """
    return cloth.has(PartKind.SEQUINS, PartKind.BEADS)


def is_sheer_weave(cloth: Cloth) -> bool:
    """Whether the cloth is a light weave through which the allowances show.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    bool
        True for sheer woven cloth that frays.
    """
    return cloth.construction == "woven" and cloth.sheer and cloth.frays >= 1


def sewn_thickness_mm(cloth: Cloth) -> float:
    """Return the thickness of a cloth in its seam line.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    float
        Its thickness; of a fur the back alone, since the pile is shaved or pushed inside [mm].
    """
    if is_fur(cloth):
        back = cloth.thickness_mm.value - cloth.pile_height_mm
        return min(max(back, FUR_BACK_MM), cloth.thickness_mm.value)
    return cloth.thickness_mm.value
