"""What the cloth is for, as one-tap choices and a line for other words."""

from __future__ import annotations

import re
from dataclasses import dataclass

FIRST = (
    "lined",
    "unlined",
    "curved",
    "gathered",
    "strained",
    "on skin",
    "child",
    "one night",
    "forty wearings",
)
"""Choices in sight."""

MORE = ("hood", "train", "mask", "stage", "near candles", "cords", "nightwear")
"""Choices behind "more"."""

OPPOSITES = (("lined", "unlined"), ("one night", "forty wearings"))
"""Choices that exclude each other; the page's script lets go of the other."""


@dataclass(frozen=True, slots=True)
class UseView:
    """The choices as they stand.

    Parameters
    ----------
    first : tuple of (str, bool)
        Choices in sight, and whether each is taken.
    more : tuple of (str, bool)
        Choices behind "more".
    other : str
        Words that no choice stands for.
    """

    first: tuple[tuple[str, bool], ...]
    more: tuple[tuple[str, bool], ...]
    other: str

    @property
    def more_in_use(self) -> bool:
        """Whether anything behind "more" is taken."""
        return bool(self.other) or any(taken for _, taken in self.more)


def use_view(text: str) -> UseView:
    """Part the words of a use into choices and other words.

    Parameters
    ----------
    text : str
        Words parted by commas.

    Returns
    -------
    UseView
        Each choice with its state, in the order of the page.
    """
    words = [" ".join(word.split()) for word in re.split(r"[,;\n]|\band\b", text)]
    said = {word.lower() for word in words}
    known = {*FIRST, *MORE}
    other = ", ".join(word for word in words if word and word.lower() not in known)
    return UseView(
        tuple((word, word in said) for word in FIRST),
        tuple((word, word in said) for word in MORE),
        other,
    )


def opposite(word: str) -> str:
    """Return the choice that a choice excludes.

    Parameters
    ----------
    word : str
        A choice.

    Returns
    -------
    str
        The other one; empty if there is none.
    """
    for one, two in OPPOSITES:
        if word in (one, two):
            return two if word == one else one
    return ""
