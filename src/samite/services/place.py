"""Where the store lies."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

VARIABLE = "SAMITE_STORE"
"""Environment variable that names the store's file."""

FILE = "samite.sqlite"
"""Name of the store's file."""


def store_path(given: str, environment: Mapping[str, str]) -> Path:
    """Return where the store lies.

    Parameters
    ----------
    given : str
        What the person says; empty if nothing.
    environment : mapping of str to str
        Variables of the process.

    Returns
    -------
    Path
        The file given; else that of ``SAMITE_STORE``; else ``samite/samite.sqlite`` under
        ``XDG_DATA_HOME``, which is ``~/.local/share`` unless it says otherwise.
    """
    named = given or environment.get(VARIABLE, "")
    if named:
        return Path(named).expanduser()
    data = Path(environment.get("XDG_DATA_HOME", ""))
    if not data.is_absolute():  # the standard bids to pass over a relative one
        data = Path("~/.local/share").expanduser()
    return data / "samite" / FILE
