"""Labels and cautions of a costume: care, fibre content, flammability, cords, sight and trip."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from samite.cloth.model import Cloth
from samite.garment.use import Use, read_use
from samite.labels.content import REGIONS
from samite.labels.garment_care import CareLabel, CarePart, care_label
from samite.labels.garment_content import ContentLabel, content_label
from samite.labels.safety import Caution, find_cautions
from samite.labels.section import Section
from samite.press.ceiling import find_ceiling
from samite.project.model import Costume, Person
from samite.services.job_pieces import CutPiece, mass_g
from samite.sheets.care_symbols import care_symbols_svg

FORMAT = "samite.labels.v1"
DEFER = (
    "Not legal advice. Local codes and a licensed tester decide; the maker answers for the garment."
)
CHILD_UNDER = 14


def costume_labels(
    costume: Costume, person: Person, pieces: Sequence[CutPiece], cloths: Mapping[str, Cloth]
) -> dict[str, Any]:
    """Return the labels and cautions of a costume.

    Parameters
    ----------
    costume : Costume
        The costume.
    person : Person
        Who wears it.
    pieces : sequence of CutPiece
        Its pieces in every cloth.
    cloths : mapping of str to Cloth
        Cloths by name.

    Returns
    -------
    dict of str to object
        Format ``samite.labels.v1``.
    """
    use = costume_use(costume, person)
    sections = _sections(pieces, cloths)
    parts = [CarePart(one.name, one.cloth, _dots(one.cloth)) for one in sections]
    return {
        "format": FORMAT,
        "costume": costume.name,
        "care": _care_json(care_label(parts)),
        "content": {region: _content_json(content_label(region, sections)) for region in REGIONS},
        "mass_g": {one.name: round(one.mass_g) for one in sections},
        "cautions": [one.as_dict() for one in _cautions(sections, use)],
        "defer": DEFER,
    }


def costume_use(costume: Costume, person: Person) -> Use:
    """Return what a costume has to bear, with what is known of its wearer.

    Parameters
    ----------
    costume : Costume
        The costume.
    person : Person
        Who wears it.

    Returns
    -------
    Use
        A child under 14 counts as one, whether the file says so or not.
    """
    use = read_use(costume.wear)
    try:
        age = int(float(person.age)) if person.age else None
    except ValueError:
        age = None
    if age is not None and use.age_years is None:
        use = replace(use, age_years=age)
    young = age is not None and age < CHILD_UNDER
    return replace(use, child=True) if young else use


def _dots(cloth: Cloth) -> int:
    """Return the dots of the iron that both sides bear: who presses it later knows no side."""
    ceiling = find_ceiling(cloth).value
    return min(ceiling.wrong_side.dots, ceiling.right_side.dots)


def _sections(pieces: Sequence[CutPiece], cloths: Mapping[str, Cloth]) -> list[Section]:
    """Return one section a cloth and role, in the order of the pieces."""
    grouped: dict[tuple[str, str], list[CutPiece]] = {}
    for piece in pieces:
        grouped.setdefault((piece.role, piece.cloth), []).append(piece)
    outer = sum(p.area_mm2 for (role, _), own in grouped.items() if role == "shell" for p in own)
    several = len([1 for role, _ in grouped if role == "shell"]) > 1
    sections = []
    for (role, name), own in grouped.items():
        jobs = ", ".join(dict.fromkeys(piece.job for piece in own))
        said = jobs if role == "shell" and several else role
        area = sum(piece.area_mm2 for piece in own)
        surface = 100.0 * area / outer if role == "shell" and outer else 0.0
        sections.append(
            Section(said, role, cloths[name], mass_g(own, cloths[name]), min(surface, 100.0))
        )
    return sections


def _cautions(sections: Sequence[Section], use: Use) -> list[Caution]:
    """Return every caution once, though several cloths ask for it in their own words."""
    found: dict[tuple[str, str], Caution] = {}
    for section in sections:
        for caution in find_cautions(section.cloth, use, ironed=False):
            found.setdefault((caution.kind, _gist(caution.text)), caution)
    return list(found.values())


def _gist(text: str) -> str:
    """Return a caution without what it says of one cloth: numbers, shares, the cloth in brackets."""
    plain = re.sub(r"\([^)]*\)|\d+(?:[.,]\d+)? ?(?:%|g/m2)?", "", text)
    return " ".join(plain.split()[-18:])


def _care_json(label: CareLabel) -> dict[str, Any]:
    steps = tuple((step.level.symbol, step.level.words) for step in label.steps)
    return {
        "edition": label.edition,
        "words": label.words,
        "steps": [
            {
                "process": step.level.process,
                "level": step.level.level,
                "words": step.level.words,
                "because": step.because,
                "source": step.level.evidence.source,
                "grade": step.level.evidence.grade.value,
            }
            for step in label.steps
        ],
        "notes": list(label.notes),
        "symbols_svg": care_symbols_svg(steps),
    }


def _content_json(label: ContentLabel) -> dict[str, Any]:
    return {
        "lines": list(label.lines),
        "rules": [
            {
                "says": one.because,
                "answer": one.value,
                "source": one.evidence.source,
                "locator": one.evidence.locator,
                "grade": one.evidence.grade.value,
            }
            for one in label.rulings
        ],
        "notes": list(label.notes),
    }
