"""Density, packing, regain, heat capacity and conductivity of a cloth from its make-up."""

from __future__ import annotations

import math

from samite.cloth.conductivity import geometric_mean_conductivity_w_mk
from samite.cloth.model import Part
from samite.kernel.errors import UnknownError
from samite.kernel.evidence import Evidence, Grade, weakest
from samite.kernel.quantity import Quantity
from samite.tables.fibres import fibre

AIR_CONDUCTIVITY_W_MK = 0.026
"""Still air at room temperature [W/(m K)]."""

MODEL_SPREAD = 0.25
"""Half-width of the geometric-mean model against published pads (thermal tables: +-25 %)."""

FALLBACKS = {
    "conductivity_transverse_w_mk": ("conductivity_solid_w_mk", "conductivity_pad_w_mk"),
}

UNKNOWN_MATERIAL = {
    "density_g_cm3": Quantity(1.3, 1.0, 1.5, "g/cm3", Evidence("guess", Grade.GUESS)),
    "regain_65rh_percent": Quantity(3.0, 0.3, 12.0, "%", Evidence("guess", Grade.GUESS)),
    "specific_heat_dry_j_gk": Quantity(1.3, 1.0, 1.8, "J/gK", Evidence("guess", Grade.GUESS)),
    "conductivity_transverse_w_mk": Quantity(
        0.2, 0.12, 0.3, "W/mK", Evidence("guess", Grade.GUESS)
    ),
}
"""What is assumed of a material that no label names."""


def part_property(part: Part, name: str) -> Quantity:
    """Return a property of a part's material, mixed by mass where it is a blend.

    Parameters
    ----------
    part : Part
        The part.
    name : str
        Property of the fibre table, for example ``specific_heat_dry_j_gk``.

    Returns
    -------
    Quantity
        Density is mixed by volume, everything else by mass; an unknown material gets a wide
        guess.

    Notes
    -----
    Mixing by mass is exact for heat capacity and regain; for conductivity it is an
    approximation that errs by less than the spread of the fibre values.
    """
    if not part.fibres:
        return UNKNOWN_MATERIAL[name]
    shares = [(item.percent / 100.0, _fibre_property(item.fibre, name)) for item in part.fibres]
    return mix(shares, name)


def mix(shares: list[tuple[float, Quantity]], name: str) -> Quantity:
    """Mix quantities by mass share.

    Parameters
    ----------
    shares : list of tuple of (float, Quantity)
        Mass share (0 to 1) and value of each component.
    name : str
        Property; densities are mixed by volume.

    Returns
    -------
    Quantity
        Mixture; graded like its weakest component.
    """
    total = sum(share for share, _ in shares)
    harmonic = name.startswith("density")

    def mean(pick: str) -> float:
        values = [(share / total, float(getattr(quantity, pick))) for share, quantity in shares]
        if harmonic:
            return 1.0 / sum(share / value for share, value in values)
        return sum(share * value for share, value in values)

    quantities = [quantity for _, quantity in shares]
    grade = weakest(*(quantity.evidence.grade for quantity in quantities))
    source = " + ".join(dict.fromkeys(quantity.evidence.source for quantity in quantities))
    value, low, high = mean("value"), mean("low"), mean("high")
    return Quantity(
        value, min(low, value), max(high, value), quantities[0].unit, Evidence(source, grade)
    )


def cloth_property(parts: tuple[Part, ...], name: str) -> Quantity:
    """Mix a property over all parts of a cloth by their share of the mass.

    Parameters
    ----------
    parts : tuple of Part
        All parts.
    name : str
        Property of the fibre table.

    Returns
    -------
    Quantity
        Mixture over the parts.
    """
    shares = [(part.mass_share, part_property(part, name)) for part in parts if part.mass_share]
    return mix(shares, name)


def packing_of(
    mass_per_area_gsm: Quantity, thickness_mm: Quantity, density_kg_m3: Quantity
) -> Quantity:
    """Return the share of solid matter in the cloth's volume.

    Parameters
    ----------
    mass_per_area_gsm : Quantity
        Mass per area [g/m2].
    thickness_mm : Quantity
        Thickness [mm].
    density_kg_m3 : Quantity
        Density of the solid matter [kg/m3].

    Returns
    -------
    Quantity
        Packing, 0.005 to 0.95.

    Notes
    -----
    Spreads add in quadrature, as if mass and thickness were independent; they rise together in
    a family of cloths, so the spread errs to the wide side.
    """

    def ratio(mass: float, thick: float, dense: float) -> float:
        return min(max(mass / (thick * dense), 0.005), 0.95)

    value = ratio(mass_per_area_gsm.value, thickness_mm.value, density_kg_m3.value)
    logs = [
        (math.log(item.value / item.low), math.log(item.high / item.value))
        for item in (mass_per_area_gsm, thickness_mm, density_kg_m3)
    ]
    down = math.sqrt(sum(low * low for low, _ in logs))
    up = math.sqrt(sum(high * high for _, high in logs))
    grade = weakest(*(q.evidence.grade for q in (mass_per_area_gsm, thickness_mm)))
    low = max(value * math.exp(-down), 0.005)
    high = min(value * math.exp(up), 0.95)
    return Quantity(
        value,
        min(low, value),
        max(high, value),
        "1",
        Evidence("mass / (thickness x density)", grade),
    )


def conductivity_of(packing: Quantity, solid_w_mk: Quantity) -> Quantity:
    """Return the conductivity through a cloth by the geometric mean of solid and air.

    Parameters
    ----------
    packing : Quantity
        Share of solid matter, 0 to 1.
    solid_w_mk : Quantity
        Conductivity across the fibre [W/(m K)].

    Returns
    -------
    Quantity
        Conductivity of the dry cloth [W/(m K)] with the model's own spread of +-25 %.

    Notes
    -----
    k = k_solid^packing x k_air^(1 - packing). Within 25 % of the published pads of cotton, wool
    and silk at 0.5 g/cm3; errs low for fibres that lie along the heat flow (pile).

    References
    ----------
    fibre-conductivity-lecture, pads at 0.5 g/cm3.
    """

    def mean(solid: float, share: float) -> float:
        return geometric_mean_conductivity_w_mk(
            fibre_conductivity_w_mk=solid,
            air_conductivity_w_mk=AIR_CONDUCTIVITY_W_MK,
            packing=share,
        )

    value = mean(solid_w_mk.value, packing.value)
    low = mean(solid_w_mk.low, packing.low) / (1 + MODEL_SPREAD)
    high = mean(solid_w_mk.high, packing.high) * (1 + MODEL_SPREAD)
    evidence = Evidence("geometric mean of fibre and air", Grade.DERIVED)
    return Quantity(value, low, high, "W/mK", evidence)


def _fibre_property(key: str, name: str) -> Quantity:
    for candidate in (name, *FALLBACKS.get(name, ())):
        try:
            return fibre(key).quantity(candidate)
        except UnknownError:
            continue
    return UNKNOWN_MATERIAL[name]
