"""Traits of a cloth by name, and what it must not be treated with: what the rescue steps ask."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from samite.cloth.model import Cloth
from samite.cloth.reading import PartKind
from samite.labels.rules.materials import group_percent, materials
from samite.tables.fibres import fibre

MAIN_PERCENT = 50.0
"""Share of the base that makes a fibre its main one [%]."""

MINOR_PERCENT = 20.0
METALLIC_PERCENT = 2.0
PVC = frozenset({"chlorofibre", "saran", "trivinyl", "sequin-pvc"})
DELICATE_PILE = frozenset({"silk", "viscose", "modal", "lyocell", "cupro", "acetate", "triacetate"})
WATER_MARKED = ("silk", "acetate", "triacetate")
DISSOLVED = frozenset({"acetate", "triacetate", "modacrylic", *PVC})
TEXTILES = frozenset({"woven", "knit", "net", "lace", "nonwoven"})


def _pile_fibres(cloth: Cloth) -> set[str]:
    return {i.fibre for p in cloth.parts if p.kind is PartKind.PILE for i in p.fibres}


def _melting_percent(cloth: Cloth) -> float:
    return sum(i.percent for i in cloth.base.fibres if fibre(i.fibre).melts)


def _glued(cloth: Cloth) -> bool:
    return cloth.has(PartKind.ADHESIVE, PartKind.GLITTER, PartKind.DOTS, PartKind.FLOCK)


def _film(cloth: Cloth) -> bool:
    return cloth.has(PartKind.FILM) or cloth.construction == "film"


def _pile(cloth: Cloth) -> bool:
    return cloth.has(PartKind.PILE, PartKind.FLOCK)


def _closed_face(cloth: Cloth) -> bool:
    return _film(cloth) or cloth.has(PartKind.COATING) or cloth.construction in ("leather", "foam")


def _base_of(cloth: Cloth, group: str) -> float:
    return group_percent(cloth.base, frozenset({group}))


TRAITS: Mapping[str, Callable[[Cloth], bool]] = {
    "any": lambda cloth: True,  # noqa: ARG005
    "pile": _pile,
    "flat": lambda cloth: not _pile(cloth),
    "flock": lambda cloth: cloth.has(PartKind.FLOCK),
    "delicate-pile": lambda cloth: (
        cloth.has(PartKind.PILE) and bool(DELICATE_PILE & (_pile_fibres(cloth) | materials(cloth)))
    ),
    "pile-melts": lambda cloth: any(fibre(key).melts for key in _pile_fibres(cloth)),
    "crushed": lambda cloth: cloth.crushed,
    "film": _film,
    "coating": lambda cloth: cloth.has(PartKind.COATING),
    "closed-face": _closed_face,
    "foam": lambda cloth: cloth.has(PartKind.FOAM),
    "glued": _glued,
    "glitter": lambda cloth: cloth.has(PartKind.GLITTER),
    "glued-or-film": lambda cloth: _glued(cloth) or _film(cloth),
    "sequins": lambda cloth: cloth.has(PartKind.SEQUINS, PartKind.BEADS),
    "sequins-sewn": lambda cloth: (
        cloth.has(PartKind.SEQUINS, PartKind.BEADS) and not cloth.has(PartKind.ADHESIVE)
    ),
    "melts": lambda cloth: _melting_percent(cloth) >= MAIN_PERCENT,
    "wool": lambda cloth: _base_of(cloth, "protein") - cloth.share("silk") >= MINOR_PERCENT,
    "protein": lambda cloth: _base_of(cloth, "protein") >= MINOR_PERCENT,
    "cellulose": lambda cloth: _base_of(cloth, "cellulose") >= MINOR_PERCENT,
    "plain-cellulose": lambda cloth: (
        cloth.share("cotton", "linen", "hemp", "ramie") >= MAIN_PERCENT and not _pile(cloth)
    ),
    "water-marked": lambda cloth: cloth.share(*WATER_MARKED) >= MINOR_PERCENT,
    "takes-water": lambda cloth: not _closed_face(cloth) and not _glued(cloth),
    "moire": lambda cloth: cloth.structure_key == "moire" or "embossed" in cloth.reading.surfaces,
    "yarns": lambda cloth: cloth.construction in TEXTILES and not _closed_face(cloth),
    "woven": lambda cloth: cloth.construction == "woven",
    "knit": lambda cloth: cloth.construction == "knit",
    "sheer": lambda cloth: cloth.sheer,
    "elastic": lambda cloth: cloth.elastane_percent > 0.0,
    "holes-show": lambda cloth: cloth.holes_show,
    "holes-stay": lambda cloth: _closed_face(cloth) or cloth.holes_show,
    "shrinks-in": lambda cloth: (
        _base_of(cloth, "protein") >= MAIN_PERCENT or cloth.construction == "knit"
    ),
    "bears-no-iron": lambda cloth: "iron" in forbidden_acts(cloth),
}
"""What a rescue step may ask of a cloth, by name."""

ACTS = ("iron", "steam", "water", "solvent", "peroxide", "brush", "needle")
"""What a rescue step may do to a cloth."""


def forbidden_acts(cloth: Cloth) -> dict[str, str]:
    """Return what must not be done to a cloth, with the reason.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    dict of str to str
        Reasons by act, one of `ACTS`; an act that it bears is not there.
    """
    named = {
        "iron": _no_iron(cloth),
        "steam": _no_steam(cloth),
        "water": "drops leave rings on it" if TRAITS["water-marked"](cloth) else "",
        "solvent": _no_solvent(cloth),
        "peroxide": "it takes colour and strength" if _no_peroxide(cloth) else "",
        "brush": "brushing takes off what is glued on" if _glued(cloth) else "",
        "needle": "needle holes stay in it" if _closed_face(cloth) else "",
    }
    return {act: reason for act, reason in named.items() if reason}


def _no_iron(cloth: Cloth) -> str:
    if cloth.reading.care_dots == 0:
        return "its label forbids the iron"
    if PVC & materials(cloth):
        return "PVC melts and fumes under an iron"
    if cloth.has(PartKind.COATING, PartKind.FOAM) or cloth.construction in ("film", "foam"):
        return "its coating, film or foam melts onto the sole"
    if cloth.has(PartKind.SEQUINS):
        return "sequins curl and melt"
    if cloth.has(PartKind.GLITTER, PartKind.FILM):
        return "its glitter or film lifts where the glue softens"
    return "an iron flattens the pile for good" if _pile(cloth) else ""


def _no_steam(cloth: Cloth) -> str:
    if cloth.reading.care_no_steam or cloth.reading.care_dots in (0, 1):
        return "its label forbids steam"
    if PVC & materials(cloth):
        return "steam is hotter than PVC bears"
    if _film(cloth) or cloth.metallic_percent >= METALLIC_PERCENT:
        return "steam clouds and shrinks film"
    if cloth.has(PartKind.COATING, PartKind.SEQUINS, PartKind.FOAM):
        return "steam softens its coating, sequins or foam"
    if _glued(cloth):
        return "steam loosens what is glued on"
    if {"modacrylic", "acrylic"} & materials(cloth):
        return "acrylic and modacrylic shrink and go limp in steam"
    return ""


def _no_solvent(cloth: Cloth) -> str:
    if DISSOLVED & materials(cloth):
        return "solvents dissolve its fibre"
    if _glued(cloth) or _closed_face(cloth):
        return "solvents soften glue, film and coating"
    return ""


def _no_peroxide(cloth: Cloth) -> bool:
    return not TRAITS["plain-cellulose"](cloth) or _closed_face(cloth)
