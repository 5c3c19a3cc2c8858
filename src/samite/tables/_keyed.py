"""The rows of one key of a long table, asked by property and condition."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TypeVar

from samite.kernel.errors import TableError, UnknownNameError
from samite.kernel.quantity import Quantity
from samite.tables.loader import Row, did_you_mean, read_table, rows_by_key

T = TypeVar("T")


class KeyedRows:
    """The rows of one key, asked by property and condition."""

    def __init__(self, table: str, key: str, rows: tuple[Row, ...]) -> None:
        self._where = f"{table}: {key}"
        self._rows = {(row.property, row.condition): row for row in rows}
        self._any = {row.property: row for row in rows}

    def has(self, name: str) -> bool:
        return name in self._any

    def number(self, name: str, condition: str | None = None) -> Quantity:
        return self._row(name, condition).number

    def word(self, name: str) -> str:
        return self._row(name, None).word

    def _row(self, name: str, condition: str | None) -> Row:
        row = self._any.get(name) if condition is None else self._rows.get((name, condition))
        if row is None:
            under = f" at {condition}" if condition else ""
            raise TableError(f"{self._where} lacks {name}{under}", self._where, "Add the row.")
        return row


def keyed_rows(table: str, key: str) -> dict[str, KeyedRows]:
    """Return the rows of a table by key."""
    groups = rows_by_key(read_table(table, key))
    return {name: KeyedRows(table, name, rows) for name, rows in groups.items()}


def known_entry(table: Mapping[str, T], key: str, what: str) -> T:
    """Return an entry, or refuse the key with close names."""
    found = table.get(key)
    if found is None:
        raise UnknownNameError(f"no {what} is called {key!r}", key, did_you_mean(key, table))
    return found
