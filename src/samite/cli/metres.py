"""``samite metres``: the answer at the shop counter."""

from __future__ import annotations

import json

import click

from samite.kernel.errors import InputError


@click.command("metres")
@click.argument("words", nargs=-1)
@click.option("--json", "as_json", is_flag=True, help="One JSON document on standard output.")
def command(words: tuple[str, ...], as_json: bool) -> None:
    """Tell how many metres a SHAPE takes, before any body exists.

    For example: samite metres "hooded cloak, tall adult, 140 cm velvet"
    """
    from samite.services.metres import metres

    if not words:
        raise InputError("what is it to be?", "SHAPE", '"hooded cloak, tall adult, 140 cm velvet"')
    found = metres(" ".join(words))
    if as_json:
        click.echo(json.dumps(found, ensure_ascii=False))
        return
    click.echo(
        f"{found['metres']:.1f} m ({found['low']:.1f} to {found['high']:.1f} m) of"
        f" {found['width_mm'] / 10:g} cm for {found['shape']}, {found['body']}"
    )
    for text in found["assumed"]:
        click.echo(f"  {text}")
