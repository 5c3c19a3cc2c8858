"""A job as it is kept: its text, and what has been ticked off."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from samite.kernel.errors import InputError

LONGEST_NAME = 80
LONGEST_TEXT = 400_000


@dataclass(frozen=True, slots=True)
class KeptTick:
    """Something that was ticked off.

    Parameters
    ----------
    name : str
        The operation.
    end : str
        When, as ISO 8601 without zone.
    minutes : float or None
        How long it took, if that was noted [min].

    Raises
    ------
    InputError
        If the name is empty, the moment no moment or the minutes impossible.
    """

    name: str
    end: str
    minutes: float | None = None

    def __post_init__(self) -> None:
        try:
            datetime.fromisoformat(self.end)
        except ValueError:
            raise InputError(f"{self.end[:40]!r} is no moment", "end", "tick it again") from None
        if not self.name.strip():
            raise InputError("it does not say what is done", "name", "tick an operation")
        if self.minutes is not None and not 0.0 < self.minutes < 10_000.0:
            raise InputError(f"{self.minutes:g} min is impossible", "minutes", "mend the minutes")


@dataclass(frozen=True, slots=True)
class KeptWork:
    """A job of work.

    Parameters
    ----------
    name : str
        Its name.
    text : str
        In the form ``samite.work-problem.v1``.
    planned_at : str
        Moment from which it was planned last; empty for the one in the text.
    ticks : tuple of KeptTick
        What is done.

    Raises
    ------
    InputError
        If the name is empty or too long, or the text is far too long.
    """

    name: str
    text: str
    planned_at: str = ""
    ticks: tuple[KeptTick, ...] = ()

    def __post_init__(self) -> None:
        if not self.name.strip() or len(self.name) > LONGEST_NAME:
            raise InputError("give the job a short name", "name", f"up to {LONGEST_NAME} letters")
        if len(self.text) > LONGEST_TEXT:
            raise InputError("the job is far too long", "job", "keep only the job")
