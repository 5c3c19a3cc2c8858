"""The units that samite reads, by dimension, with their exact definitions.

References
----------
``definition``: the international yard and pound agreement of 1959 (1 in = 25.4 mm,
1 lb = 453.59237 g), standard gravity 9.80665 m/s2, the thermochemical calorie 4.184 J, ISO 1144
(tex), 840 yd hanks a pound (cotton count), 1 lb a piece of 100 yd by 45 in (momme),
1 TMU = 0.00001 h.
"""

from __future__ import annotations

from dataclasses import dataclass

INCH_MM = 25.4
POUND_G = 453.59237
STANDARD_GRAVITY_M_S2 = 9.80665
POUND_FORCE_N = POUND_G / 1000.0 * STANDARD_GRAVITY_M_S2
GRAM_FORCE_N = STANDARD_GRAVITY_M_S2 / 1000.0
CALORIE_J = 4.184
YARD_M = 36 * INCH_MM / 1000.0
OUNCE_G = POUND_G / 16.0


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit of a dimension.

    Parameters
    ----------
    symbol : str
        The one spelling that samite prints; unique over all dimensions.
    factor : float
        Base units in one of this unit; for an inverse unit the base value at number 1.
    aliases : str
        Other spellings, separated by ``|``, lower case, without blanks.
    offset : float
        Base value at number 0.
    inverse : bool
        True if a larger number means less (yarn counts: length per mass).
    """

    symbol: str
    factor: float
    aliases: str = ""
    offset: float = 0.0
    inverse: bool = False


def _u(symbol: str, factor: float, aliases: str = "") -> Unit:
    return Unit(symbol, factor, aliases)


def _length_per_mass(symbol: str, tex_at_one: float, aliases: str = "") -> Unit:
    return Unit(symbol, tex_at_one, aliases, inverse=True)


DIMENSIONS: dict[str, tuple[Unit, ...]] = {
    "length": (
        _u("mm", 1.0, "millimetre|millimeter"),
        _u("cm", 10.0, "centimetre|centimeter"),
        _u("m", 1000.0, "mtr"),
        _u("km", 1e6, "kilometre|kilometer"),
        _u("um", 1e-3, "micron|micrometre|micrometer"),
        _u("in", INCH_MM, "\"|''"),
        _u("ft", 12 * INCH_MM, "'"),
        _u("yd", 36 * INCH_MM),
        _u("thou", INCH_MM / 1000.0),
        _u("mil", INCH_MM / 1000.0),
    ),
    "count per length": (
        _u("1/mm", 1.0, "st/mm|stitches/mm"),
        _u("1/cm", 0.1, "st/cm|stitch/cm|stitches/cm|ends/cm|picks/cm|threads/cm|spcm|/cm"),
        _u(
            "1/in",
            1.0 / INCH_MM,
            "spi|epi|ppi|st/in|stitch/in|stitches/in|ends/in|picks/in|threads/in|/in",
        ),
    ),
    "area": (
        _u("mm2", 1e-6, "sqmm"),
        _u("cm2", 1e-4, "sqcm"),
        _u("m2", 1.0, "sqm"),
        _u("in2", (INCH_MM / 1000.0) ** 2, "sqin"),
        _u("ft2", (12 * INCH_MM / 1000.0) ** 2, "sqft"),
        _u("yd2", YARD_M**2, "sqyd"),
    ),
    "mass": (
        _u("g", 1.0, "gr"),
        _u("mg", 1e-3, "milligram"),
        _u("kg", 1000.0, "kilogram|kilo"),
        _u("oz", OUNCE_G),
        _u("lb", POUND_G, "pound|lbs|lbm"),
    ),
    "mass per area": (
        _u("g/m2", 1.0, "gsm|g/sqm|g"),
        _u("kg/m2", 1000.0),
        _u("oz/yd2", OUNCE_G / YARD_M**2, "osy|oz/sqyd|oz"),
        _u("momme", POUND_G / (100 * YARD_M * 45 * INCH_MM / 1000.0), "mommes|mm|m/m"),
    ),
    "running mass": (
        _u(
            "g/m",
            1.0,
            "g/lm|g/rm|g/runningm|g/linearm",
        ),
        _u("kg/m", 1000.0, "kg/runningm|kg/linearm"),
        _u(
            "oz/yd",
            OUNCE_G / YARD_M,
            "oz/linearyd|oz/runningyd",
        ),
    ),
    "linear density": (
        _u("tex", 1.0, "t"),
        _u("dtex", 0.1, "decitex"),
        _u("mtex", 1e-3, "millitex"),
        _u("den", 1.0 / 9.0, "denier|d"),
        _length_per_mass("Nm", 1000.0, "wt|m/g|metriccount"),
        _length_per_mass("Ne", POUND_G * 1000.0 / (840 * YARD_M), "nec|cottoncount|ecc"),
        _length_per_mass("tkt", 3000.0, "ticket|no|metricticket"),
    ),
    "needle size": (
        _u("needle Nm", 1.0, "nm"),
        _u("needle mm", 100.0, "mm"),
        _u("needle in", 100.0 * INCH_MM, "in|\"|''"),
    ),
    "temperature": (
        Unit("C", 1.0, "celsius|degc|centigrade", offset=273.15),
        Unit("F", 5.0 / 9.0, "fahrenheit|degf", offset=459.67 * 5.0 / 9.0),
        Unit("K", 1.0, "kelvin"),
    ),
    "temperature difference": (
        _u("delta K", 1.0, "k|c|kelvin|celsius|degc|deltak|deltac"),
        _u("delta F", 5.0 / 9.0, "f|fahrenheit|degf|deltaf"),
    ),
    "pressure": (
        _u("Pa", 1.0, "n/m2|pascal"),
        _u("kPa", 1e3, "kn/m2"),
        _u("MPa", 1e6, "n/mm2"),
        _u("bar", 1e5),
        _u("mbar", 100.0, "hpa"),
        _u("atm", 101325.0),
        _u("gf/cm2", GRAM_FORCE_N * 1e4, "g/cm2"),
        _u("kgf/cm2", GRAM_FORCE_N * 1e7, "kg/cm2"),
        _u("psi", POUND_FORCE_N / (INCH_MM / 1000.0) ** 2, "lbf/in2|lb/in2"),
    ),
    "force": (
        _u("N", 1.0, "newton"),
        _u("cN", 0.01),
        _u("kN", 1000.0),
        _u("gf", GRAM_FORCE_N, "g"),
        _u("kgf", 1000.0 * GRAM_FORCE_N, "kg|kp"),
        _u("lbf", POUND_FORCE_N, "lb|pound|lbs"),
    ),
    "force per length": (
        _u("N/m", 1.0),
        _u("N/cm", 100.0),
        _u("N/mm", 1000.0, "kN/m"),
        _u("gf/cm", GRAM_FORCE_N * 100.0, "g/cm"),
        _u("lbf/in", POUND_FORCE_N / (INCH_MM / 1000.0), "lb/in"),
    ),
    "tenacity": (
        _u("cN/tex", 1.0),
        _u("cN/dtex", 10.0),
        _u("N/tex", 100.0),
        _u("gf/den", GRAM_FORCE_N * 100.0 * 9.0, "g/den|g/d|gpd|gf/denier"),
        _u("gf/tex", GRAM_FORCE_N * 100.0, "g/tex"),
    ),
    "conductivity": (
        _u("W/mK", 1.0, "w/(mk)|w/m/k|wm-1k-1|w/mc|w/(mc)"),
        _u("mW/mK", 1e-3, "mw/(mk)"),
        _u("cal/(s cm K)", CALORIE_J * 100.0, "cal/(scmk)|cal/scmk|cal/s/cm/k|cal/scmc|cal/(scmc)"),
    ),
    "conductance": (_u("W/m2K", 1.0, "w/(m2k)|w/m2/k|w/m2c"),),
    "thermal resistance": (_u("m2K/W", 1.0, "(m2k)/w"),),
    "power": (
        _u("W", 1.0, "watt"),
        _u("kW", 1000.0, "kilowatt"),
    ),
    "heat flux": (
        _u("W/m2", 1.0),
        _u("kW/m2", 1e3),
        _u("W/cm2", 1e4),
    ),
    "heat per area": (
        _u("J/m2", 1.0),
        _u("kJ/m2", 1e3),
        _u("J/cm2", 1e4),
    ),
    "specific heat": (
        _u("J/gK", 1.0, "j/(gk)|kj/kgk|kj/(kgk)|j/g/k|j/gc"),
        _u("J/kgK", 1e-3, "j/(kgk)|j/kg/k"),
        _u("cal/gK", CALORIE_J, "cal/(gk)|cal/gc"),
    ),
    "specific energy": (
        _u("kJ/kg", 1.0, "j/g"),
        _u("J/kg", 1e-3),
        _u("cal/g", CALORIE_J, "kcal/kg"),
    ),
    "density": (
        _u("g/cm3", 1.0, "g/cc|g/ml|kg/l|kg/dm3"),
        _u("kg/m3", 1e-3),
        _u("lb/ft3", POUND_G / (12 * INCH_MM / 10.0) ** 3),
    ),
    "diffusivity": (
        _u("m2/s", 1.0),
        _u("mm2/s", 1e-6),
    ),
    "time": (
        _u("s", 1.0, "sec|second"),
        _u("min", 60.0, "minute"),
        _u("h", 3600.0, "hr|hour"),
        _u("d", 86400.0, "day"),
        _u("TMU", 0.036),
    ),
    "speed": (
        _u("mm/s", 1.0),
        _u("cm/s", 10.0),
        _u("m/s", 1000.0),
        _u("m/min", 1000.0 / 60.0),
        _u("m/h", 1000.0 / 3600.0),
        _u("in/s", INCH_MM),
        _u("in/min", INCH_MM / 60.0),
        _u("yd/min", 36 * INCH_MM / 60.0),
    ),
    "rate": (
        _u("1/s", 1.0, "st/s|stitches/s|/s"),
        _u("1/min", 1.0 / 60.0, "st/min|stitches/min|spm|rpm|/min"),
    ),
    "angle": (
        _u("deg", 1.0, "degree|°"),
        _u("rad", 57.29577951308232, "radian"),
    ),
    "share": (
        _u("1", 1.0, "-|fraction|ratio|m/m|in/in|dots|dot"),
        _u("%", 0.01, "percent|pct"),
    ),
}
"""Units by dimension; the first unit of each whose factor is 1 is the base."""
