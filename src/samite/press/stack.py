"""The bare solver's question and answer as JSON: formats ``samite.stack.v1`` and its answer."""

from __future__ import annotations

import difflib
import math
from typing import TYPE_CHECKING, cast

from samite.kernel.errors import InputError, OutOfRangeError, UnknownNameError
from samite.press.layers import (
    POSITIVE,
    Boundary,
    Conductance,
    Held,
    Insulated,
    Layer,
    ReadingPlace,
    Stack,
)
from samite.press.stack_warnings import may_boil, stack_warnings

if TYPE_CHECKING:
    from collections.abc import Mapping

FORMAT = "samite.stack.v1"
ANSWER_FORMAT = "samite.stack-answer.v1"

QUESTION_KEYS = frozenset(
    ("format", "start_c", "top", "bottom", "layers", "contact_w_m2k", "times_s", "read_at", "water")
)
BOILS, STAYS = "boils", "stays"
"""What water does at 100 C: it boils off, or counts as heat capacity at any temperature."""

LAYER_KEYS = frozenset(("name", *POSITIVE, "water_kg_kg", "start_c"))
BOUNDARIES = '{"sole_c", "conductance_w_m2k"}, {"air_c", "conductance_w_m2k"}, {"held_c"}'
BOUNDARY_HINT = f'give {BOUNDARIES} or {{"insulated": true}}'

Question = tuple[Stack, tuple[float, ...], tuple[ReadingPlace, ...], tuple[str, ...]]


def read_stack(document: Mapping[str, object]) -> Question:
    """Read a question to the bare solver.

    Parameters
    ----------
    document : mapping of str to object
        Parsed JSON of format ``samite.stack.v1``.

    Returns
    -------
    tuple
        The stack, the times [s], the reading places and the warnings.

    Raises
    ------
    InputError
        If a key is missing, has the wrong type or contradicts another; `where` is its JSON path.
    OutOfRangeError
        If a number is not positive, not finite or outside its range.
    UnknownNameError
        If a reading place names a layer that is not there.

    Notes
    -----
    Every positive property and every finite temperature is taken; what is unlikely is warned
    about. Keys that mean nothing here are named in a warning.
    """
    fields = _mapping(document, "document")
    if fields.get("water", BOILS) not in (BOILS, STAYS):
        raise InputError(
            f"water {fields['water']!r} is neither {BOILS!r} nor {STAYS!r}",
            "water",
            "leave it out: water then boils off at 100 C",
        )
    given = fields.get("format", FORMAT)
    if given != FORMAT:
        raise InputError(f"the format is {given!r}", "format", f"give {FORMAT}")
    ignored = [
        f"{key}: not a key of {FORMAT}, ignored" for key in fields if key not in QUESTION_KEYS
    ]
    layers = tuple(
        _layer(item, f"layers[{i}]", ignored) for i, item in enumerate(_list(fields, "layers", ""))
    )
    stack = Stack(
        _number(fields, "start_c", ""),
        _boundary(_needed(fields, "top", ""), "top"),
        _boundary(_needed(fields, "bottom", ""), "bottom"),
        layers,
        _contacts(fields.get("contact_w_m2k"), len(layers) - 1),
    )
    times = tuple(
        _time(item, f"times_s[{i}]") for i, item in enumerate(_list(fields, "times_s", ""))
    )
    places = tuple(
        _place(item, layers, f"read_at[{i}]") for i, item in enumerate(_list(fields, "read_at", ""))
    )
    return (
        stack,
        times,
        places,
        (*ignored, *stack_warnings(stack, boils=fields.get("water", BOILS) == BOILS)),
    )


def answer_stack(document: Mapping[str, object]) -> dict[str, object]:
    """Answer a question to the bare solver.

    Parameters
    ----------
    document : mapping of str to object
        Parsed JSON of format ``samite.stack.v1``.

    Returns
    -------
    dict of str to object
        Format ``samite.stack-answer.v1``: ``temperature_c`` [C] with one row a time and one
        column a reading place, ``warnings``, ``error_estimate_c`` [C] and ``method``; where
        water boils ``water_kg_m2`` too, one column a layer.

    Raises
    ------
    InputError
        As `read_stack`.
    """
    stack, times, places, warnings = read_stack(document)
    answer = {"format": ANSWER_FORMAT, "times_s": list(times), "warnings": list(warnings)}
    if document.get("water", BOILS) == BOILS and may_boil(stack):
        return answer | _boiled(stack, times, places)
    from samite.press.solver import CONTOUR_POINTS, solve

    solution = solve(stack, times, places)
    return answer | {
        "temperature_c": solution.temperature_c.tolist(),
        "error_estimate_c": solution.error_estimate_c,
        "method": {
            "space": "exact: no grid",
            "time": "Laplace transform inverted on Talbot's contour: no step",
            "contour_points": CONTOUR_POINTS,
        },
    }


def _boiled(
    stack: Stack, times: tuple[float, ...], places: tuple[ReadingPlace, ...]
) -> dict[str, object]:
    from samite.press.boiling import boil

    solution = boil(stack, times, places)
    return {
        "temperature_c": solution.temperature_c.tolist(),
        "water_kg_m2": solution.water_kg_m2.tolist(),
        "error_estimate_c": solution.error_estimate_c,
        "method": {
            "space": "finite volumes, nodes on the faces",
            "time": "TR-BDF2; water boils at 100 C and its vapour leaves",
            "nodes": solution.nodes,
            "steps": solution.steps,
        },
    }


def _layer(value: object, where: str, ignored: list[str]) -> Layer:
    fields = _mapping(value, where)
    name = _needed(fields, "name", where)
    if not isinstance(name, str):
        raise InputError("a name is text", f"{where}.name", 'give "name": "press cloth"')
    ignored.extend(
        f"{where}.{key}: not a key of a layer, ignored" for key in fields if key not in LAYER_KEYS
    )
    numbers = {key: _positive(_needed(fields, key, where), f"{where}.{key}") for key in POSITIVE}
    water = 0.0
    if fields.get("water_kg_kg") is not None:
        water = _number(fields, "water_kg_kg", where)
        if water < 0.0:
            raise OutOfRangeError(
                f"{water:g} kg of water", f"{where}.water_kg_kg", "give 0 for a dry layer"
            )
    start = None if fields.get("start_c") is None else _number(fields, "start_c", where)
    return Layer(name, **numbers, water_kg_kg=water, start_c=start)


def _boundary(value: object, where: str) -> Boundary:
    fields = _mapping(value, where)
    kinds = [key for key in ("sole_c", "air_c", "held_c", "insulated") if key in fields]
    if len(kinds) != 1:
        named = " and ".join(kinds) if kinds else "none of them"
        raise InputError(f"one kind of boundary is needed, found {named}", where, BOUNDARY_HINT)
    kind = kinds[0]
    known = {kind, "conductance_w_m2k"} if kind in ("sole_c", "air_c") else {kind}
    strange = sorted(set(fields) - known)
    if strange:
        raise InputError(
            f"{strange[0]} does not go with {kind}", f"{where}.{strange[0]}", BOUNDARY_HINT
        )
    if kind == "insulated":
        if fields[kind] is not True:
            raise InputError("insulated can only be true", f"{where}.insulated", BOUNDARY_HINT)
        return Insulated()
    temperature = _number(fields, kind, where)
    if kind == "held_c":
        return Held(temperature)
    conductance = _needed(fields, "conductance_w_m2k", where)
    return Conductance(temperature, _positive(conductance, f"{where}.conductance_w_m2k"))


def _contacts(value: object, interfaces: int) -> float | tuple[float | None, ...] | None:
    if value is None:
        return None
    if not isinstance(value, list):
        return _positive(value, "contact_w_m2k")
    if len(value) != interfaces:
        raise InputError(
            f"{len(value)} contacts for {interfaces} interfaces",
            "contact_w_m2k",
            "give one number or null an interface, one number for all, or null",
        )
    return tuple(
        None if item is None else _positive(item, f"contact_w_m2k[{i}]")
        for i, item in enumerate(value)
    )


def _place(value: object, layers: tuple[Layer, ...], where: str) -> ReadingPlace:
    fields = _mapping(value, where)
    name = _needed(fields, "layer", where)
    names = [layer.name for layer in layers]
    if not isinstance(name, str) or name not in names:
        close = difflib.get_close_matches(str(name), names, n=3, cutoff=0.4) or names[:5]
        raise UnknownNameError(
            f"there is no layer {name!r}",
            f"{where}.layer",
            "did you mean " + ", ".join(close) + "?",
        )
    if names.count(name) > 1:
        raise InputError(
            f"{names.count(name)} layers are called {name!r}",
            f"{where}.layer",
            "give every layer that is read a name of its own",
        )
    depth = _number(fields, "depth", where)
    if not 0.0 <= depth <= 1.0:
        raise OutOfRangeError(
            f"{depth:g} is not a depth", f"{where}.depth", "0 is the iron's side, 1 the far side"
        )
    return ReadingPlace(names.index(name), depth)


def _time(value: object, where: str) -> float:
    number = _as_number(value, where)
    if number < 0.0:
        raise OutOfRangeError(f"{number:g} s is before the start", where, "give seconds from 0 on")
    return number


def _positive(value: object, where: str) -> float:
    number = _as_number(value, where)
    if number <= 0.0:
        raise OutOfRangeError(f"{number:g} is not above 0", where, "give a positive number")
    return number


def _number(fields: Mapping[str, object], key: str, where: str) -> float:
    return _as_number(_needed(fields, key, where), _path(where, key))


def _as_number(value: object, where: str) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise InputError(f"{_kind(value)} stands where a number belongs", where, "give a number")
    try:
        number = float(value)
    except OverflowError:
        number = math.inf
    if not math.isfinite(number):
        raise OutOfRangeError("the number is not finite", where, "give a finite number")
    return number


def _needed(fields: Mapping[str, object], key: str, where: str) -> object:
    if key not in fields:
        hint = BOUNDARY_HINT if key in ("top", "bottom") else f"add {key}"
        raise InputError(f"{key} is missing", _path(where, key), hint)
    return fields[key]


def _list(fields: Mapping[str, object], key: str, where: str) -> list[object]:
    value = _needed(fields, key, where)
    if not isinstance(value, list) or not value:
        found = "an empty list" if value == [] else _kind(value)
        raise InputError(
            f"{found} stands where a list belongs", _path(where, key), "give a list of one or more"
        )
    return value


def _mapping(value: object, where: str) -> Mapping[str, object]:
    if not isinstance(value, dict):
        raise InputError(f"{_kind(value)} stands where an object belongs", where, "give { ... }")
    return cast("Mapping[str, object]", value)


def _path(where: str, key: str) -> str:
    return f"{where}.{key}" if where else key


def _kind(value: object) -> str:
    if value is None:
        return "null"
    names = {bool: "true or false", str: "text", list: "a list", dict: "an object"}
    return names.get(type(value), "a number")
