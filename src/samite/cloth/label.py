"""The label reader: what a person reads off a bolt, a shop page or the cloth itself."""

from __future__ import annotations

import re
from functools import cache

from samite.cloth._reader.composition import Composition, pile_of, read_composition
from samite.cloth._reader.lengths import Lengths, take_lengths
from samite.cloth._reader.measures import mass_per_area, take_masses
from samite.cloth._reader.naming import (
    ELASTIC_MEANS_KNIT_PERCENT,
    Facts,
    head_structure,
    named_structures,
    refine,
    structure_names,
    surface_components,
    surface_names,
    usual_structure,
)
from samite.cloth._reader.percents import Stretch, take_other_percents, take_stretch
from samite.cloth._reader.prices import take_price
from samite.cloth._reader.text import LIMIT, LabelText
from samite.cloth._reader.tokens import is_part_word
from samite.cloth._reader.words import Handle, read_handle, take_care
from samite.cloth.reading import Component, LabelReading, PartKind
from samite.tables.aliases import NameMatch
from samite.tables.fibre_names import NAME_TABLES, match_fibre
from samite.tables.loader import read_toml
from samite.tables.structures import STRUCTURE_TABLES, structure
from samite.tables.surfaces import SURFACE_TABLES

LABEL_TABLES = (
    *STRUCTURE_TABLES,
    *SURFACE_TABLES,
    *NAME_TABLES,
    "refinements.toml",
    "label_words.toml",
)
"""The files that a reading rests on, for `table_hash`."""

LABEL_LIMIT = LIMIT
"""Letters that a label may have."""

_WORD = re.compile(r"[^\W\d_][\w'-]*")


def read_label(text: str) -> LabelReading:
    """Read a label in free text.

    Parameters
    ----------
    text : str
        Composition, name, mass, width, price and care in any order and in common styles, at most
        2,000 characters.

    Returns
    -------
    LabelReading
        What the label says, with notes on what was assumed in reading it.

    Raises
    ------
    InputError
        If the text is empty, too long or holds control characters, if it contradicts itself, or
        if the shares of a part do not add up.
    UnknownNameError
        If an unknown word stands beside a percentage.
    OutOfRangeError
        If a figure is impossible.

    Notes
    -----
    Shares of 99 to 101 % are rounding, of 95 to 99 % leave other fibres. A fibre without a share
    is taken as the whole of its part if it stands alone. A name that is used for woven and knitted
    cloths alike leaves the construction open.

    References
    ----------
    ``cfr-16-303``: 303.12, 303.24, 303.25 (wording of parts, pile and exclusions).
    ``common-practice``: the ways in which shops and mills print measures.

    Examples
    --------
    >>> reading = read_label("94/6 polyester/spandex stretch velvet, 150 cm")
    >>> reading.structure, reading.components[0].fibres[0].percent
    ('stretch-velvet', 94.0)
    """
    label = LabelText(text)
    price, notes = take_price(label)
    care = take_care(label)
    masses = take_masses(label)
    lengths = take_lengths(label)
    notes += lengths.notes
    mass, mass_notes = mass_per_area(label, masses, lengths.width_cm)
    notes += mass_notes + list(care.notes)
    stretch = take_stretch(label)
    notes += [f"{what}: not part of the composition" for what in take_other_percents(label)]
    names, coats = structure_names(label), surface_names(label)
    head = head_structure(label, names)
    composition = read_composition(
        label,
        _harmless(label, names, coats),
        [(name.start, name.end) for name in names],
        structure(head) if head else None,
    )
    names = [name for name in names if not _names_no_cloth(name, composition)]
    head = head_structure(label, names)
    handle = read_handle(label)
    notes += [*composition.notes, *handle.notes]
    stretches = _stretches(handle, stretch, composition.components, notes)
    surfaces = [coat.key for coat in coats if not _within(coat, composition)]
    head = head or usual_structure(surfaces, handle.construction, notes)
    facts = _facts(handle, stretches, surfaces, names, composition.components, lengths)
    key = refine(head, facts) if head else None
    components = composition.components
    components += pile_of(components, structure(key) if key else None)
    components += tuple(surface_components(surfaces, components, notes))
    return LabelReading(
        text=text,
        structure=key,
        construction=_construction(key, handle, notes),
        components=components,
        mass_per_area_gsm=mass,
        thickness_mm=lengths.thickness_mm,
        width_cm=lengths.width_cm,
        stretch_cross_percent=stretch.cross_percent,
        stretch_length_percent=stretch.length_percent,
        stretches=stretches,
        stretch_ways=handle.stretch_ways,
        ravels=handle.ravels,
        one_way=handle.one_way,
        sheer=handle.sheer,
        repeat_along_mm=lengths.repeat_along_mm,
        repeat_across_mm=lengths.repeat_across_mm,
        pile_height_mm=lengths.pile_height_mm,
        price=price,
        care_dots=care.dots,
        care_no_steam=care.no_steam,
        care_dry_clean=care.dry_clean,
        care_wash_c=care.wash_c,
        surfaces=frozenset(surfaces),
        other_fibres_percent=round(composition.other_percent, 6),
        proportions=composition.proportions,
        notes=tuple(dict.fromkeys(notes)),
        ignored=_ignored(label, names, coats, composition),
    )


def _stretches(
    handle: Handle, stretch: Stretch, components: tuple[Component, ...], notes: list[str]
) -> bool | None:
    """Answer "does it stretch?" by figures, else by words, else by the elastane."""
    figures = [one for one in (stretch.cross_percent, stretch.length_percent) if one is not None]
    if figures:
        return any(one.value > 0.0 for one in figures)
    elastic = max(
        (
            one.percent
            for component in components
            if component.part in (PartKind.BASE, PartKind.PILE)
            for one in component.fibres
            if one.fibre == "elastane"
        ),
        default=0.0,
    )
    if handle.stretches is False and elastic >= ELASTIC_MEANS_KNIT_PERCENT:
        notes.append(f"said not to stretch, though it has {elastic:g} % elastane: the words win")
    if handle.stretches is None and elastic >= ELASTIC_MEANS_KNIT_PERCENT:
        return True
    return handle.stretches


def _facts(
    handle: Handle,
    stretches: bool | None,
    surfaces: list[str],
    names: list[NameMatch],
    components: tuple[Component, ...],
    lengths: Lengths,
) -> Facts:
    said = {"stretch": handle.stretches is True, "rigid": handle.stretches is False}
    said |= {"sheer": handle.sheer is True}
    if stretches and not said["rigid"]:
        said["stretch"] = True
    return Facts(
        words=frozenset(word for word, holds in said.items() if holds),
        construction=handle.construction,
        surfaces=frozenset(surfaces),
        structures=named_structures(names),
        components=components,
        pile_height_mm=lengths.pile_height_mm,
    )


def _construction(key: str | None, handle: Handle, notes: list[str]) -> str | None:
    """The label's own word wins over that of the structure; a name for both leaves it open."""
    usual = structure(key).construction if key else ""
    if handle.construction is None:
        return usual or None
    if usual and usual != handle.construction and handle.construction in ("woven", "knit"):
        if usual in ("woven", "knit"):
            notes.append(
                f"{structure(key or '').name} is usually {usual}; the label's word is taken"
            )
            return handle.construction
        return usual
    return handle.construction


def _names_no_cloth(name: NameMatch, composition: Composition) -> bool:
    """Whether "linen" is but a lesser fibre, or "lining" the head of a second cloth."""
    if name.key == "lining" and composition.second_cloth:
        return True
    if match_fibre(name.alias) is None:
        return False
    return any(
        entry.percent is not None
        and entry.percent < 50.0
        and entry.start <= name.start
        and name.end <= entry.end
        for entry in composition.entries
    )


def _within(coat: NameMatch, composition: Composition) -> bool:
    """Whether the word of a surface is a fibre's name ("metallised polyester")."""
    return any(
        entry.start <= coat.start and coat.end <= entry.end and coat.key == "metallised"
        for entry in composition.entries
    )


def _harmless(label: LabelText, names: list[NameMatch], coats: list[NameMatch]) -> frozenset[int]:
    """Return the starts of words that stand for something else than a fibre."""
    spans = [(name.start, name.end) for name in (*names, *coats)]
    return frozenset(
        found.start()
        for found in re.finditer(r"[^\W\d_][^\W_'.]*", label.rest)
        if found[0] in _known_words() or any(start <= found.start() < end for start, end in spans)
    )


@cache
def _known_words() -> frozenset[str]:
    fibre_words = read_toml("fibre_words.toml")
    lists = ("qualifiers", "tails", "look_after", "look_before")
    return frozenset(read_toml("label_words.toml")["plain"]) | {
        word for name in lists for text in fibre_words[name] for word in text.split()
    }


def _ignored(
    label: LabelText, names: list[NameMatch], coats: list[NameMatch], composition: Composition
) -> tuple[str, ...]:
    """Return the words that nothing was made of."""
    spans = [(name.start, name.end) for name in (*names, *coats)]
    spans += [(entry.start, entry.end) for entry in composition.entries]
    left = [
        found[0]
        for found in _WORD.finditer(label.rest)
        if len(found[0]) > 1
        and not is_part_word(found[0])
        and found[0] not in _known_words()
        and not any(start <= found.start() < end for start, end in spans)
    ]
    return tuple(dict.fromkeys(left))
