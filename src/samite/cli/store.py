"""``samite store``: backup, restore, archive and bin of what is kept."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from samite.cli.store_option import JSON, STORE, answer, today
from samite.kernel.errors import InputError
from samite.services import archive, backup, bin_of_store

FILE = click.Path(dir_okay=False, path_type=Path)


@click.group("store")
def command() -> None:
    """Look after the file in which samite remembers."""


@command.command("where")
@STORE
@JSON
def where(store: Path, as_json: bool) -> None:
    """Say where the store lies, and what was changed last."""
    view = bin_of_store.describe(store)
    acts = [f"{item['on']}  {item['said']} ({item['state']})" for item in view["acts"]]
    there = "" if view["there"] else " (nothing is kept yet)"
    answer(view, "\n".join([f"{view['file']}{there}", *acts]), as_json)


@command.command("backup")
@click.argument("file", type=FILE)
@STORE
@JSON
def back_up(file: Path, store: Path, as_json: bool) -> None:
    """Write the whole store, with photos and what can be undone, into one new FILE."""
    view = backup.back_up(store, file)
    answer(view, f"backed up: {file}", as_json)


@command.command("restore")
@click.argument("file", type=FILE)
@STORE
@JSON
def restore(file: Path, store: Path, as_json: bool) -> None:
    """Put a backup in the place of the store; the former store is kept beside it."""
    view = backup.restore(store, file)
    former = f"\nthe former store: {view['former']}" if view["former"] else ""
    answer(view, f"restored: {file}{former}", as_json)


@command.command("export")
@click.argument("file", type=FILE)
@STORE
@JSON
def export(file: Path, store: Path, as_json: bool) -> None:
    """Write everything that is kept as JSON and files into one new zip FILE."""
    view = archive.export_archive(store, file)
    answer(view, f"written: {file}: {_counted(view)}", as_json)


@command.command("import")
@click.argument("file", type=FILE)
@STORE
@JSON
def take_in(file: Path, store: Path, as_json: bool) -> None:
    """Take in an archive, all of it or nothing; it can be undone as one."""
    view = archive.import_archive(store, file, today())
    answer(view, f"taken in: {file}: {_counted(view)}", as_json)


@command.command("empty-bin")
@click.option("--yes", is_flag=True, help="Really: this alone cannot be undone.")
@STORE
@JSON
def empty_bin(yes: bool, store: Path, as_json: bool) -> None:
    """Delete for good what is in the bin; nothing before it can be undone afterwards."""
    if not yes:
        raise InputError(
            "emptying the bin cannot be undone, nor anything before it", "--yes", "say --yes"
        )
    view = bin_of_store.empty_bin(store, today())
    answer(view, f"deleted for good: {_counted(view)}", as_json)


def _counted(view: dict[str, Any]) -> str:
    found = [f"{count} {name.replace('_', ' ')}" for name, count in view["counts"].items() if count]
    return ", ".join(found) or "nothing"
