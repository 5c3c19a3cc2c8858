"""Read a text file that a command was given."""

from __future__ import annotations

from pathlib import Path

import click

from samite.kernel.errors import InputError

GIVEN = click.Path(dir_okay=False, path_type=Path)
"""Type of an option that names a file to read."""

LONGEST_BYTES = 10_000_000
"""No file that a person writes is longer."""


def read_text(path: Path, option: str, kind: str) -> str:
    """Read a text file.

    Parameters
    ----------
    path : Path
        Which.
    option : str
        The option that named it.
    kind : str
        What it should be, ``"JSON"``.

    Returns
    -------
    str
        Its text.

    Raises
    ------
    InputError
        If it cannot be read, is far too long or is no text.
    """
    try:
        with path.open("rb") as file:
            content = file.read(LONGEST_BYTES + 1)
        if len(content) > LONGEST_BYTES:
            raise InputError(f"{path} is far too long", option, f"name a {kind} file")
        return content.decode("utf-8")
    except OSError as error:
        raise InputError(f"cannot read {path}: {error.strerror}", option, "name a file") from None
    except UnicodeDecodeError:
        raise InputError(f"{path} is not text", option, f"name a {kind} file") from None
