"""Read the tables in ``samite/data``: one value a row, checked against its bounds and sources."""

from __future__ import annotations

import csv
import hashlib
import io
import math
import tomllib
from collections.abc import Iterable, Mapping
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import Any

from samite.kernel.errors import TableError
from samite.tables.close_names import did_you_mean, suggest
from samite.tables.row import VALUE_COLUMNS, Bound, Row, read_row, wrong

__all__ = [
    "VALUE_COLUMNS",
    "Bound",
    "Row",
    "bounds",
    "data_text",
    "did_you_mean",
    "parse_table",
    "read_list",
    "read_table",
    "read_toml",
    "rows_by_key",
    "suggest",
    "table_hash",
]


def data_text(name: str) -> str:
    """Return the text of a file in the data folder.

    Parameters
    ----------
    name : str
        File name, ``"fibres.csv"``.

    Returns
    -------
    str
        Its text.

    Raises
    ------
    TableError
        If there is no such file.
    """
    try:
        return files("samite").joinpath("data", name).read_text(encoding="utf-8")
    except FileNotFoundError:
        raise TableError(f"there is no table {name}", name, "reinstall samite") from None


@cache
def read_toml(name: str) -> Mapping[str, Any]:
    """Read a TOML file of the data folder.

    Parameters
    ----------
    name : str
        File name, ``"sources.toml"``.

    Returns
    -------
    mapping of str to object
        The document; read once, not to be changed.

    Raises
    ------
    TableError
        If the file is missing or not TOML.
    """
    try:
        return MappingProxyType(tomllib.loads(data_text(name)))
    except tomllib.TOMLDecodeError as error:
        raise TableError(f"{name}: {error}", name, "mend the file") from None


@cache
def bounds() -> Mapping[str, Bound]:
    """Return the bounds of every property, by name.

    Returns
    -------
    mapping of str to Bound
        From ``bounds.toml``.

    Raises
    ------
    TableError
        If an entry lacks its unit, minimum or maximum.
    """
    document = read_toml("bounds.toml")
    return MappingProxyType({name: _bound(name, entry) for name, entry in document.items()})


@cache
def read_table(name: str, key: str) -> tuple[Row, ...]:
    """Read and check a long table: one value a row.

    Parameters
    ----------
    name : str
        File name, ``"fibres.csv"``.
    key : str
        Name of the first column, ``"fibre"``.

    Returns
    -------
    tuple of Row
        In the order of the file; read once.

    Raises
    ------
    TableError
        Names file and line of the first thing that is wrong.
    """
    return parse_table(data_text(name), name, key, bounds(), frozenset(read_toml("sources.toml")))


def parse_table(
    text: str,
    name: str,
    key: str,
    limits: Mapping[str, Bound],
    sources: frozenset[str],
) -> tuple[Row, ...]:
    """Check the text of a long table and turn it into rows.

    Parameters
    ----------
    text : str
        CSV text with a header.
    name : str
        File name for messages.
    key : str
        Name of the first column.
    limits : mapping of str to Bound
        The properties that may appear.
    sources : frozenset of str
        The sources that may be cited.

    Returns
    -------
    tuple of Row
        In the order of the text.

    Raises
    ------
    TableError
        For an unknown column, property, source or grade, a missing or wrong unit, a number that
        is malformed or outside its bounds, a spread without the value, a duplicate.
    """
    rows: list[Row] = []
    seen: dict[tuple[str, str, str], int] = {}
    for line, cells in _records(text, name, (key, *VALUE_COLUMNS)):
        row = read_row(cells, f"{name}:{line}", line, limits, sources)
        place = (row.key, row.property, row.condition)
        if place in seen:
            under = f" at {row.condition}" if row.condition else ""
            raise wrong(
                f"{name}:{line}",
                f"{row.key} {row.property}{under} was already given in line {seen[place]}.",
                "Keep one row or give each its condition.",
            )
        seen[place] = line
        rows.append(row)
    return tuple(rows)


def read_list(name: str, columns: tuple[str, ...]) -> tuple[tuple[int, tuple[str, ...]], ...]:
    """Read a list of words: a CSV with exactly these columns, all text.

    Parameters
    ----------
    name : str
        File name.
    columns : tuple of str
        The header it must have.

    Returns
    -------
    tuple of (int, tuple of str)
        Line number and cells, in the order of `columns`.

    Raises
    ------
    TableError
        If the header differs or a line has too few or too many cells.
    """
    return tuple((line, tuple(cells)) for line, cells in _records(data_text(name), name, columns))


def rows_by_key(rows: Iterable[Row]) -> dict[str, tuple[Row, ...]]:
    """Group rows by key, keys and rows in the order of the file.

    Parameters
    ----------
    rows : iterable of Row
        Rows of one table.

    Returns
    -------
    dict of str to tuple of Row
        The rows of each key.
    """
    groups: dict[str, list[Row]] = {}
    for row in rows:
        groups.setdefault(row.key, []).append(row)
    return {key: tuple(group) for key, group in groups.items()}


@cache
def table_hash(*names: str) -> str:
    """Return a hash of data files, for content keys.

    Parameters
    ----------
    *names : str
        File names.

    Returns
    -------
    str
        16 hexadecimal digits; the same for the same files in the same order.
    """
    digest = hashlib.blake2b(digest_size=8)
    for name in names:
        digest.update(name.encode() + b"\0" + data_text(name).encode() + b"\0")
    return digest.hexdigest()


@cache
def every_table_hash() -> str:
    """Return a hash of all data files, for answers that rest on many of them.

    Returns
    -------
    str
        16 hexadecimal digits.
    """
    folder = files("samite") / "data"
    names = sorted(one.name for one in folder.iterdir() if one.name.endswith((".csv", ".toml")))
    return table_hash(*names)


def _bound(name: str, entry: Mapping[str, Any]) -> Bound:
    says = str(entry.get("says", name))
    if "words" in entry:
        return Bound(name, says, "", -math.inf, math.inf, tuple(entry["words"]))
    missing = [field for field in ("unit", "min", "max") if field not in entry]
    if missing:
        raise TableError(
            f"bounds.toml: {name} lacks {' and '.join(missing)}",
            "bounds.toml",
            "give unit, min and max",
        )
    return Bound(name, says, str(entry["unit"]), float(entry["min"]), float(entry["max"]))


def _records(text: str, name: str, columns: tuple[str, ...]) -> Iterable[tuple[int, list[str]]]:
    reader = csv.reader(io.StringIO(text), strict=True)
    header = next(reader, [])
    if tuple(header) != columns:
        raise wrong(f"{name}:1", _header_problem(header, columns), "Mend the header.")
    for cells in reader:
        if not cells:
            continue
        if len(cells) != len(columns):
            raise wrong(
                f"{name}:{reader.line_num}",
                f"{len(cells)} cells where the header has {len(columns)} columns.",
                "Look for a comma without quotation marks.",
            )
        yield reader.line_num, cells


def _header_problem(header: list[str], columns: tuple[str, ...]) -> str:
    extra = [column for column in header if column not in columns]
    if extra:
        return f"unknown column {extra[0]!r}."
    missing = [column for column in columns if column not in header]
    if missing:
        return f"column {missing[0]!r} is missing."
    return f"the columns must stand in the order {', '.join(columns)}."
