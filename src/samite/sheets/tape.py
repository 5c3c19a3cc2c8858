"""Lengths as they are read off a tape measure."""

from __future__ import annotations

from samite.kernel.unit_table import INCH_MM

UNITS = ("metric", "imperial")
EIGHTHS = ("", " 1/8", " 1/4", " 3/8", " 1/2", " 5/8", " 3/4", " 7/8")


def tape(length_mm: float, units: str) -> str:
    """Return a length as a tape shows it, without its unit.

    Parameters
    ----------
    length_mm : float
        Length [mm].
    units : str
        ``metric`` for centimetres to the millimetre, ``imperial`` for inches to the eighth.

    Returns
    -------
    str
        ``12.5`` or ``4 7/8``.
    """
    if units != "imperial":
        shown = f"{length_mm / 10.0:.1f}"
        return "0.0" if shown == "-0.0" else shown
    eighths = round(length_mm / INCH_MM * 8.0)
    sign, eighths = ("-", -eighths) if eighths < 0 else ("", eighths)
    whole, rest = divmod(eighths, 8)
    text = f"{whole}{EIGHTHS[rest]}" if whole or not rest else EIGHTHS[rest].strip()
    return sign + text


def tape_unit(units: str) -> str:
    """Return the unit of `tape`.

    Parameters
    ----------
    units : str
        ``metric`` or ``imperial``.

    Returns
    -------
    str
        ``cm`` or ``in``.
    """
    return "in" if units == "imperial" else "cm"
