"""Write a file that a command was asked for."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from samite.kernel.errors import InputError


class _FileToWrite(click.Path):
    """A file whose folder is there: it is refused before anything is computed, not after."""

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        path = super().convert(value, param, ctx)
        if isinstance(path, Path) and not path.parent.is_dir():
            option = param.opts[0] if param else ""
            what = f"cannot write {path}: there is no folder {path.parent}"
            raise InputError(what, option, "name another file")
        return path


OUT = _FileToWrite(dir_okay=False, path_type=Path)
"""Type of an option that names a file to write."""


def write_file(path: Path, content: bytes, option: str) -> None:
    """Write a file.

    Parameters
    ----------
    path : Path
        Where to.
    content : bytes
        What.
    option : str
        The option that asked for it.

    Raises
    ------
    InputError
        If it cannot be written.
    """
    try:
        path.write_bytes(content)
    except OSError as error:
        raise InputError(
            f"cannot write {path}: {error.strerror}", option, "name another file"
        ) from None


def write_drawing(path: Path, svg: str | None, option: str = "--svg") -> None:
    """Write a drawing of the press model, or say on standard error that there is none.

    Parameters
    ----------
    path : Path
        Where to.
    svg : str or None
        The drawing; None if nothing is pressed.
    option : str
        Option that named the file.
    """
    if svg is None:
        click.echo("samite: nothing is pressed, so there is nothing to draw", err=True)
        return
    write_file(path, svg.encode("utf-8"), option)
