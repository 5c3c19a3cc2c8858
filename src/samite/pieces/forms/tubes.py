"""Flared tubes laid flat, gores, balls, and the strips of tails and horns."""

from __future__ import annotations

import math

from samite.kernel.errors import InputError, OutOfRangeError
from samite.kernel.ranges import require_between, require_positive


def frustum_slant_mm(*, small_girth_mm: float, large_girth_mm: float, height_mm: float) -> float:
    """Return the slant of a flared tube, the length of cloth from edge to edge.

    Parameters
    ----------
    small_girth_mm : float
        Girth of the narrow edge [mm].
    large_girth_mm : float
        Girth of the wide edge [mm].
    height_mm : float
        Distance between the planes of the edges [mm].

    Returns
    -------
    float
        Slant [mm].

    Raises
    ------
    OutOfRangeError
        If a number is impossible.

    Notes
    -----
    s = hypot(h, (G2 - G1) / 2 pi); exact for round edges.

    References
    ----------
    ``derivation``: right triangle of height and difference of radii.
    """
    require_positive(small_girth_mm=small_girth_mm, large_girth_mm=large_girth_mm)
    require_positive(height_mm=height_mm)
    return math.hypot(height_mm, (large_girth_mm - small_girth_mm) / math.tau)


def frustum_inner_radius_mm(
    *, small_girth_mm: float, large_girth_mm: float, height_mm: float = 0.0, slant_mm: float = 0.0
) -> float:
    """Return the radius of the narrow edge of a flared tube laid flat.

    Parameters
    ----------
    small_girth_mm : float
        Girth of the narrow edge [mm].
    large_girth_mm : float
        Girth of the wide edge [mm].
    height_mm : float
        Distance between the planes of the edges; give this or the slant [mm].
    slant_mm : float
        Length of cloth from edge to edge [mm].

    Returns
    -------
    float
        Radius [mm].

    Raises
    ------
    InputError
        If not exactly one of height and slant is given.
    OutOfRangeError
        If the wide edge is not wider, or a number is impossible.

    Notes
    -----
    R1 = r1 s / (r2 - r1); exact.

    References
    ----------
    ``derivation``: a cone unrolled into a sector.
    """
    slant = _slant(small_girth_mm, large_girth_mm, height_mm, slant_mm)
    return small_girth_mm * slant / (large_girth_mm - small_girth_mm)


def frustum_outer_radius_mm(
    *, small_girth_mm: float, large_girth_mm: float, height_mm: float = 0.0, slant_mm: float = 0.0
) -> float:
    """Return the radius of the wide edge of a flared tube laid flat.

    Parameters
    ----------
    small_girth_mm : float
        Girth of the narrow edge [mm].
    large_girth_mm : float
        Girth of the wide edge [mm].
    height_mm : float
        Distance between the planes of the edges; give this or the slant [mm].
    slant_mm : float
        Length of cloth from edge to edge [mm].

    Returns
    -------
    float
        Radius [mm].

    Raises
    ------
    InputError
        If not exactly one of height and slant is given.
    OutOfRangeError
        If the wide edge is not wider, or a number is impossible.

    Notes
    -----
    R2 = R1 + s; exact.

    References
    ----------
    ``derivation``: a cone unrolled into a sector.
    """
    slant = _slant(small_girth_mm, large_girth_mm, height_mm, slant_mm)
    return large_girth_mm * slant / (large_girth_mm - small_girth_mm)


def frustum_angle_deg(
    *, small_girth_mm: float, large_girth_mm: float, height_mm: float = 0.0, slant_mm: float = 0.0
) -> float:
    """Return the angle that a flared tube spans when laid flat.

    Parameters
    ----------
    small_girth_mm : float
        Girth of the narrow edge [mm].
    large_girth_mm : float
        Girth of the wide edge [mm].
    height_mm : float
        Distance between the planes of the edges; give this or the slant [mm].
    slant_mm : float
        Length of cloth from edge to edge [mm].

    Returns
    -------
    float
        Angle [deg].

    Raises
    ------
    InputError
        If not exactly one of height and slant is given.
    OutOfRangeError
        If the wide edge is not wider, or a number is impossible.

    Notes
    -----
    2 pi (r2 - r1) / s; exact. Above 360 the tube is wider than a full circle.

    References
    ----------
    ``derivation``: a cone unrolled into a sector.
    """
    slant = _slant(small_girth_mm, large_girth_mm, height_mm, slant_mm)
    return math.degrees((large_girth_mm - small_girth_mm) / slant)


def _slant(small: float, large: float, height: float, slant: float) -> float:
    require_positive(small_girth_mm=small, large_girth_mm=large)
    if large <= small:
        raise OutOfRangeError(
            f"the wide edge, {large:g} mm, is not wider than the narrow one, {small:g} mm",
            "large_girth_mm",
            "a tube without flare is a rectangle",
        )
    if (height > 0.0) == (slant > 0.0):
        raise InputError(
            "give either the height or the slant of the tube", "height_mm", "one of the two"
        )
    if height > 0.0:
        return frustum_slant_mm(small_girth_mm=small, large_girth_mm=large, height_mm=height)
    require_positive(slant_mm=slant)
    if slant <= (large - small) / math.tau:
        raise OutOfRangeError(
            f"a slant of {slant:g} mm is too short for so wide an edge: cloth would ripple",
            "slant_mm",
            f"give more than {(large - small) / math.tau:.1f} mm, or cut a flounce",
        )
    return slant


def gore_half_width_mm(*, girth_mm: float, gores: int) -> float:
    """Return half the width of a gore where all gores together have a girth.

    Parameters
    ----------
    girth_mm : float
        Girth at that level [mm].
    gores : int
        Number of gores [-].

    Returns
    -------
    float
        Half width [mm].

    Raises
    ------
    OutOfRangeError
        If a number is impossible.

    Notes
    -----
    G / 2n; exact for gores whose levels are arcs.

    References
    ----------
    ``derivation``: equal parts.
    """
    require_positive(girth_mm=girth_mm, gores=gores)
    return girth_mm / (2.0 * gores)


def gore_hem_radius_mm(*, half_width_mm: float, flare_deg: float) -> float:
    """Return the radius of the arc that makes the hem of a flared gore run level.

    Parameters
    ----------
    half_width_mm : float
        Half the width at the hem, from corner to corner [mm].
    flare_deg : float
        Angle of the side seam with the middle of the gore [deg].

    Returns
    -------
    float
        Radius [mm].

    Raises
    ------
    OutOfRangeError
        If a number is impossible.

    Notes
    -----
    half / sin b: the arc meets both side seams squarely, so that the hem runs smooth there.

    References
    ----------
    ``derivation``: an arc about the point where the side seams meet.
    """
    require_positive(half_width_mm=half_width_mm, flare_deg=flare_deg)
    require_between(0.0, 89.9, flare_deg=flare_deg)
    return half_width_mm / math.sin(math.radians(flare_deg))


def gore_hem_dip_mm(*, half_width_mm: float, flare_deg: float) -> float:
    """Return how far the hem of a flared gore dips below the line between its corners.

    Parameters
    ----------
    half_width_mm : float
        Half the width at the hem, from corner to corner [mm].
    flare_deg : float
        Angle of the side seam with the middle of the gore [deg].

    Returns
    -------
    float
        Dip [mm].

    Raises
    ------
    OutOfRangeError
        If a number is impossible.

    Notes
    -----
    R (1 - cos b) with the radius of `gore_hem_radius_mm`; exact.

    References
    ----------
    ``derivation``: height of an arc over its chord.
    """
    radius = gore_hem_radius_mm(half_width_mm=half_width_mm, flare_deg=flare_deg)
    return radius * (1.0 - math.cos(math.radians(flare_deg)))


def globe_half_width_mm(*, radius_mm: float, gores: int, distance_mm: float) -> float:
    """Return half the width of a gore of a ball at a distance from its equator.

    Parameters
    ----------
    radius_mm : float
        Radius of the ball [mm].
    gores : int
        Number of gores [-].
    distance_mm : float
        Along the middle of the gore from the equator [mm].

    Returns
    -------
    float
        Half width [mm].

    Raises
    ------
    OutOfRangeError
        If the distance is past the pole, or a number is impossible.

    Notes
    -----
    (pi r / n) cos(s / r). A gore is a strip of the ball only in the limit of many: the
    seam comes out longer than the meridian, by 4 % with 6 gores and 1 % with 12.

    References
    ----------
    ``derivation``: the circle of latitude, shared out.
    """
    require_positive(radius_mm=radius_mm, gores=gores)
    require_between(0.0, math.pi / 2.0 * radius_mm * (1 + 1e-12), distance_mm=abs(distance_mm))
    return math.pi * radius_mm / gores * math.cos(distance_mm / radius_mm)


def tail_top_mm(*, radius_mm: float, height_mm: float, angle_deg: float) -> float:
    """Return the length of the outer strip of a tail or horn of box section.

    Parameters
    ----------
    radius_mm : float
        Radius of its middle line [mm].
    height_mm : float
        Height of the box [mm].
    angle_deg : float
        Angle that it curls by [deg].

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
    (R + h / 2) a; exact. The sides are parts of a ring.

    References
    ----------
    ``derivation``: concentric arcs.
    """
    _require_curl(radius_mm, height_mm, angle_deg)
    return (radius_mm + height_mm / 2.0) * math.radians(angle_deg)


def tail_bottom_mm(*, radius_mm: float, height_mm: float, angle_deg: float) -> float:
    """Return the length of the inner strip of a tail or horn of box section.

    Parameters
    ----------
    radius_mm : float
        Radius of its middle line [mm].
    height_mm : float
        Height of the box [mm].
    angle_deg : float
        Angle that it curls by [deg].

    Returns
    -------
    float
        Length [mm].

    Raises
    ------
    OutOfRangeError
        If the box is higher than its curl allows, or a number is impossible.

    Notes
    -----
    (R - h / 2) a; exact.

    References
    ----------
    ``derivation``: concentric arcs.
    """
    _require_curl(radius_mm, height_mm, angle_deg)
    return (radius_mm - height_mm / 2.0) * math.radians(angle_deg)


def _require_curl(radius: float, height: float, angle: float) -> None:
    require_positive(radius_mm=radius, height_mm=height, angle_deg=angle)
    if height >= 2.0 * radius:
        raise OutOfRangeError(
            f"a box {height:g} mm high cannot curl on a radius of {radius:g} mm",
            "height_mm",
            "give a lower box or a wider curl",
        )


def cone_dart_angle_deg(*, radius_mm: float, height_mm: float) -> float:
    """Return the angle of the dart that turns a flat disc into a cone.

    Parameters
    ----------
    radius_mm : float
        Radius of the base of the cone [mm].
    height_mm : float
        Height of the cone [mm].

    Returns
    -------
    float
        Angle [deg].

    Raises
    ------
    OutOfRangeError
        If a number is impossible.

    Notes
    -----
    360 (1 - r / s) with s = hypot(r, h); exact.

    References
    ----------
    ``derivation``: a cone unrolled into a sector.
    """
    require_positive(radius_mm=radius_mm, height_mm=height_mm)
    return 360.0 * (1.0 - radius_mm / math.hypot(radius_mm, height_mm))


def dart_tip_mm(*, width_mm: float, depth_mm: float) -> float:
    """Return how far the fold of a dart stands out beyond the seam, so that it is caught in it.

    Parameters
    ----------
    width_mm : float
        Width of the dart at the seam [mm].
    depth_mm : float
        From the seam to the point of the dart [mm].

    Returns
    -------
    float
        Length of the tip [mm].

    Raises
    ------
    OutOfRangeError
        If the dart is wider than deep by a factor of two or more.

    Notes
    -----
    The fold reflected in the leg meets the seam at depth / cos(2 a), a half the angle of the
    dart; exact for a straight seam square to the dart.

    References
    ----------
    ``derivation``: reflection in the leg.
    """
    require_positive(width_mm=width_mm, depth_mm=depth_mm)
    if width_mm >= 2.0 * depth_mm:
        raise OutOfRangeError(
            f"a dart {width_mm:g} mm wide and {depth_mm:g} mm deep cannot be folded flat",
            "width_mm",
            "make it two darts",
        )
    return depth_mm / math.cos(2.0 * math.atan(width_mm / 2.0 / depth_mm)) - depth_mm


def rim_stretch(*, angle_deg: float) -> float:
    """Return how much too long the rim of a flat disc is when it is laid on a ball.

    Parameters
    ----------
    angle_deg : float
        Angle from the pole of the ball to the rim [deg].

    Returns
    -------
    float
        Flat rim over the rim on the ball; the meridians keep their length [-].

    Raises
    ------
    OutOfRangeError
        If the angle is not between 0 and 180.

    Notes
    -----
    theta / sin theta; the excess must be eased in or darted out. Exact.

    References
    ----------
    ``derivation``: azimuthal equidistant map.
    """
    require_positive(angle_deg=angle_deg)
    require_between(0.0, 179.9, angle_deg=angle_deg)
    return math.radians(angle_deg) / math.sin(math.radians(angle_deg))


def dart_budget_deg(*, angle_deg: float) -> float:
    """Return the angle of all darts together that a cap of a ball needs.

    Parameters
    ----------
    angle_deg : float
        Angle from the pole of the ball to the rim of the cap [deg].

    Returns
    -------
    float
        Angle [deg].

    Raises
    ------
    OutOfRangeError
        If the angle is not between 0 and 180.

    Notes
    -----
    The curvature that the cap encloses, 2 pi (1 - cos a); exact, wherever the darts lie.

    References
    ----------
    ``derivation``: Gauss and Bonnet.
    """
    require_positive(angle_deg=angle_deg)
    require_between(0.0, 180.0, angle_deg=angle_deg)
    return 360.0 * (1.0 - math.cos(math.radians(angle_deg)))
