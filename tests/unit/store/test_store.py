"""The store keeps, finds, undoes, and tells two writers apart."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from tests.swatches import JPEG, TODAY, plain_press, plain_swatch

from samite.garment.bench import KeptIron
from samite.garment.stock import KeptCloth
from samite.kernel.errors import ChangedMeanwhileError, InputError, StoreError
from samite.store.kinds import CLOTH, IRON, PHOTO, SWATCH, Kept
from samite.store.photos import content_hash
from samite.store.store import Store
from samite.swatch.trial import Swatch


@pytest.fixture
def place(tmp_path: Path) -> Path:
    return tmp_path / "new folder" / "store.sqlite"


def keep(store: Store, **changed: object) -> Kept[Swatch]:
    with store.act("swatch", TODAY) as changes:
        cloth = store.cloth_of("silk") or changes.add(CLOTH, KeptCloth("silk"))
        return changes.add(SWATCH, plain_swatch(cloth.key, **changed))


def test_what_is_kept_is_there_when_opened_again(place: Path) -> None:
    with Store(place) as store:
        kept = keep(store)
    with Store(place, write=False) as store:
        assert store.get(SWATCH, kept.key) == kept
        assert store.get(SWATCH, kept.key[:5]) == kept
        assert store.cloth_of("  SILK ")
        assert store.swatches_of(kept.value.cloth_key) == [kept]


def test_reading_where_nothing_is_makes_no_file(place: Path) -> None:
    with Store(place, write=False) as store:
        assert store.all(CLOTH) == []
    assert not place.parent.exists()


def test_an_act_that_fails_leaves_nothing(place: Path) -> None:
    def half(store: Store) -> None:
        with store.act("half", TODAY) as changes:
            changes.add(CLOTH, KeptCloth("silk"))
            raise RuntimeError

    with Store(place) as store:
        with pytest.raises(RuntimeError):
            half(store)
        assert store.all(CLOTH) == []
        assert store.acts() == []


def test_the_second_of_two_writers_is_told_and_loses_nothing(place: Path) -> None:
    with Store(place) as one, Store(place) as two:
        kept = keep(one)
        seen_by_two = two.get(SWATCH, kept.key)
        with one.act("note", TODAY) as changes:
            changes.change(SWATCH, kept.key, kept.version, replace(kept.value, note="first"))
        value = replace(seen_by_two.value, note="second")
        with pytest.raises(ChangedMeanwhileError), two.act("note", TODAY) as changes:
            changes.change(SWATCH, kept.key, seen_by_two.version, value)
        assert two.get(SWATCH, kept.key).value.note == "first"


def test_a_version_is_never_given_twice_even_after_undo(place: Path) -> None:
    with Store(place) as store:
        kept = keep(store)
        with store.act("note", TODAY) as changes:
            stale = changes.change(SWATCH, kept.key, kept.version, replace(kept.value, note="a"))
        store.undo()
        now = store.get(SWATCH, kept.key)
        with store.act("note", TODAY) as changes:
            changes.change(SWATCH, kept.key, now.version, replace(kept.value, note="b"))
        with pytest.raises(ChangedMeanwhileError), store.act("note", TODAY) as changes:
            changes.bin(SWATCH, kept.key, stale.version, TODAY)


def test_what_is_undone_stays_in_the_log_when_something_new_is_done(place: Path) -> None:
    with Store(place) as store:
        keep(store, note="first")
        store.undo()
        keep(store, note="second")
        assert [item.state for item in store.acts()] == ["done", "dropped"]
        assert store.redo() == ""


def test_the_bin_keeps_until_it_is_emptied(place: Path) -> None:
    with Store(place) as store:
        with store.act("photo", TODAY) as changes:
            photo = changes.keep_photo(JPEG + b"one")
        kept = keep(store, photos=(photo,))
        other = keep(store)
        with store.act("bin", TODAY) as changes:
            changes.bin(SWATCH, kept.key, kept.version, TODAY)
        assert store.swatches_of(kept.value.cloth_key) == [other]
        assert [item.key for item in store.all(SWATCH, binned=True)] == [kept.key]
        assert store.photos.read(photo) == JPEG + b"one"
        gone = store.empty_bin(TODAY)
        assert (gone["swatch"], gone["photo"], gone["photo_files"]) == (1, 1, 1)
        assert store.undo() == ""
        assert store.get(SWATCH, other.key) == other
        assert not store.photos.place(photo).exists()
        assert store.database.damage() == ""


def test_a_photo_is_kept_once_and_its_damage_is_told(place: Path) -> None:
    with Store(place) as store:
        with store.act("photos", TODAY) as changes:
            keys = {changes.keep_photo(JPEG + b"one") for _ in range(2)}
        assert keys == {content_hash(JPEG + b"one")}
        assert len(store.all(PHOTO)) == 1
        (key,) = keys
        store.photos.place(key).write_bytes(b"changed")
        with pytest.raises(StoreError, match="damaged"):
            store.photos.read(key)


@pytest.mark.parametrize("content", [b"", b"GIF89a", b"<svg>", b"%PDF"])
def test_what_is_no_photo_is_refused_and_not_written(place: Path, content: bytes) -> None:
    with Store(place) as store:
        with pytest.raises(InputError, match="photo"), store.act("photo", TODAY) as changes:
            changes.keep_photo(content)
        assert not store.photos.root or not list(store.photos.root.glob("*/*"))


def test_nothing_can_point_at_what_is_not_there(place: Path) -> None:
    with Store(place) as store:
        with pytest.raises(StoreError, match="pointing at nothing"), store.act("x", TODAY) as act:
            act.add(SWATCH, plain_swatch("nowhere"))
        assert store.all(SWATCH) == []
        iron = KeptIron("old")
        with store.act("iron", TODAY) as act:
            key = act.add(IRON, iron).key
        kept = keep(store, press=plain_press(iron_key=key))
        assert store.count_with(IRON, key) == 1
        assert store.get(SWATCH, kept.key).value.press.iron_key == key


@pytest.mark.parametrize("key", ["", "zz", "%", "____", "nothere", "../../../../etc"])
def test_a_key_that_names_nothing_is_told(place: Path, key: str) -> None:
    with Store(place) as store:
        keep(store)
        with pytest.raises(InputError, match="there is no swatch"):
            store.get(SWATCH, key)


def test_newest_first_page_by_page(place: Path) -> None:
    with Store(place) as store:
        kept = [keep(store, note=str(number)) for number in range(7)]
        cloth = kept[0].value.cloth_key
        notes = [item.value.note for item in store.swatches_of(cloth, most=3, skip=2)]
        assert notes == ["4", "3", "2"]
        assert store.counts() == {cloth: 7} == {cloth: store.count_of(cloth)}
