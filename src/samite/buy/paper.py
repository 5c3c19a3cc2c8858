"""Paper for patterns: how much of a roll the pieces take."""

from __future__ import annotations

from collections.abc import Sequence

from samite.kernel.ranges import require_between


def roll_length_mm(*, sizes_mm: Sequence[tuple[float, float]], roll_width_mm: float) -> float:
    """Return the length of a roll of paper that pieces are drawn on.

    Parameters
    ----------
    sizes_mm : sequence of (float, float)
        The two sides of the rectangle round each piece [mm].
    roll_width_mm : float
        Width of the roll [mm].

    Returns
    -------
    float
        Length [mm].

    Raises
    ------
    OutOfRangeError
        If a size or the width is impossible.

    Notes
    -----
    Rectangles side by side in rows, tall ones first; each lies with its longer side across the roll
    where it goes, and paper is taped together where neither side does. Pieces nest closer than
    their rectangles, so it errs long.

    References
    ----------
    ``derivation``: rows of rectangles by falling height.
    """
    require_between(100.0, 3000.0, roll_width_mm=roll_width_mm)
    rows = []
    for size in sizes_mm:
        low, high = sorted(size)
        require_between(0.0, 1e5, sizes_mm=high)
        across, along = (high, low) if high <= roll_width_mm else (low, high)
        strips = max(-(-across // roll_width_mm), 1.0)
        rows += [(along, min(across, roll_width_mm))] * int(strips)
    length = height = used = 0.0
    for along, across in sorted(rows, reverse=True):
        if used + across > roll_width_mm or not height:
            length += height
            height, used = along, 0.0
        used += across
    return length + height
