"""``samite swatch fibre|next|learnt``: what to test, and what tests have taught."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable
from pathlib import Path

import click

from samite.cli.iron_option import IRON, iron_from
from samite.cli.label_input import label_from
from samite.cli.output_file import OUT, write_drawing, write_file
from samite.cli.store_option import JSON, STORE, answer, today
from samite.cli.swatch_next_text import fibre_text, learnt_text, next_text
from samite.sheets.papers import PAPERS

ANSWERS = {
    "near": "Near the flame: shrinks or stays.",
    "after": "Out of the flame: burns-on, glows, goes-out or never-lit.",
    "smell": "paper, hair, vinegar, celery, sweet, wax, acrid or none.",
    "left": "What is left: soft-ash, brittle-bead, hard-bead or unburnt.",
    "float": "Wetted threads in water: floats or sinks.",
    "iron": "Dot at which it first sticks: 1, 2, 3 or never.",
}
"""Questions of the fibre tests, and their answers."""


def answer_options(command: Callable[..., None]) -> Callable[..., None]:
    """Give a command an option for every question.

    Parameters
    ----------
    command : callable
        The command.

    Returns
    -------
    callable
        The same.
    """
    for name, text in reversed(ANSWERS.items()):
        option = "--iron-touch" if name == "iron" else f"--{name}"
        command = click.option(option, f"seen_{name}", default="", metavar="WORD", help=text)(
            command
        )
    return command


@click.command("fibre")
@click.argument("label", nargs=-1, required=False)
@answer_options
@click.option("--tests", is_flag=True, help="All steps and cautions, not only of the best test.")
@IRON
@STORE
@JSON
def fibre(
    label: tuple[str, ...], tests: bool, iron: str, store: Path, as_json: bool, **seen: str
) -> None:
    """Tell what an unlabelled cloth may be, from burn, iron-touch and float tests.

    Without an answer it says which test to make and how. A LABEL, even half of one, helps:
    samite swatch fibre "satin, 150 cm" --float sinks --smell sweet --left hard-bead
    """
    from samite.services.fibre import fibre_view

    answers = {name.removeprefix("seen_"): text for name, text in seen.items()}
    view = fibre_view(" ".join(label), answers, iron_from(iron, store))
    answer(view, fibre_text(view, every=tests), as_json)


MAKER = click.option("--maker", default="", metavar="NAME", help="Whose hand it is for.")
FOR = click.option("--for", "use", default="", metavar="WORDS", help='"lined, on skin, one night"')


@click.command("next")
@click.argument("label", nargs=-1, required=False)
@FOR
@IRON
@MAKER
@click.option("--svg", type=OUT, metavar="FILE", help="The square with its places, as SVG.")
@click.option("--pdf", type=OUT, metavar="FILE", help="The slip on one page, as PDF.")
@click.option("--paper", type=click.Choice(PAPERS), default=PAPERS[0], help="Paper of the page.")
@STORE
@JSON
def following(
    label: tuple[str, ...],
    use: str,
    iron: str,
    maker: str,
    svg: Path | None,
    pdf: Path | None,
    paper: str,
    store: Path,
    as_json: bool,
) -> None:
    """Tell what to test next on the cloth of a LABEL, and the slip that holds it all.

    Tests by what they are expected to better the press, per minute and per centimetre; the slip is
    one square of 20 x 20 cm for twenty minutes, the coolest station first.
    """
    from samite.services.next_test import next_view
    from samite.services.slip import slip_pdf, slip_svg

    own = iron_from(iron, store)
    view = next_view(
        store, label_from(label), use, iron=own, iron_name=iron, maker=maker, progress=_progress
    )
    text = view["cloth"]["label"]
    if svg:
        write_file(svg, slip_svg(text, view["slip"]).encode("utf-8"), "--svg")
    if pdf:
        write_file(pdf, slip_pdf(text, view["slip"], paper, today()), "--pdf")
    answer(view, next_text(view), as_json)


def _progress(done: int, whole: int) -> None:
    """Tell on the terminal, and nowhere else, how far it has come."""
    if sys.stderr.isatty():
        click.echo(
            f"\rweighing {done} of {whole}" + ("\n" if done == whole else ""), err=True, nl=False
        )


@click.command("learnt")
@click.argument("label", nargs=-1, required=False)
@FOR
@IRON
@MAKER
@click.option("--svg", type=OUT, metavar="FILE", help="Before and after side by side, as SVG.")
@click.option("--moved-svg", type=OUT, metavar="FILE", help="What moved, bar by bar, as SVG.")
@click.option(
    "--export", "export", type=OUT, metavar="FILE",
    help="What was learnt without photos, names and notes, as JSON.",
)  # fmt: skip
@STORE
@JSON
def learnt(
    label: tuple[str, ...],
    use: str,
    iron: str,
    maker: str,
    svg: Path | None,
    moved_svg: Path | None,
    export: Path | None,
    store: Path,
    as_json: bool,
) -> None:
    """Tell what swatches have taught of the cloth of a LABEL (or its key): before and after."""
    from samite.services import learnt as service

    own = iron_from(iron, store)
    text = label_from(label)
    view = service.learnt_view(store, text, use, iron=own, iron_name=iron, maker=maker)
    if svg:
        write_drawing(svg, service.learnt_svg(view))
    if moved_svg:
        write_drawing(moved_svg, service.moved_svg(view), "--moved-svg")
    if export:
        told = service.export_learnt(store, text, iron=own, iron_name=iron, view=view)
        content = json.dumps(told, ensure_ascii=False, indent=1) + "\n"
        write_file(export, content.encode("utf-8"), "--export")
    answer(view, learnt_text(view), as_json)
