"""How hot a needle gets in a long fast seam."""

from __future__ import annotations

import math

from samite.kernel.ranges import require_between, require_positive

RISE_C_PER_STITCH = 0.06
"""Rise of a steady needle for each stitch a minute, with thread [C min]."""

WARM_UP_S = 10.0
"""Time in which a needle comes to 63 % of its steady rise (guess) [s]."""

WORKROOM_C = 20.0
"""Temperature of a needle at rest [C]."""


def needle_temperature_c(*, stitches_per_min: float, time_s: float = 60.0) -> float:
    """Return the temperature of a needle after some time of running.

    Parameters
    ----------
    stitches_per_min : float
        Speed [1/min].
    time_s : float
        Time of running without a stop [s].

    Returns
    -------
    float
        Temperature [C].

    Raises
    ------
    OutOfRangeError
        If a number is negative or the speed above 6000.

    Notes
    -----
    Linear in speed (published); 0.06 C for each stitch a minute is laid through about 100 C near
    1000 and 200 to 300 C at 3000 to 4700, remembered. Errs low in thick dense cloth.

    References
    ----------
    ``mazari-2014``: linear in speed; the slope from memory.
    """
    require_between(0.0, 6000.0, stitches_per_min=stitches_per_min)
    require_between(0.0, math.inf, time_s=time_s)
    return WORKROOM_C + RISE_C_PER_STITCH * stitches_per_min * (1.0 - math.exp(-time_s / WARM_UP_S))


def speed_for_temperature(*, limit_c: float) -> float:
    """Return the speed at which a needle that runs on reaches a limit.

    Parameters
    ----------
    limit_c : float
        Temperature at which the softest thing in the seam softens [C].

    Returns
    -------
    float
        Speed [1/min].

    Raises
    ------
    OutOfRangeError
        If the limit is not above 20 C.

    Notes
    -----
    The inverse of `needle_temperature_c` in a long seam; bursts of a few seconds bear more.

    References
    ----------
    ``mazari-2014``: linear in speed; the slope from memory.
    """
    require_positive(limit_c=limit_c - WORKROOM_C)
    return (limit_c - WORKROOM_C) / RISE_C_PER_STITCH
