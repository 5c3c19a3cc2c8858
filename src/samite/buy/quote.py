"""Money of a job: the sum, its tax, what is left of the budget, and a quotation for a customer."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from samite.buy.line import BuyLine
from samite.kernel.ranges import require_between


@dataclass(frozen=True, slots=True)
class Sum:
    """What a buying list costs.

    Parameters
    ----------
    net : float
        Of the lines with a price [currency].
    tax : float
        Tax on top [currency].
    unpriced : tuple of str
        What has no price yet, so that the sum is too low by it.
    left : float or None
        What is left of the budget; negative if it is not enough; None without one [currency].
    """

    net: float
    tax: float
    unpriced: tuple[str, ...]
    left: float | None

    @property
    def gross(self) -> float:
        """With tax [currency]."""
        return self.net + self.tax


@dataclass(frozen=True, slots=True)
class Quotation:
    """What a customer is asked for.

    Parameters
    ----------
    materials : float
        Cloth and notions, with tax [currency].
    work : float
        Hours at the rate [currency].
    hours : tuple of (float, float)
        Least and most hours that the work may take [h].
    work_range : tuple of (float, float)
        What those hours cost [currency].
    deposit : float
        What is paid in advance [currency].
    """

    materials: float
    work: float
    hours: tuple[float, float]
    work_range: tuple[float, float]
    deposit: float

    @property
    def total(self) -> float:
        """Materials and work [currency]."""
        return self.materials + self.work


def add_up(
    lines: Sequence[BuyLine], *, tax_percent: float = 0.0, budget: float | None = None
) -> Sum:
    """Add up a buying list.

    Parameters
    ----------
    lines : sequence of BuyLine
        The list.
    tax_percent : float
        Tax that comes on top of the prices; 0 if they hold it [%].
    budget : float or None
        What may be spent [currency].

    Returns
    -------
    Sum
        Sum, tax and what is left.

    Raises
    ------
    OutOfRangeError
        If the tax is impossible.

    References
    ----------
    ``derivation``: a sum.
    """
    require_between(0.0, 100.0, tax_percent=tax_percent)
    costs = [(line, line.cost) for line in lines if line.buy > 0.0]
    net = round(sum(cost for _, cost in costs if cost is not None), 2)
    tax = round(net * tax_percent / 100.0, 2)
    unpriced = tuple(line.what for line, cost in costs if cost is None)
    return Sum(net, tax, unpriced, None if budget is None else round(budget - net - tax, 2))


def quote(
    spent: Sum,
    *,
    minutes: tuple[float, float, float],
    hourly_rate: float,
    deposit_percent: float = 0.0,
) -> Quotation:
    """Return what a customer is asked for.

    Parameters
    ----------
    spent : Sum
        Materials.
    minutes : tuple of (float, float, float)
        Minutes of work: likely, least and most [min].
    hourly_rate : float
        What an hour costs [currency].
    deposit_percent : float
        Share that is paid in advance [%].

    Returns
    -------
    Quotation
        Materials, work at the likely minutes, its range, and the deposit.

    Raises
    ------
    OutOfRangeError
        If a rate, share or time is impossible.

    Notes
    -----
    The deposit is a share of the whole and never less than the materials with their tax, which
    are paid before the work begins (common practice, no source).

    References
    ----------
    ``common-practice``: materials are paid in advance.
    """
    require_between(0.0, 1e6, hourly_rate=hourly_rate)
    require_between(0.0, 100.0, deposit_percent=deposit_percent)
    for value in minutes:
        require_between(0.0, 1e7, minutes=value)
    likely, least, most = (value / 60.0 for value in minutes)
    work = round(likely * hourly_rate, 2)
    whole = spent.gross + work
    deposit = min(max(round(whole * deposit_percent / 100.0, 2), spent.gross), whole)
    return Quotation(
        spent.gross,
        work,
        (least, most),
        (round(least * hourly_rate, 2), round(most * hourly_rate, 2)),
        deposit,
    )
