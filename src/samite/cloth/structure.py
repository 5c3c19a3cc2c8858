"""Geometry of yarns and cloths: cover, density, porosity, diameter, thickness."""

from __future__ import annotations

import math

from samite.kernel.ranges import require_between, require_positive

FULL_COVER = 28.0
"""Peirce cover factor at which round cotton yarns touch."""


def cover_factor(*, threads_per_in: float, yarn_ne: float) -> float:
    """Return the cover factor of one set of threads after Peirce.

    Parameters
    ----------
    threads_per_in : float
        Ends or picks per inch [1/in].
    yarn_ne : float
        Cotton count of the yarn [Ne].

    Returns
    -------
    float
        Cover factor; 28 means that the threads touch [-].

    Raises
    ------
    OutOfRangeError
        If a number is not positive.

    Notes
    -----
    K = n / sqrt(N). Supposes round cotton-like yarns of specific volume 1.1 cm3/g; flat filament
    yarns cover more than K says.

    References
    ----------
    ``peirce-1937``: The geometry of cloth structure, cover factor (from memory).
    """
    require_positive(threads_per_in=threads_per_in, yarn_ne=yarn_ne)
    return threads_per_in / math.sqrt(yarn_ne)


def cloth_cover_factor(*, warp_cover: float, weft_cover: float) -> float:
    """Return the cover factor of a woven cloth after Peirce.

    Parameters
    ----------
    warp_cover : float
        Cover factor of the warp [-].
    weft_cover : float
        Cover factor of the weft [-].

    Returns
    -------
    float
        Cover factor of the cloth; 28 means closed [-].

    Raises
    ------
    OutOfRangeError
        If a cover factor is negative or above 28.

    Notes
    -----
    K = K1 + K2 - K1 K2 / 28.

    References
    ----------
    ``peirce-1937``: The geometry of cloth structure, cloth cover factor (from memory).
    """
    require_between(0.0, FULL_COVER, warp_cover=warp_cover, weft_cover=weft_cover)
    return warp_cover + weft_cover - warp_cover * weft_cover / FULL_COVER


def bulk_density_kg_m3(*, mass_per_area_gsm: float, thickness_mm: float) -> float:
    """Return the density of a cloth with its air.

    Parameters
    ----------
    mass_per_area_gsm : float
        Mass per area [g/m2].
    thickness_mm : float
        Thickness, at the pressure that matters [mm].

    Returns
    -------
    float
        Mass per volume of cloth [kg/m3].

    Raises
    ------
    OutOfRangeError
        If a number is not positive.

    References
    ----------
    ``definition``: mass per area over thickness.
    """
    require_positive(mass_per_area_gsm=mass_per_area_gsm, thickness_mm=thickness_mm)
    return mass_per_area_gsm / thickness_mm


def porosity(*, bulk_density_kg_m3: float, fibre_density_g_cm3: float) -> float:
    """Return the share of a cloth's volume that is air.

    Parameters
    ----------
    bulk_density_kg_m3 : float
        Density of the cloth with its air [kg/m3].
    fibre_density_g_cm3 : float
        Density of the fibre [g/cm3].

    Returns
    -------
    float
        Air volume over cloth volume [-].

    Raises
    ------
    OutOfRangeError
        If a number is not positive, or the cloth denser than its fibre.

    Notes
    -----
    1 - rho / rho_f, dry.

    References
    ----------
    ``definition``: porosity.
    """
    require_positive(fibre_density_g_cm3=fibre_density_g_cm3)
    require_between(0.0, 1000.0 * fibre_density_g_cm3, bulk_density_kg_m3=bulk_density_kg_m3)
    return 1.0 - bulk_density_kg_m3 / (1000.0 * fibre_density_g_cm3)


def filament_diameter_um(*, linear_density_tex: float, fibre_density_g_cm3: float) -> float:
    """Return the diameter of a round filament.

    Parameters
    ----------
    linear_density_tex : float
        Mass per length of one filament [tex].
    fibre_density_g_cm3 : float
        Density of the fibre [g/cm3].

    Returns
    -------
    float
        Diameter [um].

    Raises
    ------
    OutOfRangeError
        If a number is not positive.

    Notes
    -----
    d = sqrt(4 T / (pi rho)). A trilobal or hollow filament is wider than this.

    References
    ----------
    ``definition``: volume of a cylinder.
    """
    require_positive(linear_density_tex=linear_density_tex, fibre_density_g_cm3=fibre_density_g_cm3)
    area_um2 = 1000.0 * linear_density_tex / fibre_density_g_cm3
    return math.sqrt(4.0 * area_um2 / math.pi)


def thickness_mm(*, mass_per_area_gsm: float, fibre_density_g_cm3: float, packing: float) -> float:
    """Return the thickness of a cloth of which the packing is known.

    Parameters
    ----------
    mass_per_area_gsm : float
        Mass per area [g/m2].
    fibre_density_g_cm3 : float
        Density of the fibre [g/cm3].
    packing : float
        Share of the cloth's volume that is fibre [-].

    Returns
    -------
    float
        Thickness, at the pressure to which the packing belongs [mm].

    Raises
    ------
    OutOfRangeError
        If a number is not positive or the packing above 1.

    Notes
    -----
    t = m / (rho_f v_f). The packing of a soft or piled cloth doubles under pressure: never mix
    a packing and a pressure from two sources.

    References
    ----------
    ``definition``: volume per area.
    """
    require_positive(
        mass_per_area_gsm=mass_per_area_gsm,
        fibre_density_g_cm3=fibre_density_g_cm3,
        packing=packing,
    )
    require_between(0.0, 1.0, packing=packing)
    return mass_per_area_gsm / (1000.0 * fibre_density_g_cm3 * packing)
