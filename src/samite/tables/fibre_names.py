"""Fibre words of labels: standard names, codes, synonyms, trade marks, other languages."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from samite.kernel.errors import TableError, UnknownNameError
from samite.tables.fibres import fibres
from samite.tables.loader import did_you_mean, read_list, read_toml

KINDS = frozenset({"standard", "code", "synonym", "trade-mark", "foreign"})
NAME_TABLES = ("fibre_names.csv", "fibre_words.toml", "fibre_list.csv")
"""The files that answers of this module rest on, for `table_hash`."""

_COLUMNS = ("word", "fibre", "kind", "standard", "needs_percent", "language")
_LONGEST_FORM = 12
_LETTERS = str.maketrans({"ł": "l", "ø": "o", "æ": "ae", "œ": "oe", "đ": "d", "ı": "i"})
_MARKS = str.maketrans(dict.fromkeys("-‐‑–_/.'’®™", " "))


@dataclass(frozen=True, slots=True)
class FibreName:
    """A word of a label and the fibre that it names.

    Parameters
    ----------
    word : str
        The word as the table prints it.
    fibre_key : str
        Key in the fibre table.
    name : str
        Name of that fibre in full.
    kind : str
        ``standard``, ``code``, ``synonym``, ``trade-mark`` or ``foreign``.
    standards : tuple of str
        Sources of the word.
    needs_percent : bool
        True if the word names a fibre only beside a percentage ("PE", "glass").
    languages : tuple of str
        Two-letter languages of a foreign word.
    """

    word: str
    fibre_key: str
    name: str
    kind: str
    standards: tuple[str, ...]
    needs_percent: bool
    languages: tuple[str, ...] = ()

    @property
    def standard(self) -> str:
        """The first source of the word."""
        return self.standards[0]


def fold_word(word: str) -> str:
    """Return a word in the form in which words are compared.

    Parameters
    ----------
    word : str
        As printed.

    Returns
    -------
    str
        Lower case, without accents, marks turned into single spaces.
    """
    lower = word.casefold().translate(_LETTERS)
    if not lower.isascii():
        split = unicodedata.normalize("NFKD", lower)
        lower = "".join(letter for letter in split if not unicodedata.combining(letter))
    return " ".join(lower.translate(_MARKS).split())


@cache
def fibre_names() -> Mapping[str, FibreName]:
    """Return every fibre word by its folded form.

    Returns
    -------
    mapping of str to FibreName
        In the order of ``fibre_names.csv``.

    Raises
    ------
    TableError
        If a word is listed twice, names no fibre, or has an unknown kind or source.
    """
    found: dict[str, FibreName] = {}
    for line, cells in read_list("fibre_names.csv", _COLUMNS):
        name = _name(f"fibre_names.csv:{line}", cells)
        folded = fold_word(name.word)
        if folded in found:
            where = f"fibre_names.csv:{line}"
            raise TableError(f"{where}: {name.word} is listed twice.", where, "Keep one line.")
        found[folded] = name
    return MappingProxyType(found)


@cache
def known_words() -> frozenset[str]:
    """Return the folded form of every fibre word, without plurals, qualifiers and tails.

    Returns
    -------
    frozenset of str
        Words and phrases of up to `longest_phrase` words.
    """
    return frozenset(fibre_names())


@cache
def longest_phrase() -> int:
    """Return the number of words in the longest fibre phrase.

    Returns
    -------
    int
        How far a reader must look ahead [1].
    """
    return max(len(word.split()) for word in known_words())


def find_fibre(word: str) -> FibreName:
    """Return the fibre that a label's word names.

    Parameters
    ----------
    word : str
        A word or phrase; case, accents, hyphens and plural do not matter, and qualifiers
        ("organic cotton") and tails ("polyester fibres") are dropped.

    Returns
    -------
    FibreName
        The fibre and how the word is known.

    Raises
    ------
    UnknownNameError
        If no fibre is called that; the hint carries close names, which are never taken instead.
    """
    found = match_fibre(word)
    if found is None:
        raise UnknownNameError(
            f"no fibre is called {word!r}", word, did_you_mean(fold_word(word), known_words())
        )
    return found


def match_fibre(word: str) -> FibreName | None:
    """Return the fibre that a word names, or None.

    Parameters
    ----------
    word : str
        As for `find_fibre`.

    Returns
    -------
    FibreName or None
        None if no fibre is called that, or if the phrase names only a look ("silk touch").
    """
    folded = fold_word(word)
    if names_a_look(folded):
        return None
    for form in _forms(folded):
        found = fibre_names().get(form)
        if found is not None:
            return found
    return None


def names_a_look(phrase: str) -> bool:
    """Tell whether a phrase names the look of a fibre and not the fibre.

    Parameters
    ----------
    phrase : str
        ``"silk touch"``, ``"faux wool"``, ``"linen look"``.

    Returns
    -------
    bool
        True if a look word stands before or after a fibre word.
    """
    first, _, rest = fold_word(phrase).partition(" ")
    start, _, last = fold_word(phrase).rpartition(" ")
    before = first in _words("look_before") and _names(rest)
    return before or (last in _words("look_after") and _names(start))


LABEL_SOURCES = {"us": "cfr-16-303", "eu": "eu-1007-2011"}
"""The list of names that each region's labels take."""


def label_name(fibre_key: str, region: str) -> str:
    """Return the generic name that a region's content label prints for a fibre.

    Parameters
    ----------
    fibre_key : str
        Key in the fibre table.
    region : str
        ``us`` or ``eu``.

    Returns
    -------
    str
        The name in the region's own list, else that of another list, which since 2020 the US rules
        take too.
    """
    known = [
        one
        for one in fibre_names().values()
        if one.fibre_key == fibre_key and one.kind == "standard"
    ]
    listed = [one for one in known if LABEL_SOURCES[region] in one.standards]
    plain = [one for one in listed if one.word == fibre_key]
    for one in (*plain, *listed, *known):
        return one.word
    return fibre_key.replace("-", " ")


def _names(folded: str) -> bool:
    return any(form in fibre_names() for form in _forms(folded))


def _forms(folded: str) -> Iterable[str]:
    """Yield the word, then shorter forms of it, the longest first, each once."""
    waiting = [folded]
    for form in waiting:
        yield form
        yield from _singulars(form)
        if form.count(" ") < _LONGEST_FORM:
            waiting.extend(shorter for shorter in _shorter(form) if shorter not in waiting)


def _singulars(folded: str) -> Iterable[str]:
    if len(folded) > 4 and folded.endswith("s"):
        yield folded[:-1]
        if folded.endswith("es"):
            yield folded[:-2]


def _shorter(folded: str) -> Iterable[str]:
    first, _, rest = folded.partition(" ")
    start, _, last = folded.rpartition(" ")
    if rest and first in _words("qualifiers"):
        yield rest
    if start and (last in _words("tails") or last in _words("qualifiers")):
        yield start


@cache
def _words(name: str) -> frozenset[str]:
    return frozenset(fold_word(word) for word in read_toml("fibre_words.toml")[name])


def _name(where: str, cells: tuple[str, ...]) -> FibreName:
    word, key, kind, standards, needs_percent, languages = cells
    listed = fibres().get(key)
    if listed is None:
        raise TableError(f"{where}: unknown fibre {key!r}.", where, did_you_mean(key, fibres()))
    if kind not in KINDS or needs_percent not in ("yes", "no"):
        raise TableError(
            f"{where}: kind {kind!r}, needs_percent {needs_percent!r}.",
            where,
            f"Use one of {', '.join(sorted(KINDS))}, and yes or no.",
        )
    sources = tuple(standards.split(";"))
    for source in sources:
        if source not in read_toml("sources.toml"):
            raise TableError(f"{where}: unknown source {source!r}.", where, "Add it.")
    percent = needs_percent == "yes"
    return FibreName(word, key, listed.name, kind, sources, percent, tuple(languages.split()))
