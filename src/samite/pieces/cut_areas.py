"""Cut areas of the simplest shapes, by the same cut line as every piece."""

from __future__ import annotations

import math

from samite.kernel.ranges import require_between, require_positive
from samite.pieces.allowance import WIDEST_MM, cut_line
from samite.pieces.outline import polygon


def rectangle_cut_area_mm2(
    *,
    width_mm: float,
    height_mm: float,
    seam_allowance_mm: float = 15.0,
    hem_allowance_mm: float = 20.0,
) -> float:
    """Return the area to cut for a rectangle with a hem.

    Parameters
    ----------
    width_mm : float
        Finished width [mm].
    height_mm : float
        Finished height [mm].
    seam_allowance_mm : float
        Allowance at both sides and at the top [mm].
    hem_allowance_mm : float
        Allowance at the lower edge [mm].

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
    Of the cut line with mitred corners; exact.

    References
    ----------
    ``derivation``: parallel lines.
    """
    require_positive(width_mm=width_mm, height_mm=height_mm)
    require_between(0.0, WIDEST_MM, seam_allowance_mm=seam_allowance_mm)
    require_between(0.0, WIDEST_MM, hem_allowance_mm=hem_allowance_mm)
    corners = ((0.0, 0.0), (width_mm, 0.0), (width_mm, height_mm), (0.0, height_mm))
    names = (("bottom", "hem"), ("right", "seam"), ("top", "seam"), ("left", "seam"))
    piece = polygon("rectangle", corners, names)
    return cut_line(piece, {"seam": seam_allowance_mm, "hem": hem_allowance_mm}).area_mm2


def polygon_cut_area_mm2(*, side_mm: float, sides: int, seam_allowance_mm: float = 15.0) -> float:
    """Return the area to cut for a polygon of equal sides with mitred corners.

    Parameters
    ----------
    side_mm : float
        Length of a side [mm].
    sides : int
        Number of sides [-].
    seam_allowance_mm : float
        Allowance all around [mm].

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
    Of the cut line; exact.

    References
    ----------
    ``derivation``: the inner radius grows by the allowance.
    """
    require_positive(side_mm=side_mm)
    require_between(3, 200, sides=sides)
    require_between(0.0, WIDEST_MM, seam_allowance_mm=seam_allowance_mm)
    radius = side_mm / (2.0 * math.sin(math.pi / sides))
    corners = tuple(
        (radius * math.cos(math.tau * k / sides), radius * math.sin(math.tau * k / sides))
        for k in range(sides)
    )
    piece = polygon("polygon", corners, tuple((f"side {k}", "seam") for k in range(sides)))
    return cut_line(piece, {"seam": seam_allowance_mm}).area_mm2
