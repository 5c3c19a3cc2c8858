"""Conversion of units and the reading of quantities as people write them.

All factors are exact definitions; see `samite.kernel.unit_table`.
"""

from __future__ import annotations

import math
import re
import unicodedata
from difflib import get_close_matches
from functools import cache

from samite.kernel.errors import InputError, OutOfRangeError
from samite.kernel.unit_table import DIMENSIONS, Unit

_COUNT_PER_LENGTH = "count per length"
_SUMMED = frozenset({"length", "mass", "time"})
_PLIED = frozenset({"Nm", "Ne"})

_WORDS = tuple(
    (re.compile(pattern), plain)
    for pattern, plain in (
        (r"\bper\b", "/"),
        (r"\b(?:metres?|meters?)\b", "m"),
        (r"\b(?:inch|inches)\b", "in"),
        (r"\b(?:yards?|yds)\b", "yd"),
        (r"\b(?:foot|feet)\b", "ft"),
        (r"\bounces?\b", "oz"),
        (r"\bgram(?:me)?s?\b", "g"),
        (r"\b(?:square|sq)\b\.? *([a-z]+)", r"\g<1>2"),
    )
)

_NUMBER = r"(?:\d+[ -]\d+/\d+|\d+/\d+|(?:\d+(?:[.,]\d+)*|[.,]\d+)(?:e[-+]?\d+)?)"
_TERM = re.compile(
    rf"\s*(?P<number>[-+]?{_NUMBER})\s*(?P<unit>(?:1 */ *)?[^\d\s].*?)?\s*", re.IGNORECASE
)
_PREFIXED = re.compile(rf"(?P<unit>[a-z][a-z ]*)[.: ]*(?P<number>{_NUMBER})", re.IGNORECASE)
_PARTS = re.compile(rf"\s*(?P<number>{_NUMBER})\s*(?P<unit>[a-z]+\.?|''|'|\")\s*", re.IGNORECASE)


def convert(value: float, from_unit: str, to_unit: str) -> float:
    """Convert a number from one unit to another of the same dimension.

    Stitch lengths and stitch densities convert into each other (12 per inch is 2.117 mm), and so
    do yarn counts by length and by mass (Ne 60 is 9.84 tex).

    Parameters
    ----------
    value : float
        The number, in `from_unit`.
    from_unit : str
        Symbol or spelling that names one unit only.
    to_unit : str
        Symbol or spelling that names one unit only.

    Returns
    -------
    float
        The number, in `to_unit`.

    Raises
    ------
    InputError
        If a unit is unknown or the two dimensions differ.
    OutOfRangeError
        If the value is not finite, or not positive where a count or density is inverted.

    References
    ----------
    ``definition``: see `samite.kernel.unit_table`.
    """
    source_dimension, source = _named(from_unit)
    target_dimension, target = _named(to_unit)
    return _between(value, (source_dimension, source), (target_dimension, target))


def parse_quantity(text: str, unit: str, *, stitches: bool = False) -> float:
    """Read a quantity as people write it and return it in the unit wanted.

    Parameters
    ----------
    text : str
        For example ``"2.5 mm"``, ``"2 1/2 yd"``, ``'60"'``, ``"5 ft 10 in"``, ``"8 oz/yd2"``,
        ``"19 momme"``, ``"Nm 120/3"``, ``"0,65"``; a bare number is taken in `unit`.
    unit : str
        Unit of the result; its dimension decides what an ambiguous spelling means (``oz`` is
        oz/yd2 for a mass per area).
    stitches : bool
        True if a length may also be given as a count per length (``12 spi``) and the reverse.

    Returns
    -------
    float
        The number, in `unit`.

    Raises
    ------
    InputError
        If the text is no quantity of that dimension; the hint lists the units accepted.
    OutOfRangeError
        If the number is not finite, or not positive where a count is inverted.

    References
    ----------
    ``definition``: see `samite.kernel.unit_table`.
    """
    dimension, target = _named(unit)
    plain = _plain(text)
    dimensions = (dimension, *_twins(dimension)) if stitches else (dimension,)
    if dimension == "needle size":
        plain = re.sub(r"^(?:nm *)?(\d+)/\d+$", r"\1", plain, flags=re.IGNORECASE)
    total = 0.0
    for number, spelling in _terms(plain, text, dimension):
        found = (dimension, target) if not spelling else _spelled(spelling, dimensions, text)
        value = _number(number, found[1], dimension, text)
        total += _between(value, found, (dimension, target))
    return total


def running_mass_to_area(*, running_mass_g_per_m: float, width_cm: float) -> float:
    """Return the mass per area of a cloth weighed by the running metre.

    Parameters
    ----------
    running_mass_g_per_m : float
        Mass of one running metre [g/m].
    width_cm : float
        Full width of the cloth [cm].

    Returns
    -------
    float
        Mass per area [g/m2].

    Raises
    ------
    OutOfRangeError
        If the width is not positive.

    Notes
    -----
    ISO 3801: m_a = m_l / width. If the printed width excludes the selvedges, the answer is a
    little high.

    References
    ----------
    ``definition``: mass per area = running mass / width.
    """
    if not width_cm > 0.0:
        raise OutOfRangeError(
            f"a width of {width_cm:g} cm is impossible", "width_cm", "give the width of the cloth"
        )
    return running_mass_g_per_m / (width_cm / 100.0)


def dimension_of(unit: str) -> str:
    """Return the dimension of a unit.

    Parameters
    ----------
    unit : str
        Symbol or spelling that names one unit only.

    Returns
    -------
    str
        Name of the dimension (``"length"``, ``"mass per area"``).

    Raises
    ------
    InputError
        If the unit is unknown.
    """
    return _named(unit)[0]


def units_of(dimension: str) -> tuple[str, ...]:
    """Return the symbols of all units of a dimension.

    Parameters
    ----------
    dimension : str
        Name of the dimension, as from `dimension_of`.

    Returns
    -------
    tuple of str
        Symbols.

    Raises
    ------
    InputError
        If no dimension has that name.
    """
    if dimension not in DIMENSIONS:
        raise InputError(
            f"no dimension is called {dimension!r}", dimension, f"one of {', '.join(DIMENSIONS)}"
        )
    return tuple(unit.symbol for unit in DIMENSIONS[dimension])


@cache
def _symbols() -> dict[str, tuple[str, Unit]]:
    return {
        unit.symbol: (dimension, unit) for dimension, units in DIMENSIONS.items() for unit in units
    }


@cache
def _spellings(dimension: str) -> dict[str, Unit]:
    table: dict[str, Unit] = {}
    for unit in DIMENSIONS[dimension]:
        for spelling in (unit.symbol, *unit.aliases.split("|")):
            if spelling:
                table[_bare(spelling)] = unit
    return table


def _named(name: str) -> tuple[str, Unit]:
    """Find a unit by its symbol, else by a spelling that only one dimension has."""
    if name in _symbols():
        return _symbols()[name]
    hits = [
        (dimension, unit)
        for dimension in DIMENSIONS
        if (unit := _in_dimension(name, dimension)) is not None
    ]
    if len(hits) == 1:
        return hits[0]
    if hits:
        choices = ", ".join(f"{unit.symbol} ({dimension})" for dimension, unit in hits)
        raise InputError(f"the unit {name!r} has several meanings", name, f"write one of {choices}")
    close = get_close_matches(name, list(_symbols()), n=3, cutoff=0.5)
    hint = f"perhaps {', '.join(close)}" if close else f"units are {', '.join(_symbols())}"
    raise InputError(f"the unit {name!r} is not known", name, hint)


def _in_dimension(spelling: str, dimension: str) -> Unit | None:
    table, bare = _spellings(dimension), _bare(spelling)
    return table.get(bare) or (table.get(bare[:-1]) if bare.endswith("s") else None)


def _spelled(spelling: str, dimensions: tuple[str, ...], text: str) -> tuple[str, Unit]:
    for dimension in dimensions:
        unit = _in_dimension(spelling, dimension)
        if unit is not None:
            return dimension, unit
    raise _refusal(f"{spelling!r} is no unit of {dimensions[0]}", text, dimensions[0])


def _refusal(message: str, text: str, dimension: str) -> InputError:
    accepted = ", ".join(units_of(dimension))
    hint = f"units of {dimension}: {accepted}"
    if dimension == "mass per area" and re.search(r"g\s*(?:/|per)\s*(?:running|linear|m\b)", text):
        hint += "; a mass per running metre needs the width as well"
    return InputError(message, text, hint)


def _twins(dimension: str) -> tuple[str, ...]:
    return {"length": (_COUNT_PER_LENGTH,), _COUNT_PER_LENGTH: ("length",)}.get(dimension, ())


def _between(value: float, source: tuple[str, Unit], target: tuple[str, Unit]) -> float:
    if source[1] is target[1]:
        return _finite(value, source[1].symbol)
    base = _to_base(value, source[1])
    if source[0] != target[0]:
        if target[0] not in _twins(source[0]):
            raise InputError(
                f"{source[1].symbol} is a unit of {source[0]}, {target[1].symbol} of {target[0]}",
                f"{value:g} {source[1].symbol}",
                f"units of {target[0]}: {', '.join(units_of(target[0]))}",
            )
        base = 1.0 / _positive(base, source[1].symbol)
    return _from_base(base, target[1])


def _to_base(value: float, unit: Unit) -> float:
    _finite(value, unit.symbol)
    if unit.inverse:
        return unit.factor / _positive(value, unit.symbol)
    return value * unit.factor + unit.offset


def _from_base(base: float, unit: Unit) -> float:
    if unit.inverse:
        return unit.factor / _positive(base, unit.symbol)
    return (base - unit.offset) / unit.factor


def _finite(value: float, symbol: str) -> float:
    if not math.isfinite(value):
        raise OutOfRangeError(f"{value} {symbol} is not a number", symbol, "give a finite number")
    return value


def _positive(value: float, symbol: str) -> float:
    if not value > 0.0:
        raise OutOfRangeError(
            f"{value:g} {symbol} cannot be inverted", symbol, "give a number above zero"
        )
    return value


def _plain(text: str) -> str:
    """Fold typographic characters into plain ones."""
    spaced = "".join(
        " " + unicodedata.normalize("NFKC", char)
        if "VULGAR" in unicodedata.name(char, "")
        else char
        for char in text
    )
    folded = unicodedata.normalize("NFKC", spaced).replace("\u2044", "/")
    for old, new in (("\u2212", "-"), ("\u2032", "'"), ("\u201d", '"'), ("\u2019", "'")):
        folded = folded.replace(old, new)
    return " ".join(folded.split())


def _bare(spelling: str) -> str:
    """Reduce a spelling of a unit to the form under which the table lists it."""
    text = unicodedata.normalize("NFKC", spelling).casefold()
    text = text.replace("\u03bc", "u").replace("\u2032", "'").replace("^", "").replace("·", "")
    for pattern, plain in _WORDS:
        text = pattern.sub(plain, text)
    text = "".join(text.split())
    if len(text) > 1:
        text = text.replace("°", "").rstrip(".")
    return text


def _terms(plain: str, text: str, dimension: str) -> list[tuple[str, str]]:
    """Split into pairs of number and spelling of a unit."""
    prefixed = _PREFIXED.fullmatch(plain)
    if prefixed:
        return [(prefixed["number"], prefixed["unit"].strip())]
    parts = list(_PARTS.finditer(plain))
    if dimension in _SUMMED and len(parts) > 1 and "".join(p[0] for p in parts) == plain:
        return [(part["number"], part["unit"]) for part in parts]
    single = _TERM.fullmatch(plain)
    if single is None:
        raise _refusal(f"{text!r} is no quantity", text, dimension)
    return [(single["number"], (single["unit"] or "").strip())]


def _number(number: str, unit: Unit, dimension: str, text: str) -> float:
    if "/" in number:
        if dimension == "linear density" and unit.symbol not in _PLIED:
            raise _refusal(f"{text!r} may mean plies or filaments; give the total", text, dimension)
        return _fraction(number, text, dimension)
    if "," in number:
        if number.count(",") + number.count(".") > 1 or re.fullmatch(
            r"[-+]?[1-9]\d*,\d{3}", number
        ):
            raise _refusal(
                f"the comma in {number!r} may mark decimals or thousands", text, dimension
            )
        number = number.replace(",", ".")
    try:
        return float(number)
    except ValueError:
        raise _refusal(f"{number!r} is no number", text, dimension) from None


def _fraction(number: str, text: str, dimension: str) -> float:
    sign = -1.0 if number.startswith("-") else 1.0
    *whole, part = re.split(r"[ -]", number.lstrip("+-"))
    above, below = part.split("/")
    if int(below) == 0:
        raise _refusal(f"{number!r} divides by zero", text, dimension)
    return sign * (float(whole[0] if whole else 0) + int(above) / int(below))
