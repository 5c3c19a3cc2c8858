"""The words and figures that say what a cloth is made of, as tokens."""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum

from samite.cloth._reader.fibre_words import OTHER, FibreWord, find_fibre_words
from samite.cloth._reader.percents import PERCENT
from samite.cloth._reader.text import BLANK, NUMBER, LabelText, number
from samite.cloth.reading import PartKind
from samite.kernel.errors import OutOfRangeError


class Kind(StrEnum):
    """What a token is."""

    PERCENT = "percent"
    RATIO = "ratio"
    NUMBER = "number"
    FIBRE = "fibre"
    OTHER = "other"
    PART = "part"
    HARD = "hard"
    SOFT = "soft"
    JOIN = "join"
    WORD = "word"


@dataclass(frozen=True, slots=True)
class Token:
    """One word, figure or mark of a label.

    Parameters
    ----------
    kind : Kind
        What it is.
    start : int
        First letter in the folded text [1].
    end : int
        One past the last letter [1].
    text : str
        As folded.
    numbers : tuple of float
        One for a percentage or a number, several for a ratio like 94/6.
    fibre : FibreWord or None
        For a fibre word.
    part : PartKind or None
        For a word that names a part; None for a second cloth such as a lining.
    colon : bool
        Whether a colon or an equals sign follows.
    """

    kind: Kind
    start: int
    end: int
    text: str
    numbers: tuple[float, ...] = ()
    fibre: FibreWord | None = None
    part: PartKind | None = None
    colon: bool = False


_PART_WORDS: tuple[tuple[PartKind | None, str], ...] = (
    (PartKind.PILE, r"pile|flor|poil|polschicht"),
    (
        PartKind.BASE,
        (
            r"(?:main|base|ground|outer|face|shell|back)\s+(?:fabric|cloth|shell|side)|base|ground|back|"
            r"backing|reverse|face|front|shell|outer|main|substrate|carrier|grund(?:gewebe)?|rucken|"
            r"ruckseite|unterseite|trager(?:gewebe)?|oberstoff|vorderseite|dos|envers|endroit|fond|"
            r"support|fondo|rovescio|warp|weft|kette|schuss|chaine|trame|ordito|trama|urdimbre|upper|"
            r"top layer|bottom layer|foundation"
        ),
    ),
    (
        PartKind.FLOCK,
        r"flock(?:ing|ed(?=\s+(?:dots|pattern|print)))?(?:\s+(?:dots|fib(?:er|re)s?|pattern|print))?",
    ),
    (PartKind.FILM, r"foils?|film|membrane|folie|laminate"),
    (PartKind.GLITTER, r"glitter"),
    (PartKind.SEQUINS, r"sequins?|paillettes?|pailletten|lentejuelas|spangles?"),
    (PartKind.BEADS, r"beads?|beading|pearls?|perlen|perles|rhinestones?|stones|crystals"),
    (PartKind.DOTS, r"dots?|discs?|spots"),
    (PartKind.COATING, r"coating|beschichtung|enduction|lacquer|spalmatura|recubrimiento"),
    (PartKind.PRINT, r"print"),
    (PartKind.ADHESIVE, r"adhesive|glue"),
    (PartKind.FOAM, r"foam(?:\s+core)?|core|schaum(?:stoff)?"),
    (PartKind.YARN, r"embroidery(?:\s+(?:thread|yarn))?|cord(?:ing)?|stickerei|broderie"),
    (
        None,
        (
            r"lining|filling|fill|padding|interlining|trim(?:ming)?s?|futter|doublure|fodera|forro|"
            r"wadding"
        ),
    ),
)
_PART = re.compile(
    "|".join(
        rf"(?<![^\W_])(?P<k{index}>{words})(?![^\W_])"
        for index, (_, words) in enumerate(_PART_WORDS)
    )
)
_COLON = re.compile(r"\s*[:=](?!\S*\d:)")
_PERCENT = re.compile(
    rf"(?P<sign>(?<![\w%)])-)?(?P<n>{NUMBER})\s*{PERCENT}|%(?P<m>\d{{1,3}}(?:[.,]\d{{1,2}})?)(?![\w%])"
)
_SHARE = r"\d{1,3}(?:[.,]\d{1,2})?"
_RATIO = re.compile(rf"(?<![\w.,/]){_SHARE}\s*%?(?:\s*[/:]\s*{_SHARE}\s*%?){{1,5}}(?!\w|/|[.,]\d)")
_NUMBER = re.compile(rf"(?<![\w.,/]){NUMBER}(?![\w/%])")
_HARD = re.compile(r"[;|\n\r]+")
_SOFT = re.compile(r"[,.:=()\[\]/+&\x01-]+|\band\b|\bund\b|\bet\b")
_JOIN = re.compile(
    r"\b(?:with|on|over|mit|auf|avec|sur|con|sobre|su|plus|w/|without|in)\b(?!\s+nap)"
)
_WORD = re.compile(r"[^\W\d_][^\W_'.]*(?:'[^\W_]+)?")


def tokens_of(label: LabelText) -> list[Token]:
    """Return the tokens of what has not been read of a label.

    Parameters
    ----------
    label : LabelText
        The label.

    Returns
    -------
    list of Token
        In the order of the text.

    Raises
    ------
    OutOfRangeError
        If a share is negative.
    """
    plain = label.rest
    fibres = {word.start: word for word in find_fibre_words(plain)}
    tokens: list[Token] = []
    place = 0
    while place < len(plain):
        token = _token(label, plain, place, fibres)
        if token is None:
            place += 1
            continue
        tokens.append(token)
        place = token.end
    return tokens


def is_part_word(word: str) -> bool:
    """Tell whether a word names a part of a cloth.

    Parameters
    ----------
    word : str
        One folded word.

    Returns
    -------
    bool
        True for "pile", "backing" and the like.
    """
    return _PART.fullmatch(word) is not None


def _token(label: LabelText, plain: str, place: int, fibres: dict[int, FibreWord]) -> Token | None:
    letter = plain[place]
    if letter.isdigit() or letter in "%-.":
        figure = _figure(label, plain, place)
        if figure is not None:
            return figure
    if letter in BLANK + ",.:=()[]/+&-" or letter in ";|\n\r":
        found = _HARD.match(plain, place) or _SOFT.match(plain, place)
        if found is not None:
            kind = Kind.HARD if letter in ";|\n\r" else Kind.SOFT
            return Token(kind, place, found.end(), found[0])
    if not letter.isalpha() or (place and plain[place - 1].isalpha()):
        return None
    return _worded(plain, place, fibres)


def _figure(label: LabelText, plain: str, place: int) -> Token | None:
    ratio = _RATIO.match(plain, place)
    if ratio is not None:
        shares = tuple(number(text) for text in re.findall(_SHARE, ratio[0]))
        if 50.0 <= sum(shares) <= 200.0 and max(shares) <= 100.0:
            return Token(Kind.RATIO, place, ratio.end(), ratio[0], shares)
    percent = _PERCENT.match(plain, place)
    if percent is not None and (percent["sign"] or plain[place] != "-"):
        if percent["sign"] and _next_to_fibre(plain, percent.start(), percent.end()):
            raise OutOfRangeError(
                f"a share below zero ({percent[0]}) is impossible",
                label.place(percent.start(), percent.end()),
                "give the share without a minus sign",
            )
        value = number(percent["n"] or percent["m"])
        return Token(Kind.PERCENT, place, percent.end(), percent[0], (value,))
    bare = _NUMBER.match(plain, place)
    if bare is not None:
        return Token(Kind.NUMBER, place, bare.end(), bare[0], (number(bare[0]),))
    return None


def _next_to_fibre(plain: str, start: int, end: int) -> bool:
    words = find_fibre_words(plain[max(0, start - 40) : end + 40])
    offset = max(0, start - 40)
    gaps = [plain[end : word.start + offset] for word in words if word.start + offset >= end]
    gaps += [plain[word.end + offset : start] for word in words if word.end + offset <= start]
    return any(not gap.strip(" -:(") for gap in gaps)


def _worded(plain: str, place: int, fibres: dict[int, FibreWord]) -> Token | None:
    other = OTHER.match(plain, place)
    if other is not None:
        return Token(Kind.OTHER, place, other.end(), other[0])
    if place in fibres:
        word = fibres[place]
        return Token(Kind.FIBRE, place, word.end, plain[place : word.end], fibre=word)
    part = _PART.match(plain, place)
    if part is not None:
        index = next(i for i in range(len(_PART_WORDS)) if part[f"k{i}"] is not None)
        colon = bool(_COLON.match(plain, part.end()))
        named = _PART_WORDS[index][0]
        return Token(Kind.PART, place, part.end(), part[0], part=named, colon=colon)
    for kind, pattern in ((Kind.JOIN, _JOIN), (Kind.SOFT, _SOFT), (Kind.WORD, _WORD)):
        found = pattern.match(plain, place)
        if found is not None:
            return Token(kind, place, found.end(), found[0])
    return None
