"""Parts of a ring: circle skirts, capes, peplums, and what a turned edge has too much of."""

from __future__ import annotations

import math

from samite.kernel.errors import OutOfRangeError
from samite.kernel.ranges import require_between, require_positive
from samite.pieces.roots import solve_between

WIDEST_FRACTION = 12.0
"""Most full circles that one waist is made of."""


def waist_radius_mm(
    *,
    waist_mm: float,
    fraction: float = 1.0,
    panels: int = 0,
    seam_allowance_mm: float = 0.0,
    growth_percent: float = 0.0,
    stretch_percent: float = 0.0,
    gather: float = 1.0,
) -> float:
    """Return the radius of the stitch line at the waist of a circle skirt or the neck of a cape.

    Parameters
    ----------
    waist_mm : float
        Girth that the stitch line must have on the body [mm].
    fraction : float
        Share of a full circle: 0.5 is a half circle, 2 is two full ones [-].
    panels : int
        Panels whose edges are cut on the radius, so that their seams take cloth away [-].
    seam_allowance_mm : float
        Allowance at each such edge [mm].
    growth_percent : float
        How much longer the raw edge grows when it is handled [%].
    stretch_percent : float
        How far the edge is stretched when worn [%].
    gather : float
        Length of the edge over the girth that it is gathered to [-].

    Returns
    -------
    float
        Radius [mm].

    Raises
    ------
    OutOfRangeError
        If a number is impossible, or the allowances leave no edge.

    Notes
    -----
    r theta = gather W / ((1 + growth)(1 + stretch)) with theta = 2 pi f; with k panels cut on the
    radius r (theta - 2 k asin(a / r)) in place of r theta, solved. Exact in the plane.

    References
    ----------
    ``derivation``: arc length of a circle; the chord lost at an edge moved inwards by a.
    """
    require_positive(waist_mm=waist_mm, gather=gather)
    require_between(0.0, WIDEST_FRACTION, fraction=fraction)
    require_positive(fraction=fraction)
    require_between(0.0, math.inf, panels=panels, seam_allowance_mm=seam_allowance_mm)
    require_between(-50.0, 100.0, growth_percent=growth_percent)
    require_between(0.0, 400.0, stretch_percent=stretch_percent)
    edge = gather * waist_mm / ((1.0 + growth_percent / 100.0) * (1.0 + stretch_percent / 100.0))
    angle = math.tau * fraction
    lost = 2.0 * panels * seam_allowance_mm
    if lost == 0.0:
        return edge / angle

    def surplus(radius: float) -> float:
        return radius * (angle - 2.0 * panels * math.asin(seam_allowance_mm / radius)) - edge

    low = seam_allowance_mm * (1.0 + 1e-12)
    if surplus(low) >= 0.0:
        raise OutOfRangeError(
            f"allowances of {seam_allowance_mm:g} mm leave no waist of {edge:g} mm",
            "seam_allowance_mm",
            "give smaller allowances or fewer panels",
        )
    return solve_between(surplus, low, (edge + 3.2 * lost) / angle + 2.0 * low, what="waist radius")


def waist_length_mm(
    *, radius_mm: float, fraction: float = 1.0, panels: int = 0, seam_allowance_mm: float = 0.0
) -> float:
    """Return the stitch line at the waist that a radius gives.

    Parameters
    ----------
    radius_mm : float
        Radius of the stitch line [mm].
    fraction : float
        Share of a full circle [-].
    panels : int
        Panels whose edges are cut on the radius, so that their seams take cloth away [-].
    seam_allowance_mm : float
        Allowance at each such edge [mm].

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
    r (2 pi f - 2 k asin(a / r)); the inverse of `waist_radius_mm`. Exact in the plane.

    References
    ----------
    ``derivation``: arc length of a circle; the chord lost at an edge moved inwards by a.
    """
    require_positive(radius_mm=radius_mm, fraction=fraction)
    require_between(0.0, math.inf, panels=panels)
    require_between(0.0, radius_mm, seam_allowance_mm=seam_allowance_mm)
    lost = 2.0 * panels * math.asin(seam_allowance_mm / radius_mm)
    return max(radius_mm * (math.tau * fraction - lost), 0.0)


def hem_radius_mm(
    *, waist_mm: float, length_mm: float, fraction: float = 1.0, hem_allowance_mm: float = 0.0
) -> float:
    """Return the radius of the hem of a part of a ring.

    Parameters
    ----------
    waist_mm : float
        Length of the inner stitch line [mm].
    length_mm : float
        From the inner to the outer stitch line [mm].
    fraction : float
        Share of a full circle [-].
    hem_allowance_mm : float
        Cloth beyond the hem line; 0 gives the hem line itself [mm].

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
    W / (2 pi f) + L + hem; exact. Twice it is the square that a full circle takes.

    References
    ----------
    ``derivation``: concentric arcs.
    """
    require_positive(waist_mm=waist_mm, length_mm=length_mm, fraction=fraction)
    require_between(0.0, math.inf, hem_allowance_mm=hem_allowance_mm)
    return waist_mm / (math.tau * fraction) + length_mm + hem_allowance_mm


def hem_length_mm(*, waist_mm: float, length_mm: float, fraction: float = 1.0) -> float:
    """Return the length of the hem of a part of a ring.

    Parameters
    ----------
    waist_mm : float
        Length of the inner stitch line [mm].
    length_mm : float
        From the inner to the outer stitch line [mm].
    fraction : float
        Share of a full circle [-].

    Returns
    -------
    float
        Hem length [mm].

    Raises
    ------
    OutOfRangeError
        If a number is impossible.

    Notes
    -----
    W + 2 pi f L; exact.

    References
    ----------
    ``derivation``: concentric arcs.
    """
    require_positive(waist_mm=waist_mm, length_mm=length_mm, fraction=fraction)
    return waist_mm + math.tau * fraction * length_mm


def ring_area_mm2(*, waist_mm: float, length_mm: float, fraction: float = 1.0) -> float:
    """Return the area of a part of a ring.

    Parameters
    ----------
    waist_mm : float
        Length of the inner arc [mm].
    length_mm : float
        Width of the ring [mm].
    fraction : float
        Share of a full circle [-].

    Returns
    -------
    float
        Area [mm2].

    Raises
    ------
    OutOfRangeError
        If a number is impossible.

    Notes
    -----
    L (W + pi f L); exact.

    References
    ----------
    ``derivation``: difference of two sectors.
    """
    require_positive(waist_mm=waist_mm, length_mm=length_mm, fraction=fraction)
    return length_mm * (waist_mm + math.pi * fraction * length_mm)


def sector_radius_mm(*, arc_mm: float, angle_deg: float) -> float:
    """Return the radius of an arc of given length and angle.

    Parameters
    ----------
    arc_mm : float
        Length of the arc [mm].
    angle_deg : float
        Angle that it spans [deg].

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
    Arc over angle; exact.

    References
    ----------
    ``definition``: the radian.
    """
    require_positive(arc_mm=arc_mm, angle_deg=angle_deg)
    return arc_mm / math.radians(angle_deg)


def parallel_excess_mm(*, distance_mm: float, turn_deg: float = 360.0) -> float:
    """Return how much longer a line is than the line that it runs beside, on its outside.

    Parameters
    ----------
    distance_mm : float
        Distance between the two: depth of a hem turned up, width of an allowance, thickness of
        the layers under a bodice [mm].
    turn_deg : float
        Angle by which the line turns from end to end; a closed convex one turns by 360 [deg].

    Returns
    -------
    float
        Excess of length [mm].

    Raises
    ------
    OutOfRangeError
        If a number is impossible.

    Notes
    -----
    Steiner: distance times angle, whatever the shape of the line. Exact for a line that turns
    one way only.

    References
    ----------
    ``derivation``: Steiner's formula for parallel curves.
    """
    require_positive(distance_mm=distance_mm)
    require_between(0.0, 36000.0, turn_deg=turn_deg)
    return distance_mm * math.radians(turn_deg)


def train_radius_mm(
    *, waist_radius_mm: float, length_mm: float, train_mm: float, angle_deg: float
) -> float:
    """Return the radius of the hem of a trained skirt at an angle from the centre front.

    Parameters
    ----------
    waist_radius_mm : float
        Radius of the waist [mm].
    length_mm : float
        From waist to floor at the centre front [mm].
    train_mm : float
        How much longer it is at the centre back [mm].
    angle_deg : float
        Angle in the pattern, 0 at the centre front and 180 at the centre back [deg].

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
    r + l + t (1 - cos phi) / 2: smooth where front and back meet their mirror images.

    References
    ----------
    ``derivation``: the simplest curve with level tangents at both ends.
    """
    require_positive(waist_radius_mm=waist_radius_mm, length_mm=length_mm)
    require_between(0.0, math.inf, train_mm=train_mm)
    require_between(0.0, 360.0, angle_deg=angle_deg)
    swing = (1.0 - math.cos(math.radians(angle_deg))) / 2.0
    return waist_radius_mm + length_mm + train_mm * swing


def wing_radius_mm(*, arm_span_mm: float) -> float:
    """Return the radius of a wing cut as a sector from the spine to the finger tips.

    Parameters
    ----------
    arm_span_mm : float
        From finger tip to finger tip, arms level [mm].

    Returns
    -------
    float
        Radius [mm].

    Raises
    ------
    OutOfRangeError
        If the span is not positive.

    Notes
    -----
    Half the span; the back is taken as flat, so it errs long by some centimetres.

    References
    ----------
    ``derivation``: half of the span.
    """
    require_positive(arm_span_mm=arm_span_mm)
    return arm_span_mm / 2.0
