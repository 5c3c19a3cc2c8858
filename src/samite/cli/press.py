"""``samite press``: how to press a cloth, or the bare layer solver."""

from __future__ import annotations

import json
from pathlib import Path

import click

from samite.cli.iron_option import IRON, iron_from
from samite.cli.label_input import label_from
from samite.cli.output_file import OUT, write_drawing
from samite.cli.press_text import press_text
from samite.cli.store_option import STORE
from samite.cli.text_file import GIVEN, read_text
from samite.kernel.errors import InputError


@click.command("press")
@click.argument("label", nargs=-1, required=False)
@click.option("--stack", type=GIVEN, metavar="FILE", help="Layers as JSON.")
@click.option("--for", "use", default="", metavar="WORDS", help='"lined, on skin, one night"')
@IRON
@STORE
@click.option("--json", "as_json", is_flag=True, help="One JSON document on standard output.")
@click.option("--svg", type=OUT, metavar="FILE", help="Draw heat and chances by the second.")
@click.option("--steps-svg", type=OUT, metavar="FILE", help="Draw the recipe, a panel a pass.")
def command(
    label: tuple[str, ...],
    stack: Path | None,
    use: str,
    iron: str,
    store: Path,
    as_json: bool,
    svg: Path | None,
    steps_svg: Path | None,
) -> None:
    """Say how to press the cloth of a LABEL, or solve the layers in FILE (--stack)."""
    if stack is not None:
        if label:
            raise InputError("give a LABEL or --stack FILE, not both", "LABEL", "leave one out")
        if iron:
            why = "the bare solver knows no iron: its sole stands in the stack"
            raise InputError(why, "--iron", "leave one out")
        from samite.services.stack import press_stack

        document = press_stack(read_text(stack, "--stack", "JSON"))
        for warning in document.get("warnings", []):
            click.echo(f"samite: warning: {warning}", err=True)
        click.echo(json.dumps(document, indent=1 if not as_json else None))
        return
    from samite.services.past import past_of
    from samite.services.press import press_window_view

    text, mine = label_from(label), iron_from(iron, store)
    view = press_window_view(text, use, iron=mine, past=past_of(store, text, iron=iron))
    if svg:
        from samite.services.paper import press_svg

        write_drawing(svg, press_svg(view))
    if steps_svg:
        from samite.services import press_pictures

        write_drawing(steps_svg, press_pictures.steps_svg(view), "--steps-svg")
    if as_json:
        click.echo(json.dumps(view, ensure_ascii=False))
    else:
        click.echo(press_text(view))
