"""Any closed-form function of the engines by name: value, unit, source and grade."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass, replace

from samite.kernel.errors import InputError, OutOfRangeError
from samite.kernel.quantity import Quantity
from samite.kernel.units import convert, parse_quantity
from samite.services.calc_describe import Argument, Description, describe, named_function
from samite.services.calc_registry import FORMULAS
from samite.services.calc_tables import Sourced
from samite.tables.sewing import sewing_key

FORMAT = "samite.calc.v1"
LIST_FORMAT = "samite.calc-list.v1"
_YES = frozenset({"yes", "true", "1", "y"})
_NO = frozenset({"no", "false", "0", "n"})
_SHOWN_DIGITS = 12


@dataclass(frozen=True, slots=True)
class CalcAnswer:
    """The answer to one question.

    Parameters
    ----------
    name : str
        The function asked.
    inputs : dict of str to object
        The arguments as they were understood, by full name.
    value : float, str, bool or list of these
        The answer, in `unit`.
    unit : str
        Its unit; empty for a word.
    source : str
        Key in ``sources.toml``.
    grade : str
        How well it is known.
    low : float or None
        5th percentile, in `unit`, where the value has a spread.
    high : float or None
        95th percentile, in `unit`, where the value has a spread.
    """

    name: str
    inputs: dict[str, object]
    value: object
    unit: str
    source: str
    grade: str
    low: float | None = None
    high: float | None = None

    def as_dict(self) -> dict[str, object]:
        """Return the JSON form.

        Returns
        -------
        dict of str to object
            Format ``samite.calc.v1``; ``low`` and ``high`` only where there is a spread.
        """
        document: dict[str, object] = {
            "format": FORMAT,
            "name": self.name,
            "inputs": self.inputs,
            "value": self.value,
            "unit": self.unit,
            "source": self.source,
            "grade": self.grade,
        }
        if self.low is not None and self.high is not None:
            document |= {"low": self.low, "high": self.high}
        return document


def calc_names() -> tuple[str, ...]:
    """Return the names of all functions that can be asked.

    Returns
    -------
    tuple of str
        Sorted.
    """
    return tuple(sorted(FORMULAS))


def calculate(name: str, raw_inputs: Mapping[str, str], unit: str = "") -> CalcAnswer:
    """Answer a named function for arguments as a person writes them.

    Parameters
    ----------
    name : str
        Name of the function, one of `calc_names`.
    raw_inputs : mapping of str to str
        Arguments by name, with or without the unit in the name.
    unit : str
        Unit wanted for the answer; the function's own if empty.

    Returns
    -------
    CalcAnswer
        Value, unit, source and grade.

    Raises
    ------
    UnknownNameError
        If there is no function of that name.
    InputError
        If an argument is missing, unknown, given twice or cannot be read.
    SamiteError
        Whatever the function itself refuses.
    """
    description = describe(name)
    inputs = _read_inputs(description, raw_inputs)
    try:
        result = named_function(name)(**inputs)
    except (ArithmeticError, ValueError):
        raise _beyond_numbers(name) from None
    answer = _answer(description, inputs, result)
    return _in_unit(answer, unit) if unit else answer


def _read_inputs(description: Description, raw_inputs: Mapping[str, str]) -> dict[str, object]:
    known = _known_names(description.arguments)
    inputs: dict[str, object] = {}
    for key, text in raw_inputs.items():
        argument = known.get(key.replace("-", "_"))
        if argument is None:
            raise InputError(f"{description.name} takes no {key!r}", key, _takes(description))
        if argument.name in inputs:
            raise InputError(f"{argument.name} is given twice", key, "give it once")
        inputs[argument.name] = _read(argument, text)
    missing = [a.name for a in description.arguments if a.required and a.name not in inputs]
    if missing:
        raise InputError(
            f"{description.name} lacks {', '.join(missing)}", missing[0], _takes(description)
        )
    return inputs


def _known_names(arguments: tuple[Argument, ...]) -> dict[str, Argument]:
    shorts = [argument.short_name for argument in arguments]
    known = {a.short_name: a for a in arguments if shorts.count(a.short_name) == 1}
    return known | {argument.name: argument for argument in arguments}


def _takes(description: Description) -> str:
    told = ", ".join(
        f"{a.name}{f' [{a.unit}]' if a.unit else ''}{'' if a.required else ' (optional)'}"
        for a in description.arguments
    )
    return f"{description.name} takes {told}"


NAMED = {"stitch_type": "stitch", "cloth_class": "gathering"}
"""Words that may be given by name as well, and the table that knows the names."""


def _read(argument: Argument, text: str) -> object:
    if argument.kind == "word":
        table = NAMED.get(argument.name)
        return sewing_key(table, text) if table else text.strip()
    if argument.kind == "yes-no":
        return _yes_or_no(argument, text)
    if argument.kind == "numbers":
        parts = [part for part in re.split(r"\s*;\s*|\s+/\s+|,\s+", text) if part.strip()]
        return tuple(_number(argument, part) for part in parts)
    number = _number(argument, text)
    if argument.kind == "count":
        if number != int(number):
            raise InputError(f"{argument.name} must be a whole number", text, "leave out decimals")
        return int(number)
    return number


def _number(argument: Argument, text: str) -> float:
    stitches = "stitch" in argument.name
    try:
        return parse_quantity(text, reading_unit(argument.unit), stitches=stitches)
    except InputError as error:
        raise type(error)(
            error.message, f"{argument.name}={text}", f"{argument.says}: {error.hint}"
        ) from None


def reading_unit(unit: str) -> str:
    """Return the unit under which a bracketed unit of a docstring is read.

    Parameters
    ----------
    unit : str
        As bracketed; K means a difference, since temperatures stand in C.

    Returns
    -------
    str
        A unit that `parse_quantity` knows.
    """
    return {"K": "delta K", "": "1"}.get(unit, unit)


def _yes_or_no(argument: Argument, text: str) -> bool:
    word = text.strip().casefold()
    if word in _YES | _NO:
        return word in _YES
    raise InputError(
        f"{argument.name} is yes or no, not {text!r}", argument.name, "write yes or no"
    )


def _answer(description: Description, inputs: dict[str, object], result: object) -> CalcAnswer:
    unit, source, grade = description.unit, description.source, description.grade
    low = high = None
    if isinstance(result, Quantity):
        if result.low < result.high:
            low, high = _shown(result.low), _shown(result.high)
        unit, evidence, value = result.unit, result.evidence, _plain_value(result.value)
        source, grade = evidence.source, evidence.grade.value
    elif isinstance(result, Sourced):
        unit, evidence, value = result.unit, result.evidence, _plain_value(result.value)
        source, grade = evidence.source, evidence.grade.value
    else:
        value = _plain_value(result)
    plain = {key: _plain_value(item) for key, item in inputs.items()}
    return CalcAnswer(description.name, plain, value, unit, source, grade, low, high)


def _plain_value(value: object) -> object:
    if isinstance(value, bool | int | str):
        return value
    if isinstance(value, float):
        return _shown(value)
    if isinstance(value, list | tuple):
        return [_plain_value(item) for item in value]
    raise TypeError(f"no plain form for {type(value).__name__}")


def _beyond_numbers(name: str) -> OutOfRangeError:
    return OutOfRangeError(
        f"{name} cannot be computed from numbers so large or small",
        name,
        "give inputs of a usual size",
    )


def _shown(number: float) -> float:
    """Drop the noise of binary fractions."""
    if not math.isfinite(number):
        raise _beyond_numbers("the function")
    return float(f"{number:.{_SHOWN_DIGITS}g}")


def _in_unit(answer: CalcAnswer, unit: str) -> CalcAnswer:
    """Convert an answer to the unit wanted."""
    own = reading_unit(answer.unit)
    wanted = f"delta {unit.replace('C', 'K')}" if own == "delta K" else unit

    def converted(number: object) -> float:
        if isinstance(number, bool) or not isinstance(number, int | float):
            raise InputError(f"{answer.name} answers with a word", unit, "leave out the unit")
        return _shown(convert(number, own, wanted))

    value = answer.value
    return replace(
        answer,
        value=[converted(one) for one in value] if isinstance(value, list) else converted(value),
        unit=unit,
        low=None if answer.low is None else converted(answer.low),
        high=None if answer.high is None else converted(answer.high),
    )
