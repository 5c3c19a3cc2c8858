"""``samite work``: the order of work."""

from __future__ import annotations

import json
from datetime import datetime
from pathlib import Path

import click

from samite.cli.job_text import progress
from samite.cli.output_file import OUT, write_file
from samite.cli.text_file import GIVEN, read_text
from samite.sheets.papers import PAPERS

JOB_FORMAT = "samite.project.v1"


@click.command("work")
@click.argument("file", type=GIVEN)
@click.option("--done", "done", multiple=True, metavar="NAME[=MINUTES]", help="Ticked off.")
@click.option("--now", default="", metavar="MOMENT", help="Plan from this moment on.")
@click.option("--effort", type=click.FloatRange(0.01, 200.0), default=1.0, help="How hard to look.")
@click.option("--seed", type=click.IntRange(0, 2**31 - 1), default=1, help="Of the search.")
@click.option("--ics", type=OUT, metavar="FILE", help="Write a calendar of the sessions.")
@click.option("--svg", type=OUT, metavar="FILE", help="Draw the strip of change-overs.")
@click.option("--pdf", type=OUT, metavar="FILE", help="Write the slip with boxes to tick.")
@click.option("--paper", type=click.Choice(PAPERS), default="a4", help="Paper of the slip.")
@click.option("--json", "as_json", is_flag=True, help="One JSON document on standard output.")
def command(
    file: Path,
    done: tuple[str, ...],
    now: str,
    effort: float,
    seed: int,
    ics: Path | None,
    svg: Path | None,
    pdf: Path | None,
    paper: str,
    as_json: bool,
) -> None:
    """Plan the work of FILE: done by the day, with the fewest change-overs.

    FILE is TOML or JSON in the form samite.work-problem.v1 (docs/faces/work.md), or a whole
    costume job (docs/faces/project.md), whose operations then follow from its pieces.
    """
    from samite.services.work import plan_file, tick_from
    from samite.services.work_moment import read_moment
    from samite.work.schedule import Budget

    moment = read_moment(now) if now else datetime.now().replace(microsecond=0)  # noqa: DTZ005
    text = read_text(file, "FILE", "TOML or JSON")
    if JOB_FORMAT in text[:4000]:
        from samite.services.make import work_of_job

        text = work_of_job(text, moment.date(), progress(as_json))
    answer = plan_file(
        text,
        moment,
        budget=Budget(effort, seed),
        ticks=[tick_from(text, moment) for text in done],
        tell=lambda text: click.echo(f"samite: {text}", err=True),
        anew=bool(now),
    )
    if ics:
        from samite.services.work_ics import work_ics

        write_file(ics, work_ics(answer).encode("utf-8"), "--ics")
    if svg or pdf:
        from samite.services.work_paper import work_pdf, work_svg

        if svg:
            write_file(svg, work_svg(answer).encode("utf-8"), "--svg")
        if pdf:
            write_file(pdf, work_pdf(answer, paper), "--pdf")
    if as_json:
        from samite.services.work_json import work_json

        click.echo(json.dumps(work_json(answer), ensure_ascii=False))
        return
    from samite.cli.work_text import work_text

    click.echo(work_text(answer))
