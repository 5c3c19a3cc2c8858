"""What a shape is: named numbers with units, ranges and defaults by measure, and a builder."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import TYPE_CHECKING

from samite.kernel.errors import InputError, OutOfRangeError, UnknownNameError
from samite.kernel.evidence import Evidence, Grade
from samite.kernel.reasons import Reason
from samite.pieces.outline import Piece
from samite.pieces.walk import Mate, Smooth

if TYPE_CHECKING:
    from samite.pieces.fitted.report import FitReport

DERIVED = Evidence("derivation", Grade.DERIVED)
PRACTICE = Evidence("common-practice", Grade.COMMON_PRACTICE)
GUESSED = Evidence("guess", Grade.GUESS)


@dataclass(frozen=True, slots=True)
class Parameter:
    """One number, or one choice, that a shape is made from.

    Parameters
    ----------
    name : str
        Its name.
    unit : str
        ``mm``, ``deg``, ``%``, ``count`` or ``1``; empty for a choice.
    low : float
        Smallest allowed, in `unit`.
    high : float
        Largest allowed, in `unit`.
    says : str
        What it is.
    default : float
        Taken where nothing is set, in `unit`; with `by`, a constant added.
    by : mapping of str to float
        Shares of body measures that make up the default.
    choices : tuple of str
        Words allowed, the first by default.
    """

    name: str
    unit: str
    low: float
    high: float
    says: str
    default: float = 0.0
    by: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))
    choices: tuple[str, ...] = ()

    def told_default(self) -> str:
        """Return the default in words.

        Returns
        -------
        str
            For example ``waist_girth + 20 mm`` or ``0.5``.
        """
        if self.choices:
            return self.choices[0]
        parts = [name if share == 1.0 else f"{share:g} {name}" for name, share in self.by.items()]
        unit = "" if self.unit in {"1", "count"} else f" {self.unit}"
        if self.default or not parts:
            parts.append(f"{self.default:g}{unit}")
        return " + ".join(parts).replace("+ -1 ", "- ").replace("+ -", "- ")


class Values(Mapping[str, float]):
    """The numbers of one build, by name; words beside them.

    Parameters
    ----------
    numbers : mapping of str to float
        In the parameters' own units.
    words : mapping of str to str
        The choices taken.
    """

    def __init__(self, numbers: Mapping[str, float], words: Mapping[str, str]) -> None:
        self.numbers = MappingProxyType(dict(numbers))
        self.words = MappingProxyType(dict(words))

    def __getitem__(self, name: str) -> float:
        return self.numbers[name]

    def __iter__(self):  # type: ignore[no-untyped-def]
        return iter(self.numbers)

    def __len__(self) -> int:
        return len(self.numbers)

    def count(self, name: str) -> int:
        """Return a whole number.

        Parameters
        ----------
        name : str
            Its name.

        Returns
        -------
        int
            The number.
        """
        return round(self.numbers[name])

    def word(self, name: str) -> str:
        """Return a choice.

        Parameters
        ----------
        name : str
            Its name.

        Returns
        -------
        str
            The word.
        """
        return self.words[name]


@dataclass(frozen=True, slots=True)
class Made:
    """What a shape made.

    Parameters
    ----------
    pieces : tuple of Piece
        The pieces.
    mates : tuple of Mate
        Pairs of edges that are sewn together.
    smooths : tuple of Smooth
        Corners that must run smooth over a seam.
    values : mapping of str to float
        Numbers that were solved, by name with unit.
    reasons : tuple of Reason
        What each was solved from.
    fit : FitReport or None
        What is told of pieces that were computed from body and cloth.
    """

    pieces: tuple[Piece, ...]
    mates: tuple[Mate, ...] = ()
    smooths: tuple[Smooth, ...] = ()
    values: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))
    reasons: tuple[Reason, ...] = ()
    fit: FitReport | None = None


@dataclass(frozen=True, slots=True)
class Shape:
    """A family of pieces.

    Parameters
    ----------
    name : str
        Its name, words joined by hyphens.
    says : str
        What it is, one line.
    parameters : tuple of Parameter
        What it is made from.
    build : callable
        Takes `Values`, returns `Made`.
    words : tuple of str
        Other words for it, read at the shop counter.
    """

    name: str
    says: str
    parameters: tuple[Parameter, ...]
    build: Callable[[Values], Made]
    words: tuple[str, ...] = ()

    def measures(self) -> tuple[str, ...]:
        """Return the body measures that its defaults hang on.

        Returns
        -------
        tuple of str
            Names.
        """
        return tuple(dict.fromkeys(name for p in self.parameters for name in p.by))


def mm(
    name: str,
    says: str,
    default: float = 0.0,
    *,
    low: float = 0.0,
    high: float = 5000.0,
    **by: float,
) -> Parameter:
    """Return a parameter that is a length.

    Parameters
    ----------
    name : str
        Its name.
    says : str
        What it is.
    default : float
        Default, or constant of the default [mm].
    low : float
        Smallest allowed [mm].
    high : float
        Largest allowed [mm].
    **by : float
        Shares of body measures in the default.

    Returns
    -------
    Parameter
        The parameter.
    """
    return Parameter(name, "mm", low, high, says, default, MappingProxyType(by))


def number(
    name: str, says: str, default: float, low: float, high: float, unit: str = "1"
) -> Parameter:
    """Return a parameter that is a plain number, an angle or a percentage.

    Parameters
    ----------
    name : str
        Its name.
    says : str
        What it is.
    default : float
        Default [-].
    low : float
        Smallest allowed [-].
    high : float
        Largest allowed [-].
    unit : str
        ``1``, ``deg``, ``%`` or ``count``.

    Returns
    -------
    Parameter
        The parameter.
    """
    return Parameter(name, unit, low, high, says, default)


def choice(name: str, says: str, *words: str) -> Parameter:
    """Return a parameter that is a choice of words.

    Parameters
    ----------
    name : str
        Its name.
    says : str
        What it is.
    *words : str
        The words, the first by default.

    Returns
    -------
    Parameter
        The parameter.
    """
    return Parameter(name, "", 0.0, 0.0, says, choices=words)


def fill_in(
    shape: Shape,
    given: Mapping[str, float | str],
    measure: Callable[[str], float],
) -> Values:
    """Return the numbers of a build: what was set, else the defaults.

    Parameters
    ----------
    shape : Shape
        The shape.
    given : mapping of str to float or str
        What was set, in the parameters' own units.
    measure : callable
        Returns a body measure by name [mm].

    Returns
    -------
    Values
        Every parameter.

    Raises
    ------
    UnknownNameError
        If the shape has no parameter or choice of that name.
    OutOfRangeError
        If a number is outside its range.
    InputError
        If a word stands where a number belongs, or a count is not whole.
    """
    known = {parameter.name for parameter in shape.parameters}
    for name in given:
        if name not in known:
            raise UnknownNameError(
                f"{shape.name} has no parameter {name!r}",
                name,
                f"it takes {', '.join(sorted(known))}",
            )
    numbers: dict[str, float] = {}
    words: dict[str, str] = {}
    for parameter in shape.parameters:
        value = given.get(parameter.name)
        if parameter.choices:
            words[parameter.name] = _chosen(parameter, value)
        elif isinstance(value, str):
            raise InputError(f"{parameter.name} is a number", parameter.name, parameter.says)
        else:
            numbers[parameter.name] = _in_range(parameter, _number(parameter, value, measure))
    return Values(numbers, words)


def _chosen(parameter: Parameter, value: float | str | None) -> str:
    word = parameter.choices[0] if value is None else str(value).strip().casefold()
    if word not in parameter.choices:
        raise UnknownNameError(
            f"{parameter.name} cannot be {word!r}",
            parameter.name,
            f"one of {', '.join(parameter.choices)}",
        )
    return word


def _number(parameter: Parameter, value: float | None, measure: Callable[[str], float]) -> float:
    if value is not None:
        return value
    return parameter.default + sum(share * measure(name) for name, share in parameter.by.items())


def _in_range(parameter: Parameter, value: float) -> float:
    unit = "" if parameter.unit in {"1", "count"} else f" {parameter.unit}"
    if not (math.isfinite(value) and parameter.low <= value <= parameter.high):
        raise OutOfRangeError(
            f"{parameter.name} = {value:g}{unit} is impossible",
            parameter.name,
            f"{parameter.says}: from {parameter.low:g} to {parameter.high:g}{unit}",
        )
    if parameter.unit == "count" and value != round(value):
        raise InputError(
            f"{parameter.name} must be a whole number", parameter.name, "leave out decimals"
        )
    return value


def reason(claim: str, evidence: Evidence = DERIVED) -> Reason:
    """Return a reason that rests on evidence alone.

    Parameters
    ----------
    claim : str
        One plain sentence.
    evidence : Evidence
        Source and grade.

    Returns
    -------
    Reason
        The reason.
    """
    return Reason(claim, (), evidence)
