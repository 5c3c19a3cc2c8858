"""No change to the bytes of an archive or a backup does anything but a clear refusal or no harm."""

from __future__ import annotations

import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.integration.journals import fill, rows_of
from tests.swatches import TODAY

from samite.kernel.errors import SamiteError
from samite.services.archive import export_archive, import_archive
from samite.services.backup import back_up, restore

CHANGES = st.lists(
    st.tuples(st.floats(0.0, 1.0, exclude_max=True), st.binary(min_size=1, max_size=8)),
    min_size=1,
    max_size=4,
)
"""Where, as a share of the whole, and what is written there."""


@pytest.fixture(scope="module")
def files() -> Iterator[tuple[Path, bytes, bytes]]:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        place = folder / "store.sqlite"
        fill(place)
        export_archive(place, folder / "all.zip")
        back_up(place, folder / "backup.zip")
        yield place, (folder / "all.zip").read_bytes(), (folder / "backup.zip").read_bytes()


def changed(content: bytes, changes: list[tuple[float, bytes]], cut: int) -> bytes:
    found = bytearray(content)
    for share, piece in changes:
        spot = int(share * len(found))
        found[spot : spot + len(piece)] = piece
    return bytes(found[: len(found) - cut])


def refused(take: Callable[[], object]) -> bool:
    """Tell whether it was refused, in clear words; any other error is a defect."""
    try:
        take()
    except SamiteError as error:
        return bool(error.message and error.hint)
    return False


@given(changes=CHANGES, cut=st.integers(0, 40))
def test_changed_bytes_of_an_archive_are_refused_or_do_no_harm(
    files: tuple[Path, bytes, bytes], changes: list[tuple[float, bytes]], cut: int
) -> None:
    place, archive, _ = files
    with tempfile.TemporaryDirectory() as name:
        path, target = Path(name) / "all.zip", Path(name) / "in" / "store.sqlite"
        path.write_bytes(changed(archive, changes, cut))
        if refused(lambda: import_archive(target, path, TODAY)):
            assert not target.exists()
        else:
            assert rows_of(target) == rows_of(place)
        assert {item.name for item in Path(name).iterdir()} <= {"all.zip", "in"}


@given(changes=CHANGES, cut=st.integers(0, 40))
def test_changed_bytes_of_a_backup_are_refused_or_do_no_harm(
    files: tuple[Path, bytes, bytes], changes: list[tuple[float, bytes]], cut: int
) -> None:
    place, _, backup = files
    with tempfile.TemporaryDirectory() as name:
        path, target = Path(name) / "backup.zip", Path(name) / "in" / "store.sqlite"
        path.write_bytes(changed(backup, changes, cut))
        if refused(lambda: restore(target, path)):
            assert not target.exists()
        else:
            assert rows_of(target) == rows_of(place)
        assert {item.name for item in Path(name).iterdir()} <= {"backup.zip", "in"}


@given(content=st.binary(max_size=300), head=st.sampled_from([b"", b"PK\x03\x04", b"PK\x05\x06"]))
def test_any_bytes_are_refused(content: bytes, head: bytes) -> None:
    with tempfile.TemporaryDirectory() as name:
        path = Path(name) / "any.zip"
        path.write_bytes(head + content)
        for take in (lambda: import_archive(path, path, TODAY), lambda: restore(path, path)):
            with pytest.raises(SamiteError):
                take()
        assert path.read_bytes() == head + content
