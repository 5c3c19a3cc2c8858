"""The kinds of things that are kept, and the columns by which they are found."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from typing import Any, Generic, TypeVar

from samite.garment.bench import Board, KeptIron
from samite.garment.kept_body import KeptBody
from samite.garment.kept_job import KeptJob
from samite.garment.stock import KeptCloth, NeedlePacket, Remnant, ThreadSpool
from samite.kernel.errors import InputError
from samite.kernel.ranges import require_between
from samite.swatch.trial import Swatch
from samite.work.kept import KeptWork

T = TypeVar("T")

MEDIA = {
    "image/jpeg": "jpg",
    "image/png": "png",
    "image/webp": "webp",
    "image/heic": "heic",
}
"""Kinds of photos that are kept, with the ending of a file."""

LARGEST_PHOTO = 16_000_000
"""Largest photo that is kept [bytes]."""

HASH = re.compile(r"[0-9a-f]{64}")
"""A content hash."""


@dataclass(frozen=True, slots=True)
class Photo:
    """A photo; its bytes lie beside the store.

    Parameters
    ----------
    media : str
        Media type.
    size : int
        Its bytes [1].

    Raises
    ------
    InputError
        If it is no kind of photo that is kept.
    """

    media: str
    size: int

    def __post_init__(self) -> None:
        if self.media not in MEDIA:
            raise InputError(
                f"{self.media[:40]!r} is no photo", "photo", f"give {', '.join(MEDIA)}"
            )
        require_between(1, LARGEST_PHOTO, size=self.size)


@dataclass(frozen=True, slots=True)
class Kept(Generic[T]):
    """A value as it is kept.

    Parameters
    ----------
    key : str
        Its key.
    version : int
        Number of the change that made it so; a change names it, so that none is lost [1].
    value : object
        The value.
    binned_on : date or None
        Day on which it went into the bin.
    """

    key: str
    version: int
    value: T
    binned_on: date | None = None


@dataclass(frozen=True, slots=True)
class Kind(Generic[T]):
    """One kind of thing.

    Parameters
    ----------
    name : str
        One word.
    table : str
        The table.
    value_type : type
        The frozen value.
    columns : callable
        Gives the columns by which it is found, from the value.
    """

    name: str
    table: str
    value_type: type[T]
    columns: Callable[[T], dict[str, str | None]]


def _none(_: object) -> dict[str, str | None]:
    return {}


def name_key(name: str) -> str:
    """Return a name without what does not change its meaning: space and capitals.

    Parameters
    ----------
    name : str
        A name.

    Returns
    -------
    str
        For comparing.
    """
    return " ".join(name.split()).casefold()


def _swatch_columns(swatch: Swatch) -> dict[str, str | None]:
    press = swatch.press
    return {
        "cloth_key": swatch.cloth_key,
        "iron_key": (press.iron_key or None) if press else None,
        "board_key": (press.board_key or None) if press else None,
        "made_on": swatch.made_on.isoformat(),
    }


CLOTH = Kind("cloth", "cloths", KeptCloth, lambda value: {"label_key": value.label_key})
IRON = Kind("iron", "irons", KeptIron, lambda value: {"name_key": name_key(value.name)})
BOARD = Kind("board", "boards", Board, lambda value: {"name_key": name_key(value.name)})
NEEDLE = Kind("needle", "needles", NeedlePacket, _none)
THREAD = Kind("thread", "threads", ThreadSpool, _none)
PHOTO = Kind("photo", "photos", Photo, _none)
SWATCH = Kind("swatch", "swatches", Swatch, _swatch_columns)
BODY = Kind("body", "bodies", KeptBody, lambda value: {"name_key": name_key(value.name)})
REMNANT = Kind("remnant", "remnants", Remnant, _none)
JOB = Kind("job", "jobs", KeptJob, lambda value: {"name_key": name_key(value.title)})

WORK = Kind("work", "works", KeptWork, _none)

KINDS: dict[str, Kind[Any]] = {
    kind.name: kind
    for kind in (CLOTH, IRON, BOARD, NEEDLE, THREAD, PHOTO, SWATCH, BODY, REMNANT, JOB, WORK)
}
"""Every kind by its name, what is pointed at before what points."""
