"""How to hold two layers together until they are sewn."""

from __future__ import annotations

from dataclasses import dataclass

from samite.cloth.model import Cloth
from samite.cloth.reading import PartKind
from samite.kernel.reasons import Advice
from samite.seam import traits


@dataclass(frozen=True, slots=True)
class Holding:
    """How layers are held.

    Parameters
    ----------
    method : str
        ``pins``, ``clips``, ``basting``, ``weights``, ``tape`` or ``glue``.
    where : str
        ``anywhere`` or ``allowance-only``.
    also : str
        What helps besides.
    """

    method: str
    where: str
    also: str = ""

    def as_dict(self) -> dict[str, object]:
        """Return the JSON form.

        Returns
        -------
        dict of str to object
            Keys ``method``, ``where`` and ``also``.
        """
        return {"method": self.method, "where": self.where, "also": self.also}


def choose_holding(cloth: Cloth) -> Advice[Holding]:
    """Choose how to hold the layers.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    Advice of Holding
        Method and place, with the reason.
    """
    for rule in (_sheet, _open_or_thick, _film, _delicate):
        found = rule(cloth)
        if found:
            return found
    if cloth.has(PartKind.PILE) and cloth.construction == "woven" and cloth.slippery <= 1:
        also = "baste long seams and two piles by hand: they creep"
        return Advice(
            Holding("pins", "allowance-only", also),
            traits.practice("a short dull pile hardly slides on a plain cloth"),
        )
    if cloth.has(PartKind.PILE) and cloth.construction == "woven":
        also = "pins in the allowance only, as far as the basting"
        return Advice(
            Holding("basting", "anywhere", also),
            traits.practice(
                "two piles creep against each other: two rows of hand basting hold them"
            ),
        )
    if (
        cloth.construction == "knit"
        and cloth.elastane_percent >= 2.0
        and not cloth.has(PartKind.PILE)
    ):
        return Advice(
            Holding("clips", "anywhere", "fine ball-headed pins in the allowance"),
            traits.practice(
                "clips let an elastic knit lie relaxed; pins stretch it and can start runs"
            ),
        )
    if cloth.has(PartKind.PILE) and cloth.slippery >= 2:
        also = "fine pins inside the allowance; baste curves by hand: two piles creep"
        return Advice(
            Holding("clips", "anywhere", also),
            traits.practice("pins slip in a knit pile and push it aside"),
        )
    return Advice(Holding("pins", "anywhere"), traits.practice("pins leave no mark in it"))


def _sheet(cloth: Cloth) -> Advice[Holding] | None:
    say = traits.practice
    if cloth.construction == "foam":
        return Advice(
            Holding("glue", "allowance-only", "contact cement, outdoors or at an open window"),
            say("butted foam edges are glued before they are sewn"),
        )
    if traits.is_sheet(cloth):
        return Advice(
            Holding("clips", "allowance-only", "double-sided tape in the allowance"),
            say("every pin hole in a skin or coating stays"),
        )
    return None


def _open_or_thick(cloth: Cloth) -> Advice[Holding] | None:
    say = traits.practice
    if traits.is_fur(cloth):
        return Advice(
            Holding("clips", "allowance-only", "a clip every 3 cm, the pile tucked in"),
            say("pins vanish in a long pile"),
        )
    if traits.is_sewn_hard(cloth) and cloth.construction == "lace":
        return Advice(
            Holding(
                "basting", "allowance-only", "a fine needle between the beads; weights, not pins"
            ),
            say("a beaded lace is laid motif on motif and basted by hand before it is sewn"),
        )
    if traits.is_sewn_hard(cloth):
        return Advice(
            Holding(
                "clips", "allowance-only", "baste with a fine needle between the sequins or beads"
            ),
            say("pins push sequins and beads off"),
        )
    if cloth.construction == "lace" and cloth.elastane_percent >= 2.0:
        return Advice(
            Holding("clips", "anywhere", "baste where motifs have to meet"),
            say("clips let an elastic lace lie relaxed; pins fall through it"),
        )
    if cloth.construction == "lace":
        return Advice(
            Holding("basting", "anywhere", "clips for the first try"),
            say("pins fall through a lace; basting holds the motifs in place"),
        )
    if cloth.construction == "net":
        return Advice(
            Holding("clips", "anywhere", "baste long rows by hand"),
            say("pins fall out of an open net"),
        )
    if cloth.thickness_mm.value >= 1.2 and not cloth.has(PartKind.PILE):
        return Advice(
            Holding("clips", "anywhere", "long pins as well"),
            say("pins bend the layers of a thick cloth out of line"),
        )
    return None


UNDERLINED = "to an underlining all over, then it is one cloth; clips for a short seam"

CRINKLED_PERCENT = 5.0
"""A weave without elastane that stretches so far is crinkled [%]."""


def _film(cloth: Cloth) -> Advice[Holding] | None:
    say = traits.practice
    crinkled = cloth.stretch_cross_percent.value >= CRINKLED_PERCENT and not cloth.elastane_percent
    if cloth.construction == "woven" and cloth.metallic_percent >= 20.0:
        if cloth.sheer or cloth.slippery >= 3:
            return Advice(
                Holding("basting", "allowance-only", UNDERLINED),
                say("thin metallised cloth slides, and pins pull its yarns out of line"),
            )
        if crinkled:
            return Advice(
                Holding("basting", "allowance-only", UNDERLINED),
                say("a crinkle springs out of measure: basting keeps it at its width"),
            )
    if cloth.has(PartKind.FILM) or (
        traits.has_film_face(cloth)
        and cloth.construction == "woven"
        and cloth.thickness_mm.value < 0.6
    ):
        return Advice(
            Holding("clips", "allowance-only", "pins only inside the allowance"),
            say("a pin hole in film never closes"),
        )
    if cloth.metallic_percent >= 5.0 and cloth.mass_per_area_gsm.value < 150.0 and cloth.frays >= 2:
        return Advice(
            Holding("clips", "allowance-only", "pins only inside the allowance"),
            say("pins pull metallised yarns out of line"),
        )
    return None


def _delicate(cloth: Cloth) -> Advice[Holding] | None:
    say = traits.practice
    if cloth.has(PartKind.FLOCK) and cloth.sheer:
        return Advice(
            Holding("clips", "allowance-only", "baste through the ground only"),
            say("pins mark the sheer ground and lift the flock"),
        )
    if cloth.construction != "woven" or not cloth.holes_show:
        return None
    limp = cloth.sheer and cloth.stiffness == 0
    if cloth.slippery >= 3 or limp or cloth.has(PartKind.PILE):
        also = "fine pins inside the allowance; tissue paper under the layers"
        return Advice(
            Holding("basting", "anywhere", also),
            say("it slides under the foot: hand basting keeps the edges level"),
        )
    if cloth.sheer:
        return Advice(
            Holding("pins", "allowance-only", "clips do as well; fine pins only"),
            say("pin holes stay in a fine crisp weave"),
        )
    return Advice(
        Holding("pins", "allowance-only", "fine pins, or clips"),
        say("pin holes stay, so they belong in the allowance"),
    )
