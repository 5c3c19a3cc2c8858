"""From a lay to what is asked for at the shop: widths, steps, repeats, shrinkage, ends."""

from __future__ import annotations

import itertools
import math

from samite.kernel.ranges import require_between, require_positive
from samite.kernel.unit_table import INCH_MM
from samite.tables.lay import repeat_bands, width_chart

YARD_MM = 36.0 * INCH_MM
EIGHTH_MM = YARD_MM / 8.0
LONGEST_MM = 1e6


def rounded_up_mm(*, length_mm: float, step_mm: float) -> float:
    """Return a length rounded up to what shops cut.

    Parameters
    ----------
    length_mm : float
        Length needed [mm].
    step_mm : float
        What the shop cuts by [mm].

    Returns
    -------
    float
        The next step that is no shorter [mm].

    Raises
    ------
    OutOfRangeError
        If a length is impossible.

    Notes
    -----
    A hundredth of a millimetre over a step is still that step.

    References
    ----------
    ``definition``: rounding up.
    """
    require_between(0.0, LONGEST_MM, length_mm=length_mm)
    require_positive(step_mm=step_mm)
    return math.ceil((length_mm - 0.01) / step_mm) * step_mm if length_mm > 0.0 else 0.0


def converted_length_mm(
    *, length_mm: float, width_mm: float, new_width_mm: float, step_mm: float = EIGHTH_MM
) -> float:
    """Return the length of another width that replaces a length of cloth.

    Parameters
    ----------
    length_mm : float
        Length of the one [mm].
    width_mm : float
        Its width [mm].
    new_width_mm : float
        Width of the other [mm].
    step_mm : float
        What the shop cuts by [mm].

    Returns
    -------
    float
        Length of the other, rounded up [mm].

    Raises
    ------
    OutOfRangeError
        If a width or length is impossible.

    Notes
    -----
    Equal areas, rounded up to the step. Knows nothing of the pieces: errs short where they are wide,
    one-way or matched. A lay in the new width is the better answer.

    References
    ----------
    ``width-chart``: 95 % of its pairs are within a quarter yard of this.
    """
    require_positive(length_mm=length_mm, width_mm=width_mm, new_width_mm=new_width_mm)
    return rounded_up_mm(length_mm=length_mm * width_mm / new_width_mm, step_mm=step_mm)


def width_chart_agreement(*, tolerance_mm: float) -> float:
    """Return how much of the chart of widths equal areas give.

    Parameters
    ----------
    tolerance_mm : float
        How far a length may be off [mm].

    Returns
    -------
    float
        Share of all ordered pairs of widths of a line, 0 to 1 [1].

    Raises
    ------
    OutOfRangeError
        If the tolerance is impossible.

    Notes
    -----
    Compares `converted_length_mm` with every pair of a line of the chart.

    References
    ----------
    ``width-chart``: twelve lines, eight widths.
    """
    require_between(0.0, YARD_MM, tolerance_mm=tolerance_mm)
    near, pairs = 0, 0
    for line in width_chart().values():
        for (width, length), (other, printed) in itertools.permutations(line.items(), 2):
            got = converted_length_mm(
                length_mm=length * YARD_MM, width_mm=width * INCH_MM, new_width_mm=other * INCH_MM
            )
            pairs += 1
            near += abs(got - printed * YARD_MM) <= tolerance_mm + 1e-6
    return near / pairs


def repeat_cut_mm(*, length_mm: float, repeat_along_mm: float) -> float:
    """Return the length to cut so that the next one begins at the same place of the figure.

    Parameters
    ----------
    length_mm : float
        Length needed [mm].
    repeat_along_mm : float
        Repeat along the cloth; 0 for none [mm].

    Returns
    -------
    float
        Whole repeats [mm].

    Raises
    ------
    OutOfRangeError
        If a length is impossible.

    Notes
    -----
    One repeat more is bought for the start of the first.

    References
    ----------
    ``repeat-page``: 96 in at a repeat of 27 in is cut 108 in.
    """
    require_positive(length_mm=length_mm)
    require_between(0.0, LONGEST_MM, repeat_along_mm=repeat_along_mm)
    if repeat_along_mm == 0.0:
        return length_mm
    return math.ceil(length_mm / repeat_along_mm - 1e-9) * repeat_along_mm


def repeat_allowance_percent(*, repeat_along_mm: float, repeat_across_mm: float) -> float:
    """Return how much more cloth a workroom takes for a figure, before any lay is made.

    Parameters
    ----------
    repeat_along_mm : float
        Repeat along the cloth [mm].
    repeat_across_mm : float
        Repeat across it [mm].

    Returns
    -------
    float
        Allowance; 0 below the smallest band [%].

    Raises
    ------
    OutOfRangeError
        If a repeat is impossible.

    Notes
    -----
    By the sum of both repeats. Rough: of upholstery, where pieces are square and many.

    References
    ----------
    ``repeat-allowance-page``: its bands in inches; the highest is used beyond the last.
    """
    require_between(0.0, 5000.0, repeat_along_mm=repeat_along_mm, repeat_across_mm=repeat_across_mm)
    both = (repeat_along_mm + repeat_across_mm) / INCH_MM
    found = [share.value for start, share in repeat_bands() if both >= start - 1e-9]
    return found[-1] if found else 0.0


def with_repeat_allowance_mm(
    *, length_mm: float, repeat_along_mm: float, repeat_across_mm: float
) -> float:
    """Return a plain length with the workroom's allowance for a figure.

    Parameters
    ----------
    length_mm : float
        Length of plain cloth [mm].
    repeat_along_mm : float
        Repeat along the cloth [mm].
    repeat_across_mm : float
        Repeat across it [mm].

    Returns
    -------
    float
        Length [mm].

    Raises
    ------
    OutOfRangeError
        If a length is impossible.

    Notes
    -----
    Before any lay is made; a lay with its matches is the better answer.

    References
    ----------
    ``repeat-allowance-page``: 7 yd at 18 + 13.5 in are 8.75 yd.
    """
    require_positive(length_mm=length_mm)
    share = repeat_allowance_percent(
        repeat_along_mm=repeat_along_mm, repeat_across_mm=repeat_across_mm
    )
    return length_mm * (1.0 + share / 100.0)


def laid_width_mm(*, width_mm: float, shrink_across_percent: float) -> float:
    """Return the width that is left after the cloth was treated before cutting.

    Parameters
    ----------
    width_mm : float
        Width as bought [mm].
    shrink_across_percent : float
        Shrinkage across [%].

    Returns
    -------
    float
        Width as laid [mm].

    Raises
    ------
    OutOfRangeError
        If the width or the shrinkage is impossible.

    Notes
    -----
    Even shrinkage.

    References
    ----------
    ``definition``: shrinkage as a share of the length before.
    """
    require_positive(width_mm=width_mm)
    require_between(-20.0, 50.0, shrink_across_percent=shrink_across_percent)
    return width_mm * (1.0 - shrink_across_percent / 100.0)


def length_needed_mm(
    *,
    length_mm: float,
    shrink_along_percent: float,
    straighten_mm: float,
    flaw_allowance_percent: float,
) -> float:
    """Return the cloth that a lay needs as it comes from the bolt.

    Parameters
    ----------
    length_mm : float
        Length of the lay [mm].
    shrink_along_percent : float
        Shrinkage along before cutting [%].
    straighten_mm : float
        Cloth lost at each end to squaring it [mm].
    flaw_allowance_percent : float
        More for flaws that were not looked for [%].

    Returns
    -------
    float
        Length, not yet rounded to what shops cut [mm].

    Raises
    ------
    OutOfRangeError
        If a number is impossible.

    Notes
    -----
    The lay over (1 - shrinkage), then the flaws, then both ends: length / (1 - s), not
    length (1 + s), which errs short.

    References
    ----------
    ``definition``: shrinkage as a share of the length before.
    """
    require_positive(length_mm=length_mm)
    require_between(-20.0, 50.0, shrink_along_percent=shrink_along_percent)
    require_between(0.0, 1000.0, straighten_mm=straighten_mm)
    require_between(0.0, 100.0, flaw_allowance_percent=flaw_allowance_percent)
    unshrunk = length_mm / (1.0 - shrink_along_percent / 100.0)
    return unshrunk * (1.0 + flaw_allowance_percent / 100.0) + 2.0 * straighten_mm
