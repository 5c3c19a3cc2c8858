"""Named functions that answer from the tables, with the evidence of the row."""

from __future__ import annotations

from dataclasses import dataclass

from samite.cloth.conductivity import parallel_share, schuhmeister_conductivity_w_mk
from samite.kernel.errors import OutOfRangeError, UnknownError, UnknownNameError
from samite.kernel.evidence import Evidence, Grade
from samite.kernel.quantity import Quantity, exact, spread
from samite.kernel.units import parse_quantity
from samite.seam.needle_size import needle_size, needle_sizes
from samite.tables.fibres import Fibre
from samite.tables.fibres import fibre as fibre_named
from samite.tables.loader import read_toml
from samite.tables.press_tools import iron_settings

PAD_DENSITY_KG_M3 = 500.0
AIR_CONDUCTIVITY_W_MK = 0.026
PAD_SPREAD = 0.25


@dataclass(frozen=True, slots=True)
class Sourced:
    """A value or a word with the evidence for it.

    Parameters
    ----------
    value : float, str, or list of either
        The answer.
    unit : str
        Its unit; empty for a word.
    evidence : Evidence
        Source and grade.
    """

    value: object
    unit: str
    evidence: Evidence


def converted(*, quantity: str, to: str) -> Sourced:
    """Return a quantity in another unit.

    Parameters
    ----------
    quantity : str
        Number with its unit, ``"2.5 mm"``, ``"Ne 40/2"``, ``"12 spi"``.
    to : str
        Unit wanted.

    Returns
    -------
    Sourced
        The number in the unit wanted.

    Raises
    ------
    InputError
        If the quantity cannot be read in a unit of that dimension.

    References
    ----------
    ``definition``: exact definitions of the units.
    """
    evidence = Evidence("definition", Grade.DERIVED, "exact definitions of the units")
    return Sourced(parse_quantity(quantity, to, stitches=True), to, evidence)


def needle_us_size(*, size_nm: int) -> Quantity:
    """Return the number on the US scale of a metric needle size.

    Parameters
    ----------
    size_nm : int
        Metric size [needle Nm].

    Returns
    -------
    Quantity
        Number of the US scale [1].

    Raises
    ------
    OutOfRangeError
        If no needle of that size is sold.

    References
    ----------
    ``needle-size-charts``: pairs of metric and US sizes.
    """
    size = needle_size(size_nm=size_nm)
    return exact(float(size.size_us), "1", size.evidence)


def needle_metric_size(*, us_size: int) -> Quantity:
    """Return the metric size of a needle of the US scale.

    Parameters
    ----------
    us_size : int
        Number of the US scale [-].

    Returns
    -------
    Quantity
        Metric size; where two are sold under one number, the coarser [needle Nm].

    Raises
    ------
    OutOfRangeError
        If no needle of that number is sold.

    References
    ----------
    ``needle-size-charts``: pairs of metric and US sizes.
    """
    found = [size for size in needle_sizes() if size.size_us == us_size]
    if not found:
        sold = ", ".join(dict.fromkeys(str(size.size_us) for size in needle_sizes()))
        raise OutOfRangeError(f"no needle of US {us_size} is sold", "us_size", f"one of {sold}")
    return exact(float(found[-1].size_nm), "needle Nm", found[-1].evidence)


def fibre_value(*, fibre: str, property: str) -> Quantity:  # noqa: A002
    """Return a property of a fibre from the fibre table.

    Parameters
    ----------
    fibre : str
        Key in the fibre table, ``"cotton"``.
    property : str
        Name of the property with its unit, ``"density_g_cm3"``.

    Returns
    -------
    Quantity
        Value with its spread, source and grade.

    Raises
    ------
    UnknownNameError
        If no table has that fibre or property.
    UnknownError
        If neither the fibre nor its class has a value.

    References
    ----------
    ``definition``: the source of the row is given with the value.
    """
    return fibre_named(fibre).quantity(property)


def iron_limit(*, dots: int) -> Quantity:
    """Return the highest sole-plate temperature that an iron symbol allows.

    Parameters
    ----------
    dots : int
        Dots of the symbol, 1 to 3 [-].

    Returns
    -------
    Quantity
        Sole-plate limit [C].

    Raises
    ------
    OutOfRangeError
        If no symbol has that number of dots.

    Notes
    -----
    A maximum at the sole plate, neither a target nor the temperature of the cloth.

    References
    ----------
    ``care-symbol-page``: after ``iso-3758-2012``.
    """
    for setting in iron_settings().values():
        if setting.dots == dots:
            return setting.sole_limit_c
    raise OutOfRangeError(
        f"no iron symbol with {dots} dots allows ironing", "dots", "give 1, 2 or 3 dots"
    )


def steam_at_dots(*, dots: int) -> Sourced:
    """Return whether an iron symbol allows steam.

    Parameters
    ----------
    dots : int
        Dots of the symbol; 0 for the crossed iron [-].

    Returns
    -------
    Sourced
        What the symbol says of steam.

    Raises
    ------
    UnknownNameError
        If no symbol has that number of dots.

    References
    ----------
    ``care-symbol-page``: after ``iso-3758-2012``.
    """
    return _rule("steam-at-dots", str(dots))


def hot_pressing_test(*, test: str) -> Sourced:
    """Return temperature, pressure and time of a hot-pressing or scorch test.

    Parameters
    ----------
    test : str
        ``iso-105-x11`` or ``aatcc-92``.

    Returns
    -------
    Sourced
        The conditions in words.

    Raises
    ------
    UnknownNameError
        If no such test is known.

    References
    ----------
    ``iso-105-x11``: from memory; ``aatcc-92`` likewise.
    """
    return _rule("hot-pressing-tests", test)


def pad_conductivity_w_mk(*, fibre: str, bulk_density_kg_m3: float) -> Quantity:
    """Return the conductivity of a pad of fibres at a bulk density.

    Parameters
    ----------
    fibre : str
        Key in the fibre table.
    bulk_density_kg_m3 : float
        Density of the pad with its air [kg/m3].

    Returns
    -------
    Quantity
        Conductivity [W/mK].

    Raises
    ------
    UnknownNameError
        If no table has that fibre.
    UnknownError
        If no pad of the fibre was measured.
    OutOfRangeError
        If the pad is denser than the fibre.

    Notes
    -----
    The share conducting in parallel is fitted to the published pad at 0.5 g/cm3 and carried to the
    density asked for: at 0.5 g/cm3 the answer is the published one. Within 25 % elsewhere, a guess.

    References
    ----------
    ``fibre-conductivity-lecture``: pads at 0.5 g/cm3.
    """
    material = fibre_named(fibre)
    if not material.knows("conductivity_pad_w_mk"):
        raise UnknownError(
            f"no pad of {material.name} was measured",
            fibre,
            "use conductivity-geometric-mean with the fibre's own conductivity",
        )
    pad = material.quantity("conductivity_pad_w_mk")
    grams_per_cm3 = material.quantity("density_g_cm3").value
    solid = _solid_conductivity(material)
    share = parallel_share(
        pad_conductivity_w_mk=pad.value,
        fibre_conductivity_w_mk=solid,
        air_conductivity_w_mk=AIR_CONDUCTIVITY_W_MK,
        packing=PAD_DENSITY_KG_M3 / (1000.0 * grams_per_cm3),
    )
    conductivity = schuhmeister_conductivity_w_mk(
        fibre_conductivity_w_mk=solid,
        air_conductivity_w_mk=AIR_CONDUCTIVITY_W_MK,
        packing=bulk_density_kg_m3 / (1000.0 * grams_per_cm3),
        parallel_share=share,
    )
    if bulk_density_kg_m3 == PAD_DENSITY_KG_M3:
        return pad
    evidence = Evidence(pad.evidence.source, Grade.DERIVED, "carried from the pad at 0.5 g/cm3")
    return spread(conductivity, PAD_SPREAD, "W/mK", evidence)


def _rule(group: str, key: str) -> Sourced:
    rules = read_toml("ironing_rules.toml")[group]
    if key not in rules:
        raise UnknownNameError(f"{key!r} is not known", key, f"one of {', '.join(rules)}")
    rule = rules[key]
    evidence = Evidence(rule["source"], Grade(rule["grade"]), rule["locator"])
    return Sourced(rule["says"], "", evidence)


def _solid_conductivity(material: Fibre) -> float:
    for name in ("conductivity_solid_w_mk", "conductivity_transverse_w_mk"):
        if material.knows(name):
            return material.quantity(name).value
    raise UnknownError(
        f"no conductivity of solid {material.name} is known",
        material.key,
        "compare it on a warm plate with a cloth that is known",
    )
