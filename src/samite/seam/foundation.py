"""Foundations: whether a waist stay holds what hangs from it, and what a seam can be let out."""

from __future__ import annotations

import math

from samite.kernel.ranges import require_between, require_positive

GRAVITY_M_S2 = 9.81
"""Standard gravity, rounded [m/s2]."""

MOVING_SHARE = 0.7
"""Share of what a stay holds that may hang from it at rest (guess) [-]."""


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


def check_foundation(
    *,
    skirt_mass_kg: float,
    hip_share: float = 0.5,
    band_tension_n: float = 15.0,
    friction: float = 0.3,
) -> tuple[str, ...]:
    """Return what is wrong with a strapless top from which a skirt hangs.

    Parameters
    ----------
    skirt_mass_kg : float
        Mass of skirt, beads and underskirts [kg].
    hip_share : float
        Share of the weight that rests on the hips; 0 for a skirt joined high on the bodice [-].
    band_tension_n : float
        Tension in the waist stay that the wearer bears [N].
    friction : float
        Coefficient between stay and what it lies on [-].

    Returns
    -------
    tuple of str
        Problems in words with what helps; empty if the stay holds.

    Raises
    ------
    OutOfRangeError
        If a number is not positive, or the share not between 0 and 1.

    Notes
    -----
    The weight that the hips do not carry against 2 pi T mu. Walking and dancing pull more than
    the weight: a stay that just holds at rest is told as a problem too, from 0.7 on.

    References
    ----------
    ``derivation``: Laplace's law round a closed band; the shares are guesses.
    """
    require_between(0.0, 1.0, hip_share=hip_share)
    require_positive(skirt_mass_kg=skirt_mass_kg)
    load_n = skirt_mass_kg * GRAVITY_M_S2 * (1.0 - hip_share)
    held_n = band_holding_force_n(band_tension_n=band_tension_n, friction=friction)
    if load_n <= MOVING_SHARE * held_n:
        return ()
    helps = "hang the skirt from a waist stay on the hips, add straps, or take weight off the hem"
    if load_n > held_n:
        text = (
            f"{load_n:.0f} N drag on a stay that holds {held_n:.0f} N: the top slides down; {helps}"
        )
    else:
        text = f"{load_n:.0f} N of the {held_n:.0f} N that the stay holds: it creeps in movement; {helps}"
    return (text,)
