"""``samite swatch fibre|next|learnt``: what to test, and what tests have taught."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import click

from samite.cli.iron_option import IRON, iron_from
from samite.cli.store_option import JSON, STORE, answer
from samite.cli.swatch_next_text import fibre_text

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
