"""One row of a long table: what it holds and what is refused."""

from __future__ import annotations

import builtins
import math
from collections.abc import Mapping
from dataclasses import dataclass

from samite.kernel.errors import TableError
from samite.kernel.evidence import Evidence, Grade
from samite.kernel.quantity import Quantity, between
from samite.tables.close_names import did_you_mean

VALUE_COLUMNS = (
    "property",
    "value",
    "unit",
    "low",
    "high",
    "condition",
    "source",
    "locator",
    "grade",
    "note",
)
_GRADES = {grade.value: grade for grade in Grade}


@dataclass(frozen=True, slots=True)
class Row:
    """One value of a table.

    Parameters
    ----------
    key : str
        What the value belongs to, for example a fibre.
    property : str
        Name of the property, unit in the name.
    quantity : Quantity or None
        The number with its spread; None on a row that holds a word.
    word : str
        The word, empty on a row that holds a number.
    condition : str
        What the value holds under, may be empty.
    note : str
        Remark, may be empty.
    evidence : Evidence
        Source, grade and locator.
    line : int
        Line in the file.
    """

    key: str
    property: str
    quantity: Quantity | None
    word: str
    condition: str
    note: str
    evidence: Evidence
    line: int

    @builtins.property
    def locator(self) -> str:
        """Page, table or section in the source."""
        return self.evidence.locator

    @builtins.property
    def number(self) -> Quantity:
        """The quantity of a row that must hold a number.

        Raises
        ------
        TableError
            If the row holds a word.
        """
        if self.quantity is None:
            raise TableError(
                f"{self.key} {self.property} is the word {self.word!r}, not a number",
                f"line {self.line}",
                "give a number in the table",
            )
        return self.quantity


@dataclass(frozen=True, slots=True)
class Bound:
    """What the values of a property may be.

    Parameters
    ----------
    property : str
        Name of the property.
    says : str
        How messages name it.
    unit : str
        The one unit allowed; empty for a word.
    minimum : float
        Smallest possible value, in `unit`.
    maximum : float
        Largest possible value, in `unit`.
    words : tuple of str or None
        The words allowed (empty: any word); None for a number.
    """

    property: str
    says: str
    unit: str
    minimum: float
    maximum: float
    words: tuple[str, ...] | None = None


def read_row(
    cells: list[str],
    where: str,
    line: int,
    limits: Mapping[str, Bound],
    sources: frozenset[str],
) -> Row:
    """Check one line of a long table.

    Parameters
    ----------
    cells : list of str
        The key and the cells of `VALUE_COLUMNS`.
    where : str
        File and line for messages.
    line : int
        Line in the file [1].
    limits : mapping of str to Bound
        The properties that may appear.
    sources : frozenset of str
        The sources that may be cited.

    Returns
    -------
    Row
        The checked row.

    Raises
    ------
    TableError
        For whatever is wrong with the line.
    """
    key, name, value, unit, low, high, condition, source, locator, grade, note = cells
    limit = limits.get(name)
    if not key or limit is None:
        raise wrong(where, *_name_problem(key, name, limits))
    if source not in sources:
        hint = did_you_mean(source, sources)
        raise wrong(where, f"unknown source {source!r}.", f"Add it to sources.toml; {hint}")
    if grade not in _GRADES:
        raise wrong(where, f"unknown grade {grade!r}.", f"Use one of {', '.join(_GRADES)}.")
    evidence = Evidence(source, _GRADES[grade], locator)
    quantity, word = None, ""
    if limit.words is None:
        quantity = _quantity(
            f"{key} {limit.says}", (value, low, high), unit, limit, evidence, where
        )
    else:
        word = _word(f"{key} {limit.says}", value, (unit, low, high), limit.words, where)
    return Row(key, name, quantity, word, condition, note, evidence, line)


def _name_problem(key: str, name: str, limits: Mapping[str, Bound]) -> tuple[str, str]:
    if not key:
        return "the first column is empty.", "Give the name that the value belongs to."
    hint = did_you_mean(name, limits)
    return f"unknown property {name!r}.", f"Give its bounds in bounds.toml; {hint}"


def _quantity(
    what: str,
    cells: tuple[str, str, str],
    unit: str,
    limit: Bound,
    evidence: Evidence,
    where: str,
) -> Quantity:
    if unit != limit.unit:
        problem = f"has the unit {unit!r}" if unit or not limit.unit else "has no unit"
        raise wrong(where, f"{what} {problem}.", f"Give it in {limit.unit!r}.")
    value, low, high = _complete(what, [_number(what, cell, where) for cell in cells], where)
    for number in (value, low, high):
        if number is not None and not limit.minimum <= number <= limit.maximum:
            raise wrong(
                where,
                f"{what} {number:g} {unit} is outside {limit.minimum:g} to {limit.maximum:g}.",
                "Check the decimal point against the source.",
            )
    if low > high or (value is not None and not low <= value <= high):
        centre = "a value" if value is None else f"{value:g}"
        raise wrong(
            where,
            f"the spread {low:g} to {high:g} of {what} does not contain {centre}.",
            "Give low <= value <= high.",
        )
    if value is None:
        return between(low, high, unit, evidence)
    return Quantity(value, low, high, unit, evidence)


def _complete(
    what: str, numbers: list[float | None], where: str
) -> tuple[float | None, float, float]:
    value, low, high = numbers
    if low is not None and high is not None:
        return value, low, high
    if value is not None and low is None and high is None:
        return value, value, value
    raise wrong(where, f"{what} is not complete.", "Give a value, or a low and a high, or all.")


def _number(what: str, cell: str, where: str) -> float | None:
    if not cell:
        return None
    try:
        number = float(cell)
    except ValueError:
        number = math.nan
    if not math.isfinite(number):
        raise wrong(where, f"{what} {cell!r} is not a number.", "Write it like 0.25.")
    return number


def _word(
    what: str, value: str, others: tuple[str, str, str], words: tuple[str, ...], where: str
) -> str:
    if any(others):
        raise wrong(where, f"{what} is a word.", "It takes no unit, low or high.")
    if not value:
        raise wrong(where, f"{what} is empty.", "Give a word.")
    if words and value not in words:
        raise wrong(where, f"{what} {value!r} is unknown.", f"Use one of {', '.join(words)}.")
    return value


def wrong(where: str, problem: str, mend: str) -> TableError:
    """Return the error of a broken table.

    Parameters
    ----------
    where : str
        File and line.
    problem : str
        What is wrong, a sentence.
    mend : str
        How to mend it, a sentence.

    Returns
    -------
    TableError
        Its message reads ``where: problem mend``.
    """
    return TableError(f"{where}: {problem} {mend}", where, mend)
