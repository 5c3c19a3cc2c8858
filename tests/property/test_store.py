"""Laws of the store: values come back as they were; undo and redo are exact opposites."""

from __future__ import annotations

import json
import tempfile
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

from hypothesis import given
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule
from tests.swatches import JPEG, TEXTS, TODAY, swatches, values

from samite.garment.stock import KeptCloth
from samite.kernel.keys import canonical_json
from samite.store.codec import from_plain, to_plain
from samite.store.kinds import CLOTH, KINDS, PHOTO, SWATCH
from samite.store.store import Store


@given(values())
def test_every_value_comes_back_from_its_json(value: Any) -> None:
    told = canonical_json(to_plain(value))
    assert from_plain(type(value), json.loads(told)) == value


def contents(store: Store) -> dict[str, Any]:
    """All rows without their versions, and the links that follow from them."""
    found: dict[str, Any] = {
        kind.table: sorted(store.database.run(f"SELECT key, binned_on, body FROM {kind.table}"))  # noqa: S608
        for kind in KINDS.values()
    }
    found["links"] = sorted(store.database.run("SELECT swatch_key, photo_key FROM swatch_photos"))
    return found


class Journal(RuleBasedStateMachine):
    """Acts in any order, against a plain list of states as the twin."""

    def __init__(self) -> None:
        super().__init__()
        self.folder = tempfile.TemporaryDirectory()
        self.store = Store(Path(self.folder.name) / "store.sqlite")
        self.states = [contents(self.store)]
        self.now = 0
        self.versions: set[int] = set()

    def teardown(self) -> None:
        self.store.database.close()
        self.folder.cleanup()

    def done(self) -> None:
        del self.states[self.now + 1 :]
        self.states.append(contents(self.store))
        self.now += 1

    @rule(data=st.data(), label=st.sampled_from(["silk", "wool", "film"]), photo=st.integers(0, 2))
    def keep(self, data: st.DataObject, label: str, photo: int) -> None:
        with self.store.act("keep", TODAY) as changes:
            cloth = self.store.cloth_of(label) or changes.add(CLOTH, KeptCloth(label))
            value = data.draw(swatches(cloth.key))
            key = changes.keep_photo(JPEG + bytes([photo]))
            kept = changes.add(SWATCH, replace(value, photos=(key,) if photo else ()))
            # Twice in one act, so that the order of undoing matters.
            again = replace(kept.value, set_aside=not value.set_aside)
            changes.change(SWATCH, kept.key, kept.version, again)
        self.done()

    @precondition(lambda self: self.store.all(SWATCH))
    @rule(data=st.data(), note=TEXTS)
    def change(self, data: st.DataObject, note: str) -> None:
        kept = data.draw(st.sampled_from(self.store.all(SWATCH)))
        with self.store.act("change", TODAY) as changes:
            changes.change(SWATCH, kept.key, kept.version, replace(kept.value, note=note))
        self.done()

    @precondition(lambda self: self.store.all(SWATCH))
    @rule(data=st.data(), on=st.none() | st.just(date(2031, 2, 4)))
    def throw(self, data: st.DataObject, on: date | None) -> None:
        kept = data.draw(st.sampled_from(self.store.all(SWATCH)))
        with self.store.act("bin", TODAY) as changes:
            changes.bin(SWATCH, kept.key, kept.version, on)
        self.done()

    @rule()
    def undo(self) -> None:
        said = self.store.undo()
        assert bool(said) == (self.now > 0)
        self.now = max(self.now - 1, 0)

    @rule()
    def redo(self) -> None:
        said = self.store.redo()
        assert bool(said) == (self.now + 1 < len(self.states))
        self.now = min(self.now + 1, len(self.states) - 1)

    @rule()
    def empty(self) -> None:
        self.store.empty_bin(TODAY)
        assert self.store.all(SWATCH, binned=True) == []
        used = {photo for item in self.store.all(SWATCH) for photo in item.value.photos}
        assert {item.key for item in self.store.all(PHOTO)} == used
        self.states, self.now = [contents(self.store)], 0

    @invariant()
    def is_as_the_twin_says(self) -> None:
        assert contents(self.store) == self.states[self.now]
        assert self.store.database.damage() == ""

    @invariant()
    def every_photo_is_there(self) -> None:
        for item in self.store.all(PHOTO):
            assert self.store.photos.read(item.key)


TestJournal = Journal.TestCase
