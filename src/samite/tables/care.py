"""The care processes of the label, their levels from strictest on, and what a method means."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from samite.kernel.errors import TableError, UnknownNameError
from samite.kernel.evidence import Evidence, Grade
from samite.tables.loader import did_you_mean, read_list

CARE_TABLES = ("care_processes.csv", "care_methods.csv")
PROCESSES = ("wash", "bleach", "tumble", "dry", "iron", "professional")
"""In the order of the label; ISO 3758 sets both kinds of drying in one place."""

_PROCESS_COLUMNS = ("process", "level", "rank", "words", "symbol", "source", "locator", "grade")
_METHOD_COLUMNS = (
    *("method", "wash", "bleach", "tumble", "dry", "professional"),
    *("source", "locator", "grade"),
)


@dataclass(frozen=True, slots=True)
class CareLevel:
    """One level of a care process.

    Parameters
    ----------
    process : str
        One of `PROCESSES`.
    level : str
        Its name.
    rank : int
        0 for the strictest [1].
    words : str
        What the label says.
    symbol : str
        Name of its symbol.
    evidence : Evidence
        Source and grade.
    """

    process: str
    level: str
    rank: int
    words: str
    symbol: str
    evidence: Evidence


@cache
def care_levels() -> Mapping[tuple[str, str], CareLevel]:
    """Return every level of every process.

    Returns
    -------
    mapping of tuple of (str, str) to CareLevel
        By process and level.

    Raises
    ------
    TableError
        If a process is not known.
    """
    found = {}
    for line, cells in read_list(CARE_TABLES[0], _PROCESS_COLUMNS):
        process, level, rank, words, symbol, source, locator, grade = cells
        if process not in PROCESSES:
            raise TableError(f"{process!r} is no process", f"{CARE_TABLES[0]}:{line}", "mend it")
        evidence = Evidence(source, Grade(grade), locator)
        found[process, level] = CareLevel(process, level, int(rank), words, symbol, evidence)
    return MappingProxyType(found)


def care_level(process: str, level: str) -> CareLevel:
    """Return one level.

    Parameters
    ----------
    process : str
        One of `PROCESSES`.
    level : str
        Its name.

    Returns
    -------
    CareLevel
        The level.

    Raises
    ------
    UnknownNameError
        If there is none of that name.
    """
    known = care_levels()
    if (process, level) not in known:
        names = [name for of, name in known if of == process]
        raise UnknownNameError(
            f"{process} has no level {level!r}", level, did_you_mean(level, names)
        )
    return known[process, level]


@cache
def care_methods() -> Mapping[str, Mapping[str, CareLevel]]:
    """Return what each method of cleaning means for every process but ironing.

    Returns
    -------
    mapping of str to mapping of str to CareLevel
        By method, then by process.
    """
    found = {}
    for _, (method, *levels, _, _, _) in read_list(CARE_TABLES[1], _METHOD_COLUMNS):
        processes = [process for process in PROCESSES if process != "iron"]
        found[method] = MappingProxyType(
            {p: care_level(p, level) for p, level in zip(processes, levels, strict=True)}
        )
    return MappingProxyType(found)
