"""One caution, with where it comes from."""

from __future__ import annotations

from dataclasses import dataclass

from samite.kernel.evidence import Evidence, Grade

KINDS = ("heat", "needle", "flame", "child", "fume", "care")
"""Kinds of caution, in the words of the card's JSON."""

PRACTICE = Evidence("common-practice", Grade.COMMON_PRACTICE)


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution.

    Parameters
    ----------
    kind : str
        ``heat``, ``needle``, ``flame``, ``child``, ``fume`` or ``care``.
    text : str
        What to mind, in plain words.
    source : str
        Key in ``sources.toml`` and the section.
    grade : str
        How well it is known.
    """

    kind: str
    text: str
    source: str
    grade: str = Grade.COMMON_PRACTICE.value

    def as_dict(self) -> dict[str, str]:
        """Return the JSON form.

        Returns
        -------
        dict of str to str
            Keys ``kind``, ``text``, ``source`` and ``grade``.
        """
        return {
            "kind": self.kind,
            "text": self.text,
            "source": self.source,
            "grade": self.grade,
        }


def caution(kind: str, text: str, evidence: Evidence = PRACTICE) -> Caution:
    """Make a caution from a text and its evidence.

    Parameters
    ----------
    kind : str
        One of `KINDS`.
    text : str
        What to mind.
    evidence : Evidence
        Source, section and grade.

    Returns
    -------
    Caution
        With source and section in one text.
    """
    source = f"{evidence.source}, {evidence.locator}" if evidence.locator else evidence.source
    return Caution(kind, text, source, evidence.grade.value)
