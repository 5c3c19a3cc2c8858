"""What the store says of itself, and the emptying of its bin."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

from samite.store.store import Store

FORMAT = "samite.store.v1"

SHOWN_ACTS = 20
"""Acts shown."""


def describe(path: Path) -> dict[str, Any]:
    """Say where the store lies and what was changed last.

    Parameters
    ----------
    path : Path
        File of the store.

    Returns
    -------
    dict of str to object
        In the form ``samite.store.v1``.
    """
    with Store(path, write=False) as store:
        acts = [
            {"said": item.said, "on": item.said_on.isoformat(), "state": item.state}
            for item in store.acts(SHOWN_ACTS)
        ]
    return {"format": FORMAT, "file": str(path), "there": path.is_file(), "acts": acts}


def next_turns(path: Path) -> tuple[str, str]:
    """Say what undoing would undo, and what doing again would do.

    Parameters
    ----------
    path : Path
        File of the store.

    Returns
    -------
    tuple of (str, str)
        What each act had done; empty if there is none.
    """
    with Store(path, write=False) as store:
        return store.last_said(done=True), store.last_said(done=False)


def empty_bin(path: Path, on: date) -> dict[str, Any]:
    """Delete for good what is in the bin.

    Parameters
    ----------
    path : Path
        File of the store.
    on : date
        Today.

    Returns
    -------
    dict of str to object
        In the form ``samite.stored.v1``: how many of each kind, and photo files.
    """
    with Store(path) as store:
        counts = store.empty_bin(on)
    return {"format": "samite.stored.v1", "file": str(path), "counts": counts}
