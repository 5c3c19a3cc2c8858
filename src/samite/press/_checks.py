"""Checks of numbers that the closed forms share: each names the argument and how to mend it."""

from __future__ import annotations

import math

from samite.kernel.errors import OutOfRangeError


def check_above_zero(**numbers: float) -> None:
    """Refuse numbers that are not positive and finite.

    Parameters
    ----------
    **numbers : float
        Numbers by the names of the arguments, in any unit.

    Raises
    ------
    OutOfRangeError
        If one is.
    """
    for name, number in numbers.items():
        if not 0.0 < number < math.inf:
            raise OutOfRangeError(f"{number:g} is not above 0", name, "give a positive number")


def check_not_negative(**numbers: float) -> None:
    """Refuse numbers that are negative or not finite.

    Parameters
    ----------
    **numbers : float
        Numbers by the names of the arguments, in any unit.

    Raises
    ------
    OutOfRangeError
        If one is.
    """
    for name, number in numbers.items():
        if not 0.0 <= number < math.inf:
            raise OutOfRangeError(f"{number:g} is below 0", name, "give 0 or more")


def check_share(**numbers: float) -> None:
    """Refuse numbers outside 0 to 1.

    Parameters
    ----------
    **numbers : float
        Numbers by the names of the arguments, in any unit.

    Raises
    ------
    OutOfRangeError
        If one is.
    """
    for name, number in numbers.items():
        if not 0.0 <= number <= 1.0:
            raise OutOfRangeError(f"{number:g} is not a share", name, "give a number from 0 to 1")
