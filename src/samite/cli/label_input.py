"""Read the label from the words of a command or from standard input."""

from __future__ import annotations

import sys

from samite.kernel.errors import InputError


def label_from(words: tuple[str, ...]) -> str:
    """Join the words of a command to one label.

    Parameters
    ----------
    words : tuple of str
        Words as the shell parted them; a single ``-`` reads standard input.

    Returns
    -------
    str
        The label.

    Raises
    ------
    InputError
        If there are none.
    """
    if words == ("-",):
        return sys.stdin.buffer.read(2_000_000).decode("utf-8", errors="replace")
    if not words:
        raise InputError(
            "no label given",
            "LABEL",
            'write what the bolt says in quotes: samite card "100% silk organza, 140 cm"',
        )
    return " ".join(words)
