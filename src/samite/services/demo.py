"""The main job on the built-in scenario: a whole costume job, written to a folder."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from pathlib import Path

from samite.services.job import read_job
from samite.services.job_lays import Effort
from samite.services.job_store import demo_job_text
from samite.services.kept_answers import KeptAnswers
from samite.services.make import MadeJob, make_job
from samite.services.make_files import job_files, write_files
from samite.services.packet import packet_files
from samite.tables.loader import read_toml

TODAY = date(2031, 1, 5)
"""The day on which the scenario is reckoned, so that it is never in the past."""

EFFORT = Effort(lay_seconds=1.0, work_effort=0.2)
JOB_FILE = "procession.toml"


def demo_title() -> tuple[str, str]:
    """Return title and introduction of the scenario.

    Returns
    -------
    tuple of (str, str)
        Title, and a sentence or two.
    """
    scenario = read_toml("demo.toml")
    return str(scenario["title"]), str(scenario["intro"])


def write_demo(
    folder: Path,
    on_step: Callable[[int, int, str], None] | None = None,
    seconds: float = EFFORT.lay_seconds,
) -> tuple[MadeJob, list[Path]]:
    """Compute the scenario and write everything of it to a folder.

    Parameters
    ----------
    folder : Path
        Where to; made if it does not exist.
    on_step : callable or None
        Told how far it is.
    seconds : float
        Time to search for each lay [s].

    Returns
    -------
    MadeJob
        The job.
    list of Path
        Files written.
    """
    job = read_job(demo_job_text(), TODAY)
    effort = replace(EFFORT, lay_seconds=seconds)
    made = make_job(job, known=KeptAnswers(folder / ".answers"), effort=effort, on_step=on_step)
    written = write_files(job_files(made), folder)
    written += write_files(packet_files(made), folder)
    written += write_files([(JOB_FILE, job.text.encode())], folder)
    return made, written
