"""What can be changed inside one act."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import TypeVar

from samite.kernel.errors import ChangedMeanwhileError
from samite.kernel.keys import canonical_json
from samite.store import history, rows
from samite.store.codec import to_plain
from samite.store.database import Database
from samite.store.kinds import PHOTO, Kept, Kind
from samite.store.photos import PhotoFolder, read_photo

T = TypeVar("T")


class Changes:
    """What can be changed inside one act.

    Parameters
    ----------
    database : Database
        The open file, in a transaction.
    photos : PhotoFolder
        Where photos lie.
    act : int
        Number of the act [1].
    make_key : callable
        Gives a new key.
    """

    def __init__(
        self, database: Database, photos: PhotoFolder, act: int, make_key: Callable[[], str]
    ) -> None:
        self._database = database
        self._photos = photos
        self._act = act
        self._make_key = make_key

    def add(self, kind: Kind[T], value: T, key: str = "", binned_on: date | None = None) -> Kept[T]:
        """Keep a new value.

        Parameters
        ----------
        kind : Kind
            What it is.
        value : object
            The value.
        key : str
            Its key; empty for a new one.
        binned_on : date or None
            Day on which it went into the bin, for one that comes from an archive.

        Returns
        -------
        Kept
            As kept.

        Raises
        ------
        ChangedMeanwhileError
            If the key is taken.
        """
        named = key or self._make_key()
        if rows.fetch(self._database, kind, named):
            raise ChangedMeanwhileError(
                f"a {kind.name} of that key is there already", named, "nothing was changed"
            )
        return self._write(kind, named, value, binned_on)

    def change(self, kind: Kind[T], key: str, version: int, value: T) -> Kept[T]:
        """Put a value in the place of the one that was read.

        Parameters
        ----------
        kind : Kind
            What it is.
        key : str
            Its key.
        version : int
            The version that was read [1].
        value : object
            The new value.

        Returns
        -------
        Kept
            As kept.
        """
        return self._write(kind, key, value, self._check(kind, key, version).binned_on)

    def bin(self, kind: Kind[T], key: str, version: int, on: date | None) -> Kept[T]:
        """Put something into the bin, or take it out.

        Parameters
        ----------
        kind : Kind
            What it is.
        key : str
            Its key.
        version : int
            The version that was read [1].
        on : date or None
            Today; None takes it out.

        Returns
        -------
        Kept
            As kept.
        """
        return self._write(kind, key, self._check(kind, key, version).value, on)

    def keep_photo(self, content: bytes) -> str:
        """Keep a photo, once however often it comes.

        Parameters
        ----------
        content : bytes
            The file.

        Returns
        -------
        str
            Its content hash.
        """
        photo = read_photo(content)
        key = self._photos.write(content)
        if not rows.fetch(self._database, PHOTO, key):
            self._write(PHOTO, key, photo, None)
        return key

    def _check(self, kind: Kind[T], key: str, version: int) -> Kept[T]:
        found = rows.fetch(self._database, kind, key)
        if found is None or found.version != version:
            raise ChangedMeanwhileError(
                f"the {kind.name} was changed meanwhile",
                f"{kind.name} {key}",
                "look at it again, then change it; nothing was changed",
            )
        return found

    def _write(self, kind: Kind[T], key: str, value: T, binned_on: date | None) -> Kept[T]:
        after = rows.make_image(
            canonical_json(to_plain(value)), binned_on.isoformat() if binned_on else None
        )
        version = history.write_change(self._database, self._act, kind, key, after)
        return Kept(key, version, value, binned_on)
