"""A costume job as it is kept: its file word for word, and what is ticked off."""

from __future__ import annotations

from dataclasses import dataclass

from samite.garment.bench import require_words
from samite.kernel.errors import InputError

LONGEST_JOB = 400_000
"""Characters of the longest file."""

LONGEST_TITLE = 120
MOST_TICKS = 20_000


@dataclass(frozen=True, slots=True)
class KeptJob:
    """A costume job.

    Parameters
    ----------
    title : str
        What it is called.
    text : str
        Its file, comments and all.
    ticked : tuple of str
        Lines of the buying list and steps of the work that are done.

    Raises
    ------
    InputError
        If the title is empty, or the file is too long.
    """

    title: str
    text: str
    ticked: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        require_words(title=self.title)
        if len(self.title) > LONGEST_TITLE:
            raise InputError("the title is too long", "title", f"keep to {LONGEST_TITLE}")
        if len(self.text) > LONGEST_JOB:
            raise InputError("the file is too long", "text", f"keep to {LONGEST_JOB} characters")
        if len(self.ticked) > MOST_TICKS:
            raise InputError("too much is ticked", "ticked", "begin a new job")
