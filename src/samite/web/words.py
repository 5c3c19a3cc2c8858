"""Numbers, grades and sources in the words that the page shows."""

from __future__ import annotations

import math
import re
from fractions import Fraction

from samite.kernel.evidence import Grade
from samite.kernel.quantity import Quantity, round_shown
from samite.kernel.units import convert
from samite.tables.sources import sources

UNITS = ("metric", "imperial")
"""The two ways to show numbers."""

GRADE_WORDS = {
    Grade.MEASURED_HERE.value: "given or measured",
    Grade.STANDARD.value: "from a standard",
    Grade.PUBLICATION.value: "from a publication",
    Grade.DERIVED.value: "computed",
    Grade.COMMON_PRACTICE.value: "common practice",
    Grade.FROM_MEMORY.value: "from memory, not checked",
    Grade.GUESS.value: "a guess",
}
"""Grades of evidence in plain words."""

SIGNS = {
    "g/m2": "g/m²",
    "oz/yd2": "oz/yd²",
    "C": "°C",
    "F": "°F",
    "W/mK": "W/(m K)",
    "J/kgK": "J/(kg K)",
}
"""Units as they are set in type."""

PAIRS = {"g/m2": "oz/yd2", "mm": "in", "cm": "in", "C": "F"}
"""The imperial unit for a metric one."""

_NUMBERS = r"(?P<first>\d+(?:\.\d+)?)(?: to (?P<last>\d+(?:\.\d+)?))?"
_MEASURE = re.compile(rf"(?<![\w.]){_NUMBERS} (?P<unit>mm|cm|g/m2|C)(?![\w/])")


def grade_words(grade: str) -> str:
    """Return a grade of evidence in plain words.

    Parameters
    ----------
    grade : str
        Value of a `Grade`, or empty.

    Returns
    -------
    str
        Plain words; empty for an empty grade.
    """
    return GRADE_WORDS.get(grade, grade)


def source_words(key: str) -> str:
    """Return author, title and year of a source.

    Parameters
    ----------
    key : str
        Key in ``sources.toml``, possibly with a place after a comma, or a free text.

    Returns
    -------
    str
        The citation; a text that is no key comes back as it is.
    """
    parts = dict.fromkeys(re.split(r" [+x] ", key))
    return "; ".join(_cited(part) for part in parts)


def _cited(key: str) -> str:
    name, _, place = key.partition(", ")
    known = sources().get(name)
    if known is None:
        return key
    return f"{known}; {place}" if place else str(known)


def evidence_words(key: str, grade: str) -> str:
    """Return where a value or claim comes from, and how well it is known.

    Parameters
    ----------
    key : str
        Key in ``sources.toml`` with its place, or a free text; may be empty.
    grade : str
        Value of a `Grade`; may be empty.

    Returns
    -------
    str
        Source and grade, or the grade alone where there is no document.
    """
    known = sources().get(key.partition(", ")[0])
    if not key or (known and known.kind in ("practice", "own")):
        return grade_words(grade)
    return f"{source_words(key)} ({grade_words(grade)})" if grade else source_words(key)


def number_words(value: float, unit: str, units: str) -> str:
    """Return a number with its unit, in the person's units.

    Parameters
    ----------
    value : float
        The number, in `unit` [1].
    unit : str
        A metric unit.
    units : str
        ``metric`` or ``imperial``.

    Returns
    -------
    str
        For example ``"10 mm"`` or ``"3/8 in"``.
    """
    return f"{_figure(value, unit, units)} {_sign(unit, units)}"


def quantity_words(quantity: Quantity, units: str) -> str:
    """Return a quantity with its range, in the person's units.

    Parameters
    ----------
    quantity : Quantity
        A quantity in a metric unit.
    units : str
        ``metric`` or ``imperial``.

    Returns
    -------
    str
        For example ``"0.85 mm (0.66 to 1.1)"``.
    """
    target = PAIRS.get(quantity.unit, quantity.unit) if units == "imperial" else quantity.unit
    low, middle, high = (
        round_shown(convert(number, quantity.unit, target) if target != quantity.unit else number)
        for number in (quantity.low, quantity.value, quantity.high)
    )
    spread = "" if low == high else f" ({low:g} to {high:g})"
    return f"{middle:g} {SIGNS.get(target, target)}{spread}"


def stitch_words(length_mm: float, units: str) -> str:
    """Return a stitch length as the person's machine counts it.

    Parameters
    ----------
    length_mm : float
        Stitch length [mm].
    units : str
        ``metric`` or ``imperial``.

    Returns
    -------
    str
        ``"2.5 mm"`` or ``"10 to the inch"``.
    """
    if units == "imperial":
        return f"{25.4 / length_mm:.0f} to the inch"
    return f"{length_mm:g} mm"


def in_units(text: str, units: str) -> str:
    """Put the measures of a sentence into the person's units.

    Parameters
    ----------
    text : str
        A sentence with metric measures.
    units : str
        ``metric`` or ``imperial``.

    Returns
    -------
    str
        The sentence.
    """
    return _MEASURE.sub(lambda found: _measure(found, units), text)


def _measure(found: re.Match[str], units: str) -> str:
    unit = found["unit"]
    figures = [
        _figure(float(item), unit, units) for item in (found["first"], found["last"]) if item
    ]
    return f"{' to '.join(figures)} {_sign(unit, units)}"


def _sign(unit: str, units: str) -> str:
    shown = PAIRS[unit] if units == "imperial" else unit
    return SIGNS.get(shown, shown)


def _figure(value: float, unit: str, units: str) -> str:
    if units == "metric":
        return f"{value:g}"
    number = convert(value, unit, PAIRS[unit])
    if unit not in ("mm", "cm"):
        return (
            f"{round_shown(number):g}" if unit != "C" else f"{5 * math.floor(number / 5 + 1e-9):d}"
        )
    return _inches(number)


def _inches(number: float) -> str:
    """Inches as a tape shows them: sixteenths, quarters above a span, decimals below an eighth."""
    if number < 0.11:
        return f"{number:.2f}"
    step = 16 if number < 4 else 4 if number < 20 else 1
    whole, part = divmod(Fraction(round(number * step), step), 1)
    return " ".join(str(item) for item in (whole, part) if item) or "0"


def set_words(chance: float) -> str:
    """Return the chance of a set seam in words, rounded down.

    Parameters
    ----------
    chance : float
        Chance that a placement sets the seam [1].

    Returns
    -------
    str
        For example ``"97 in 100 seams stay set"``.
    """
    return f"{math.floor(chance * 100 + 1e-9)} in 100 seams stay set"


def damage_words(chance: float) -> str:
    """Return the chance of damage in words, rounded to the safe side.

    Parameters
    ----------
    chance : float
        Chance that the pressing of a whole costume hurts some part [1].

    Returns
    -------
    str
        For example ``"1 costume in 250 is hurt somewhere"``.
    """
    if chance >= 0.095:
        return f"{math.ceil(chance * 100 - 1e-9)} in 100 costumes are hurt somewhere"
    if chance <= 0.001:
        return "fewer than 1 costume in 1000 is hurt"
    count = 1.0 / chance
    step = 10 if count > 30 else 1
    return f"1 costume in {int(count / step) * step} is hurt somewhere"
