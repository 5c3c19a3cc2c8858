"""Thread consumption by stitch type: thread length per length of seam."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from samite.kernel.errors import UnknownNameError
from samite.kernel.ranges import require_between, require_positive
from samite.tables.sewing import sewing_entries, sewing_entry


@dataclass(frozen=True, slots=True)
class StitchGeometry:
    """How much thread a stitch type takes: constant + thickness T/p + width W/p.

    Parameters
    ----------
    constant : float
        Thread along the seam, over the seam length [-].
    thickness : float
        How often the threads pass through the cloth at each penetration [-].
    width : float
        How often the threads cross the width at each penetration [-].
    needle_share : float or None
        The needle threads' share [-]; None where each needle thread takes 1 + 2 T/p.
    """

    constant: float
    thickness: float
    width: float
    needle_share: float | None


@cache
def stitch_geometries() -> Mapping[str, StitchGeometry]:
    """Return the geometry of every stitch type that has a linear formula.

    Returns
    -------
    mapping of str to StitchGeometry
        By ISO 4915 number, from ``stitches.csv``.
    """
    return MappingProxyType(
        {
            key: StitchGeometry(
                entry.number("thread_constant"),
                entry.number("thread_thickness"),
                entry.number("thread_width"),
                entry.number("needle_share") if entry.has("needle_share") else None,
            )
            for key, entry in sewing_entries("stitch").items()
            if entry.has("thread_constant")
        }
    )


@cache
def zigzag_steps() -> Mapping[str, float]:
    """Return the penetrations a leg of every zigzag.

    Returns
    -------
    mapping of str to float
        By ISO 4915 number: 1 for 304, 2 for 308, 3 for 321.
    """
    return MappingProxyType(
        {
            key: entry.number("zigzag_steps")
            for key, entry in sewing_entries("stitch").items()
            if entry.has("zigzag_steps")
        }
    )


def thread_ratio(
    *, stitch_type: str, thickness_mm: float, stitch_length_mm: float, width_mm: float = 0.0
) -> float:
    """Return the length of all threads together per length of seam.

    Parameters
    ----------
    stitch_type : str
        ISO 4915 number.
    thickness_mm : float
        Thickness of the whole stack under the stitch [mm].
    stitch_length_mm : float
        Advance per needle penetration [mm].
    width_mm : float
        Width of zigzag, overedge or cover; 0 for straight stitches [mm].

    Returns
    -------
    float
        Thread length over seam length [-].

    Raises
    ------
    UnknownNameError
        If no formula for the stitch type is known.
    OutOfRangeError
        If a length is negative or the stitch length not positive.

    Notes
    -----
    Rectangular stitch; leaves out half a thread diameter on each face (errs low) and the squeeze
    under tension (errs high), which roughly cancel. 504 is used with constant 3, where some pages
    print 5. 304, 308 and 321 are geometry derived here: each thread runs the diagonal from one
    penetration to the next and half the legs.

    References
    ----------
    ``thread-consumption-formulas``: formulas by stitch type.
    """
    t, w = _relative(thickness_mm, stitch_length_mm, width_mm)
    steps = zigzag_steps().get(stitch_type)
    if steps:
        return 2.0 * (math.hypot(1.0, w / steps) + t)
    geometry = _geometry(stitch_type)
    return geometry.constant + geometry.thickness * t + geometry.width * w


def needle_thread_share(
    *, stitch_type: str, thickness_mm: float, stitch_length_mm: float, width_mm: float = 0.0
) -> float:
    """Return the needle threads' share of the thread in a seam.

    Parameters
    ----------
    stitch_type : str
        ISO 4915 number.
    thickness_mm : float
        Thickness of the whole stack under the stitch [mm].
    stitch_length_mm : float
        Advance per needle penetration [mm].
    width_mm : float
        Width of zigzag, overedge or cover; 0 for straight stitches [mm].

    Returns
    -------
    float
        Needle thread over all thread; the rest is bobbin or looper thread [-].

    Raises
    ------
    UnknownNameError
        If no formula for the stitch type is known.
    OutOfRangeError
        If a length is negative or the stitch length not positive.

    Notes
    -----
    Half for balanced lockstitches. 401 and 504 by geometry (needle thread 1 + 2 T/p), so the
    share grows with thickness; measured 401 seams gave 24 % and 53 %. The others by the flat
    shares of a thread maker's table.

    References
    ----------
    ``thread-ratio-table``: needle and looper shares.
    """
    whole = thread_ratio(
        stitch_type=stitch_type,
        thickness_mm=thickness_mm,
        stitch_length_mm=stitch_length_mm,
        width_mm=width_mm,
    )
    share = 0.5 if stitch_type in zigzag_steps() else _geometry(stitch_type).needle_share
    return (1.0 + 2.0 * thickness_mm / stitch_length_mm) / whole if share is None else share


def thread_ratio_gain_percent(
    *,
    stitch_type: str,
    thickness_mm: float,
    stitch_length_mm: float,
    new_stitch_length_mm: float,
    width_mm: float = 0.0,
) -> float:
    """Return how much more thread another stitch length takes.

    Parameters
    ----------
    stitch_type : str
        ISO 4915 number.
    thickness_mm : float
        Thickness of the whole stack under the stitch [mm].
    stitch_length_mm : float
        Stitch length before [mm].
    new_stitch_length_mm : float
        Stitch length after [mm].
    width_mm : float
        Width of zigzag, overedge or cover; 0 for straight stitches [mm].

    Returns
    -------
    float
        Change of the thread ratio [%].

    Raises
    ------
    UnknownNameError
        If no formula for the stitch type is known.
    OutOfRangeError
        If a length is negative or a stitch length not positive.

    References
    ----------
    ``thread-consumption-formulas``: formulas by stitch type.
    """
    before, after = (
        thread_ratio(
            stitch_type=stitch_type,
            thickness_mm=thickness_mm,
            stitch_length_mm=length,
            width_mm=width_mm,
        )
        for length in (stitch_length_mm, new_stitch_length_mm)
    )
    return 100.0 * (after / before - 1.0)


def measured_thread_ratio(*, thread_length_cm: float, seam_length_cm: float) -> float:
    """Return the thread ratio of a seam that was unpicked and measured.

    Parameters
    ----------
    thread_length_cm : float
        Length of the thread drawn out of the seam [cm].
    seam_length_cm : float
        Length of the seam [cm].

    Returns
    -------
    float
        Thread length over seam length [-].

    Raises
    ------
    OutOfRangeError
        If a length is not positive.

    Notes
    -----
    A measured two-thread chain seam held 4.13 of looper thread where the geometry of 401 gives 3.

    References
    ----------
    ``definition``: thread ratio.
    """
    require_positive(thread_length_cm=thread_length_cm, seam_length_cm=seam_length_cm)
    return thread_length_cm / seam_length_cm


def thread_length_m(*, thread_ratio: float, seam_length_m: float) -> float:
    """Return the thread that a length of seam takes, without ends and waste.

    Parameters
    ----------
    thread_ratio : float
        Thread length over seam length [-].
    seam_length_m : float
        Length of the seam [m].

    Returns
    -------
    float
        Length of thread [m].

    Raises
    ------
    OutOfRangeError
        If the ratio is not positive or the length negative.

    References
    ----------
    ``definition``: thread ratio.
    """
    require_positive(thread_ratio=thread_ratio)
    require_between(0.0, math.inf, seam_length_m=seam_length_m)
    return thread_ratio * seam_length_m


def _geometry(stitch_type: str) -> StitchGeometry:
    geometry = stitch_geometries().get(stitch_type)
    if geometry is None:
        raise UnknownNameError(
            f"no thread formula for stitch type {stitch_type!r}",
            "stitch_type",
            "one of "
            + ", ".join(
                f"{key} ({sewing_entry('stitch', key).word('name')})"
                for key in sorted((*stitch_geometries(), *zigzag_steps()))
            ),
        )
    return geometry


def _relative(thickness_mm: float, stitch_length_mm: float, width_mm: float) -> tuple[float, float]:
    require_positive(stitch_length_mm=stitch_length_mm)
    require_between(0.0, math.inf, thickness_mm=thickness_mm, width_mm=width_mm)
    return thickness_mm / stitch_length_mm, width_mm / stitch_length_mm
