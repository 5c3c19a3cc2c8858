"""Percentages that say nothing about fibres: stretch, discounts, coverage and the like."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from samite.cloth._reader.fibre_words import OTHER, find_fibre_words
from samite.cloth._reader.text import LabelText, number
from samite.kernel.errors import OutOfRangeError
from samite.kernel.evidence import GIVEN
from samite.kernel.quantity import Quantity, between, exact, spread

STRETCH_LIMIT_PERCENT = 400.0

PERCENT = r"(?:%|per\s?cent\b|pct\b|prozent\b|pour\s?cent\b|por\s?ciento\b|per\s?cento\b)"


_SHARE = r"\d{1,5}(?:[.,]\d{1,3})?"


def _figure(name: str) -> str:
    low = rf"(?:(?P<{name}low>{_SHARE})\s*%?\s*(?:-|to|bis)\s*)?"
    return rf"{low}(?P<{name}>{_SHARE})\s*{PERCENT}"


_CROSS = (
    r"(?:crosswise|crossways|cross[\s-]?grain|cross|across|widthwise|width|weft|horizontal(?:ly)?|"
    r"quer|en largeur|breite|selvedge to selvedge|selvage to selvage)"
)
_LENGTH = (
    r"(?:lengthwise|lengthways|length|along|warp|vertical(?:ly)?|langs|en longueur|lange|"
    r"straight grain)"
)
_STRETCH = (
    r"(?:stretch(?:es|iness)?|dehnung|dehnbar|elasticity|give|extensibilite|elasticite|"
    r"elasticidad|elasticita|allungamento|elongation|extension)"
)
_WAYS = r"(?:[24]\s?-?\s?way|two[\s-]way|four[\s-]way|mechanical|natural|comfort|good|great|max)"
_ASSIGN = r"\s*(?:of|up to|factor|percentage|:|=|ca\.?|approx\.?|about|~)?\s*:?\s*\(?\s*"

_DIRECTED = re.compile(
    rf"(?<![\w.,/-]){_figure('a')}\s*(?:in\s+(?:the\s+)?)?"
    rf"(?:(?P<ac>{_CROSS})|(?P<al>{_LENGTH}))\b(?:\s*{_STRETCH}\b)?"
    rf"|\b(?:(?P<bc>{_CROSS})|(?P<bl>{_LENGTH}))(?:\s*(?:{_STRETCH}|direction))?{_ASSIGN}"
    rf"{_figure('b')}"
)
_AND = r"\s*(?:x|/|and|&|by|\+)\s*"
_UNDIRECTED = re.compile(
    rf"(?<![\w.,/-]){_figure('a')}(?:{_AND}{_figure('b')})?\s*(?:of\s+)?"
    rf"(?:{_WAYS}\s+)?{_STRETCH}\b"
    rf"|\b{_STRETCH}{_ASSIGN}(?P<e>{_SHARE}){_AND}(?P<f>{_SHARE})\s*{PERCENT}"
    rf"|\b{_STRETCH}{_ASSIGN}{_figure('c')}(?:{_AND}{_figure('d')})?"
)
_AFTER = (
    r"off|discount|rabatt|reduction|remise|sconto|descuento|reduced|reduziert|saving|vat|tax|mwst|"
    r"tva|iva|ust|coverage|covered|cover|shrink\w*|recovery|opaque|opacity|blackout|humidity|uv|"
    r"relative|guaranteed|satisfaction|deposit|more|extra|larger|smaller|tolerance|of the surface|"
    r"of surface|surface area|einlauf\w*|retrait|relaxation|light|waterproof|authentic|vegan|new|"
    r"brand new|recycled content|recycled(?=\s*(?:[,.;)]|$))|cheaper|gunstiger|moisture"
)
_BEFORE = (
    r"save|off|discount|sale|minus|coverage|covers|covering|shrinkage|shrinks?(?: by| up to)?|"
    r"recovery|vat|incl\.?(?: vat)?|excl\.?(?: vat)?|uv|tolerance|residual shrinkage|rabatt|"
    r"remise|sconto|humidity|blackout|einlauf|up to|bis zu|jusqu'a|-"
)
_BESIDE = re.compile(
    rf"(?P<before>\b(?:{_BEFORE[:-2]})\s*(?:of|:|=)?\s*|(?<!\w)-)?(?<![\w.,/])(?P<n>{_SHARE})\s*"
    rf"{PERCENT}(?P<after>\s*(?:{_AFTER})\b)?"
)
_NEXT_WORDS = re.compile(r"\s*(?:[a-z][a-z.'-]*\s+){0,2}")


@dataclass(frozen=True, slots=True)
class Stretch:
    """What a label says of stretch in figures.

    Parameters
    ----------
    cross_percent : Quantity or None
        Across [%].
    length_percent : Quantity or None
        Along [%].
    """

    cross_percent: Quantity | None
    length_percent: Quantity | None


def take_stretch(label: LabelText) -> Stretch:
    """Take the stretch percentages from a label.

    Parameters
    ----------
    label : LabelText
        The label; what is read is blanked out.

    Returns
    -------
    Stretch
        Without a direction a single figure is taken across, of two the first.

    Raises
    ------
    OutOfRangeError
        If a cloth is said to stretch by more than 400 %.
    """
    cross: Quantity | None = None
    length: Quantity | None = None
    for found in _take_figures(label, _DIRECTED):
        form = "a" if found["a"] is not None else "b"
        value = _stretch(label, found, form)
        if found[f"{form}c"] is not None:
            cross = cross or value
        else:
            length = length or value
    for found in _take_figures(label, _UNDIRECTED):
        one, two = next(pair for pair in ("ab", "ef", "cd") if found[pair[0]] is not None)
        cross = cross or _stretch(label, found, one)
        if found[two] is not None:
            length = length or _stretch(label, found, two)
    return Stretch(cross, length)


def take_other_percents(label: LabelText) -> list[str]:
    """Take percentages that are discounts, coverage, shrinkage and the like.

    Parameters
    ----------
    label : LabelText
        The label; what is read is blanked out.

    Returns
    -------
    list of str
        What was passed over, as printed.
    """
    taken = label.take(_BESIDE, lambda found: _is_beside(label, found))
    return [found[0].strip() for found in taken]


def fibre_follows(plain: str, place: int) -> bool:
    """Tell whether a fibre word, or "other fibres", is what stands next.

    Parameters
    ----------
    plain : str
        Folded text.
    place : int
        Where to look [1].

    Returns
    -------
    bool
        True if at most two other words, and no comma, stand before it.
    """
    stretch = plain[place : place + 60]
    stop = re.search(r"[,;|\n\x01%\d(]", stretch)
    if stop is not None:
        stretch = stretch[: stop.start()]
    starts = [word.start for word in find_fibre_words(stretch)]
    for start in starts + [other.start() for other in OTHER.finditer(stretch)]:
        between_words = stretch[:start].replace("/", " ").split()
        if len(between_words) <= 2:
            return True
    return False


def _take_figures(label: LabelText, pattern: re.Pattern[str]) -> list[re.Match[str]]:
    """Take figures that no fibre follows; the word "stretch" itself is left to be read."""
    taken = [
        found
        for found in pattern.finditer(label.rest)
        if not fibre_follows(label.rest, found.end())
    ]
    for found in taken:
        start = found.start()
        for word in re.finditer(rf"{_STRETCH}\b", found[0]):
            label.blank(start, found.start() + word.start())
            start = found.start() + word.end()
        label.blank(start, found.end())
    return taken


def _stretch(label: LabelText, found: re.Match[str], group: str) -> Quantity:
    value = number(found[group])
    if value > STRETCH_LIMIT_PERCENT:
        raise OutOfRangeError(
            f"no cloth stretches by {value:g} %; the stretchiest reach {STRETCH_LIMIT_PERCENT:g} %",
            label.place(found.start(), found.end()),
            "check the number",
        )
    printed_low = found.groupdict().get(f"{group}low")
    low = number(printed_low) if printed_low else value
    if 0.0 < low < value:
        return replace(between(low, value, "%", GIVEN), given=True)
    if value <= 0.0:
        return exact(0.0, "%", GIVEN, given=True)
    return spread(value, 0.2, "%", GIVEN, given=True)


def _is_beside(label: LabelText, found: re.Match[str]) -> bool:
    if found["after"] is not None:
        return not fibre_follows(label.rest, found.end("after"))
    if found["before"] is None or fibre_follows(label.rest, found.end()):
        return False
    before = label.rest[: found.start()].rstrip()
    words = find_fibre_words(before[-30:])
    return not (words and words[-1].end == len(before[-30:]))
