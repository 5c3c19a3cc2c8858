"""Where values come from: the entries of ``sources.toml``."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from samite.kernel.errors import UnknownNameError
from samite.tables.loader import did_you_mean, read_toml


@dataclass(frozen=True, slots=True)
class Source:
    """One edition of one document, or what stands for it.

    Parameters
    ----------
    key : str
        How rows cite it.
    title : str
        Title, with the part cited.
    by : str
        Author and publisher; what kind of page for popular pages.
    year : str
        Year of the edition, may be empty.
    opened : bool
        True if what is cited was read in the text, an excerpt or an abstract.
    kind : str
        ``standard``, ``regulation``, ``book``, ``paper``, ``page``, ``practice``,
        ``definition`` or ``own``.
    note : str
        What was read of it, may be empty.
    """

    key: str
    title: str
    by: str
    year: str
    opened: bool
    kind: str
    note: str = ""

    def __str__(self) -> str:
        parts = (self.by, self.title, self.year)
        shown = ", ".join(part for part in parts if part)
        return shown if self.opened else f"{shown} (cited from memory)"


@cache
def sources() -> Mapping[str, Source]:
    """Return every source by key.

    Returns
    -------
    mapping of str to Source
        In the order of the file.
    """
    document = read_toml("sources.toml")
    return MappingProxyType({key: Source(key=key, **entry) for key, entry in document.items()})


def source(key: str) -> Source:
    """Return one source.

    Parameters
    ----------
    key : str
        Key in ``sources.toml``.

    Returns
    -------
    Source
        The entry.

    Raises
    ------
    UnknownNameError
        If there is no such key.
    """
    found = sources().get(key)
    if found is None:
        raise UnknownNameError(
            f"no source is called {key!r}", "sources.toml", did_you_mean(key, sources())
        )
    return found
