"""The parts of a cloth in their true order, with their materials and shares of the mass."""

from __future__ import annotations

from samite.cloth.model import Part
from samite.cloth.reading import Component, FibreShare, LabelReading, PartKind
from samite.tables.structures import Structure

FACE_TO_BACK = (
    PartKind.SEQUINS,
    PartKind.BEADS,
    PartKind.DOTS,
    PartKind.GLITTER,
    PartKind.PRINT,
    PartKind.FILM,
    PartKind.FLOCK,
    PartKind.COATING,
    PartKind.ADHESIVE,
    PartKind.PILE,
    PartKind.YARN,
    PartKind.BASE,
    PartKind.FOAM,
)
"""Order of the parts from the face of the cloth to its back."""

SHARE_OF_MASS = {
    PartKind.SEQUINS: 0.45,
    PartKind.BEADS: 0.5,
    PartKind.DOTS: 0.3,
    PartKind.GLITTER: 0.15,
    PartKind.PRINT: 0.05,
    PartKind.FILM: 0.12,
    PartKind.FLOCK: 0.3,
    PartKind.COATING: 0.45,
    PartKind.ADHESIVE: 0.05,
    PartKind.PILE: 0.4,
    PartKind.YARN: 0.25,
}
"""Share of the cloth's mass that each part takes where the label does not say (guess)."""

GLUED = frozenset({PartKind.GLITTER, PartKind.DOTS, PartKind.FLOCK})
"""Parts that a label never says are glued, and that nearly always are."""

ELASTIC = frozenset({"elastane", "elastodiene", "elastolefin", "elastomultiester"})


def gather_components(reading: LabelReading, structure: Structure | None) -> tuple[Component, ...]:
    """Join what the label names with what its structure always has.

    Parameters
    ----------
    reading : LabelReading
        What the label said.
    structure : Structure or None
        The structure it names.

    Returns
    -------
    tuple of Component
        One for each kind of part; the label's own comes first.
    """
    found: dict[PartKind, Component] = {}
    for component in reading.components:
        known = found.get(component.part)
        if known is None or not known.fibres:
            found[component.part] = component
    for usual in structure.parts if structure else ():
        fibres = tuple(FibreShare(key, percent) for key, percent in usual.fibres)
        kind = PartKind(usual.part)
        if kind not in found:
            found[kind] = Component(kind, fibres, stated=False)
        elif not found[kind].fibres:
            found[kind] = Component(kind, fibres, stated=found[kind].stated)
    if reading.pile_height_mm and PartKind.PILE not in found:
        found[PartKind.PILE] = Component(PartKind.PILE, (), stated=True)
    if GLUED & found.keys():
        found.setdefault(PartKind.ADHESIVE, Component(PartKind.ADHESIVE, (), stated=False))
    if _hides_film(found, structure):
        film = (FibreShare("metallised-film", 100.0),)
        found.setdefault(PartKind.YARN, Component(PartKind.YARN, film, stated=False))
    if not {PartKind.BASE, PartKind.FOAM} & found.keys():
        found[PartKind.BASE] = Component(PartKind.BASE, (), stated=False)
    return tuple(found.values())


def _hides_film(found: dict[PartKind, Component], structure: Structure | None) -> bool:
    """Whether the structure has metallised yarn that the label counts as its polyester."""
    base = found.get(PartKind.BASE)
    if structure is None or base is None or not base.stated or not base.fibres:
        return False
    usual = {key for part in structure.parts if part.part == "base" for key, _ in part.fibres}
    named = {item.fibre for item in base.fibres}
    return "metallised-film" in usual and not {"metallised-film", "metal"} & named


def base_fibres(components: tuple[Component, ...]) -> tuple[tuple[FibreShare, ...], bool]:
    """Return what the base is made of and whether the label said so.

    Parameters
    ----------
    components : tuple of Component
        All parts.

    Returns
    -------
    tuple of FibreShare
        Fibres of the base, in falling order; empty if neither label nor structure tells.
    bool
        True if the label said so.
    """
    for component in components:
        if component.part in (PartKind.BASE, PartKind.FOAM) and component.fibres:
            return component.fibres, component.stated
    return (), False


def arrange_parts(
    components: tuple[Component, ...], base: tuple[FibreShare, ...]
) -> tuple[Part, ...]:
    """Put the parts in order from face to back and share out the mass.

    Parameters
    ----------
    components : tuple of Component
        All parts.
    base : tuple of FibreShare
        What the base is made of.

    Returns
    -------
    tuple of Part
        Their shares of the mass add to 1.
    """
    ordered = sorted(components, key=lambda item: FACE_TO_BACK.index(item.part))
    raw = {item.part: SHARE_OF_MASS.get(item.part, 0.0) for item in ordered}
    loaded = sum(raw.values())
    squeeze = min(1.0, 0.7 / loaded) if loaded else 1.0
    carriers = [item.part for item in ordered if item.part in (PartKind.BASE, PartKind.FOAM)]
    rest = (1.0 - loaded * squeeze) / len(carriers)
    return tuple(
        Part(
            kind=item.part,
            fibres=_material(item, base),
            mass_share=rest if item.part in carriers else raw[item.part] * squeeze,
            stated=item.stated,
        )
        for item in ordered
    )


def _material(component: Component, base: tuple[FibreShare, ...]) -> tuple[FibreShare, ...]:
    if component.fibres:
        return component.fibres
    if component.part is PartKind.BASE:
        return base
    if component.part is PartKind.PILE:
        return _without_elastic(base)
    return ()


def _without_elastic(fibres: tuple[FibreShare, ...]) -> tuple[FibreShare, ...]:
    stiff = [item for item in fibres if item.fibre not in ELASTIC]
    total = sum(item.percent for item in stiff)
    if not total:
        return ()
    return tuple(FibreShare(item.fibre, 100.0 * item.percent / total) for item in stiff)
