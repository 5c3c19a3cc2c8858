"""Lengths that are gathered, pleated, rolled into flounces or set as a ruff."""

from __future__ import annotations

import math

from samite.kernel.errors import OutOfRangeError
from samite.kernel.ranges import require_between, require_positive
from samite.pieces.roots import solve_between


def gathered_width_mm(
    *, finished_mm: float, fullness: float, joins: int = 0, seam_allowance_mm: float = 0.0
) -> float:
    """Return the width to cut for an edge that is gathered.

    Parameters
    ----------
    finished_mm : float
        Length that it is gathered to [mm].
    fullness : float
        Length before over length after gathering [-].
    joins : int
        Seams across the strip [-].
    seam_allowance_mm : float
        Allowance at each side of a join [mm].

    Returns
    -------
    float
        Width [mm].

    Raises
    ------
    OutOfRangeError
        If the fullness is below 1, or a number is impossible.

    Notes
    -----
    F times finished, and two allowances for every join; exact.

    References
    ----------
    ``definition``: fullness of a gathered edge.
    """
    require_positive(finished_mm=finished_mm)
    require_between(1.0, 20.0, fullness=fullness)
    require_between(0.0, math.inf, joins=joins, seam_allowance_mm=seam_allowance_mm)
    return finished_mm * fullness + 2.0 * joins * seam_allowance_mm


def tier_widths_mm(*, waist_mm: float, fullness: float, tiers: int) -> tuple[float, ...]:
    """Return the width of every tier of a tiered skirt, from the top.

    Parameters
    ----------
    waist_mm : float
        Girth that the first tier is gathered to [mm].
    fullness : float
        Width of a tier over that of the one above [-].
    tiers : int
        Number of tiers [-].

    Returns
    -------
    tuple of float
        Widths [mm].

    Raises
    ------
    OutOfRangeError
        If the fullness is below 1, or a number is impossible.

    Notes
    -----
    W F^k; exact.

    References
    ----------
    ``definition``: fullness of a gathered edge.
    """
    require_positive(waist_mm=waist_mm)
    require_between(1.0, 20.0, fullness=fullness)
    require_between(1.0, 40.0, tiers=tiers)
    return tuple(waist_mm * fullness**tier for tier in range(1, tiers + 1))


def seam_bulk_mm(*, fullness: float, thickness_mm: float, layers: int = 1) -> float:
    """Return how thick a gathered edge is at the seam.

    Parameters
    ----------
    fullness : float
        Length before over length after gathering [-].
    thickness_mm : float
        Thickness of the cloth [mm].
    layers : int
        Layers gathered together [-].

    Returns
    -------
    float
        Thickness [mm].

    Raises
    ------
    OutOfRangeError
        If a number is impossible.

    Notes
    -----
    F t by conservation of area in the seam's section; pressed cloth is thinner, so it errs high.

    References
    ----------
    ``derivation``: area of the section.
    """
    require_positive(thickness_mm=thickness_mm, layers=layers)
    require_between(1.0, 20.0, fullness=fullness)
    return fullness * thickness_mm * layers


def gather_widths(*, finished_mm: float, fullness: float, width_mm: float) -> int:
    """Return how many widths of cloth a gathered or pleated length takes.

    Parameters
    ----------
    finished_mm : float
        Length that it is gathered to [mm].
    fullness : float
        Length before over length after gathering [-].
    width_mm : float
        Usable width of the cloth [mm].

    Returns
    -------
    int
        Widths, whole.

    Raises
    ------
    OutOfRangeError
        If a number is impossible.

    Notes
    -----
    Rounded up; joins are not counted, see `gathered_width_mm`.

    References
    ----------
    ``drapery-page``: 70 in at fullness 2 from 54 in wide: 3 widths.
    """
    require_positive(finished_mm=finished_mm, width_mm=width_mm)
    require_between(1.0, 20.0, fullness=fullness)
    return math.ceil(finished_mm * fullness / width_mm - 1e-9)


def pleated_width_mm(*, finished_mm: float, pleats: int, depth_mm: float) -> float:
    """Return the width to cut for a pleated length, or for a band folded into pleats.

    Parameters
    ----------
    finished_mm : float
        Width after pleating [mm].
    pleats : int
        Number of pleats; a box pleat counts as two [-].
    depth_mm : float
        Depth of a pleat, from its outer to its inner fold [mm].

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
    W + 2 n d; exact.

    References
    ----------
    ``definition``: a pleat takes twice its depth.
    """
    require_positive(finished_mm=finished_mm)
    require_between(0.0, math.inf, pleats=pleats, depth_mm=depth_mm)
    return finished_mm + 2.0 * pleats * depth_mm


def pleats_cut_mm(*, pleats: int, visible_mm: float, depth_mm: float) -> float:
    """Return the width to cut for a number of pleats of a visible width.

    Parameters
    ----------
    pleats : int
        Number of pleats [-].
    visible_mm : float
        Width of a pleat that is seen [mm].
    depth_mm : float
        Depth of a pleat; equal to the visible width for full depth [mm].

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
    n (v + 2 d); exact.

    References
    ----------
    ``pleat-page``: 18 pleats of 40 mm at full depth: 2160 mm.
    """
    require_positive(pleats=pleats, visible_mm=visible_mm)
    require_between(0.0, math.inf, depth_mm=depth_mm)
    return pleats * (visible_mm + 2.0 * depth_mm)


def flounce_radius_mm(*, width_mm: float, fullness: float) -> float:
    """Return the inner radius of the ring of a circular flounce.

    Parameters
    ----------
    width_mm : float
        Width of the flounce [mm].
    fullness : float
        Outer edge over inner edge [-].

    Returns
    -------
    float
        Radius [mm].

    Raises
    ------
    OutOfRangeError
        If the fullness is not above 1, or a number is impossible.

    Notes
    -----
    w / (F - 1); exact.

    References
    ----------
    ``derivation``: (r + w) / r = F.
    """
    require_positive(width_mm=width_mm, fullness=fullness)
    _require_flare(fullness)
    return width_mm / (fullness - 1.0)


def flounce_ratio(*, inner_diameter_mm: float, width_mm: float) -> float:
    """Return the outer edge of a circular flounce over its inner edge.

    Parameters
    ----------
    inner_diameter_mm : float
        Diameter of the inner circle [mm].
    width_mm : float
        Width of the flounce [mm].

    Returns
    -------
    float
        Ratio [-].

    Raises
    ------
    OutOfRangeError
        If a number is impossible.

    Notes
    -----
    1 + 2 w / d; exact.

    References
    ----------
    ``flounce-page``: 1 in and 1 in: 3; 2 in and 1 in: 2.
    """
    require_positive(inner_diameter_mm=inner_diameter_mm, width_mm=width_mm)
    return 1.0 + 2.0 * width_mm / inner_diameter_mm


def flounce_ring_mm(*, radius_mm: float, seam_allowance_mm: float = 0.0) -> float:
    """Return the length of the stitch line that one ring of a flounce gives.

    Parameters
    ----------
    radius_mm : float
        Inner radius of the ring, at the stitch line [mm].
    seam_allowance_mm : float
        Allowance taken at each side of its slit [mm].

    Returns
    -------
    float
        Length [mm].

    Raises
    ------
    OutOfRangeError
        If the allowance is as large as the radius, or a number is impossible.

    Notes
    -----
    r (2 pi - 2 asin(a / r)); exact, 2 pi r - 2 a to first order.

    References
    ----------
    ``derivation``: a circle less what the slit's seam takes.
    """
    require_positive(radius_mm=radius_mm)
    require_between(0.0, math.inf, seam_allowance_mm=seam_allowance_mm)
    if seam_allowance_mm >= radius_mm:
        raise OutOfRangeError(
            f"an allowance of {seam_allowance_mm:g} mm leaves nothing of a ring of radius"
            f" {radius_mm:g} mm",
            "seam_allowance_mm",
            "give a smaller allowance or less fullness",
        )
    return radius_mm * (math.tau - 2.0 * math.asin(seam_allowance_mm / radius_mm))


def flounce_rings(
    *, seam_length_mm: float, width_mm: float, fullness: float, seam_allowance_mm: float = 0.0
) -> int:
    """Return how many rings a circular flounce takes.

    Parameters
    ----------
    seam_length_mm : float
        Length of the seam that it is set on [mm].
    width_mm : float
        Width of the flounce [mm].
    fullness : float
        Outer edge over inner edge [-].
    seam_allowance_mm : float
        Allowance taken at each side of a ring's slit [mm].

    Returns
    -------
    int
        Rings, whole.

    Raises
    ------
    OutOfRangeError
        If the allowance is too large for the ring, or a number is impossible.

    Notes
    -----
    Seam over the stitch line of one ring, rounded up; the last ring is cut short.

    References
    ----------
    ``derivation``: see `flounce_ring_mm`.
    """
    require_positive(seam_length_mm=seam_length_mm)
    radius = flounce_radius_mm(width_mm=width_mm, fullness=fullness)
    ring = flounce_ring_mm(radius_mm=radius, seam_allowance_mm=seam_allowance_mm)
    return math.ceil(seam_length_mm / ring - 1e-9)


def spiral_length_mm(*, start_radius_mm: float, width_mm: float, turns: float) -> float:
    """Return the length of the inner edge of a flounce cut as a spiral.

    Parameters
    ----------
    start_radius_mm : float
        Radius where it begins [mm].
    width_mm : float
        Width of the flounce, by which the radius grows in a turn [mm].
    turns : float
        Turns from the beginning [-].

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
    Archimedean spiral r = r0 + w phi / 2 pi, its length integral in closed form; exact.

    References
    ----------
    ``derivation``: integral of hypot(r, dr/dphi).
    """
    require_positive(start_radius_mm=start_radius_mm, width_mm=width_mm)
    require_between(0.0, 1000.0, turns=turns)
    pitch = width_mm / math.tau

    def primitive(radius: float) -> float:
        share = radius / pitch
        return pitch / 2.0 * (share * math.hypot(share, 1.0) + math.asinh(share))

    return primitive(start_radius_mm + width_mm * turns) - primitive(start_radius_mm)


def spiral_turns(*, start_radius_mm: float, width_mm: float, length_mm: float) -> float:
    """Return the turns of a spiral flounce whose inner edge has a length.

    Parameters
    ----------
    start_radius_mm : float
        Radius where it begins [mm].
    width_mm : float
        Width of the flounce, by which the radius grows in a turn [mm].
    length_mm : float
        Length wanted [mm].

    Returns
    -------
    float
        Turns [-].

    Raises
    ------
    OutOfRangeError
        If a number is impossible.

    Notes
    -----
    Solved from `spiral_length_mm`.

    References
    ----------
    ``derivation``: inverse of the length integral.
    """
    require_positive(start_radius_mm=start_radius_mm, width_mm=width_mm, length_mm=length_mm)
    most = length_mm / (math.tau * start_radius_mm) + 1e-9

    def surplus(turns: float) -> float:
        made = spiral_length_mm(start_radius_mm=start_radius_mm, width_mm=width_mm, turns=turns)
        return made - length_mm

    return solve_between(surplus, 0.0, min(most, 1000.0), what="number of turns")


def ruff_strip_mm(*, band_mm: float, depth_mm: float, pitch_mm: float) -> float:
    """Return the length of the strip of a ruff set in figures of eight.

    Parameters
    ----------
    band_mm : float
        Length of the band that it is set on [mm].
    depth_mm : float
        Height of the figures above the band, outside to outside [mm].
    pitch_mm : float
        Band taken by one figure of eight, a loop above and a loop below [mm].

    Returns
    -------
    float
        Length [mm].

    Raises
    ------
    OutOfRangeError
        If the figures are lower than half their pitch, or a number is impossible.

    Notes
    -----
    2 (pi p / 4 + h - p / 2) for every pitch: two half circles of diameter p / 2 and two
    straight parts.

    References
    ----------
    ``derivation``: half circles and straight parts.
    """
    require_positive(band_mm=band_mm, depth_mm=depth_mm, pitch_mm=pitch_mm)
    if depth_mm < pitch_mm / 2.0:
        raise OutOfRangeError(
            f"figures {depth_mm:g} mm high cannot have a pitch of {pitch_mm:g} mm",
            "pitch_mm",
            "give a pitch below twice the depth",
        )
    figure = 2.0 * (math.pi * pitch_mm / 4.0 + depth_mm - pitch_mm / 2.0)
    return band_mm / pitch_mm * figure


def _require_flare(fullness: float) -> None:
    if fullness <= 1.0:
        raise OutOfRangeError(
            f"a flounce of fullness {fullness:g} is a straight strip",
            "fullness",
            "give a fullness above 1, or cut a ruffle",
        )
