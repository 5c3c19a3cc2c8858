"""Air and wood: what lies between layers and what a clapper is made of."""

from __future__ import annotations

import math

from samite.kernel.errors import OutOfRangeError
from samite.press._checks import check_above_zero, check_not_negative

KELVIN = 273.15
"""0 degrees C [K]."""

ATMOSPHERE_PA = 101325.0
"""Standard atmosphere [Pa]."""

AIR_MOLAR_MASS_G_MOL = 28.9586
AIR_CRITICAL_K = 132.6312
AIR_CRITICAL_MOL_L = 10.4477
AIR_WELL_DEPTH_K = 103.3
AIR_DIAMETER_NM = 0.360
AIR_COLLISION = (0.431, -0.4623, 0.08406, 0.005341, -0.00331)
"""Coefficients of ln(collision integral) in powers of ln(T / well depth)."""

GAS_CONSTANT_J_MOLK = 8.31446


def air_conductivity(*, air_c: float) -> float:
    """Return the conductivity of still dry air at one atmosphere.

    Parameters
    ----------
    air_c : float
        Temperature [C], -100 to 700.

    Returns
    -------
    float
        Conductivity [W/(m K)].

    Raises
    ------
    OutOfRangeError
        If the temperature is outside -100 to 700 C.

    Notes
    -----
    The dilute gas and the first term in density; the rest is under 0.1 % at one atmosphere.

    References
    ----------
    lemmon-jacobsen-2004, equations 2, 5 and 6, tables I to IV.
    """
    if not -100.0 <= air_c <= 700.0:
        raise OutOfRangeError(f"{air_c:g} C is outside -100 to 700 C", "air_c", "check the number")
    kelvin = air_c + KELVIN
    tau = AIR_CRITICAL_K / kelvin
    logarithm = math.log(kelvin / AIR_WELL_DEPTH_K)
    collision = math.exp(sum(b * logarithm**i for i, b in enumerate(AIR_COLLISION)))
    viscosity = (
        0.0266958 * math.sqrt(AIR_MOLAR_MASS_G_MOL * kelvin) / (AIR_DIAMETER_NM**2 * collision)
    )
    dilute = 1.308 * viscosity + 1.405 * math.pow(tau, -1.1) - 1.036 * math.pow(tau, -0.3)
    density = ATMOSPHERE_PA / (GAS_CONSTANT_J_MOLK * kelvin) / 1000.0
    return (dilute + 8.743 * math.pow(tau, 0.1) * density / AIR_CRITICAL_MOL_L) * 1.0e-3


def wood_conductivity(*, specific_gravity: float, moisture_percent: float) -> float:
    """Return the conductivity of wood across the grain.

    Parameters
    ----------
    specific_gravity : float
        Oven-dry mass over the volume at that moisture, relative to water [-]; 0.3 up.
    moisture_percent : float
        Water per dry mass [%]; up to 25.

    Returns
    -------
    float
        Conductivity [W/(m K)].

    Raises
    ------
    OutOfRangeError
        If the specific gravity is not positive or the moisture outside 0 to 25 %.

    Notes
    -----
    k = G (0.1941 + 0.004064 M) + 0.01864 near 24 C. Along the grain about 1.8 times as much.

    References
    ----------
    wood-handbook-fpl-gtr-190, equation 4-7 (from memory).
    """
    check_above_zero(specific_gravity=specific_gravity)
    _check_moisture(moisture_percent)
    return specific_gravity * (0.1941 + 0.004064 * moisture_percent) + 0.01864


def wood_specific_heat(*, wood_c: float, moisture_percent: float) -> float:
    """Return the specific heat of wood.

    Parameters
    ----------
    wood_c : float
        Temperature [C], 7 to 147.
    moisture_percent : float
        Water per dry mass [%]; up to 25.

    Returns
    -------
    float
        Specific heat of the moist wood [J/(kg K)].

    Raises
    ------
    OutOfRangeError
        If the temperature is outside 7 to 147 C or the moisture outside 0 to 25 %.

    Notes
    -----
    Dry wood and water by mass, with the extra heat of the wood-water bond; the same for every
    species.

    References
    ----------
    wood-handbook-fpl-gtr-190, equations 4-16 to 4-18 (from memory).
    """
    if not 7.0 <= wood_c <= 147.0:
        raise OutOfRangeError(f"{wood_c:g} C is outside 7 to 147 C", "wood_c", "check the number")
    _check_moisture(moisture_percent)
    kelvin = wood_c + KELVIN
    dry = 0.1031 + 0.003867 * kelvin
    bond = moisture_percent * (-0.06191 + 2.36e-4 * kelvin - 1.33e-4 * moisture_percent)
    moist = (dry + 0.01 * moisture_percent * 4.18) / (1.0 + 0.01 * moisture_percent) + bond
    return 1000.0 * moist


def _check_moisture(moisture_percent: float) -> None:
    check_not_negative(moisture_percent=moisture_percent)
    if moisture_percent > 25.0:
        raise OutOfRangeError(
            f"{moisture_percent:g} % is beyond the formula",
            "moisture_percent",
            "give up to 25 %; indoors wood holds 6 to 12 %",
        )
