"""The table of cloths by name: what each is, and the names it is sold under."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Any

from samite.kernel.errors import TableError, UnknownNameError
from samite.kernel.quantity import Quantity
from samite.tables.aliases import NameFinder, NameMatch, fold_text
from samite.tables.close_names import did_you_mean
from samite.tables.fibres import fibres
from samite.tables.loader import Row, read_table, read_toml, rows_by_key

STRUCTURE_TABLES = ("structures.toml", "structures.csv")
"""The files that answers of this module rest on, for `table_hash`."""

CONSTRUCTIONS = frozenset(
    {"woven", "knit", "net", "lace", "nonwoven", "film", "leather", "foam", ""}
)
PARTS = frozenset(
    (
        "base",
        "pile",
        "flock",
        "film",
        "glitter",
        "sequins",
        "beads",
        "dots",
        "coating",
        "print",
        "adhesive",
        "foam",
        "yarn",
    )
)
YARNS = frozenset({"filament", "staple", "mixed"})
NEEDED = (
    "mass_per_area_gsm",
    "thickness_mm",
    "frays",
    "slippery",
    "stiffness",
    "sheer",
    "one_way",
    "holes_show",
    "crushed",
    "stretch_cross_percent",
    "stretch_length_percent",
)
"""Properties that every structure has; `pile_height_mm` only where there is a pile."""


@dataclass(frozen=True, slots=True)
class StructurePart:
    """A part that a cloth of this name has unless its label says otherwise.

    Parameters
    ----------
    part : str
        ``base``, ``pile`` and so on, as in the card's JSON.
    fibres : tuple of (str, float)
        Keys in the fibre table with their shares of the part's mass [%]; empty if open.
    """

    part: str
    fibres: tuple[tuple[str, float], ...]


@dataclass(frozen=True, slots=True)
class Structure:
    """A cloth by name.

    Parameters
    ----------
    key : str
        Key in the structure table.
    name : str
        Plain name.
    construction : str
        ``woven``, ``knit``, ``net``, ``lace``, ``nonwoven``, ``film``, ``leather`` or ``foam``;
        empty if the name is used for woven and knitted cloths alike.
    kind : str
        Kind of weave or knit in words.
    yarn : str
        ``filament``, ``staple`` or ``mixed``.
    family : str
        Key of the more general name, empty for none.
    parts : tuple of StructurePart
        From the face to the back.
    aliases : tuple of str
        Names that it is sold under.
    properties : Mapping of str to Row
        Its rows of the table, by property.
    """

    key: str
    name: str
    construction: str
    kind: str
    yarn: str
    family: str
    parts: tuple[StructurePart, ...]
    aliases: tuple[str, ...]
    properties: Mapping[str, Row]

    def has(self, name: str) -> bool:
        """Tell whether the table gives a property.

        Parameters
        ----------
        name : str
            ``"pile_height_mm"``.

        Returns
        -------
        bool
            False if `quantity` would refuse.
        """
        return name in self.properties

    def quantity(self, name: str) -> Quantity:
        """Return a property with its spread and evidence.

        Parameters
        ----------
        name : str
            ``"mass_per_area_gsm"``.

        Returns
        -------
        Quantity
            In the unit that the name ends with; scores and flags are plain numbers.

        Raises
        ------
        UnknownNameError
            If this structure has no such property.
        """
        if name not in self.properties:
            raise UnknownNameError(
                f"{self.name} has no {name}", name, did_you_mean(name, self.properties)
            )
        return self.properties[name].number

    def flag(self, name: str) -> bool:
        """Return a yes-or-no property.

        Parameters
        ----------
        name : str
            ``"sheer"``, ``"one_way"``, ``"holes_show"`` or ``"crushed"``.

        Returns
        -------
        bool
            True if the value is 1.

        Raises
        ------
        UnknownNameError
            If this structure has no such property.
        """
        return self.quantity(name).value >= 0.5


@cache
def structures() -> Mapping[str, Structure]:
    """Return all structures by key.

    Returns
    -------
    mapping of str to Structure
        In the order of ``structures.toml``.

    Raises
    ------
    TableError
        If the two files do not fit together, or an entry is malformed.
    """
    document = read_toml("structures.toml")
    rows = rows_by_key(read_table("structures.csv", "structure"))
    stray = [key for key in rows if key not in document]
    if stray:
        raise _wrong(stray[0], "has values but no entry", "add it to structures.toml")
    found = {key: _structure(key, entry, rows.get(key, ())) for key, entry in document.items()}
    for item in found.values():
        if item.family and item.family not in found:
            raise _wrong(item.key, f"belongs to the unknown family {item.family!r}", "mend it")
    return MappingProxyType(found)


def structure(key: str) -> Structure:
    """Return one structure.

    Parameters
    ----------
    key : str
        Key in the structure table.

    Returns
    -------
    Structure
        The structure.

    Raises
    ------
    UnknownNameError
        If no structure has that key; the hint carries close names.
    """
    found = structures().get(key)
    if found is None:
        raise UnknownNameError(
            f"no cloth structure is called {key!r}", key, did_you_mean(key, structures())
        )
    return found


def find_structures(text: str) -> list[NameMatch]:
    """Return the structures named in a text, in the order of the text.

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
        for match in structure_finder().find(folded.plain)
    ]


@cache
def structure_finder() -> NameFinder:
    """Return the finder of structures in folded text.

    Returns
    -------
    NameFinder
        Built once.
    """
    return NameFinder({key: item.aliases for key, item in structures().items()})


def is_kind_of(key: str, family: str) -> bool:
    """Tell whether a structure is, or belongs to, a family.

    Parameters
    ----------
    key : str
        Key in the structure table.
    family : str
        Key of the more general name.

    Returns
    -------
    bool
        True if following the families up from `key` meets `family`.

    Raises
    ------
    UnknownNameError
        If no structure has the key.
    """
    while key:
        if key == family:
            return True
        key = structure(key).family
    return False


def _structure(key: str, entry: Mapping[str, Any], rows: tuple[Row, ...]) -> Structure:
    missing = [name for name in NEEDED if name not in {row.property for row in rows}]
    if missing:
        raise _wrong(key, f"lacks {missing[0]}", "add the row to structures.csv")
    if entry["construction"] not in CONSTRUCTIONS or entry["yarn"] not in YARNS:
        raise _wrong(key, "has an unknown construction or yarn", "mend structures.toml")
    return Structure(
        key=key,
        name=entry["name"],
        construction=entry["construction"],
        kind=entry["kind"],
        yarn=entry["yarn"],
        family=entry.get("family", ""),
        parts=tuple(_part(key, part) for part in entry["parts"]),
        aliases=tuple(entry["aliases"]),
        properties=MappingProxyType({row.property: row for row in rows}),
    )


def _part(key: str, entry: Mapping[str, Any]) -> StructurePart:
    shares = tuple((name, float(percent)) for name, percent in entry["fibres"].items())
    unknown = [name for name, _ in shares if name not in fibres()]
    if entry["part"] not in PARTS or unknown:
        raise _wrong(key, f"has an unknown part or fibre {unknown}", "mend structures.toml")
    if shares and abs(sum(percent for _, percent in shares) - 100.0) > 1e-9:
        raise _wrong(key, f"{entry['part']} does not add to 100 %", "mend structures.toml")
    return StructurePart(entry["part"], shares)


def _wrong(key: str, problem: str, mend: str) -> TableError:
    return TableError(f"structure {key} {problem}", "structures.toml", mend)
