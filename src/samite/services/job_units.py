"""Amounts of a buying list in the units that the job is told in."""

from __future__ import annotations

import math
import re

from samite.kernel.unit_table import INCH_MM, YARD_M
from samite.sheets.tape import EIGHTHS, tape, tape_unit

EIGHTH_MM = INCH_MM / 8.0
"""The finest line of a tape in inches [mm]."""


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


_LENGTH = re.compile(
    r"(?P<first>\d+(?:\.\d+)?)(?:(?P<between> (?:and|to|x) )(?P<second>\d+(?:\.\d+)?))? (?P<unit>mm|cm)\b"
)
"""A length in a sentence, or two that share their unit: ``25 mm``, ``765 and 790 mm``."""


def sentence_words(text: str, units: str) -> str:
    """Return a sentence with its lengths as the person's tape shows them.

    Parameters
    ----------
    text : str
        Words with lengths in millimetres or centimetres.
    units : str
        ``metric`` leaves it as it is; ``imperial`` for inches to the eighth.

    Returns
    -------
    str
        The sentence. Less than a sixteenth of an inch stays in millimetres, since no tape shows it.
    """
    return _LENGTH.sub(_inches, text) if units == "imperial" else text


def _inches(found: re.Match[str]) -> str:
    scale = 10.0 if found["unit"] == "cm" else 1.0
    lengths = [scale * float(one) for one in (found["first"], found["second"]) if one]
    if any(0.0 < one < 0.5 * EIGHTH_MM for one in lengths):
        return found[0]
    shown = [tape(one, "imperial") for one in lengths]
    return (found["between"] or "").join(shown) + f" {tape_unit('imperial')}"
