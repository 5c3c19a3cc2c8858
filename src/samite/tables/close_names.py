"""Close names for the hint of an unknown name; never a silent nearest match."""

from __future__ import annotations

import difflib
from collections.abc import Iterable


def suggest(word: str, names: Iterable[str]) -> list[str]:
    """Return close names for a hint; never to be taken instead of the word.

    Parameters
    ----------
    word : str
        What the person wrote.
    names : iterable of str
        The names that are known.

    Returns
    -------
    list of str
        Up to three names, the closest first.
    """
    folded = {name.casefold(): name for name in names}
    close = difflib.get_close_matches(word.casefold(), list(folded), n=3, cutoff=0.6)
    return [folded[name] for name in close]


def did_you_mean(word: str, names: Iterable[str]) -> str:
    """Return the hint of an unknown name.

    Parameters
    ----------
    word : str
        What the person wrote.
    names : iterable of str
        The names that are known.

    Returns
    -------
    str
        ``"did you mean velvet or velvet ribbon?"``, or that nothing is close.
    """
    close = suggest(word, names)
    return f"did you mean {' or '.join(close)}?" if close else "no known name is close to it"
