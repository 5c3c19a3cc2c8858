"""Photos beside the store, each under the hash of its bytes."""

from __future__ import annotations

import hashlib
import os
from contextlib import suppress
from pathlib import Path

from samite.kernel.errors import InputError, StoreError
from samite.store.kinds import HASH, LARGEST_PHOTO, MEDIA, Photo

STARTS = ((b"\xff\xd8\xff", "image/jpeg"), (b"\x89PNG\r\n\x1a\n", "image/png"))
"""First bytes of photos."""

HEIC_BRANDS = (b"heic", b"heix", b"mif1", b"msf1", b"hevc")
"""Marks in the head of a HEIC photo (ISO 23008-12)."""


def read_photo(content: bytes) -> Photo:
    """Tell what kind of photo some bytes are, by the bytes alone.

    Parameters
    ----------
    content : bytes
        A file.

    Returns
    -------
    Photo
        Its media type and size.

    Raises
    ------
    InputError
        If it is no photo, or too large.
    """
    if not content:
        raise InputError("the photo is empty", "photo", "take it again, or leave it out")
    if len(content) > LARGEST_PHOTO:
        raise InputError(
            f"the photo has {len(content) / 1e6:.0f} MB",
            "photo",
            f"give one of at most {LARGEST_PHOTO / 1e6:.0f} MB",
        )
    media = next((kind for start, kind in STARTS if content.startswith(start)), "")
    if content[:4] == b"RIFF" and content[8:12] == b"WEBP":
        media = "image/webp"
    if content[4:8] == b"ftyp" and content[8:12] in HEIC_BRANDS:
        media = "image/heic"
    if not media:
        raise InputError(
            "that file is no photo", "photo", f"give {', '.join(sorted(MEDIA.values()))}"
        )
    return Photo(media, len(content))


def content_hash(content: bytes) -> str:
    """Return the hash under which bytes are kept.

    Parameters
    ----------
    content : bytes
        A file.

    Returns
    -------
    str
        SHA-256 in 64 hexadecimal digits.
    """
    return hashlib.sha256(content).hexdigest()


class PhotoFolder:
    """The folder of the photos.

    Parameters
    ----------
    store : Path or None
        File of the store; None for a store in memory, which has no photos.
    """

    def __init__(self, store: Path | None) -> None:
        self.root = store.with_name(f"{store.name}.photos") if store else None

    def place(self, key: str) -> Path:
        """Return where a photo lies.

        Parameters
        ----------
        key : str
            Its content hash.

        Returns
        -------
        Path
            The file.

        Raises
        ------
        StoreError
            If the key is no content hash.
        """
        if self.root is None or not HASH.fullmatch(key):
            raise StoreError("there is no such photo", "photo", "look at the list of swatches")
        return self.root / key[:2] / key

    def write(self, content: bytes) -> str:
        """Keep a photo: whole and on the disk before its name appears.

        Parameters
        ----------
        content : bytes
            The file.

        Returns
        -------
        str
            Its content hash.

        Raises
        ------
        StoreError
            If the disk does not take it.
        """
        key = content_hash(content)
        path = self.place(key)
        if path.is_file() and path.stat().st_size == len(content):
            return key
        part = path.with_name(f"{key}.part")
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            with part.open("wb") as file:
                file.write(content)
                file.flush()
                os.fsync(file.fileno())
            part.replace(path)
            _settle(path.parent)
        except OSError as error:
            with suppress(OSError):
                part.unlink()
            raise StoreError(
                f"the photo cannot be kept: {error.strerror}",
                str(path.parent),
                "make room, or leave the photo out",
            ) from error
        return key

    def read(self, key: str) -> bytes:
        """Return a photo, checked against its hash.

        Parameters
        ----------
        key : str
            Its content hash.

        Returns
        -------
        bytes
            The file.

        Raises
        ------
        StoreError
            If it is gone or damaged.
        """
        try:
            content = self.place(key).read_bytes()
        except OSError:
            content = b""
        if content_hash(content) != key:
            raise StoreError(
                "a photo is gone or damaged",
                str(self.place(key)),
                "restore a backup: samite store restore FILE",
            )
        return content

    def sweep(self, keep: set[str]) -> int:
        """Delete every file that is not to be kept.

        Parameters
        ----------
        keep : set of str
            Content hashes.

        Returns
        -------
        int
            Files deleted.
        """
        if self.root is None or not self.root.is_dir():
            return 0
        gone = [path for path in self.root.glob("??/*") if path.name not in keep]
        for path in gone:
            path.unlink(missing_ok=True)
        return len(gone)


def _settle(folder: Path) -> None:
    """Bring the names in a folder, and its own, to the disk, where the system can."""
    for place in (folder, folder.parent, folder.parent.parent):
        with suppress(OSError):
            handle = os.open(place, os.O_RDONLY)
            try:
                os.fsync(handle)
            finally:
                os.close(handle)
