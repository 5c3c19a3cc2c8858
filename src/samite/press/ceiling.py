"""The ceiling: the hottest dial that every part of a cloth bears, by its share and place."""

from __future__ import annotations

from dataclasses import dataclass

from samite.cloth.model import Cloth, Part
from samite.cloth.reading import FibreShare, PartKind
from samite.kernel.errors import UnknownError
from samite.kernel.evidence import GIVEN, Evidence, Grade
from samite.kernel.quantity import Quantity
from samite.kernel.reasons import Advice, Reason
from samite.press.dials import Dial, dial_for
from samite.tables.fibres import fibre

PRACTICE = Evidence("common-practice", Grade.COMMON_PRACTICE)
GUESS = Evidence("guess", Grade.GUESS)

MINOR_SHARE_PERCENT = 15.0
"""A fibre up to this share of a part does not rule the whole part [%]."""

COVERED_METALLIC_PERCENT = 25.0
"""Metallised yarn up to this share of a thick ground is covered by it from the back [%]."""

SHIELD_MM = 0.6
"""From this thickness on the ground shields what lies on its face, ironed from the back [mm]."""

UNKNOWN_LIMIT = Quantity(110.0, 93.0, 121.0, "C", GUESS)
"""Worst plausible limit of an unnamed dress fibre that can be ironed at all [C]."""

FLOCK_LIMIT_C = 149.0
"""Limit of flock of unknown fibre: nylon, the more delicate of the usual two [C] (guess)."""

PART_LIMITS = {
    PartKind.SEQUINS: (0.0, "sequins curl from about 75 C and PVC ones melt"),
    PartKind.BEADS: (110.0, "coated beads lose their colour when hot"),
    PartKind.DOTS: (110.0, "stuck-on dots hang on a glue that softens from about 80 C"),
    PartKind.GLITTER: (66.0, "glitter hangs on a glue that softens from about 65 C"),
    PartKind.FILM: (66.0, "a foil lifts where its glue softens, from about 65 C"),
    PartKind.FOAM: (0.0, "a foam collapses, melts and fumes"),
    PartKind.COATING: (66.0, "a coating softens and sticks to the sole"),
}
"""Limit of parts on the face whose material is not a fibre [C] (guess)."""


@dataclass(frozen=True, slots=True)
class PartLimit:
    """How hot one part may get at its place.

    Parameters
    ----------
    name : str
        The part in words.
    limit_c : float
        Upper end of its customary range [C].
    shielded : bool
        Whether the ground keeps the heat off it when ironed from the wrong side.
    reason : Reason
        Why.
    """

    name: str
    limit_c: float
    shielded: bool
    reason: Reason


@dataclass(frozen=True, slots=True)
class Ceiling:
    """The hottest dial for each side of a cloth.

    Parameters
    ----------
    wrong_side : Dial
        From the back, through a press cloth.
    right_side : Dial
        On the face, where nothing shields the parts.
    limits : tuple of PartLimit
        Every part's limit, lowest first.
    by_label : bool
        Whether a care symbol ruled.
    """

    wrong_side: Dial
    right_side: Dial
    limits: tuple[PartLimit, ...]
    by_label: bool


def find_ceiling(cloth: Cloth) -> Advice[Ceiling]:
    """Find the hottest dial that every part of the cloth bears.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    Advice of Ceiling
        For the wrong and the right side.

    Notes
    -----
    The smallest upper end of the parts' customary ranges. It binds the dial, not the swing of
    the thermostat. A care symbol on the label goes before all of it.
    """
    limits = tuple(sorted(_limits(cloth), key=lambda item: item.limit_c))
    back = [item for item in limits if not item.shielded] or list(limits)
    wrong = dial_for(back[0].limit_c)
    right = dial_for(limits[0].limit_c)
    because = tuple(item.reason for item in limits)
    if cloth.reading.care_dots is not None:
        dial = list(Dial)[cloth.reading.care_dots]
        claim = f"the care symbol allows {dial.words}"
        ceiling = Ceiling(dial, min(right, dial, key=lambda d: d.dots), limits, True)
        return Advice(ceiling, Reason(claim, because, GIVEN))
    claim = f"hottest dial: {wrong.words}; ruled by {back[0].name}"
    return Advice(Ceiling(wrong, right, limits, False), Reason(claim, because))


def _limits(cloth: Cloth) -> list[PartLimit]:
    found = []
    for part in cloth.parts:
        if part.kind in PART_LIMITS:
            found.append(_surface_limit(cloth, part))
        elif part.kind is not PartKind.ADHESIVE:
            found.extend(_fibre_limits(cloth, part))
    return found


def _surface_limit(cloth: Cloth, part: Part) -> PartLimit:
    limit, why = PART_LIMITS[part.kind]
    shielded = part.kind in (PartKind.GLITTER, PartKind.FILM) and shields_face(cloth)
    if shielded:
        why += "; ironed from the back, pile and ground keep the heat off it for some seconds"
    return PartLimit(part.kind.value, limit, shielded, Reason(why, evidence=GUESS))


def shields_face(cloth: Cloth) -> bool:
    """Whether pile or a thick ground keeps an iron on the back away from what is on the face.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    bool
        True for pile cloths and closed grounds from `SHIELD_MM` on.
    """
    if cloth.construction in ("net", "lace") or cloth.sheer:
        return False
    return cloth.has(PartKind.PILE) and cloth.thickness_mm.value >= SHIELD_MM


def _fibre_limits(cloth: Cloth, part: Part) -> list[PartLimit]:
    if not part.fibres and part.kind is PartKind.FLOCK:
        claim = "flock of unknown fibre: nylon or viscose as a rule, on a cured binder"
        return [PartLimit("flock", FLOCK_LIMIT_C, False, Reason(claim, evidence=GUESS))]
    if not part.fibres:
        claim = f"{part.kind.value} of unknown fibre: the worst plausible fibre"
        return [
            PartLimit(
                part.kind.value, UNKNOWN_LIMIT.low + 17.0, False, Reason(claim, evidence=GUESS)
            )
        ]
    ruling = [item for item in part.fibres if _rules(cloth, item)] or [part.fibres[0]]
    return [_fibre_limit(part, item.fibre, item.percent) for item in ruling]


def _rules(cloth: Cloth, item: FibreShare) -> bool:
    """Whether a fibre rules its part: a main fibre, or metallised yarn that nothing covers."""
    if item.fibre in ("metallised-film", "metal"):
        return not _metallic_is_covered(cloth, item.percent)
    return item.percent > MINOR_SHARE_PERCENT


def _metallic_is_covered(cloth: Cloth, percent: float) -> bool:
    thick = cloth.mass_per_area_gsm.value >= 150.0 and cloth.thickness_mm.value >= 0.3
    return percent <= COVERED_METALLIC_PERCENT and thick and not cloth.has(PartKind.DOTS)


def _fibre_limit(part: Part, key: str, percent: float) -> PartLimit:
    material = fibre(key)
    try:
        limit = material.quantity("ironing_limit_c")
    except UnknownError:
        limit = UNKNOWN_LIMIT
    where = "" if part.kind is PartKind.BASE else f" {part.kind.value}"
    name = f"{percent:.0f} % {material.name}{where}"
    claim = f"{name}: irons are customarily kept under {limit.low:.0f} to {limit.high:.0f} C"
    return PartLimit(name, limit.high, False, Reason(claim, evidence=limit.evidence))
