"""Every check row is posed to the product, and none is forgotten."""

from __future__ import annotations

import csv
import re
from dataclasses import dataclass
from pathlib import Path

import pytest
from tests.published.ask import Ask
from tests.published.asked import ASKED, NOT_YET_POSED, STACKS
from tests.published.test_law_rows import ASKED as LAW_ASKED

from samite.services.calc import CalcAnswer, calculate
from samite.services.calc_registry import FORMULAS

FOLDER = Path(__file__).parent
FILES = ("textiles.csv", "sewing.csv", "pieces.csv")
PLACES = {formula.place: name for name, formula in FORMULAS.items()}
LETTERS = re.compile(r"[A-Z]+")


@dataclass(frozen=True)
class Check:
    """One row of a check table."""

    id: str
    topic: str
    what: str
    inputs: str
    expected: str
    unit: str
    tolerance: str
    source: str
    grade: str
    confirmed_by: str

    def __str__(self) -> str:
        memory = " FROM MEMORY" if "memory" in self.grade else ""
        wanted = f"{self.what}: {self.expected} {self.unit}"
        return f"{self.id} {wanted} [{self.source}; {self.grade}]{memory}"


def rows() -> list[Check]:
    found = []
    for name in FILES:
        with (FOLDER / name).open(encoding="utf-8", newline="") as file:
            found += [Check(**row) for row in csv.DictReader(file)]
    return found


ROWS = {check.id: check for check in rows()}


def why_not_yet(row_id: str) -> str | None:
    return NOT_YET_POSED.get(row_id, NOT_YET_POSED.get(LETTERS.match(row_id)[0]))


def answer(question: Ask) -> CalcAnswer:
    place = f"{question.function.__module__}:{question.function.__name__}"
    inputs = {
        name: value if isinstance(value, str) else written(answer(value))
        for name, value in question.inputs.items()
    }
    return calculate(PLACES[place], inputs, question.unit)


def written(given: CalcAnswer) -> str:
    return f"{given.value!r} {'' if given.unit == '1' else given.unit}"


def plain(text: object) -> str:
    return " ".join(str(text).casefold().split())


def parts(text: str, count: int) -> list[str]:
    """Split a cell that holds several values; one tolerance may serve all."""
    found = [part.strip() for part in re.split(r";|\s/\s", text)]
    return found if len(found) == count else found * count


def values(answers: list[CalcAnswer]) -> list[tuple[object, CalcAnswer]]:
    found = []
    for one in answers:
        many = one.value if isinstance(one.value, list) else [one.value]
        found += [(value, one) for value in many]
    return found


def agrees(value: object, given: CalcAnswer, expected: str, tolerance: str) -> bool:
    if isinstance(value, str):
        return plain(value) == plain(expected)
    low = value if given.low is None else given.low
    high = value if given.high is None else given.high
    if tolerance == "range":
        least, most = map(float, expected.split("-"))
        return low <= most and least <= high
    if tolerance == "lower bound":
        return value >= float(expected.removeprefix(">="))
    if tolerance == "exact":
        return abs(value - float(expected)) <= 1e-9
    if tolerance == "as table":
        digits = len(expected.partition(".")[2])
        return round(value, digits) == float(expected)
    return abs(value - float(expected)) <= float(tolerance) * (1 + 1e-9)


@pytest.mark.parametrize("row_id", [row for row in ROWS if row in ASKED])
def test_the_product_agrees_with_the_row(row_id: str) -> None:
    check = ROWS[row_id]
    found = values([answer(question) for question in ASKED[row_id]])
    words = isinstance(found[0][0], str)
    expected = [check.expected] if words else parts(check.expected, len(found))
    tolerances = parts(check.tolerance, len(found))
    assert len(expected) == len(found) == len(tolerances), check
    for (value, given), wanted, tolerance in zip(found, expected, tolerances, strict=True):
        assert agrees(value, given, wanted, tolerance), (
            f"{check}: the product says {value} {given.unit} [{given.source}; {given.grade}],"
            f" wanted {wanted} within {tolerance}"
        )


@pytest.mark.parametrize("row_id", [row for row in ROWS if why_not_yet(row)])
def test_the_row_is_not_yet_posed(row_id: str) -> None:
    pytest.skip(f"{ROWS[row_id]}: {why_not_yet(row_id)}")


def test_no_row_is_forgotten_and_none_is_in_two_places() -> None:
    posed = [*ASKED, *STACKS, *LAW_ASKED]
    later = [row for row in ROWS if why_not_yet(row)]
    assert sorted(posed + later) == sorted(ROWS)


def test_the_tables_hold_as_many_rows_as_lines() -> None:
    lines = sum(len((FOLDER / name).read_text(encoding="utf-8").splitlines()) - 1 for name in FILES)
    assert len(ROWS) == lines, "an id stands twice"


@pytest.mark.parametrize(
    ("value", "expected", "tolerance"),
    [
        (1.53, "1.52", "0.005"),
        (1.36, "1.22-1.35", "range"),
        (9.1, "9.0", "exact"),
        (3.06, "3.0", "as table"),
        (0.94, ">= 0.95", "lower bound"),
        ("steam", "no steam", "text"),
    ],
)
def test_the_comparison_refuses_what_does_not_agree(
    value: object, expected: str, tolerance: str
) -> None:
    given = CalcAnswer("any", {}, value, "", "", "")
    assert not agrees(value, given, expected, tolerance)
