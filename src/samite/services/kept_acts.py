"""What every kept thing can undergo: changed as an act that can be undone, and binned."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TypeVar

from samite.store.kinds import Kept, Kind
from samite.store.store import Store

Value = TypeVar("Value")


def get_kept(path: Path, kind: Kind[Value], key: str) -> Kept[Value]:
    """Return a kept thing.

    Parameters
    ----------
    path : Path
        File of the store.
    kind : Kind
        What it is.
    key : str
        Its key, or the first digits of it.

    Returns
    -------
    Kept
        With key and version.
    """
    with Store(path, write=False) as store:
        return store.get(kind, key)


def change_kept(
    path: Path, kind: Kind[Value], kept: Kept[Value], value: Value, said: str, on: date
) -> Kept[Value]:
    """Put a value in the place of a kept one.

    Parameters
    ----------
    path : Path
        File of the store.
    kind : Kind
        What it is.
    kept : Kept
        As it was read, so that no other change is lost.
    value : object
        The new value.
    said : str
        What the act is called.
    on : date
        Today.

    Returns
    -------
    Kept
        As it is now.
    """
    with Store(path) as store, store.act(said, on) as changes:
        return changes.change(kind, kept.key, kept.version, value)


def bin_kept(path: Path, kind: Kind[Value], kept: Kept[Value], said: str, on: date) -> None:
    """Put a kept thing into the bin.

    Parameters
    ----------
    path : Path
        File of the store.
    kind : Kind
        What it is.
    kept : Kept
        As it was read.
    said : str
        What the act is called.
    on : date
        Today.
    """
    with Store(path) as store, store.act(said, on) as changes:
        changes.bin(kind, kept.key, kept.version, on)
