"""The store: read freely, change only inside an act, which is one transaction."""

from __future__ import annotations

import secrets
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from typing import Any, Self, TypeVar

from samite.garment.kept_body import KeptBody
from samite.kernel.errors import InputError
from samite.store import history, rows
from samite.store.changes import Changes
from samite.store.database import PATIENCE_S, Database
from samite.store.kinds import BOARD, BODY, CLOTH, IRON, KINDS, PHOTO, SWATCH, Kept, Kind, name_key
from samite.store.migrations import MIGRATIONS, Migration, migrate
from samite.store.photos import PhotoFolder
from samite.swatch.trial import Swatch

T = TypeVar("T")

KEY_DIGITS = 12
"""Digits of a new key."""

SHORTEST_KEY = 4
"""Fewest digits by which something can be named."""


def random_key() -> str:
    """Return a new key.

    Returns
    -------
    str
        Hexadecimal digits.
    """
    return secrets.token_hex(KEY_DIGITS // 2)


class Store:
    """An open store. Only services open it, and they own its transactions.

    Parameters
    ----------
    path : Path or None
        The file; None for an empty store in memory.
    write : bool
        Whether it will be changed; a file that is missing is then made, else read as empty.
    patience_s : float
        How long a locked file is waited for [s].
    make_key : callable
        Gives a new key.
    migrations : sequence of Migration
        The steps of the tables.

    Raises
    ------
    StoreError
        If it cannot be opened, or a newer program has written it.
    """

    def __init__(
        self,
        path: Path | None,
        *,
        write: bool = True,
        patience_s: float = PATIENCE_S,
        make_key: Callable[[], str] = random_key,
        migrations: Sequence[Migration] = MIGRATIONS,
    ) -> None:
        there = path is not None and (write or path.is_file())
        self.database = Database(path if there else None, write=write, patience_s=patience_s)
        self.photos = PhotoFolder(path)
        self._make_key = make_key
        try:
            migrate(self.database, migrations)
        except BaseException:
            self.database.close()
            raise

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.database.close()

    def get(self, kind: Kind[T], key: str) -> Kept[T]:
        """Return what is kept under a key, or under the only key that begins so.

        Parameters
        ----------
        kind : Kind
            What it is.
        key : str
            Its key, or at least four first digits of it.

        Returns
        -------
        Kept
            What is kept.

        Raises
        ------
        InputError
            If there is none, or more than one.
        """
        exact = rows.fetch(self.database, kind, key)
        if exact:
            return exact
        found: list[Kept[T]] = []
        if len(key) >= SHORTEST_KEY and key.isascii() and key.isalnum():
            found = rows.select(self.database, kind, "key LIKE ?", (f"{key}%",))
        if len(found) != 1:
            many = "more than one" if found else "no"
            raise InputError(
                f"there is {many} {kind.name} {key[:40]!r}",
                kind.name,
                "samite swatch list shows all",
            )
        return found[0]

    def all(self, kind: Kind[T], *, binned: bool = False) -> list[Kept[T]]:
        """Return everything of a kind.

        Parameters
        ----------
        kind : Kind
            What.
        binned : bool
            Look into the bin instead.

        Returns
        -------
        list of Kept
            In the order of their last change.
        """
        state = "IS NOT NULL" if binned else "IS NULL"
        return rows.select(self.database, kind, f"binned_on {state}")

    def cloth_of(self, label: str) -> Kept[Any] | None:
        """Return the cloth with a label.

        Parameters
        ----------
        label : str
            What the bolt says; space and capitals do not matter.

        Returns
        -------
        Kept of KeptCloth or None
            The first that is not in the bin.
        """
        found = rows.select(
            self.database, CLOTH, "label_key = ? AND binned_on IS NULL", (name_key(label),)
        )
        return found[0] if found else None

    def swatches_of(self, cloth_key: str, *, most: int = 50, skip: int = 0) -> list[Kept[Swatch]]:
        """Return swatches of a cloth.

        Parameters
        ----------
        cloth_key : str
            Key of the cloth.
        most : int
            How many [1].
        skip : int
            How many newer ones to leave out [1].

        Returns
        -------
        list of Kept of Swatch
            Newest first, without those in the bin.
        """
        return rows.select(
            self.database,
            SWATCH,
            "cloth_key = ? AND binned_on IS NULL",
            (cloth_key, most, skip),
            "ORDER BY made_on DESC, version DESC LIMIT ? OFFSET ?",
        )

    def counts(self) -> dict[str, int]:
        """Return how many swatches each cloth has.

        Returns
        -------
        dict of str to int
            By key of the cloth, without those in the bin.
        """
        return dict(
            self.database.run(
                "SELECT cloth_key, count(*) FROM swatches WHERE binned_on IS NULL GROUP BY cloth_key"
            )
        )

    def count_of(self, cloth_key: str) -> int:
        """Return how many swatches a cloth has.

        Parameters
        ----------
        cloth_key : str
            Key of the cloth.

        Returns
        -------
        int
            Without those in the bin.
        """
        sql = "SELECT count(*) FROM swatches WHERE cloth_key = ? AND binned_on IS NULL"
        return int(self.database.run(sql, (cloth_key,))[0][0])

    def count_with(self, kind: Kind[Any], key: str) -> int:
        """Return how many swatches were made with an iron or on a board.

        Parameters
        ----------
        kind : Kind
            Iron, board, or anything else, with which none is.
        key : str
            Its key.

        Returns
        -------
        int
            Without those in the bin.
        """
        if kind not in (IRON, BOARD):
            return 0
        sql = f"SELECT count(*) FROM swatches WHERE {kind.name}_key = ? AND binned_on IS NULL"  # noqa: S608
        return int(self.database.run(sql, (key,))[0][0])

    @contextmanager
    def act(self, said: str, on: date) -> Iterator[Changes]:
        """Change the store: all of it or nothing, to be undone as one.

        Parameters
        ----------
        said : str
            What is done, in words.
        on : date
            Today.

        Yields
        ------
        Changes
            What can be done.
        """
        with self.database.transaction():
            number = history.begin_act(self.database, said, on)
            yield Changes(self.database, self.photos, number, self._make_key)

    def bodies_named(self, name: str, *, binned: bool = False) -> list[Kept[KeptBody]]:
        """Return the bodies of a name.

        Parameters
        ----------
        name : str
            The name; space and capitals do not matter.
        binned : bool
            Look into the bin instead.

        Returns
        -------
        list of Kept of KeptBody
            In the order of their last change.
        """
        state = "IS NOT NULL" if binned else "IS NULL"
        return rows.select(
            self.database, BODY, f"name_key = ? AND binned_on {state}", (name_key(name),)
        )

    def erase(self, kind: Kind[Any], keys: Sequence[str], said: str, on: date) -> None:
        """Delete things for good, and every image of them in the log of changes.

        Parameters
        ----------
        kind : Kind
            What they are; nothing may point at them.
        keys : sequence of str
            Their keys.
        said : str
            What is done, in words that do not name them.
        on : date
            Today.
        """
        with self.database.transaction():
            for key in keys:
                self.database.run(f"DELETE FROM {kind.table} WHERE key = ?", (key,))  # noqa: S608
                history.forget(self.database, kind, key)
            history.begin_act(self.database, said, on, history.FINAL)

    def undo(self) -> str:
        """Undo the last act that stands.

        Returns
        -------
        str
            What it had done; empty if there is none.
        """
        with self.database.transaction():
            return history.undo(self.database)

    def redo(self) -> str:
        """Do the act again that was undone last.

        Returns
        -------
        str
            What it does; empty if there is none.
        """
        with self.database.transaction():
            return history.redo(self.database)

    def acts(self, most: int = 50) -> list[history.Act]:
        """Return the last acts.

        Parameters
        ----------
        most : int
            How many [1].

        Returns
        -------
        list of Act
            Newest first.
        """
        return history.acts(self.database, most)

    def last_said(self, *, done: bool) -> str:
        """Return what undoing would undo, or what doing again would do.

        Parameters
        ----------
        done : bool
            Ask for what would be undone.

        Returns
        -------
        str
            What that act did; empty if there is none.
        """
        found = history.next_act(self.database, history.DONE if done else history.UNDONE)
        return found[1] if found else ""

    def empty_bin(self, on: date) -> dict[str, int]:
        """Delete for good what is in the bin, what was undone, and the log of changes.

        Parameters
        ----------
        on : date
            Today.

        Returns
        -------
        dict of str to int
            How many of each kind, and photo files.
        """
        with self.database.transaction():
            gone = {name: self._purge(kind) for name, kind in reversed(KINDS.items())}
            self.database.run("DELETE FROM changes")
            self.database.run("DELETE FROM acts")
        # Under the writers' lock, so that no photo is deleted that someone is just keeping.
        with self.database.transaction():
            kept = {row[0] for row in self.database.run("SELECT key FROM photos")}
            files = self.photos.sweep(kept)
            emptied = ", ".join(f"{count} {name}" for name, count in gone.items() if count)
            said = f"bin emptied: {emptied or 'it was empty'}"
            history.begin_act(self.database, said, on, history.FINAL)
        return {**gone, "photo_files": files}

    def _purge(self, kind: Kind[Any]) -> int:
        condition = "binned_on IS NOT NULL"
        if kind is PHOTO:
            condition = "key NOT IN (SELECT photo_key FROM swatch_photos)"
        if kind is SWATCH:
            links = "swatch_key IN (SELECT key FROM swatches WHERE binned_on IS NOT NULL)"
            self.database.run(f"DELETE FROM swatch_photos WHERE {links}")  # noqa: S608
        sql = f"DELETE FROM {kind.table} WHERE {condition} RETURNING key"  # noqa: S608
        return len(self.database.run(sql))
