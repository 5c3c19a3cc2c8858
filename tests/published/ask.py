"""One question to the product, as a person would write it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Ask:
    """One question.

    Parameters
    ----------
    function : callable
        The function that must answer.
    inputs : mapping of str to str or Ask
        Inputs as a person writes them, or the answer to another question.
    unit : str
        Unit wanted; the function's own if empty.
    """

    function: Callable[..., object]
    inputs: Mapping[str, str | Ask] = field(default_factory=dict)
    unit: str = ""


def ask(function: Callable[..., object], unit: str = "", **inputs: str | Ask) -> tuple[Ask, ...]:
    return (Ask(function, inputs, unit),)
