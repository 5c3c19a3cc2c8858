"""Sleeves, gussets, crotch seams: where a tube meets a body."""

from __future__ import annotations

import math

from samite.kernel.errors import OutOfRangeError
from samite.kernel.ranges import require_between, require_positive
from samite.pieces.roots import MOST_STEPS, complete_elliptic, complete_elliptics, solve_between


def cap_length_mm(*, upper_arm_mm: float, cap_height_mm: float) -> float:
    """Return the length of the cap edge of a set-in sleeve.

    Parameters
    ----------
    upper_arm_mm : float
        Girth of the sleeve under the arm, ease included [mm].
    cap_height_mm : float
        Height of the cap [mm].

    Returns
    -------
    float
        Length [mm].

    Raises
    ------
    OutOfRangeError
        If a number is impossible.

    Notes
    -----
    A round tube of that girth cut by a slanting plane and laid flat is y = H/2 (1 + cos(x / r));
    the cut is an ellipse of perimeter 4 sqrt(r2 + H2/4) E(m). Exact for that shape; arms are not
    round, which a fitting shows.

    References
    ----------
    ``derivation``: a cylinder cut by a plane.
    """
    require_positive(upper_arm_mm=upper_arm_mm)
    require_between(0.0, math.inf, cap_height_mm=cap_height_mm)
    radius, half = upper_arm_mm / math.tau, cap_height_mm / 2.0
    long = math.hypot(radius, half)
    return 4.0 * long * complete_elliptic(half * half / (long * long))


def cap_height_mm(*, upper_arm_mm: float, armhole_mm: float) -> float:
    """Return the height of the cap that makes a sleeve fit its armhole.

    Parameters
    ----------
    upper_arm_mm : float
        Girth of the sleeve under the arm, ease included [mm].
    armhole_mm : float
        Length of the armhole and of what is eased into it [mm].

    Returns
    -------
    float
        Height [mm].

    Raises
    ------
    OutOfRangeError
        If the armhole is not longer than the sleeve is wide.

    Notes
    -----
    Solved from `cap_length_mm`; unique, since the length grows with the height.

    References
    ----------
    ``derivation``: a cylinder cut by a plane.
    """
    require_positive(upper_arm_mm=upper_arm_mm, armhole_mm=armhole_mm)
    if armhole_mm <= upper_arm_mm:
        raise OutOfRangeError(
            f"an armhole of {armhole_mm:g} mm takes no sleeve {upper_arm_mm:g} mm wide",
            "armhole_mm",
            "give a longer armhole or a narrower sleeve",
        )

    def surplus(height: float) -> float:
        return cap_length_mm(upper_arm_mm=upper_arm_mm, cap_height_mm=height) - armhole_mm

    return solve_between(surplus, 0.0, armhole_mm, what="cap height")


def half_cap_length_mm(*, half_width_mm: float, cap_height_mm: float) -> float:
    """Return the length of one half of a cap, from the underarm to the top.

    Parameters
    ----------
    half_width_mm : float
        Width of that half of the sleeve at the underarm [mm].
    cap_height_mm : float
        Height of the cap [mm].

    Returns
    -------
    float
        Length [mm].

    Raises
    ------
    OutOfRangeError
        If a number is impossible.

    Notes
    -----
    Half of `cap_length_mm` for a sleeve of twice the half width.

    References
    ----------
    ``derivation``: a cylinder cut by a plane.
    """
    whole = cap_length_mm(upper_arm_mm=2.0 * half_width_mm, cap_height_mm=cap_height_mm)
    return whole / 2.0


def cap_halves_mm(
    *, upper_arm_mm: float, front_armhole_mm: float, back_armhole_mm: float
) -> tuple[float, float, float]:
    """Return height and half widths of a cap whose halves fit front and back armhole each.

    Parameters
    ----------
    upper_arm_mm : float
        Girth of the sleeve under the arm, ease included [mm].
    front_armhole_mm : float
        Length of the front armhole and of what is eased into it [mm].
    back_armhole_mm : float
        The same of the back [mm].

    Returns
    -------
    tuple of float
        Cap height, width of the front half, width of the back half [mm].

    Raises
    ------
    OutOfRangeError
        If the armholes are not longer than the sleeve is wide, or too different.

    Notes
    -----
    One height for both; at each height the width of a half follows from its armhole, and the
    height is solved so that the two widths make up the sleeve.

    References
    ----------
    ``derivation``: a cylinder cut by a plane, by halves.
    """
    require_positive(upper_arm_mm=upper_arm_mm)
    require_positive(front_armhole_mm=front_armhole_mm, back_armhole_mm=back_armhole_mm)
    if front_armhole_mm + back_armhole_mm <= upper_arm_mm:
        raise OutOfRangeError(
            f"armholes of {front_armhole_mm:g} and {back_armhole_mm:g} mm take no sleeve"
            f" {upper_arm_mm:g} mm wide",
            "front_armhole_mm",
            "give longer armholes or a narrower sleeve",
        )

    def widths(height: float) -> tuple[float, float]:
        return _half_width(front_armhole_mm, height), _half_width(back_armhole_mm, height)

    most = min(front_armhole_mm, back_armhole_mm) * (1.0 - 1e-9)
    if sum(widths(most)) > upper_arm_mm:
        raise OutOfRangeError(
            f"armholes of {front_armhole_mm:g} and {back_armhole_mm:g} mm differ too much for one"
            " cap",
            "front_armhole_mm",
            "measure both again",
        )
    height = solve_between(
        lambda tried: sum(widths(tried)) - upper_arm_mm, 0.0, most, what="cap height"
    )
    return height, *widths(height)


def _half_width(armhole: float, height: float) -> float:
    """Return the half width whose half cap is as long as an armhole, by Newton's steps.

    The length is convex in the width, so steps from above come down to it and never pass it.
    """
    if height <= 0.0:
        return armhole

    half, radius = height / 2.0, armhole / math.pi
    for _ in range(MOST_STEPS):
        long = math.hypot(radius, half)
        first, second = complete_elliptics(half * half / (long * long))
        step = (2.0 * long * second - armhole) * long / (2.0 * radius * first)
        radius -= step
        if not radius > 0.0 or abs(step) <= 1e-15 * armhole:
            break
    return math.pi * max(radius, 0.0)


def gusset_side_mm(*, arm_mm: float, lift_deg: float = 90.0) -> float:
    """Return the side of the square gusset that lets an arm be lifted.

    Parameters
    ----------
    arm_mm : float
        From the underarm point to where the gusset ends, along seam and sleeve [mm].
    lift_deg : float
        Angle by which the arm is lifted from where the sleeve was set [deg].

    Returns
    -------
    float
        Side [mm].

    Raises
    ------
    OutOfRangeError
        If a number is impossible.

    Notes
    -----
    sqrt 2 a sin(lift / 2): the diagonal spans the opening; cloth between them taken as flat.

    References
    ----------
    ``derivation``: chord of the opened angle.
    """
    require_positive(arm_mm=arm_mm, lift_deg=lift_deg)
    require_between(0.0, 180.0, lift_deg=lift_deg)
    return math.sqrt(2.0) * arm_mm * math.sin(math.radians(lift_deg) / 2.0)


def quarter_ellipse_mm(*, width_mm: float, height_mm: float) -> float:
    """Return the length of a quarter of an ellipse.

    Parameters
    ----------
    width_mm : float
        One half axis [mm].
    height_mm : float
        The other half axis [mm].

    Returns
    -------
    float
        Length [mm].

    Raises
    ------
    OutOfRangeError
        If a number is impossible.

    Notes
    -----
    a E(1 - b2/a2) with the longer half axis a; exact.

    References
    ----------
    ``abramowitz-stegun-1964``: 17.3, arc length of the ellipse.
    """
    require_positive(width_mm=width_mm, height_mm=height_mm)
    short, long = sorted((width_mm, height_mm))
    return long * complete_elliptic(1.0 - (short / long) ** 2)


def crotch_extension_mm(*, hip_depth_mm: float, part: str) -> float:
    """Return how far the leg of trousers reaches past the centre line.

    Parameters
    ----------
    hip_depth_mm : float
        Depth of the body at the hip, front to back [mm].
    part : str
        ``front`` or ``back``.

    Returns
    -------
    float
        Extension [mm].

    Raises
    ------
    OutOfRangeError
        If the depth is not positive or the part is neither.

    Notes
    -----
    35 % of the depth in front, 65 % behind: together they span the body. The shares are a
    guess; a fitting moves them.

    References
    ----------
    ``guess``: own choice of shares.
    """
    require_positive(hip_depth_mm=hip_depth_mm)
    shares = {"front": 0.35, "back": 0.65}
    if part not in shares:
        raise OutOfRangeError(f"{part!r} is no part of trousers", "part", "front or back")
    return shares[part] * hip_depth_mm


def crotch_straight_mm(
    *, total_crotch_mm: float, hip_depth_mm: float, curve_height_mm: float, ease_mm: float = 0.0
) -> float:
    """Return the straight part of each centre seam above the crotch curve.

    Parameters
    ----------
    total_crotch_mm : float
        From waist in front between the legs to waist behind [mm].
    hip_depth_mm : float
        Depth of the body at the hip, front to back [mm].
    curve_height_mm : float
        Height of the quarter ellipses above the crotch line [mm].
    ease_mm : float
        Ease over that length [mm].

    Returns
    -------
    float
        Straight part, the same in front and behind [mm].

    Raises
    ------
    OutOfRangeError
        If the curves alone are longer than the seam, or a number is impossible.

    Notes
    -----
    (T + ease - both quarter ellipses) / 2; exact for that shape of seam.

    References
    ----------
    ``derivation``: straight parts and quarter ellipses add up to the measure.
    """
    require_positive(total_crotch_mm=total_crotch_mm)
    require_between(-500.0, 500.0, ease_mm=ease_mm)
    curves = sum(
        quarter_ellipse_mm(
            width_mm=crotch_extension_mm(hip_depth_mm=hip_depth_mm, part=part),
            height_mm=curve_height_mm,
        )
        for part in ("front", "back")
    )
    straight = (total_crotch_mm + ease_mm - curves) / 2.0
    if straight <= 0.0:
        raise OutOfRangeError(
            f"a crotch length of {total_crotch_mm:g} mm is too short for a body"
            f" {hip_depth_mm:g} mm deep",
            "total_crotch_mm",
            "measure both again",
        )
    return straight
