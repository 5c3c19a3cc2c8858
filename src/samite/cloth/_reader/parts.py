"""Which part of the cloth each fibre of a label belongs to."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from samite.cloth._reader.pairing import Entry
from samite.cloth._reader.text import LabelText
from samite.cloth._reader.tokens import Kind, Token
from samite.cloth.reading import PartKind

_TEXTILE = frozenset({PartKind.BASE, PartKind.PILE, None})
_ON = re.compile(r"\s*(?:on|auf|sur|su|sobre|over)\b")
_SELF_NAMED = {
    "adhesive-hotmelt": PartKind.ADHESIVE,
    "sequin-pet": PartKind.SEQUINS,
    "sequin-pvc": PartKind.SEQUINS,
}
_OF = re.compile(r"\b(?:made of|of|is|from|aus|in|en|de|di)\b|[-(.]")
_WITH = re.compile(r"\b(?:with|mit|avec|con|plus)\s+(?:an?\s+)?$")
_COMPLETE = 98.95


@dataclass(slots=True)
class Group:
    """Fibres that belong together, and the part that they make up.

    Parameters
    ----------
    entries : list of Entry
        In the order of the text.
    part : PartKind or None
        None for a second cloth such as a lining.
    word : str
        The word that names the part, empty if none does.
    sure : bool
        Whether a colon or a place on something names the part beyond doubt.
    """

    entries: list[Entry] = field(default_factory=list)
    part: PartKind | None = PartKind.BASE
    word: str = ""
    sure: bool = False

    @property
    def start(self) -> int:
        """First letter in the folded text."""
        return self.entries[0].start

    @property
    def end(self) -> int:
        """One past the last letter in the folded text."""
        return max(entry.end for entry in self.entries)

    @property
    def shared(self) -> bool:
        """Whether its fibres have shares."""
        return self.entries[0].percent is not None


def assign_parts(
    label: LabelText, tokens: list[Token], entries: list[Entry], names: list[tuple[int, int]]
) -> list[Group]:
    """Group the fibres of a label and give every group its part.

    Parameters
    ----------
    label : LabelText
        The label.
    tokens : list of Token
        Its tokens.
    entries : list of Entry
        Its fibres, in the order of the text.
    names : list of (int, int)
        Places of the names of cloths.

    Returns
    -------
    list of Group
        In the order of the text; weak words that nothing makes a fibre are left out.
    """
    markers = _markers(tokens, names)
    groups = _groups(tokens, entries)
    after_first = bool(groups and markers and groups[0].start < markers[0].start)
    for place, marker in enumerate(markers):
        following = markers[place + 1].start if place + 1 < len(markers) else len(label.whole)
        _mark(label, marker, following, groups, after_first=after_first, names=names)
    for group in groups:
        if not group.word and group.entries[0].fibre in _SELF_NAMED:
            group.part, group.word = _SELF_NAMED[group.entries[0].fibre], "itself"
            group.sure = True
    kept = [group for group in groups if not _is_mere_word(group)]
    if not any(group.part in (PartKind.BASE, PartKind.PILE, PartKind.FOAM) for group in kept):
        _give_back(kept)
    return kept


def _markers(tokens: list[Token], names: list[tuple[int, int]]) -> list[Token]:
    """Return the words for parts; "lining" alone is the cloth itself, not a second one."""
    markers = [token for token in tokens if token.kind is Kind.PART]
    others = any(token.part in (PartKind.BASE, PartKind.PILE) for token in markers)
    return [
        token
        for token in markers
        if token.part is not None
        or others
        or not any(start <= token.start < end for start, end in names)
    ]


def _groups(tokens: list[Token], entries: list[Entry]) -> list[Group]:
    """Join neighbours that have shares, until they are complete, or that have none."""
    breaks = [t for t in tokens if t.kind in (Kind.PART, Kind.HARD)]
    words = [t for t in tokens if t.kind in (Kind.WORD, Kind.JOIN)]
    groups: list[Group] = []
    for entry in entries:
        last = groups[-1] if groups else None
        if last is not None and _belongs(last, entry, breaks, words):
            last.entries.append(entry)
        else:
            groups.append(Group([entry]))
    return groups


def _belongs(last: Group, entry: Entry, breaks: list[Token], words: list[Token]) -> bool:
    before = last.entries[-1]
    if (before.percent is None) != (entry.percent is None):
        return False
    if any(before.end <= token.start < entry.start for token in breaks):
        return False
    if entry.percent is None:
        return not any(before.end <= token.start < entry.start for token in words)
    return sum(one.percent or 0.0 for one in last.entries) < _COMPLETE


def _mark(
    label: LabelText,
    marker: Token,
    following: int,
    groups: list[Group],
    *,
    after_first: bool,
    names: list[tuple[int, int]],
) -> None:
    """Give a word for a part the group before or after it."""
    before = [group for group in groups if group.end <= marker.start and not group.word]
    after = [group for group in groups if marker.end <= group.start < following]
    if marker.colon:
        for group in after:
            if not group.word and not _hard_between(label, marker.end, group.start):
                _name(group, marker, sure=True)
        return
    around = [group for group in groups if group.start <= marker.start and marker.end <= group.end]
    if around:
        _name(around[0], marker, sure=True)
        return
    words = 2 if marker.part in _TEXTILE else 0
    ahead = before[-1] if before and _near(label, before[-1].end, marker.start, words) else None
    behind = after[0] if after and _near(label, marker.end, after[0].start, min(words, 1)) else None
    if marker.part not in _TEXTILE and _names_a_cloth(label, marker.end, names):
        return
    chosen = ahead if behind is None or (ahead is not None and after_first) else behind
    if chosen is None or chosen.word:
        return
    sure = chosen is ahead and (
        bool(_ON.match(label.whole, marker.end)) or bool(_WITH.search(label.whole[: chosen.start]))
    )
    _name(chosen, marker, sure=sure or all(entry.weak for entry in chosen.entries))


def _name(group: Group, marker: Token, *, sure: bool) -> None:
    group.part, group.word, group.sure = marker.part, marker.text, sure


def _hard_between(label: LabelText, start: int, end: int) -> bool:
    return bool(re.search(r"[;|\n]", label.whole[start:end]))


def _near(label: LabelText, start: int, end: int, words: int) -> bool:
    """Tell whether no comma and at most some words stand between."""
    gap = label.whole[start:end]
    between = _OF.sub(" ", gap).split()
    return not re.search(r"[,;|\n)]|\bwith\b|\bon\b", gap) and len(between) <= words


def _names_a_cloth(label: LabelText, place: int, names: list[tuple[int, int]]) -> bool:
    """Tell whether the name of a cloth follows at once ("glitter tulle")."""
    return any(
        start < place < end or (start >= place and not label.whole[place:start].strip(" -"))
        for start, end in names
    )


def _is_mere_word(group: Group) -> bool:
    return not group.shared and not group.word and all(entry.weak for entry in group.entries)


def _give_back(groups: list[Group]) -> None:
    """Let the only fibres of a label be its base, unless they surely are not."""
    for group in groups:
        if not group.sure and group.part is not None:
            group.part, group.word = PartKind.BASE, ""
