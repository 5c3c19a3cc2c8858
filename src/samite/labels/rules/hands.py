"""What hurts the maker: heat, needles, fumes."""

from __future__ import annotations

from samite.cloth.model import Cloth, Part
from samite.cloth.reading import PartKind
from samite.kernel.evidence import Evidence, Grade
from samite.labels.rules.caution import Caution, caution
from samite.labels.rules.materials import in_words, materials, part_names
from samite.tables.fibres import fibre, fibres
from samite.tables.press_tools import iron_settings

SHARP_WHEN_BROKEN = (PartKind.SEQUINS, PartKind.BEADS, PartKind.DOTS)
PLASTIC_PARTS = (
    PartKind.COATING, PartKind.FILM, PartKind.FOAM, PartKind.GLITTER, PartKind.SEQUINS,
    PartKind.DOTS,
)  # fmt: skip
HEAVY_GSM = 450.0
THIN_MM = 0.3
FROM_MEMORY = Evidence("common-practice", Grade.FROM_MEMORY, "decomposition of plastics")

FUMES = {
    "hydrogen chloride, which bites eyes and lungs and rusts tools": (
        "chlorofibre", "saran", "trivinyl", "sequin-pvc", "chloroprene",
    ),
    "isocyanates and hydrogen cyanide": ("polyurethane",),
    "hydrogen chloride and hydrogen cyanide": ("modacrylic",),
    "hydrogen cyanide": ("acrylic",),
    "acetic acid": ("eva",),
    "hydrogen fluoride and fever-making fume": ("fluorofibre",),
}  # fmt: skip
"""What overheated materials give off, by fibre."""


def heat_cautions(cloth: Cloth, *, ironed: bool) -> list[Caution]:
    """Return the burns that the iron threatens.

    Parameters
    ----------
    cloth : Cloth
        The cloth.
    ironed : bool
        Whether an iron comes near it at all, touching or only steaming.

    Returns
    -------
    list of Caution
        Empty if no iron is used.
    """
    if not ironed:
        return []
    hottest = max(
        (setting.sole_limit_c for setting in iron_settings().values()), key=lambda q: q.value
    )
    text = (
        f"a sole at up to {hottest.value:.0f} C burns the hand at once and so does steam held off"
        " the cloth: fingers out of the cloud, stand the iron on its heel, switch it off after"
    )
    return [
        caution("heat", f"{text}{_heat_of_this_cloth(cloth)}", hottest.evidence),
    ]


def needle_cautions(cloth: Cloth) -> list[Caution]:
    """Return what breaks a needle or flies from under it.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    list of Caution
        Empty for a cloth that a needle passes freely.
    """
    hard = tuple(part for part in cloth.parts if part.kind in SHARP_WHEN_BROKEN)
    if hard:
        text = (
            f"a needle that strikes its {part_names(hard)} breaks and throws splinters: wear safety"
            " glasses, clear the seam line first, turn the hand wheel over doubtful places"
        )
        return [caution("needle", text)]
    if cloth.needle_mass_gsm >= HEAVY_GSM or cloth.construction == "leather":
        text = (
            f"{cloth.mass_per_area_gsm.value:.0f} g/m2 in several layers bends a needle onto the"
            " plate: safety glasses, slow over crossings, hand wheel on the thickest, never pull"
        )
        return [caution("needle", text)]
    return []


def fume_cautions(cloth: Cloth) -> list[Caution]:
    """Return what the cloth gives off when it is overheated, or sheds when it is cut.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    list of Caution
        Empty for a cloth without plastics that are known for bad fumes.
    """
    found = materials(cloth)
    cautions = []
    for fume, sources in FUMES.items():
        named = found & frozenset(sources)
        if named:
            who = in_words([fibre(key).name for key in sorted(named)])
            cautions.append(caution("fume", _fume_text(f"its {who}", fume), FROM_MEMORY))
    others = tuple(part for part in cloth.parts if _doubtful_plastic(part))
    if others:
        unnamed = "" if all(part.known for part in others) else ", of what is not named as of PVC"
        text = _fume_text(f"its {part_names(others)}", f"fumes that irritate{unnamed}")
        cautions.append(caution("fume", text, FROM_MEMORY))
    return cautions + _dust(cloth)


def _dust(cloth: Cloth) -> list[Caution]:
    cut = {item.fibre for item in cloth.base.fibres}
    if "asbestos" in cut:
        return [caution("fume", "asbestos: do not cut, shake, sew or wear it; have it taken away")]
    mineral = sorted(cut & {"glass", "ceramic", "carbon"})
    if mineral:
        text = f"cut ends of its {mineral[0]} prick skin and lungs: dust mask, gloves, no bare skin"
        return [caution("fume", text)]
    return []


def _doubtful_plastic(part: Part) -> bool:
    known_bad = {key for keys in FUMES.values() for key in keys}
    own = {item.fibre for item in part.fibres}
    return part.kind in PLASTIC_PARTS and not own & known_bad


def _fume_text(what: str, fume: str) -> str:
    return (
        f"overheated (iron, hot knife, heat gun, a burning test), {what} can give off {fume}: keep"
        " it below its limit, open a window, stop at the first smell"
    )


def _heat_of_this_cloth(cloth: Cloth) -> str:
    known = fibres()
    melting = sorted(
        known[item.fibre].name for item in cloth.base.fibres if known[item.fibre].melts
    )
    if cloth.has(PartKind.BEADS, PartKind.DOTS) or cloth.metallic_percent >= 2.0:
        return "; its metal, glass or film stays hot in the hand after the iron has gone"
    if cloth.thickness_mm.value < THIN_MM:
        thin = f"{cloth.thickness_mm.value:.2g} mm of cloth"
        return f"; heat comes through {thin} at once, hold it by the edge"
    if melting:
        return f"; melted {melting[0]} sticks to the skin and goes on burning"
    return "; let it cool on the board before you lift it"
