"""Closed forms of steady heat flow, ripple, lumped bodies, and the pressure of an iron."""

from __future__ import annotations

import math
from itertools import accumulate
from typing import TYPE_CHECKING

from samite.kernel.errors import InputError, OutOfRangeError
from samite.press._checks import check_above_zero, check_not_negative
from samite.press.layers import MM

if TYPE_CHECKING:
    from collections.abc import Sequence

GRAVITY_M_S2 = 9.80665
"""Standard acceleration of free fall [m/s2]."""


def layer_resistance(*, thickness_mm: float, conductivity_w_mk: float) -> float:
    """Return the resistance of a layer to steady heat flow.

    Parameters
    ----------
    thickness_mm : float
        Thickness [mm].
    conductivity_w_mk : float
        Conductivity [W/(m K)].

    Returns
    -------
    float
        Resistance [m2 K/W].

    Raises
    ------
    OutOfRangeError
        If an input is not positive.

    Notes
    -----
    R = L / k.

    References
    ----------
    incropera-dewitt, section 3.1.
    """
    check_above_zero(thickness_mm=thickness_mm, conductivity_w_mk=conductivity_w_mk)
    return thickness_mm * MM / conductivity_w_mk


def steady_flux(
    *, thickness_mm: float, conductivity_w_mk: float, temperature_difference_k: float
) -> float:
    """Return the steady heat flux through a layer.

    Parameters
    ----------
    thickness_mm : float
        Thickness [mm].
    conductivity_w_mk : float
        Conductivity [W/(m K)].
    temperature_difference_k : float
        Difference between the faces [K].

    Returns
    -------
    float
        Flux [W/m2].

    Raises
    ------
    OutOfRangeError
        If thickness or conductivity is not positive.

    Notes
    -----
    q = k dT / L.

    References
    ----------
    incropera-dewitt, section 1.2.
    """
    resistance = layer_resistance(thickness_mm=thickness_mm, conductivity_w_mk=conductivity_w_mk)
    return temperature_difference_k / resistance


def steady_temperatures(
    *, hot_c: float, cold_c: float, resistances_m2k_w: Sequence[float]
) -> list[float]:
    """Return the temperatures between resistances in series.

    Parameters
    ----------
    hot_c : float
        Temperature before the first resistance [C].
    cold_c : float
        Temperature behind the last one [C].
    resistances_m2k_w : sequence of float
        Resistances from the hot side on, contacts and layers alike [m2 K/W].

    Returns
    -------
    list of float
        Temperature behind each resistance but the last [C].

    Raises
    ------
    InputError
        If there is no resistance.
    OutOfRangeError
        If one is negative, or all are 0.

    Notes
    -----
    The drop over each resistance is its share of the whole.

    References
    ----------
    incropera-dewitt, section 3.1.
    """
    if not resistances_m2k_w:
        raise InputError("no resistance is given", "resistances_m2k_w", "give at least one")
    for resistance in resistances_m2k_w:
        check_not_negative(resistances_m2k_w=resistance)
    whole = math.fsum(resistances_m2k_w)
    check_above_zero(resistances_m2k_w=whole)
    return [
        hot_c - (hot_c - cold_c) * passed / whole for passed in accumulate(resistances_m2k_w[:-1])
    ]


def insulation_thickness(
    *,
    area_m2: float,
    heat_loss_w: float,
    inside_c: float,
    surrounding_c: float,
    inner_thickness_mm: float,
    inner_conductivity_w_mk: float,
    insulation_conductivity_w_mk: float,
    outer_conductance_w_m2k: float,
) -> float:
    """Return how thick an insulation must be to hold a heat loss.

    Parameters
    ----------
    area_m2 : float
        Area [m2].
    heat_loss_w : float
        Heat lost [W].
    inside_c : float
        Temperature on the inner side [C].
    surrounding_c : float
        Temperature of the surroundings [C].
    inner_thickness_mm : float
        Thickness of the inner layer, skin [mm].
    inner_conductivity_w_mk : float
        Its conductivity [W/(m K)].
    insulation_conductivity_w_mk : float
        Conductivity of the insulation [W/(m K)].
    outer_conductance_w_m2k : float
        Convection and radiation from the outside together [W/(m2 K)].

    Returns
    -------
    float
        Thickness of the insulation [mm].

    Raises
    ------
    OutOfRangeError
        If an input is not positive, or the loss is held without insulation.

    Notes
    -----
    L = k (A dT / q - L1 / k1 - 1 / h).

    References
    ----------
    incropera-dewitt, section 3.1 and its example of an insulating suit.
    """
    check_above_zero(
        area_m2=area_m2,
        heat_loss_w=heat_loss_w,
        insulation_conductivity_w_mk=insulation_conductivity_w_mk,
        outer_conductance_w_m2k=outer_conductance_w_m2k,
    )
    inner = layer_resistance(
        thickness_mm=inner_thickness_mm, conductivity_w_mk=inner_conductivity_w_mk
    )
    needed = area_m2 * (inside_c - surrounding_c) / heat_loss_w
    rest = needed - inner - 1.0 / outer_conductance_w_m2k
    if rest < 0.0:
        raise OutOfRangeError(
            "the heat loss is held without any insulation", "heat_loss_w", "give a smaller loss"
        )
    return rest * insulation_conductivity_w_mk / MM


def lumped_time_constant(
    *,
    density_kg_m3: float,
    specific_heat_j_kgk: float,
    volume_per_area_mm: float,
    conductance_w_m2k: float,
) -> float:
    """Return the time constant of a body that is everywhere at one temperature.

    Parameters
    ----------
    density_kg_m3 : float
        Density [kg/m3].
    specific_heat_j_kgk : float
        Specific heat [J/(kg K)].
    volume_per_area_mm : float
        Volume over heated area [mm]: thickness of a sheet heated on one face, D / 6 of a ball.
    conductance_w_m2k : float
        Surface conductance [W/(m2 K)].

    Returns
    -------
    float
        Time to 63.2 % of a step [s].

    Raises
    ------
    OutOfRangeError
        If an input is not positive.

    Notes
    -----
    tau = rho c V / (h A). Holds while the Biot number is under 0.1; errs short above.

    References
    ----------
    incropera-dewitt, section 5.1.
    """
    check_above_zero(
        density_kg_m3=density_kg_m3,
        specific_heat_j_kgk=specific_heat_j_kgk,
        volume_per_area_mm=volume_per_area_mm,
        conductance_w_m2k=conductance_w_m2k,
    )
    return density_kg_m3 * specific_heat_j_kgk * volume_per_area_mm * MM / conductance_w_m2k


def lumped_ball_diameter(
    *,
    time_constant_s: float,
    conductance_w_m2k: float,
    density_kg_m3: float,
    specific_heat_j_kgk: float,
) -> float:
    """Return the diameter of a small ball with a given time constant.

    Parameters
    ----------
    time_constant_s : float
        Time to 63.2 % of a step [s].
    conductance_w_m2k : float
        Surface conductance [W/(m2 K)].
    density_kg_m3 : float
        Density [kg/m3].
    specific_heat_j_kgk : float
        Specific heat [J/(kg K)].

    Returns
    -------
    float
        Diameter [mm].

    Raises
    ------
    OutOfRangeError
        If an input is not positive.

    Notes
    -----
    D = 6 h tau / (rho c), the bead of a thermocouple.

    References
    ----------
    incropera-dewitt, section 5.1 and its example of a thermocouple junction.
    """
    check_above_zero(
        time_constant_s=time_constant_s,
        conductance_w_m2k=conductance_w_m2k,
        density_kg_m3=density_kg_m3,
        specific_heat_j_kgk=specific_heat_j_kgk,
    )
    return 6.0 * conductance_w_m2k * time_constant_s / (density_kg_m3 * specific_heat_j_kgk) / MM


def lumped_time(
    *, time_constant_s: float, start_c: float, surrounding_c: float, reached_c: float
) -> float:
    """Return how long a body at one temperature takes to reach another.

    Parameters
    ----------
    time_constant_s : float
        Time to 63.2 % of a step [s].
    start_c : float
        Temperature at the start [C].
    surrounding_c : float
        Temperature of the surroundings [C].
    reached_c : float
        Temperature asked for, between the two [C].

    Returns
    -------
    float
        Time [s].

    Raises
    ------
    OutOfRangeError
        If the temperature is not between start and surroundings.

    Notes
    -----
    t = tau ln((T0 - Ts) / (T - Ts)).

    References
    ----------
    incropera-dewitt, section 5.1.
    """
    check_above_zero(time_constant_s=time_constant_s)
    if not min(start_c, surrounding_c) < reached_c < max(start_c, surrounding_c):
        raise OutOfRangeError(
            f"{reached_c:g} C is not between {start_c:g} and {surrounding_c:g} C",
            "reached_c",
            "ask for a temperature that the body passes through",
        )
    return time_constant_s * math.log((start_c - surrounding_c) / (reached_c - surrounding_c))


def ripple_depth(*, period_s: float, diffusivity_m2_s: float) -> float:
    """Return the depth at which a ripple of the surface temperature has sunk to 1/e.

    Parameters
    ----------
    period_s : float
        Period of the ripple, a thermostat's cycle [s].
    diffusivity_m2_s : float
        Diffusivity of the cloth [m2/s].

    Returns
    -------
    float
        Depth [mm].

    Raises
    ------
    OutOfRangeError
        If an input is not positive.

    Notes
    -----
    delta = sqrt(a P / pi), in a pad several times as deep.

    References
    ----------
    carslaw-jaeger-1959, section 2.6.
    """
    check_above_zero(period_s=period_s, diffusivity_m2_s=diffusivity_m2_s)
    return math.sqrt(diffusivity_m2_s * period_s / math.pi) / MM


def ripple_attenuation(*, period_s: float, diffusivity_m2_s: float, depth_mm: float) -> float:
    """Return what is left at a depth of a ripple of the surface temperature.

    Parameters
    ----------
    period_s : float
        Period of the ripple [s].
    diffusivity_m2_s : float
        Diffusivity of the cloth [m2/s].
    depth_mm : float
        Depth [mm].

    Returns
    -------
    float
        Amplitude at the depth over that at the surface [-].

    Raises
    ------
    OutOfRangeError
        If period or diffusivity is not positive or the depth negative.

    Notes
    -----
    exp(-x / delta), in a pad several times as deep as delta.

    References
    ----------
    carslaw-jaeger-1959, section 2.6.
    """
    check_not_negative(depth_mm=depth_mm)
    return math.exp(-depth_mm / ripple_depth(period_s=period_s, diffusivity_m2_s=diffusivity_m2_s))


def iron_pressure(*, mass_kg: float, sole_area_cm2: float, hand_force_n: float = 0.0) -> float:
    """Return the mean pressure under an iron.

    Parameters
    ----------
    mass_kg : float
        Mass of the iron [kg].
    sole_area_cm2 : float
        Area of the sole [cm2].
    hand_force_n : float
        Force that the hand adds [N].

    Returns
    -------
    float
        Pressure [Pa].

    Raises
    ------
    OutOfRangeError
        If mass or area is not positive or the force negative.

    Notes
    -----
    p = (m g + F) / A, as if the whole sole bore; under a seam or a button it is more.

    References
    ----------
    definition, p = F / A with g = 9.80665 m/s2.
    """
    check_above_zero(mass_kg=mass_kg, sole_area_cm2=sole_area_cm2)
    check_not_negative(hand_force_n=hand_force_n)
    return (mass_kg * GRAVITY_M_S2 + hand_force_n) / (sole_area_cm2 * 1.0e-4)
