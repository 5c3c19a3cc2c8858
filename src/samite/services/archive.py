"""Everything in one plain archive, JSON and files, out and in again."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

from samite.kernel.errors import InputError, StoreError
from samite.kernel.keys import canonical_json
from samite.services.packed import Packed, write_packed
from samite.store import rows
from samite.store.codec import from_plain, to_plain
from samite.store.kinds import BOARD, CLOTH, HASH, IRON, KINDS, PHOTO, SWATCH, Kept, Kind
from samite.store.photos import read_photo
from samite.store.store import Store

FORMAT = "samite.archive.v1"
DOCUMENT = "samite.json"

KEY = re.compile(r"[0-9a-z][0-9a-z-]{3,63}")
"""What a key may look like."""


def export_archive(path: Path, target: Path) -> dict[str, Any]:
    """Write everything that is kept, the bin too, into one archive.

    Parameters
    ----------
    path : Path
        File of the store.
    target : Path
        The archive, which is not there yet.

    Returns
    -------
    dict of str to object
        In the form ``samite.stored.v1``: how many of each kind.
    """
    with Store(path, write=False) as store, store.database.snapshot():
        found = {kind: _everything(store, kind) for kind in KINDS.values()}
        document = {
            "format": FORMAT,
            "records": {kind.name: [_told(item) for item in kept] for kind, kept in found.items()},
        }
        photos = sorted(item.key for item in found[PHOTO])
        write_packed(target, _members(store, document, photos))
    return _counts({kind.name: len(kept) for kind, kept in found.items()}, target)


def _everything(store: Store, kind: Kind[Any]) -> list[Kept[Any]]:
    return rows.select(store.database, kind, "1 = 1")


def _told(kept: Kept[Any]) -> dict[str, Any]:
    binned_on = kept.binned_on.isoformat() if kept.binned_on else None
    return {"key": kept.key, "binned_on": binned_on, "value": to_plain(kept.value)}


def _members(
    store: Store, document: dict[str, Any], photos: list[str]
) -> Iterator[tuple[str, bytes]]:
    yield DOCUMENT, canonical_json(document).encode()
    for key in photos:
        yield f"photos/{key}", store.photos.read(key)


def _counts(counts: dict[str, int], file: Path) -> dict[str, Any]:
    return {"format": "samite.stored.v1", "file": str(file), "counts": counts}


def import_archive(path: Path, source: Path, on: date) -> dict[str, Any]:
    """Take in an archive: all of it or nothing, as one act that can be undone.

    Parameters
    ----------
    path : Path
        File of the store.
    source : Path
        The archive.
    on : date
        Today.

    Returns
    -------
    dict of str to object
        In the form ``samite.stored.v1``: how many of each kind are new here.

    Raises
    ------
    InputError
        If it is malformed, damaged, hostile or newer than this program.
    StoreError
        If something is kept under the same key and is not the same.
    """
    with Packed(source, frozenset({DOCUMENT})) as packed:
        records = _read_records(packed.document(DOCUMENT, FORMAT))
        _check_photos(packed, records)
        with (
            Store(path) as store,
            store.act(f"archive taken in: {source.name[:60]}", on) as changes,
        ):
            counts = {}
            for kind in KINDS.values():
                fresh = [item for item in records[kind] if _is_new(store, kind, item)]
                for item in fresh:
                    if kind is PHOTO:
                        changes.keep_photo(packed.photo(item.key))
                    else:
                        changes.add(kind, item.value, item.key, item.binned_on)
                counts[kind.name] = len(fresh)
    return _counts(counts, source)


def _read_records(document: dict[str, Any]) -> dict[Kind[Any], list[Kept[Any]]]:
    told = document.get("records")
    if not isinstance(told, dict) or set(document) != {"format", "records"}:
        raise InputError("it holds no records", DOCUMENT, "take an unchanged archive")
    strange = sorted(set(told) - set(KINDS))
    if strange:
        raise InputError(
            f"{strange[0][:40]!r} is unknown here", DOCUMENT, "use the samite that wrote it"
        )
    records = {kind: _read_kind(kind, told.get(name, [])) for name, kind in KINDS.items()}
    _check_pointers(records)
    return records


def _read_kind(kind: Kind[Any], told: object) -> list[Kept[Any]]:
    if not isinstance(told, list):
        raise InputError(f"{kind.name} is no list", DOCUMENT, "take an unchanged archive")
    pattern = HASH if kind is PHOTO else KEY
    found = []
    for place, item in enumerate(told):
        where = f"{kind.name}[{place}]"
        if not isinstance(item, dict) or not isinstance(item.get("value"), dict):
            raise InputError("a record without a value", where, "take an unchanged archive")
        plain = {name: part for name, part in item.items() if name != "value"}
        head = from_plain(_Head, plain, where)
        if not pattern.fullmatch(head.key):
            raise InputError(f"{head.key[:40]!r} is no key", where, "take an unchanged archive")
        value = from_plain(kind.value_type, item["value"], where)
        found.append(Kept(head.key, 0, value, head.binned_on))
    if len({item.key for item in found}) < len(found):
        raise InputError(f"a {kind.name} stands twice", DOCUMENT, "take an unchanged archive")
    return found


@dataclass(frozen=True, slots=True)
class _Head:
    key: str
    binned_on: date | None = None


def _check_pointers(records: dict[Kind[Any], list[Kept[Any]]]) -> None:
    """Refuse a swatch that points at nothing, or one in use that points into the bin."""
    there = {kind: {item.key: item.binned_on for item in kept} for kind, kept in records.items()}
    for item in records[SWATCH]:
        press = item.value.press
        pointed: list[tuple[Kind[Any], str]] = [
            (CLOTH, item.value.cloth_key),
            *((PHOTO, key) for key in item.value.photos),
        ]
        if press:
            pointed += [(IRON, press.iron_key)] if press.iron_key else []
            pointed += [(BOARD, press.board_key)] if press.board_key else []
        for kind, key in pointed:
            lost = key not in there[kind] or (there[kind][key] and not item.binned_on)
            if lost:
                raise InputError(
                    f"a swatch points at a {kind.name} that is not there",
                    f"swatch {item.key}",
                    "take an unchanged archive",
                )


def _check_photos(packed: Packed, records: dict[Kind[Any], list[Kept[Any]]]) -> None:
    named = {item.key for item in records[PHOTO]}
    if named != packed.photos:
        raise InputError(
            "the photos inside are not those that are listed", DOCUMENT, "take an unchanged archive"
        )
    for item in records[PHOTO]:
        if read_photo(packed.photo(item.key)) != item.value:
            raise InputError(
                "a photo is not what is said of it",
                f"photo {item.key[:12]}",
                "take an unchanged archive",
            )


def _is_new(store: Store, kind: Kind[Any], item: Kept[Any]) -> bool:
    there = rows.fetch(store.database, kind, item.key)
    if there is None:
        return True
    if (there.value, there.binned_on) != (item.value, item.binned_on):
        raise StoreError(
            f"another {kind.name} is kept under the same key",
            f"{kind.name} {item.key}",
            "take the archive into a new store: --store FILE; nothing was changed",
        )
    return False
