"""Sizes of machine needles, the thread they take and how long they last."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

from samite.kernel.errors import OutOfRangeError
from samite.kernel.evidence import Evidence
from samite.kernel.ranges import require_between, require_positive
from samite.tables.sewing import sewing_entries


@dataclass(frozen=True, slots=True)
class NeedleSize:
    """One size in which machine needles are sold.

    Parameters
    ----------
    size_nm : int
        Blade diameter above the eye in hundredths of a millimetre [needle Nm].
    size_us : int
        Number of the US scale.
    evidence : Evidence
        Source and grade of the pair.
    """

    size_nm: int
    size_us: int
    evidence: Evidence


@cache
def needle_sizes() -> tuple[NeedleSize, ...]:
    """Return the sizes in which machine needles are sold.

    Returns
    -------
    tuple of NeedleSize
        In rising order, from ``needle_sizes.csv``.
    """
    return tuple(
        NeedleSize(int(key), int(entry.number("size_us")), entry.evidence("size_us"))
        for key, entry in sewing_entries("needle").items()
    )


NEEDLE_SIZES_NM = (30.0, 350.0)
"""From the finest needle of any machine to that of a sack sewer [needle Nm]."""

EYE_TO_BLADE = 0.40
EYE_TO_THREAD = 1.4
LARGE_EYE_FACTOR = 1.25
ROUNDING_SLACK = 0.005
PENETRATIONS_PER_SEAM_END = 12
LIFE_PENETRATIONS = 50_000


def needle_size(*, size_nm: int) -> NeedleSize:
    """Return a size in which needles are sold.

    Parameters
    ----------
    size_nm : int
        Metric size [needle Nm].

    Returns
    -------
    NeedleSize
        With its US number and evidence.

    Raises
    ------
    OutOfRangeError
        If no needle of that size is sold.

    References
    ----------
    ``needle-size-charts``: pairs of metric and US sizes; 55, 85 and 130 from memory.
    """
    for size in needle_sizes():
        if size.size_nm == size_nm:
            return size
    sold = ", ".join(str(size.size_nm) for size in needle_sizes())
    raise OutOfRangeError(f"no needle of Nm {size_nm} is sold", "size_nm", f"one of {sold}")


def blade_diameter_mm(*, size_nm: float) -> float:
    """Return the diameter of a needle's blade just above the eye.

    Parameters
    ----------
    size_nm : float
        Metric size [needle Nm].

    Returns
    -------
    float
        Diameter [mm].

    Raises
    ------
    OutOfRangeError
        If no machine has a needle of that size: a number from 8 to 22 is a US size, which
        ``needle-metric-size`` reads.

    Notes
    -----
    Exact by definition. ASTM D1683 prints 0.036 in for metric 90, which is 0.0354 in rounded up.

    References
    ----------
    ``astm-d1683``: Table 1, metric 90.
    """
    require_between(*NEEDLE_SIZES_NM, size_nm=size_nm)
    return size_nm / 100.0


def minimum_size_nm(*, thread_diameter_mm: float, large_eye: bool = False) -> float:
    """Return the needle size whose eye is 40 % wider than a thread.

    Parameters
    ----------
    thread_diameter_mm : float
        Diameter of the thread [mm].
    large_eye : bool
        True for a needle with the eye of one two sizes larger.

    Returns
    -------
    float
        Metric size, not rounded [needle Nm].

    Raises
    ------
    OutOfRangeError
        If the diameter is not positive.

    Notes
    -----
    The eye is about 0.40 of the blade (common practice) and 1.4 times the thread: 350 d. A large
    eye is taken as 1.25 times as wide, a guess. One size down is tolerated for smooth filament.

    References
    ----------
    ``needle-trade-rule``: eye 40 % larger than the thread.
    """
    require_positive(thread_diameter_mm=thread_diameter_mm)
    size = 100.0 * EYE_TO_THREAD * thread_diameter_mm / EYE_TO_BLADE
    return size / LARGE_EYE_FACTOR if large_eye else size


def size_for_thread_nm(*, thread_diameter_mm: float, large_eye: bool = False) -> int:
    """Return the smallest needle sold that a thread passes freely.

    Parameters
    ----------
    thread_diameter_mm : float
        Diameter of the thread [mm].
    large_eye : bool
        True for a needle with the eye of one two sizes larger.

    Returns
    -------
    int
        Metric size [needle Nm].

    Raises
    ------
    OutOfRangeError
        If the thread is too thick for any machine needle, or the diameter not positive.

    Notes
    -----
    Rounds `minimum_size_nm` up, with 0.5 % slack for the rounding of the rule itself.

    References
    ----------
    ``needle-trade-rule``: eye 40 % larger than the thread.
    """
    least = minimum_size_nm(thread_diameter_mm=thread_diameter_mm, large_eye=large_eye)
    for size in needle_sizes():
        if size.size_nm >= least * (1.0 - ROUNDING_SLACK):
            return size.size_nm
    raise OutOfRangeError(
        f"a thread of {thread_diameter_mm:.2f} mm needs a needle of Nm {least:.0f}, "
        f"larger than any for a domestic machine",
        "thread_diameter_mm",
        "take a finer thread, a large-eye needle, or couch the thread down by hand",
    )


def perforation_share(*, size_nm: float, stitch_length_mm: float) -> float:
    """Return the share of a stitch line that the needle's holes take up.

    Parameters
    ----------
    size_nm : float
        Metric needle size [needle Nm].
    stitch_length_mm : float
        Stitch length [mm].

    Returns
    -------
    float
        Blade diameter over stitch length [-].

    Raises
    ------
    OutOfRangeError
        If a number is not positive.

    Notes
    -----
    Warn above 0.45 on straight lines in woven filament cloth, leather and film; the threshold is
    a guess. Zigzag on net and lace is exempt.

    References
    ----------
    ``definition``: geometry of the stitch line.
    """
    require_positive(stitch_length_mm=stitch_length_mm)
    return blade_diameter_mm(size_nm=size_nm) / stitch_length_mm


def needle_penetrations(
    *, seam_length_m: float, stitch_length_mm: float, seam_ends: int = 0
) -> int:
    """Return how often the needle pierces the cloth along a seam.

    Parameters
    ----------
    seam_length_m : float
        Length of the seam [m].
    stitch_length_mm : float
        Stitch length [mm].
    seam_ends : int
        Ends fastened by stitching back; 12 penetrations each [-].

    Returns
    -------
    int
        Penetrations, rounded up [-].

    Raises
    ------
    OutOfRangeError
        If the length is negative or the stitch length not positive.

    References
    ----------
    ``definition``: seam length over stitch length.
    """
    require_positive(stitch_length_mm=stitch_length_mm)
    require_between(0.0, math.inf, seam_length_m=seam_length_m, seam_ends=seam_ends)
    stitches = 1000.0 * seam_length_m / stitch_length_mm
    return math.ceil(round(stitches, 6)) + PENETRATIONS_PER_SEAM_END * seam_ends


def needles_used(*, penetrations: int, life_factor: float = 1.0) -> int:
    """Return how many needles a number of penetrations wears out.

    Parameters
    ----------
    penetrations : int
        Penetrations by needles of one kind [-].
    life_factor : float
        Life on this cloth against woven polyester and cotton; 0.5 on sheers and satin, 0.15
        through sequins [-].

    Returns
    -------
    int
        Needles, at least one; no spare [-].

    Raises
    ------
    OutOfRangeError
        If the penetrations are negative or the factor not positive.

    Notes
    -----
    50,000 penetrations a needle (8 h at the bench, a quarter of them running, 400 a minute) times
    the factor. A guess; replace a needle at the first audible tick.

    References
    ----------
    ``guess``: published change intervals of 6 to 12 h turned into penetrations.
    """
    require_positive(life_factor=life_factor)
    require_between(0.0, math.inf, penetrations=penetrations)
    return max(1, math.ceil(penetrations / (LIFE_PENETRATIONS * life_factor)))
