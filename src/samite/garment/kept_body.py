"""A body as it is kept: what was written of it, under a name that its owner chooses."""

from __future__ import annotations

from dataclasses import dataclass

from samite.garment.bench import require_words
from samite.kernel.errors import InputError

LONGEST_NAME = 60
"""Letters of the longest name."""


@dataclass(frozen=True, slots=True)
class WrittenMeasure:
    """A measure as it was written.

    Parameters
    ----------
    name : str
        Its name, ``waist_girth``; with ``.left`` or ``.right`` where the sides differ.
    text : str
        The length with its unit, ``"70 cm"``.

    Raises
    ------
    InputError
        If either is empty.
    """

    name: str
    text: str

    def __post_init__(self) -> None:
        require_words(name=self.name, text=self.text)


@dataclass(frozen=True, slots=True)
class KeptBody:
    """A body.

    Parameters
    ----------
    name : str
        What its owner calls it.
    measures : tuple of WrittenMeasure
        What was measured.
    group : str
        Whose statistics fill in the rest.
    age : str
        Age of a child; empty if it was not said.
    size : str
        Size to start from; empty if it was not said.

    Raises
    ------
    InputError
        If the name is empty or too long.
    """

    name: str
    measures: tuple[WrittenMeasure, ...] = ()
    group: str = "adult"
    age: str = ""
    size: str = ""

    def __post_init__(self) -> None:
        if not self.name.strip() or len(self.name) > LONGEST_NAME:
            raise InputError("give the body a short name", "body", f"up to {LONGEST_NAME} letters")
