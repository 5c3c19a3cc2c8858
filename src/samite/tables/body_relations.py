"""What joins measures of a body: numbers of the relations, all of them guesses."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType

from samite.kernel.quantity import Quantity
from samite.tables._keyed import KeyedRows, keyed_rows, known_entry


@cache
def _relations() -> Mapping[str, KeyedRows]:
    return MappingProxyType(keyed_rows("body_relations.csv", "relation"))


def relation_value(relation: str, name: str) -> Quantity:
    """Return a number of a relation between measures.

    Parameters
    ----------
    relation : str
        ``crotch_loop``, ``leg_level`` or ``hip_level``.
    name : str
        Name of the property, ``"relation_spread_cm"``.

    Returns
    -------
    Quantity
        The value.

    Raises
    ------
    UnknownNameError
        If there is no such relation.
    TableError
        If it lacks the property.
    """
    return known_entry(_relations(), relation, "relation of measures").number(name)
