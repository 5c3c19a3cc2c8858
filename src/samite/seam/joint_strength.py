"""Strength of a joint: the stitching, and each cloth with the needle's holes in it."""

from __future__ import annotations

import math

from samite.kernel.ranges import require_between, require_positive

STRENGTH_SHARE = 0.5
"""Share of the fibres' strength that a cloth keeps along its yarns (guess) [-]."""

SEWING_LOSS_SHARE = 0.8
"""Thread strength left after sewing (guess, 0.7 to 0.9) [-]."""


def cloth_strength_n_per_cm(
    *,
    mass_per_area_gsm: float,
    tenacity_cn_tex: float,
    direction_share: float = 0.5,
    strength_share: float = STRENGTH_SHARE,
) -> float:
    """Return about the force at which a cloth breaks.

    Parameters
    ----------
    mass_per_area_gsm : float
        Mass per area of what carries: the ground without pile [g/m2].
    tenacity_cn_tex : float
        Tenacity of the fibre [cN/tex].
    direction_share : float
        Share of the mass that lies in the direction of the pull [-].
    strength_share : float
        Share of the fibres' strength that the cloth keeps [-].

    Returns
    -------
    float
        Breaking force per width [N/cm].

    Raises
    ------
    OutOfRangeError
        If a number is not positive, or a share above 1.

    Notes
    -----
    A strip 1 cm wide has 10 m tex of fibre, m in g/m2. The share of 0.5 for staple and filament
    alike is a guess; knits and nets reach half of it.

    References
    ----------
    ``derivation``: linear density of a strip times tenacity.
    """
    require_positive(
        mass_per_area_gsm=mass_per_area_gsm,
        tenacity_cn_tex=tenacity_cn_tex,
        direction_share=direction_share,
        strength_share=strength_share,
    )
    require_between(0.0, 1.0, direction_share=direction_share, strength_share=strength_share)
    strip_tex = 10.0 * mass_per_area_gsm * direction_share
    return strip_tex * tenacity_cn_tex / 100.0 * strength_share


def perforated_strength_share(*, perforation_share: float, cut_share: float) -> float:
    """Return the strength that a line of needle holes leaves to a cloth.

    Parameters
    ----------
    perforation_share : float
        Blade over stitch length [-].
    cut_share : float
        Share of the yarns or matter in a hole's way that is cut: 1 in film and leather or with a
        cutting point, about 0.3 in a weave with a rounded point (guess) [-].

    Returns
    -------
    float
        Strength left [-].

    Raises
    ------
    OutOfRangeError
        If the cut share is not between 0 and 1 or the other negative.

    References
    ----------
    ``derivation``: what is cut does not carry.
    """
    require_between(0.0, math.inf, perforation_share=perforation_share)
    require_between(0.0, 1.0, cut_share=cut_share)
    return max(1.0 - cut_share * perforation_share, 0.0)


def joint_strength_n_per_cm(
    *,
    stitching_n_per_cm: float,
    cloth_n_per_cm: float,
    other_cloth_n_per_cm: float,
    rows: float = 1.0,
) -> float:
    """Return the force at which a joint of two cloths gives way.

    Parameters
    ----------
    stitching_n_per_cm : float
        Force at which one row of the stitching breaks [N/cm].
    cloth_n_per_cm : float
        Force at which one cloth breaks along its holes [N/cm].
    other_cloth_n_per_cm : float
        The same of the other cloth [N/cm].
    rows : float
        Rows that share the load [-].

    Returns
    -------
    float
        Breaking force per length of seam [N/cm].

    Raises
    ------
    OutOfRangeError
        If a number is not positive.

    Notes
    -----
    The weakest of the three; the same whichever cloth is named first. Yarns may slip before: see
    the slippage risk.

    References
    ----------
    ``astm-d1683``: failure of the stitching, of the cloth, or by slippage.
    """
    require_positive(
        stitching_n_per_cm=stitching_n_per_cm,
        cloth_n_per_cm=cloth_n_per_cm,
        other_cloth_n_per_cm=other_cloth_n_per_cm,
        rows=rows,
    )
    return min(rows * stitching_n_per_cm, cloth_n_per_cm, other_cloth_n_per_cm)


def balanced_thread_n(*, needle_thread_n: float, other_thread_n: float) -> float:
    """Return the thread strength that governs a seam.

    Parameters
    ----------
    needle_thread_n : float
        Breaking force of the needle thread [N].
    other_thread_n : float
        Breaking force of the bobbin or looper thread [N].

    Returns
    -------
    float
        That of the weaker [N].

    Raises
    ------
    OutOfRangeError
        If a force is not positive.

    References
    ----------
    ``thread-bulletin-spi``: the weaker of needle and bobbin thread governs.
    """
    require_positive(needle_thread_n=needle_thread_n, other_thread_n=other_thread_n)
    return min(needle_thread_n, other_thread_n)
