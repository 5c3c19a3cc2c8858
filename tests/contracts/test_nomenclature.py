"""One word for one thing: what engines call their inputs is on the nomenclature page."""

from __future__ import annotations

from functools import cache

import pytest
from tests.contracts.tree import (
    ROOT,
    constructor_parameters,
    engine_modules,
    markdown_rows,
    public_classes,
    public_functions,
    signature,
)

PAGE = ROOT / "docs" / "nomenclature.md"


@cache
def words() -> list[str]:
    return [row["word"] for row in markdown_rows(PAGE.read_text(encoding="utf-8"), "word", "means")]


@cache
def suffixes() -> list[str]:
    rows = markdown_rows(PAGE.read_text(encoding="utf-8"), "suffix", "unit")
    return sorted((row["suffix"] for row in rows), key=len, reverse=True)


def stem(name: str, endings: list[str]) -> str | None:
    """Return a name without its unit; None if it does not end with one."""
    for ending in endings:
        if name.endswith(ending) and name != ending:
            return name.removesuffix(ending)
    return None


def listed(word: str | None, known: set[str]) -> bool:
    """Tell whether a word is on the page, itself or as the plural of one that is."""
    return word is None or word in known or word.removesuffix("s") in known


def unit_named(module: str) -> list[tuple[str, str]]:
    """Return (place, parameter) for everything that a module's public names take."""
    found = []
    for name, function in public_functions(module).items():
        found += [(f"{module}.{name}", one.name) for one in signature(function)]
    for name, cls in public_classes(module).items():
        found += [(f"{module}.{name}", one.name) for one in constructor_parameters(cls) or ()]
    return found


@pytest.mark.parametrize("module", engine_modules())
def test_parameters_with_a_unit_are_on_the_nomenclature_page(module: str) -> None:
    known, endings = set(words()), suffixes()
    problems = [
        f"{place}: {name}: add the word `{stem(name, endings)}` to docs/nomenclature.md,"
        " or use the word that is there"
        for place, name in unit_named(module)
        if not listed(stem(name, endings), known)
    ]
    assert not problems, "\n".join(problems)


def test_the_page_lists_every_word_and_suffix_once() -> None:
    for column in (words(), suffixes()):
        assert column
        assert sorted(column) == sorted(set(column)), "a word stands there twice"


def test_the_longest_suffix_is_taken_off() -> None:
    assert stem("conductance_w_m2k", suffixes()) == "conductance"
    assert stem("mass_per_area_gsm", suffixes()) == "mass_per_area"
    assert stem("structure", suffixes()) is None
