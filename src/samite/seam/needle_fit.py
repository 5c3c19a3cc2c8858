"""Needle against yarn and thread against eye."""

from __future__ import annotations

from samite.kernel.ranges import require_between, require_positive
from samite.seam.needle_size import (
    EYE_TO_BLADE,
    LARGE_EYE_FACTOR,
    blade_diameter_mm,
)

PERFORATION_LIMIT = 0.45
"""Share of a stitch line in holes above which a straight line tears (guess) [-]."""


def eye_width_mm(*, size_nm: float, large_eye: bool = False) -> float:
    """Return the width of a needle's eye.

    Parameters
    ----------
    size_nm : float
        Metric size [needle Nm].
    large_eye : bool
        True for a needle with the eye of one two sizes larger.

    Returns
    -------
    float
        Width [mm].

    Raises
    ------
    OutOfRangeError
        If the size is not positive.

    Notes
    -----
    0.40 of the blade; 1.25 times that in a large eye (guess).

    References
    ----------
    ``common-practice``: width of the eye.
    """
    width = EYE_TO_BLADE * blade_diameter_mm(size_nm=size_nm)
    return width * LARGE_EYE_FACTOR if large_eye else width


def thread_in_eye_share(
    *, thread_diameter_mm: float, size_nm: float, large_eye: bool = False
) -> float:
    """Return how much of a needle's eye a thread fills.

    Parameters
    ----------
    thread_diameter_mm : float
        Diameter of the thread [mm].
    size_nm : float
        Metric size [needle Nm].
    large_eye : bool
        True for a needle with the eye of one two sizes larger.

    Returns
    -------
    float
        Thread over eye; 0.71 at most by the makers' rule [-].

    Raises
    ------
    OutOfRangeError
        If a number is not positive.

    References
    ----------
    ``needle-trade-rule``: eye 40 % larger than the thread.
    """
    require_positive(thread_diameter_mm=thread_diameter_mm)
    return thread_diameter_mm / eye_width_mm(size_nm=size_nm, large_eye=large_eye)


def yarn_diameter_mm(*, ground_thickness_mm: float) -> float:
    """Return about how thick the yarns of a plain ground are.

    Parameters
    ----------
    ground_thickness_mm : float
        Thickness of the cloth without its pile [mm].

    Returns
    -------
    float
        Diameter across the cloth's plane [mm].

    Raises
    ------
    OutOfRangeError
        If the thickness is not positive.

    Notes
    -----
    Half the thickness: two yarns lie on each other where they cross. Errs high where the crowns
    stand apart, low where the yarns are flat.

    References
    ----------
    ``derivation``: a cloth two yarns thick.
    """
    require_positive(ground_thickness_mm=ground_thickness_mm)
    return ground_thickness_mm / 2.0


def yarn_spacing_mm(*, yarn_diameter_mm: float, cover: float) -> float:
    """Return the distance from yarn to yarn.

    Parameters
    ----------
    yarn_diameter_mm : float
        Diameter of the yarns [mm].
    cover : float
        Share of a row that the yarns take up [-].

    Returns
    -------
    float
        Centre to centre [mm].

    Raises
    ------
    OutOfRangeError
        If a number is not positive or the cover above 1.

    References
    ----------
    ``definition``: cover is diameter over spacing.
    """
    require_positive(yarn_diameter_mm=yarn_diameter_mm, cover=cover)
    require_between(0.0, 1.0, cover=cover)
    return yarn_diameter_mm / cover


def yarns_under_needle(*, size_nm: float, yarn_spacing_mm: float) -> float:
    """Return how many yarns a needle has to push aside or cut.

    Parameters
    ----------
    size_nm : float
        Metric size [needle Nm].
    yarn_spacing_mm : float
        Distance from yarn to yarn [mm].

    Returns
    -------
    float
        Blade over spacing; below 1 it can pass between two yarns [-].

    Raises
    ------
    OutOfRangeError
        If a number is not positive.

    References
    ----------
    ``definition``: blade diameter over yarn spacing.
    """
    require_positive(yarn_spacing_mm=yarn_spacing_mm)
    return blade_diameter_mm(size_nm=size_nm) / yarn_spacing_mm


def shortest_stitch_mm(*, size_nm: float, perforation_limit: float = PERFORATION_LIMIT) -> float:
    """Return the stitch length under which a line of holes tears like a stamp.

    Parameters
    ----------
    size_nm : float
        Metric size [needle Nm].
    perforation_limit : float
        Highest share of the line that may be holes [-].

    Returns
    -------
    float
        Stitch length [mm].

    Raises
    ------
    OutOfRangeError
        If a number is not positive, or the limit above 1.

    Notes
    -----
    Nm 60 allows 1.33 mm, the 20 stitches to an inch that sheers are sewn with; Nm 90 allows 2 mm.

    References
    ----------
    ``guess``: the limit of 0.45.
    """
    require_positive(perforation_limit=perforation_limit)
    require_between(0.0, 1.0, perforation_limit=perforation_limit)
    return blade_diameter_mm(size_nm=size_nm) / perforation_limit
