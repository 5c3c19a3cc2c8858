"""The table of how far the bias of cloths gives way when they hang."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType

from samite.kernel.errors import UnknownNameError
from samite.kernel.quantity import Quantity
from samite.tables.close_names import did_you_mean
from samite.tables.loader import read_table

TABLE = "bias_hang.csv"

ALL = "any"
"""Key of what holds for all cloths."""


@cache
def hang_rows() -> Mapping[str, Mapping[str, Quantity]]:
    """Read the table.

    Returns
    -------
    Mapping of str to Mapping of str to Quantity
        Class of cloth, then property.
    """
    found: dict[str, dict[str, Quantity]] = {}
    for row in read_table(TABLE, "cloth"):
        found.setdefault(row.key, {})[row.property] = row.number
    return MappingProxyType({key: MappingProxyType(value) for key, value in found.items()})


def hang_classes() -> tuple[str, ...]:
    """Return the classes of cloth, firmest first.

    Returns
    -------
    tuple of str
        Their names.
    """
    return tuple(key for key in hang_rows() if key != ALL)


def hang_of(cloth: str) -> Mapping[str, Quantity]:
    """Return how a class of cloth hangs.

    Parameters
    ----------
    cloth : str
        One of `hang_classes`.

    Returns
    -------
    Mapping of str to Quantity
        ``bias_extension_percent``, ``mass_per_area_gsm`` and ``hang_creep_factor``.

    Raises
    ------
    UnknownNameError
        If there is no such class.
    """
    if cloth not in hang_classes():
        raise UnknownNameError(
            f"{cloth!r} is no class of cloth", "hang", did_you_mean(cloth, hang_classes())
        )
    return MappingProxyType({**hang_rows()[ALL], **hang_rows()[cloth]})
