"""Parts and fibres of a label, their shares checked and made up to 100 %."""

from __future__ import annotations

import re
from dataclasses import dataclass

from samite.cloth._reader.fibre_words import OTHER
from samite.cloth._reader.pairing import SHARES_HIGH, SHARES_LOW, Entry, Pairing
from samite.cloth._reader.parts import Group, assign_parts
from samite.cloth._reader.percents import PERCENT
from samite.cloth._reader.text import NUMBER, LabelText, number
from samite.cloth._reader.tokens import tokens_of
from samite.cloth.reading import Component, FibreShare, PartKind
from samite.kernel.errors import InputError
from samite.tables.structures import Structure

ROUNDING_LOW = 99.0
"""Shares that add to this or more are rounding, below it other fibres [%]."""

ASSUMED_ELASTIC_PERCENT = 6.0
ASSUMED_METALLIC_PERCENT = 10.0
_ASSUMED_PERCENT = (ASSUMED_METALLIC_PERCENT, ASSUMED_ELASTIC_PERCENT)
_ELASTIC = frozenset({"elastane", "elastodiene", "elastolefin", "elastomultiester"})
_METALLIC = frozenset({"metallised-film", "metal"})
_TINY = 1e-6

_EXCLUSIVE = re.compile(
    r"\(?\s*\b(?:exclusive|excl\.?|excluding|exclud(?:es|ed)|not\s+including|ohne|hors|sauf|"
    r"esclus[oei]|excepto|apart\s+from)\s+(?:of\s+)?(?:the\s+)?(?P<what>(?:decorations?|"
    r"ornamentations?|ornaments?|trim(?:ming)?s?|elastics?|sequins?|beads?|beading|foil|glitter|"
    r"embroidery|flock|lining|pailletten|verzierung(?:en)?|decor|coating|print|pattern|"
    r"embellishments?)(?:\s*(?:,|and|&|/|or)\s*(?:decorations?|ornamentations?|trim(?:ming)?s?|"
    r"elastics?|sequins?|beads?|embroidery|foil|glitter))*)\b\s*\)?"
)
_EXCEPT = re.compile(r"\bexcept(?:ing)?(?:\s+for)?\b[^;.\n]*")
_PART_WORD = r"(?P<{0}w>back(?:ing)?|base|ground|pile|face|reverse|flock|coating|foam)"
_SHARE = rf"(?P<{{0}}n>{NUMBER.replace('{', '{{').replace('}', '}}')})\s*" + PERCENT
_LOOSE = r"\s*[:=]?\s*"
_PROPORTION = re.compile(
    r"\(?\s*(?:"
    + _PART_WORD.format("a")
    + _LOOSE
    + _SHARE.format("a")
    + r"\s*[,/;]?\s*(?:and\s+)?"
    + _PART_WORD.format("b")
    + _LOOSE
    + _SHARE.format("b")
    + r"|"
    + _SHARE.format("c")
    + r"\s*"
    + _PART_WORD.format("c")
    + r"\s*[,/;]?\s*(?:and\s+)?"
    + _SHARE.format("d")
    + r"\s*"
    + _PART_WORD.format("d")
    + r")\s*\)?"
)
_PROPORTION_PARTS = {"pile": PartKind.PILE, "flock": PartKind.FLOCK, "coating": PartKind.COATING}
_BLEND = re.compile(r"\s*-?\s*(?:blend|mix(?:ture)?|mischung|melange|misto|mezcla|mischgewebe)\b")


@dataclass(frozen=True, slots=True)
class Composition:
    """What a label says that the cloth is made of.

    Parameters
    ----------
    components : tuple of Component
        The base first, then the other parts in the order of the label.
    other_percent : float
        Share of the base that the label leaves unnamed [%].
    proportions : tuple of (PartKind, float)
        Share of each part in the mass of the cloth, if printed [%].
    notes : tuple of str
        What was done with the shares.
    entries : tuple of Entry
        Every fibre word with its share and place.
    second_cloth : bool
        Whether the label goes on to a second cloth, such as a lining.
    """

    components: tuple[Component, ...]
    other_percent: float
    proportions: tuple[tuple[PartKind, float], ...]
    notes: tuple[str, ...]
    entries: tuple[Entry, ...]
    second_cloth: bool


def read_composition(
    label: LabelText,
    harmless: frozenset[int],
    names: list[tuple[int, int]],
    usual: Structure | None,
) -> Composition:
    """Read parts, fibres and shares.

    Parameters
    ----------
    label : LabelText
        The label, figures that are no shares blanked out.
    harmless : frozenset of int
        Starts of words that are known to be no fibres.
    names : list of (int, int)
        Places of the names of cloths.
    usual : Structure or None
        The structure named, for fibres that the label leaves open.

    Returns
    -------
    Composition
        Empty if no fibre is named.

    Raises
    ------
    InputError
        If the shares of a part do not add to 95 to 101 %, or a share belongs to nothing.
    UnknownNameError
        If an unknown word stands beside a percentage.
    OutOfRangeError
        If a share is impossible.
    """
    notes = _exclusions(label)
    proportions = _proportions(label)
    tokens = tokens_of(label)
    pairing = Pairing(label, tokens, harmless)
    entries = pairing.entries()
    groups = assign_parts(label, tokens, entries, names)
    notes += pairing.notes
    components, other = _components(label, groups, usual, dict(proportions), notes)
    second = any(group.part is None for group in groups)
    return Composition(components, other, proportions, tuple(notes), tuple(entries), second)


def _exclusions(label: LabelText) -> list[str]:
    notes = [f"the percentages leave out: {found['what']}" for found in label.take(_EXCLUSIVE)]
    left_out = [found[0].strip() for found in label.take(_EXCEPT)]
    return notes + [f"left out of the percentages: {what}" for what in left_out]


def _proportions(label: LabelText) -> tuple[tuple[PartKind, float], ...]:
    found = label.take(_PROPORTION, _is_proportion)
    if not found:
        return ()
    one, two = ("a", "b") if found[0]["aw"] is not None else ("c", "d")
    return tuple(
        (
            _PROPORTION_PARTS.get(found[0][f"{form}w"], PartKind.BASE),
            number(found[0][f"{form}n"]),
        )
        for form in (one, two)
    )


def _is_proportion(found: re.Match[str]) -> bool:
    one, two = ("a", "b") if found["aw"] is not None else ("c", "d")
    total = number(found[f"{one}n"]) + number(found[f"{two}n"])
    return SHARES_LOW <= total <= SHARES_HIGH and found[f"{one}w"] != found[f"{two}w"]


def _components(
    label: LabelText,
    groups: list[Group],
    usual: Structure | None,
    proportions: dict[PartKind, float],
    notes: list[str],
) -> tuple[tuple[Component, ...], float]:
    found: dict[PartKind, Component] = {}
    other_percent = 0.0
    for part in dict.fromkeys(group.part for group in groups):
        own = [group for group in groups if group.part is part]
        if part is None:
            notes.append(f"{own[0].word}: a second cloth, to be read by itself")
            continue
        shares, other = _part_shares(label, part, own, usual, notes)
        found[part] = Component(part, _sorted_shares(part, shares))
        if part in (PartKind.BASE, PartKind.PILE):
            weight = proportions.get(part, 100.0) / 100.0 if len(groups) > 1 else 1.0
            other_percent = max(other_percent, other * weight)
    ordered = sorted(found.values(), key=lambda item: item.part is not PartKind.BASE)
    return tuple(ordered), other_percent


def _part_shares(
    label: LabelText,
    part: PartKind,
    groups: list[Group],
    usual: Structure | None,
    notes: list[str],
) -> tuple[dict[str, float], float]:
    """Return the fibres of one part with their shares, and the share left unnamed."""
    shared = [group for group in groups if group.shared]
    bare = [entry for group in groups if not group.shared for entry in group.entries]
    bare = [entry for entry in bare if not entry.weak or part is not PartKind.BASE]
    if not shared:
        return _assume(label, part, bare, usual, notes)
    shares, other = _stated(label, part, shared, notes)
    extra = [entry.fibre for entry in bare if entry.fibre not in shares]
    notes += [
        f"{fibre} is named without a share beside fibres with shares: not counted"
        for fibre in dict.fromkeys(extra)
    ]
    return shares, other


def _stated(
    label: LabelText, part: PartKind, groups: list[Group], notes: list[str]
) -> tuple[dict[str, float], float]:
    sets = _distinct(groups)
    complete = [one for one in sets if SHARES_LOW <= _total(one.entries) <= SHARES_HIGH]
    marked = [one for one in sets if one.word]
    several = len(sets) > 1 and len(complete) == len(sets) and len(marked) >= len(sets) - 1
    if not several:
        return _made_up(label, part, [entry for one in sets for entry in one.entries], notes)
    layers = [_made_up(label, part, one.entries, notes) for one in sets]
    names = " and ".join(one.word or "the rest" for one in sets)
    notes.append(f"{names} are both of the {part.value}: taken in equal shares")
    mixed: dict[str, float] = {}
    for shares, _ in layers:
        for fibre, percent in shares.items():
            mixed[fibre] = mixed.get(fibre, 0.0) + percent / len(layers)
    return mixed, sum(other for _, other in layers) / len(layers)


def _distinct(groups: list[Group]) -> list[Group]:
    """Leave out a composition that is printed twice."""
    seen: dict[tuple[tuple[str, float], ...], Group] = {}
    for group in groups:
        key = tuple(sorted((entry.fibre, entry.percent or 0.0) for entry in group.entries))
        if _total(group.entries) < SHARES_LOW:
            key = (*key, ("at", float(group.start)))
        seen.setdefault(key, group)
    return list(seen.values())


def _total(entries: list[Entry]) -> float:
    return sum(entry.percent or 0.0 for entry in entries)


def _made_up(
    label: LabelText, part: PartKind, entries: list[Entry], notes: list[str]
) -> tuple[dict[str, float], float]:
    """Check what shares add to; make rounding up to 100 % and leave other fibres open."""
    total = _total(entries)
    start, end = min(entry.start for entry in entries), max(entry.end for entry in entries)
    if not SHARES_LOW - _TINY <= total <= SHARES_HIGH + _TINY:
        raise InputError(
            f"the shares of the {part.value} add to {total:.4g} %; they should add to 100 % "
            f"(99 to 101 is rounding, {SHARES_LOW:g} to 99 leaves other fibres)",
            label.place(start, end),
            "check the figures, or name the part that each fibre belongs to (pile: ... back: ...)",
        )
    shares: dict[str, float] = {}
    other = 0.0
    for entry in entries:
        if entry.fibre:
            shares[entry.fibre] = shares.get(entry.fibre, 0.0) + (entry.percent or 0.0)
        else:
            other += entry.percent or 0.0
    if total < ROUNDING_LOW - _TINY:
        notes.append(
            f"the shares of the {part.value} add to {total:.4g} %: the rest is other fibres"
        )
        return shares, other + 100.0 - total
    if abs(total - 100.0) > _TINY:
        notes.append(f"the shares of the {part.value} add to {total:.4g} %: taken as rounding")
        shares = {fibre: 100.0 * percent / total for fibre, percent in shares.items()}
        other *= 100.0 / total
    return shares, other


def _assume(
    label: LabelText,
    part: PartKind,
    entries: list[Entry],
    usual: Structure | None,
    notes: list[str],
) -> tuple[dict[str, float], float]:
    """Share out fibres that are named without percentages."""
    names = list(dict.fromkeys(entry.fibre for entry in entries))
    if not names:
        return {}, 0.0
    if len(names) == 1 and part is PartKind.BASE:
        blended = _BLEND.match(label.whole, entries[0].end)
        if blended or OTHER.match(label.whole, entries[0].end):
            notes.append(
                f"a blend of {names[0]} without shares: half of it is taken as other fibres"
            )
            return {names[0]: 50.0}, 50.0
    if part is PartKind.BASE and all(name in _ELASTIC | _METALLIC for name in names):
        shares = _added_to_usual(names, usual)
    elif len(entries) == len(names) == 2 and entries[0].usual < 100.0:
        shares = {entry.fibre: entry.usual for entry in entries}
    else:
        shares = _assumed_split(names)
    if len(shares) > 1:
        split = ", ".join(f"{percent:.3g} % {fibre}" for fibre, percent in shares.items())
        notes.append(f"the {part.value} has no shares on the label: assumed {split}")
    return shares, max(0.0, round(100.0 - sum(shares.values()), 6))


def _added_to_usual(names: list[str], usual: Structure | None) -> dict[str, float]:
    """Add elastic or metallic yarn, named alone, to what the cloth is usually made of."""
    bases = [part for part in usual.parts if part.part == "base"] if usual is not None else []
    shares = dict(bases[0].fibres) if bases else {}
    new = [name for name in names if name not in shares]
    added = {name: _ASSUMED_PERCENT[name in _ELASTIC] for name in new}
    left = (100.0 - sum(added.values())) / 100.0
    return {name: percent * left for name, percent in shares.items()} | added


def _assumed_split(names: list[str]) -> dict[str, float]:
    """Share out fibres: little to elastic and metallic yarns, the rest in equal shares."""
    special = [name for name in names if name in _ELASTIC | _METALLIC]
    if len(special) == len(names):
        return dict.fromkeys(names, 100.0 / len(names))
    fixed = {name: _ASSUMED_PERCENT[name in _ELASTIC] for name in special}
    share = (100.0 - sum(fixed.values())) / (len(names) - len(fixed))
    return {name: fixed.get(name, share) for name in names}


_TRIM_MATERIAL = {"polyester": "sequin-pet", "chlorofibre": "sequin-pvc"}


def pile_of(components: tuple[Component, ...], usual: Structure | None) -> tuple[Component, ...]:
    """Return the pile of a cloth whose label gives one composition for pile and ground together.

    Parameters
    ----------
    components : tuple of Component
        What the label names.
    usual : Structure or None
        The structure named.

    Returns
    -------
    tuple of Component
        A pile of the label's own fibres, if the structure has a pile that the label does not name
        and the usual fibres of that pile are not among those of the label; else nothing. Elastic
        yarn lies in the ground.
    """
    piles = [part for part in usual.parts if part.part == "pile"] if usual is not None else []
    bases = [one for one in components if one.part is PartKind.BASE and one.fibres]
    named = any(one.part is PartKind.PILE for one in components)
    if not piles or not bases or named:
        return ()
    shares = {one.fibre: one.percent for one in bases[0].fibres if one.fibre not in _ELASTIC}
    if not shares or {fibre for fibre, _ in piles[0].fibres} <= set(shares):
        return ()
    total = sum(shares.values())
    made_up = {fibre: 100.0 * percent / total for fibre, percent in shares.items()}
    return (Component(PartKind.PILE, _sorted_shares(PartKind.PILE, made_up), stated=False),)


def _sorted_shares(part: PartKind, shares: dict[str, float]) -> tuple[FibreShare, ...]:
    if part in (PartKind.SEQUINS, PartKind.DOTS):
        shares = {_TRIM_MATERIAL.get(name, name): share for name, share in shares.items()}
    ordered = sorted(shares.items(), key=lambda item: -item[1])
    return tuple(FibreShare(name, round(share, 6)) for name, share in ordered)
