"""The tables of stitches, seams, threads, feet, finishes and all else that sewing draws on."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from samite.kernel.errors import TableError, UnknownNameError
from samite.kernel.evidence import Evidence
from samite.kernel.quantity import Quantity
from samite.tables.loader import Row, did_you_mean, read_table, rows_by_key

SEWING_TABLES: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "stitch": ("stitches.csv", "stitch"),
        "seam": ("seams.csv", "seam"),
        "point": ("needle_points.csv", "point"),
        "needle": ("needle_sizes.csv", "size_nm"),
        "thread": ("threads.csv", "thread"),
        "foot": ("feet.csv", "foot"),
        "feed-aid": ("feed_aids.csv", "feed_aid"),
        "finish": ("edge_finishes.csv", "finish"),
        "fastening": ("fastenings.csv", "fastening"),
        "hem": ("hems.csv", "hem"),
        "stay": ("stays.csv", "stay"),
        "movement": ("movement.csv", "place"),
        "gathering": ("gathering.csv", "cloth_class"),
        "minutes": ("sewing_minutes.csv", "element"),
        "machine": ("machines.csv", "machine"),
        "change": ("change_overs.csv", "change"),
        "contamination": ("contaminations.csv", "contamination"),
        "work-rule": ("work_rules.csv", "rule"),
        "spool": ("spools.csv", "spool"),
    }
)
"""File and first column of every table, by what a row of it describes."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One thing of a sewing table: a stitch type, a seam, a thread.

    Parameters
    ----------
    kind : str
        Which table, a key of `SEWING_TABLES`.
    key : str
        Its name in the table, ``"301"``.
    rows : Mapping of str to Row
        Its values by property.
    """

    kind: str
    key: str
    rows: Mapping[str, Row]

    def has(self, name: str) -> bool:
        """Whether the table gives a property.

        Parameters
        ----------
        name : str
            Name of the property.

        Returns
        -------
        bool
            True if it does.
        """
        return name in self.rows

    def word(self, name: str) -> str:
        """Return a property that is a word.

        Parameters
        ----------
        name : str
            Name of the property.

        Returns
        -------
        str
            The word.

        Raises
        ------
        TableError
            If the table does not give it.
        """
        return self._row(name).word

    def quantity(self, name: str) -> Quantity:
        """Return a property that is a number, with its spread.

        Parameters
        ----------
        name : str
            Name of the property.

        Returns
        -------
        Quantity
            The number.

        Raises
        ------
        TableError
            If the table does not give it.
        """
        return self._row(name).number

    def number(self, name: str) -> float:
        """Return a property that is a number.

        Parameters
        ----------
        name : str
            Name of the property.

        Returns
        -------
        float
            Its middle, in the unit of the table.

        Raises
        ------
        TableError
            If the table does not give it.
        """
        return self._row(name).number.value

    def evidence(self, name: str) -> Evidence:
        """Return the source and grade of a property.

        Parameters
        ----------
        name : str
            Name of the property.

        Returns
        -------
        Evidence
            Of its row.

        Raises
        ------
        TableError
            If the table does not give it.
        """
        return self._row(name).evidence

    def _row(self, name: str) -> Row:
        if name not in self.rows:
            file, _ = SEWING_TABLES[self.kind]
            raise TableError(f"{self.key} has no {name}", file, "add the row with its source")
        return self.rows[name]


@cache
def sewing_entries(kind: str) -> Mapping[str, Entry]:
    """Return everything in one table.

    Parameters
    ----------
    kind : str
        A key of `SEWING_TABLES`.

    Returns
    -------
    Mapping of str to Entry
        By key, in the order of the file.

    Raises
    ------
    UnknownNameError
        If there is no such table.
    """
    if kind not in SEWING_TABLES:
        raise UnknownNameError(
            f"there is no table of {kind!r}", "kind", did_you_mean(kind, SEWING_TABLES)
        )
    file, first = SEWING_TABLES[kind]
    return MappingProxyType(
        {
            key: Entry(kind, key, MappingProxyType({row.property: row for row in rows}))
            for key, rows in rows_by_key(read_table(file, first)).items()
        }
    )


def _told(entry: Entry) -> str:
    """A key, with its name where the key is a number or letters of a standard."""
    coded = entry.kind in ("stitch", "seam") and entry.has("name")
    return f"{entry.key} ({entry.word('name')})" if coded else entry.key


_NUMBERED = re.compile(r"^(?:iso(?: *4915)?|type|stitch)[ :.-]*(?=\d)", re.IGNORECASE)


def sewing_key(kind: str, text: str) -> str:
    """Return the key of a table that a person means.

    Parameters
    ----------
    kind : str
        A key of `SEWING_TABLES`.
    text : str
        A key, ``"ISO 301"``, a name or part of one that only one row has: ``"French"``.

    Returns
    -------
    str
        The key; the text itself if it means none or several.
    """
    entries = sewing_entries(kind)
    word = _NUMBERED.sub("", " ".join(text.split()))
    if word in entries:
        return word
    plain = word.casefold().replace("-", " ")
    by_key = [key for key in entries if key.casefold().replace("-", " ") == plain]
    names = {
        key: entry.word("name").casefold().replace("-", " ")
        for key, entry in entries.items()
        if entry.has("name")
    }
    exact = [
        key for key, name in names.items() if name in (plain, f"{plain} seam", f"{plain} stitch")
    ]
    part = [key for key, name in names.items() if plain and plain in name]
    for found in (by_key, exact, part):
        if len(found) == 1:
            return found[0]
    return text


def sewing_entry(kind: str, key: str) -> Entry:
    """Return one thing of a table.

    Parameters
    ----------
    kind : str
        A key of `SEWING_TABLES`.
    key : str
        Its name in the table.

    Returns
    -------
    Entry
        Its values.

    Raises
    ------
    UnknownNameError
        If the table does not know it; the hint names what is near.
    """
    found = sewing_entries(kind).get(key)
    if found is None:
        known = sewing_entries(kind)
        raise UnknownNameError(
            f"{key!r} is not in the table of {kind}",
            kind,
            f"{did_you_mean(key, known)}; known: {', '.join(map(_told, known.values()))}",
        )
    return found
