"""Irons, boards, needles, threads and remnants that are kept."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

from samite.garment.bench import Board, KeptIron
from samite.garment.stock import NeedlePacket, Remnant, ThreadSpool
from samite.kernel.errors import InputError
from samite.services.journal_views import find_named
from samite.store.codec import to_plain
from samite.store.kinds import BOARD, IRON, NEEDLE, REMNANT, THREAD, Kept, Kind, name_key
from samite.store.store import Store

FORMAT = "samite.stock.v1"

StockItem = KeptIron | Board | NeedlePacket | ThreadSpool | Remnant

STOCK: dict[str, Kind[Any]] = {kind.name: kind for kind in (IRON, BOARD, NEEDLE, THREAD, REMNANT)}
"""What is stock, by name."""


def keep_stock(
    path: Path,
    value: KeptIron | Board | NeedlePacket | ThreadSpool | Remnant,
    on: date,
    key: str = "",
) -> dict[str, Any]:
    """Keep an iron, a board, needles or thread; or put it in the place of one that is kept.

    Parameters
    ----------
    path : Path
        File of the store.
    value : KeptIron, Board, NeedlePacket, ThreadSpool or Remnant
        What to keep.
    on : date
        Today.
    key : str
        Key of the one to replace; empty for a new one.

    Returns
    -------
    dict of str to object
        Its ``kind``, ``key``, ``version`` and values.

    Raises
    ------
    InputError
        If another of that name is kept.
    """
    kind = next(item for item in STOCK.values() if isinstance(value, item.value_type))
    with Store(path) as store:
        there = store.get(kind, key) if key else None
        _refuse_namesake(store, kind, value, there.key if there else "")
        verb = "changed" if there else "kept"
        with store.act(f"{kind.name} {verb}", on) as changes:
            if there:
                kept = changes.change(kind, there.key, there.version, value)
            else:
                kept = changes.add(kind, value)
        return _view(kind, kept)


def _refuse_namesake(store: Store, kind: Kind[Any], value: Any, own: str) -> None:
    name = getattr(value, "name", "")
    for item in store.all(kind):
        if name and item.key != own and name_key(item.value.name) == name_key(name):
            raise InputError(
                f"{name!r} is kept already",
                "name",
                f"another name, or --key {item.key} to put it in its place",
            )


def list_stock(path: Path) -> dict[str, Any]:
    """Return all stock.

    Parameters
    ----------
    path : Path
        File of the store.

    Returns
    -------
    dict of str to object
        In the form ``samite.stock.v1``: a list a kind, the bin left out.
    """
    with Store(path, write=False) as store:
        found = {
            kind.table: [_view(kind, item) for item in store.all(kind)] for kind in STOCK.values()
        }
    return {"format": FORMAT, **found}


def _view(kind: Kind[Any], kept: Kept[Any]) -> dict[str, Any]:
    shown = {"kind": kind.name, "key": kept.key, "version": kept.version, **to_plain(kept.value)}
    if kind is IRON:
        for dial, item in zip(shown["dials"], kept.value.dials, strict=True):
            dial.update(sole_c=round(item.sole_c, 1), swing_c=round(item.swing_c, 1))
    return shown


def kept_iron(path: Path, name: str) -> KeptIron:
    """Return an iron that is kept, with what was measured on it.

    Parameters
    ----------
    path : Path
        File of the store.
    name : str
        Its name or key.

    Returns
    -------
    KeptIron
        The iron.
    """
    with Store(path, write=False) as store:
        iron: KeptIron = find_named(store, IRON, name).value
        return iron


def kept_remnant(path: Path, key: str) -> Remnant:
    """Return a remnant that is kept.

    Parameters
    ----------
    path : Path
        File of the store.
    key : str
        Its key, or the first digits.

    Returns
    -------
    Remnant
        The remnant.
    """
    with Store(path, write=False) as store:
        return store.get(REMNANT, key).value


def bin_stock(path: Path, kind_name: str, key: str, on: date) -> dict[str, Any]:
    """Put an iron, a board, needles, thread or a remnant into the bin.

    Parameters
    ----------
    path : Path
        File of the store.
    kind_name : str
        ``iron``, ``board``, ``needle``, ``thread`` or ``remnant``.
    key : str
        Its key, or the first digits.
    on : date
        Today.

    Returns
    -------
    dict of str to object
        What went.

    Raises
    ------
    InputError
        If swatches that are not in the bin were made with it.
    """
    kind = STOCK[kind_name]
    with Store(path) as store:
        kept = store.get(kind, key)
        used = store.count_with(kind, kept.key)
        if used:
            raise InputError(
                f"it is needed: swatches that were pressed with it: {used}",
                kind_name,
                "put those into the bin first, or keep it",
            )
        with store.act(f"{kind_name} put into the bin", on) as changes:
            return _view(kind, changes.bin(kind, kept.key, kept.version, on))
