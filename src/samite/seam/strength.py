"""Strength of a seam pulled at right angles to its stitching."""

from __future__ import annotations

from samite.kernel.ranges import require_positive


def seam_strength_n_per_cm(
    *, stitch_length_mm: float, thread_strength_n: float, loop_factor: float
) -> float:
    """Return the force per length at which the stitching breaks.

    Parameters
    ----------
    stitch_length_mm : float
        Stitch length [mm].
    thread_strength_n : float
        Breaking force of the weaker of needle and bobbin or looper thread [N].
    loop_factor : float
        Loop strength over thread strength, 2 at most: the bulletin takes 1.5 for 301 and 1.7 for
        401; 1.3 is the safe figure for spun and 1.4 for core-spun thread [-].

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
    (10 / p) S k. The cloth may break or its yarns slip before; sewing itself takes 10 to 30 % of
    a thread's strength (a guess), so the answer errs high.

    References
    ----------
    ``thread-bulletin-spi``: seam strength by stitches per inch.
    """
    require_positive(
        stitch_length_mm=stitch_length_mm,
        thread_strength_n=thread_strength_n,
        loop_factor=loop_factor,
    )
    return 10.0 / stitch_length_mm * thread_strength_n * loop_factor


def seam_strength_gain_percent(*, stitch_length_mm: float, new_stitch_length_mm: float) -> float:
    """Return how much stronger another stitch length makes the stitching.

    Parameters
    ----------
    stitch_length_mm : float
        Stitch length before [mm].
    new_stitch_length_mm : float
        Stitch length after [mm].

    Returns
    -------
    float
        Change of strength [%].

    Raises
    ------
    OutOfRangeError
        If a length is not positive.

    Notes
    -----
    Strength goes with the number of stitches until the holes weaken the cloth.

    References
    ----------
    ``thread-bulletin-seam-strength``: effect of stitch density on strength and thread.
    """
    require_positive(stitch_length_mm=stitch_length_mm, new_stitch_length_mm=new_stitch_length_mm)
    return 100.0 * (stitch_length_mm / new_stitch_length_mm - 1.0)


def seam_efficiency_percent(*, seam_strength_n: float, cloth_strength_n: float) -> float:
    """Return the strength of a seam as a share of the cloth's.

    Parameters
    ----------
    seam_strength_n : float
        Breaking force of the sewn strip or grab [N].
    cloth_strength_n : float
        Breaking force of the cloth in the same test [N].

    Returns
    -------
    float
        Seam efficiency [%].

    Raises
    ------
    OutOfRangeError
        If a number is not positive.

    References
    ----------
    ``astm-d1683``: definition of seam efficiency (from memory).
    """
    require_positive(seam_strength_n=seam_strength_n, cloth_strength_n=cloth_strength_n)
    return 100.0 * seam_strength_n / cloth_strength_n
