"""Docstrings are numpydoc and say what the signature says."""

from __future__ import annotations

import ast
import importlib
import inspect
import re
import textwrap
from collections.abc import Callable

import pytest
from tests.contracts.tree import (
    constructor_parameters,
    engine_modules,
    entries,
    module_names,
    public_classes,
    public_functions,
    public_methods,
    sections,
    signature,
    source_keys,
)

from samite.kernel import errors

NOTHING = {"None", "NoReturn", "Never", ""}
ERRORS = {name for name, thing in vars(errors).items() if isinstance(thing, type)}


def written(parameter: inspect.Parameter) -> str:
    stars = {inspect.Parameter.VAR_POSITIONAL: "*", inspect.Parameter.VAR_KEYWORD: "**"}
    return stars.get(parameter.kind, "") + parameter.name


def parameter_problems(docstring: str | None, parameters: list[inspect.Parameter]) -> list[str]:
    """Compare the names and the order of the docstring with those of the signature."""
    if not (docstring or "").strip():
        return ["has no docstring"]
    described = [entry.name for entry in entries(sections(docstring).get("Parameters", ""))]
    expected = [written(parameter) for parameter in parameters]
    if described == expected:
        return []
    return [f"Parameters are ({', '.join(described)}), the signature has ({', '.join(expected)})"]


def return_problems(docstring: str | None, function: Callable[..., object]) -> list[str]:
    returned = inspect.signature(function).return_annotation
    gives = returned is not inspect.Signature.empty and str(returned) not in NOTHING
    said = {"Returns", "Yields"} & set(sections(docstring))
    if gives and returned is not None and not said:
        return [f"returns {returned} but has no Returns"]
    return [] if gives else [f"has {' and '.join(said)} but returns nothing"] if said else []


def raised(function: Callable[..., object]) -> set[str]:
    """Name the errors of samite that a function raises itself, not through another."""
    tree = ast.parse(textwrap.dedent(inspect.getsource(function)))
    names = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Raise) and isinstance(node.exc, ast.Call):
            names.add(getattr(node.exc.func, "id", ""))
    return names & ERRORS


def raise_problems(docstring: str | None, function: Callable[..., object]) -> list[str]:
    said = sections(docstring).get("Raises", "")
    missing = [name for name in sorted(raised(function)) if not re.search(rf"\b{name}\b", said)]
    return [f"raises {', '.join(missing)} but Raises does not say so"] if missing else []


def function_problems(function: Callable[..., object]) -> list[str]:
    docstring = function.__doc__
    return [
        *parameter_problems(docstring, signature(function)),
        *return_problems(docstring, function),
        *raise_problems(docstring, function),
    ]


def class_problems(name: str, cls: type) -> list[str]:
    parameters = constructor_parameters(cls)
    own = vars(cls).get("__doc__") or ""
    if parameters is None or own.startswith(f"{cls.__name__}("):  # generated, not written
        found = [] if own and not own.startswith(f"{cls.__name__}(") else ["has no docstring"]
    else:
        found = parameter_problems(own, parameters)
    for maker in ("__init__", "__post_init__"):
        if inspect.isfunction(vars(cls).get(maker)) and not _generated(vars(cls)[maker]):
            found += raise_problems(own, vars(cls)[maker])
    problems = [f"{name} {problem}" for problem in found]
    for method, function, is_property in public_methods(cls):
        check = _property_problems if is_property else function_problems
        problems += [f"{name}.{method} {problem}" for problem in check(function)]
    return problems


def _generated(function: Callable[..., object]) -> bool:
    return function.__code__.co_filename.startswith("<")


def _property_problems(function: Callable[..., object]) -> list[str]:
    if not (function.__doc__ or "").strip():
        return ["has no docstring"]
    return raise_problems(function.__doc__, function)


@pytest.mark.parametrize("module", module_names())
def test_docstrings_say_what_the_signature_says(module: str) -> None:
    problems = [] if importlib.import_module(module).__doc__ else ["has no docstring"]
    for name, function in public_functions(module).items():
        problems += [f"{name} {problem}" for problem in function_problems(function)]
    for name, cls in public_classes(module).items():
        problems += class_problems(name, cls)
    assert not problems, "\n".join(f"{module}: {problem}" for problem in problems)


@pytest.mark.parametrize("module", engine_modules())
def test_every_number_of_an_engine_has_its_unit_in_brackets(module: str) -> None:
    documented = {name: f.__doc__ for name, f in public_functions(module).items()}
    documented |= {name: vars(cls).get("__doc__") for name, cls in public_classes(module).items()}
    problems = [
        f"{module}.{name}: {entry.name} is a number without [unit]; [-] if it has none"
        for name, docstring in documented.items()
        for entry in entries(sections(docstring).get("Parameters", ""))
        if not entry.name.startswith("*")  # keyword arguments carry their units in their names
        and re.match(r"(float|(ndarray|array) of float)\b", entry.type)
        and not re.search(r"\[[^\]]+\]|in `unit`", entry.text)
    ]
    assert not problems, "\n".join(problems)


@pytest.mark.parametrize("module", module_names())
def test_references_start_with_a_key_of_the_list_of_sources(module: str) -> None:
    known = source_keys()
    things = {module: importlib.import_module(module)}
    things |= public_functions(module) | public_classes(module)
    problems = []
    for name, thing in things.items():
        text = sections(vars(thing).get("__doc__") or thing.__doc__).get("References", "")
        for paragraph in filter(None, re.split(r"\n\s*\n|\n(?=[-*] |\.\. )", text)):
            key = re.sub(r"^(?:[-*]|\.\. \[\w+\])\s*", "", paragraph.strip())
            key = re.split(r"[\s,;]", key)[0].strip("`:.,;")
            if key not in known:
                problems.append(f"{name}: {key!r} is not in sources.toml")
    assert not problems, "\n".join(f"{module}: {problem}" for problem in problems)


def _swapped(width_mm: float, *, length_mm: float) -> float:
    """Return a number.

    Parameters
    ----------
    length_mm : float
        Length [mm].
    width_mm : float
        Width [mm].
    """
    if width_mm < 0.0:
        raise errors.OutOfRangeError("negative")
    return width_mm * length_mm


def test_the_check_sees_swapped_parameters_and_missing_sections() -> None:
    problems = " ".join(function_problems(_swapped))
    assert "(length_mm, width_mm), the signature has (width_mm, length_mm)" in problems
    assert "has no Returns" in problems


def test_the_parser_reads_shared_lines_types_and_several_lines_of_text() -> None:
    text = "x, y : float\n    Place\n    [mm].\n*rest : int\n    More."
    found = [(entry.name, entry.type, entry.text) for entry in entries(text)]
    assert found == [
        ("x", "float", "Place [mm]."),
        ("y", "float", "Place [mm]."),
        ("*rest", "int", "More."),
    ]
