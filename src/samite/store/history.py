"""The log of changes: acts that can be undone and done again."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Any

from samite.kernel.errors import StoreError
from samite.store import rows
from samite.store.database import Database
from samite.store.kinds import KINDS, Kind

DONE, UNDONE, DROPPED, FINAL = "done", "undone", "dropped", "final"
"""States of an act; one that was undone is dropped when something new is done."""


@dataclass(frozen=True, slots=True)
class Act:
    """One act: all that was changed together.

    Parameters
    ----------
    number : int
        Its number [1].
    said : str
        What it did, in words.
    said_on : date
        When.
    state : str
        ``done``, ``undone``, ``dropped``, or ``final`` if it cannot be undone.
    """

    number: int
    said: str
    said_on: date
    state: str


def next_number(database: Database) -> int:
    """Return a number that was never given before.

    Parameters
    ----------
    database : Database
        The open file, in a transaction.

    Returns
    -------
    int
        Rising from 1.
    """
    database.run("UPDATE counters SET value = value + 1 WHERE name = 'change'")
    return int(database.run("SELECT value FROM counters WHERE name = 'change'")[0][0])


def begin_act(database: Database, said: str, on: date, state: str = DONE) -> int:
    """Write that an act begins.

    Parameters
    ----------
    database : Database
        The open file, in a transaction.
    said : str
        What it does, in words.
    on : date
        Today.
    state : str
        Its state.

    Returns
    -------
    int
        Its number.
    """
    database.run("UPDATE acts SET state = ? WHERE state = ?", (DROPPED, UNDONE))
    number = next_number(database)
    database.run(
        "INSERT INTO acts (number, said, said_on, state) VALUES (?, ?, ?, ?)",
        (number, said, on.isoformat(), state),
    )
    return number


def write_change(database: Database, act: int, kind: Kind[Any], key: str, after: str | None) -> int:
    """Change a row and log what it was and what it is.

    Parameters
    ----------
    database : Database
        The open file, in a transaction.
    act : int
        The act that it belongs to.
    kind : Kind
        What is changed.
    key : str
        Its key.
    after : str or None
        Its new image; None takes it away.

    Returns
    -------
    int
        Number of the change, the new version of the row.
    """
    before = rows.image(database, kind, key)
    number = next_number(database)
    database.run(
        "INSERT INTO changes (number, act, kind, key, before_image, after_image) "
        "VALUES (?, ?, ?, ?, ?, ?)",
        (number, act, kind.name, key, before, after),
    )
    rows.put(database, kind, key, after, number)
    return number


def forget(database: Database, kind: Kind[Any], key: str) -> None:
    """Take a row out of the log; an act that did nothing else cannot be undone any more.

    Parameters
    ----------
    database : Database
        The open file, in a transaction.
    kind : Kind
        What it is.
    key : str
        Its key.
    """
    sql = "DELETE FROM changes WHERE kind = ? AND key = ? RETURNING act"
    for (act,) in database.run(sql, (kind.name, key)):
        database.run(
            "UPDATE acts SET state = ? WHERE number = ? "
            "AND NOT EXISTS (SELECT 1 FROM changes WHERE act = acts.number)",
            (FINAL, act),
        )


def acts(database: Database, most: int) -> list[Act]:
    """Return the last acts.

    Parameters
    ----------
    database : Database
        The open file.
    most : int
        How many.

    Returns
    -------
    list of Act
        Newest first.
    """
    sql = "SELECT number, said, said_on, state FROM acts ORDER BY number DESC LIMIT ?"
    return [
        Act(number, said, date.fromisoformat(on), state)
        for number, said, on, state in database.run(sql, (most,))
    ]


def undo(database: Database) -> str:
    """Undo the last act that stands.

    Parameters
    ----------
    database : Database
        The open file, in a transaction.

    Returns
    -------
    str
        What the act did; empty if there is none.
    """
    return _turn(database, DONE, UNDONE)


def redo(database: Database) -> str:
    """Do the act again that was undone last.

    Parameters
    ----------
    database : Database
        The open file, in a transaction.

    Returns
    -------
    str
        What the act does; empty if there is none.
    """
    return _turn(database, UNDONE, DONE)


def next_act(database: Database, state: str) -> tuple[int, str] | None:
    """Return the act that undoing or doing again turns to next.

    Parameters
    ----------
    database : Database
        The open file.
    state : str
        `DONE` for the last that stands, `UNDONE` for the first that was undone.

    Returns
    -------
    tuple of (int, str) or None
        Its number and what it did; None if there is none.
    """
    last = "max" if state == DONE else "min"
    sql = f"SELECT number, said FROM acts WHERE number = (SELECT {last}(number) FROM acts WHERE state = ?)"  # noqa: S608
    found = database.run(sql, (state,))
    return (int(found[0][0]), str(found[0][1])) if found else None


def _turn(database: Database, from_state: str, to_state: str) -> str:
    backwards = to_state == UNDONE
    found = next_act(database, from_state)
    if not found:
        return ""
    act, said = found
    changes = database.run(
        "SELECT kind, key, before_image, after_image FROM changes WHERE act = ? ORDER BY number",
        (act,),
    )
    for kind, key, before, after in reversed(changes) if backwards else changes:
        expected, wanted = (after, before) if backwards else (before, after)
        _put_back(database, KINDS[kind], key, expected, wanted)
    database.run("UPDATE acts SET state = ? WHERE number = ?", (to_state, act))
    return said


def _put_back(
    database: Database, kind: Kind[Any], key: str, expected: str | None, wanted: str | None
) -> None:
    if rows.image(database, kind, key) != expected:
        raise StoreError(
            f"the {kind.name} is no longer what the log of changes says",
            f"{kind.name} {key}",
            "nothing was changed; restore a backup: samite store restore FILE",
        )
    rows.put(database, kind, key, wanted, next_number(database))
