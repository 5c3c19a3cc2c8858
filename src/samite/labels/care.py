"""How to clean the finished garment, from the most delicate of its parts."""

from __future__ import annotations

from dataclasses import dataclass

from samite.cloth.model import Cloth
from samite.cloth.reading import PartKind
from samite.kernel.evidence import Evidence, Grade
from samite.kernel.reasons import Advice, Reason

PRACTICE = Evidence("common-practice", Grade.COMMON_PRACTICE)


@dataclass(frozen=True, slots=True)
class Care:
    """How to clean.

    Parameters
    ----------
    method : str
        ``spot-clean``, ``hand-wash``, ``cool-wash``, ``warm-wash`` or ``dry-clean``.
    text : str
        One sentence.
    """

    method: str
    text: str

    def as_dict(self) -> dict[str, object]:
        """Return the JSON form.

        Returns
        -------
        dict of str to object
            Keys ``method`` and ``text``.
        """
        return {"method": self.method, "text": self.text}


def advise_care(cloth: Cloth) -> Advice[Care]:
    """Advise how to clean what is made of a cloth.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    Advice of Care
        The gentlest method that any part needs; the label on the bolt goes before it.
    """
    sheet = cloth.construction in ("film", "leather", "foam")
    rules = (_glued_or_sewn_on, _coated, _delicate_fibre)
    for rule in (_coated, *rules) if sheet else rules:
        found = rule(cloth)
        if found:
            return found
    if cloth.share("wool", "cashmere", "mohair") >= 30:
        return _care(
            "hand-wash",
            "hand wash cool with a wool detergent and dry flat, or dry clean",
            "wool felts when rubbed warm",
        )
    if cloth.share("cotton", "linen", "hemp", "jute") >= 60 and not cloth.has(PartKind.PILE):
        return _care("warm-wash", "wash warm with like colours", "cotton and linen bear washing")
    return _care(
        "cool-wash",
        "gentle cool wash, inside out, hang to dry; no tumbling",
        "man-made fibres crease and pill in hot water",
    )


def _glued_or_sewn_on(cloth: Cloth) -> Advice[Care] | None:
    if cloth.has(PartKind.SEQUINS, PartKind.BEADS):
        return _care(
            "spot-clean",
            "spot clean; dry clean only if the label allows it and a test piece bears it",
            "solvents and drums strip sequins and beads",
        )
    if cloth.has(PartKind.GLITTER, PartKind.DOTS, PartKind.FLOCK, PartKind.ADHESIVE):
        return _care(
            "hand-wash",
            "hand wash cold, inside out, drip dry; no dry cleaning: it dissolves the glue",
            "what is glued on comes off in warm water, friction and solvents",
        )
    if cloth.has(PartKind.FILM) or cloth.metallic_percent >= 5:
        return _care(
            "dry-clean",
            "dry clean with a test first, or spot clean; never wring",
            "film cracks at folds and tarnishes",
        )
    return None


def _coated(cloth: Cloth) -> Advice[Care] | None:
    if cloth.has(PartKind.COATING) or cloth.construction in ("film", "leather", "foam"):
        return _care(
            "spot-clean", "wipe with a damp cloth; no solvents", "solvents soften coatings"
        )
    return None


def _delicate_fibre(cloth: Cloth) -> Advice[Care] | None:
    pile = cloth.has(PartKind.PILE)
    if (
        cloth.share("acetate", "triacetate") >= 20
        or cloth.share("silk") >= 30
        or (pile and cloth.share("viscose") >= 20)
    ):
        return _care(
            "dry-clean",
            "dry clean, telling the cleaner the fibres",
            "water marks it or flattens its pile",
        )
    pile_fibres = [
        item.fibre for part in cloth.parts if part.kind is PartKind.PILE for item in part.fibres
    ]
    if {"silk", "viscose", "acetate"} & set(pile_fibres):
        return _care(
            "dry-clean", "dry clean, telling the cleaner the fibres", "water flattens such a pile"
        )
    return None


def _care(method: str, text: str, why: str) -> Advice[Care]:
    return Advice(Care(method, text), Reason(why, evidence=PRACTICE))
