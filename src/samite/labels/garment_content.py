"""The fibre content label of a finished garment, by the mass of each section, US and EU."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from samite.cloth.model import Part
from samite.cloth.reading import PartKind
from samite.kernel.errors import InputError
from samite.labels.content import (
    MUST_BE_NAMED,
    REGIONS,
    eu_decorative,
    us_decoration,
    us_minor_fibre,
)
from samite.labels.rules.book import Ruling, rule
from samite.labels.section import DECORATION, FibrePercent, Section, fibre_percents, whole_percents
from samite.tables.fibre_names import label_name

FUNCTIONAL = frozenset({"elastane"})
"""Fibres whose function is plain in any share: stretch."""

ANIMAL = frozenset({"leather", "fur", "feather"})
NOT_ADVICE = (
    "not legal advice: local codes decide, and a licensed laboratory or adviser settles doubt"
)


@dataclass(frozen=True, slots=True)
class ContentLabel:
    """A fibre content label.

    Parameters
    ----------
    region : str
        ``us`` or ``eu``.
    lines : tuple of str
        What is printed.
    rulings : tuple of Ruling
        The rules that made it so.
    notes : tuple of str
        What could not be known, and where to defer.
    """

    region: str
    lines: tuple[str, ...]
    rulings: tuple[Ruling, ...]
    notes: tuple[str, ...]


def content_label(region: str, sections: Sequence[Section]) -> ContentLabel:
    """Return the fibre content label of a garment.

    Parameters
    ----------
    region : str
        ``us`` or ``eu``.
    sections : sequence of Section
        Sections of the garment.

    Returns
    -------
    ContentLabel
        Lines, and the rules that made them so.

    Raises
    ------
    InputError
        If the region is none of those, or there is no section.

    Notes
    -----
    Shares are of fibre mass, rounded to whole numbers that make up 100. The surface that
    decoration covers is taken from its share of the cloth's mass, which errs low for light film.
    Conditioned allowances are not applied: the shares are those of the cloths' labels.

    References
    ----------
    ``cfr-16-303``: 303.3, 303.12, 303.24, 303.25.
    ``eu-1007-2011``: art. 7, 9, 10, 11, 12.
    """
    if region not in REGIONS:
        raise InputError(f"{region!r} is no region", "region", f"one of {', '.join(REGIONS)}")
    if not sections:
        raise InputError("a garment without cloth has no label", "sections", "give it a cloth")
    told, rulings = _told(region, sections)
    one = len({_line(region, item) for item in told}) == 1
    lines = [_line(region, told[0])] if one else [f"{s.name}: {_line(region, s)}" for s in told]
    notes = [
        f"{s.name}: the fibres are not known" for s in told if not fibre_percents(s.cloth.parts)
    ]
    for section in told:
        rulings += _fibre_rulings(region, section) + _decoration_rulings(region, section)
    if region == "eu" and any(_animal(section) for section in sections):
        lines.append("Contains non-textile parts of animal origin")
        rulings.append(_ruling("eu-animal", lines[-1]))
    return ContentLabel(region, tuple(lines), tuple(dict.fromkeys(rulings)), (*notes, NOT_ADVICE))


def _told(region: str, sections: Sequence[Section]) -> tuple[list[Section], list[Ruling]]:
    """Return the sections that the label tells, and why the others are left out."""
    worn = [one for one in sections if one.role != "interfacing"] or list(sections)
    rulings = []
    if len(worn) < len(sections):
        key = "us-warmth" if region == "us" else "eu-components"
        rulings.append(_ruling(key, "interfacing is left out"))
    if len(worn) > 1:
        rulings.append(_ruling("us-sections" if region == "us" else "eu-components", "told apart"))
    if region == "eu":
        limit = rule("eu-components").limits["mass_percent"]
        mass = sum(one.mass_g for one in worn)
        worn = [
            one
            for one in worn
            if one.role == "lining" or mass <= 0.0 or 100.0 * one.mass_g / mass > limit
        ] or worn
    elif any(one.role == "trim" for one in worn):
        bare = [one for one in worn if one.role != "trim" or not _left_out(one, rulings)]
        worn = bare or worn
    return worn, rulings


def _left_out(section: Section, rulings: list[Ruling]) -> bool:
    ruling = us_decoration(covered_percent=section.surface_percent)
    rulings.append(ruling)
    return ruling.value != MUST_BE_NAMED


def _line(region: str, section: Section) -> str:
    parts = section.cloth.parts
    pile = [part for part in parts if part.kind is PartKind.PILE and part.stated and part.fibres]
    ground = [part for part in parts if part.kind is PartKind.BASE and part.fibres]
    ending = _ending(region, section)
    if pile and ground and fibre_percents(tuple(pile)) != fibre_percents(tuple(ground)):
        return _pile_line(region, pile, ground) + ending
    return (_names(region, fibre_percents(parts)) or "fibres not known") + ending


def _pile_line(region: str, pile: list[Part], ground: list[Part]) -> str:
    masses = [sum(part.mass_share for part in parts) for parts in (ground, pile)]
    back = "back" if region == "us" else "ground"
    line = (
        f"{_names(region, fibre_percents(tuple(pile)))} pile, "
        f"{_names(region, fibre_percents(tuple(ground)))} {back}"
    )
    shares = whole_percents(tuple(100.0 * mass / sum(masses) for mass in masses))
    return f"{line} (back {shares[0]}%, pile {shares[1]}%)" if region == "us" else line


def _names(region: str, shares: tuple[FibrePercent, ...]) -> str:
    words = []
    other = 0
    for share, whole in zip(shares, whole_percents(tuple(s.percent for s in shares)), strict=True):
        name = label_name(share.fibre, region)
        if region == "us" and _is_other(share, name):
            other += whole
        elif whole:
            words.append(f"{whole}% {name}" if whole < 100 else f"100% {name}")
    if other:
        words.append(f"{other}% other fiber{'s' if other > 1 else ''}")
    return ", ".join(words)


def _is_other(share: FibrePercent, name: str) -> bool:
    ruling = us_minor_fibre(
        fibre=name, percent=share.percent, has_function=share.fibre in FUNCTIONAL
    )
    return ruling.value == "other fiber"


def _fibre_rulings(region: str, section: Section) -> list[Ruling]:
    shares = fibre_percents(section.cloth.parts)
    if region == "eu":
        key = "eu-pure" if len(shares) == 1 else "eu-falling"
        return [_ruling(key, "100%" if len(shares) == 1 else "falling order")]
    return [_ruling("us-predominance", "falling order")] + [
        us_minor_fibre(
            fibre=label_name(share.fibre, region),
            percent=share.percent,
            has_function=share.fibre in FUNCTIONAL,
        )
        for share in shares
        if share.percent < rule("us-minor-fibre").limits["percent"]
    ]


def _decoration_percent(section: Section) -> float:
    return 100.0 * sum(part.mass_share for part in section.cloth.parts if part.kind in DECORATION)


def _decoration_rulings(region: str, section: Section) -> list[Ruling]:
    share = _decoration_percent(section)
    if share <= 0.0:
        return []
    if region == "us":
        return [us_decoration(covered_percent=share)]
    return [eu_decorative(mass_percent=share)]


def _ending(region: str, section: Section) -> str:
    rulings = _decoration_rulings(region, section)
    if region == "us" and rulings and rulings[0].value != MUST_BE_NAMED:
        return ", exclusive of decoration"
    return ""


def _animal(section: Section) -> bool:
    return section.cloth.construction == "leather" or any(
        item.fibre in ANIMAL for part in section.cloth.parts for item in part.fibres
    )


def _ruling(key: str, value: str) -> Ruling:
    ruled = rule(key)
    return Ruling(value, ruled.text, ruled.evidence)
