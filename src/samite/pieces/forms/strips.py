"""Bias strips, bindings, piping, elastic, sashes and the strips of hoods."""

from __future__ import annotations

import math

from samite.kernel.ranges import require_between, require_positive


def bias_length_mm(*, side_mm: float, width_mm: float, other_side_mm: float = 0.0) -> float:
    """Return the length of bias strip that a rectangle of cloth gives, joined or continuous.

    Parameters
    ----------
    side_mm : float
        One side of the rectangle [mm].
    width_mm : float
        Width of the strip [mm].
    other_side_mm : float
        The other side; 0 for a square [mm].

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
    Area over width; joins and the corners left over make it shorter in practice, by one width a
    join.

    References
    ----------
    ``bias-page``: a square of 12 in at 2 in gives 72 in.
    """
    require_positive(side_mm=side_mm, width_mm=width_mm)
    require_between(0.0, math.inf, other_side_mm=other_side_mm)
    return side_mm * (other_side_mm or side_mm) / width_mm


def bias_square_mm(*, length_mm: float, width_mm: float, step_mm: float = 0.0) -> float:
    """Return the side of the square that gives a length of bias strip.

    Parameters
    ----------
    length_mm : float
        Length of strip wanted [mm].
    width_mm : float
        Width of the strip [mm].
    step_mm : float
        Round up to a multiple of this; 0 does not round [mm].

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
    sqrt(L w); the inverse of `bias_length_mm`.

    References
    ----------
    ``bias-square-page``: 250 in at 2 in: 23 in, rounded up to the inch.
    """
    require_positive(length_mm=length_mm, width_mm=width_mm)
    require_between(0.0, math.inf, step_mm=step_mm)
    side = math.sqrt(length_mm * width_mm)
    return math.ceil(side / step_mm - 1e-9) * step_mm if step_mm else side


def bias_spacing_mm(*, width_mm: float) -> float:
    """Return how far apart bias strips are marked along the selvedge.

    Parameters
    ----------
    width_mm : float
        Width of the strip [mm].

    Returns
    -------
    float
        Distance along the selvedge [mm].

    Raises
    ------
    OutOfRangeError
        If the width is not positive.

    Notes
    -----
    w sqrt 2; exact.

    References
    ----------
    ``derivation``: a line at 45 degrees.
    """
    require_positive(width_mm=width_mm)
    return width_mm * math.sqrt(2.0)


def bias_across_mm(*, cloth_width_mm: float) -> float:
    """Return the length of one bias strip from selvedge to selvedge.

    Parameters
    ----------
    cloth_width_mm : float
        Usable width of the cloth [mm].

    Returns
    -------
    float
        Length [mm].

    Raises
    ------
    OutOfRangeError
        If the width is not positive.

    Notes
    -----
    W sqrt 2, of a thin strip; exact along its middle.

    References
    ----------
    ``derivation``: a line at 45 degrees.
    """
    require_positive(cloth_width_mm=cloth_width_mm)
    return cloth_width_mm * math.sqrt(2.0)


def binding_length_mm(*, perimeter_mm: float, count: int = 1, lap_mm: float = 0.0) -> float:
    """Return the length of binding around several equal things.

    Parameters
    ----------
    perimeter_mm : float
        Way around one of them [mm].
    count : int
        How many [-].
    lap_mm : float
        Overlap where the ends of a binding meet [mm].

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
    n (P + lap); joins within the binding not counted.

    References
    ----------
    ``bias-article``: eight mats of 18 by 12 in with 2 in of lap: 496 in.
    """
    require_positive(perimeter_mm=perimeter_mm, count=count)
    require_between(0.0, math.inf, lap_mm=lap_mm)
    return count * (perimeter_mm + lap_mm)


def binding_width_mm(*, finished_mm: float, folds: int = 4, thickness_mm: float = 0.0) -> float:
    """Return the width to cut for a binding.

    Parameters
    ----------
    finished_mm : float
        Width that is seen on one side [mm].
    folds : int
        Finished widths in the cut width: 2 for a single fold, 4 for a double fold, 6 for a
        French binding [-].
    thickness_mm : float
        Thickness of what is bound, which the binding has to go round [mm].

    Returns
    -------
    float
        Width [mm].

    Raises
    ------
    OutOfRangeError
        If a number is impossible.

    Notes
    -----
    n times finished, and the thickness bound once a turn.

    References
    ----------
    ``bias-article``: double fold, finished 0.5 in: 2 in.
    """
    require_positive(finished_mm=finished_mm, folds=folds)
    require_between(0.0, 100.0, thickness_mm=thickness_mm)
    return folds * finished_mm + 2.0 * thickness_mm


def piping_strip_mm(*, seam_allowance_mm: float, cord_diameter_mm: float) -> float:
    """Return the width of the strip that covers a piping cord.

    Parameters
    ----------
    seam_allowance_mm : float
        Allowance left on each side of the stitching [mm].
    cord_diameter_mm : float
        Diameter of the cord [mm].

    Returns
    -------
    float
        Width [mm].

    Raises
    ------
    OutOfRangeError
        If a number is impossible.

    Notes
    -----
    2 a + pi d; the thickness of the strip itself is left out, so it errs low by pi times it.

    References
    ----------
    ``derivation``: once around the cord.
    """
    require_positive(cord_diameter_mm=cord_diameter_mm)
    require_between(0.0, math.inf, seam_allowance_mm=seam_allowance_mm)
    return 2.0 * seam_allowance_mm + math.pi * cord_diameter_mm


def pull_on_girth_mm(*, hip_mm: float, stretch_percent: float = 0.0, ease_mm: float = 0.0) -> float:
    """Return the least girth of an opening that must pass over the widest part of a body.

    Parameters
    ----------
    hip_mm : float
        Girth to pass over: hip, head or heel [mm].
    stretch_percent : float
        Stretch of the opening's cloth [%].
    ease_mm : float
        Room wanted beside the body [mm].

    Returns
    -------
    float
        Girth at rest [mm].

    Raises
    ------
    OutOfRangeError
        If a number is impossible.

    Notes
    -----
    (hip + ease) / (1 + s).

    References
    ----------
    ``derivation``: the opening stretched to its limit.
    """
    require_positive(hip_mm=hip_mm)
    require_between(0.0, 400.0, stretch_percent=stretch_percent)
    require_between(0.0, math.inf, ease_mm=ease_mm)
    return (hip_mm + ease_mm) / (1.0 + stretch_percent / 100.0)


def elastic_length_mm(*, waist_mm: float, less_mm: float = 63.5) -> float:
    """Return the length of elastic for a casing.

    Parameters
    ----------
    waist_mm : float
        Girth where it sits [mm].
    less_mm : float
        How much shorter the elastic is cut [mm].

    Returns
    -------
    float
        Length, lap not counted [mm].

    Raises
    ------
    OutOfRangeError
        If nothing is left.

    Notes
    -----
    Waist less 2 to 3 in; the strength of the elastic is not asked, so try it on.

    References
    ----------
    ``elastic-page``: one home-sewing page, a weak source.
    """
    require_between(0.0, math.inf, less_mm=less_mm)
    require_positive(waist_mm=waist_mm)
    require_positive(elastic_length_mm=waist_mm - less_mm)
    return waist_mm - less_mm


def hood_strip_mm(*, opening_mm: float, depth_mm: float, radius_mm: float) -> float:
    """Return the length of the middle strip of a hood of three pieces.

    Parameters
    ----------
    opening_mm : float
        Height of the face opening, the front edge of the side piece [mm].
    depth_mm : float
        Depth of the side piece, from the face to the back [mm].
    radius_mm : float
        Radius of its rounded upper back corner [mm].

    Returns
    -------
    float
        Length [mm].

    Raises
    ------
    OutOfRangeError
        If the corner is larger than the piece, or a number is impossible.

    Notes
    -----
    (d - c) + pi c / 2 + (h - c); exact.

    References
    ----------
    ``derivation``: two straight parts and a quarter circle.
    """
    require_positive(opening_mm=opening_mm, depth_mm=depth_mm)
    require_between(0.0, min(opening_mm, depth_mm), radius_mm=radius_mm)
    return depth_mm - radius_mm + math.pi / 2.0 * radius_mm + opening_mm - radius_mm


def hood_neck_mm(*, depth_mm: float, width_mm: float = 0.0) -> float:
    """Return the length of the neck edge of a hood of three pieces.

    Parameters
    ----------
    depth_mm : float
        Depth of the side piece [mm].
    width_mm : float
        Width of the middle strip; 0 for a hood of two pieces [mm].

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
    2 d + w; exact.

    References
    ----------
    ``derivation``: two sides and the strip.
    """
    require_positive(depth_mm=depth_mm)
    require_between(0.0, math.inf, width_mm=width_mm)
    return 2.0 * depth_mm + width_mm
