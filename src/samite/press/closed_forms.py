"""Closed forms of transient conduction in deep bodies, alone and in contact.

They check the solvers and are answered by name. Symbols follow Carslaw and Jaeger: a is the
diffusivity k / (rho c), b the effusivity sqrt(k rho c).
"""

from __future__ import annotations

import math
from statistics import NormalDist

from samite.kernel.errors import OutOfRangeError
from samite.press._checks import check_above_zero, check_not_negative
from samite.press.layers import MM


def thermal_diffusivity(
    *, conductivity_w_mk: float, density_kg_m3: float, specific_heat_j_kgk: float
) -> float:
    """Return how fast a temperature spreads in a body.

    Parameters
    ----------
    conductivity_w_mk : float
        Conductivity [W/(m K)].
    density_kg_m3 : float
        Density [kg/m3].
    specific_heat_j_kgk : float
        Specific heat [J/(kg K)].

    Returns
    -------
    float
        Diffusivity [m2/s].

    Raises
    ------
    OutOfRangeError
        If an input is not positive.

    Notes
    -----
    a = k / (rho c).

    References
    ----------
    carslaw-jaeger-1959, section 1.6.
    """
    check_above_zero(
        conductivity_w_mk=conductivity_w_mk,
        density_kg_m3=density_kg_m3,
        specific_heat_j_kgk=specific_heat_j_kgk,
    )
    return conductivity_w_mk / (density_kg_m3 * specific_heat_j_kgk)


def thermal_effusivity(
    *, conductivity_w_mk: float, density_kg_m3: float, specific_heat_j_kgk: float
) -> float:
    """Return how strongly a body holds its own temperature against one that touches it.

    Parameters
    ----------
    conductivity_w_mk : float
        Conductivity [W/(m K)].
    density_kg_m3 : float
        Density [kg/m3].
    specific_heat_j_kgk : float
        Specific heat [J/(kg K)].

    Returns
    -------
    float
        Effusivity [W s0.5/(m2 K)].

    Raises
    ------
    OutOfRangeError
        If an input is not positive.

    Notes
    -----
    b = sqrt(k rho c).

    References
    ----------
    carslaw-jaeger-1959, section 2.15.
    """
    check_above_zero(
        conductivity_w_mk=conductivity_w_mk,
        density_kg_m3=density_kg_m3,
        specific_heat_j_kgk=specific_heat_j_kgk,
    )
    return math.sqrt(conductivity_w_mk * density_kg_m3 * specific_heat_j_kgk)


def semi_infinite_temperature(
    *, start_c: float, surface_c: float, depth_mm: float, time_s: float, diffusivity_m2_s: float
) -> float:
    """Return the temperature in a deep body whose surface was stepped to another temperature.

    Parameters
    ----------
    start_c : float
        Temperature at the start [C].
    surface_c : float
        Temperature of the surface from time 0 on [C].
    depth_mm : float
        Depth under the surface [mm].
    time_s : float
        Time since the step [s].
    diffusivity_m2_s : float
        Diffusivity [m2/s].

    Returns
    -------
    float
        Temperature at the depth [C].

    Raises
    ------
    OutOfRangeError
        If time or diffusivity is not positive or the depth negative.

    Notes
    -----
    T = Ts + (T0 - Ts) erf(x / (2 sqrt(a t))). A body is deep while a t is under a tenth of its
    squared thickness.

    References
    ----------
    carslaw-jaeger-1959, section 2.4.
    """
    check_above_zero(time_s=time_s, diffusivity_m2_s=diffusivity_m2_s)
    check_not_negative(depth_mm=depth_mm)
    similarity = depth_mm * MM / (2.0 * math.sqrt(diffusivity_m2_s * time_s))
    return start_c + (surface_c - start_c) * math.erfc(similarity)


def semi_infinite_flux(
    *,
    temperature_step_k: float,
    time_s: float,
    conductivity_w_mk: float,
    density_kg_m3: float,
    specific_heat_j_kgk: float,
) -> float:
    """Return the heat flux into a deep body after its surface was stepped.

    Parameters
    ----------
    temperature_step_k : float
        Surface less start temperature [K].
    time_s : float
        Time since the step [s].
    conductivity_w_mk : float
        Conductivity [W/(m K)].
    density_kg_m3 : float
        Density [kg/m3].
    specific_heat_j_kgk : float
        Specific heat [J/(kg K)].

    Returns
    -------
    float
        Flux through the surface [W/m2].

    Raises
    ------
    OutOfRangeError
        If time or a property is not positive.

    Notes
    -----
    q = k dT / sqrt(pi a t), for a perfect contact: errs high for a real one.

    References
    ----------
    carslaw-jaeger-1959, section 2.4.
    """
    check_above_zero(time_s=time_s)
    effusivity = thermal_effusivity(
        conductivity_w_mk=conductivity_w_mk,
        density_kg_m3=density_kg_m3,
        specific_heat_j_kgk=specific_heat_j_kgk,
    )
    return temperature_step_k * effusivity / math.sqrt(math.pi * time_s)


def semi_infinite_contact_ratio(
    *,
    conductance_w_m2k: float,
    depth_mm: float,
    time_s: float,
    conductivity_w_mk: float,
    density_kg_m3: float,
    specific_heat_j_kgk: float,
) -> float:
    """Return the share of the step that a deep body has taken up through a contact conductance.

    Parameters
    ----------
    conductance_w_m2k : float
        Contact conductance to the source [W/(m2 K)].
    depth_mm : float
        Depth under the surface, 0 for the surface itself [mm].
    time_s : float
        Time since contact [s].
    conductivity_w_mk : float
        Conductivity of the body [W/(m K)].
    density_kg_m3 : float
        Density of the body [kg/m3].
    specific_heat_j_kgk : float
        Specific heat of the body [J/(kg K)].

    Returns
    -------
    float
        (T - start) / (source - start) [-].

    Raises
    ------
    OutOfRangeError
        If time, conductance or a property is not positive or the depth negative.

    Notes
    -----
    erfc(u) - exp(h x / k + h2 a t / k2) erfc(u + h sqrt(a t) / k), u = x / (2 sqrt(a t)).

    References
    ----------
    carslaw-jaeger-1959, section 2.7.
    """
    check_above_zero(time_s=time_s, conductance_w_m2k=conductance_w_m2k)
    check_not_negative(depth_mm=depth_mm)
    diffusivity = thermal_diffusivity(
        conductivity_w_mk=conductivity_w_mk,
        density_kg_m3=density_kg_m3,
        specific_heat_j_kgk=specific_heat_j_kgk,
    )
    reach = math.sqrt(diffusivity * time_s)
    similarity = depth_mm * MM / (2.0 * reach)
    contact = conductance_w_m2k * reach / conductivity_w_mk
    # exp(h x / k + h2 a t / k2) erfc(u + v) = exp(-u2) erfcx(u + v), with v = h sqrt(a t) / k
    lag = math.exp(-(similarity**2)) * scaled_erfc(similarity + contact)
    return math.erfc(similarity) - lag


def semi_infinite_contact_temperature(
    *,
    start_c: float,
    source_c: float,
    conductance_w_m2k: float,
    depth_mm: float,
    time_s: float,
    conductivity_w_mk: float,
    density_kg_m3: float,
    specific_heat_j_kgk: float,
) -> float:
    """Return the temperature in a deep body that a source heats through a conductance.

    Parameters
    ----------
    start_c : float
        Temperature of the body at the start [C].
    source_c : float
        Temperature of the sole or the air [C].
    conductance_w_m2k : float
        Contact conductance to the source [W/(m2 K)].
    depth_mm : float
        Depth under the surface, 0 for the surface itself [mm].
    time_s : float
        Time since contact [s].
    conductivity_w_mk : float
        Conductivity of the body [W/(m K)].
    density_kg_m3 : float
        Density of the body [kg/m3].
    specific_heat_j_kgk : float
        Specific heat of the body [J/(kg K)].

    Returns
    -------
    float
        Temperature at the depth [C].

    Raises
    ------
    OutOfRangeError
        If time, conductance or a property is not positive or the depth negative.

    Notes
    -----
    See `semi_infinite_contact_ratio`.

    References
    ----------
    carslaw-jaeger-1959, section 2.7.
    """
    share = semi_infinite_contact_ratio(
        conductance_w_m2k=conductance_w_m2k,
        depth_mm=depth_mm,
        time_s=time_s,
        conductivity_w_mk=conductivity_w_mk,
        density_kg_m3=density_kg_m3,
        specific_heat_j_kgk=specific_heat_j_kgk,
    )
    return start_c + (source_c - start_c) * share


def contact_temperature(
    *,
    body_a_c: float,
    body_a_conductivity_w_mk: float,
    body_a_density_kg_m3: float,
    body_a_specific_heat_j_kgk: float,
    body_b_c: float,
    body_b_conductivity_w_mk: float,
    body_b_density_kg_m3: float,
    body_b_specific_heat_j_kgk: float,
) -> float:
    """Return the temperature between two deep bodies pressed together.

    Parameters
    ----------
    body_a_c : float
        Temperature of the first body before contact [C].
    body_a_conductivity_w_mk : float
        Its conductivity [W/(m K)].
    body_a_density_kg_m3 : float
        Its density [kg/m3].
    body_a_specific_heat_j_kgk : float
        Its specific heat [J/(kg K)].
    body_b_c : float
        Temperature of the second body before contact [C].
    body_b_conductivity_w_mk : float
        Its conductivity [W/(m K)].
    body_b_density_kg_m3 : float
        Its density [kg/m3].
    body_b_specific_heat_j_kgk : float
        Its specific heat [J/(kg K)].

    Returns
    -------
    float
        Temperature of the common face [C], the same at all times.

    Raises
    ------
    OutOfRangeError
        If a property is not positive.

    Notes
    -----
    T = (bA TA + bB TB) / (bA + bB) with the effusivities b; a perfect contact is assumed.

    References
    ----------
    carslaw-jaeger-1959, section 2.15.
    """
    strength_a = thermal_effusivity(
        conductivity_w_mk=body_a_conductivity_w_mk,
        density_kg_m3=body_a_density_kg_m3,
        specific_heat_j_kgk=body_a_specific_heat_j_kgk,
    )
    strength_b = thermal_effusivity(
        conductivity_w_mk=body_b_conductivity_w_mk,
        density_kg_m3=body_b_density_kg_m3,
        specific_heat_j_kgk=body_b_specific_heat_j_kgk,
    )
    return (strength_a * body_a_c + strength_b * body_b_c) / (strength_a + strength_b)


def depth_reaching(
    *, start_c: float, surface_c: float, reached_c: float, time_s: float, diffusivity_m2_s: float
) -> float:
    """Return how deep a temperature has come in a deep body after a step of its surface.

    Parameters
    ----------
    start_c : float
        Temperature at the start [C].
    surface_c : float
        Temperature of the surface from time 0 on [C].
    reached_c : float
        Temperature asked for, between the two [C].
    time_s : float
        Time since the step [s].
    diffusivity_m2_s : float
        Diffusivity [m2/s].

    Returns
    -------
    float
        Depth [mm].

    Raises
    ------
    OutOfRangeError
        If the temperature asked for is not between start and surface.

    Notes
    -----
    x = 2 sqrt(a t) erfinv((T - Ts) / (T0 - Ts)): the depth to bury a pipe, the depth of a burn.

    References
    ----------
    incropera-dewitt, section 5.7 and its example of a buried water main.
    """
    check_above_zero(time_s=time_s, diffusivity_m2_s=diffusivity_m2_s)
    if not min(start_c, surface_c) < reached_c < max(start_c, surface_c):
        raise OutOfRangeError(
            f"{reached_c:g} C is not between {start_c:g} and {surface_c:g} C",
            "reached_c",
            "ask for a temperature that the step passes through",
        )
    share = (reached_c - surface_c) / (start_c - surface_c)
    similarity = NormalDist().inv_cdf(0.5 * (1.0 + share)) / math.sqrt(2.0)
    return 2.0 * math.sqrt(diffusivity_m2_s * time_s) * similarity / MM


def scaled_erfc(x: float) -> float:
    """Return exp(x2) erfc(x) without overflow.

    Parameters
    ----------
    x : float
        Argument, not negative [-].

    Returns
    -------
    float
        The scaled complement of the error function [-].
    """
    if x < 20.0:
        return math.exp(x * x) * math.erfc(x)
    y = 1.0 / (2.0 * x * x)
    return (1.0 - y * (1.0 - 3.0 * y * (1.0 - 5.0 * y))) / (x * math.sqrt(math.pi))
