"""Fibre words in running text: where they stand and whether they need a percentage."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

from samite.tables.aliases import fold_text, names_by_first_word, names_that_may_be_in
from samite.tables.fibre_names import fibre_names, fold_word
from samite.tables.loader import read_toml

COMPOUNDS = {
    "polycotton": (("polyester", 65.0), ("cotton", 35.0)),
    "polyviscose": (("polyester", 65.0), ("viscose", 35.0)),
    "polyrayon": (("polyester", 65.0), ("viscose", 35.0)),
    "polywool": (("polyester", 55.0), ("wool", 45.0)),
    "viscolinen": (("viscose", 60.0), ("linen", 40.0)),
    "metisse": (("linen", 50.0), ("cotton", 50.0)),
}
"""Words for two fibres, with the customary shares (common practice, no source)."""

OTHER = re.compile(
    r"(?<![^\W_])(?:(?:other|misc(?:ellaneous)?|mixed|unspecified|unknown|various)\.?\s+"
    r"(?:textile\s+)?(?:fib(?:er|re)s?(?:\(s\))?|materials?)|others?|autres?(?:\s+fibres?)?|"
    r"(?:sonstige|andere|ubrige)(?:\s+fasern?)?|altre\s+fibre|fibre\s+varie|otras\s+fibras|"
    r"fibras\s+varias|overige(?:\s+vezels)?|inne(?:\s+wlokna)?|misc|textile residues?)(?![^\W_])"
)
_CLOTH_NOT_FIBRE = re.compile(
    r"\b(?:(?:crin\s+)?horsehair\s+braid|(?<!%)(?<!% )\bcrin(?:\s+braid)?(?!\s*[\d%])|(?<=nylon )horsehair|"
    r"peau de soie|wool wax|silk[\s-]?screen\w*|cotton candy|glass stones?|"
    r"silk[\s-]flowers?|metallic (?:foil|print|look|finish|coat\w*|dots?|effect|sheen|shine)|"
    r"(?:gold|silver|copper|brass) (?:foil|print|dots?|glitter|sequins?|lame))\b"
)
_PART_TAILS = (" coating", " bead", " beads")
_MORE_LOOKS = r"screen|soft|touch\w*|shine|lustre|luster|tone|coloured|colored|free|blend look"


@dataclass(frozen=True, slots=True)
class FibreWord:
    """A fibre word in a text.

    Parameters
    ----------
    fibres : tuple of (str, float)
        Keys in the fibre table; more than one, with customary shares [%], for a compound.
    weak : bool
        Whether it names a fibre only beside a percentage.
    start : int
        First letter [1].
    end : int
        One past the last letter [1].
    """

    fibres: tuple[tuple[str, float], ...]
    weak: bool
    start: int
    end: int


def find_fibre_words(plain: str) -> list[FibreWord]:
    """Return the fibre words in a folded text.

    Parameters
    ----------
    plain : str
        Folded text.

    Returns
    -------
    list of FibreWord
        In the order of the text, looks ("silk touch", "faux wool") left out.
    """
    names_a_cloth = [found.span() for found in _CLOTH_NOT_FIBRE.finditer(plain)]
    words: list[FibreWord] = []
    names = names_that_may_be_in(plain, _by_first())
    for found in re.finditer(_pattern(names), plain) if names else ():
        start, end = found.span(1)
        inside = any(first <= start and end <= last for first, last in names_a_cloth)
        if not inside and not _is_look(plain, start, end):
            words.append(_word(found[1], start, end))
    return words


def _word(text: str, start: int, end: int) -> FibreWord:
    folded = " ".join(re.split(r"[\s\-/.']+", text))
    if folded.replace(" ", "") in COMPOUNDS:
        return FibreWord(COMPOUNDS[folded.replace(" ", "")], False, start, end)
    name = _names().get(folded) or _names()[folded.removesuffix("s")]
    key, weak = name
    return FibreWord(((key, 100.0),), weak, start, end)


@cache
def _names() -> dict[str, tuple[str, bool]]:
    table: dict[str, tuple[str, bool]] = {}
    for name in fibre_names().values():
        if name.word.casefold().endswith(_PART_TAILS):
            continue
        plain = " ".join(re.split(r"[\s\-/.']+", fold_text(name.word).plain.strip()))
        for form in (plain, fold_word(name.word)):
            table.setdefault(form, (name.fibre_key, name.needs_percent))
    return table


@cache
def _by_first() -> dict[str, list[str]]:
    return names_by_first_word(dict.fromkeys((*_names(), *COMPOUNDS)))


def _pattern(names: tuple[str, ...]) -> str:
    choices = "|".join(_spelled(word) for word in names)
    return rf"(?<![^\W_])((?:{choices})s?)(?![^\W_])"


@cache
def _slashed() -> frozenset[str]:
    """Return the names that are written with a stroke themselves."""
    return frozenset(fold_word(n.word) for n in fibre_names().values() if "/" in n.word)


def _spelled(word: str) -> str:
    between = r"[ \-.'/]{1,2}" if word in _slashed() else r"[ \-.']{1,2}"
    spelled = re.escape(word).replace(r"\ ", between)
    if word[-1].isdigit() and " " in word:
        return spelled + r"(?!\s*%|\s+(?:span|spandex|elastan|lycra|el\b|cotton|polyester))"
    return spelled


@cache
def _looks() -> tuple[re.Pattern[str], re.Pattern[str]]:
    document = read_toml("fibre_words.toml")
    before = "|".join(re.escape(fold_word(word)) for word in document["look_before"])
    after = "|".join(re.escape(fold_word(word)) for word in document["look_after"])
    return (
        re.compile(rf"\b(?:{before}|artificial|non)[\s-]+$"),
        re.compile(rf"[\s-]+(?:{after}|{_MORE_LOOKS})\b"),
    )


def _is_look(plain: str, start: int, end: int) -> bool:
    before, after = _looks()
    return bool(before.search(plain[max(0, start - 16) : start]) or after.match(plain, end))
