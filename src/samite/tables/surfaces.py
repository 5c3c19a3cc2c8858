"""The table of surfaces: what is put on a cloth or done to its face."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Any

from samite.kernel.errors import TableError, UnknownNameError
from samite.tables.aliases import NameFinder, NameMatch, fold_text
from samite.tables.close_names import did_you_mean
from samite.tables.fibres import fibres
from samite.tables.loader import read_toml
from samite.tables.structures import PARTS, structures

SURFACE_TABLES = ("surfaces.toml",)
"""The files that answers of this module rest on, for `table_hash`."""

SIDES = frozenset({"face", "back", "through"})


@dataclass(frozen=True, slots=True)
class SurfacePart:
    """A part that comes with a surface.

    Parameters
    ----------
    part : str
        ``glitter``, ``adhesive`` and so on, as in the card's JSON.
    material : str
        Key in the fibre table, empty where nobody can tell.
    side : str
        ``face``, ``back`` or ``through``.
    """

    part: str
    material: str
    side: str


@dataclass(frozen=True, slots=True)
class Surface:
    """A surface by name.

    Parameters
    ----------
    key : str
        Key in the surface table.
    name : str
        Plain name.
    parts : tuple of SurfacePart
        From the surface inwards; empty if nothing is added.
    crushed : bool
        Whether it is a relief that flat pressing takes out.
    one_way : bool
        Whether light or hand differs by direction.
    aliases : tuple of str
        Words for it.
    usual_structure : str
        Key of the cloth that nearly always lies under it, empty if there is no such cloth.
    """

    key: str
    name: str
    parts: tuple[SurfacePart, ...]
    crushed: bool
    one_way: bool
    aliases: tuple[str, ...]
    usual_structure: str = ""

    @property
    def glued(self) -> bool:
        """Whether an adhesive comes with it."""
        return any(part.part == "adhesive" for part in self.parts)


@cache
def surfaces() -> Mapping[str, Surface]:
    """Return all surfaces by key.

    Returns
    -------
    mapping of str to Surface
        In the order of ``surfaces.toml``.

    Raises
    ------
    TableError
        If an entry names an unknown part, material or side.
    """
    return MappingProxyType(
        {key: _surface(key, entry) for key, entry in read_toml("surfaces.toml").items()}
    )


def surface(key: str) -> Surface:
    """Return one surface.

    Parameters
    ----------
    key : str
        Key in the surface table.

    Returns
    -------
    Surface
        The surface.

    Raises
    ------
    UnknownNameError
        If no surface has that key; the hint carries close names.
    """
    found = surfaces().get(key)
    if found is None:
        raise UnknownNameError(f"no surface is called {key!r}", key, did_you_mean(key, surfaces()))
    return found


def find_surfaces(text: str) -> list[NameMatch]:
    """Return the surfaces named in a text, in the order of the text.

    Parameters
    ----------
    text : str
        Running text.

    Returns
    -------
    list of NameMatch
        The longest name wins where names overlap; places are those of `text`.
    """
    folded = fold_text(text)
    return [
        NameMatch(match.key, match.alias, *folded.original(match.start, match.end))
        for match in surface_finder().find(folded.plain)
    ]


@cache
def surface_finder() -> NameFinder:
    """Return the finder of surfaces in folded text.

    Returns
    -------
    NameFinder
        Built once.
    """
    return NameFinder({key: item.aliases for key, item in surfaces().items()})


def _surface(key: str, entry: Mapping[str, Any]) -> Surface:
    parts = tuple(
        SurfacePart(part["part"], part["material"], part["side"]) for part in entry.get("parts", ())
    )
    for part in parts:
        known = part.material == "" or part.material in fibres()
        if part.part not in PARTS or part.side not in SIDES or not known:
            raise TableError(
                f"surface {key} has an unknown part, material or side: {part}",
                "surfaces.toml",
                "mend the entry",
            )
    return Surface(
        key=key,
        name=entry["name"],
        parts=parts,
        crushed=bool(entry.get("crushed", False)),
        one_way=bool(entry.get("one_way", False)),
        aliases=tuple(entry["aliases"]),
        usual_structure=_known_structure(key, entry.get("usual_structure", "")),
    )


def _known_structure(key: str, name: str) -> str:
    if name and name not in structures():
        raise TableError(
            f"surface {key} names the unknown structure {name}", "surfaces.toml", "mend the entry"
        )
    return name
