"""Foundations: whether a waist stay holds what hangs from it, and what a seam can be let out."""

from __future__ import annotations

import math

from samite.kernel.ranges import require_between, require_positive

GRAVITY_M_S2 = 9.81
"""Standard gravity, rounded [m/s2]."""


def band_holding_force_n(*, band_tension_n: float, friction: float) -> float:
    """Return the load that a tight band round a body holds up by friction.

    Parameters
    ----------
    band_tension_n : float
        Tension in the band: 10 to 25 is borne for an evening (guess) [N].
    friction : float
        Coefficient between band and what it lies on: 0.3 on a slip, 0.5 on skin (guess) [-].

    Returns
    -------
    float
        Load [N].

    Raises
    ------
    OutOfRangeError
        If a number is not positive.

    Notes
    -----
    Pressure T / r round the girth 2 pi r gives 2 pi T, whatever the girth. Leaves out the hips,
    on which a waist band rests: errs low at the waist, right at the bust.

    References
    ----------
    ``derivation``: Laplace's law round a closed band.
    """
    require_positive(band_tension_n=band_tension_n, friction=friction)
    return 2.0 * math.pi * band_tension_n * friction


def band_tension_needed_n(*, mass_kg: float, friction: float, carried_share: float = 1.0) -> float:
    """Return the tension that a band needs to hold up a skirt.

    Parameters
    ----------
    mass_kg : float
        Mass that hangs from the band: skirt, beads, underskirts [kg].
    friction : float
        Coefficient between band and what it lies on [-].
    carried_share : float
        Share of the weight that the hips or straps do not carry [-].

    Returns
    -------
    float
        Tension [N].

    Raises
    ------
    OutOfRangeError
        If a number is not positive, or the share above 1.

    References
    ----------
    ``derivation``: Laplace's law round a closed band.
    """
    require_positive(mass_kg=mass_kg, friction=friction, carried_share=carried_share)
    require_between(0.0, 1.0, carried_share=carried_share)
    return mass_kg * GRAVITY_M_S2 * carried_share / (2.0 * math.pi * friction)


def girth_gained_mm(*, allowance_mm: float, seams: int, kept_allowance_mm: float = 10.0) -> float:
    """Return how much wider a garment becomes when its seams are let out.

    Parameters
    ----------
    allowance_mm : float
        Seam allowance of each seam: 25 to 40 at fitted sides, 40 to 50 at centre back [mm].
    seams : int
        Seams that are let out [-].
    kept_allowance_mm : float
        Allowance that has to stay [mm].

    Returns
    -------
    float
        Girth gained [mm].

    Raises
    ------
    OutOfRangeError
        If a number is negative.

    Notes
    -----
    Two plies a seam. Nothing is gained below the allowance that stays. Old stitch holes show in
    satin, film and leather.

    References
    ----------
    ``definition``: two allowances a seam.
    """
    require_between(
        0.0, math.inf, allowance_mm=allowance_mm, seams=seams, kept_allowance_mm=kept_allowance_mm
    )
    return 2.0 * seams * max(allowance_mm - kept_allowance_mm, 0.0)
