"""Read the file of a workroom that a command was given."""

from __future__ import annotations

from pathlib import Path

from samite.kernel.errors import InputError

LARGEST = 1_000_000
"""Longest workroom file that is read [bytes]."""


def workroom_text(path: Path | None) -> str:
    """Read the file of a workroom.

    Parameters
    ----------
    path : Path or None
        Where it is; None for the usual workroom.

    Returns
    -------
    str
        Its text, empty for None.

    Raises
    ------
    InputError
        If it cannot be read.
    """
    if path is None:
        return ""
    try:
        if path.stat().st_size > LARGEST:
            raise InputError(f"{path} is far too long", "--workroom", "name a workroom file")
        return path.read_text(encoding="utf-8") or " # empty"
    except OSError as error:
        raise InputError(
            f"cannot read {path}: {error.strerror}", "--workroom", "name a file"
        ) from None
    except UnicodeDecodeError:
        raise InputError(f"{path} is not text", "--workroom", "name a TOML file") from None
