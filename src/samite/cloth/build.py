"""Build a cloth from a label reading: what is given, else the structure's, else the fibre's."""

from __future__ import annotations

import math
from types import MappingProxyType

from samite.cloth import handle
from samite.cloth.construction import PICTURE_QUESTION, find_construction
from samite.cloth.make_up import ELASTIC, arrange_parts, base_fibres, gather_components
from samite.cloth.model import Cloth, Part
from samite.cloth.reading import LabelReading, PartKind
from samite.cloth.thermal import cloth_property, conductivity_of, packing_of
from samite.kernel.evidence import GIVEN, Evidence, Grade
from samite.kernel.quantity import Quantity
from samite.kernel.reasons import Advice, Reason
from samite.tables.structures import Structure, structure
from samite.tables.surfaces import surface

GUESS = Evidence("guess", Grade.GUESS)

USUAL_MASS_GSM = {
    "woven": (150.0, 60.0, 320.0),
    "knit": (210.0, 120.0, 330.0),
    "net": (35.0, 12.0, 90.0),
    "lace": (150.0, 60.0, 350.0),
    "nonwoven": (200.0, 50.0, 450.0),
    "film": (350.0, 150.0, 600.0),
    "leather": (600.0, 350.0, 1000.0),
    "foam": (450.0, 150.0, 1000.0),
}
"""Median, 5th and 95th percentile of mass where nothing is known but the construction [g/m2]."""

USUAL_PACKING = {
    "woven": 0.34,
    "knit": 0.24,
    "net": 0.08,
    "lace": 0.15,
    "nonwoven": 0.12,
    "film": 0.85,
    "leather": 0.5,
    "foam": 0.1,
}
"""Share of solid matter where nothing is known but the construction (guess)."""

PILE_PACKING = 0.14
"""Share of solid matter of a pile cloth (customary range 0.10 to 0.20)."""


def build_cloth(reading: LabelReading) -> Cloth:
    """Build the cloth that a label describes.

    Parameters
    ----------
    reading : LabelReading
        What the label said.

    Returns
    -------
    Cloth
        Every field is filled; ``assumed`` and ``unknown`` say what the label did not give.
    """
    named = structure(reading.structure) if reading.structure else None
    components = gather_components(reading, named)
    fibres, fibres_stated = base_fibres(components)
    parts = arrange_parts(components, fibres)
    has_pile = any(part.kind is PartKind.PILE for part in parts)
    construction = find_construction(reading, named, fibres, has_pile=has_pile)
    density = cloth_property(parts, "density_g_cm3").scaled(1000.0, "kg/m3")
    mass = _mass(reading, named, construction.value)
    thickness = _thickness(reading, named, mass.value, density, construction.value, has_pile)
    packing = packing_of(mass.value, thickness.value, density)
    make_up = handle.MakeUp(
        reading,
        named,
        construction.value,
        parts,
        mass.value.value,
        thickness.value.value,
        density.value,
        packing.value,
    )
    yarn = handle.find_yarn(make_up)
    fray = handle.find_fray(make_up, yarn.value)
    slip = handle.find_slip(make_up, yarn.value)
    sheer = handle.find_sheer(make_up, yarn.value)
    one_way = handle.find_one_way(make_up)
    holes = handle.find_holes_show(make_up, yarn.value)
    stiffness = handle.find_stiffness(make_up)
    cross = _stretch_cross(reading, named, construction.value, parts)
    length = _stretch_length(reading, named, cross.value)
    reasons = {
        "construction": construction.reason,
        "mass_per_area_gsm": mass.reason,
        "thickness_mm": thickness.reason,
        "yarn": yarn.reason,
        "frays": fray.reason,
        "slippery": slip.reason,
        "sheer": sheer.reason,
        "one_way": one_way.reason,
        "holes_show": holes.reason,
        "stiffness": stiffness.reason,
        "stretch_percent": cross.reason,
    }
    return Cloth(
        reading=reading,
        structure_key=reading.structure,
        structure_name=named.name if named else _describe(construction.value, has_pile),
        construction=construction.value,
        yarn=yarn.value,
        parts=parts,
        mass_per_area_gsm=mass.value,
        thickness_mm=thickness.value,
        width_cm=reading.width_cm,
        stretch_cross_percent=cross.value,
        stretch_length_percent=length,
        density_kg_m3=density,
        packing=packing,
        regain_percent=cloth_property(parts, "regain_65rh_percent"),
        specific_heat_j_kgk=cloth_property(parts, "specific_heat_dry_j_gk").scaled(1000.0, "J/kgK"),
        conductivity_w_mk=conductivity_of(
            packing, cloth_property(parts, "conductivity_transverse_w_mk")
        ),
        frays=fray.value,
        slippery=slip.value,
        stiffness=stiffness.value,
        sheer=sheer.value,
        one_way=one_way.value,
        holes_show=holes.value,
        pile_height_mm=_pile_height(reading, named, thickness.value.value, has_pile),
        crushed=any(surface(key).crushed for key in reading.surfaces)
        or bool(named and named.flag("crushed")),
        assumed=_assumed(reading, fibres_stated),
        unknown=_unknown(reading, parts, construction),
        reasons=MappingProxyType(reasons),
    )


def _mass(reading: LabelReading, named: Structure | None, construction: str) -> Advice[Quantity]:
    if reading.mass_per_area_gsm:
        return Advice(reading.mass_per_area_gsm, Reason("mass as given", evidence=GIVEN))
    usual = _structure_value(named, "mass_per_area_gsm")
    if usual and named:
        return Advice(usual, Reason(f"usual mass of {named.name}", evidence=usual.evidence))
    value, low, high = USUAL_MASS_GSM[construction]
    quantity = Quantity(value, low, high, "g/m2", GUESS)
    return Advice(quantity, Reason(f"usual mass of a {construction} dress cloth", evidence=GUESS))


def _thickness(
    reading: LabelReading,
    named: Structure | None,
    mass: Quantity,
    density: Quantity,
    construction: str,
    has_pile: bool,
) -> Advice[Quantity]:
    if reading.thickness_mm:
        return Advice(reading.thickness_mm, Reason("thickness as given", evidence=GIVEN))
    usual = _structure_value(named, "thickness_mm")
    if usual and named:
        fitted = _fit_to_mass(usual, mass, _structure_value(named, "mass_per_area_gsm"))
        claim = f"usual thickness of {named.name}, adjusted to its mass"
        return Advice(fitted, Reason(claim, evidence=usual.evidence))
    packing = PILE_PACKING if has_pile else USUAL_PACKING[construction]
    middle = mass.value / (density.value * packing)
    quantity = Quantity(middle, 0.6 * middle, 1.7 * middle, "mm", GUESS)
    claim = f"from its mass and a usual {100 * packing:.0f} % of fibre in its volume"
    return Advice(quantity, Reason(claim, evidence=GUESS))


def _fit_to_mass(usual: Quantity, mass: Quantity, usual_mass: Quantity | None) -> Quantity:
    """Move a usual thickness with the square root of the mass, within half its range again."""
    if usual_mass is None:
        return usual
    factor = min(max(math.sqrt(mass.value / usual_mass.value), 0.6), 1.6)
    return usual.scaled(factor, usual.unit)


def _stretch_cross(
    reading: LabelReading, named: Structure | None, construction: str, parts: tuple[Part, ...]
) -> Advice[Quantity]:
    if reading.stretch_cross_percent:
        return Advice(reading.stretch_cross_percent, Reason("stretch as given", evidence=GIVEN))
    usual = _structure_value(named, "stretch_cross_percent")
    if usual and named and not (usual.value < 10 and construction == "knit"):
        return Advice(usual, Reason(f"usual stretch of {named.name}", evidence=usual.evidence))
    elastic = sum(i.percent for p in parts for i in p.fibres if i.fibre in ELASTIC)
    if construction == "knit":
        low, middle, high = (30.0, 50.0, 80.0) if elastic else (10.0, 25.0, 50.0)
    elif elastic or reading.stretches:
        low, middle, high = 5.0, 12.0, 25.0
    else:
        low, middle, high = 0.0, 0.0, 4.0
    quantity = Quantity(middle, low, high, "%", GUESS)
    return Advice(
        quantity, Reason(f"usual stretch of a {construction} with these fibres", evidence=GUESS)
    )


def _stretch_length(reading: LabelReading, named: Structure | None, cross: Quantity) -> Quantity:
    if reading.stretch_length_percent:
        return reading.stretch_length_percent
    usual = _structure_value(named, "stretch_length_percent")
    if usual:
        return usual
    return Quantity(0.4 * cross.value, 0.1 * cross.low, max(cross.high, 0.0), "%", GUESS)


def _pile_height(
    reading: LabelReading, named: Structure | None, thickness_mm: float, has_pile: bool
) -> float:
    if not has_pile:
        return 0.0
    usual = _structure_value(named, "pile_height_mm")
    return reading.pile_height_mm or (usual.value if usual else 0.6 * thickness_mm)


def _structure_value(named: Structure | None, name: str) -> Quantity | None:
    return named.quantity(name) if named and named.has(name) else None


def _assumed(reading: LabelReading, fibres_stated: bool) -> tuple[str, ...]:
    given = {
        "fibres": fibres_stated,
        "structure": reading.structure is not None,
        "mass_per_area_gsm": reading.mass_per_area_gsm is not None,
        "thickness_mm": reading.thickness_mm is not None,
        "width_cm": reading.width_cm is not None,
        "stretch_percent": reading.stretch_cross_percent is not None,
    }
    return tuple(name for name, is_given in given.items() if not is_given)


def _unknown(
    reading: LabelReading,
    parts: tuple[Part, ...],
    construction: Advice[str],
) -> tuple[str, ...]:
    missing = []
    for part in parts:
        if part.kind is PartKind.ADHESIVE:
            missing.append(f"adhesive of the {_glued_on(parts)}")
        elif not part.known:
            missing.append(
                "fibres of the cloth"
                if part.kind is PartKind.BASE
                else f"material of the {part.kind.value}"
            )
    evidence = construction.reason.evidence
    if evidence == GUESS:
        missing.append(PICTURE_QUESTION)
    if reading.other_fibres_percent:
        missing.append(f"{reading.other_fibres_percent:g} % other fibres")
    return tuple(missing)


def _glued_on(parts: tuple[Part, ...]) -> str:
    """Name what lies on the adhesive."""
    before = parts[: [part.kind for part in parts].index(PartKind.ADHESIVE)]
    return before[-1].kind.value if before else "face"


def _describe(construction: str, has_pile: bool) -> str:
    return f"{construction} pile cloth" if has_pile else f"{construction} cloth"
