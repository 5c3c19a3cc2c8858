"""The fibre table: what is known of every fibre, and what its class says where nothing is."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from samite.kernel.errors import TableError, UnknownError, UnknownNameError
from samite.kernel.evidence import Evidence, Grade
from samite.kernel.quantity import Quantity, between
from samite.tables.loader import (
    Row,
    bounds,
    did_you_mean,
    read_list,
    read_table,
    read_toml,
    rows_by_key,
)

FIBRE_TABLES = ("fibres.csv", "fibre_list.csv", "fibre_classes.toml")
"""The files that answers of this module rest on, for `table_hash`."""

GROUPS = frozenset(
    {
        "cellulose",
        "protein",
        "synthetic",
        "elastomer",
        "mineral",
        "metal",
        "film",
        "coating",
        "trim",
        "adhesive",
    }
)
"""What a fibre is made of, coarsely."""

_LIST_COLUMNS = ("fibre", "name", "group", "code", "class", "melts", "standard")
_TESTS = {
    "melting_c": "burn a thread in tweezers over a dish of water: a hard bead means that it melts",
    "softening_c": "iron a scrap from the lowest setting up until it sticks or shines",
    "decomposition_c": "press a white scrap for 10 s at each setting until it yellows",
    "discolouration_c": "press a white scrap for 10 s at each setting until it yellows",
    "ironing_limit_c": "iron a scrap from the lowest setting up, wrong side, and look for marks",
    "dots": "look for the iron symbol on the label, or iron a scrap from the lowest setting up",
}
_ANY_TEST = "name the fibre by a burn test on a few threads, then give its label name"


@dataclass(frozen=True, slots=True)
class FibreClass:
    """Fibres that are alike enough to stand in for one of their kind.

    Parameters
    ----------
    key : str
        Name of the class.
    members : tuple of str
        Fibres whose values it spans.
    widen : float
        Factor by which both ends of the range are moved out [1].
    widen_c : float
        The same for temperatures [K].
    parent : str
        Class to ask next; empty for none.
    """

    key: str
    members: tuple[str, ...]
    widen: float
    widen_c: float
    parent: str = ""


@dataclass(frozen=True, slots=True)
class Fibre:
    """One fibre, or a material that a cloth carries like one.

    Parameters
    ----------
    key : str
        Key in the fibre table, as the card's JSON prints it.
    name : str
        Name in full.
    group : str
        One of `GROUPS`.
    code : str
        Short code on labels, may be empty.
    fibre_class : str
        Class that stands in for missing values.
    melts : bool
        Whether it melts before it decomposes.
    standard : str
        Source of the name.
    """

    key: str
    name: str
    group: str
    code: str
    fibre_class: str
    melts: bool
    standard: str

    def knows(self, name: str) -> bool:
        """Tell whether the table has a value for this very fibre.

        Parameters
        ----------
        name : str
            Property, ``"density_g_cm3"``.

        Returns
        -------
        bool
            False if `quantity` would ask the class or refuse.
        """
        return name in _own_rows(self.key)

    def rows(self) -> tuple[Row, ...]:
        """Return the fibre's own rows of the table.

        Returns
        -------
        tuple of Row
            In the order of the file.
        """
        return tuple(_own_rows(self.key).values())

    def quantity(self, name: str) -> Quantity:
        """Return a property, from the fibre's class where the fibre has none.

        Parameters
        ----------
        name : str
            Property, ``"density_g_cm3"``.

        Returns
        -------
        Quantity
            The fibre's own value; else the widened range of its class, graded as a guess,
            with the class named in the locator of the evidence.

        Raises
        ------
        UnknownNameError
            If no table has such a property.
        UnknownError
            If neither the fibre nor its class has a value; the hint names the test.

        Notes
        -----
        A class lends a melting point only to a fibre that melts, and a decomposition temperature
        only to one that does not.
        """
        row = _own_rows(self.key).get(name)
        if row is not None:
            return row.number
        if name not in bounds():
            raise UnknownNameError(
                f"no property is called {name!r}", self.key, did_you_mean(name, bounds())
            )
        if name == "melting_c" and not self.melts:
            raise self._unknown(name, f"{self.name} does not melt")
        if name == "decomposition_c" and self.melts:
            raise self._unknown(name, f"{self.name} melts before it decomposes")
        lent = _class_quantity(self.fibre_class, name)
        if lent is None:
            raise self._unknown(name, f"no source gives the {bounds()[name].says} of {self.name}")
        return lent

    def _unknown(self, name: str, problem: str) -> UnknownError:
        return UnknownError(problem, f"fibres.csv: {self.key} {name}", _TESTS.get(name, _ANY_TEST))


@cache
def fibres() -> Mapping[str, Fibre]:
    """Return every fibre by key.

    Returns
    -------
    mapping of str to Fibre
        In the order of ``fibre_list.csv``.

    Raises
    ------
    TableError
        If the list names an unknown group or class, names a fibre twice, or values belong to a
        fibre that is not listed.
    """
    found: dict[str, Fibre] = {}
    for line, cells in read_list("fibre_list.csv", _LIST_COLUMNS):
        fibre_ = _listed(line, cells)
        if fibre_.key in found:
            raise TableError(
                f"fibre_list.csv:{line}: {fibre_.key} is listed twice.",
                f"fibre_list.csv:{line}",
                "Keep one line.",
            )
        found[fibre_.key] = fibre_
    for row in read_table("fibres.csv", "fibre"):
        if row.key not in found:
            where = f"fibres.csv:{row.line}"
            raise TableError(f"{where}: {row.key} is not in fibre_list.csv.", where, "List it.")
    return MappingProxyType(found)


def fibre(key: str) -> Fibre:
    """Return one fibre.

    Parameters
    ----------
    key : str
        Key in the fibre table (`find_fibre` turns label words into keys).

    Returns
    -------
    Fibre
        The fibre.

    Raises
    ------
    UnknownNameError
        If no fibre has that key; the hint carries close ones.
    """
    found = fibres().get(key)
    if found is None:
        raise UnknownNameError(f"no fibre is called {key!r}", key, did_you_mean(key, fibres()))
    return found


@cache
def fibre_classes() -> Mapping[str, FibreClass]:
    """Return the classes by key.

    Returns
    -------
    mapping of str to FibreClass
        From ``fibre_classes.toml``.
    """
    document = read_toml("fibre_classes.toml")
    return MappingProxyType(
        {
            key: FibreClass(
                key,
                tuple(entry["members"]),
                float(entry["widen"]),
                float(entry["widen_c"]),
                entry.get("parent", ""),
            )
            for key, entry in document.items()
        }
    )


def _listed(line: int, cells: tuple[str, ...]) -> Fibre:
    key, name, group, code, class_, melts, standard = cells
    where = f"fibre_list.csv:{line}"
    if group not in GROUPS:
        raise TableError(f"{where}: unknown group {group!r}.", where, "Use one of the groups.")
    if class_ not in fibre_classes():
        raise TableError(
            f"{where}: unknown class {class_!r}.", where, did_you_mean(class_, fibre_classes())
        )
    if melts not in ("yes", "no"):
        raise TableError(f"{where}: melts is {melts!r}.", where, "Write yes or no.")
    if standard not in read_toml("sources.toml"):
        raise TableError(f"{where}: unknown source {standard!r}.", where, "Add it.")
    return Fibre(key, name, group, code, class_, melts == "yes", standard)


@cache
def _tables() -> Mapping[str, Mapping[str, Row]]:
    groups = rows_by_key(read_table("fibres.csv", "fibre"))
    return {key: {row.property: row for row in rows} for key, rows in groups.items()}


def _own_rows(key: str) -> Mapping[str, Row]:
    return _tables().get(key, {})


@cache
def _class_quantity(class_key: str, name: str) -> Quantity | None:
    class_ = fibre_classes()[class_key]
    everyone = fibres()
    known = [
        everyone[member].quantity(name) for member in class_.members if everyone[member].knows(name)
    ]
    if known:
        return _widened(class_, name, known)
    return _class_quantity(class_.parent, name) if class_.parent else None


def _widened(class_: FibreClass, name: str, known: list[Quantity]) -> Quantity:
    low = min(quantity.low for quantity in known)
    high = max(quantity.high for quantity in known)
    if name.endswith("_c"):
        low, high = low - class_.widen_c, high + class_.widen_c
    elif name != "dots":
        low, high = low / class_.widen, high * class_.widen
    limit = bounds()[name]
    low, high = max(low, limit.minimum), min(high, limit.maximum)
    evidence = Evidence("guess", Grade.GUESS, f"range of the class {class_.key}, widened")
    if name == "dots":
        return Quantity(low, low, high, limit.unit, evidence)
    return between(low, high, limit.unit, evidence)
