"""Folding of running text and the search for names in it."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache

_PLAIN = {
    "ł": "l",
    "ø": "o",
    "đ": "d",
    "ı": "i",
    "æ": "ae",
    "œ": "oe",
    "×": "x",
    "÷": "/",
    "⁄": "/",
    "∕": "/",
    "″": '"',
    "“": '"',
    "”": '"',
    "„": '"',
    "′": "'",
    "‘": "'",
    "’": "'",
    "´": "'",
    "`": "'",
    "\u2010": "-",
    "\u2011": "-",
    "\u2012": "-",
    "\u2013": "-",
    "\u2014": "-",
    "\u2212": "-",
    "٪": "%",
    "·": " ",
    "®": "",
    "™": "",
    "\u00ad": "",
}


_WORD = re.compile(r"[^\W_]+")


@dataclass(frozen=True, slots=True)
class FoldedText:
    """A text in plain lower-case letters, with the place of every letter in the original.

    Parameters
    ----------
    plain : str
        Lower case, no accents, one kind of dash and quotation mark, western digits.
    places : tuple of int
        For every letter of `plain`, and for its end, the place in the original.
    """

    plain: str
    places: tuple[int, ...]

    def original(self, start: int, end: int) -> tuple[int, int]:
        """Return the place in the original of a stretch of the plain text.

        Parameters
        ----------
        start : int
            First letter [1].
        end : int
            One past the last letter [1].

        Returns
        -------
        tuple of (int, int)
            Start and end in the original.
        """
        return self.places[start], self.places[max(start, end - 1)] + (end > start)


@dataclass(frozen=True, slots=True)
class NameMatch:
    """A name found in a text.

    Parameters
    ----------
    key : str
        Key in the table that the name belongs to.
    alias : str
        The name as the table lists it.
    start : int
        First letter in the text searched [1].
    end : int
        One past its last letter [1].
    """

    key: str
    alias: str
    start: int
    end: int


def fold_text(text: str) -> FoldedText:
    """Fold a text letter by letter.

    Parameters
    ----------
    text : str
        Any text.

    Returns
    -------
    FoldedText
        Accents, letter cases, widths, dashes and quotation marks made alike.
    """
    letters: list[str] = []
    places: list[int] = []
    for place, letter in enumerate(text):
        for plain in _fold_letter(letter):
            letters.append(plain)
            places.append(place)
    places.append(len(text))
    return FoldedText("".join(letters), tuple(places))


class NameFinder:
    """Finds the names of a table in running text, the longest first.

    Parameters
    ----------
    names : mapping of str to iterable of str
        For every key its names.
    """

    def __init__(self, names: Mapping[str, Iterable[str]]) -> None:
        self._keys: dict[str, tuple[str, str]] = {}
        for key, aliases in names.items():
            for alias in aliases:
                self._keys.setdefault(_joined(fold_text(alias).plain), (key, alias))
        self._by_first = names_by_first_word(self._keys)

    def find(self, plain: str) -> list[NameMatch]:
        """Return the names in a folded text, in the order of the text, none overlapping.

        Parameters
        ----------
        plain : str
            Folded text.

        Returns
        -------
        list of NameMatch
            Places are those of `plain`.
        """
        names = names_that_may_be_in(plain, self._by_first)
        matches = []
        for found in re.finditer(_pattern(names), plain) if names else ():
            key, alias = self._keys[self._name(found[1])]
            matches.append(NameMatch(key, alias, found.start(1), found.end(1)))
        return matches

    def _name(self, found: str) -> str:
        joined = _joined(found)
        return joined if joined in self._keys else joined.removesuffix("s")


def names_by_first_word(names: Iterable[str]) -> dict[str, list[str]]:
    """Sort names by their first word: a pattern of all of them takes long to compile.

    Parameters
    ----------
    names : iterable of str
        Folded names.

    Returns
    -------
    dict of str to list of str
        Names by first word.
    """
    found: dict[str, list[str]] = {}
    for name in names:
        first = _WORD.search(name)
        found.setdefault(first[0] if first else "", []).append(name)
    return found


def names_that_may_be_in(plain: str, by_first: Mapping[str, list[str]]) -> tuple[str, ...]:
    """Return the names whose first word stands in a text, the longest first.

    Parameters
    ----------
    plain : str
        Folded text.
    by_first : mapping of str to list of str
        Names by first word.

    Returns
    -------
    tuple of str
        Only these can be found in the text.
    """
    words = set(_WORD.findall(plain))
    words |= {word.removesuffix("s") for word in words} | {""}
    names = [name for word in words for name in by_first.get(word, ())]
    return tuple(sorted(names, key=lambda name: (-len(name), name)))


@lru_cache(maxsize=4096)
def _fold_letter(letter: str) -> str:
    lower = letter.casefold()
    if lower in _PLAIN:
        return _PLAIN[lower]
    if lower.isascii():
        return lower
    if lower.isdecimal():
        return "".join(str(unicodedata.decimal(digit)) for digit in lower)
    gap = " " if "VULGAR" in unicodedata.name(letter, "") else ""
    split = unicodedata.normalize("NFKD", lower)
    bare = "".join(_PLAIN.get(part, part) for part in split if not _drops(part))
    return gap + bare.casefold()


def _drops(letter: str) -> bool:
    return bool(unicodedata.combining(letter)) or unicodedata.category(letter) == "Cf"


def _joined(name: str) -> str:
    return " ".join(re.split(r"[\s\-/]+", name.strip(" -/")))


def _pattern(names: tuple[str, ...]) -> str:
    choices = (re.escape(name).replace(r"\ ", r"[\s\-/]{1,3}") for name in names)
    return rf"(?<![^\W_])((?:{'|'.join(choices)})s?)(?![^\W_])"
