"""The journal of swatches: record, set aside, bin, undo."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import Any

from samite.garment.stock import KeptCloth
from samite.kernel.errors import InputError
from samite.services.journal_views import find_cloth, find_named, swatch_view
from samite.store.changes import Changes
from samite.store.kinds import BOARD, CLOTH, IRON, SWATCH, Kind
from samite.store.store import Store
from samite.swatch.seen import Finding
from samite.swatch.trial import PressTrial, SewTrial, Swatch

TURN_FORMAT = "samite.undo.v1"

LONGEST_LABEL = 4000
"""Characters of a label that is kept."""


@dataclass(frozen=True, slots=True)
class Entry:
    """A swatch as a person gives it.

    Parameters
    ----------
    label : str
        What the bolt says; a cloth with this label is found, or made.
    made_on : date
        Day of the test.
    findings : tuple of Finding
        What was seen.
    press : PressTrial or None
        The pressing.
    sew : SewTrial or None
        The seam.
    iron : str
        Name or key of an iron that is kept; empty for none.
    board : str
        Name or key of a board that is kept; empty for none.
    note : str
        Anything else.
    maker : str
        Who made it.
    photos : tuple of bytes
        Photos.
    """

    label: str
    made_on: date
    findings: tuple[Finding, ...]
    press: PressTrial | None = None
    sew: SewTrial | None = None
    iron: str = ""
    board: str = ""
    note: str = ""
    maker: str = ""
    photos: tuple[bytes, ...] = ()


def record_swatch(path: Path, entry: Entry, on: date) -> dict[str, Any]:
    """Keep a swatch, and its cloth if it is new.

    Parameters
    ----------
    path : Path
        File of the store.
    entry : Entry
        What was tried and seen.
    on : date
        Today.

    Returns
    -------
    dict of str to object
        In the form ``samite.swatch.v1``. When it is returned, it is on the disk.

    Raises
    ------
    InputError
        If it contradicts itself, or names an iron or a board that is not kept.
    """
    label = entry.label.strip()
    if not label or len(label) > LONGEST_LABEL:
        told = "no label is given" if not label else f"the label has {len(label)} characters"
        raise InputError(told, "label", "write what the bolt says")
    if entry.made_on > on:
        raise InputError(f"{entry.made_on} is yet to come", "made_on", "give the day of the test")
    # Before anything is opened: a swatch that contradicts itself is refused without a store.
    _swatch(entry, "cloth", entry.press, ())
    with Store(path) as store:
        with store.act(f"swatch of {label[:60]}", on) as changes:
            press = _with_bench(store, entry)
            cloth = store.cloth_of(label) or changes.add(CLOTH, KeptCloth(label))
            photos = tuple(dict.fromkeys(changes.keep_photo(item) for item in entry.photos))
            kept = changes.add(SWATCH, _swatch(entry, cloth.key, press, photos))
        return swatch_view(store, kept)


def _swatch(
    entry: Entry, cloth_key: str, press: PressTrial | None, photos: tuple[str, ...]
) -> Swatch:
    return Swatch(
        cloth_key,
        entry.made_on,
        entry.findings,
        press=press,
        sew=entry.sew,
        note=entry.note.strip(),
        maker=entry.maker.strip(),
        photos=photos,
    )


def _with_bench(store: Store, entry: Entry) -> PressTrial | None:
    """Return the pressing with the keys of its iron and board."""
    if entry.press is None:
        if entry.iron or entry.board:
            where = "iron" if entry.iron else "board"
            raise InputError(f"an {where} without a pressing", where, "say how it was pressed")
        return None
    iron_key = find_named(store, IRON, entry.iron).key if entry.iron else ""
    board_key = find_named(store, BOARD, entry.board).key if entry.board else ""
    return replace(entry.press, iron_key=iron_key, board_key=board_key)


def set_aside(path: Path, key: str, aside: bool, on: date) -> dict[str, Any]:
    """Leave a swatch out of later answers, or take it in again.

    Parameters
    ----------
    path : Path
        File of the store.
    key : str
        Key of the swatch, or its first digits.
    aside : bool
        Whether to leave it out.
    on : date
        Today.

    Returns
    -------
    dict of str to object
        In the form ``samite.swatch.v1``.
    """
    with Store(path) as store:
        kept = store.get(SWATCH, key)
        said = "swatch set aside" if aside else "swatch taken in again"
        with store.act(said, on) as changes:
            value = replace(kept.value, set_aside=aside)
            changed = changes.change(SWATCH, kept.key, kept.version, value)
        return swatch_view(store, changed)


def bin_swatch(path: Path, key: str, on: date) -> dict[str, Any]:
    """Put a swatch into the bin, from which it can be taken until that is emptied.

    Parameters
    ----------
    path : Path
        File of the store.
    key : str
        Key of the swatch, or its first digits.
    on : date
        Today.

    Returns
    -------
    dict of str to object
        In the form ``samite.swatch.v1``.
    """
    with Store(path) as store:
        kept = store.get(SWATCH, key)
        with store.act("swatch put into the bin", on) as changes:
            changed = changes.bin(SWATCH, kept.key, kept.version, on)
        return swatch_view(store, changed)


def take_out_swatch(path: Path, key: str, on: date) -> dict[str, Any]:
    """Take a swatch out of the bin, with the cloth, iron and board that it points at.

    Parameters
    ----------
    path : Path
        File of the store.
    key : str
        Key of the swatch, or its first digits.
    on : date
        Today.

    Returns
    -------
    dict of str to object
        In the form ``samite.swatch.v1``.
    """
    with Store(path) as store:
        kept = store.get(SWATCH, key)
        with store.act("swatch taken out of the bin", on) as changes:
            _take_out_with(store, changes, kept.value)
            changed = changes.bin(SWATCH, kept.key, kept.version, None)
        return swatch_view(store, changed)


def _take_out_with(store: Store, changes: Changes, swatch: Swatch) -> None:
    press = swatch.press
    pointed: Sequence[tuple[Kind[Any], str]] = (
        (CLOTH, swatch.cloth_key),
        (IRON, press.iron_key if press else ""),
        (BOARD, press.board_key if press else ""),
    )
    for kind, key in pointed:
        found = store.get(kind, key) if key else None
        if found and found.binned_on:
            changes.bin(kind, found.key, found.version, None)


def bin_cloth(path: Path, label: str, on: date) -> int:
    """Put a cloth and all its swatches into the bin.

    Parameters
    ----------
    path : Path
        File of the store.
    label : str
        Label or key of the cloth.
    on : date
        Today.

    Returns
    -------
    int
        How many swatches went with it [1].
    """
    with Store(path) as store:
        cloth = find_cloth(store, label)
        with store.act(f"cloth put into the bin: {cloth.value.label[:60]}", on) as changes:
            swatches = store.swatches_of(cloth.key, most=store.count_of(cloth.key))
            for item in swatches:
                changes.bin(SWATCH, item.key, item.version, on)
            changes.bin(CLOTH, cloth.key, cloth.version, on)
        return len(swatches)


def turn_back(path: Path, *, again: bool = False) -> dict[str, Any]:
    """Undo the last act, or do again the one that was undone last.

    Parameters
    ----------
    path : Path
        File of the store.
    again : bool
        Do again instead of undo.

    Returns
    -------
    dict of str to object
        In the form ``samite.undo.v1``: ``undone`` or ``done_again``, empty if there was nothing.
    """
    with Store(path) as store:
        said = store.redo() if again else store.undo()
    return {"format": TURN_FORMAT, "done_again" if again else "undone": said}
