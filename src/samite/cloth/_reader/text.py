"""The text of a label: checked, folded, and with what has been read blanked out."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable

from samite.kernel.errors import InputError
from samite.tables.aliases import fold_text

LIMIT = 2000
"""Letters that a label may have."""

BLANK = "\x01"
"""Stands for what has been read already."""

NUMBER = r"(?:\d{1,5}\s+\d{1,2}/\d{1,2}|\d{1,2}/\d{1,2}|\d{1,7}(?:[.,]\d{1,4})?)"
"""A number as printed: decimal point or comma, a fraction, a whole with a fraction."""

_BULLET = re.compile(r"(?m)^[ \t]*[-*\u2022]+(?=[ \t]*[^\s\d]|[ \t]+\d|\d)")


class LabelText:
    """A folded label from which readers take what they understand.

    Parameters
    ----------
    text : str
        The label as typed.

    Raises
    ------
    InputError
        If it is empty, too long or holds control characters.
    """

    def __init__(self, text: str) -> None:
        check_text(text)
        self._text = text
        folded = fold_text(text)
        self._places = folded.places
        self.whole = _without_bullets(folded.plain)
        self.rest = self.whole

    def take(
        self, pattern: re.Pattern[str], wanted: Callable[[re.Match[str]], bool] | None = None
    ) -> list[re.Match[str]]:
        """Find a pattern in what is not yet read, and blank it out.

        Parameters
        ----------
        pattern : re.Pattern
            What to look for.
        wanted : callable or None
            Decides on each match; None takes all.

        Returns
        -------
        list of re.Match
            The matches taken, in the order of the text.
        """
        taken = [found for found in pattern.finditer(self.rest) if wanted is None or wanted(found)]
        for found in taken:
            self.blank(found.start(), found.end())
        return taken

    def blank(self, start: int, end: int) -> None:
        """Blank out a stretch.

        Parameters
        ----------
        start : int
            First letter of the folded text [1].
        end : int
            One past the last letter [1].
        """
        self.rest = self.rest[:start] + BLANK * (end - start) + self.rest[end:]

    def place(self, start: int, end: int) -> str:
        """Say where a stretch stands in the label as typed.

        Parameters
        ----------
        start : int
            First letter of the folded text [1].
        end : int
            One past the last letter [1].

        Returns
        -------
        str
            ``"label, character 12: '94 % polyestr'"``.
        """
        first = self._places[start]
        last = self._places[max(start, end - 1)] + 1
        return f"label, character {first + 1}: {self._text[first:last].strip()!r}"


def check_text(text: str) -> None:
    """Refuse what cannot be a label.

    Parameters
    ----------
    text : str
        The label as typed.

    Raises
    ------
    InputError
        If it is empty, longer than `LIMIT`, or holds control characters.
    """
    if len(text) > LIMIT:
        raise InputError(
            f"the label has {len(text)} characters; a label has at most {LIMIT}",
            f"label, character {LIMIT + 1}",
            "give the text of one cloth only",
        )
    for place, letter in enumerate(text):
        if unicodedata.category(letter) in ("Cc", "Cs") and letter not in "\t\n\r":
            raise InputError(
                f"the label holds the control character U+{ord(letter):04X}",
                f"label, character {place + 1}",
                "delete it, or type the label by hand",
            )
    if not any(letter.isalnum() for letter in text):
        raise InputError(
            "the label is empty",
            "label",
            'type what the label says, for example "94 % polyester 6 % elastane, velvet, 150 cm"',
        )


def number(text: str, *, thousands: bool = False) -> float:
    """Return a printed number.

    Parameters
    ----------
    text : str
        What `NUMBER` matches.
    thousands : bool
        True if a comma or point before three digits marks thousands.

    Returns
    -------
    float
        The number.
    """
    if "/" in text:
        *whole, fraction = text.split()
        above, below = fraction.split("/")
        return float(whole[0] if whole else 0) + float(above) / max(float(below), 1.0)
    if thousands and re.fullmatch(r"[1-9]\d?[.,]\d{3}", text):
        return float(re.sub(r"[.,]", "", text))
    return float(text.replace(",", "."))


def _without_bullets(plain: str) -> str:
    bullets = list(_BULLET.finditer(plain))
    if len(bullets) < 2:
        return plain
    for bullet in bullets:
        gap = " " * (bullet.end() - bullet.start())
        plain = plain[: bullet.start()] + gap + plain[bullet.end() :]
    return plain
