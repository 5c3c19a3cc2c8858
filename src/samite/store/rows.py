"""Rows of the tables: read, written, and their images for the log of changes."""

from __future__ import annotations

import json
from datetime import date
from typing import Any, TypeVar

from samite.kernel.errors import InputError, StoreError
from samite.kernel.keys import canonical_json
from samite.store.codec import from_plain
from samite.store.database import Database
from samite.store.kinds import SWATCH, Kept, Kind

T = TypeVar("T")


def fetch(database: Database, kind: Kind[T], key: str) -> Kept[T] | None:
    """Return what is kept under a key.

    Parameters
    ----------
    database : Database
        The open file.
    kind : Kind
        What it is.
    key : str
        Its key.

    Returns
    -------
    Kept or None
        None if there is nothing.
    """
    found = select(database, kind, "key = ?", (key,))
    return found[0] if found else None


def select(
    database: Database,
    kind: Kind[T],
    condition: str,
    values: tuple[object, ...] = (),
    tail: str = "ORDER BY version",
) -> list[Kept[T]]:
    """Return what a condition picks.

    Parameters
    ----------
    database : Database
        The open file.
    kind : Kind
        What to look among.
    condition : str
        SQL after ``WHERE``, ``?`` for a value.
    values : tuple of object
        The values.
    tail : str
        SQL after the condition.

    Returns
    -------
    list of Kept
        In the order of `tail`, else of their last change.
    """
    sql = f"SELECT key, version, binned_on, body FROM {kind.table} WHERE {condition} {tail}"  # noqa: S608
    return [_kept(kind, *row) for row in database.run(sql, values)]


def _kept(kind: Kind[T], key: str, version: int, binned_on: str | None, body: str) -> Kept[T]:
    try:
        value = from_plain(kind.value_type, json.loads(body))
        day = date.fromisoformat(binned_on) if binned_on else None
    except (InputError, ValueError) as error:
        raise StoreError(
            f"a {kind.name} in the store cannot be read: {error}",
            f"{kind.name} {key}",
            "restore a backup: samite store restore FILE",
        ) from None
    return Kept(key, version, value, day)


def image(database: Database, kind: Kind[Any], key: str) -> str | None:
    """Return the image of a row: all that undoing needs.

    Parameters
    ----------
    database : Database
        The open file.
    kind : Kind
        What it is.
    key : str
        Its key.

    Returns
    -------
    str or None
        Canonical JSON; None if there is no row.
    """
    sql = f"SELECT binned_on, body FROM {kind.table} WHERE key = ?"  # noqa: S608
    found = database.run(sql, (key,))
    return make_image(found[0][1], found[0][0]) if found else None


def make_image(body: str, binned_on: str | None) -> str:
    """Return the image of a row that is about to be.

    Parameters
    ----------
    body : str
        Canonical JSON of the value.
    binned_on : str or None
        Day on which it went into the bin.

    Returns
    -------
    str
        Canonical JSON.
    """
    return canonical_json({"binned_on": binned_on, "body": json.loads(body)})


def put(database: Database, kind: Kind[Any], key: str, after: str | None, version: int) -> None:
    """Make a row what an image says.

    Parameters
    ----------
    database : Database
        The open file, in a transaction.
    kind : Kind
        What it is.
    key : str
        Its key.
    after : str or None
        The image; None takes the row away.
    version : int
        Number of the change [1].
    """
    if kind is SWATCH:
        database.run("DELETE FROM swatch_photos WHERE swatch_key = ?", (key,))
    if after is None:
        database.run(f"DELETE FROM {kind.table} WHERE key = ?", (key,))  # noqa: S608
        return
    told = json.loads(after)
    value = from_plain(kind.value_type, told["body"], kind.name)
    columns = {
        "key": key,
        "version": version,
        "binned_on": told["binned_on"],
        "body": canonical_json(told["body"]),
        **kind.columns(value),
    }
    names = ", ".join(columns)
    marks = ", ".join("?" for _ in columns)
    renewed = ", ".join(f"{name} = excluded.{name}" for name in columns if name != "key")
    database.run(
        f"INSERT INTO {kind.table} ({names}) VALUES ({marks}) "  # noqa: S608
        f"ON CONFLICT (key) DO UPDATE SET {renewed}",
        tuple(columns.values()),
    )
    if kind is SWATCH:
        for photo in dict.fromkeys(value.photos):
            database.run(
                "INSERT INTO swatch_photos (swatch_key, photo_key) VALUES (?, ?)", (key, photo)
            )
