"""``samite demo``: the main job on the built-in scenario."""

from __future__ import annotations

import textwrap
from pathlib import Path

import click

from samite.cli.card_text import WIDTH
from samite.cli.job_text import job_text, progress


@click.command("demo")
@click.option(
    "--out",
    type=click.Path(file_okay=False, path_type=Path),
    default=Path("lantern-procession"),
    show_default=True,
    help="Folder to write to.",
)
@click.option("--seconds", default=1.0, show_default=True, help="Time to search a lay [s].")
def command(out: Path, seconds: float) -> None:
    """Compute an invented scenario, three costumes from ten bolts, and write its whole packet."""
    from samite.services.demo import JOB_FILE, demo_title, write_demo

    title, intro = demo_title()
    click.echo(textwrap.fill(f"{title}. {intro}", WIDTH))
    made, written = write_demo(out, progress(quiet=False), seconds)
    click.echo(job_text(made, out, written))
    click.echo(f"Look first at {out}/packet.pdf; {JOB_FILE} is the job itself: change it, then")
    click.echo(f"    samite make {out}/{JOB_FILE} --out {out}")
    click.echo('One cloth of your own: samite card "what the bolt says" --for "lined, one night"')
