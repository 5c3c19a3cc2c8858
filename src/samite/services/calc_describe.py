"""What the named functions take and give, read from their docstrings."""

from __future__ import annotations

import importlib
import inspect
import re
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from typing import Any

from samite.kernel.errors import UnknownNameError
from samite.services.calc_registry import FORMULAS
from samite.tables.loader import did_you_mean

_SECTION = re.compile(r"^(Parameters|Returns|Raises|Notes|References|Examples)$")
_UNIT_SUFFIX = re.compile(
    r"_(?:n_per_cm|n_cm|n_m|mg_cm|cn_tex|g_per_m|w_mk|w_m2k|kw_m2|w_m2|j_gk|j_kgk|kj_kgk|kj_kg"
    r"|kj_m2|j_m2|kg_m3|g_cm3|m2_s|m_s2|g_min|gsm|kg_kg|percent|tex|nm|kpa|pa|mm2|cm2|m2"
    r"|um|mm|cm|km|min|kg|bar|deg|years|m|g|n|c|k|s|h|w)$"
)


@dataclass(frozen=True, slots=True)
class Argument:
    """One argument of a named function.

    Parameters
    ----------
    name : str
        Its full name, unit at the end.
    unit : str
        Unit in which a bare number is read; empty for a word.
    kind : str
        ``number``, ``count``, ``numbers``, ``word`` or ``yes-no``.
    required : bool
        False if it has a default.
    says : str
        What it means.
    """

    name: str
    unit: str
    kind: str
    required: bool
    says: str

    @property
    def short_name(self) -> str:
        """Its name without the unit."""
        return _UNIT_SUFFIX.sub("", self.name) or self.name


@dataclass(frozen=True, slots=True)
class Description:
    """What a named function takes and gives.

    Parameters
    ----------
    name : str
        Name that a person types.
    summary : str
        One sentence.
    arguments : tuple of Argument
        In order.
    unit : str
        Unit of the result; empty for a word.
    source : str
        Key in ``sources.toml``.
    grade : str
        How well the formula is known.
    """

    name: str
    summary: str
    arguments: tuple[Argument, ...]
    unit: str
    source: str
    grade: str

    def as_dict(self) -> dict[str, object]:
        """Return the JSON form.

        Returns
        -------
        dict of str to object
            Keys ``name``, ``summary``, ``arguments``, ``unit``, ``source`` and ``grade``.
        """
        return {
            "name": self.name,
            "summary": self.summary,
            "arguments": [
                {
                    "name": argument.name,
                    "unit": argument.unit,
                    "kind": argument.kind,
                    "required": argument.required,
                    "says": argument.says,
                }
                for argument in self.arguments
            ],
            "unit": self.unit,
            "source": self.source,
            "grade": self.grade,
        }


@cache
def describe(name: str) -> Description:
    """Return what a named function takes and gives, read from its docstring.

    Parameters
    ----------
    name : str
        Name of the function.

    Returns
    -------
    Description
        Arguments with units, unit of the result, source and grade.

    Raises
    ------
    UnknownNameError
        If there is no function of that name.
    """
    function = named_function(name)
    sections = _sections(inspect.getdoc(function) or "")
    said = _entries(sections.get("Parameters", []))
    arguments = tuple(
        _argument(parameter, said.get(parameter.name, ""))
        for parameter in inspect.signature(function).parameters.values()
    )
    references = " ".join(sections.get("References", [])).split()
    return Description(
        name=name,
        summary=" ".join(sections["Summary"]).replace("Return ", "", 1).rstrip("."),
        arguments=arguments,
        unit=_unit_in(" ".join(sections.get("Returns", []))),
        source=references[0].strip("`:,;.") if references else "",
        grade=FORMULAS[name].grade.value,
    )


def named_function(name: str) -> Callable[..., Any]:
    """Return a named function.

    Parameters
    ----------
    name : str
        Name of the function.

    Returns
    -------
    callable
        The function itself.

    Raises
    ------
    UnknownNameError
        If there is no function of that name.
    """
    formula = FORMULAS.get(name)
    if formula is None:
        raise UnknownNameError(
            f"there is no function {name!r}",
            "name",
            f"{did_you_mean(name, FORMULAS)}; samite calc --list shows all",
        )
    module, attribute = formula.place.split(":")
    function: Callable[..., Any] = getattr(importlib.import_module(module), attribute)
    return function


def _sections(doc: str) -> dict[str, list[str]]:
    """Split a numpydoc text into its sections."""
    sections: dict[str, list[str]] = {"Summary": []}
    lines, current = doc.splitlines(), "Summary"
    for number, line in enumerate(lines):
        if (
            _SECTION.match(line)
            and lines[number + 1 : number + 2]
            and set(lines[number + 1]) == {"-"}
        ):
            current = line
            sections[current] = []
        elif set(line) != {"-"} and line.strip():
            sections[current].append(line)
        elif current == "Summary" and sections["Summary"]:
            current = "Extended"
            sections[current] = []
    return sections


def _entries(lines: list[str]) -> dict[str, str]:
    """Return the text under each entry of a Parameters section."""
    entries: dict[str, str] = {}
    name = ""
    for line in lines:
        if not line.startswith(" "):
            name = line.split(":")[0].strip()
            entries[name] = ""
        else:
            entries[name] = f"{entries[name]} {line.strip()}".strip()
    return entries


def _unit_in(text: str) -> str:
    found = re.findall(r"\[([^\]]+)\]", text)
    return {"-": "1"}.get(found[-1], found[-1]) if found else ""


def _argument(parameter: inspect.Parameter, text: str) -> Argument:
    annotation = str(parameter.annotation)
    if "Sequence[float]" in annotation or "tuple[float" in annotation:
        kind = "numbers"
    else:
        base = annotation.split(" | ", maxsplit=1)[0]
        kind = {"float": "number", "int": "count", "bool": "yes-no"}.get(base, "word")
    return Argument(
        name=parameter.name,
        unit=_unit_in(text) if kind in {"number", "count", "numbers"} else "",
        kind=kind,
        required=parameter.default is inspect.Parameter.empty,
        says=re.sub(r"\s*\[[^\]]+\]", "", text).rstrip("."),
    )
