"""Thread for a seam with its ends and backtacks, flat published ratios, and bobbins."""

from __future__ import annotations

import math

from samite.kernel.errors import UnknownError
from samite.kernel.quantity import Quantity
from samite.kernel.ranges import require_between, require_positive
from samite.tables.sewing import sewing_entry

TAIL_M = 0.12
"""Thread end left at each end of a seam, each thread [m]."""

BACKTACK_M = 0.010
"""Length sewn three times at each end [m]."""

BAND_SHARE = 0.30
"""Half-width of the sanity band round a flat ratio [-]."""


def flat_thread_ratio(*, stitch_type: str) -> Quantity:
    """Return the flat thread ratio that thread makers print for a stitch type.

    Parameters
    ----------
    stitch_type : str
        ISO 4915 number.

    Returns
    -------
    Quantity
        Thread length over seam length [-].

    Raises
    ------
    UnknownNameError
        If the stitch type is not in the table.
    UnknownError
        If no flat ratio is published for it.

    Notes
    -----
    For about 7 stitches to the centimetre and medium cloth: a band to check a formula by, not a
    formula. Fits 301 only where cloth is a quarter as thick as the stitch is long.

    References
    ----------
    ``thread-ratio-table``: ratios at 7 stitches/cm.
    """
    entry = sewing_entry("stitch", stitch_type)
    if not entry.has("flat_ratio"):
        raise UnknownError(
            f"no flat thread ratio is published for {entry.word('name')} ({stitch_type})",
            "stitch_type",
            "unpick 10 cm of a trial seam and measure the thread: thread-ratio-measured",
        )
    return entry.quantity("flat_ratio")


def within_flat_band(*, thread_ratio: float, flat_ratio: float) -> bool:
    """Whether a thread ratio lies within 30 % of a flat published one.

    Parameters
    ----------
    thread_ratio : float
        Thread length over seam length, computed or measured [-].
    flat_ratio : float
        The published ratio [-].

    Returns
    -------
    bool
        True inside the band.

    Raises
    ------
    OutOfRangeError
        If a ratio is not positive.

    References
    ----------
    ``guess``: width of the band.
    """
    require_positive(thread_ratio=thread_ratio, flat_ratio=flat_ratio)
    return abs(thread_ratio / flat_ratio - 1.0) <= BAND_SHARE


def thread_with_ends_m(
    *, thread_ratio: float, seam_length_m: float, seams: int = 1, threads: int = 2
) -> float:
    """Return the thread of some seams with their backtacks and loose ends.

    Parameters
    ----------
    thread_ratio : float
        Thread length over seam length [-].
    seam_length_m : float
        Length of all seams together [m].
    seams : int
        How many seams, each with two ends [-].
    threads : int
        Threads that leave an end: needle, bobbin and loopers [-].

    Returns
    -------
    float
        Length of thread [m].

    Raises
    ------
    OutOfRangeError
        If the ratio is not positive or another number negative.

    Notes
    -----
    Ends of 12 cm for each thread, and 10 mm sewn three times at either end: common practice on a
    household machine. Factories add 10 to 20 % instead.

    References
    ----------
    ``common-practice``: ends and backtacks.
    """
    require_positive(thread_ratio=thread_ratio)
    require_between(0.0, math.inf, seam_length_m=seam_length_m, seams=seams, threads=threads)
    sewn = seam_length_m + seams * 2 * 2 * BACKTACK_M
    return thread_ratio * sewn + seams * 2 * TAIL_M * threads


def bobbin_length_m(
    *,
    thread_diameter_mm: float,
    flange_diameter_mm: float = 20.0,
    core_diameter_mm: float = 6.5,
    winding_width_mm: float = 9.0,
    packing: float = 0.6,
) -> float:
    """Return the thread that a bobbin holds.

    Parameters
    ----------
    thread_diameter_mm : float
        Diameter of the thread [mm].
    flange_diameter_mm : float
        Diameter of a full winding [mm].
    core_diameter_mm : float
        Diameter of the bobbin's core [mm].
    winding_width_mm : float
        Width between the flanges [mm].
    packing : float
        Share of the winding that is thread [-].

    Returns
    -------
    float
        Length [m].

    Raises
    ------
    OutOfRangeError
        If a number is not positive, the packing above 1 or the core as thick as the flange.

    Notes
    -----
    Volume over the section of the thread. The measures of a common household bobbin and the
    packing are guesses; real windings of tex 27 hold 40 to 70 m.

    References
    ----------
    ``definition``: volume of a cylinder.
    """
    require_positive(
        thread_diameter_mm=thread_diameter_mm,
        core_diameter_mm=core_diameter_mm,
        winding_width_mm=winding_width_mm,
        packing=packing,
    )
    require_between(0.0, 1.0, packing=packing)
    require_between(core_diameter_mm, math.inf, flange_diameter_mm=flange_diameter_mm)
    ring_mm2 = flange_diameter_mm**2 - core_diameter_mm**2
    return ring_mm2 * winding_width_mm * packing / thread_diameter_mm**2 / 1000.0


def bobbins_needed(*, bobbin_thread_m: float, bobbin_length_m: float) -> int:
    """Return how many bobbins to wind.

    Parameters
    ----------
    bobbin_thread_m : float
        Bobbin thread of all seams [m].
    bobbin_length_m : float
        Thread that a bobbin holds [m].

    Returns
    -------
    int
        Full bobbins [-].

    Raises
    ------
    OutOfRangeError
        If the thread is negative or the bobbin's not positive.

    References
    ----------
    ``definition``: thread over thread a bobbin.
    """
    require_positive(bobbin_length_m=bobbin_length_m)
    require_between(0.0, math.inf, bobbin_thread_m=bobbin_thread_m)
    return math.ceil(round(bobbin_thread_m / bobbin_length_m, 9))
