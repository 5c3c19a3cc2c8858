"""Thickness of seams and of their crossings, against the lift of the presser foot."""

from __future__ import annotations

import math
from collections.abc import Sequence

from samite.kernel.ranges import require_between, require_positive

PRESSED_SHARE = 0.8
"""Thickness left in a pressed seam; 1 loose, 0.6 pounded (guess) [-]."""

FOOT_LIFT_MM = 6.0
"""Lift of the foot of most household machines; 8 to 9 with the extra lift [mm]."""

FLAG_MM = 5.0
"""From this thickness on a stack is named [mm]."""


def stack_thickness_mm(*, thicknesses_mm: Sequence[float], pressed_share: float = 1.0) -> float:
    """Return the thickness of plies that lie on each other.

    Parameters
    ----------
    thicknesses_mm : sequence of float
        Thickness of each ply [mm].
    pressed_share : float
        Thickness left: 1 loose, 0.8 pressed, 0.6 pounded [-].

    Returns
    -------
    float
        Thickness of the stack [mm].

    Raises
    ------
    OutOfRangeError
        If a thickness is negative or the share not between 0 and 1.

    Notes
    -----
    The sum of the plies. The shares are guesses; soft pile yields more than that.

    References
    ----------
    ``guess``: share of the thickness that is left.
    """
    require_between(0.0, 1.0, pressed_share=pressed_share)
    for thickness in thicknesses_mm:
        require_between(0.0, math.inf, thicknesses_mm=thickness)
    return pressed_share * sum(thicknesses_mm)


def crossing_plies(*, plies: float, other_plies: float) -> float:
    """Return the plies where two seams cross.

    Parameters
    ----------
    plies : float
        Plies of one seam at its thickest line: 2 open, 3 to one side, 5 French [-].
    other_plies : float
        Plies of the other [-].

    Returns
    -------
    float
        Plies on each other [-].

    Raises
    ------
    OutOfRangeError
        If a number is not positive.

    Notes
    -----
    The product: open across open 4, to one side across to one side 9, French across French 25.

    References
    ----------
    ``derivation``: every ply of one seam is the other seam.
    """
    require_positive(plies=plies, other_plies=other_plies)
    return plies * other_plies


def crossing_thickness_mm(
    *,
    ply_thickness_mm: float,
    plies: float,
    other_plies: float,
    pressed_share: float = PRESSED_SHARE,
) -> float:
    """Return the thickness where two seams cross.

    Parameters
    ----------
    ply_thickness_mm : float
        Thickness of one ply; the mean of two unlike cloths [mm].
    plies : float
        Plies of one seam at its thickest line [-].
    other_plies : float
        Plies of the seam that crosses it [-].
    pressed_share : float
        Thickness left [-].

    Returns
    -------
    float
        Thickness [mm].

    Raises
    ------
    OutOfRangeError
        If a number is not positive, or the share above 1.

    Notes
    -----
    Errs high in pile, which yields, and where one of the seams is opened or graded before.

    References
    ----------
    ``derivation``: plies times thickness.
    """
    require_positive(ply_thickness_mm=ply_thickness_mm, pressed_share=pressed_share)
    require_between(0.0, 1.0, pressed_share=pressed_share)
    return crossing_plies(plies=plies, other_plies=other_plies) * ply_thickness_mm * pressed_share


def foot_margin_mm(*, thickness_mm: float, foot_lift_mm: float = FOOT_LIFT_MM) -> float:
    """Return the room left between a stack and the raised presser foot.

    Parameters
    ----------
    thickness_mm : float
        Thickness of the stack [mm].
    foot_lift_mm : float
        Lift of the foot [mm].

    Returns
    -------
    float
        Room; negative if the stack does not go under [mm].

    Raises
    ------
    OutOfRangeError
        If a number is not positive.

    References
    ----------
    ``common-practice``: lift of household machines.
    """
    require_positive(thickness_mm=thickness_mm, foot_lift_mm=foot_lift_mm)
    return foot_lift_mm - thickness_mm
