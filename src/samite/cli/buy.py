"""``samite buy``: the buying list of a costume job alone."""

from __future__ import annotations

import json
import sys
from pathlib import Path

import click

from samite.cli.job_options import asked_job, job_options
from samite.cli.job_text import buying_text, problems_text, progress
from samite.cli.text_file import GIVEN


@click.command("buy")
@click.argument("project", type=GIVEN, metavar="PROJECT.toml")
@job_options
@click.option("--csv", "as_csv", is_flag=True, help="A table that any sheet opens.")
@click.option("--json", "as_json", is_flag=True, help="One JSON document on standard output.")
def command(
    project: Path,
    seconds: float,
    today: str,
    units: str | None,
    no_stock: bool,
    store: Path,
    as_csv: bool,
    as_json: bool,
) -> None:
    """List what the costume job in PROJECT.toml needs from the shop, and what it costs."""
    from samite.services.job_lays import Effort
    from samite.services.make import make_job
    from samite.services.make_files import buying_csv

    job = asked_job(project, today, units, store, no_stock=no_stock)
    made = make_job(
        job, effort=Effort(seconds), on_step=progress(as_json or as_csv), wanted=("buy",)
    )
    buy = made.answer("buy")
    if as_json:
        click.echo(json.dumps(buy, ensure_ascii=False))
    elif as_csv:
        click.echo(buying_csv(buy) if buy else "", nl=False)
    else:
        click.echo("\n".join(buying_text(buy)))
    if made.problems:
        click.echo("\n".join(problems_text(made.problems)), err=as_json or as_csv)
        sys.exit(2)
