"""Bodies under names that their owners choose: kept, listed, shown, erased."""

from __future__ import annotations

import os
from dataclasses import replace
from pathlib import Path
from typing import Any

from samite.pieces.measures import find_doubts
from samite.services.piece import PieceAsk, read_body
from samite.store.bodies import BodyFiles


def home() -> Path:
    """Return the folder that bodies are kept in.

    Returns
    -------
    Path
        ``SAMITE_HOME`` if it is set, else a folder of the person's data.
    """
    own = os.environ.get("SAMITE_HOME")
    if own:
        return Path(own) / "bodies"
    data = os.environ.get("XDG_DATA_HOME")
    base = Path(data) if data else Path.home() / ".local" / "share"
    return base / "samite" / "bodies"


def keep_body(name: str, ask: PieceAsk) -> tuple[str, ...]:
    """Keep the body of a question under a name.

    Parameters
    ----------
    name : str
        The name.
    ask : PieceAsk
        Holds measures, group, age and size.

    Returns
    -------
    tuple of str
        Measures that do not fit the others, one sentence each.

    Raises
    ------
    SamiteError
        If a measure is malformed or impossible, or the name is.
    """
    doubts = find_doubts(read_body(ask))
    kept = {"measures": dict(ask.measures), "group": ask.group, "age": ask.age, "size": ask.size}
    BodyFiles(home()).keep(name, kept)
    return tuple(doubt.told() for doubt in doubts)


def body_names() -> list[str]:
    """Return the names of all bodies that are kept.

    Returns
    -------
    list of str
        Sorted.
    """
    return BodyFiles(home()).names()


def kept_body(name: str) -> dict[str, Any]:
    """Return a body that is kept.

    Parameters
    ----------
    name : str
        Its name.

    Returns
    -------
    dict of str to object
        Format ``samite.body.v1``.

    Raises
    ------
    InputError
        If there is none, or its file is broken.
    """
    return BodyFiles(home()).take(name)


def erase_body(name: str) -> None:
    """Erase a body for good.

    Parameters
    ----------
    name : str
        Its name.

    Raises
    ------
    UnknownNameError
        If there is none.
    """
    BodyFiles(home()).erase(name)


def with_body(ask: PieceAsk, name: str) -> PieceAsk:
    """Return a question asked of a body that is kept.

    Parameters
    ----------
    ask : PieceAsk
        The question; measures given in it win.
    name : str
        Name of the body.

    Returns
    -------
    PieceAsk
        With its measures, group, age and size.

    Raises
    ------
    InputError
        If there is none, or its file is broken.
    """
    body = kept_body(name)
    return replace(
        ask,
        measures={**body.get("measures", {}), **ask.measures},
        group=ask.group if ask.group != "adult" else str(body.get("group", "adult")),
        age=ask.age or str(body.get("age", "")),
        size=ask.size or str(body.get("size", "")),
    )
