"""What learning from swatches takes from a table: how often a record is wrong, what cloths share."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType

from samite.kernel.errors import UnknownNameError
from samite.kernel.quantity import Quantity
from samite.tables.close_names import did_you_mean
from samite.tables.loader import read_table

TABLE = "learning.csv"


@cache
def learning_values() -> Mapping[str, Quantity]:
    """Read the table.

    Returns
    -------
    Mapping of str to Quantity
        Values by thing and property, for example ``"swatch misread_percent"``.
    """
    rows = read_table(TABLE, "thing")
    return MappingProxyType({f"{row.key} {row.property}": row.number for row in rows})


def learning_value(name: str) -> Quantity:
    """Return one value of the table.

    Parameters
    ----------
    name : str
        Thing and property, for example ``"swatch misread_percent"``.

    Returns
    -------
    Quantity
        The value, in the unit that its name ends with.

    Raises
    ------
    UnknownNameError
        If the table has no such row.
    """
    table = learning_values()
    if name not in table:
        raise UnknownNameError(f"{TABLE} has no {name!r}", name, did_you_mean(name, table))
    return table[name]
