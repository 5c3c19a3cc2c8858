"""Advice that explains itself: a tree of reasons whose leaves all have evidence."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Generic, TypeVar

from samite.kernel.errors import TableError
from samite.kernel.evidence import Evidence

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Reason:
    """A claim and what it rests on.

    Parameters
    ----------
    claim : str
        One plain sentence.
    because : tuple of Reason
        The reasons under it; may be empty only if there is evidence.
    evidence : Evidence or None
        Source and grade; needed on a leaf.

    Raises
    ------
    TableError
        If a leaf has no evidence.
    """

    claim: str
    because: tuple[Reason, ...] = ()
    evidence: Evidence | None = None

    def __post_init__(self) -> None:
        if not self.because and self.evidence is None:
            raise TableError(
                f"the reason {self.claim!r} has neither evidence nor reasons under it",
                "kernel.reasons",
                "give the leaf an Evidence with a grade, a guess if need be",
            )

    def as_dict(self) -> dict[str, object]:
        """Return the JSON form.

        Returns
        -------
        dict of str to object
            Keys ``claim``, ``because`` (list), ``source`` and ``grade`` (empty on an inner
            node without evidence of its own).
        """
        return {
            "claim": self.claim,
            "because": [reason.as_dict() for reason in self.because],
            "source": self.evidence.source if self.evidence else "",
            "grade": self.evidence.grade.value if self.evidence else "",
        }

    def lines(self, depth: int, indent: int = 0) -> list[str]:
        """Return the tree as indented lines down to a depth.

        Parameters
        ----------
        depth : int
            Levels to show; 1 shows the claim alone.
        indent : int
            Levels of indentation already used.

        Returns
        -------
        list of str
            One line a claim.
        """
        tail = f"  [{self.evidence}]" if self.evidence else ""
        shown = ["  " * indent + self.claim + tail]
        if depth > 1:
            for reason in self.because:
                shown.extend(reason.lines(depth - 1, indent + 1))
        return shown


@dataclass(frozen=True, slots=True)
class Advice(Generic[T]):
    """A decision and the reason for it.

    Parameters
    ----------
    value : object
        What was decided.
    reason : Reason
        Why.
    """

    value: T
    reason: Reason
