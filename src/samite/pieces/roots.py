"""A root between two brackets, and the complete elliptic integral that shapes need."""

from __future__ import annotations

import math
from collections.abc import Callable

from samite.kernel.errors import InfeasibleError

MOST_STEPS = 200
"""Steps after which a search that has not ended is a defect; halving alone needs about 60."""


def solve_between(
    function: Callable[[float], float], low: float, high: float, *, what: str
) -> float:
    """Return where a continuous function crosses zero between two brackets.

    Parameters
    ----------
    function : callable
        Takes and gives a number.
    low : float
        One bracket [-].
    high : float
        The other, of opposite sign of the function [-].
    what : str
        What is looked for, for the message.

    Returns
    -------
    float
        The place, to about 1e-13 of the brackets' size.

    Raises
    ------
    InfeasibleError
        If the function has one sign at both brackets.

    Notes
    -----
    Inverse quadratic steps where they are safe, halving otherwise (Chandrupatla's rule), so that
    it ends for any continuous function.

    References
    ----------
    ``chandrupatla-1997``: the rule for choosing the step.
    """
    a, b = high, low
    fa, fb = function(a), function(b)
    if fa == 0.0:
        return a
    if fb == 0.0:
        return b
    if (fa > 0.0) == (fb > 0.0):
        raise InfeasibleError(
            f"no {what} between {low:g} and {high:g} answers this", what, "change the measures"
        )
    c, fc, share = a, fa, 0.5
    for _ in range(MOST_STEPS):
        place = a + share * (b - a)
        value = function(place)
        if (value > 0.0) == (fa > 0.0):
            c, fc = a, fa
        else:
            c, b, fc, fb = b, a, fb, fa
        a, fa = place, value
        best, least = (a, fa) if abs(fa) < abs(fb) else (b, fb)
        tolerance = 4e-16 * abs(best) + 1e-13 * abs(high - low)
        room = tolerance / abs(b - a) if b != a else 1.0
        if room > 0.5 or least == 0.0:
            return best
        share = _next_share((a, fa), (b, fb), (c, fc), room)
    raise InfeasibleError(f"the search for {what} does not end", what, "change the measures")


def _next_share(
    a: tuple[float, float], b: tuple[float, float], c: tuple[float, float], room: float
) -> float:
    x = (a[0] - b[0]) / (c[0] - b[0])
    y = (a[1] - b[1]) / (c[1] - b[1])
    if y**2 < x and (1.0 - y) ** 2 < 1.0 - x:
        share = a[1] / (b[1] - a[1]) * c[1] / (b[1] - c[1]) + (c[0] - a[0]) / (b[0] - a[0]) * a[
            1
        ] / (c[1] - a[1]) * b[1] / (c[1] - b[1])
    else:
        share = 0.5
    return min(max(share, room), 1.0 - room)


def complete_elliptic(parameter: float) -> float:
    """Return the complete elliptic integral of the second kind.

    Parameters
    ----------
    parameter : float
        Parameter m, squared modulus, from 0 to 1 [-].

    Returns
    -------
    float
        E(m) [-].

    Notes
    -----
    By the arithmetic-geometric mean; exact to rounding.

    References
    ----------
    ``abramowitz-stegun-1964``: 17.6.
    """
    return complete_elliptics(parameter)[1]


def complete_elliptics(parameter: float) -> tuple[float, float]:
    """Return the complete elliptic integrals of the first and the second kind.

    Parameters
    ----------
    parameter : float
        Parameter m, squared modulus, from 0 to 1 [-].

    Returns
    -------
    tuple of (float, float)
        K(m), infinite at 1, and E(m) [-].

    Notes
    -----
    By the arithmetic-geometric mean; exact to rounding.

    References
    ----------
    ``abramowitz-stegun-1964``: 17.6.
    """
    if parameter >= 1.0:
        return math.inf, 1.0
    a, b, c = 1.0, math.sqrt(1.0 - parameter), math.sqrt(parameter)
    power, total = 0.5, 0.5 * c * c
    while abs(c) > 1e-17:
        a, b, c = (a + b) / 2.0, math.sqrt(a * b), (a - b) / 2.0
        power *= 2.0
        total += power * c * c
        if power > 1e6:
            break
    first = math.pi / (2.0 * a)
    return first, first * (1.0 - total)
