"""Conductivity of fibre and air together: the classical mixture models."""

from __future__ import annotations

from samite.kernel.errors import OutOfRangeError
from samite.kernel.ranges import require_between, require_positive

SCHUHMEISTER_PARALLEL_SHARE = 1.0 / 3.0
"""Share of the fibres that conduct along the heat flow when they lie in all directions."""


def parallel_conductivity_w_mk(
    *, fibre_conductivity_w_mk: float, air_conductivity_w_mk: float, packing: float
) -> float:
    """Return the conductivity of fibre and air side by side, the upper bound.

    Parameters
    ----------
    fibre_conductivity_w_mk : float
        Conductivity of the fibre [W/mK].
    air_conductivity_w_mk : float
        Conductivity of the air, or of what fills the pores [W/mK].
    packing : float
        Share of the volume that is fibre [-].

    Returns
    -------
    float
        Conductivity of the mixture [W/mK].

    Raises
    ------
    OutOfRangeError
        If a conductivity is not positive or the packing outside 0 to 1.

    Notes
    -----
    v k_f + (1 - v) k_a. Too high for any cloth heated through its thickness.

    References
    ----------
    ``definition``: conductances in parallel.
    """
    _check(fibre_conductivity_w_mk, air_conductivity_w_mk, packing)
    return packing * fibre_conductivity_w_mk + (1.0 - packing) * air_conductivity_w_mk


def series_conductivity_w_mk(
    *, fibre_conductivity_w_mk: float, air_conductivity_w_mk: float, packing: float
) -> float:
    """Return the conductivity of fibre and air one behind the other, the lower bound.

    Parameters
    ----------
    fibre_conductivity_w_mk : float
        Conductivity of the fibre [W/mK].
    air_conductivity_w_mk : float
        Conductivity of the air, or of what fills the pores [W/mK].
    packing : float
        Share of the volume that is fibre [-].

    Returns
    -------
    float
        Conductivity of the mixture [W/mK].

    Raises
    ------
    OutOfRangeError
        If a conductivity is not positive or the packing outside 0 to 1.

    Notes
    -----
    1 / (v/k_f + (1 - v)/k_a). Too low for any real cloth.

    References
    ----------
    ``definition``: resistances in series.
    """
    _check(fibre_conductivity_w_mk, air_conductivity_w_mk, packing)
    return 1.0 / (packing / fibre_conductivity_w_mk + (1.0 - packing) / air_conductivity_w_mk)


def geometric_mean_conductivity_w_mk(
    *, fibre_conductivity_w_mk: float, air_conductivity_w_mk: float, packing: float
) -> float:
    """Return the geometric mean of the conductivities of fibre and air, weighted by volume.

    Parameters
    ----------
    fibre_conductivity_w_mk : float
        Conductivity of the fibre [W/mK].
    air_conductivity_w_mk : float
        Conductivity of the air, or of what fills the pores [W/mK].
    packing : float
        Share of the volume that is fibre [-].

    Returns
    -------
    float
        Conductivity of the mixture [W/mK].

    Raises
    ------
    OutOfRangeError
        If a conductivity is not positive or the packing outside 0 to 1.

    Notes
    -----
    k_f^v k_a^(1 - v). Within 25 % of the published pads of cotton, wool and silk at 0.5 g/cm3 with
    conductivities across the fibre; low for cotton.

    References
    ----------
    ``definition``: weighted geometric mean.
    """
    _check(fibre_conductivity_w_mk, air_conductivity_w_mk, packing)
    return float(fibre_conductivity_w_mk**packing * air_conductivity_w_mk ** (1.0 - packing))


def schuhmeister_conductivity_w_mk(
    *,
    fibre_conductivity_w_mk: float,
    air_conductivity_w_mk: float,
    packing: float,
    parallel_share: float = SCHUHMEISTER_PARALLEL_SHARE,
) -> float:
    """Return the conductivity of fibres that lie in all directions, after Schuhmeister.

    Parameters
    ----------
    fibre_conductivity_w_mk : float
        Conductivity of the fibre [W/mK].
    air_conductivity_w_mk : float
        Conductivity of the air, or of what fills the pores [W/mK].
    packing : float
        Share of the volume that is fibre [-].
    parallel_share : float
        Share that conducts in parallel: one third for fibres in all directions, about 0.21 for
        felt after Baxter [-].

    Returns
    -------
    float
        Conductivity of the mixture [W/mK].

    Raises
    ------
    OutOfRangeError
        If a conductivity is not positive, or the packing or the share outside 0 to 1.

    Notes
    -----
    x k_parallel + (1 - x) k_series. With solid-polymer conductivities within about 25 % of the
    published pads.

    References
    ----------
    ``schuhmeister-1877``: as cited by ``baxter-1946`` (from memory).
    """
    require_between(0.0, 1.0, parallel_share=parallel_share)
    upper = parallel_conductivity_w_mk(
        fibre_conductivity_w_mk=fibre_conductivity_w_mk,
        air_conductivity_w_mk=air_conductivity_w_mk,
        packing=packing,
    )
    lower = series_conductivity_w_mk(
        fibre_conductivity_w_mk=fibre_conductivity_w_mk,
        air_conductivity_w_mk=air_conductivity_w_mk,
        packing=packing,
    )
    return parallel_share * upper + (1.0 - parallel_share) * lower


def maxwell_eucken_conductivity_w_mk(
    *, fibre_conductivity_w_mk: float, air_conductivity_w_mk: float, packing: float
) -> float:
    """Return the conductivity of separate particles in continuous air, after Maxwell and Eucken.

    Parameters
    ----------
    fibre_conductivity_w_mk : float
        Conductivity of the particles [W/mK].
    air_conductivity_w_mk : float
        Conductivity of the air between them [W/mK].
    packing : float
        Share of the volume that is solid [-].

    Returns
    -------
    float
        Conductivity of the mixture [W/mK].

    Raises
    ------
    OutOfRangeError
        If a conductivity is not positive or the packing outside 0 to 1.

    Notes
    -----
    k_a (2 (1 - v) k_a + (1 + 2 v) k_f) / ((2 + v) k_a + (1 - v) k_f). Spheres that do not touch:
    low for yarns, which do.

    References
    ----------
    ``maxwell-eucken``: dispersion of spheres (from memory).
    """
    _check(fibre_conductivity_w_mk, air_conductivity_w_mk, packing)
    air, fibre, v = air_conductivity_w_mk, fibre_conductivity_w_mk, packing
    above = 2.0 * (1.0 - v) * air + (1.0 + 2.0 * v) * fibre
    below = (2.0 + v) * air + (1.0 - v) * fibre
    return air * above / below


def parallel_share(
    *,
    pad_conductivity_w_mk: float,
    fibre_conductivity_w_mk: float,
    air_conductivity_w_mk: float,
    packing: float,
) -> float:
    """Return the share conducting in parallel that a measured pad implies.

    Parameters
    ----------
    pad_conductivity_w_mk : float
        Measured conductivity of the pad [W/mK].
    fibre_conductivity_w_mk : float
        Conductivity of the fibre [W/mK].
    air_conductivity_w_mk : float
        Conductivity of the air [W/mK].
    packing : float
        Share of the pad's volume that is fibre [-].

    Returns
    -------
    float
        Share for `schuhmeister_conductivity_w_mk`, 0 to 1 [-].

    Raises
    ------
    OutOfRangeError
        If the pad lies outside the bounds of the two models, or an input is impossible.

    Notes
    -----
    x = (k - k_series) / (k_parallel - k_series). A fit: it carries one pad to other densities and
    predicts nothing about that pad.

    References
    ----------
    ``schuhmeister-1877``: as cited by ``baxter-1946`` (from memory).
    """
    upper = parallel_conductivity_w_mk(
        fibre_conductivity_w_mk=fibre_conductivity_w_mk,
        air_conductivity_w_mk=air_conductivity_w_mk,
        packing=packing,
    )
    lower = series_conductivity_w_mk(
        fibre_conductivity_w_mk=fibre_conductivity_w_mk,
        air_conductivity_w_mk=air_conductivity_w_mk,
        packing=packing,
    )
    if not lower < upper or not lower <= pad_conductivity_w_mk <= upper:
        raise OutOfRangeError(
            f"a pad of {pad_conductivity_w_mk:g} W/mK lies outside {lower:.4g} to {upper:.4g}",
            "pad_conductivity_w_mk",
            "check the packing and the fibre's conductivity against their source",
        )
    return (pad_conductivity_w_mk - lower) / (upper - lower)


def _check(fibre_conductivity: float, air_conductivity: float, packing: float) -> None:
    require_positive(
        fibre_conductivity_w_mk=fibre_conductivity, air_conductivity_w_mk=air_conductivity
    )
    require_between(0.0, 1.0, packing=packing)
