"""What is wrong with a file that a person wrote."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from samite.kernel.errors import InputError


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing that is wrong.

    Parameters
    ----------
    line : int
        Line of the file, from 1; 0 where there is no file.
    where : str
        The key, with its section.
    what : str
        What is wrong, in plain words.
    mend : str
        How to mend it.
    """

    line: int
    where: str
    what: str
    mend: str

    @property
    def place(self) -> str:
        """Line and key."""
        return f"line {self.line}: {self.where}" if self.line else self.where


def refuse(problems: Sequence[Problem], whole: str) -> InputError:
    """Put all problems into one error.

    Parameters
    ----------
    problems : sequence of Problem
        At least one.
    whole : str
        What they were found in, ``"the iron's file"``.

    Returns
    -------
    InputError
        To be raised; it names every problem.
    """
    if len(problems) == 1:
        only = problems[0]
        return InputError(only.what, only.place, only.mend)
    lines = [f"{item.place}: {item.what} ({item.mend})" for item in problems]
    return InputError(
        f"{len(problems)} things are wrong with {whole}:\n" + "\n".join(f"  {x}" for x in lines),
        _places(problems),
        "mend them all, then give it again",
    )


def _places(problems: Sequence[Problem]) -> str:
    numbers = dict.fromkeys(str(item.line) for item in problems if item.line)
    if numbers:
        return f"line{'s' if len(numbers) > 1 else ''} {', '.join(numbers)}"
    return ", ".join(dict.fromkeys(item.where for item in problems))
