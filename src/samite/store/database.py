"""The one place that knows SQLite: opening, transactions, and errors in clear words.

Everything above speaks the SQL that SQLite and PostgreSQL share, with ``?`` for a value, through
`Database.run` and `Database.transaction`.
"""

from __future__ import annotations

import sqlite3
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any, Self

from samite.kernel.errors import DamagedStoreError, StoreError

PATIENCE_S = 5.0
"""How long a locked file is waited for [s]."""

RETRY_S = 0.01
"""Pause between two attempts where SQLite does not wait by itself [s]."""

SETTINGS = (
    "PRAGMA foreign_keys = ON",
    "PRAGMA synchronous = FULL",
    "PRAGMA trusted_schema = OFF",
    "PRAGMA secure_delete = ON",
)
"""Set on every connection; a change is on the disk before it is acknowledged, and what is deleted
is overwritten."""


class Database:
    """An open SQLite file.

    Parameters
    ----------
    path : Path or None
        The file; None for one in memory that is empty and forgotten.
    write : bool
        Whether it will be written to; the file and its folder are then made.
    patience_s : float
        How long a locked file is waited for [s].

    Raises
    ------
    StoreError
        If it cannot be opened.
    """

    def __init__(
        self, path: Path | None, *, write: bool = True, patience_s: float = PATIENCE_S
    ) -> None:
        self.path = path
        self._patience_s = patience_s
        with self._clear_words():
            if path and write:
                _make_folder(path)
            self._connection = self._open(write)

    def _open(self, write: bool) -> sqlite3.Connection:
        if self.path is None:
            return self._connect(":memory:", uri=False)
        try:
            connection = self._connect(str(self.path), uri=False)
        except sqlite3.OperationalError:
            if write or self._left_over():
                raise
            # A folder that cannot be written to: nobody changes the file while it is read.
            return self._connect(f"{self.path.absolute().as_uri()}?immutable=1", uri=True)
        return connection

    def _left_over(self) -> bool:
        """Whether changes wait beside the file that only a writer can bring in."""
        beside = Path(f"{self.path}-wal")
        return not (self.path and self.path.is_file()) or (
            beside.exists() and beside.stat().st_size > 0
        )

    def _connect(self, name: str, *, uri: bool) -> sqlite3.Connection:
        connection = sqlite3.connect(name, timeout=self._patience_s, isolation_level=None, uri=uri)
        try:
            for setting in SETTINGS:
                connection.execute(setting)
            if not uri:
                self._write_ahead(connection)
            connection.execute("SELECT count(*) FROM sqlite_master").fetchone()
        except BaseException:
            connection.close()
            raise
        return connection

    def _write_ahead(self, connection: sqlite3.Connection) -> None:
        """Turn the write-ahead log on, for which SQLite itself does not wait."""
        ends = time.monotonic() + self._patience_s
        while True:
            try:
                connection.execute("PRAGMA journal_mode = WAL")
                return
            except sqlite3.OperationalError as error:
                if _primary(error) != sqlite3.SQLITE_BUSY or time.monotonic() > ends:
                    raise
                time.sleep(RETRY_S)

    def run(self, sql: str, values: Sequence[object] = ()) -> list[tuple[Any, ...]]:
        """Run one statement.

        Parameters
        ----------
        sql : str
            The statement, ``?`` for a value.
        values : sequence of object
            The values.

        Returns
        -------
        list of tuple
            Its rows.
        """
        with self._clear_words():
            return self._connection.execute(sql, values).fetchall()

    @contextmanager
    def transaction(self) -> Iterator[None]:
        """Do all of it or nothing; no other writer comes in between.

        Yields
        ------
        None
            Inside the transaction.
        """
        self.run("BEGIN IMMEDIATE")
        try:
            yield
            self.run("COMMIT")
        except BaseException:
            if self._connection.in_transaction:
                with suppress(sqlite3.Error):
                    self._connection.execute("ROLLBACK")
            raise

    @contextmanager
    def snapshot(self) -> Iterator[None]:
        """Read as if nobody wrote meanwhile.

        Yields
        ------
        None
            Inside.
        """
        self.run("BEGIN")
        try:
            yield
        finally:
            with suppress(sqlite3.Error):
                self._connection.execute("ROLLBACK")

    def is_empty(self) -> bool:
        """Return whether the file holds no table.

        Returns
        -------
        bool
            True for a new file.
        """
        return not self.run("SELECT count(*) FROM sqlite_master")[0][0]

    def has_table(self, name: str) -> bool:
        """Return whether a table is there.

        Parameters
        ----------
        name : str
            Its name.

        Returns
        -------
        bool
            True if it is.
        """
        sql = "SELECT count(*) FROM sqlite_master WHERE type = 'table' AND name = ?"
        return bool(self.run(sql, (name,))[0][0])

    def copy_to_file(self, path: Path) -> None:
        """Write everything into a new file.

        Parameters
        ----------
        path : Path
            The file, which is not there yet.
        """
        self.run("VACUUM INTO ?", (str(path),))

    def copy_over(self, other: Database) -> None:
        """Put everything in the place of what another database holds, all or nothing.

        Parameters
        ----------
        other : Database
            Where to.

        Raises
        ------
        StoreError
            If the other stays locked.
        """
        ends = time.monotonic() + self._patience_s

        def patient(status: int, _left: int, _all: int) -> None:
            if status in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED) and time.monotonic() > ends:
                raise StoreError(*_locked(other.path))

        with other._clear_words():
            self._connection.backup(other._connection, progress=patient)

    def schema(self) -> set[tuple[str, str, str]]:
        """Return what stands in the file besides rows.

        Returns
        -------
        set of (str, str, str)
            Type, name and text of every table, index, view and trigger.
        """
        sql = "SELECT type, name, sql FROM sqlite_master WHERE sql IS NOT NULL"
        return {(str(kind), str(name), str(text)) for kind, name, text in self.run(sql)}

    def damage(self) -> str:
        """Return what a check of the whole file finds.

        Returns
        -------
        str
            Empty if all is well.
        """
        found = self.run("PRAGMA integrity_check(1)")[0][0]
        astray = self.run("PRAGMA foreign_key_check")
        return "" if found == "ok" and not astray else str(found)

    def close(self) -> None:
        """Close it."""
        with suppress(sqlite3.Error):
            self._connection.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    @contextmanager
    def _clear_words(self) -> Iterator[None]:
        try:
            yield
        except sqlite3.Error as error:
            raise _told(error, self.path) from error
        except OSError as error:
            raise StoreError(
                f"the store cannot be opened, or its folder may only be read: {error.strerror}",
                str(self.path),
                "give another place with --store or SAMITE_STORE",
            ) from error


def _make_folder(path: Path) -> None:
    if path.is_dir():
        raise IsADirectoryError(21, "that is a folder", str(path))
    path.parent.mkdir(parents=True, exist_ok=True)
    if not path.exists():
        path.touch(mode=0o600)  # bodies are in it: readable by its owner alone


def _primary(error: sqlite3.Error) -> int:
    return getattr(error, "sqlite_errorcode", 0) & 0xFF


WORDS = {
    sqlite3.SQLITE_BUSY: (
        "another program is writing to the store and does not finish",
        "close the other program, or try again in a moment",
    ),
    sqlite3.SQLITE_READONLY: (
        "the store may only be read here",
        "give the file and its folder back the right to be written to, or choose another place "
        "with --store",
    ),
    sqlite3.SQLITE_FULL: ("the disk is full", "make room; nothing that was kept is lost"),
    sqlite3.SQLITE_IOERR: (
        "the disk does not take or give the store's data: it is full or failing",
        "make room or look after the disk; nothing that was kept is lost",
    ),
    sqlite3.SQLITE_CANTOPEN: (
        "the store cannot be opened, or its folder may only be read",
        "look whether the folder is there and may be written to, or choose another place with "
        "--store",
    ),
    sqlite3.SQLITE_CORRUPT: (
        "the store's file is damaged",
        "restore a backup: samite store restore FILE",
    ),
    sqlite3.SQLITE_NOTADB: (
        "that file is no store of samite",
        "name another file with --store or SAMITE_STORE",
    ),
    sqlite3.SQLITE_CONSTRAINT: (
        "that would leave something in the store pointing at nothing",
        "nothing was changed",
    ),
}
"""What SQLite reports, in clear words, and how to mend it."""


def _locked(path: Path | None) -> tuple[str, str, str]:
    message, hint = WORDS[sqlite3.SQLITE_BUSY]
    return message, str(path), hint


def _told(error: sqlite3.Error, path: Path | None) -> StoreError:
    message, hint = WORDS.get(
        _primary(error), (f"the store failed: {error}", "nothing was changed")
    )
    broken = _primary(error) in (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB)
    return (DamagedStoreError if broken else StoreError)(message, str(path or "memory"), hint)
