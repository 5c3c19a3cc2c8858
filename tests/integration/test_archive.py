"""Archive and backup: out and in again exactly; hostile files change nothing."""

from __future__ import annotations

import io
import json
import stat
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from tests.integration.journals import VELVET, entry, fill, rows_of
from tests.swatches import JPEG, TODAY

from samite.kernel.errors import InputError, SamiteError, StoreError
from samite.services.archive import DOCUMENT, export_archive, import_archive
from samite.services.backup import back_up, restore
from samite.services.bin_of_store import empty_bin
from samite.services.journal import record_swatch, set_aside, turn_back
from samite.services.journal_views import list_swatches
from samite.services.packed import UNSUSPECTED
from samite.store.database import Database
from samite.store.photos import content_hash


@pytest.fixture
def place(tmp_path: Path) -> Path:
    fill(tmp_path / "store.sqlite")
    return tmp_path / "store.sqlite"


@pytest.fixture
def packed(place: Path, tmp_path: Path) -> Path:
    export_archive(place, tmp_path / "all.zip")
    return tmp_path / "all.zip"


def test_an_archive_goes_round_exactly(place: Path, packed: Path, tmp_path: Path) -> None:
    other = tmp_path / "other" / "store.sqlite"
    counts = import_archive(other, packed, TODAY)["counts"]
    assert counts["swatch"] == 4
    assert counts["photo"] == 2
    assert rows_of(other) == rows_of(place)
    export_archive(other, tmp_path / "again.zip")
    assert (tmp_path / "again.zip").read_bytes() == packed.read_bytes()


def test_an_archive_is_plain(packed: Path) -> None:
    with zipfile.ZipFile(packed) as archive:
        document = json.loads(archive.read(DOCUMENT))
        names = set(archive.namelist())
        for name in names - {DOCUMENT}:
            assert content_hash(archive.read(name)) == name.removeprefix("photos/")
    assert document["format"] == "samite.archive.v1"
    labels = {item["value"]["label"] for item in document["records"]["cloth"]}
    assert labels == {VELVET, "wool coating"}
    assert len(names) == 3


def test_an_archive_taken_in_twice_adds_nothing_and_is_undone_as_one(
    packed: Path, tmp_path: Path
) -> None:
    other = tmp_path / "other.sqlite"
    record_swatch(other, entry(label="felt"), TODAY)
    before = rows_of(other)
    import_archive(other, packed, TODAY)
    assert set(import_archive(other, packed, TODAY)["counts"].values()) == {0}
    turn_back(other)
    turn_back(other)
    assert rows_of(other) == before


def test_something_else_under_the_same_key_is_refused_whole(place: Path, packed: Path) -> None:
    (swatch, *_) = list_swatches(place, "wool coating")["cloths"][0]["swatches"]
    set_aside(place, swatch["key"], True, TODAY)
    before = rows_of(place)
    with pytest.raises(StoreError, match="another swatch is kept under the same key"):
        import_archive(place, packed, TODAY)
    assert rows_of(place) == before


def test_a_file_that_is_there_is_not_written_over(place: Path, packed: Path) -> None:
    before = packed.read_bytes()
    for write in (export_archive, back_up):
        with pytest.raises(InputError, match="there already"):
            write(place, packed)
    assert packed.read_bytes() == before


Change = Callable[[dict[str, bytes]], None]


def rewritten(packed: Path, change: Change) -> Path:
    """Write the archive anew with something changed."""
    with zipfile.ZipFile(packed) as archive:
        members = {name: archive.read(name) for name in archive.namelist()}
    change(members)
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in members.items():
            archive.writestr(name, content)
    return packed


def document(change: Callable[[dict[str, Any]], None]) -> Change:
    """Change the JSON inside."""

    def changed(members: dict[str, bytes]) -> None:
        told = json.loads(members[DOCUMENT])
        change(told)
        members[DOCUMENT] = json.dumps(told).encode()

    return changed


def photo_name(members: dict[str, bytes]) -> str:
    return next(name for name in members if name.startswith("photos/"))


def bomb_photo(members: dict[str, bytes]) -> None:
    content = JPEG + bytes(UNSUSPECTED * 5)
    members[f"photos/{content_hash(content)}"] = content


def point_nowhere(told: dict[str, Any]) -> None:
    told["records"]["swatch"][0]["value"]["cloth_key"] = "nowhere"


def point_into_the_bin(told: dict[str, Any]) -> None:
    told["records"]["cloth"][0]["binned_on"] = "2031-01-01"


HOSTILE: dict[str, tuple[Change, str]] = {
    "climbing path": (lambda m: m.update({"../../evil": b"x"}), "leads out of the folder"),
    "climbing photo": (lambda m: m.update({"photos/../../evil": b"x"}), "leads out"),
    "absolute path": (lambda m: m.update({"/etc/evil": b"x"}), "leads out of the folder"),
    "drive": (lambda m: m.update({"C:evil": b"x"}), "leads out of the folder"),
    "backslashes": (lambda m: m.update({"..\\evil": b"x"}), "leads out of the folder"),
    "strange file": (lambda m: m.update({"readme.txt": b"x"}), "a strange file"),
    "no document": (lambda m: m.pop(DOCUMENT) and None, "samite.json is not inside"),
    "text bomb": (lambda m: m.update({DOCUMENT: b"[" + b" " * 50_000_000 + b"]"}), "far more"),
    "deep document": (lambda m: m.update({DOCUMENT: b"[" * 90_000 + b"]" * 90_000}), "no JSON"),
    "no JSON": (lambda m: m.update({DOCUMENT: b"{"}), "no JSON"),
    "not a number": (lambda m: m.update({DOCUMENT: b'{"format": NaN}'}), "no JSON"),
    "long number": (lambda m: m.update({DOCUMENT: b'{"a": ' + b"9" * 5000 + b"}"}), "no JSON"),
    "list": (lambda m: m.update({DOCUMENT: b"[]"}), "its form is"),
    "photo bomb": (bomb_photo, "far more"),
    "photo changed": (lambda m: m.update({photo_name(m): JPEG + b"other"}), "not what its name"),
    "photo missing": (lambda m: m.pop(photo_name(m)) and None, "not those that are listed"),
    "photo too many": (
        lambda m: m.update({f"photos/{content_hash(JPEG)}": JPEG}),
        "not those that are listed",
    ),
    "newer": (document(lambda d: d.update(format="samite.archive.v2")), "newer form"),
    "other form": (document(lambda d: d.update(format="samite.card.v1")), "its form is"),
    "unknown kind": (document(lambda d: d["records"].update(hat=[])), "'hat' is unknown"),
    "no records": (document(lambda d: d.update(records=[])), "no records"),
    "pointing at nothing": (document(point_nowhere), "points at a cloth that is not there"),
    "pointing into the bin": (document(point_into_the_bin), "points at a cloth"),
    "impossible seconds": (
        document(lambda d: d["records"]["swatch"][0]["value"]["press"].update(seconds=-4)),
        "seconds = -4 is impossible",
    ),
    "unknown key": (
        document(lambda d: d["records"]["cloth"][0]["value"].update(colour="red")),
        "'colour' is unknown",
    ),
    "key that is a path": (
        document(lambda d: d["records"]["needle"][0].update(key="../../evil")),
        "is no key",
    ),
    "twice": (
        document(lambda d: d["records"]["needle"].append(d["records"]["needle"][0])),
        "stands twice",
    ),
}


@pytest.mark.parametrize("name", HOSTILE)
def test_a_hostile_archive_is_refused_in_clear_words_and_changes_nothing(
    place: Path, packed: Path, tmp_path: Path, name: str
) -> None:
    change, told = HOSTILE[name]
    before = rows_of(place)
    around = sorted(tmp_path.parent.iterdir())
    bad = rewritten(packed, change)
    for target in (place, tmp_path / "fresh" / "store.sqlite"):
        with pytest.raises(InputError, match=told) as caught:
            import_archive(target, bad, TODAY)
        assert caught.value.hint
    assert rows_of(place) == before
    assert not (tmp_path / "fresh").exists()
    assert sorted(tmp_path.parent.iterdir()) == around


def test_a_link_inside_is_refused(place: Path, packed: Path) -> None:
    with zipfile.ZipFile(packed, "a") as archive:
        info = zipfile.ZipInfo("photos/" + "a" * 64)
        info.create_system = 3
        info.external_attr = (stat.S_IFLNK | 0o777) << 16
        archive.writestr(info, "/etc/passwd")
    with pytest.raises(InputError, match="a link is inside"):
        import_archive(place, packed, TODAY)


def test_a_name_that_stands_twice_is_refused(place: Path, packed: Path) -> None:
    with zipfile.ZipFile(packed, "a") as archive, pytest.warns(UserWarning, match="Duplicate"):
        archive.writestr(DOCUMENT, b"{}")
    with pytest.raises(InputError, match="stands twice inside"):
        import_archive(place, packed, TODAY)


def test_a_false_length_is_seen(place: Path, packed: Path) -> None:
    content = bytearray(packed.read_bytes())
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        size = archive.getinfo(DOCUMENT).file_size
    told = size.to_bytes(4, "little")
    spot = content.rindex(told)  # in the list at the end
    content[spot : spot + 4] = (size - 10).to_bytes(4, "little")
    packed.write_bytes(content)
    with pytest.raises(InputError, match=r"damaged or cut off|longer than it says"):
        import_archive(place, packed, TODAY)


@pytest.mark.parametrize("share", [0.0, 0.01, 0.3, 0.7, 0.99])
def test_a_cut_off_archive_and_backup_are_refused(
    place: Path, packed: Path, tmp_path: Path, share: float
) -> None:
    back_up(place, tmp_path / "backup.zip")
    before = rows_of(place)
    for path, take in ((packed, import_archive), (tmp_path / "backup.zip", None)):
        content = path.read_bytes()
        path.write_bytes(content[: int(len(content) * share)])
        with pytest.raises(InputError, match="cut off"):
            take(place, path, TODAY) if take else restore(place, path)
    assert rows_of(place) == before


def test_a_backup_brings_back_everything_and_the_undo(place: Path, tmp_path: Path) -> None:
    before = rows_of(place)
    back_up(place, tmp_path / "backup.zip")
    record_swatch(place, entry(label="felt", photos=(JPEG + b"later",)), TODAY)
    empty_bin(place, TODAY)
    later = rows_of(place)
    view = restore(place, tmp_path / "backup.zip")
    assert rows_of(place) == before
    assert turn_back(place)["undone"] == "swatch put into the bin"
    # The store that was there is not lost either.
    restore(place, Path(view["former"]))
    assert rows_of(place) == later


def test_a_backup_makes_a_store_where_none_is(place: Path, tmp_path: Path) -> None:
    back_up(place, tmp_path / "backup.zip")
    other = tmp_path / "elsewhere" / "store.sqlite"
    assert restore(other, tmp_path / "backup.zip")["former"] is None
    assert rows_of(other) == rows_of(place)
    assert [path.name for path in other.parent.iterdir() if path.name.startswith(".")] == []


def test_a_damaged_store_is_moved_aside_and_replaced(place: Path, tmp_path: Path) -> None:
    before = rows_of(place)
    back_up(place, tmp_path / "backup.zip")
    content = bytearray(place.read_bytes())
    content[100:4000] = bytes(3900)
    place.write_bytes(content)
    view = restore(place, tmp_path / "backup.zip")
    assert rows_of(place) == before
    assert Path(view["former"]).read_bytes() == bytes(content)


def test_a_backup_with_more_in_it_than_samite_puts_there_is_refused(
    place: Path, tmp_path: Path
) -> None:
    with Database(place) as database:
        database.run("CREATE TRIGGER sly AFTER INSERT ON swatches BEGIN DELETE FROM swatches; END")
    back_up(place, tmp_path / "backup.zip")
    with pytest.raises(InputError, match="not samite's"):
        restore(tmp_path / "other.sqlite", tmp_path / "backup.zip")
    assert not (tmp_path / "other.sqlite").exists()


def test_a_backup_is_whole_while_others_write(place: Path, tmp_path: Path) -> None:
    import threading

    stop = threading.Event()

    def write() -> None:
        number = 0
        while not stop.is_set():
            photo = JPEG + f"{number}".encode()
            record_swatch(place, entry(note=str(number), photos=(photo,)), TODAY)
            number += 1

    writer = threading.Thread(target=write)
    writer.start()
    try:
        for number in range(5):
            back_up(place, tmp_path / f"{number}.zip")
            export_archive(place, tmp_path / f"{number}.archive.zip")
    finally:
        stop.set()
        writer.join()
    for number in range(5):
        restore(tmp_path / f"from-{number}.sqlite", tmp_path / f"{number}.zip")
        assert rows_of(tmp_path / f"from-{number}.sqlite")["photo bytes"]
        import_archive(tmp_path / f"in-{number}.sqlite", tmp_path / f"{number}.archive.zip", TODAY)


def test_no_store_no_backup(tmp_path: Path) -> None:
    with pytest.raises(SamiteError, match="no store yet"):
        back_up(tmp_path / "store.sqlite", tmp_path / "backup.zip")
    assert list(tmp_path.iterdir()) == []
