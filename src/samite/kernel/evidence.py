"""Grades of evidence and references to sources."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Grade(StrEnum):
    """How well a value is known, best first."""

    MEASURED_HERE = "measured-here"
    STANDARD = "standard"
    PUBLICATION = "publication"
    DERIVED = "derived"
    COMMON_PRACTICE = "common-practice"
    FROM_MEMORY = "from-memory"
    GUESS = "guess"

    @property
    def rank(self) -> int:
        """Position in the order from best (0) to weakest."""
        return list(Grade).index(self)


def weakest(*grades: Grade) -> Grade:
    """Return the weakest of several grades.

    Parameters
    ----------
    *grades : Grade
        At least one grade.

    Returns
    -------
    Grade
        The one with the highest rank.
    """
    return max(grades, key=lambda grade: grade.rank)


@dataclass(frozen=True, slots=True)
class Evidence:
    """Where a value or a claim comes from.

    Parameters
    ----------
    source : str
        Key in ``sources.toml``, or ``"label"`` for what the person gave.
    grade : Grade
        How well it is known.
    locator : str
        Page, table, section or equation in the source.
    """

    source: str
    grade: Grade
    locator: str = ""

    def __str__(self) -> str:
        place = f", {self.locator}" if self.locator else ""
        if self.source == self.grade.value:
            return f"{self.source}{place}"
        return f"{self.source}{place}: {self.grade.value}"


GIVEN = Evidence("label", Grade.MEASURED_HERE, "as given")
