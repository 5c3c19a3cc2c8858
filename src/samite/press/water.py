"""Water and steam between melting and critical point, and what they do to damp cloth."""

from __future__ import annotations

import math

from samite.kernel.errors import OutOfRangeError
from samite.press._checks import check_above_zero, check_not_negative
from samite.press.steam_equations import (
    liquid_volume_enthalpy,
    saturation_line_k,
    saturation_line_mpa,
    steam_volume_enthalpy,
)
from samite.press.substances import ATMOSPHERE_PA, KELVIN

ATMOSPHERE_KPA = ATMOSPHERE_PA / 1000.0
"""Standard atmosphere [kPa]."""

LOWEST_C = 0.0
HIGHEST_C = 350.0
"""Range of the saturation line that is answered [C]."""


def saturation_pressure(*, water_c: float) -> float:
    """Return the pressure at which water boils at a temperature.

    Parameters
    ----------
    water_c : float
        Temperature [C], 0 to 350.

    Returns
    -------
    float
        Absolute pressure [kPa].

    Raises
    ------
    OutOfRangeError
        If the temperature is outside 0 to 350 C.

    Notes
    -----
    Within 0.03 % of IAPWS-95.

    References
    ----------
    iapws-if97, equation 30.
    """
    return 1000.0 * saturation_line_mpa(_kelvin(water_c))


def saturation_temperature(*, pressure_kpa: float) -> float:
    """Return the temperature at which water boils under a pressure.

    Parameters
    ----------
    pressure_kpa : float
        Absolute pressure [kPa], 0.6113 to 16529.

    Returns
    -------
    float
        Temperature [C].

    Raises
    ------
    OutOfRangeError
        If water does not boil between 0 and 350 C at this pressure.

    Notes
    -----
    `saturation_pressure` inverted. A gauge reads 101 kPa less.

    References
    ----------
    iapws-if97, equation 30.
    """
    low, high = (saturation_pressure(water_c=c) for c in (LOWEST_C, HIGHEST_C))
    if not low <= pressure_kpa <= high:
        raise OutOfRangeError(
            f"water does not boil between 0 and 350 C at {pressure_kpa:g} kPa",
            "pressure_kpa",
            "give the absolute pressure in kPa: gauge pressure and 101.325",
        )
    return saturation_line_k(pressure_kpa / 1000.0) - KELVIN


def steam_temperature(*, gauge_bar: float, atmosphere_kpa: float = ATMOSPHERE_KPA) -> float:
    """Return the temperature of saturated steam in a boiler.

    Parameters
    ----------
    gauge_bar : float
        Pressure on the gauge, above the atmosphere [bar].
    atmosphere_kpa : float
        Pressure of the atmosphere [kPa].

    Returns
    -------
    float
        Temperature in the boiler [C].

    Raises
    ------
    OutOfRangeError
        If the gauge reads below 0 or the pressure is beyond the saturation line.

    Notes
    -----
    At the cloth the steam has expanded to about 100 C, whatever the boiler has.

    References
    ----------
    iapws-if97, equation 30.
    """
    check_not_negative(gauge_bar=gauge_bar)
    return saturation_temperature(pressure_kpa=atmosphere_kpa + 100.0 * gauge_bar)


def latent_heat(*, water_c: float) -> float:
    """Return the heat that turns water into steam at the same temperature.

    Parameters
    ----------
    water_c : float
        Temperature [C], 0 to 350.

    Returns
    -------
    float
        Latent heat [kJ/kg].

    Raises
    ------
    OutOfRangeError
        If the temperature is outside 0 to 350 C.

    Notes
    -----
    Enthalpy of saturated steam less that of the liquid. The heat of sorption in nearly dry
    fibre comes on top (errs low there).

    References
    ----------
    iapws-if97, equations 7, 15 and 30.
    """
    _, liquid, _, steam = _saturated(water_c)
    return steam - liquid


def steam_density(*, water_c: float) -> float:
    """Return the density of saturated steam.

    Parameters
    ----------
    water_c : float
        Temperature [C], 0 to 350.

    Returns
    -------
    float
        Density [kg/m3].

    Raises
    ------
    OutOfRangeError
        If the temperature is outside 0 to 350 C.

    Notes
    -----
    Within 0.1 % of IAPWS-95.

    References
    ----------
    iapws-if97, equations 15 and 30.
    """
    return 1.0 / _saturated(water_c)[2]


def liquid_density(*, water_c: float) -> float:
    """Return the density of water that is about to boil.

    Parameters
    ----------
    water_c : float
        Temperature [C], 0 to 350.

    Returns
    -------
    float
        Density [kg/m3].

    Raises
    ------
    OutOfRangeError
        If the temperature is outside 0 to 350 C.

    Notes
    -----
    On the saturation line; at one atmosphere cold water is 0.005 % denser.

    References
    ----------
    iapws-if97, equations 7 and 30.
    """
    return 1.0 / _saturated(water_c)[0]


def liquid_enthalpy(*, water_c: float) -> float:
    """Return the heat content of water that is about to boil.

    Parameters
    ----------
    water_c : float
        Temperature [C], 0 to 350.

    Returns
    -------
    float
        Enthalpy over that at the triple point [kJ/kg].

    Raises
    ------
    OutOfRangeError
        If the temperature is outside 0 to 350 C.

    Notes
    -----
    On the saturation line; cold water at one atmosphere has 0.1 kJ/kg more.

    References
    ----------
    iapws-if97, equations 7 and 30.
    """
    return _saturated(water_c)[1]


def steaming_heat(*, water_c: float, steam_c: float) -> float:
    """Return the heat that turns a kilogram of cold water into saturated steam.

    Parameters
    ----------
    water_c : float
        Temperature of the water at first [C].
    steam_c : float
        Temperature at which it boils [C].

    Returns
    -------
    float
        Heat [kJ/kg].

    Raises
    ------
    OutOfRangeError
        If a temperature is outside 0 to 350 C or the steam colder than the water.

    Notes
    -----
    Warming and latent heat together.

    References
    ----------
    iapws-if97, equations 7, 15 and 30.
    """
    if steam_c < water_c:
        raise OutOfRangeError(
            f"steam at {steam_c:g} C is colder than the water", "steam_c", "check the two numbers"
        )
    warming = liquid_enthalpy(water_c=steam_c) - liquid_enthalpy(water_c=water_c)
    return warming + latent_heat(water_c=steam_c)


def air_pressure(*, altitude_m: float) -> float:
    """Return the pressure of the standard atmosphere.

    Parameters
    ----------
    altitude_m : float
        Altitude over the sea [m], -500 to 11000.

    Returns
    -------
    float
        Pressure [kPa].

    Raises
    ------
    OutOfRangeError
        If the altitude is outside -500 to 11000 m.

    Notes
    -----
    p = 101.325 (1 - 0.0065 H / 288.15)^5.25588 with the geopotential altitude, which is 0.1 %
    less than the height at 5000 m; weather moves the pressure by some 3 %.

    References
    ----------
    iso-2533-1975, troposphere.
    """
    if not -500.0 <= altitude_m <= 11000.0:
        raise OutOfRangeError(
            f"{altitude_m:g} m is outside -500 to 11000 m", "altitude_m", "give metres over the sea"
        )
    return ATMOSPHERE_KPA * math.pow(1.0 - 0.0065 * altitude_m / 288.15, 5.25588)


def boiling_point(*, altitude_m: float) -> float:
    """Return where water boils, and damp cloth dwells, at an altitude.

    Parameters
    ----------
    altitude_m : float
        Altitude over the sea [m], -500 to 11000.

    Returns
    -------
    float
        Temperature [C].

    Raises
    ------
    OutOfRangeError
        If the altitude is outside -500 to 11000 m.

    Notes
    -----
    Standard atmosphere and saturation line.

    References
    ----------
    iso-2533-1975, troposphere; iapws-if97, equation 30.
    """
    return saturation_temperature(pressure_kpa=air_pressure(altitude_m=altitude_m))


def drying_heat(*, water_gsm: float, water_c: float, boiling_c: float = 100.0) -> float:
    """Return the heat that dries a wet cloth on the iron.

    Parameters
    ----------
    water_gsm : float
        Water in the cloth [g/m2].
    water_c : float
        Its temperature at first [C].
    boiling_c : float
        Temperature at which it boils [C].

    Returns
    -------
    float
        Heat [kJ/m2].

    Raises
    ------
    OutOfRangeError
        If the water is negative or a temperature outside 0 to 350 C.

    Notes
    -----
    Without the warming of the fibre and the heat of sorption (errs low).

    References
    ----------
    derivation, energy balance with iapws-if97.
    """
    check_not_negative(water_gsm=water_gsm)
    return water_gsm * 1.0e-3 * steaming_heat(water_c=water_c, steam_c=boiling_c)


def drying_time(
    *, water_gsm: float, water_c: float, flux_kw_m2: float, boiling_c: float = 100.0
) -> float:
    """Return how long a wet cloth stays at boiling point under a net heat flux.

    Parameters
    ----------
    water_gsm : float
        Water in the cloth [g/m2].
    water_c : float
        Its temperature at first [C].
    flux_kw_m2 : float
        Net heat flux into the cloth [kW/m2].
    boiling_c : float
        Temperature at which it boils [C].

    Returns
    -------
    float
        Time until the water is gone [s].

    Raises
    ------
    OutOfRangeError
        If the flux is not positive, the water negative or a temperature outside 0 to 350 C.

    Notes
    -----
    Energy balance; heat of the fibre and of sorption left out (errs short: to the safe side,
    since the cloth is protected for longer than said).

    References
    ----------
    derivation, energy balance with iapws-if97.
    """
    check_above_zero(flux_kw_m2=flux_kw_m2)
    return drying_heat(water_gsm=water_gsm, water_c=water_c, boiling_c=boiling_c) / flux_kw_m2


def steam_condensed(
    *,
    mass_per_area_gsm: float,
    specific_heat_j_gk: float,
    start_c: float,
    boiling_c: float = 100.0,
) -> float:
    """Return the steam that condenses while it heats a dry cloth to boiling point.

    Parameters
    ----------
    mass_per_area_gsm : float
        Mass per area of the dry cloth [g/m2].
    specific_heat_j_gk : float
        Its specific heat [J/(g K)].
    start_c : float
        Its temperature at first [C].
    boiling_c : float
        Temperature of the steam [C].

    Returns
    -------
    float
        Water taken up [g/m2].

    Raises
    ------
    OutOfRangeError
        If mass or specific heat is not positive or the cloth hotter than the steam.

    Notes
    -----
    m = m_cloth c dT / latent heat; the heat of sorption is left out (errs high).

    References
    ----------
    derivation, energy balance with iapws-if97.
    """
    check_above_zero(mass_per_area_gsm=mass_per_area_gsm, specific_heat_j_gk=specific_heat_j_gk)
    if start_c > boiling_c:
        raise OutOfRangeError("the cloth is hotter than the steam", "start_c", "no steam condenses")
    heat = mass_per_area_gsm * specific_heat_j_gk * (boiling_c - start_c)
    return heat / latent_heat(water_c=boiling_c)


def _kelvin(water_c: float) -> float:
    if not LOWEST_C <= water_c <= HIGHEST_C:
        raise OutOfRangeError(
            f"{water_c:g} C is outside 0 to 350 C", "water_c", "give a temperature of liquid water"
        )
    return water_c + KELVIN


def _saturated(water_c: float) -> tuple[float, float, float, float]:
    """Return volume and enthalpy of the liquid and of the steam."""
    kelvin = _kelvin(water_c)
    pressure = saturation_line_mpa(kelvin)
    return *liquid_volume_enthalpy(kelvin, pressure), *steam_volume_enthalpy(kelvin, pressure)
