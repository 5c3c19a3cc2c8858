"""The tables of temperatures at which a part is hurt within seconds of pressing."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType

from samite.kernel.quantity import Quantity
from samite.tables.fibres import fibre
from samite.tables.loader import read_table

UNKNOWN = "unknown"
"""Key of the worst plausible material."""

TABLE = "press_limits.csv"


@cache
def press_limits() -> Mapping[str, Quantity]:
    """Read at what temperature each material glazes, sticks, scorches or loosens.

    Returns
    -------
    Mapping of str to Quantity
        Damage temperature of each material [C].
    """
    return _column("press_damage_c")


@cache
def shrink_limits() -> Mapping[str, Quantity]:
    """Read at what temperature each material that is heat-set shrinks again.

    Returns
    -------
    Mapping of str to Quantity
        Temperature of each material that has one [C].
    """
    return _column("press_shrink_c")


def _column(name: str) -> Mapping[str, Quantity]:
    rows = read_table(TABLE, "material")
    return MappingProxyType({row.key: row.number for row in rows if row.property == name})


def press_limit(material: str) -> Quantity:
    """Return the temperature at which a material is hurt within seconds.

    Parameters
    ----------
    material : str
        Key in the fibre table, ``flock-binder`` or ``unknown``.

    Returns
    -------
    Quantity
        Damage temperature [C]; of the nearest fibre of its class where the table has no row.
    """
    table = press_limits()
    if material in table:
        return table[material]
    if material == UNKNOWN:
        return table[UNKNOWN]
    by_group = {"cellulose": "cotton", "protein": "silk", "elastomer": "elastane"}
    return table[by_group.get(fibre(material).group, UNKNOWN)]
