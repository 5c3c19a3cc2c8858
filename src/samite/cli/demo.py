"""``samite demo``: the main job on the built-in scenario."""

from __future__ import annotations

import textwrap
from pathlib import Path

import click

from samite.cli.card_text import WIDTH, card_text
from samite.services.demo import ALL_CARDS, Bolt, demo_title, write_demo


@click.command("demo")
@click.option(
    "--out",
    type=click.Path(file_okay=False, path_type=Path),
    default=Path("lantern-procession"),
    show_default=True,
    help="Folder to write to.",
)
def command(out: Path) -> None:
    """Write the bench cards of an invented scenario and say on one screen what is in them."""
    title, intro = demo_title()
    written = write_demo(out, card_text)
    click.echo("=" * WIDTH)
    click.echo(title.upper())
    click.echo(textwrap.fill(intro, WIDTH))
    click.echo("=" * WIDTH)
    for bolt, path in written:
        click.echo(f"{bolt.role}  ->  {path.name}")
        click.echo(textwrap.indent(_in_short(bolt), "    "))
    click.echo("-" * WIDTH)
    click.echo(f"{len(written)} cards as text, JSON and PDF in {out}/, all of them in {ALL_CARDS}")
    click.echo('Your own cloth: samite card "what the bolt says" --for "lined, one night"')


def _in_short(bolt: Bolt) -> str:
    sewing, press = bolt.card.sewing, bolt.card.press.value
    needle = sewing.needle.value
    iron = f"{press.iron.value} iron, steam {press.steam}" if press.iron.dots else "no iron"
    if press.steam == "hover":
        iron = "steam held off, no contact"
    text = (
        f"{needle.point} {needle.size_nm}, {sewing.stitch.value.as_dict()['name']} "
        f"{sewing.stitch.value.length_mm:g} mm, {sewing.holding.value.method}, "
        f"finish {sewing.seam.value.finish}, {iron}"
    )
    return textwrap.fill(text, WIDTH - 4)
