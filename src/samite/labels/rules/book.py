"""The rule book: limits of law and standards, each with source, section and grade."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from types import MappingProxyType

from samite.kernel.errors import TableError, UnknownNameError
from samite.kernel.evidence import Evidence, Grade
from samite.tables.loader import did_you_mean, read_toml
from samite.tables.sources import source

BOOKS = ("flammability", "nightwear", "children", "content")
"""Files of the folder ``data/rules``."""

_TOLD = frozenset({"source", "locator", "grade", "says"})


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule.

    Parameters
    ----------
    key : str
        Its name.
    evidence : Evidence
        Source, section and grade.
    limits : mapping of str to float
        Its numbers, by names that carry the unit.
    lists : mapping of str to frozenset of str
        What it names: fibres, uses, words.
    says : str
        The rule in words, with the numbers' names in braces.
    """

    key: str
    evidence: Evidence
    limits: Mapping[str, float] = field(default_factory=dict)
    lists: Mapping[str, frozenset[str]] = field(default_factory=dict)
    says: str = ""

    @property
    def text(self) -> str:
        """The rule in words, with its numbers."""
        return self.says.format(**self.limits)


@dataclass(frozen=True, slots=True)
class Ruling:
    """What a rule says of one case.

    Parameters
    ----------
    value : str
        The answer in the rule's own words.
    because : str
        Why, with the numbers compared.
    evidence : Evidence
        Source, section and grade.
    """

    value: str
    because: str
    evidence: Evidence


def rule(key: str) -> Rule:
    """Return a rule by its name.

    Parameters
    ----------
    key : str
        Its name, ``"test-exemption-mass"``.

    Returns
    -------
    Rule
        Numbers, words and evidence.

    Raises
    ------
    UnknownNameError
        If the book has no such rule.
    """
    known = rules()
    if key not in known:
        raise UnknownNameError(f"there is no rule {key!r}", "rule", did_you_mean(key, known))
    return known[key]


@cache
def rules() -> Mapping[str, Rule]:
    """Return every rule of the book.

    Returns
    -------
    mapping of str to Rule
        By name.

    Raises
    ------
    TableError
        If a rule lacks its source or grade, cites a source that is not listed, claims to be read in
        a source that was not opened, or stands twice.
    """
    found: dict[str, Rule] = {}
    for name in BOOKS:
        file = f"rules/{name}.toml"
        for key, entry in read_toml(file).items():
            if key in found:
                raise TableError(f"the rule {key} stands twice", file, "keep one")
            found[key] = read_rule(key, entry, file)
    return MappingProxyType(found)


def read_rule(key: str, entry: Mapping[str, object], where: str) -> Rule:
    """Read one rule and check what it rests on.

    Parameters
    ----------
    key : str
        Its name.
    entry : mapping of str to object
        ``source``, ``locator``, ``grade``, ``says``, numbers and lists of words.
    where : str
        The file, for the error.

    Returns
    -------
    Rule
        The rule.

    Raises
    ------
    TableError
        As for `rules`.
    """
    missing = [name for name in ("source", "locator", "grade", "says") if not entry.get(name)]
    if missing:
        raise TableError(f"{key} lacks {', '.join(missing)}", where, "give it")
    if entry["grade"] not in set(Grade):
        raise TableError(f"{key}: {entry['grade']!r} is no grade", where, ", ".join(Grade))
    evidence = Evidence(str(entry["source"]), Grade(str(entry["grade"])), str(entry["locator"]))
    read_in_text = evidence.grade in (Grade.STANDARD, Grade.PUBLICATION)
    if read_in_text and not source(evidence.source).opened:
        raise TableError(f"{key}: {evidence.source} was not opened", where, "grade it from-memory")
    own = {name: value for name, value in entry.items() if name not in _TOLD}
    limits = {n: float(v) for n, v in own.items() if isinstance(v, int | float)}
    lists = {n: frozenset(map(str, v)) for n, v in own.items() if isinstance(v, list)}
    strays = own.keys() - limits.keys() - lists.keys()
    if strays:
        raise TableError(f"{key}: {', '.join(strays)} is no number or list", where, "mend it")
    return Rule(
        key, evidence, MappingProxyType(limits), MappingProxyType(lists), str(entry["says"])
    )
