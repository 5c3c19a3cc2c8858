"""Refusals of impossible numbers, in one wording."""

from __future__ import annotations

import math

from samite.kernel.errors import OutOfRangeError


def require_positive(**numbers: float) -> None:
    """Refuse numbers that are not finite or not above zero.

    Parameters
    ----------
    **numbers : float
        Numbers by the name of their parameter.

    Raises
    ------
    OutOfRangeError
        Naming the first that fails.
    """
    for name, number in numbers.items():
        if not (math.isfinite(number) and number > 0.0):
            raise OutOfRangeError(
                f"{name} = {number:g} is impossible", name, "give a number above zero"
            )


def require_between(low: float, high: float, **numbers: float) -> None:
    """Refuse numbers outside a closed range.

    Parameters
    ----------
    low : float
        Lowest possible number.
    high : float
        Highest possible number; infinity if there is none.
    **numbers : float
        Numbers by the name of their parameter.

    Raises
    ------
    OutOfRangeError
        Naming the first that fails.
    """
    for name, number in numbers.items():
        if not (math.isfinite(number) and low <= number <= high):
            wanted = f"of {low:g} or more" if math.isinf(high) else f"from {low:g} to {high:g}"
            raise OutOfRangeError(
                f"{name} = {number:g} is impossible", name, f"give a number {wanted}"
            )
