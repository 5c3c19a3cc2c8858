"""Care, direction, stretch and edge in the words of a label."""

from __future__ import annotations

import re
from dataclasses import dataclass

from samite.cloth._reader.text import LabelText
from samite.kernel.errors import InputError

_NO_IRON = re.compile(
    r"\b(?:(?:do\s*not|don'?t|never|not\s+to\s+be)\s+(?:be\s+)?iron(?:ed)?|no\s+iron(?:ing)?|"
    r"not\s+ironable|cannot\s+be\s+ironed|iron\s*:\s*no(?:ne)?|nicht\s+bugeln|ne\s+pas\s+repasser|"
    r"pas\s+de\s+repassage|no\s+planchar|non\s+stirare|niet\s+strijken|nie\s+prasowac)\b"
)
_DOTS = {"one": 1, "single": 1, "two": 2, "three": 3, "1": 1, "2": 2, "3": 3}
_DOTTED = re.compile(
    r"\biron(?:ing)?\s*:?\s*(?:at|on|with|max\.?|up to|setting|symbol)?\s*"
    r"(?P<a>[123]|one|two|three)[\s-]*(?:dots?|points?|punkte?)\b|\b(?P<b>[123]|one|two|three|single)[\s-]*dots?\s+iron\w*"
    r"|\biron(?:ing)?\s*:?\s*\(?(?P<c>[\u2022\u25cf.]{1,3})\)?(?![\w.])|(?P<d>[\u2022\u25cf]{1,3})\s*iron\b"
    r"|\bbugeln\s*(?P<e>[123])\s*punkte?\b"
)
_IRON_WORDS = (
    (1, r"(?:very\s+)?(?:cool|low|cold)(?:[\s-]+heat|[\s-]+temperature|[\s-]+temp)?"),
    (2, r"(?:warm|medium|moderate)(?:[\s-]+heat|[\s-]+temperature|[\s-]+temp)?"),
    (3, r"(?:hot|high)(?:[\s-]+heat|[\s-]+temperature|[\s-]+temp)?"),
)
_IRON_WORD = tuple(
    (
        dots,
        re.compile(
            rf"\b{word}\s+(?:iron(?:ing)?|press(?:ing)?)\b"
            rf"|\b(?:iron(?:ing)?|press)\s*:?\s*(?:(?:on|at|with|using)\s+)?(?:a\s+)?{word}\b"
        ),
    )
    for dots, word in _IRON_WORDS
)
_IRON_C = re.compile(
    r"\b(?:iron(?:ing)?|press|bugeln|repassage)\s*:?\s*(?:at|max\.?|up\s+to|maximum|bis|below)?\s*"
    r"(?P<a>\d{2,3})\s*(?:\u00b0\s*c?|degrees?(?:\s*c)?|c)\b|\b(?P<b>\d{2,3})\s*(?:\u00b0\s*c?|c)\s*iron\b"
    r"|\biron(?:ing)?\s*:?\s*(?:at|max\.?|up\s+to)\s*(?P<c>\d{2,3})\s*\u00b0"
)
_NO_STEAM = re.compile(
    r"\b(?:no\s+steam(?:ing)?|(?:do\s*not|don'?t|never)\s+steam|without\s+steam|steam\s*:\s*no|"
    r"ohne\s+dampf|nicht\s+dampfen|sans\s+vapeur|sin\s+vapor|senza\s+vapore)\b"
)
_NO_DRY_CLEAN = re.compile(
    r"\b(?:(?:do\s*not|don'?t|never|no|not)\s+dry[\s-]?clean\w*|nicht\s+chemisch\s+reinigen|"
    r"ne\s+pas\s+nettoyer\s+a\s+sec|no\s+lavar\s+en\s+seco|non\s+lavare\s+a\s+secco)\b"
)
_DRY_CLEAN = re.compile(
    r"\b(?:dry[\s-]?clean(?:ing)?(?:\s+only)?|nur\s+chemische\s+reinigung|chemische\s+reinigung|"
    r"nettoyage\s+a\s+sec|limpieza\s+en\s+seco|lavaggio\s+a\s+secco)\b"
)
_NO_WASH = re.compile(
    r"\b(?:(?:do\s*not|don'?t|never)\s+wash|not\s+washable|no\s+wash|nicht\s+waschen|"
    r"ne\s+pas\s+laver|no\s+lavar(?!\s+en)|non\s+lavare(?!\s+a))\b"
)
_WASH_C = re.compile(
    r"\b(?:machine\s+)?(?:wash(?:able)?|washing|waschen|waschbar|lavage|lavar|lavare|lavabile)"
    r"(?:\s+(?:at|bei|a|up\s+to|cold|warm|in|max\.?|gentle|delicate|inside\s+out))*\s*:?\s*"
    r"(?P<a>[2-9]0|95)\s*(?:\u00b0\s*c?|degrees?|c|grad)?(?![\w%/.,])"
    r"|(?<![\w.,/])(?P<b>[2-9]0|95)\s*(?:\u00b0\s*c?|c|degrees?|grad)\s*(?:machine\s+)?"
    r"(?:wash\w*|waschbar|delicate\w*)|(?<![\w.,/])(?P<c>[2-9]0|95)\s*\u00b0\s*c?(?!\w)"
)
_COLD_WASH = re.compile(
    r"\b(?:cold|cool)\s+(?:machine\s+|hand\s+)?wash\b|\b(?:hand\s*)?wash\s+cold\b"
)
_HAND_WASH = re.compile(r"\b(?:hand\s*wash(?:able)?(?:\s+only)?|handwasche|lavage\s+main)\b")
_CARE_REST = re.compile(
    r"\b(?:machine\s+wash(?:able)?|washable(?!\s+paper)|tumble\s+dry(?:\s+low)?|do\s*not\s+tumble(?:\s+dry)?|"
    r"do\s*not\s+bleach|line\s+dry|hang\s+dry|dry\s+flat|iron\s+(?:on\s+)?(?:reverse|inside\s+out|"
    r"the\s+(?:wrong|reverse)\s+side|wrong\s+side)|steam(?:\s+iron(?:ing)?)?\s+only|"
    r"professional\s+clean\w*|spot\s+clean(?:\s+only)?|wash\s+separately|non[\s-]iron)\b"
)

_STRETCH_WAYS = re.compile(
    r"\b(?:(?P<four>4|four)[\s-]*way|(?P<two>2|two)[\s-]*way|(?P<one>1|one)[\s-]*way|"
    r"(?P<bi>bi|multi)[\s-]*)[\s-]*(?:directional[\s-]*)?(?:mechanical\s+)?stretch(?:y)?\b"
    r"|\b(?P<bi2>bielastisch|bi-elastisch|bistretch|bi-elastique)\b"
)
_RIGID = re.compile(
    r"\b(?:non[\s-]*stretch(?:y|able)?|no\s+stretch|not\s+stretch(?:y|able)?|"
    r"(?:does|do|will)\s*(?:not|n't)\s+stretch|doesn'?t\s+stretch|without\s+(?:any\s+)?stretch|"
    r"rigid|no\s+give|unelastisch|nicht\s+(?:dehnbar|elastisch)|non\s+extensible|no\s+elastico|"
    r"non\s+elastico|stretch\s*:\s*(?:no|none|nil)|zero\s+stretch)\b"
)
_STRETCHES = re.compile(
    r"\b(?:stretch(?:es|y|ed|able)?|elastic(?:ated)?\s+(?:cloth|fabric)|dehnbar|elastisch|"
    r"stretchig|extensible|elasticizzat[oa]|elastico|elastica|elastique|elastizado)\b"
)
_NO_RAVEL = re.compile(
    r"\b(?:(?:does|do|will)\s*(?:not|n't)\s+(?:fray|ravel|unravel)|(?:doesn'?t|won'?t|don'?t)\s+"
    r"(?:fray|ravel|unravel)|non[\s-]*(?:fray|ravel)(?:ing)?|no[\s-]+(?:fray|ravel)(?:ing)?|"
    r"(?:fray|ravel)[\s-]*(?:free|proof|resistant)|franst\s+nicht(?:\s+aus)?|nicht\s+fransend|"
    r"ne\s+s'effiloche\s+pas|indemaillable|no\s+se\s+deshilacha|frays\s*:\s*no|never\s+frays)\b"
)
_RAVEL = re.compile(
    r"\b(?:(?:fray|ravel|unravel)(?:s|ing)?|franst(?:\s+aus)?|ausfransend|s'effiloche|"
    r"se\s+deshilacha|si\s+sfilaccia)\b"
)
_NO_ONE_WAY = re.compile(
    r"\b(?:non[\s-]*directional|no\s+nap|without\s+(?:a\s+)?nap|two[\s-]*way\s+(?:design|print|"
    r"pattern)|2[\s-]*way\s+(?:design|print|pattern)|multi[\s-]*directional|tossed|"
    r"not\s+directional|no\s+direction)\b"
)
_ONE_WAY = re.compile(
    r"\b(?:one[\s-]*way(?!\s+stretch)(?:\s+(?:design|print|pattern|nap|pile))?|1[\s-]*way\s+"
    r"(?:design|print|pattern)|uni[\s-]*directional|directional(?:\s+(?:print|pattern|design))?|"
    r"with\s+(?:a\s+)?nap|nap|mit\s+strich|strichrichtung|richtungsdruck|single\s+direction|"
    r"sens\s+unique|one\s+direction)\b"
)
_NO_SHEER = re.compile(
    r"\b(?:opaque|not\s+(?:sheer|see[\s-]*through|transparent)|non[\s-]*(?:sheer|transparent)|"
    r"blickdicht|no\s+transparenta?|coprente)\b"
)
_SHEER = re.compile(
    r"\b(?:(?:semi[\s-]*)?(?:sheer|transparent|translucent)|see[\s-]*(?:through|thru)|"
    r"durchsichtig|transparente?|trasparente|clear)\b"
)
_CONSTRUCTIONS = tuple(
    (name, re.compile(pattern))
    for name, pattern in (
        ("nonwoven", r"\b(?:non[\s-]*woven|vliesstoff|non\s*tisse)\b"),
        (
            "knit",
            (
                r"\b(?:(?:warp|weft|circular|double|raschel)?[\s-]*knit(?:ted|s)?(?!\s*back)|gestrickt|"
                r"gewirkt|tricote|maille|strickware|maschenware)\b"
            ),
        ),
        (
            "woven",
            r"\b(?:woven(?!\s*(?:back|label))|gewebt|tisse|tessuto\s+a\s+navetta|tejido\s+plano)\b",
        ),
    )
)


@dataclass(frozen=True, slots=True)
class Care:
    """Care in words.

    Parameters
    ----------
    dots : int or None
        Dots of the iron symbol; 0 means "do not iron".
    no_steam : bool
        Whether steam is forbidden.
    dry_clean : bool or None
        Whether dry cleaning is named (True) or forbidden (False).
    wash_c : int or None
        Washing temperature [C]; 0 means "do not wash".
    notes : tuple of str
        What was done with a temperature of the iron.
    """

    dots: int | None
    no_steam: bool
    dry_clean: bool | None
    wash_c: int | None
    notes: tuple[str, ...] = ()


def take_care(label: LabelText) -> Care:
    """Take the care words from a label.

    Parameters
    ----------
    label : LabelText
        The label; what is read is blanked out.

    Returns
    -------
    Care
        What the label says.

    Raises
    ------
    InputError
        If it both forbids and asks for the iron, or names two settings.
    """
    no_steam = bool(label.take(_NO_STEAM))
    dots, notes = _iron(label)
    forbidden, asked = bool(label.take(_NO_DRY_CLEAN)), bool(label.take(_DRY_CLEAN))
    dry_clean = False if forbidden else (True if asked else None)
    wash = _wash(label)
    label.take(_CARE_REST)
    return Care(dots, no_steam, dry_clean, wash, tuple(notes))


def _iron(label: LabelText) -> tuple[int | None, list[str]]:
    found: list[tuple[int, str, int, int]] = []
    notes: list[str] = []
    found += [(0, no[0], no.start(), no.end()) for no in label.take(_NO_IRON)]
    for match in label.take(_IRON_C):
        degrees = int(next(text for text in match.groups() if text))
        dots = 0 if degrees < 110 else 1 if degrees < 150 else 2 if degrees < 200 else 3
        notes.append(f"an iron of {degrees} degrees C is {dots or 'less than one'} dot(s)")
        found.append((dots, match[0], match.start(), match.end()))
    for match in label.take(_DOTTED):
        text = next(text for text in match.groups() if text)
        found.append((_DOTS.get(text, len(text)), match[0], match.start(), match.end()))
    for dots, pattern in _IRON_WORD:
        found += [(dots, m[0], m.start(), m.end()) for m in label.take(pattern)]
    for dots, text, start, end in found[1:]:
        if dots != found[0][0]:
            raise InputError(
                f"the label says both {found[0][1].strip()!r} and {text.strip()!r}",
                label.place(start, end),
                "keep the right one",
            )
    return (found[0][0] if found else None), notes


def _wash(label: LabelText) -> int | None:
    if label.take(_NO_WASH):
        return 0
    washed = [next(text for text in match.groups() if text) for match in label.take(_WASH_C)]
    cold, hand = label.take(_COLD_WASH), label.take(_HAND_WASH)
    if washed:
        return int(washed[0])
    return 30 if cold or hand else None


@dataclass(frozen=True, slots=True)
class Handle:
    """What words say of stretch, edge, direction and transparency; None if they do not.

    Parameters
    ----------
    stretches : bool or None
        Whether it stretches.
    stretch_ways : int or None
        1 if it stretches one way only, 2 if both across and along.
    ravels : bool or None
        Whether a cut edge ravels.
    one_way : bool or None
        Whether all pieces must lie the same way.
    sheer : bool or None
        Whether one sees through it.
    construction : str or None
        ``woven``, ``knit`` or ``nonwoven``, in the label's own word.
    notes : tuple of str
        What was done with the words.
    """

    stretches: bool | None
    stretch_ways: int | None
    ravels: bool | None
    one_way: bool | None
    sheer: bool | None
    construction: str | None
    notes: tuple[str, ...]


def read_handle(label: LabelText) -> Handle:
    """Read the words for stretch, edge, direction and transparency.

    Parameters
    ----------
    label : LabelText
        The label; refusals are blanked out ("does not fray"), names are left to their tables.

    Returns
    -------
    Handle
        What the label says.

    Raises
    ------
    InputError
        If it says both a thing and its opposite.
    """
    notes: list[str] = []
    ways = _ways(label, notes)
    stretches = _yes_or_no(label, _RIGID, _STRETCHES)
    if ways is not None:
        if stretches is False:
            raise _both("that it stretches", "that it does not")
        stretches = True
    return Handle(
        stretches,
        ways,
        _yes_or_no(label, _NO_RAVEL, _RAVEL),
        _yes_or_no(label, _NO_ONE_WAY, _ONE_WAY),
        _yes_or_no(label, _NO_SHEER, _SHEER),
        _construction(label, notes),
        tuple(notes),
    )


def _ways(label: LabelText, notes: list[str]) -> int | None:
    found = label.take(_STRETCH_WAYS)
    if not found:
        return None
    first = found[0]
    if first["one"] is not None:
        return 1
    if first["two"] is not None:
        notes.append('"2-way stretch" may mean across only or both ways: taken as across only')
        return 1
    return 2


def _yes_or_no(label: LabelText, no: re.Pattern[str], yes: re.Pattern[str]) -> bool | None:
    refused = label.take(no)
    said = label.take(yes)
    if refused and said:
        raise _both(repr(refused[0][0].strip()), repr(said[0][0].strip()))
    if refused:
        return False
    return True if said else None


def _both(one: str, two: str) -> InputError:
    return InputError(
        f"the label says both {one} and {two}", "label", "keep the one that the cloth shows"
    )


def _construction(label: LabelText, notes: list[str]) -> str | None:
    plain, said = label.rest, []
    for name, pattern in _CONSTRUCTIONS:
        found = list(pattern.finditer(plain))
        if found:
            said.append(name)
        for match in found:
            plain = plain[: match.start()] + " " * len(match[0]) + plain[match.end() :]
    if len(said) > 1:
        notes.append(f"the label says both {said[0]} and {said[1]}: neither is taken")
        return None
    return said[0] if said else None
