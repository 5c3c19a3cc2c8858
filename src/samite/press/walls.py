"""Closed forms of transient conduction in walls: stepped, or heated through a conductance.

They check the solvers and are answered by name. Fo = a t / L2 is the Fourier number,
Bi = h L / k the Biot number; L runs to the insulated face, or to the centre if both faces are
treated alike.
"""

from __future__ import annotations

import math

from samite.kernel.errors import OutOfRangeError
from samite.press._checks import check_above_zero, check_not_negative, check_share
from samite.press.closed_forms import scaled_erfc, thermal_diffusivity
from samite.press.layers import MM

SMALL_FOURIER = 1.0e-3
"""Below this the far face of a wall has not felt the step and the wall is a half-space."""


def fourier_number(*, diffusivity_m2_s: float, time_s: float, thickness_mm: float) -> float:
    """Return the dimensionless time of a wall.

    Parameters
    ----------
    diffusivity_m2_s : float
        Diffusivity [m2/s].
    time_s : float
        Time since the step [s].
    thickness_mm : float
        Thickness from the changed face to the insulated face or the centre [mm].

    Returns
    -------
    float
        Fourier number [-].

    Raises
    ------
    OutOfRangeError
        If the diffusivity or the thickness is not positive.

    Notes
    -----
    Fo = a t / L2.

    References
    ----------
    carslaw-jaeger-1959, section 3.3.
    """
    check_above_zero(diffusivity_m2_s=diffusivity_m2_s, thickness_mm=thickness_mm)
    return diffusivity_m2_s * time_s / (thickness_mm * MM) ** 2


def biot_number(
    *, conductance_w_m2k: float, thickness_mm: float, conductivity_w_mk: float
) -> float:
    """Return the ratio of the resistance within a wall to that at its face.

    Parameters
    ----------
    conductance_w_m2k : float
        Surface or contact conductance [W/(m2 K)].
    thickness_mm : float
        Thickness from the changed face to the insulated face or the centre [mm].
    conductivity_w_mk : float
        Conductivity of the wall [W/(m K)].

    Returns
    -------
    float
        Biot number [-].

    Raises
    ------
    OutOfRangeError
        If an input is not positive.

    Notes
    -----
    Bi = h L / k.

    References
    ----------
    incropera-dewitt, section 5.2.
    """
    check_above_zero(
        conductance_w_m2k=conductance_w_m2k,
        thickness_mm=thickness_mm,
        conductivity_w_mk=conductivity_w_mk,
    )
    return conductance_w_m2k * thickness_mm * MM / conductivity_w_mk


def slab_centre_ratio(*, fourier: float) -> float:
    """Return what is left of the step at the insulated face or the centre of a slab.

    Parameters
    ----------
    fourier : float
        Fourier number, with the thickness up to the insulated face or the half-thickness [-].

    Returns
    -------
    float
        (T - surface) / (start - surface) [-]: 1 at the start, 0 in the end.

    Raises
    ------
    OutOfRangeError
        If the Fourier number is negative.

    Notes
    -----
    See `slab_ratio` at the centre.

    References
    ----------
    carslaw-jaeger-1959, section 3.3.
    """
    return slab_ratio(fourier=fourier, depth_share=1.0)


def slab_ratio(*, fourier: float, depth_share: float) -> float:
    """Return what is left of the step in a slab with one face stepped and one insulated.

    Parameters
    ----------
    fourier : float
        Fourier number, with the thickness up to the insulated face or the half-thickness [-].
    depth_share : float
        Depth from the stepped face, 0, to the insulated face or the centre, 1 [-].

    Returns
    -------
    float
        (T - surface) / (start - surface) [-]: 1 at the start, 0 in the end.

    Raises
    ------
    OutOfRangeError
        If the Fourier number is negative or the depth outside 0 to 1.

    Notes
    -----
    Sum over n of 2 (-1)^n / z cos(z (1 - x)) exp(-z2 Fo), z = (n + 1/2) pi; below Fo = 0.05 the
    images in error functions, which then need fewer terms.

    References
    ----------
    carslaw-jaeger-1959, section 3.3.
    """
    check_not_negative(fourier=fourier)
    check_share(depth_share=depth_share)
    if fourier == 0.0:
        return 1.0
    if fourier < 0.05:
        return _slab_images(fourier, depth_share)
    total = 0.0
    for n in range(40):
        z = (n + 0.5) * math.pi
        total += (
            2.0 * (-1) ** n / z * math.cos(z * (1.0 - depth_share)) * math.exp(-z * z * fourier)
        )
    return total


def insulated_face_fourier(*, share: float) -> float:
    """Return the Fourier number at which the insulated face has taken up a share of the step.

    Parameters
    ----------
    share : float
        Share of the step, between 0 and 1 (0.95 is customary) [-].

    Returns
    -------
    float
        Fourier number [-].

    Raises
    ------
    OutOfRangeError
        If the share is not between 0 and 1.

    Notes
    -----
    The root of 1 - `slab_centre_ratio` = share, by bisection to the last digits.

    References
    ----------
    carslaw-jaeger-1959, section 3.3.
    """
    if not 0.0 < share < 1.0:
        raise OutOfRangeError(f"{share:g} is not a share", "share", "give a number between 0 and 1")
    low, high = 1.0e-4, 400.0
    for _ in range(200):
        middle = math.sqrt(low * high)
        if 1.0 - slab_centre_ratio(fourier=middle) < share:
            low = middle
        else:
            high = middle
    return high


def insulated_face_time(
    *,
    share: float,
    thickness_mm: float,
    conductivity_w_mk: float,
    density_kg_m3: float,
    specific_heat_j_kgk: float,
) -> float:
    """Return how long the far, insulated face takes to follow a step by a share.

    Parameters
    ----------
    share : float
        Share of the step, between 0 and 1 [-].
    thickness_mm : float
        Thickness [mm].
    conductivity_w_mk : float
        Conductivity [W/(m K)].
    density_kg_m3 : float
        Density [kg/m3].
    specific_heat_j_kgk : float
        Specific heat [J/(kg K)].

    Returns
    -------
    float
        Time [s].

    Raises
    ------
    OutOfRangeError
        If the share is not between 0 and 1 or a property is not positive.

    Notes
    -----
    For a perfect contact: a real one takes longer.

    References
    ----------
    carslaw-jaeger-1959, section 3.3.
    """
    check_above_zero(thickness_mm=thickness_mm)
    diffusivity = thermal_diffusivity(
        conductivity_w_mk=conductivity_w_mk,
        density_kg_m3=density_kg_m3,
        specific_heat_j_kgk=specific_heat_j_kgk,
    )
    return insulated_face_fourier(share=share) * (thickness_mm * MM) ** 2 / diffusivity


def wall_root(*, biot: float, number: int = 1) -> float:
    """Return a root of the plane wall with convection.

    Parameters
    ----------
    biot : float
        Biot number [-].
    number : int
        Which root, from 1 [-].

    Returns
    -------
    float
        Root zeta of zeta tan(zeta) = Bi [-].

    Raises
    ------
    OutOfRangeError
        If the Biot number is not positive or the number less than 1.

    Notes
    -----
    By bisection between (n - 1) pi and (n - 1/2) pi.

    References
    ----------
    carslaw-jaeger-1959, section 3.11 and appendix IV; incropera-dewitt, table 5.1.
    """
    check_above_zero(biot=biot, number=number)
    low = (number - 1) * math.pi
    high = low + 0.5 * math.pi
    sign = -1.0 if number % 2 == 0 else 1.0
    for _ in range(80):
        middle = 0.5 * (low + high)
        if sign * (middle * math.sin(middle) - biot * math.cos(middle)) < 0.0:
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)


def wall_coefficient(*, root: float) -> float:
    """Return the weight of a root in the series of the plane wall.

    Parameters
    ----------
    root : float
        Root zeta of the wall [-].

    Returns
    -------
    float
        C = 4 sin(zeta) / (2 zeta + sin(2 zeta)) [-].

    Raises
    ------
    OutOfRangeError
        If the root is not positive.

    Notes
    -----
    The first weight alone is enough from Fo = 0.2 on (error under 2 %).

    References
    ----------
    carslaw-jaeger-1959, section 3.11; incropera-dewitt, table 5.1.
    """
    check_above_zero(root=root)
    return 4.0 * math.sin(root) / (2.0 * root + math.sin(2.0 * root))


def plane_wall_ratio(*, biot: float, fourier: float, depth_share: float) -> float:
    """Return what is left of the step in a wall heated through a conductance.

    Parameters
    ----------
    biot : float
        Biot number [-].
    fourier : float
        Fourier number [-].
    depth_share : float
        Depth from the heated face, 0, to the insulated face or the centre, 1 [-].

    Returns
    -------
    float
        (T - source) / (start - source) [-]: 1 at the start, 0 in the end.

    Raises
    ------
    OutOfRangeError
        If the Biot number is not positive, the Fourier number negative or the depth outside
        0 to 1.

    Notes
    -----
    The whole series, sum of C cos(zeta (1 - x)) exp(-zeta2 Fo), with as many terms as count;
    below Fo = 0.001 the wall is a half-space.

    References
    ----------
    carslaw-jaeger-1959, section 3.11.
    """
    check_above_zero(biot=biot)
    check_not_negative(fourier=fourier)
    check_share(depth_share=depth_share)
    if fourier == 0.0:
        return 1.0
    if fourier < SMALL_FOURIER:
        reach = math.sqrt(fourier)
        near = depth_share / (2.0 * reach)
        lag = math.exp(-(near**2)) * scaled_erfc(near + biot * reach)
        return 1.0 - math.erfc(near) + lag
    total = 0.0
    for number in range(1, math.ceil(math.sqrt(40.0 / fourier) / math.pi) + 3):
        root = wall_root(biot=biot, number=number)
        decay = math.exp(-root * root * fourier)
        total += wall_coefficient(root=root) * math.cos(root * (1.0 - depth_share)) * decay
    return total


def plane_wall_temperature(
    *,
    start_c: float,
    source_c: float,
    conductance_w_m2k: float,
    thickness_mm: float,
    depth_share: float,
    time_s: float,
    conductivity_w_mk: float,
    density_kg_m3: float,
    specific_heat_j_kgk: float,
) -> float:
    """Return the temperature in a wall heated through a conductance, far face insulated.

    Parameters
    ----------
    start_c : float
        Temperature at the start [C].
    source_c : float
        Temperature of the sole, the fluid or the air [C].
    conductance_w_m2k : float
        Contact or surface conductance [W/(m2 K)].
    thickness_mm : float
        Thickness up to the insulated face, or the half-thickness if both faces are heated [mm].
    depth_share : float
        Depth from the heated face, 0, to the insulated face or the centre, 1 [-].
    time_s : float
        Time since contact [s].
    conductivity_w_mk : float
        Conductivity [W/(m K)].
    density_kg_m3 : float
        Density [kg/m3].
    specific_heat_j_kgk : float
        Specific heat [J/(kg K)].

    Returns
    -------
    float
        Temperature at the depth [C].

    Raises
    ------
    OutOfRangeError
        If a property is not positive, the time negative or the depth outside 0 to 1.

    Notes
    -----
    See `plane_wall_ratio`.

    References
    ----------
    carslaw-jaeger-1959, section 3.11.
    """
    diffusivity = thermal_diffusivity(
        conductivity_w_mk=conductivity_w_mk,
        density_kg_m3=density_kg_m3,
        specific_heat_j_kgk=specific_heat_j_kgk,
    )
    left = plane_wall_ratio(
        biot=biot_number(
            conductance_w_m2k=conductance_w_m2k,
            thickness_mm=thickness_mm,
            conductivity_w_mk=conductivity_w_mk,
        ),
        fourier=fourier_number(
            diffusivity_m2_s=diffusivity, time_s=time_s, thickness_mm=thickness_mm
        ),
        depth_share=depth_share,
    )
    return source_c + (start_c - source_c) * left


def _slab_images(fourier: float, depth_share: float) -> float:
    """Return the slab's ratio for short times, from images of the half-space."""
    reach = 2.0 * math.sqrt(fourier)
    taken = 0.0
    for n in range(4):
        near, far = 2.0 * n + depth_share, 2.0 * (n + 1) - depth_share
        taken += (-1) ** n * (math.erfc(near / reach) + math.erfc(far / reach))
    return 1.0 - taken
