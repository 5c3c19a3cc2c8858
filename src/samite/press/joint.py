"""The layers of a pressed seam in their true order: open, to one side, French, or its edge only."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from samite.cloth.model import Cloth, Part
from samite.cloth.reading import PartKind
from samite.cloth.thermal import conductivity_of, packing_of, part_property
from samite.kernel.errors import UnknownNameError
from samite.kernel.evidence import Evidence, Grade
from samite.kernel.quantity import Quantity, between, product
from samite.tables.close_names import did_you_mean
from samite.tables.moisture import moisture_value
from samite.tables.press_tools import PressCloth, PressTool

GUESS = Evidence("guess", Grade.GUESS)

CLOSED_PARTS = (PartKind.FILM, PartKind.COATING)
"""Parts that close the pores of the cloth under them."""


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
        Water it holds at 65 % relative humidity, of dry mass [%].
    open_share : Quantity
        Vapour permeability over that of still air [-].
    solid_share : float
        Share of solid matter in its volume, 0 to 1 [-].
    owner : str
        Whose layer it is, in words: doubts are named after it.
    """

    name: str
    thickness_mm: Quantity
    conductivity_w_mk: Quantity
    heat_capacity_j_m3k: Quantity
    dry_mass_gsm: Quantity
    regain_percent: Quantity
    open_share: Quantity
    solid_share: float
    owner: str

    @property
    def doubt(self) -> str:
        """How its doubts are named."""
        return self.owner if self.name in (self.owner, "support") else f"{self.owner}'s {self.name}"


def ply_layers(cloth: Cloth, owner: str = "cloth") -> tuple[SeamLayer, ...]:
    """Return the layers of one ply, from the face to the back.

    Parameters
    ----------
    cloth : Cloth
        The cloth.
    owner : str
        What it is called, where a seam joins two.

    Returns
    -------
    tuple of SeamLayer
        Pile, if there is one, and ground; thin surface parts are part of the layer under them.
    """
    pile = next((part for part in cloth.parts if part.kind is PartKind.PILE), None)
    share = 0.0
    if pile:
        share = min(max(cloth.pile_height_mm / cloth.thickness_mm.value, 0.3), 0.85)
    layers = [_part_layer(cloth, pile, share, pile.mass_share, owner)] if pile else []
    rest = 1.0 - (pile.mass_share if pile else 0.0)
    return (*layers, _part_layer(cloth, cloth.base, 1.0 - share, rest, owner))


CHECKED = (
    ("mass_per_area_gsm", "mass", 8.0, 800.0, "g/m2"),
    ("thickness_mm", "thickness", 0.05, 6.0, "mm"),
    ("packing", "packing", 0.01, 0.75, "of its volume"),
)
"""What the layer models were checked for: field, word, low, high, unit."""

STRETCHED_FACTOR = 1.6
"""By what the ends of conductivity move apart for a cloth outside that [-] (guess)."""


def stretched(cloth: Cloth) -> tuple[str, ...]:
    """Say in what a cloth is outside the range that the layer models were checked for.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    tuple of str
        One sentence a property; empty inside the range.
    """
    found = []
    for field, word, low, high, unit in CHECKED:
        value = getattr(cloth, field).value
        if not low <= value <= high:
            found.append(
                f"stretched: its {word}, {value:.3g} {unit}, is outside the {low:g} to {high:g} that "
                "the model was checked for; the spread is wider"
            )
    return tuple(found)


def _spread_wider(quantity: Quantity, cloth: Cloth) -> Quantity:
    if not stretched(cloth):
        return quantity
    return replace(
        quantity, low=quantity.low / STRETCHED_FACTOR, high=quantity.high * STRETCHED_FACTOR
    )


def _part_layer(
    cloth: Cloth, part: Part, thickness_share: float, mass_share: float, owner: str
) -> SeamLayer:
    thickness = cloth.thickness_mm.scaled(thickness_share, "mm")
    mass = cloth.mass_per_area_gsm.scaled(mass_share, "g/m2")
    density = part_property(part, "density_g_cm3").scaled(1000.0, "kg/m3")
    packing = packing_of(mass, thickness, density)
    specific = part_property(part, "specific_heat_dry_j_gk").scaled(1000.0, "J/kgK")
    solid = part_property(part, "conductivity_transverse_w_mk")
    return SeamLayer(
        name=part.kind.value,
        thickness_mm=thickness,
        conductivity_w_mk=_spread_wider(conductivity_of(packing, solid), cloth),
        heat_capacity_j_m3k=product("J/m3K", packing, density, specific),
        dry_mass_gsm=mass,
        regain_percent=part_property(part, "regain_65rh_percent"),
        open_share=_open_share(cloth, packing),
        solid_share=packing.value,
        owner=owner,
    )


def _open_share(cloth: Cloth, packing: Quantity) -> Quantity:
    """Porosity to the power 1.5 (Bruggeman); a film over the face or as the ground closes it."""
    share = _bruggeman(packing)
    if cloth.has(*CLOSED_PARTS) or cloth.construction in ("film", "leather"):
        return product("1", share, moisture_value("film open_share"))
    return share


def _bruggeman(packing: Quantity) -> Quantity:
    value, low, high = (
        (1.0 - solid) ** 1.5 for solid in (packing.value, packing.high, packing.low)
    )
    return Quantity(value, low, high, "1", Evidence("bruggeman-1935", Grade.DERIVED))


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
        open_share=_bruggeman(packing),
        solid_share=packing.value,
        owner="press cloth",
    )


def tool_layer(tool: PressTool) -> SeamLayer:
    """Return the layer of what lies under, or of what is held on top.

    Parameters
    ----------
    tool : PressTool
        Board, needle board, towel, clapper and so on.

    Returns
    -------
    SeamLayer
        As one even layer.
    """
    specific = tool.specific_heat_j_gk.scaled(1000.0, "J/kgK")
    return SeamLayer(
        name=tool.role,
        thickness_mm=tool.thickness_mm,
        conductivity_w_mk=tool.conductivity_w_mk,
        heat_capacity_j_m3k=product("J/m3K", tool.density_kg_m3, specific),
        dry_mass_gsm=product("g/m2", tool.density_kg_m3, tool.thickness_mm),
        regain_percent=tool.regain_percent,
        open_share=tool.open_share,
        solid_share=min(tool.density_kg_m3.value / SOLID_KG_M3, 0.95),
        owner=tool.role,
    )


SOLID_KG_M3 = 1500.0
"""Density of solid fibre and wood substance [kg/m3]."""

ORDERS = ("open", "to one side", "french", "edge")
"""How a seam lies under the iron. ``edge``: pressed as sewn, only along its line."""


@dataclass(frozen=True, slots=True)
class Ply:
    """One ply of a pressed seam.

    Parameters
    ----------
    cloth : Cloth
        Its cloth.
    owner : str
        What it is called.
    face_up : bool
        Whether its face looks towards the iron.
    backing : bool
        Whether it lies behind the garment's own ply and is not an allowance: an underlining or
        a lining that is caught in the seam.
    """

    cloth: Cloth
    owner: str
    face_up: bool
    backing: bool = False

    @property
    def layers(self) -> tuple[SeamLayer, ...]:
        """Its layers from the iron down."""
        found = ply_layers(self.cloth, self.owner)
        return found if self.face_up else tuple(reversed(found))


FACES_UP = {
    "open": (True, False),
    "to one side": (False, True, False),
    "french": (False, True, False, True, False),
    "edge": (False, True),
}
"""Seen from the iron on the wrong side, whether each ply's face looks up; the last is the garment."""


def seam_plies(cloth: Cloth, order: str = "open", other: Cloth | None = None) -> tuple[Ply, ...]:
    """Return the plies of a plain or French seam, seen from the wrong side.

    Parameters
    ----------
    cloth : Cloth
        The cloth of the garment's side that the allowances lie on.
    order : str
        One of `ORDERS`.
    other : Cloth or None
        The cloth of the other side; None for the same.

    Returns
    -------
    tuple of Ply
        From the iron down; the last belongs to the garment's side that one sees.

    Raises
    ------
    UnknownNameError
        If no seam lies in that order.

    Notes
    -----
    Pressed open, each side has its own allowance over it: the deeper of the two cloths in this
    answer is `cloth` on itself. Pressed to one side the other cloth's allowance lies on top.
    """
    if order not in ORDERS:
        raise UnknownNameError(f"no seam lies {order!r}", "order", did_you_mean(order, ORDERS))
    faces = FACES_UP[order]
    theirs = other or cloth
    owners = ("cloth", "other cloth" if other else "cloth")
    near = 1 if order == "open" else (2 if order != "edge" else 1)
    if order == "french":
        near = 3
    plies = []
    for index, up in enumerate(faces):
        own = order == "open" or index >= len(faces) - near
        plies.append(Ply(cloth if own else theirs, owners[0] if own else owners[1], up))
    return tuple(plies)


@dataclass(frozen=True, slots=True)
class Joint:
    """A seam under the iron.

    Parameters
    ----------
    layers : tuple of SeamLayer
        From the iron down.
    core : int
        Interface under this layer is the fold that is set: between allowance and garment with
        what backs it.
    face_layer : int
        Layer at the face of the garment.
    face_depth : float
        0 if the face is on top of that layer, 1 if under it [-].
    plies : tuple of int
        Layers that belong to the plies.
    garment : tuple of int
        Layers of the ply that one sees.
    pile : tuple of int
        Layers of pile in the garment's ply.
    """

    layers: tuple[SeamLayer, ...]
    core: int
    face_layer: int
    face_depth: float
    plies: tuple[int, ...]
    garment: tuple[int, ...]
    pile: tuple[int, ...]


def build_joint(
    plies: Sequence[Ply],
    side: str,
    support: PressTool,
    press_cloth: PressCloth | None = None,
) -> Joint:
    """Stack a seam for the iron.

    Parameters
    ----------
    plies : sequence of Ply
        As `seam_plies` gives them: from the wrong side, the garment last; what backs it stands
        before it.
    side : str
        ``wrong`` or ``right``: the side that the iron is on.
    support : PressTool
        What lies under.
    press_cloth : PressCloth or None
        What lies between iron and seam.

    Returns
    -------
    Joint
        Layers from the iron down.

    Notes
    -----
    Pressed open from the wrong side the iron meets the face of the allowance; from the right
    side it meets the face of the garment.
    """
    seen = list(plies)
    if side == "right":
        seen = [replace(ply, face_up=not ply.face_up) for ply in reversed(plies)]
    above = [] if press_cloth is None else [press_cloth_layer(press_cloth)]
    layers, spans = list(above), []
    for ply in seen:
        first = len(layers)
        layers.extend(ply.layers)
        spans.append(range(first, len(layers)))
    garment = spans[-1] if side == "wrong" else spans[0]
    seen_layers = range(len(above), len(layers)) if _faces_meet(seen) else garment
    up = seen[-1].face_up if side == "wrong" else seen[0].face_up
    backings = sum(ply.backing for ply in plies)
    deep = max(len(spans) - 2 - backings, 0)
    core = spans[deep][-1] if side == "wrong" else spans[backings][-1]
    return Joint(
        layers=(*layers, tool_layer(support)),
        core=core,
        face_layer=garment[0] if up else garment[-1],
        face_depth=0.0 if up else 1.0,
        plies=tuple(range(len(above), len(layers))),
        garment=tuple(seen_layers),
        pile=tuple(i for i in garment if layers[i].name == PartKind.PILE.value),
    )


def under(layer: SeamLayer, joint: Joint) -> Joint:
    """Return a joint with one more layer on top.

    Parameters
    ----------
    layer : SeamLayer
        What is laid on.
    joint : Joint
        What it is laid on.

    Returns
    -------
    Joint
        One layer more; everything else keeps its meaning.
    """
    return Joint(
        layers=(layer, *joint.layers),
        core=joint.core + 1,
        face_layer=joint.face_layer + 1,
        face_depth=joint.face_depth,
        plies=tuple(i + 1 for i in joint.plies),
        garment=tuple(i + 1 for i in joint.garment),
        pile=tuple(i + 1 for i in joint.pile),
    )


def _faces_meet(seen: Sequence[Ply]) -> bool:
    """Whether the seam lies as it was sewn, the two faces together: then one sees both plies."""
    return len(seen) == 2 and not seen[0].face_up and seen[1].face_up


def room_temperature() -> Quantity:
    """Return the temperature of the workroom.

    Returns
    -------
    Quantity
        18 to 26 C (guess).
    """
    return between(18.0, 26.0, "C", GUESS)
