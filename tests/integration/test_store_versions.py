"""A store of any earlier version opens; a newer one, a foreign file and a broken step are refused.

``stores/vN.sql`` is a store as the program of version N wrote it, dumped once and never changed.
"""

from __future__ import annotations

import sqlite3
from pathlib import Path

import pytest
from tests.integration.journals import VELVET
from tests.swatches import TODAY

from samite.kernel.errors import DamagedStoreError, StoreError
from samite.services.bodies import body_names, kept_body
from samite.services.job_store import all_jobs
from samite.services.journal import turn_back
from samite.services.journal_views import list_swatches
from samite.services.stock import list_stock
from samite.services.work_jobs import list_jobs
from samite.store.database import Database
from samite.store.migrations import MIGRATIONS, Migration, migrate, version_of
from samite.store.store import Store

LAST = len(MIGRATIONS)
DUMPS = sorted((Path(__file__).parent / "stores").glob("v*.sql"))


def load(dump: Path, place: Path) -> Path:
    connection = sqlite3.connect(place)
    connection.executescript(dump.read_text(encoding="utf-8"))
    connection.close()
    return place


def test_there_is_a_dump_of_every_version_and_the_last_is_as_made_today(tmp_path: Path) -> None:
    assert [int(dump.stem[1:]) for dump in DUMPS] == list(range(1, len(MIGRATIONS) + 1))
    for number, dump in enumerate(DUMPS, 1):
        old = load(dump, tmp_path / f"{number}.sqlite")
        with Database(old) as there, Database(None) as fresh:
            migrate(fresh, MIGRATIONS[:number])
            assert there.schema() == fresh.schema(), "a step that was published never changes"


@pytest.mark.parametrize("dump", DUMPS, ids=lambda dump: dump.stem)
def test_a_store_of_an_earlier_version_opens_with_all_it_holds(dump: Path, tmp_path: Path) -> None:
    place = load(dump, tmp_path / "store.sqlite")
    view = list_swatches(place)
    assert {cloth["label"]: cloth["count"] for cloth in view["cloths"]} == {
        VELVET: 1,
        "wool coating": 1,
    }
    (wool,) = list_swatches(place, "WOOL coating")["cloths"][0]["swatches"]
    assert wool["note"] == "ö · 3"
    assert wool["seen"][0]["shrunk_mm"] == 1.5
    assert wool["tried"]["sew"]["tension"] == 4.5
    (velvet,) = list_swatches(place, VELVET)["cloths"][0]["swatches"]
    assert velvet["set_aside"]
    assert velvet["tried"]["iron"] == "the heavy one"
    (binned,) = list_swatches(place, binned=True)["binned"]
    assert binned["tried"]["press"]["sole_c"] == 147.5
    assert binned["binned_on"] == TODAY.isoformat()
    assert list_stock(place)["irons"][0]["dials"][0]["swing_c"] == 13.5
    if int(dump.stem[1:]) >= 5:
        assert [name for _, name, _ in list_jobs(place)] == ["Lantern hem"]
        assert turn_back(place)["undone"] == "work kept: Lantern hem"
    assert list_jobs(place) == []
    if int(dump.stem[1:]) >= 4:
        assert [one.value.title for one in all_jobs(place)] == ["Lanterns"]
        assert turn_back(place)["undone"] == "job Lanterns kept"
    assert all_jobs(place) == []
    if int(dump.stem[1:]) >= 3:
        assert list_stock(place)["remnants"][0]["outline_mm"][2] == [400.0, 300.0]
        assert turn_back(place)["undone"] == "remnant kept"
    assert list_stock(place)["remnants"] == []
    if int(dump.stem[1:]) >= 2:
        assert kept_body(place, "the tall one")["measures"] == {
            "stature": "181 cm",
            "waist_girth.left": "36 cm",
        }
        assert turn_back(place)["undone"] == "body kept"
    assert body_names(place) == []
    assert turn_back(place)["undone"] == "swatch set aside"
    assert turn_back(place)["undone"] == "swatch put into the bin"
    assert list_swatches(place, VELVET)["cloths"][0]["count"] == 2


def test_a_newer_store_is_refused_and_left_alone(tmp_path: Path) -> None:
    place = load(DUMPS[-1], tmp_path / "store.sqlite")
    newer = (*MIGRATIONS, Migration("from the future", ("CREATE TABLE later (key TEXT)",)))
    with Store(place, migrations=newer):
        pass
    before = place.read_bytes()
    for write in (True, False):
        with pytest.raises(
            StoreError, match=f"version {LAST + 1}, this program knows up to {LAST}"
        ) as caught:
            Store(place, write=write)
        assert "newer samite" in caught.value.hint
    assert place.read_bytes() == before


def test_a_step_and_its_record_share_one_transaction(tmp_path: Path) -> None:
    place = load(DUMPS[-1], tmp_path / "store.sqlite")
    broken = Migration(
        "broken", ("CREATE TABLE later (key TEXT)", "INSERT INTO nowhere VALUES (1)")
    )
    with Database(place) as database:
        before = database.schema()
        with pytest.raises(StoreError, match="nowhere"):
            migrate(database, (*MIGRATIONS, broken))
        assert database.schema() == before
        assert version_of(database) == len(MIGRATIONS)


def test_two_who_open_a_new_store_at_once_make_it_once(tmp_path: Path) -> None:
    with Database(tmp_path / "store.sqlite") as one, Database(tmp_path / "store.sqlite") as two:
        assert migrate(one) == len(MIGRATIONS)
        assert migrate(two) == 0


def test_a_file_that_is_no_store_is_refused_and_left_alone(tmp_path: Path) -> None:
    text = tmp_path / "notes.txt"
    text.write_text("a list of things to buy\n" * 100)
    with pytest.raises(DamagedStoreError, match="no store of samite"):
        Store(text)
    assert text.read_text().startswith("a list of things")
    foreign = tmp_path / "other.sqlite"
    connection = sqlite3.connect(foreign)
    connection.execute("CREATE TABLE songs (name TEXT)")
    connection.close()
    with pytest.raises(StoreError, match="a database, but no store of samite"):
        Store(foreign)
    with pytest.raises(StoreError, match="folder"):
        Store(tmp_path)
