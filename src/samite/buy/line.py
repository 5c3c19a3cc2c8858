"""One line of a buying list: what, how much is needed, what is there, what to buy, what it costs."""

from __future__ import annotations

import math
from dataclasses import dataclass

from samite.kernel.ranges import require_between
from samite.kernel.reasons import Reason

KINDS = ("cloth", "thread", "needle", "fastening", "trim", "notion")
"""Parts of the list, in its order."""

UNITS = ("m", "each")


@dataclass(frozen=True, slots=True)
class BuyLine:
    """One line of a buying list.

    Parameters
    ----------
    kind : str
        One of `KINDS`.
    what : str
        What to ask for at the counter.
    needed : float
        How much the job takes [m or count].
    unit : str
        ``m`` or ``each``.
    on_hand : float
        How much is there already [m or count].
    buy : float
        How much to buy, in what the shop sells [m or count].
    price : float or None
        Price of one unit; None if nobody said [currency].
    reason : Reason
        Why so much.
    alternatives : tuple of str
        What would do as well.
    stock : str
        What of it is kept, in words; empty if nothing is.
    """

    kind: str
    what: str
    needed: float
    unit: str
    on_hand: float
    buy: float
    price: float | None
    reason: Reason
    alternatives: tuple[str, ...] = ()
    stock: str = ""

    @property
    def cost(self) -> float | None:
        """What it costs, before tax; None without a price [currency]."""
        return None if self.price is None else self.buy * self.price


def bought_amount(*, needed: float, on_hand: float, increment: float) -> float:
    """Return how much to buy of what is sold in steps.

    Parameters
    ----------
    needed : float
        How much the job takes [m or count].
    on_hand : float
        How much is there [m or count].
    increment : float
        What the shop sells by [m or count].

    Returns
    -------
    float
        The missing rest, rounded up to whole increments; 0 if there is enough [m or count].

    Raises
    ------
    OutOfRangeError
        If an amount is negative or the increment is none.

    Notes
    -----
    A remnant of cloth counts by its length alone: whether the pieces go into it is for the lay.
    An increment that is exceeded by less than a millionth of it does not count.

    References
    ----------
    ``derivation``: rounding up.
    """
    require_between(0.0, 1e6, needed=needed, on_hand=on_hand)
    require_between(1e-6, 1e6, increment=increment)
    missing = max(needed - on_hand, 0.0)
    return round(math.ceil(missing / increment - 1e-6) * increment, 9)


def spare_count(*, count: float, spares_percent: float) -> int:
    """Return how many to have with spares for a run.

    Parameters
    ----------
    count : float
        How many are sewn on [count].
    spares_percent : float
        Spares wanted [%].

    Returns
    -------
    int
        Rounded up; at least one spare where any is wanted [count].

    Raises
    ------
    OutOfRangeError
        If count or share is impossible.

    References
    ----------
    ``derivation``: a share, rounded up.
    """
    require_between(0.0, 1e6, count=count)
    require_between(0.0, 100.0, spares_percent=spares_percent)
    return math.ceil(count * (1.0 + spares_percent / 100.0) - 1e-9)
