"""Thread by the spool: which spools hold the metres of a colour with the least left over."""

from __future__ import annotations

import math
from dataclasses import dataclass

from samite.kernel.ranges import require_between
from samite.tables.sewing import sewing_entries

LARGE_FROM_M = 400.0
"""From this length on the larger spools and cones are thought of [m] (guess)."""


@dataclass(frozen=True, slots=True)
class Spools:
    """Spools of one thread.

    Parameters
    ----------
    count : int
        How many [count].
    thread_m : float
        Thread on each [m].
    name : str
        Which spool.
    """

    count: int
    thread_m: float
    name: str


def choose_spools(*, thread_m: float, cones: int = 1) -> Spools:
    """Choose the spools that hold a length of thread.

    Parameters
    ----------
    thread_m : float
        Thread that the job takes, waste counted [m].
    cones : int
        Threads that run at the same time, so that each needs a spool of its own [count].

    Returns
    -------
    Spools
        The kind with the least left over among those that need few pieces.

    Raises
    ------
    OutOfRangeError
        If length or number is impossible.

    Notes
    -----
    A spool more weighs as much as 50 m left over, a guess. A colour is bought from one dye lot,
    so a spool is never split over two kinds.

    References
    ----------
    ``common-practice``: thread on usual spools, see the table of spools.
    """
    require_between(0.0, 1e6, thread_m=thread_m)
    require_between(1, 12, cones=cones)
    options = []
    for entry in sewing_entries("spool").values():
        held = entry.number("thread_m")
        each = max(thread_m / cones, 1e-9)
        if held > 600.0 and thread_m < LARGE_FROM_M:
            continue
        count = cones * math.ceil(each / held)
        options.append((count * held - thread_m + 50.0 * count, held, count, entry.key))
    _, held, count, key = min(options)
    return Spools(count, held, key)
