"""Stretch of a seam along its own direction, and the zigzag that a stretch needs."""

from __future__ import annotations

import math

from samite.kernel.quantity import Quantity
from samite.kernel.ranges import require_between, require_positive
from samite.tables.sewing import sewing_entry, sewing_key


def zigzag_stretch_percent(
    *, stitch_length_mm: float, stitch_width_mm: float, thread_extension_percent: float = 0.0
) -> float:
    """Return how far a zigzag seam stretches before its thread is straight.

    Parameters
    ----------
    stitch_length_mm : float
        Advance per needle penetration [mm].
    stitch_width_mm : float
        Width of the zigzag [mm].
    thread_extension_percent : float
        Usable extension of the thread: 8 for polyester, 25 for textured, 4 for cotton [%].

    Returns
    -------
    float
        Stretch along the seam [%].

    Raises
    ------
    OutOfRangeError
        If the stitch length is not positive or another number negative.

    Notes
    -----
    (1 + e) sqrt(1 + (w/p)^2) - 1: the upper bound, where the cloth narrows freely.

    References
    ----------
    ``derivation``: diagonal of the zigzag, derived here.
    """
    require_positive(stitch_length_mm=stitch_length_mm)
    require_between(
        0.0,
        math.inf,
        stitch_width_mm=stitch_width_mm,
        thread_extension_percent=thread_extension_percent,
    )
    lengthening = math.hypot(1.0, stitch_width_mm / stitch_length_mm)
    return 100.0 * ((1.0 + thread_extension_percent / 100.0) * lengthening - 1.0)


def zigzag_width_mm(
    *, stretch_percent: float, stitch_length_mm: float, thread_extension_percent: float = 0.0
) -> float:
    """Return the narrowest zigzag that gives a stretch.

    Parameters
    ----------
    stretch_percent : float
        Stretch needed along the seam [%].
    stitch_length_mm : float
        Advance per needle penetration [mm].
    thread_extension_percent : float
        Usable extension of the thread [%].

    Returns
    -------
    float
        Width; 0 if the thread alone gives the stretch [mm].

    Raises
    ------
    OutOfRangeError
        If the stitch length is not positive or another number negative.

    Notes
    -----
    p sqrt(((1 + s)/(1 + e))^2 - 1), the inverse of `zigzag_stretch_percent`. Errs narrow where
    the cloth cannot narrow: take the next width up.

    References
    ----------
    ``derivation``: diagonal of the zigzag, derived here.
    """
    require_positive(stitch_length_mm=stitch_length_mm)
    require_between(
        0.0,
        math.inf,
        stretch_percent=stretch_percent,
        thread_extension_percent=thread_extension_percent,
    )
    lengthening = (100.0 + stretch_percent) / (100.0 + thread_extension_percent)
    return stitch_length_mm * math.sqrt(max(lengthening**2 - 1.0, 0.0))


def lockstitch_stretch_percent(
    *,
    thickness_mm: float,
    stitch_length_mm: float,
    thread_extension_percent: float,
    thickness_left: float = 1.0,
    slack: float = 0.0,
) -> float:
    """Return how far a balanced lockstitch seam stretches before its thread gives out.

    Parameters
    ----------
    thickness_mm : float
        Thickness of the whole stack under the stitch [mm].
    stitch_length_mm : float
        Stitch length [mm].
    thread_extension_percent : float
        Extension of the thread: 8 usable or 15 to rupture for polyester [%].
    thickness_left : float
        Share of the thickness left in the stretched seam: 1.0 firm cloth, 0.6 pile or knit [-].
    slack : float
        Thread laid in beyond a tight stitch by easing the tension, over the seam length [-].

    Returns
    -------
    float
        Stretch along the seam [%].

    Raises
    ------
    OutOfRangeError
        If the stitch length is not positive, the share outside 0 to 1 or another number negative.

    Notes
    -----
    R (1 + e) - 1 - c T/p with R = 1 + T/p + slack, the thread in the tighter of the two threads.

    References
    ----------
    ``derivation``: thread path of the lockstitch, derived here.
    """
    require_positive(stitch_length_mm=stitch_length_mm)
    require_between(0.0, 1.0, thickness_left=thickness_left)
    require_between(
        0.0,
        math.inf,
        thickness_mm=thickness_mm,
        thread_extension_percent=thread_extension_percent,
        slack=slack,
    )
    relative = thickness_mm / stitch_length_mm
    thread = (1.0 + relative + slack) * (1.0 + thread_extension_percent / 100.0)
    return 100.0 * (thread - 1.0 - thickness_left * relative)


def stretch_needed_percent(*, negative_ease_percent: float, movement_percent: float) -> float:
    """Return the stretch that a seam must give on the body.

    Parameters
    ----------
    negative_ease_percent : float
        How far the cut cloth is stretched to reach the body, on the cut length [%].
    movement_percent : float
        Skin strain in movement along the seam: knee lengthwise 35 to 45 [%].

    Returns
    -------
    float
        Stretch along the seam [%].

    Raises
    ------
    OutOfRangeError
        If a number is negative.

    References
    ----------
    ``kirk-ibrahim-1966``: skin strain in movement (from memory).
    """
    require_between(
        0.0,
        math.inf,
        negative_ease_percent=negative_ease_percent,
        movement_percent=movement_percent,
    )
    both = (1.0 + negative_ease_percent / 100.0) * (1.0 + movement_percent / 100.0)
    return 100.0 * (both - 1.0)


def body_movement(*, place: str) -> Quantity:
    """Return how far skin stretches in movement.

    Parameters
    ----------
    place : str
        ``knee-lengthwise``, ``knee-across``, ``elbow-lengthwise``, ``elbow-across``,
        ``seat-lengthwise``, ``seat-across``, ``back-across`` or ``none``.

    Returns
    -------
    Quantity
        Stretch [%].

    Raises
    ------
    UnknownNameError
        If the place is not in the table.

    References
    ----------
    ``kirk-ibrahim-1966``: skin strain in movement (from memory).
    """
    return sewing_entry("movement", sewing_key("movement", place)).quantity("movement_percent")


def seam_stretch_percent(
    *,
    stitch_type: str,
    thickness_mm: float,
    stitch_length_mm: float,
    stitch_width_mm: float = 0.0,
    thread_extension_percent: float = 8.0,
    thickness_left: float = 1.0,
    slack: float = 0.0,
) -> float:
    """Return how far a seam of any stitch type stretches along itself.

    Parameters
    ----------
    stitch_type : str
        ISO 4915 number.
    thickness_mm : float
        Thickness of the whole stack under the stitch [mm].
    stitch_length_mm : float
        Advance per needle penetration [mm].
    stitch_width_mm : float
        Width of a zigzag [mm].
    thread_extension_percent : float
        Usable extension of the thread [%].
    thickness_left : float
        Share of the thickness left in the stretched seam: 1.0 firm cloth, 0.6 pile or knit [-].
    slack : float
        Thread laid in beyond a tight stitch, over the seam length [-].

    Returns
    -------
    float
        Stretch along the seam [%].

    Raises
    ------
    UnknownNameError
        If the stitch type is not in the table.
    OutOfRangeError
        If a number is out of its range.

    Notes
    -----
    A zigzag by its diagonals and never less than the straight stitch it is made of; a two-thread
    chain twice a lockstitch (common practice); overedge and cover stitches by the table, where
    the cloth gives out before the thread.

    References
    ----------
    ``derivation``: thread paths of lockstitch and zigzag.
    """
    entry = sewing_entry("stitch", stitch_type)
    straight = lockstitch_stretch_percent(
        thickness_mm=thickness_mm,
        stitch_length_mm=stitch_length_mm,
        thread_extension_percent=thread_extension_percent,
        thickness_left=thickness_left,
        slack=slack,
    )
    if entry.has("zigzag_steps"):
        zigzag = zigzag_stretch_percent(
            stitch_length_mm=stitch_length_mm,
            stitch_width_mm=stitch_width_mm / entry.number("zigzag_steps"),
            thread_extension_percent=thread_extension_percent,
        )
        return max(zigzag, straight)
    if entry.has("give_percent"):
        return max(entry.number("give_percent"), straight)
    return 2.0 * straight if stitch_type == "401" else straight
