"""The one clock of the lay: how long a search has run, never what day it is."""

from __future__ import annotations

import time


def now_s() -> float:
    """Return seconds that only run forward.

    Returns
    -------
    float
        Seconds since some moment [s].
    """
    return time.monotonic()
