"""``samite make``: a whole costume job, computed and written to a folder."""

from __future__ import annotations

import json
import sys
from pathlib import Path

import click

from samite.cli.job_options import asked_job, job_options
from samite.cli.job_text import job_text, progress
from samite.cli.text_file import GIVEN
from samite.sheets.papers import PAPERS


@click.command("make")
@click.argument("project", type=GIVEN, metavar="PROJECT.toml")
@click.option(
    "--out",
    type=click.Path(file_okay=False, path_type=Path),
    help="Folder to write to; the file's name without its ending, if not given.",
)
@click.option("--paper", type=click.Choice(PAPERS), default="a4", help="Paper of the packet.")
@job_options
@click.option("--json", "as_json", is_flag=True, help="One JSON document on standard output.")
def command(
    project: Path,
    out: Path | None,
    seconds: float,
    paper: str,
    today: str,
    units: str | None,
    no_stock: bool,
    store: Path,
    as_json: bool,
) -> None:
    """Compute the costume job in PROJECT.toml: cards, pieces, lays, buying list, labels.

    Everything that can be computed is written, whatever else is wrong; what is wrong is listed.
    """
    from samite.services.job_lays import Effort
    from samite.services.kept_answers import KeptAnswers
    from samite.services.make import make_job, make_json
    from samite.services.make_files import job_files, write_files
    from samite.services.packet import packet_files

    job = asked_job(project, today, units, store, no_stock=no_stock)
    folder = out or project.with_suffix("")
    known = KeptAnswers(folder / ".answers")
    made = make_job(job, known=known, effort=Effort(seconds), on_step=progress(as_json))
    written = write_files(job_files(made), folder)
    written += write_files(packet_files(made, paper=paper), folder)
    if as_json:
        click.echo(json.dumps(make_json(made), ensure_ascii=False))
    else:
        click.echo(job_text(made, folder, written))
    sys.exit(2 if made.problems else 0)
