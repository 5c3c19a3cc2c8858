"""``samite stock``: irons, boards, needles, threads and remnants that are kept."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from samite.cli.iron_check_text import (
    by_dial,
    by_dial_strips,
    iron_check_text,
    iron_guide_text,
)
from samite.cli.store_option import JSON, STORE, answer, today
from samite.garment.bench import DIALS, Board, KeptIron, MeasuredDial
from samite.garment.stock import NeedlePacket, ThreadSpool
from samite.kernel.errors import InputError
from samite.kernel.units import parse_quantity
from samite.services import stock

KEY = click.option("--key", default="", help="Put it in the place of the one with this key.")
NOTE = click.option("--note", default="", help="Anything else.")


@click.group("stock")
def command() -> None:
    """Keep irons, boards, needles and threads; remnants come from `samite lay`."""


@command.command("list")
@STORE
@JSON
def show(store: Path, as_json: bool) -> None:
    """Show all that is kept."""
    view = stock.list_stock(store)
    lines = [_line(item) for items in view.values() if isinstance(items, list) for item in items]
    answer(view, "\n".join(lines) or "nothing is kept yet", as_json)


@command.command("iron")
@click.argument("name")
@click.option(
    "--reading", "readings", multiple=True, metavar="TEXT",
    help='What a probe read at a dial position, "medium 148 C"; may stand several times.',
)  # fmt: skip
@NOTE
@KEY
@STORE
@JSON
def iron(
    name: str, readings: tuple[str, ...], note: str, key: str, store: Path, as_json: bool
) -> None:
    """Keep an iron, with what was measured on its sole: two or three readings a position."""
    dials = tuple(
        MeasuredDial(dial, found) for dial in DIALS if (found := _readings(readings, dial))
    )
    _keep(store, KeptIron(name, dials, note), key, as_json)


def _readings(texts: tuple[str, ...], dial: str) -> tuple[float, ...]:
    found = []
    for text in texts:
        word, _, value = text.strip().partition(" ")
        if word not in DIALS:
            raise InputError(
                f"{text[:40]!r} names no dial position", "--reading", 'write "medium 148 C"'
            )
        if word == dial:
            found.append(parse_quantity(value, "C"))
    return tuple(found)


@command.command("check-iron")
@click.argument("name", required=False, default="")
@click.option(
    "--reading", "readings", multiple=True, metavar="TEXT",
    help='What a probe read at a dial position, "medium 148 C"; may stand several times.',
)  # fmt: skip
@click.option(
    "--strip", "strips", multiple=True, metavar="TEXT",
    help='A strip on foil: "medium 149 C, 160 C", the mark that turned and the next that did not.',
)  # fmt: skip
@click.option("--ask", is_flag=True, help="Ask for each reading, step by step.")
@NOTE
@STORE
@JSON
def check_iron(
    name: str,
    readings: tuple[str, ...],
    strips: tuple[str, ...],
    ask: bool,
    note: str,
    store: Path,
    as_json: bool,
) -> None:
    """Check an iron: two or three readings a position become its dial and its swing.

    Without a reading it says how; the iron is then kept under its NAME, for --iron NAME.
    """
    from samite.services import iron_check

    if not (readings or strips or ask):
        guide = {"format": "samite.iron-guide.v1", **iron_check.check_guide()}
        answer(guide, iron_guide_text(guide), as_json)
        return
    if not name.strip():
        raise InputError("the iron has no name", "NAME", "name it, samite stock check-iron NAME")
    if ask:
        readings = (*readings, *_asked(iron_check.check_guide()))
    dials, problems = iron_check.read_dials(by_dial(readings), by_dial_strips(strips))
    if problems:
        raise next(iter(problems.values()))
    view = iron_check.keep_checked_iron(store, name, dials, today(), note)
    answer(view, iron_check_text(view), as_json)


def _asked(guide: dict[str, Any]) -> list[str]:
    """Ask for readings on the terminal; an empty line ends a position."""
    click.echo(iron_guide_text(guide), err=True)
    found = []
    for dial in DIALS:
        for number in range(1, 4):
            text = click.prompt(
                f"{dial}, reading {number} (empty: none)", default="", show_default=False, err=True
            )
            if not text.strip():
                break
            found.append(f"{dial} {text.strip()}")
    return found


@command.command("board")
@click.argument("name")
@click.option("--cover", default="", help="What it is covered with, and padded.")
@NOTE
@KEY
@STORE
@JSON
def board(name: str, cover: str, note: str, key: str, store: Path, as_json: bool) -> None:
    """Keep a board, or whatever else lies under the cloth."""
    _keep(store, Board(name, cover, note), key, as_json)


@command.command("needle")
@click.argument("point")
@click.argument("size_nm", type=int)
@click.argument("count", type=int)
@NOTE
@KEY
@STORE
@JSON
def needle(
    point: str, size_nm: int, count: int, note: str, key: str, store: Path, as_json: bool
) -> None:
    """Keep needles: POINT, size in hundredths of a millimetre, how many."""
    _keep(store, NeedlePacket(point, size_nm, count, note), key, as_json)


@command.command("thread")
@click.argument("fibre")
@click.argument("linear_density")
@click.argument("length")
@click.option("--colour", default="", help="Its colour, in words.")
@NOTE
@KEY
@STORE
@JSON
def thread(
    fibre: str,
    linear_density: str,
    length: str,
    colour: str,
    note: str,
    key: str,
    store: Path,
    as_json: bool,
) -> None:
    """Keep thread: FIBRE, LINEAR_DENSITY ("27 tex", "Ne 60") and LENGTH ("200 m")."""
    tex, metres = parse_quantity(linear_density, "tex"), parse_quantity(length, "m")
    _keep(store, ThreadSpool(fibre, tex, metres, colour, note), key, as_json)


@command.command("bin")
@click.argument("kind", type=click.Choice(list(stock.STOCK)))
@click.argument("key")
@STORE
@JSON
def throw(kind: str, key: str, store: Path, as_json: bool) -> None:
    """Put one into the bin; it stays there until that is emptied."""
    view = stock.bin_stock(store, kind, key, today())
    answer(view, f"in the bin: {_line(view)}", as_json)


def _keep(store: Path, value: Any, key: str, as_json: bool) -> None:
    view = stock.keep_stock(store, value, today(), key)
    answer(view, f"kept: {_line(view)}", as_json)


def _line(item: dict[str, Any]) -> str:
    hidden = ("kind", "key", "version", "dials", "outline_mm")
    told = [str(value) for name, value in item.items() if name not in hidden and value != ""]
    told += [
        f"{dial['dial']} {dial['sole_c']:g} C, swing {dial['swing_c']:g} C"
        for dial in item.get("dials", ())
    ]
    if "outline_mm" in item:
        xs, ys = zip(*item["outline_mm"], strict=True)
        told.append(f"{(max(xs) - min(xs)) / 10:g} x {(max(ys) - min(ys)) / 10:g} cm")
    return f"{item['kind']:<7} {item['key']}  {'; '.join(told)}"
