"""The journal as it is read: swatches, cloths and photos in the form that the faces show."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from samite.garment.stock import KeptCloth
from samite.kernel.errors import InputError
from samite.store.codec import to_plain
from samite.store.kinds import BOARD, CLOTH, IRON, PHOTO, SWATCH, Kept, Kind, name_key
from samite.store.store import Store
from samite.swatch.trial import Swatch

FORMAT = "samite.swatch.v1"
LIST_FORMAT = "samite.swatches.v1"

PAGE = 50
"""Swatches shown at once."""


def find_named(store: Store, kind: Kind[Any], name: str) -> Kept[Any]:
    """Return an iron or a board by its name or key.

    Parameters
    ----------
    store : Store
        The open store.
    kind : Kind
        What it is.
    name : str
        Name, key, or the first digits of one.

    Returns
    -------
    Kept
        What is kept.

    Raises
    ------
    InputError
        If there is none.
    """
    there = store.all(kind)
    wanted = name_key(name)
    found = [item for item in there if name_key(item.value.name) == wanted]
    found = found or [item for item in there if wanted and item.key.startswith(wanted)]
    if len(found) != 1:
        known = ", ".join(item.value.name for item in there) or "none is kept yet"
        many = "more than one" if found else "no"
        raise InputError(
            f"there is {many} {kind.name} {name[:40]!r}",
            kind.name,
            f"known: {known}; samite stock {kind.name} keeps one",
        )
    return found[0]


def swatch_view(store: Store, kept: Kept[Swatch]) -> dict[str, Any]:
    """Return a swatch in the form ``samite.swatch.v1``.

    Parameters
    ----------
    store : Store
        The open store.
    kept : Kept of Swatch
        The swatch.

    Returns
    -------
    dict of str to object
        As documented in ``docs/faces/swatch.md``.
    """
    swatch = kept.value
    cloth = store.get(CLOTH, swatch.cloth_key)
    press = swatch.press
    return {
        "format": FORMAT,
        "key": kept.key,
        "version": kept.version,
        "binned_on": kept.binned_on.isoformat() if kept.binned_on else None,
        "cloth": {"key": cloth.key, "label": cloth.value.label},
        "made_on": swatch.made_on.isoformat(),
        "tried": {
            "press": to_plain(press),
            "sew": to_plain(swatch.sew),
            "iron": _name(store, IRON, press.iron_key if press else ""),
            "board": _name(store, BOARD, press.board_key if press else ""),
        },
        "seen": [{**to_plain(item), "words": item.sign.words} for item in swatch.findings],
        "note": swatch.note,
        "maker": swatch.maker,
        "photos": list(swatch.photos),
        "set_aside": swatch.set_aside,
    }


def _name(store: Store, kind: Kind[Any], key: str) -> str | None:
    return str(store.get(kind, key).value.name) if key else None


def list_swatches(
    path: Path, label: str = "", *, most: int = PAGE, skip: int = 0, binned: bool = False
) -> dict[str, Any]:
    """Return the swatches of one cloth, or of all.

    Parameters
    ----------
    path : Path
        File of the store.
    label : str
        Label or key of a cloth; empty for all cloths.
    most : int
        How many swatches of a cloth [1].
    skip : int
        How many newer ones to leave out [1].
    binned : bool
        Look into the bin instead.

    Returns
    -------
    dict of str to object
        In the form ``samite.swatches.v1``.
    """
    with Store(path, write=False) as store:
        if binned:
            return _bin_view(store)
        cloths = [find_cloth(store, label)] if label else store.all(CLOTH)
        counts = (
            store.counts() if not label else {item.key: store.count_of(item.key) for item in cloths}
        )
        views = [_cloth_view(store, item, counts.get(item.key, 0), most, skip) for item in cloths]
        return {"format": LIST_FORMAT, "cloths": views, "most": most, "skip": skip}


def _bin_view(store: Store) -> dict[str, Any]:
    views = [swatch_view(store, item) for item in store.all(SWATCH, binned=True)]
    return {"format": LIST_FORMAT, "binned": views}


def _cloth_view(
    store: Store, cloth: Kept[KeptCloth], count: int, most: int, skip: int
) -> dict[str, Any]:
    swatches = store.swatches_of(cloth.key, most=most, skip=skip)
    return {
        "key": cloth.key,
        "label": cloth.value.label,
        "name": cloth.value.name,
        "note": cloth.value.note,
        "count": count,
        "swatches": [swatch_view(store, item) for item in swatches],
    }


def list_cloths(path: Path) -> list[dict[str, Any]]:
    """Return the cloths with how many swatches each has.

    Parameters
    ----------
    path : Path
        File of the store.

    Returns
    -------
    list of dict of str to object
        Keys ``key``, ``label``, ``count``; newest first.
    """
    with Store(path, write=False) as store:
        counts = store.counts()
        return [
            {"key": item.key, "label": item.value.label, "count": counts.get(item.key, 0)}
            for item in reversed(store.all(CLOTH))
        ]


def find_cloth(store: Store, label: str) -> Kept[KeptCloth]:
    """Return a cloth by its label or key.

    Parameters
    ----------
    store : Store
        The open store.
    label : str
        What the bolt says, or a key, or the first digits of one.

    Returns
    -------
    Kept of KeptCloth
        The cloth.

    Raises
    ------
    InputError
        If there is none.
    """
    found = store.cloth_of(label)
    if found:
        return found
    try:
        return store.get(CLOTH, label)
    except InputError:
        raise InputError(
            f"no swatch is kept of {label[:60]!r}", "label", "samite swatch list shows all cloths"
        ) from None


def photo(path: Path, key: str) -> tuple[bytes, str]:
    """Return a photo.

    Parameters
    ----------
    path : Path
        File of the store.
    key : str
        Its content hash.

    Returns
    -------
    tuple of (bytes, str)
        The file and its media type.
    """
    with Store(path, write=False) as store:
        kept = store.get(PHOTO, key)
        return store.photos.read(kept.key), kept.value.media
