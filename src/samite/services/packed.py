"""One zip file, written so that equal content gives equal bytes, and read with suspicion."""

from __future__ import annotations

import json
import re
import stat
import zipfile
import zlib
from collections.abc import Iterable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import IO, Any, NoReturn, Self

from samite.kernel.errors import InputError, StoreError
from samite.store.kinds import LARGEST_PHOTO
from samite.store.photos import content_hash

PHOTO_NAME = re.compile(r"photos/([0-9a-f]{64})")
"""Name of a photo inside."""

MOST_MEMBERS = 500_000
"""Files inside that are believed."""

LARGEST_TEXT = 400_000_000
"""Largest text or database inside that is believed [bytes]."""

MOST_PACKED = {True: 4.0, False: 120.0}
"""How much smaller than itself a photo (True) or anything else can be packed [-]."""

UNSUSPECTED = 2_000_000
"""What unpacks to less than this needs no such check [bytes]."""

EPOCH = (1980, 1, 1, 0, 0, 0)
"""The one time that is written, so that the bytes depend on the content alone."""


class Packed:
    """An open zip file whose list of files has been looked through.

    Parameters
    ----------
    path : Path
        The file.
    allowed : frozenset of str
        Names that may be inside, besides photos.

    Raises
    ------
    InputError
        If it is no zip file, cut off, or not of samite's making.
    """

    def __init__(self, path: Path, allowed: frozenset[str]) -> None:
        self._path = path
        try:
            self._zip = zipfile.ZipFile(path)
        except OSError as error:
            raise InputError(
                f"cannot read it: {error.strerror or error}", str(path), "name another file"
            ) from None
        except (zipfile.BadZipFile, ValueError, NotImplementedError, UnicodeError):
            self._refuse("it is no zip file, or it is cut off")
        try:
            self.photos = self._look_through(allowed)
        except BaseException:
            self._zip.close()
            raise

    def _look_through(self, allowed: frozenset[str]) -> frozenset[str]:
        members = self._zip.infolist()
        if len(members) > MOST_MEMBERS:
            self._refuse(f"{len(members)} files are inside")
        names = [item.orig_filename for item in members]
        if len(set(names)) < len(names):
            self._refuse("a name stands twice inside")
        photos = set()
        for item in members:
            found = PHOTO_NAME.fullmatch(item.orig_filename)
            if not found and item.orig_filename not in allowed:
                self._refuse_name(item.orig_filename)
            if found:
                photos.add(found[1])
            self._check_member(item, is_photo=bool(found))
        missing = sorted(allowed - set(names))
        if missing:
            self._refuse(f"{missing[0]} is not inside")
        return frozenset(photos)

    def _refuse_name(self, name: str) -> NoReturn:
        climbs = ".." in re.split(r"[/\\]", name) or name.startswith(("/", "\\")) or ":" in name
        why = "a path inside leads out of the folder" if climbs else "a strange file is inside"
        self._refuse(f"{why}: {name[:80]!r}")

    def _check_member(self, item: zipfile.ZipInfo, *, is_photo: bool) -> None:
        name = item.orig_filename[:80]
        if item.create_system == 3 and stat.S_ISLNK(item.external_attr >> 16):
            self._refuse(f"a link is inside: {name!r}")
        if item.flag_bits & 1:
            self._refuse(f"{name!r} is encrypted")
        if item.file_size > (LARGEST_PHOTO if is_photo else LARGEST_TEXT):
            self._refuse(f"{name!r} would unpack to {item.file_size / 1e6:.0f} MB")
        believed = MOST_PACKED[is_photo] * max(item.compress_size, 1)
        if item.file_size > max(UNSUSPECTED, believed):
            self._refuse(f"{name!r} unpacks to far more than it can be")

    def _refuse(self, why: str) -> NoReturn:
        raise InputError(
            why, str(self._path), "take an unchanged file that samite wrote; nothing was changed"
        )

    def read(self, name: str) -> bytes:
        """Return a file, whole.

        Parameters
        ----------
        name : str
            Its name.

        Returns
        -------
        bytes
            Its content.
        """
        return b"".join(self.pieces(name))

    def pieces(self, name: str) -> Iterator[bytes]:
        """Yield a file piece by piece.

        Parameters
        ----------
        name : str
            Its name.

        Yields
        ------
        bytes
            The next megabyte.
        """
        left = self._zip.getinfo(name).file_size
        with self._told(name), self._zip.open(name) as file:
            while piece := file.read(1_000_000):
                left -= len(piece)
                if left < 0:
                    self._refuse(f"{name!r} is longer than it says")
                yield piece
        if left:
            self._refuse(f"{name!r} is cut off")

    @contextmanager
    def _told(self, name: str) -> Iterator[None]:
        try:
            yield
        except (
            zipfile.BadZipFile,
            zlib.error,
            EOFError,
            OSError,
            NotImplementedError,
            RuntimeError,
        ):
            self._refuse(f"{name!r} is damaged or cut off")

    def photo(self, key: str) -> bytes:
        """Return a photo, checked against its hash.

        Parameters
        ----------
        key : str
            Its content hash.

        Returns
        -------
        bytes
            The file.
        """
        content = self.read(f"photos/{key}")
        if content_hash(content) != key:
            self._refuse(f"a photo is not what its name says: {key[:12]}")
        return content

    def document(self, name: str, form: str) -> dict[str, Any]:
        """Return a JSON document of a known form.

        Parameters
        ----------
        name : str
            Its name.
        form : str
            The ``format`` that it must have.

        Returns
        -------
        dict of str to object
            The document.

        Raises
        ------
        InputError
            If it is malformed, or of a newer form.
        """
        try:
            told = json.loads(self.read(name), parse_constant=_no_number)
        except (ValueError, RecursionError):
            self._refuse(f"{name} is no JSON")
        found = told.get("format") if isinstance(told, dict) else None
        if _is_newer(found, form):
            raise InputError(
                f"it is of the newer form {found}", str(self._path), "use the samite that wrote it"
            )
        if found != form or not isinstance(told, dict):
            self._refuse(f"its form is {str(found)[:40]!r}, not {form}")
        return told

    def close(self) -> None:
        """Close it."""
        self._zip.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()


def _no_number(name: str) -> NoReturn:
    raise ValueError(name)


def _is_newer(found: object, form: str) -> bool:
    stem, _, number = form.rpartition(".v")
    said = re.fullmatch(rf"{re.escape(stem)}\.v([0-9]{{1,6}})", str(found))
    return bool(said) and int(said[1] if said else 0) > int(number)


def write_packed(path: Path, members: Iterable[tuple[str, bytes | Path]]) -> None:
    """Write a zip file: whole, or not at all.

    Parameters
    ----------
    path : Path
        Where to; nothing may be there yet.
    members : iterable of (str, bytes or Path)
        Name and content, or a file that holds it.

    Raises
    ------
    InputError
        If something is there already.
    StoreError
        If the disk does not take it.
    """
    if path.exists():
        raise InputError("a file is there already", str(path), "name a new file")
    part = path.with_name(f"{path.name}.part")
    try:
        with zipfile.ZipFile(part, "w") as packed:
            for name, content in members:
                _write_member(packed, name, content)
        part.replace(path)
    except OSError as error:
        raise StoreError(
            f"the file cannot be written: {error.strerror}",
            str(path),
            "make room, or name another place",
        ) from error
    finally:
        with suppress(OSError):
            part.unlink()


def _write_member(packed: zipfile.ZipFile, name: str, content: bytes | Path) -> None:
    info = zipfile.ZipInfo(name, EPOCH)
    info.create_system = 3
    info.external_attr = 0o644 << 16
    info.compress_type = zipfile.ZIP_STORED if name.startswith("photos/") else zipfile.ZIP_DEFLATED
    if isinstance(content, bytes):
        packed.writestr(info, content)
        return
    info.file_size = content.stat().st_size
    with packed.open(info, "w") as file, content.open("rb") as source:
        _copy(source, file)


def _copy(source: IO[bytes], target: IO[bytes]) -> None:
    while piece := source.read(1_000_000):
        target.write(piece)
