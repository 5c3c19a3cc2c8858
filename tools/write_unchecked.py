"""Write docs/values-to-check.md: every value that is from memory or a guess."""

from __future__ import annotations

from collections.abc import Iterator
from importlib.resources import files
from pathlib import Path

from samite.kernel.evidence import Grade
from samite.tables.fibre_names import fibre_names
from samite.tables.loader import VALUE_COLUMNS, Row, data_text, read_table
from samite.tables.sources import sources

PAGE = Path(__file__).parent.parent / "docs" / "values-to-check.md"
UNCHECKED = (Grade.FROM_MEMORY, Grade.GUESS)
HEAD = """\
# Values to check

Every value of the tables that was written down from memory or is a guess: read it in its source, or
measure it, before relying on it. Written by `tools/write_unchecked.py` from the tables in
`src/samite/data`; do not edit by hand.
"""


def value_tables() -> dict[str, str]:
    """Return the long tables of the data folder with the name of their first column.

    Returns
    -------
    dict of str to str
        File name to key column, in alphabetical order.
    """
    found = {}
    for entry in sorted(files("samite").joinpath("data").iterdir(), key=lambda item: item.name):
        if entry.name.endswith(".csv"):
            key, *columns = data_text(entry.name).partition("\n")[0].strip().split(",")
            if tuple(columns) == VALUE_COLUMNS:
                found[entry.name] = key
    return found


def page() -> str:
    """Return the text of the page.

    Returns
    -------
    str
        Markdown, one section a table.
    """
    return "\n".join([HEAD, *_counts(), *_words(), *_sections(), ""])


def _counts() -> Iterator[str]:
    yield "| table | values | from memory | guess |"
    yield "|---|---:|---:|---:|"
    for name, key in value_tables().items():
        rows = read_table(name, key)
        counts = [sum(row.evidence.grade is grade for row in rows) for grade in UNCHECKED]
        yield f"| {name} | {len(rows)} | {counts[0]} | {counts[1]} |"
    yield ""


def _words() -> Iterator[str]:
    yield "## fibre_names.csv"
    yield ""
    yield "Words taken from sources that were not opened:"
    yield ""
    for key, source in sources().items():
        count = sum(key in name.standards for name in fibre_names().values())
        if count and not source.opened:
            yield f"- {count} words: {source.title} (`{key}`)"
    yield ""


def _sections() -> Iterator[str]:
    for name, key in value_tables().items():
        rows = [row for row in read_table(name, key) if row.evidence.grade in UNCHECKED]
        if not rows:
            continue
        yield f"## {name}"
        yield ""
        yield f"| {key} | property | value | grade | source |"
        yield "|---|---|---|---|---|"
        yield from map(_line, rows)
        yield ""


def _line(row: Row) -> str:
    evidence = row.evidence
    place = f"{evidence.source}, {evidence.locator}" if evidence.locator else evidence.source
    condition = f" ({row.condition})" if row.condition else ""
    cells = (row.key, row.property + condition, _value(row), evidence.grade.value, place)
    return "| " + " | ".join(cell.replace("|", "/") for cell in cells) + " |"


def _value(row: Row) -> str:
    quantity = row.quantity
    if quantity is None:
        return row.word
    if quantity.low == quantity.high:
        return f"{quantity.value:g} {quantity.unit}"
    return f"{quantity.value:.3g} ({quantity.low:g} to {quantity.high:g}) {quantity.unit}"


if __name__ == "__main__":
    PAGE.parent.mkdir(exist_ok=True)
    PAGE.write_text(page(), encoding="utf-8")
