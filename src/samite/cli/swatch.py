"""``samite swatch``: the journal of tests on real cloth."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Any

import click

from samite.cli import swatch_next
from samite.cli.label_input import label_from
from samite.cli.store_option import JSON, STORE, answer, today
from samite.cli.swatch_text import list_text, swatch_text
from samite.kernel.errors import InputError
from samite.services import journal, journal_views
from samite.services.swatch_form import PRESS_FIELDS, SEW_FIELDS, TRIED, Filled, read_form

FIELD_HELP = {
    "dial": "Where the dial stood: none, low, medium or high.",
    "steam": "none, hover, light or full.",
    "press_cloth": "none, dry or damp.",
    "side": "Side that the iron stood on: wrong or right.",
    "seconds": 'How long on one place, "6 s".',
    "sole": 'What a probe read on the sole, "148 C" or "300 F".',
    "hold_tool": "What held it afterwards: none, hand, weight or clapper.",
    "hold_seconds": "How long it was held.",
    "support": "What lay under: board, needle-board, towel, ham, seam-roll, self or none.",
    "piece": "seam (pressed open) or single-layer.",
    "layers": "Layers sewn together.",
    "needle_point": "Point of the needle.",
    "needle_size": 'Size of the needle, "80" or "80/12".',
    "thread_fibre": "What the thread is spun from.",
    "thread_tex": "Linear density of the thread.",
    "stitch_type": "Number of ISO 4915, for example 301.",
    "stitch_length": 'Length of a stitch, "2.5 mm" or "12 spi".',
    "stitch_width": "Width of a stitch.",
    "tension": "Number on the tension dial.",
    "stretched": "How far the seam was stretched in the test, in per cent.",
    "hung": 'Weight hung from 25 mm of the seam, "3 kg" or "7 lb".',
    "iron": "Name of an iron that is kept.",
    "board": "Name of a board that is kept.",
    "shrunk": "With --seen shrunk: how many mm 10 cm have lost.",
    "cracked": "With --seen cracked: the stretch at which it cracked, in per cent.",
    "note": "Anything else.",
    "maker": "Who made it.",
}
"""Fields that are options, and what they say."""


def field_options(command: Callable[..., None]) -> Callable[..., None]:
    """Give a command an option for every field of a swatch.

    Parameters
    ----------
    command : callable
        The command.

    Returns
    -------
    callable
        The same.
    """
    for name, text in reversed(FIELD_HELP.items()):
        command = click.option(f"--{name.replace('_', '-')}", name, metavar="TEXT", help=text)(
            command
        )
    return command


@click.group("swatch")
def command() -> None:
    """Keep and read tests on real cloth."""


@command.command("add")
@click.argument("label", nargs=-1, required=False)
@click.option("--for", "use", default="", metavar="WORDS", help='"lined, on skin, one night"')
@click.option("--tried", type=click.Choice(TRIED), help="What was tried, if it cannot be told.")
@click.option("--seen", multiple=True, metavar="SIGN", help='A sign seen clearly, or "nothing".')
@click.option("--doubtful", multiple=True, metavar="SIGN", help="A sign seen doubtfully.")
@field_options
@click.option(
    "--photo", "photos", multiple=True, type=click.Path(dir_okay=False, path_type=Path),
    metavar="FILE", help="A photo; may stand several times.",
)  # fmt: skip
@click.option(
    "--made-on", type=click.DateTime(["%Y-%m-%d"]), metavar="DATE", help="Day of the test."
)
@STORE
@JSON
def add(
    label: tuple[str, ...],
    use: str,
    tried: str | None,
    seen: tuple[str, ...],
    doubtful: tuple[str, ...],
    photos: tuple[Path, ...],
    made_on: datetime | None,
    store: Path,
    as_json: bool,
    **fields: str | None,
) -> None:
    """Keep a swatch of the cloth of a LABEL: what was tried, what was seen.

    What is not said of the trial is as `samite press` recommends for that cloth:
    samite swatch add "silk velvet, 110 cm" --seen set-flat --doubtful shine
    """
    text = label_from(label)
    given = {name: value for name, value in fields.items() if value is not None}
    given["tried"] = tried or _tried(given)
    if made_on:
        given["made_on"] = made_on.date().isoformat()
    filled = Filled(
        {**_recommended(text, use, given), **given, "label": text},
        seen,
        doubtful,
        tuple(_read(path) for path in photos),
    )
    entry, problems = read_form(filled, today())
    if entry is None:
        raise next(iter(problems.values()))
    view = journal.record_swatch(store, entry, today())
    answer(view, f"kept: {view['cloth']['label']}\n{swatch_text(view)}", as_json)


def _tried(given: dict[str, str]) -> str:
    """Tell what was tried by what is said of it; by nothing, the pressing."""
    sewn = bool(given.keys() & SEW_FIELDS.keys())
    pressed = bool(given.keys() & (PRESS_FIELDS.keys() | {"iron", "board"}))
    return ("both" if pressed else "sewing") if sewn else "press"


def _recommended(label: str, use: str, given: dict[str, str]) -> dict[str, str]:
    wanted = {"press": PRESS_FIELDS, "sewing": SEW_FIELDS}.get(
        given["tried"], {**PRESS_FIELDS, **SEW_FIELDS}
    )
    if wanted.keys() <= given.keys():
        return {}
    from samite.services.prefill import recommended_fields

    found = recommended_fields(label, use)
    if given.get("steam") == "hover":
        found["press_cloth"] = "none"
    if given.get("hold_tool") == "none":
        found["hold_seconds"] = "0"
    return found


def _read(path: Path) -> bytes:
    try:
        return path.read_bytes()
    except OSError as error:
        raise InputError(
            f"cannot read {path}: {error.strerror}", "--photo", "name a photo"
        ) from None


@command.command("list")
@click.argument("label", nargs=-1, required=False)
@click.option(
    "--most", type=click.IntRange(1, 100_000), default=journal_views.PAGE, show_default=True,
    help="Most swatches of a cloth.",
)  # fmt: skip
@click.option("--skip", type=click.IntRange(0), default=0, help="Leave out so many newer ones.")
@click.option("--bin", "binned", is_flag=True, help="What is in the bin.")
@STORE
@JSON
def show(
    label: tuple[str, ...], most: int, skip: int, binned: bool, store: Path, as_json: bool
) -> None:
    """Show the swatches of the cloth of a LABEL (or its key), or of all cloths, newest first."""
    view = journal_views.list_swatches(store, " ".join(label), most=most, skip=skip, binned=binned)
    answer(view, list_text(view), as_json)


@command.command("set-aside")
@click.argument("key")
@click.option("--back", is_flag=True, help="Take it in again.")
@STORE
@JSON
def aside(key: str, back: bool, store: Path, as_json: bool) -> None:
    """Leave the swatch of a KEY out of later answers, or take it in again."""
    view = journal.set_aside(store, key, not back, today())
    answer(view, swatch_text(view), as_json)


@command.command("bin")
@click.argument("key")
@click.option("--back", is_flag=True, help="Take it out of the bin.")
@click.option("--cloth", is_flag=True, help="KEY is a cloth: it goes with all its swatches.")
@STORE
@JSON
def throw(key: str, back: bool, cloth: bool, store: Path, as_json: bool) -> None:
    """Put the swatch of a KEY into the bin; it stays there until the bin is emptied."""
    if cloth and back:
        raise InputError("a cloth comes back with its swatch", "--back", "leave --cloth out")
    if cloth:
        count = journal.bin_cloth(store, key, today())
        view: dict[str, Any] = {"format": "samite.binned.v1", "cloth": key, "swatches": count}
        answer(view, f"in the bin, with {count} swatches", as_json)
        return
    act = journal.take_out_swatch if back else journal.bin_swatch
    view = act(store, key, today())
    answer(view, swatch_text(view), as_json)


@command.command("undo")
@click.option("--again", is_flag=True, help="Do again what was undone last.")
@STORE
@JSON
def undo(again: bool, store: Path, as_json: bool) -> None:
    """Undo the last change of the store, whatever it was."""
    view = journal.turn_back(store, again=again)
    word = "done again" if again else "undone"
    said = view[word.replace(" ", "_")]
    answer(view, f"{word}: {said}" if said else f"there is nothing to be {word}", as_json)


for _command in (swatch_next.following, swatch_next.learnt, swatch_next.fibre):
    command.add_command(_command)
