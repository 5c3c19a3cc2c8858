"""Amounts of a buying list in the units that the job is told in."""

from __future__ import annotations

import math

from samite.kernel.unit_table import YARD_M
from samite.sheets.tape import EIGHTHS, tape, tape_unit


def metres_words(length_m: float, units: str, *, down: bool = False) -> str:
    """Return a length as a shop is asked for it.

    Parameters
    ----------
    length_m : float
        Length [m].
    units : str
        ``metric`` for metres, ``imperial`` for yards to the eighth.
    down : bool
        Round down, as what is there must be, instead of up.

    Returns
    -------
    str
        ``2.50 m`` or ``2 3/4 yd``.
    """
    if units != "imperial":
        rounded = math.floor if down else math.ceil
        return f"{rounded(length_m * 100.0 + (1e-6 if down else -1e-6)) / 100.0:.2f} m"
    eighths = length_m / YARD_M * 8.0
    eighths = math.floor(eighths + 1e-6) if down else math.ceil(eighths - 1e-6)
    whole, rest = divmod(max(eighths, 0), 8)
    return (f"{whole}{EIGHTHS[rest]}" if whole or not rest else EIGHTHS[rest].strip()) + " yd"


def thread_words(length_m: float, units: str) -> str:
    """Return a length of thread, whole metres or yards.

    Parameters
    ----------
    length_m : float
        Length [m].
    units : str
        ``metric`` or ``imperial``.

    Returns
    -------
    str
        ``100 m`` or ``109 yd``.
    """
    return f"{length_m / YARD_M:.0f} yd" if units == "imperial" else f"{length_m:.0f} m"


def amount_words(amount: float, unit: str, units: str) -> str:
    """Return how much of a line.

    Parameters
    ----------
    amount : float
        How much [m or count].
    unit : str
        ``m`` or ``each``.
    units : str
        ``metric`` or ``imperial``.

    Returns
    -------
    str
        ``2.50 m``, ``2 3/4 yd`` or ``3 ×``.
    """
    return metres_words(amount, units) if unit == "m" else f"{amount:.0f} ×"


def tape_words(length_mm: float, units: str) -> str:
    """Return a length as a tape shows it.

    Parameters
    ----------
    length_mm : float
        Length [mm].
    units : str
        ``metric`` or ``imperial``.

    Returns
    -------
    str
        ``112 cm`` or ``44 1/8 in``.
    """
    if units != "imperial":
        return f"{length_mm / 10.0:.0f} cm"
    return f"{tape(length_mm, units)} {tape_unit(units)}"
