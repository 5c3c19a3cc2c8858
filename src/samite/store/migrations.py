"""The tables, step by step: every step and its record share one transaction."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from samite.kernel.errors import StoreError
from samite.store.database import Database


@dataclass(frozen=True, slots=True)
class Migration:
    """One step from a version of the tables to the next.

    Parameters
    ----------
    name : str
        What it does.
    statements : tuple of str
        How.
    """

    name: str
    statements: tuple[str, ...]


def _kept(table: str, *columns: str) -> str:
    own = "".join(f", {column}" for column in columns)
    return (
        f"CREATE TABLE {table} (key TEXT PRIMARY KEY, version INTEGER NOT NULL, "
        f"binned_on TEXT, body TEXT NOT NULL{own})"
    )


def _refers(column: str, table: str, *, needed: bool) -> str:
    must = " NOT NULL" if needed else ""
    return f"{column} TEXT{must} REFERENCES {table} (key) DEFERRABLE INITIALLY DEFERRED"


MIGRATIONS = (
    Migration(
        "cloths, irons, boards, needles, threads, swatches, photos and the log of changes",
        (
            "CREATE TABLE counters (name TEXT PRIMARY KEY, value INTEGER NOT NULL)",
            "INSERT INTO counters (name, value) VALUES ('change', 0)",
            _kept("cloths", "label_key TEXT NOT NULL"),
            _kept("irons", "name_key TEXT NOT NULL"),
            _kept("boards", "name_key TEXT NOT NULL"),
            _kept("needles"),
            _kept("threads"),
            _kept("photos"),
            _kept(
                "swatches",
                _refers("cloth_key", "cloths", needed=True),
                _refers("iron_key", "irons", needed=False),
                _refers("board_key", "boards", needed=False),
                "made_on TEXT NOT NULL",
            ),
            "CREATE TABLE swatch_photos ("
            f"{_refers('swatch_key', 'swatches', needed=True)}, "
            f"{_refers('photo_key', 'photos', needed=True)}, "
            "PRIMARY KEY (swatch_key, photo_key))",
            "CREATE TABLE acts (number INTEGER PRIMARY KEY, said TEXT NOT NULL, "
            "said_on TEXT NOT NULL, state TEXT NOT NULL)",
            "CREATE TABLE changes (number INTEGER PRIMARY KEY, "
            "act INTEGER NOT NULL REFERENCES acts (number) DEFERRABLE INITIALLY DEFERRED, "
            "kind TEXT NOT NULL, key TEXT NOT NULL, before_image TEXT, after_image TEXT)",
            "CREATE INDEX cloths_by_label ON cloths (label_key)",
            "CREATE INDEX swatches_by_cloth ON swatches (cloth_key, binned_on, made_on, version)",
            "CREATE INDEX swatches_by_iron ON swatches (iron_key)",
            "CREATE INDEX swatches_by_board ON swatches (board_key)",
            "CREATE INDEX photos_of_swatches ON swatch_photos (photo_key)",
            "CREATE INDEX changes_by_act ON changes (act)",
            "CREATE INDEX acts_by_state ON acts (state, number)",
        ),
    ),
    Migration(
        "bodies",
        (
            _kept("bodies", "name_key TEXT NOT NULL"),
            "CREATE INDEX bodies_by_name ON bodies (name_key)",
        ),
    ),
    Migration("remnants", (_kept("remnants"),)),
    Migration(
        "jobs",
        (
            _kept("jobs", "name_key TEXT NOT NULL"),
            "CREATE INDEX jobs_by_name ON jobs (name_key)",
        ),
    ),
    Migration("works", (_kept("works"),)),
    # No table changes: a program that does not know the load must not read such a swatch.
    Migration("load hung from a sewn swatch", ()),
)
"""In order; the number of a step is its place, from 1. A step that was published never changes."""


def version_of(database: Database) -> int:
    """Return the version of the tables.

    Parameters
    ----------
    database : Database
        An open file.

    Returns
    -------
    int
        Number of steps taken; 0 for an empty file.

    Raises
    ------
    StoreError
        If the file holds something else than a store.
    """
    if database.is_empty():
        return 0
    if not database.has_table("migrations"):
        raise StoreError(
            "that file is a database, but no store of samite",
            str(database.path),
            "name another file with --store or SAMITE_STORE",
        )
    found = database.run("SELECT max(number) FROM migrations")[0][0]
    return int(found or 0)


def check_version(database: Database, migrations: Sequence[Migration] = MIGRATIONS) -> int:
    """Refuse a store that a newer program has written.

    Parameters
    ----------
    database : Database
        An open file.
    migrations : sequence of Migration
        The steps that this program knows.

    Returns
    -------
    int
        Version of the tables.

    Raises
    ------
    StoreError
        If it is newer.
    """
    version = version_of(database)
    if version > len(migrations):
        raise StoreError(
            f"the store is of version {version}, this program knows up to {len(migrations)}",
            str(database.path),
            "use the newer samite that wrote it; nothing was changed",
        )
    return version


def migrate(database: Database, migrations: Sequence[Migration] = MIGRATIONS) -> int:
    """Bring the tables up to this program's version.

    Parameters
    ----------
    database : Database
        An open file.
    migrations : sequence of Migration
        The steps.

    Returns
    -------
    int
        How many steps were taken.
    """
    if check_version(database, migrations) == len(migrations):
        return 0
    taken = 0
    while _step(database, migrations):
        taken += 1
    return taken


def _step(database: Database, migrations: Sequence[Migration]) -> bool:
    """Take the next step, if there is one, with its record, in one transaction."""
    with database.transaction():
        number = check_version(database, migrations) + 1
        if number > len(migrations):
            return False
        if number == 1:
            database.run("CREATE TABLE migrations (number INTEGER PRIMARY KEY, name TEXT NOT NULL)")
        step = migrations[number - 1]
        for statement in step.statements:
            database.run(statement)
        database.run("INSERT INTO migrations (number, name) VALUES (?, ?)", (number, step.name))
    return True
