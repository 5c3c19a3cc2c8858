"""The option that names an iron: its file, or one that is kept."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from samite.cli.text_file import read_text
from samite.kernel.errors import InputError

if TYPE_CHECKING:
    from samite.tables.irons import Iron

IRON = click.option(
    "--iron",
    default="",
    metavar="FILE|NAME",
    help="Your own iron: its file, samite.iron.v1, or the name of one that is kept.",
)
"""Which iron is at hand."""


def iron_from(named: str, store: Path) -> Iron | None:
    """Read the file of an iron, or fetch one that is kept.

    Parameters
    ----------
    named : str
        A file; or, if there is none of that name, the name of an iron in the store.
    store : Path
        File of the store; opened only for a name.

    Returns
    -------
    Iron or None
        What the press counts with; None if nothing was named.

    Raises
    ------
    InputError
        If there is neither, or it says what cannot be.
    """
    if not named:
        return None
    path = Path(named)
    from samite.services.iron import kept_iron_profile, load_iron

    if path.exists() or path.suffix or len(path.parts) > 1:
        return load_iron(read_text(path, "--iron", "TOML"))
    from samite.services.stock import kept_iron

    try:
        kept = kept_iron(store, named)
    except InputError as error:
        raise InputError(
            f"{error.message}, and no file {named[:40]!r}", "--iron", error.hint
        ) from None
    return kept_iron_profile(kept)
