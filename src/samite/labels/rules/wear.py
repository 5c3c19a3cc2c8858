"""What hurts the wearer: scratches, want of air and sight, stairs."""

from __future__ import annotations

from samite.cloth.model import Cloth
from samite.cloth.reading import PartKind
from samite.garment.use import Use
from samite.labels.rules.caution import Caution, caution
from samite.labels.rules.materials import in_words, part_names

ROUGH = (PartKind.FILM, PartKind.SEQUINS, PartKind.GLITTER, PartKind.BEADS, PartKind.DOTS)
AIRTIGHT = frozenset({"film", "leather", "foam"})
SHED_NEAR_EYES = (PartKind.GLITTER, PartKind.SEQUINS, PartKind.FLOCK)
SCRATCHY_METALLIC_PERCENT = 5.0


def wear_cautions(cloth: Cloth, use: Use) -> list[Caution]:
    """Return what to mind for the wearer of any age.

    Parameters
    ----------
    cloth : Cloth
        The cloth.
    use : Use
        What it is wanted for.

    Returns
    -------
    list of Caution
        Empty where the use asks nothing of it.
    """
    found = [_scratches(cloth, use), _mask(cloth, use), _hood(cloth, use), _train(cloth, use)]
    return [item for item in found if item]


def _scratches(cloth: Cloth, use: Use) -> Caution | None:
    if not (use.on_skin or use.lined is False or use.mask):
        return None
    rough = [part_names((part,)) for part in cloth.parts if part.kind in ROUGH]
    if cloth.metallic_percent >= SCRATCHY_METALLIC_PERCENT:
        rough.append(f"{cloth.metallic_percent:.0f} % metallised yarn")
    if cloth.construction == "net" and cloth.stiffness >= 2:
        rough.append("stiff net")
    if not rough:
        return None
    text = (
        f"{in_words(rough)} scratch bare skin and chafe under the arms: line it, or bind armholes,"
        " neck and seam allowances with soft cloth"
    )
    return caution("care", text)


def _mask(cloth: Cloth, use: Use) -> Caution | None:
    if not use.mask:
        return None
    air = (
        f"{cloth.structure_name} lets no air through: open it wide at nose and mouth, never seal it"
        if _airtight(cloth)
        else f"breathe through {cloth.structure_name} at work for some minutes before you trust it"
    )
    sheds = [part.kind.value for part in cloth.parts if part.kind in SHED_NEAR_EYES]
    eyes = f"; keep its {in_words(sheds)} from the rims of the eyes" if sheds else ""
    text = f"mask: {air}; try whether one sees the floor and both sides{eyes}; off in one movement"
    return caution("care", text)


def _hood(cloth: Cloth, use: Use) -> Caution | None:
    if not use.head:
        return None
    heavy = f"at {cloth.mass_per_area_gsm.value:.0f} g/m2"
    text = (
        f"hood or headdress of {cloth.structure_name} {heavy}: it turns with the head and leaves"
        " both sides in sight; one hears traffic through it; it closes so that it tears open"
    )
    return caution("care", text)


def _train(cloth: Cloth, use: Use) -> Caution | None:
    if not use.train:
        return None
    slides = "slides underfoot" if cloth.slippery >= 2 else "catches heels and edges"
    text = (
        f"long and trailing, {cloth.structure_name} {slides}: loop it up on stairs and in a crowd,"
        " keep it from wheels and escalators, end the hem clear of the floor where one dances"
    )
    return caution("care", text)


def _airtight(cloth: Cloth) -> bool:
    return cloth.construction in AIRTIGHT or cloth.has(PartKind.COATING, PartKind.FILM)
