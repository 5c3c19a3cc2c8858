"""The layers of a pressed seam in their true order, and the parts that can be hurt in them."""

from __future__ import annotations

from dataclasses import dataclass

from samite.cloth.model import Cloth, Part
from samite.cloth.reading import PartKind
from samite.cloth.thermal import conductivity_of, packing_of, part_property
from samite.kernel.evidence import Evidence, Grade
from samite.kernel.quantity import Quantity, between, exact, product
from samite.press.techniques import Technique
from samite.tables.press_limits import UNKNOWN, press_limit
from samite.tables.press_tools import PressCloth, PressTool

GUESS = Evidence("guess", Grade.GUESS)

SURFACE_PARTS = frozenset(
    {PartKind.FILM, PartKind.GLITTER, PartKind.DOTS, PartKind.FLOCK, PartKind.COATING}
    | {PartKind.ADHESIVE, PartKind.PRINT, PartKind.SEQUINS, PartKind.BEADS}
)
"""Parts so thin, or so loose, that they take the temperature of the face they lie on."""

MINOR_PERCENT = 2.0
"""Fibres under this share of a part do not count as able to be hurt [%]."""


@dataclass(frozen=True, slots=True)
class SeamLayer:
    """One layer of the pressed seam.

    Parameters
    ----------
    name : str
        What it is.
    thickness_mm : Quantity
        Thickness [mm].
    conductivity_w_mk : Quantity
        Conductivity, dry [W/(m K)].
    heat_capacity_j_m3k : Quantity
        Heat capacity by volume, dry [J/(m3 K)].
    dry_mass_gsm : Quantity
        Dry mass per area [g/m2].
    regain_percent : Quantity
        Water it holds before pressing, of dry mass [%].
    takes_steam : bool
        Whether steam from the iron reaches it.
    """

    name: str
    thickness_mm: Quantity
    conductivity_w_mk: Quantity
    heat_capacity_j_m3k: Quantity
    dry_mass_gsm: Quantity
    regain_percent: Quantity
    takes_steam: bool


@dataclass(frozen=True, slots=True)
class Weakness:
    """A part that heat can hurt, and where it lies.

    Parameters
    ----------
    name : str
        The part in words.
    place : str
        ``face`` (face of the garment), ``garment`` (hottest place of the ply that one sees) or
        ``ply`` (hottest place of either ply).
    limit_c : Quantity
        Temperature at which it is hurt within seconds [C].
    """

    name: str
    place: str
    limit_c: Quantity


def ply_layers(cloth: Cloth) -> tuple[SeamLayer, ...]:
    """Return the thermal layers of one ply, from the face to the back.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    tuple of SeamLayer
        Pile, if there is one, and ground; thin surface parts are part of the layer under them.
    """
    pile = next((part for part in cloth.parts if part.kind is PartKind.PILE), None)
    share = 0.0
    if pile:
        share = min(max(cloth.pile_height_mm / cloth.thickness_mm.value, 0.3), 0.85)
    layers = [_part_layer(cloth, pile, share, pile.mass_share)] if pile else []
    rest = 1.0 - (pile.mass_share if pile else 0.0)
    return (*layers, _part_layer(cloth, cloth.base, 1.0 - share, rest))


def _part_layer(cloth: Cloth, part: Part, thickness_share: float, mass_share: float) -> SeamLayer:
    thickness = cloth.thickness_mm.scaled(thickness_share, "mm")
    mass = cloth.mass_per_area_gsm.scaled(mass_share, "g/m2")
    density = part_property(part, "density_g_cm3").scaled(1000.0, "kg/m3")
    packing = packing_of(mass, thickness, density)
    specific = part_property(part, "specific_heat_dry_j_gk").scaled(1000.0, "J/kgK")
    solid = part_property(part, "conductivity_transverse_w_mk")
    return SeamLayer(
        name=part.kind.value,
        thickness_mm=thickness,
        conductivity_w_mk=conductivity_of(packing, solid),
        heat_capacity_j_m3k=product("J/m3K", packing, density, specific),
        dry_mass_gsm=mass,
        regain_percent=part_property(part, "regain_65rh_percent"),
        takes_steam=True,
    )


def press_cloth_layer(press_cloth: PressCloth) -> SeamLayer:
    """Return the layer of a press cloth.

    Parameters
    ----------
    press_cloth : PressCloth
        The press cloth.

    Returns
    -------
    SeamLayer
        Dry; a damp one gets its water in the window.
    """
    material = press_cloth.fibre
    density = material.quantity("density_g_cm3").scaled(1000.0, "kg/m3")
    mass, thickness = press_cloth.mass_per_area_gsm, press_cloth.thickness_mm
    packing = packing_of(mass, thickness, density)
    specific = material.quantity("specific_heat_dry_j_gk").scaled(1000.0, "J/kgK")
    return SeamLayer(
        name="press cloth",
        thickness_mm=thickness,
        conductivity_w_mk=conductivity_of(
            packing, material.quantity("conductivity_transverse_w_mk")
        ),
        heat_capacity_j_m3k=product("J/m3K", packing, density, specific),
        dry_mass_gsm=mass,
        regain_percent=material.quantity("regain_65rh_percent"),
        takes_steam=True,
    )


def support_layer(support: PressTool) -> SeamLayer:
    """Return the layer of what lies under.

    Parameters
    ----------
    support : PressTool
        Board, needle board, towel and so on.

    Returns
    -------
    SeamLayer
        Taken as dry.
    """
    specific = support.specific_heat_j_gk.scaled(1000.0, "J/kgK")
    return SeamLayer(
        name="support",
        thickness_mm=support.thickness_mm,
        conductivity_w_mk=support.conductivity_w_mk,
        heat_capacity_j_m3k=product("J/m3K", support.density_kg_m3, specific),
        dry_mass_gsm=exact(1.0, "g/m2", GUESS),
        regain_percent=exact(0.0, "%", GUESS),
        takes_steam=False,
    )


@dataclass(frozen=True, slots=True)
class Joint:
    """A plain seam, pressed open, under one technique.

    Parameters
    ----------
    layers : tuple of SeamLayer
        From the iron down.
    core : int
        Interface under this layer is the seam line: between allowance and garment.
    face_layer : int
        Layer at the face of the garment.
    face_depth : float
        0 if the face is on top of that layer, 1 if under it [-].
    plies : tuple of int
        Layers that belong to the two plies.
    garment : tuple of int
        Layers of the ply that one sees.
    """

    layers: tuple[SeamLayer, ...]
    core: int
    face_layer: int
    face_depth: float
    plies: tuple[int, ...]
    garment: tuple[int, ...]


def build_joint(
    cloth: Cloth, technique: Technique, press_cloth: PressCloth, support: PressTool
) -> Joint:
    """Stack a plain seam, pressed open, for a technique.

    Parameters
    ----------
    cloth : Cloth
        The cloth on both sides of the seam.
    technique : Technique
        Side and press cloth.
    press_cloth : PressCloth
        The press cloth, used if the technique has one.
    support : PressTool
        What lies under.

    Returns
    -------
    Joint
        Layers from the iron down.

    Notes
    -----
    Pressed open from the wrong side the iron meets the face of the allowance; from the right
    side it meets the face of the garment.
    """
    ply = ply_layers(cloth)
    above = [] if technique.press_cloth == "none" else [press_cloth_layer(press_cloth)]
    layers = (*above, *ply, *reversed(ply), support_layer(support))
    first = len(above)
    core = first + len(ply) - 1
    wrong = technique.side == "wrong"
    return Joint(
        layers=layers,
        core=core,
        face_layer=first + 2 * len(ply) - 1 if wrong else first,
        face_depth=1.0 if wrong else 0.0,
        plies=tuple(range(first, first + 2 * len(ply))),
        garment=tuple(range(first + len(ply), first + 2 * len(ply)))
        if wrong
        else tuple(range(first, first + len(ply))),
    )


def weaknesses(cloth: Cloth) -> tuple[Weakness, ...]:
    """Return the parts of a cloth that heat can hurt.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    tuple of Weakness
        Every part at its place; an unknown adhesive counts as a hot-melt, except under flock.

    Notes
    -----
    What lies on the face of the allowance is inside the garment and is left out, except its
    fibres: errs to the hopeful side where glue sticks to the press cloth. Metallised yarn dulls
    before it sticks, and counts only where one sees it.
    """
    found: dict[str, Weakness] = {}
    for part in cloth.parts:
        for name in _materials(cloth, part):
            key = f"{part.kind.value}: {name}"
            place = "garment" if name == "metallised-film" else "ply"
            place = "face" if part.kind in SURFACE_PARTS else place
            found.setdefault(key, Weakness(key, place, press_limit(name)))
    return tuple(found.values())


def _materials(cloth: Cloth, part: Part) -> list[str]:
    if part.kind is PartKind.ADHESIVE:
        flock_only = cloth.has(PartKind.FLOCK) and not cloth.has(
            PartKind.GLITTER, PartKind.DOTS, PartKind.FILM
        )
        return ["flock-binder"] if flock_only else ["adhesive-hotmelt"]
    named = [item.fibre for item in part.fibres if item.percent >= MINOR_PERCENT]
    return [name for name in named if name not in ("metal", "glass")] or (
        [] if part.fibres else [UNKNOWN]
    )


def room_temperature() -> Quantity:
    """Return the temperature of the workroom.

    Returns
    -------
    Quantity
        18 to 26 C (guess).
    """
    return between(18.0, 26.0, "C", GUESS)
