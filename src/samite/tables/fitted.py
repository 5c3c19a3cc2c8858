"""What cloth gives when a flat piece is made to follow a body: allowed strain by class."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType

from samite.kernel.quantity import Quantity
from samite.tables._keyed import KeyedRows, keyed_rows, known_entry

FITTED_TABLES = ("fabric_strain.csv",)
"""The files that answers of this module rest on, for `table_hash`."""


@cache
def _classes() -> Mapping[str, KeyedRows]:
    return MappingProxyType(keyed_rows("fabric_strain.csv", "cloth_class"))


def strain_value(cloth_class: str, name: str) -> Quantity:
    """Return a value of a class of cloth.

    Parameters
    ----------
    cloth_class : str
        ``stiff``, ``delicate``, ``plain``, ``soft``, ``sheet``, ``knit``, ``skin`` or ``swatch``.
    name : str
        Name of the property, ``"weft_limit_percent"``.

    Returns
    -------
    Quantity
        The value.

    Raises
    ------
    UnknownNameError
        If there is no such class.
    TableError
        If the class lacks the property.
    """
    return known_entry(_classes(), cloth_class, "class of cloth").number(name)
