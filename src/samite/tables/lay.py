"""The tables behind lays and buying: margins, gaps, steps, shrinkage, the chart of widths."""

from __future__ import annotations

from functools import cache

from samite.kernel.quantity import Quantity
from samite.tables._keyed import KeyedRows, keyed_rows, known_entry
from samite.tables.loader import read_table
from samite.tables.row import Row

LAY_TABLES = ("lay_rules.csv", "width_chart.csv")


@cache
def _rules() -> dict[str, KeyedRows]:
    return keyed_rows("lay_rules.csv", "rule")


def lay_rule(rule: str, name: str, condition: str | None = None) -> Quantity:
    """Return a value that lays and buying go by.

    Parameters
    ----------
    rule : str
        What it is about, ``gap``.
    name : str
        The property, ``piece_gap_mm``.
    condition : str or None
        What it holds under, ``frays 3``.

    Returns
    -------
    Quantity
        The value with its spread and evidence.

    Raises
    ------
    UnknownNameError
        If there is no such rule.
    TableError
        If the rule lacks the property.
    """
    return known_entry(_rules(), rule, "rule of lays").number(name, condition)


def repeat_bands() -> tuple[tuple[float, Quantity], ...]:
    """Return from which sum of both repeats on which allowance is taken.

    Returns
    -------
    tuple of (float, Quantity)
        Sum [in] and allowance [%], rising.
    """
    found = [
        (float(row.condition.removeprefix("from ").removesuffix(" in")), row.number)
        for row in read_table("lay_rules.csv", "rule")
        if row.property == "repeat_allowance_percent"
    ]
    return tuple(sorted(found, key=lambda band: band[0]))


def width_chart() -> dict[str, dict[float, float]]:
    """Return the chart of lengths that replace each other.

    Returns
    -------
    dict of str to dict of float to float
        Length [yd] by width [in], a line a key.
    """
    lines: dict[str, dict[float, float]] = {}
    for row in read_table("width_chart.csv", "line"):
        lines.setdefault(row.key, {})[_inches(row)] = row.number.value
    return lines


def _inches(row: Row) -> float:
    return float(row.condition.removesuffix(" in"))
