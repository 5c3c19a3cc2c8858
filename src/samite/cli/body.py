"""``samite body``: measures kept under a name of one's own."""

from __future__ import annotations

import json
from pathlib import Path

import click

from samite.cli.pairs import read_pairs
from samite.cli.store_option import STORE, today
from samite.kernel.errors import InputError

GROUPS = ("adult", "women", "men", "girls", "boys")


@click.command("body")
@click.argument("action", type=click.Choice(["keep", "list", "show", "bin", "erase", "tapes"]))
@click.argument("name", required=False)
@click.option("--measure", "measures", multiple=True, metavar="NAME=LENGTH", help="A body measure.")
@click.option("--group", type=click.Choice(GROUPS), default="adult", help="Whose statistics.")
@click.option("--age", default="", help="Age of a child.")
@click.option("--size", default="", help="A women's size to start from, 00 to 20.")
@click.option("--back", is_flag=True, help="Of bin: take it out again.")
@STORE
@click.option("--json", "as_json", is_flag=True, help="One JSON document on standard output.")
def command(
    action: str,
    name: str | None,
    measures: tuple[str, ...],
    group: str,
    age: str,
    size: str,
    back: bool,
    store: Path,
    as_json: bool,
) -> None:
    """Keep, list, show, bin or erase a body, or tell how the tapes run.

    NAME is the owner's choice. What is in the bin can be taken out; what is erased is gone.
    """
    from samite.services import bodies
    from samite.services.piece_ask import PieceAsk

    if action == "tapes":
        _show_tapes(as_json)
        return
    if action == "list":
        names = bodies.body_names(store)
        binned = bodies.body_names(store, binned=True)
        view = {"format": "samite.bodies.v1", "names": names, "binned": binned}
        click.echo(json.dumps(view, ensure_ascii=False) if as_json else "\n".join(names))
        return
    if not name:
        raise InputError("which body?", "NAME", "samite body list shows all")
    if action == "keep":
        ask = PieceAsk("", read_pairs(measures, "--measure"), group=group, age=age, size=size)
        for doubt in bodies.keep_body(store, name, ask, today()):
            click.echo(f"samite: {doubt}", err=True)
    elif action == "erase":
        bodies.erase_body(store, name, today())
    elif action == "bin":
        bodies.bin_body(store, name, today(), back=back)
    else:
        click.echo(
            json.dumps(
                bodies.kept_body(store, name), ensure_ascii=False, indent=None if as_json else 1
            )
        )


def _show_tapes(as_json: bool) -> None:
    from samite.tables.bodies import measure_entries

    entries = measure_entries().values()
    if as_json:
        told = [
            {"name": e.name, "says": e.says, "how": e.how, "min_mm": e.min_mm, "max_mm": e.max_mm}
            for e in entries
        ]
        click.echo(json.dumps({"format": "samite.tapes.v1", "measures": told}, ensure_ascii=False))
        return
    for entry in entries:
        click.echo(f"{entry.name}: {entry.says}. {entry.how}")
