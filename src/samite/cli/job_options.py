"""Options that the commands of a costume job share, and the job that they ask for."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from samite.cli.store_option import STORE
from samite.cli.store_option import today as clock

if TYPE_CHECKING:
    from samite.services.job import Job

_OPTIONS = (
    click.option("--seconds", default=2.0, show_default=True, help="Time to search a lay [s]."),
    click.option("--today", default="", metavar="DATE", help="Reckon as of that day, 2031-01-05."),
    click.option(
        "--units", type=click.Choice(["metric", "imperial"]), help="Units shown, else the file's."
    ),
    click.option(
        "--no-stock", is_flag=True, help="Do not deduct cloth, thread and needles that are kept."
    ),
    STORE,
)


def job_options(command: Callable[..., Any]) -> Callable[..., Any]:
    """Give a command the options of a costume job.

    Parameters
    ----------
    command : callable
        The command.

    Returns
    -------
    callable
        The same with options.
    """
    for option in reversed(_OPTIONS):
        command = option(command)
    return command


def asked_job(project: Path, today: str, units: str | None, store: Path, *, no_stock: bool) -> Job:
    """Read the job that a command asks for, with the bodies and the stock that are kept.

    Parameters
    ----------
    project : Path
        The file.
    today : str
        The day that it is reckoned for, as written; empty for today.
    units : str or None
        Units in the place of the file's.
    store : Path
        File of the store; it need not exist.
    no_stock : bool
        Leave the stock out.

    Returns
    -------
    Job
        Project and problems.
    """
    from samite.project.model import Drawer
    from samite.services.job import load_job, read_today, with_journal
    from samite.services.job_stock import drawer_of
    from samite.services.job_store import bodies_of

    drawer = Drawer() if no_stock else drawer_of(store)
    day = read_today(today, clock())
    job = load_job(project, day, bodies_of(store), drawer, units or "")
    return with_journal(job, store)
