"""Backup of the whole store, its log of changes too, and restoring one."""

from __future__ import annotations

import hashlib
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from samite.kernel.errors import DamagedStoreError, InputError, StoreError
from samite.kernel.keys import canonical_json
from samite.services.packed import Packed, write_packed
from samite.store.database import Database
from samite.store.migrations import MIGRATIONS, check_version, migrate
from samite.store.photos import PhotoFolder
from samite.store.store import Store

FORMAT = "samite.backup.v1"
DOCUMENT = "backup.json"
TABLES = "store.sqlite"


def back_up(path: Path, target: Path) -> dict[str, Any]:
    """Write the whole store into one file, while others may go on writing to it.

    Parameters
    ----------
    path : Path
        File of the store.
    target : Path
        The backup, which is not there yet.

    Returns
    -------
    dict of str to object
        In the form ``samite.stored.v1``.

    Raises
    ------
    InputError
        If there is no store.
    """
    if not path.is_file():
        raise InputError("there is no store yet", str(path), "keep a swatch first, or say --store")
    with _folder(target) as folder:
        copy = folder / TABLES
        with Database(path) as database:
            check_version(database)
            database.copy_to_file(copy)
        return _write(copy, PhotoFolder(path), target)


def _write(copy: Path, photos: PhotoFolder, target: Path) -> dict[str, Any]:
    with Database(copy, write=False) as database:
        keys = sorted(row[0] for row in database.run("SELECT key FROM photos"))
        version = check_version(database)
    document = {"format": FORMAT, "store_version": version, "sha256": _hash_of(copy)}

    def members() -> Iterator[tuple[str, bytes | Path]]:
        yield DOCUMENT, canonical_json(document).encode()
        yield TABLES, copy
        for key in keys:
            yield f"photos/{key}", photos.read(key)

    write_packed(target, members())
    return {"format": "samite.stored.v1", "file": str(target), "counts": {"photo": len(keys)}}


def restore(path: Path, source: Path) -> dict[str, Any]:
    """Put a backup in the place of the store; what was there is backed up beside it first.

    Parameters
    ----------
    path : Path
        File of the store.
    source : Path
        The backup.

    Returns
    -------
    dict of str to object
        In the form ``samite.stored.v1``; ``former`` is where the former store lies now.
    """
    with Packed(source, frozenset({DOCUMENT, TABLES})) as packed, _folder(path) as folder:
        copy = folder / TABLES
        _unpack(packed, copy)
        keys = _check_tables(copy, packed.photos)
        for key in keys:
            packed.photo(key)
        former = _set_former_aside(path)
        photos = PhotoFolder(path)
        for key in keys:
            photos.write(packed.photo(key))
        with Database(copy) as database, Database(path) as live:
            database.copy_over(live)
        with Store(path):
            pass
    counts = {"photo": len(keys)}
    return {
        "format": "samite.stored.v1",
        "file": str(source),
        "counts": counts,
        "former": str(former) if former else None,
    }


def _unpack(packed: Packed, copy: Path) -> None:
    document = packed.document(DOCUMENT, FORMAT)
    try:
        with copy.open("wb") as file:
            for piece in packed.pieces(TABLES):
                file.write(piece)
    except OSError as error:
        raise StoreError(
            f"there is no room to unpack: {error.strerror}", str(copy.parent), "make room"
        ) from error
    if _hash_of(copy) != document.get("sha256"):
        raise InputError(
            "the tables inside are not what the backup says", TABLES, "take an unchanged backup"
        )


def _check_tables(copy: Path, photos: frozenset[str]) -> list[str]:
    """Refuse tables that are damaged, newer, or hold more than samite's; return the photos."""
    try:
        with Database(copy) as database, Database(None) as clean:
            version = check_version(database)
            migrate(clean, MIGRATIONS[:version])
            if not version or database.schema() != clean.schema() or database.damage():
                raise _refusal()
            keys = {str(row[0]) for row in database.run("SELECT key FROM photos")}
    except DamagedStoreError:
        raise _refusal() from None
    if keys != photos:
        raise _refusal()
    return sorted(keys)


def _refusal() -> InputError:
    return InputError(
        "the tables inside are damaged or not samite's",
        TABLES,
        "take an unchanged backup; nothing was changed",
    )


def _set_former_aside(path: Path) -> Path | None:
    """Back the present store up beside itself; move it aside if it is too damaged for that."""
    if not path.is_file():
        return None
    try:
        with Database(path) as database:
            if database.damage():
                raise DamagedStoreError("damaged", str(path), "")
        aside = _unused(path, "before-restore", ".zip")
        back_up(path, aside)
    except DamagedStoreError:
        aside = _unused(path, "damaged", "")
        for ending in ("", "-wal", "-shm"):
            beside = path.with_name(path.name + ending)
            if beside.exists():
                beside.replace(aside.with_name(aside.name + ending))
    return aside


def _unused(path: Path, word: str, ending: str) -> Path:
    number = 1
    while (place := path.with_name(f"{path.name}.{word}-{number}{ending}")).exists():
        number += 1
    return place


@contextmanager
def _folder(beside: Path) -> Iterator[Path]:
    """Give a folder on the same disk, gone afterwards."""
    try:
        beside.parent.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory(dir=beside.parent, prefix=".samite-") as folder:
            yield Path(folder)
    except OSError as error:
        raise StoreError(
            f"the folder cannot be written to: {error.strerror}",
            str(beside.parent),
            "name another place",
        ) from error


def _hash_of(path: Path) -> str:
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()
