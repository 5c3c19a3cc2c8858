"""Why a seam puckers: yarns jammed by thread, plies fed or shrunk unequally."""

from __future__ import annotations

import math

from samite.kernel.ranges import require_between, require_positive

PLAIN_WEAVE_PACKING = 0.47
"""Share of the volume of a closed plain weave of round yarns that is fibre, at a yarn packing of 0.6."""

HOLE_THREADS = 2.0
"""Threads side by side in one hole of a lockstitch [-]."""

SQUEEZE = 0.2
"""Width that a thread keeps between yarns, over its free diameter (guess) [-]."""


def yarn_cover(*, packing: float, closed_packing: float = PLAIN_WEAVE_PACKING) -> float:
    """Return the share of a row's length that the yarns of a weave take up.

    Parameters
    ----------
    packing : float
        Share of solid matter in the cloth's volume [-].
    closed_packing : float
        The same where the yarns touch [-].

    Returns
    -------
    float
        Cover of one set of yarns, 1 at most [-].

    Raises
    ------
    OutOfRangeError
        If a number is not positive or above 1.

    Notes
    -----
    A plain weave two yarns thick: packing = (pi/4) phi c with phi the yarn's own packing of 0.6.
    Errs high for flat filament yarn and satin.

    References
    ----------
    ``derivation``: volume of round yarns in a cloth two diameters thick.
    """
    require_positive(packing=packing, closed_packing=closed_packing)
    require_between(0.0, 1.0, packing=packing, closed_packing=closed_packing)
    return min(packing / closed_packing, 1.0)


def jamming_percent(
    *, cover: float, thread_diameter_mm: float, stitch_length_mm: float, squeeze: float = SQUEEZE
) -> float:
    """Return how much longer the thread in the holes makes a row of a weave.

    Parameters
    ----------
    cover : float
        Share of the row that its own yarns take up [-].
    thread_diameter_mm : float
        Diameter of the sewing thread [mm].
    stitch_length_mm : float
        Stitch length [mm].
    squeeze : float
        Width that the thread keeps between the yarns, over its free diameter [-].

    Returns
    -------
    float
        Excess length along the seam; 0 while the gaps take the thread [%].

    Raises
    ------
    OutOfRangeError
        If a number is out of its range.

    Notes
    -----
    Two threads a hole: cover + 2 f d / p beyond 1. The squeeze is a guess; yarns that flatten or
    slide take more thread than this says. Knits and nets give way: zero there.

    References
    ----------
    ``derivation``: widths along one stitch.
    """
    require_between(0.0, 1.0, cover=cover, squeeze=squeeze)
    require_positive(thread_diameter_mm=thread_diameter_mm, stitch_length_mm=stitch_length_mm)
    filled = cover + HOLE_THREADS * squeeze * thread_diameter_mm / stitch_length_mm
    return 100.0 * max(filled - 1.0, 0.0)


def pucker_height_mm(*, excess_percent: float, wave_length_mm: float = 10.0) -> float:
    """Return how high the waves of a puckered seam stand.

    Parameters
    ----------
    excess_percent : float
        Length of one ply beyond the seam's, from jamming, feed or shrinkage [%].
    wave_length_mm : float
        Distance from wave to wave [mm].

    Returns
    -------
    float
        From trough to crest [mm].

    Raises
    ------
    OutOfRangeError
        If the excess is negative or above 25, or the length not positive.

    Notes
    -----
    A shallow sine: excess = (pi h / 2 L)^2. Stiff cloth makes few long waves, limp cloth many.

    References
    ----------
    ``derivation``: arc length of a shallow sine.
    """
    require_between(0.0, 25.0, excess_percent=excess_percent)
    require_positive(wave_length_mm=wave_length_mm)
    return 2.0 * wave_length_mm / math.pi * math.sqrt(excess_percent / 100.0)


def shrinkage_excess_percent(
    *, ply_shrinkage_percent: float, other_shrinkage_percent: float
) -> float:
    """Return how much longer one ply is than the other once both have shrunk.

    Parameters
    ----------
    ply_shrinkage_percent : float
        Shrinkage of one ply, or of the cloth [%].
    other_shrinkage_percent : float
        Shrinkage of the other, or of the thread [%].

    Returns
    -------
    float
        Excess of the ply that shrinks less, on the length of the one that shrinks more [%].

    Raises
    ------
    OutOfRangeError
        If a shrinkage is negative, or 50 and more.

    References
    ----------
    ``derivation``: ratio of the lengths after shrinking.
    """
    require_between(
        0.0,
        50.0,
        ply_shrinkage_percent=ply_shrinkage_percent,
        other_shrinkage_percent=other_shrinkage_percent,
    )
    long = 100.0 - min(ply_shrinkage_percent, other_shrinkage_percent)
    short = 100.0 - max(ply_shrinkage_percent, other_shrinkage_percent)
    return 100.0 * (long / short - 1.0)
