"""Every value in the tables names a source that exists and a grade that is legal."""

from __future__ import annotations

import csv
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest
from tests.contracts.tree import DATA, source_keys

from samite.kernel.evidence import Grade

TABLES = sorted(DATA.rglob("*.csv"))
READ = {Grade.STANDARD, Grade.PUBLICATION}


def rows(path: Path) -> Iterator[tuple[str, dict[str, str]]]:
    """Yield place and cells of every row."""
    with path.open(encoding="utf-8", newline="") as file:
        reader = csv.DictReader(file, strict=True)
        for row in reader:
            yield f"{path.name}:{reader.line_num}", row


def with_source(path: Path) -> list[tuple[str, dict[str, str]]]:
    return [(place, row) for place, row in rows(path) if "source" in row]


@pytest.mark.parametrize("path", TABLES, ids=lambda path: path.stem)
def test_sources_exist(path: Path) -> None:
    known = source_keys()
    wrong = [
        f"{place}: source {row['source']!r} is not in sources.toml"
        for place, row in with_source(path)
        if row["source"] not in known
    ]
    assert not wrong, "\n".join(wrong)


@pytest.mark.parametrize("path", TABLES, ids=lambda path: path.stem)
def test_grades_are_legal(path: Path) -> None:
    legal = {grade.value for grade in Grade}
    wrong = [
        f"{place}: grade {row.get('grade')!r} is none of {', '.join(sorted(legal))}"
        for place, row in with_source(path)
        if row.get("grade") not in legal
    ]
    assert not wrong, "\n".join(wrong)


@pytest.mark.parametrize("path", TABLES, ids=lambda path: path.stem)
def test_only_a_source_that_was_opened_gives_a_value_of_the_best_grades(path: Path) -> None:
    sources = tomllib.loads((DATA / "sources.toml").read_text(encoding="utf-8"))
    wrong = [
        f"{place}: grade {row['grade']} but {row['source']} was not opened: grade it from-memory"
        for place, row in with_source(path)
        if row["grade"] in READ and not sources.get(row["source"], {}).get("opened", True)
    ]
    assert not wrong, "\n".join(wrong)


def test_every_source_says_its_title_and_whether_it_was_opened() -> None:
    sources = tomllib.loads((DATA / "sources.toml").read_text(encoding="utf-8"))
    wrong = [
        key
        for key, entry in sources.items()
        if not (isinstance(entry.get("title"), str) and isinstance(entry.get("opened"), bool))
    ]
    assert sources
    assert not wrong, f"without title or opened: {wrong}"


def test_there_are_tables_with_sources() -> None:
    assert any(with_source(path) for path in TABLES)
