"""Options that every command of the store shares."""

from __future__ import annotations

import json
import os
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import click

from samite.services.place import store_path


def place(_context: click.Context, _option: click.Parameter, given: str | None) -> Path:
    """Return where the store lies.

    Parameters
    ----------
    _context : click.Context
        Context of the call.
    _option : click.Parameter
        The option.
    given : str or None
        What was given.

    Returns
    -------
    Path
        The file.
    """
    return store_path(given or "", os.environ)


STORE = click.option(
    "--store",
    callback=place,
    metavar="FILE",
    help="File of the store, else $SAMITE_STORE, else under $XDG_DATA_HOME.",
)
"""Where the store lies."""

JSON = click.option("--json", "as_json", is_flag=True, help="One JSON document on standard output.")
"""Answer as JSON."""


def today() -> Any:
    """Return today's date on this machine.

    Returns
    -------
    date
        By the machine's clock and time zone.
    """
    return datetime.now(UTC).astimezone().date()


def answer(view: dict[str, Any], text: str, as_json: bool) -> None:
    """Print an answer.

    Parameters
    ----------
    view : dict of str to object
        The JSON document.
    text : str
        The same for the terminal.
    as_json : bool
        Which of the two.
    """
    click.echo(json.dumps(view, ensure_ascii=False) if as_json else text)
