"""Closed outlines of a lay: area, order, crossings and turning."""

from __future__ import annotations

import math
from functools import lru_cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from samite.lay.problem import Outline, Placement, Point

    Array = NDArray[np.float64]

ALIKE_MM = 0.01
"""Corners of two outlines this near each other are alike [mm]."""

SAME_MM = 1e-7
"""Two corners nearer than this are one [mm]."""


FEW_SIDES = 400
"""Outlines with no more sides than this are looked at in one go."""


def signed_area_mm2(outline: Outline) -> float:
    """Return the area inside an outline, negative if its corners run clockwise.

    Parameters
    ----------
    outline : tuple of (float, float)
        Corners [mm].

    Returns
    -------
    float
        Area [mm2].

    Notes
    -----
    Exact for a polygon that does not cross itself; taken about its first corner, so that a place
    far from the origin costs no digits.
    """
    x0, y0 = outline[0]
    following = (*outline[1:], outline[0])
    return 0.5 * math.fsum(
        (ax - x0) * (by - y0) - (bx - x0) * (ay - y0)
        for (ax, ay), (bx, by) in zip(outline, following, strict=True)
    )


def tidy_outline(outline: Outline) -> Outline:
    """Return an outline anticlockwise, without repeated corners and corners on a straight side.

    Parameters
    ----------
    outline : tuple of (float, float)
        Corners, either way round [mm].

    Returns
    -------
    tuple of (float, float)
        Corners [mm].

    Notes
    -----
    A corner is on a straight side if it is off it by less than 1e-9 of the side; the area then
    changes by less than can be cut. Corners nearer to each other than 1e-7 mm are made one first:
    which way it is from one to the other says nothing of a side.
    """
    points = list(outline if signed_area_mm2(outline) >= 0.0 else reversed(outline))
    changed = True
    while changed and len(points) > 3:
        apart = _apart(points)
        kept = [
            here
            for before, here, after in zip(
                apart[-1:] + apart[:-1], apart, apart[1:] + apart[:1], strict=True
            )
            if not _straight(before, here, after)
        ]
        changed = 3 <= len(kept) < len(points)
        points = kept if changed else points
    return tuple(points)


def _apart(points: list[Point]) -> list[Point]:
    """Return corners of which no two that follow each other are one."""
    kept: list[Point] = []
    for point in points:
        if not kept or math.dist(kept[-1], point) > SAME_MM:
            kept.append(point)
    while len(kept) > 1 and math.dist(kept[0], kept[-1]) <= SAME_MM:
        kept.pop()
    return kept


def _straight(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float]) -> bool:
    turn = (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])
    along = (b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1])
    return along > 0.0 and abs(turn) <= 1e-9 * math.dist(a, b) * math.dist(b, c)


@lru_cache(maxsize=256)
def crosses_itself(outline: Outline) -> tuple[int, int] | None:
    """Return two sides of an outline that cross each other.

    Parameters
    ----------
    outline : tuple of (float, float)
        Corners [mm].

    Returns
    -------
    tuple of (int, int) or None
        Numbers of the corners where they begin; None if no two cross. Touching is no crossing.

    Notes
    -----
    Sweeps the sides from left to right, so that ten thousand corners take a fraction of a second.
    """
    import numpy as np

    a = np.array(outline, dtype=float)
    b = np.roll(a, -1, axis=0)
    if len(a) <= FEW_SIDES:
        return _crosses_at_once(a, b)
    left, right = np.minimum(a[:, 0], b[:, 0]), np.maximum(a[:, 0], b[:, 0])
    low, high = np.minimum(a[:, 1], b[:, 1]), np.maximum(a[:, 1], b[:, 1])
    order = np.argsort(left, kind="stable")
    starts = left[order]
    for place, i in enumerate(order):
        until = int(np.searchsorted(starts, right[i], side="right"))
        others = order[place + 1 : until]
        others = others[(low[others] <= high[i]) & (high[others] >= low[i])]
        if not len(others):
            continue
        first, second = _sides(a[i], b[i], a[others]), _sides(a[i], b[i], b[others])
        third = _cross(b[others] - a[others], a[i] - a[others])
        fourth = _cross(b[others] - a[others], b[i] - a[others])
        met = (first * second < 0.0) & (third * fourth < 0.0)
        if met.any():
            other = int(others[int(np.argmax(met))])
            return (min(int(i), other), max(int(i), other))
    return None


def runs_over_itself(outline: Outline) -> bool:
    """Tell whether an outline whose sides do not cross encloses a part twice, or the other way round.

    Parameters
    ----------
    outline : tuple of (float, float)
        Corners [mm].

    Returns
    -------
    bool
        Whether; always False for more than 400 sides.

    Notes
    -----
    Such an outline passes through a corner of its own, or runs round twice: no two of its sides
    cross. The area that its corners give is then not that inside it by the rule of odd crossings,
    integrated in strips between the heights of its corners; exact where its sides do not cross.
    Sides that lie on each other, as of a slit, change nothing.
    """
    import numpy as np

    if len(outline) > FEW_SIDES:
        return False
    a = np.array(outline, dtype=float)
    b = np.roll(a, -1, axis=0)
    levels = np.unique(a[:, 1])
    middles = (levels[1:] + levels[:-1]) / 2.0
    inside = 0.0
    for level, height in zip(middles, np.diff(levels), strict=True):
        on = (a[:, 1] > level) != (b[:, 1] > level)
        share = (level - a[on, 1]) / (b[on, 1] - a[on, 1])
        cuts = np.sort(a[on, 0] + share * (b[on, 0] - a[on, 0]))
        inside += float((cuts[1::2] - cuts[::2]).sum() * height)
    return abs(inside - abs(signed_area_mm2(outline))) > 1e-6 * max(inside, 1.0)


def _crosses_at_once(a: Array, b: Array) -> tuple[int, int] | None:
    """Look at all pairs of few sides in one go."""
    first = _sides(a[:, None], b[:, None], a[None]) * _sides(a[:, None], b[:, None], b[None])
    met = (first < 0.0) & (first.T < 0.0)
    if not met.any():
        return None
    i, j = divmod(int(met.argmax()), len(a))
    return (min(i, j), max(i, j))


def _cross(u: Array, v: Array) -> Array:
    return u[..., 0] * v[..., 1] - u[..., 1] * v[..., 0]


def _sides(a: Array, b: Array, points: Array) -> Array:
    return _cross(b - a, points - a)


def is_own_mirror_image(points: Outline) -> bool:
    """Tell whether an outline is its own mirror image along or across the grain.

    Parameters
    ----------
    points : tuple of (float, float)
        Corners, grain along x [mm].

    Returns
    -------
    bool
        Whether its mirror image, turned by half or not, covers it.

    Notes
    -----
    Corner by corner, to a hundredth of a millimetre; corners that lie on a line are left out.
    """
    ring = tidy_outline(points)
    low_x, low_y = (min(p[k] for p in ring) for k in (0, 1))
    high_x, high_y = (max(p[k] for p in ring) for k in (0, 1))
    flips = (
        tuple((low_x + high_x - x, y) for x, y in reversed(ring)),
        tuple((x, low_y + high_y - y) for x, y in reversed(ring)),
    )
    return any(_same_ring(ring, flip) for flip in flips)


def _same_ring(one: Outline, other: Outline) -> bool:
    first = one[0]
    starts = [k for k, point in enumerate(other) if math.dist(point, first) < ALIKE_MM]
    return any(
        all(math.dist(a, b) < ALIKE_MM for a, b in zip(one, other[k:] + other[:k], strict=True))
        for k in starts
    )


def placed_outline(outline: Outline, placement: Placement) -> Outline:
    """Return an outline where a placement puts it.

    Parameters
    ----------
    outline : tuple of (float, float)
        Corners as drawn [mm].
    placement : Placement
        Where it lies.

    Returns
    -------
    tuple of (float, float)
        Corners on the cloth [mm].

    Notes
    -----
    Mirrored first (y to -y), turned anticlockwise about (0, 0), then moved. Quarter turns are
    exact.
    """
    c, s = cosine_and_sine(placement.angle_deg)
    hand = -1.0 if placement.mirrored else 1.0
    return tuple(
        (placement.x_mm + c * x - s * hand * y, placement.y_mm + s * x + c * hand * y)
        for x, y in outline
    )


def cosine_and_sine(angle_deg: float) -> tuple[float, float]:
    """Return cosine and sine of an angle, exact for quarter turns.

    Parameters
    ----------
    angle_deg : float
        Angle [deg].

    Returns
    -------
    tuple of (float, float)
        Both [-].

    Notes
    -----
    A rectangle turned by 90 degrees stays a rectangle to the last digit.
    """
    quarter = (angle_deg % 360.0) / 90.0
    if quarter in {0.0, 1.0, 2.0, 3.0, 4.0}:
        return ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0), (1.0, 0.0))[int(quarter)]
    angle = math.radians(angle_deg % 360.0)
    return math.cos(angle), math.sin(angle)
