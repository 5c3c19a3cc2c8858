"""Killed in the middle, disk full, read-only, locked, many writers: a clear word, nothing lost."""

from __future__ import annotations

import os
import random
import shutil
import signal
import sqlite3
import subprocess
import sys
import tempfile
import threading
import time
import warnings
from collections import deque
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from tests.integration.journals import entry, fill, rows_of
from tests.swatches import JPEG, TODAY

from samite.kernel.errors import StoreError
from samite.services.backup import back_up
from samite.services.journal import record_swatch
from samite.services.journal_views import list_swatches
from samite.store.database import Database
from samite.store.store import Store

ROOT = Path(__file__).parents[2]
FULL = os.environ.get("SAMITE_FULL") == "1"
KILLS = 200 if FULL else 20

WRITER = """
import sys
from pathlib import Path
from tests.integration.journals import entry
from tests.swatches import JPEG, TODAY
from samite.services.journal import record_swatch
place, name = Path(sys.argv[1]), sys.argv[2]
number = 0
while True:
    photo = JPEG + f"{name} {number}".encode() + bytes(50_000)
    view = record_swatch(place, entry(note=f"{name} {number}", photos=(photo,)), TODAY)
    print(view["key"], view["photos"][0], flush=True)
    number += 1
"""
"""Keeps one swatch after another and says so only when each is kept."""


def python(script: str, *words: str, **options: object) -> subprocess.Popen[str]:
    env = {**os.environ, "PYTHONPATH": os.pathsep.join((str(ROOT / "src"), str(ROOT)))}
    command = [sys.executable, "-c", script, *words]
    return subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env=env, **options)  # type: ignore[call-overload,no-any-return]


def acknowledged(place: Path, name: str, chance: random.Random) -> list[tuple[str, str]]:
    """Let a writer write, kill it at a random moment, and return what it said was kept."""
    process = python(WRITER, str(place), name)
    assert process.stdout
    first = process.stdout.readline()
    time.sleep(chance.uniform(0.0, 0.06))
    process.send_signal(signal.SIGKILL)
    rest = process.stdout.read()
    process.wait()
    process.stdout.close()
    # A line that the kill cut off was not acknowledged.
    lines = [line for line in (first + rest).splitlines(keepends=True) if line.endswith("\n")]
    return [(line.split()[0], line.split()[1]) for line in lines]


@pytest.mark.timeout(900)
def test_killed_in_the_middle_of_writing_nothing_acknowledged_is_lost(tmp_path: Path) -> None:
    place = tmp_path / "store.sqlite"
    chance = random.Random(7)  # noqa: S311
    told: list[tuple[str, str]] = []
    for number in range(KILLS):
        told += acknowledged(place, f"writer {number}", chance)
        with Store(place) as store:
            assert store.database.damage() == ""
    assert len(told) >= KILLS
    (cloth,) = list_swatches(place, most=10**6)["cloths"]
    kept = {item["key"]: item["photos"][0] for item in cloth["swatches"]}
    assert [key for key, photo in told if kept.get(key) != photo] == []
    # At most the one that was under way when the kill came is there without a word.
    assert len(kept) - len(told) <= KILLS
    with Store(place) as store:
        for photo in set(kept.values()):
            store.photos.read(photo)


RESTORER = """
import sys
from pathlib import Path
from samite.services.backup import restore
place, backups = Path(sys.argv[1]), sys.argv[2:]
while True:
    for backup in backups:
        restore(place, Path(backup))
        for former in place.parent.glob("*.before-restore-*"):
            former.unlink()
        print("restored", flush=True)
"""
"""Restores one backup after the other, for ever."""


@pytest.mark.timeout(900)
def test_killed_in_the_middle_of_restoring_the_store_is_the_one_or_the_other(
    tmp_path: Path,
) -> None:
    place = tmp_path / "store.sqlite"
    fill(place)
    states = []
    for name in ("first", "second"):
        record_swatch(place, entry(note=name * 600, photos=(JPEG + name.encode(),)), TODAY)
        back_up(place, tmp_path / f"{name}.zip")
        states.append(rows_of(place))
    chance = random.Random(11)  # noqa: S311
    for _ in range(KILLS):
        backups = (str(tmp_path / "first.zip"), str(tmp_path / "second.zip"))
        process = python(RESTORER, str(place), *backups)
        assert process.stdout
        assert process.stdout.readline() == "restored\n"
        time.sleep(chance.uniform(0.0, 0.05))
        process.kill()
        process.communicate()
        assert rows_of(place) in states


def test_many_writers_at_once_lose_nothing(tmp_path: Path) -> None:
    place = tmp_path / "store.sqlite"
    troubles: list[Exception] = []

    def write(name: str) -> None:
        try:
            for number in range(20):
                record_swatch(place, entry(note=f"{name} {number}"), TODAY)
        except StoreError as error:
            troubles.append(error)

    threads = [threading.Thread(target=write, args=(name,)) for name in "abcdef"]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert troubles == []
    (cloth,) = list_swatches(place, most=1000)["cloths"]
    assert cloth["count"] == 120
    assert len({item["note"] for item in cloth["swatches"]}) == 120


def test_a_locked_file_is_waited_for_then_told_and_can_still_be_read(tmp_path: Path) -> None:
    place = tmp_path / "store.sqlite"
    fill(place)
    before = rows_of(place)
    other = sqlite3.connect(place, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    try:
        with Store(place, patience_s=0.2) as store:
            began = time.monotonic()
            with pytest.raises(StoreError, match="another program is writing") as caught:
                store.undo()
            assert time.monotonic() - began >= 0.2
            assert caught.value.hint
        assert rows_of(place) == before
    finally:
        other.execute("ROLLBACK")
        other.close()
    with Store(place, patience_s=0.2) as store:
        assert store.undo()


def test_restoring_into_a_store_that_stays_locked_is_told(
    tmp_path: Path,
) -> None:
    place = tmp_path / "store.sqlite"
    fill(place)
    back_up(place, tmp_path / "backup.zip")
    record_swatch(place, entry(note="later"), TODAY)
    before = rows_of(place)
    with (
        Database(tmp_path / "source.sqlite", patience_s=0.2) as source,
        Database(place, patience_s=0.1) as target,
    ):
        other = sqlite3.connect(place, isolation_level=None)
        other.execute("BEGIN IMMEDIATE")
        with pytest.raises(StoreError, match="another program is writing"):
            source.copy_over(target)
        other.execute("ROLLBACK")
        other.close()
    assert rows_of(place) == before


@pytest.fixture
def small_disk(tmp_path: Path, lacking: Callable[[str, str], None]) -> Iterator[Path]:
    """A real file system of 2 MB."""
    folder = tmp_path / "disk"
    folder.mkdir()
    mount, umount = shutil.which("mount"), shutil.which("umount")
    if not mount or not umount:
        lacking("mount", "no small disk can be made")
    command = [str(mount), "-t", "tmpfs", "-o", "size=2m", "tmpfs", str(folder)]
    if subprocess.run(command, capture_output=True, check=False).returncode:
        lacking("mount", "this user may not mount a small disk")
    yield folder
    subprocess.run([str(umount), str(folder)], check=True)


def fill_up(folder: Path) -> Path:
    """Take all room that is left."""
    ballast = folder / "ballast"
    with ballast.open("wb", buffering=0) as file:
        try:
            while True:
                file.write(bytes(4096))
        except OSError:
            return ballast


def test_a_full_disk_is_told_and_nothing_is_lost(small_disk: Path) -> None:
    place = small_disk / "store.sqlite"
    fill(place)
    before = rows_of(place)
    ballast = fill_up(small_disk)
    note = "n" * 3900
    with pytest.raises(StoreError, match="full") as caught:
        deque((record_swatch(place, entry(note=note), TODAY) for _ in range(200)), maxlen=0)
    assert "make room" in caught.value.hint
    with pytest.raises(StoreError, match=r"photo cannot be kept|full"):
        record_swatch(place, entry(photos=(JPEG + bytes(500_000),)), TODAY)
    ballast.unlink()
    after = rows_of(place)
    assert set(map(str, before["swatches"])) <= set(map(str, after["swatches"]))
    record_swatch(place, entry(note="goes on"), TODAY)
    assert not list(small_disk.rglob("*.part"))


LIMITED = """
import resource, sys
from pathlib import Path
from samite.kernel.errors import StoreError
from tests.integration.journals import entry
from tests.swatches import TODAY
from samite.services.journal import record_swatch
place, limit = Path(sys.argv[1]), int(sys.argv[2])
kept = 0
resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))
try:
    while kept < 5000:
        record_swatch(place, entry(note="n" * 3900), TODAY)
        kept += 1
except StoreError as error:
    print(kept, error.code, error.message)
"""
"""Writes until no file may grow any more, as on a disk that is full."""


def test_a_file_that_may_not_grow_is_told_and_nothing_is_lost(tmp_path: Path) -> None:
    pytest.importorskip("resource")
    place = tmp_path / "store.sqlite"
    count = len(fill(place))
    process = python(LIMITED, str(place), "400000")
    said, _ = process.communicate(timeout=120)
    kept, code, message = said.split(maxsplit=2)
    assert code == "store-error"
    assert "full" in message
    assert int(kept) > 0
    view = list_swatches(place, most=10_000)
    assert sum(cloth["count"] for cloth in view["cloths"]) == count - 1 + int(kept)
    with Database(place) as database:
        assert database.damage() == ""


def as_nobody(work: Callable[[], list[str]]) -> list[str]:
    """Do some work in a child that may only read, and return what it says."""
    outgoing, incoming = os.pipe()
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", DeprecationWarning)  # a fork beside threads
        child = os.fork()
    if child == 0:  # no module is imported here: another user may not reach this Python
        said: list[str] = []
        try:
            os.setgid(NOBODY)
            os.setuid(NOBODY)
            said = work()
        except BaseException as error:  # noqa: BLE001
            said = [repr(error)]
        os.write(incoming, "\n".join(said).encode())
        os._exit(0)
    os.close(incoming)
    with os.fdopen(outgoing) as file:
        said = file.read().splitlines()
    os.waitpid(child, 0)
    return said


NOBODY = 65534
"""A user without rights."""


def refusal(work: Callable[[], object]) -> str:
    try:
        return f"not refused: {work()}"
    except StoreError as error:
        return error.message


@pytest.fixture
def open_folder(lacking: Callable[[str, str], None]) -> Iterator[Path]:
    """A folder that another user can reach, as the tests' own cannot be."""
    if not hasattr(os, "setuid") or os.getuid() != 0:
        lacking("root", "only root can try what another user may do")
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        folder.chmod(0o755)
        yield folder


def test_a_read_only_folder_is_read_and_its_writing_refused_clearly(open_folder: Path) -> None:
    place = open_folder / "store.sqlite"
    fill(place)
    before = rows_of(place)
    for path in open_folder.rglob("*"):
        path.chmod(0o755 if path.is_dir() else 0o644)

    def work() -> list[str]:
        counts = [cloth["count"] for cloth in list_swatches(place)["cloths"]]
        return [
            str(sum(counts)),
            refusal(lambda: record_swatch(place, entry(), TODAY)),
            refusal(lambda: record_swatch(open_folder / "new.sqlite", entry(), TODAY)),
            refusal(lambda: back_up(place, open_folder / "backup.zip")),
        ]

    work_done_once = list_swatches(place)
    assert work_done_once["cloths"]
    count, existing, new, backup = as_nobody(work)
    assert int(count) == 3
    assert "only be read" in existing
    assert "cannot be opened, or its folder may only be read" in new
    assert "folder cannot be written to" in backup
    assert rows_of(place) == before


def test_changes_that_wait_beside_a_read_only_file_are_not_passed_over(tmp_path: Path) -> None:
    """A copy with its log of changes is read whole."""
    place = tmp_path / "store.sqlite"
    with Store(place) as store:  # held open, so that the log is not brought in
        fill(place)
        copy = tmp_path / "copy.sqlite"
        for ending in ("", "-wal"):
            shutil.copy(f"{place}{ending}", f"{copy}{ending}")
        shutil.copytree(store.photos.root or tmp_path, f"{copy}.photos")
    assert rows_of(copy) == rows_of(place)
