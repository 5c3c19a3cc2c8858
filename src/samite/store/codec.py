"""Frozen values as plain JSON and back, strictly: nothing unknown, nothing of a wrong kind."""

from __future__ import annotations

import dataclasses
import math
import types
import typing
from datetime import date
from enum import Enum
from functools import cache
from typing import Any, TypeVar

from samite.kernel.errors import InputError, SamiteError

T = TypeVar("T")


def to_plain(value: object) -> Any:
    """Return a frozen value as what JSON can say.

    Parameters
    ----------
    value : object
        A frozen dataclass of numbers, texts, dates, enums, tuples and the like.

    Returns
    -------
    object
        Mappings, lists, texts, numbers and None.
    """
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return {
            item.name: to_plain(getattr(value, item.name)) for item in dataclasses.fields(value)
        }
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, tuple):
        return [to_plain(item) for item in value]
    return value


def from_plain(value_type: type[T], plain: object, where: str = "") -> T:
    """Return the frozen value that plain JSON stands for.

    Parameters
    ----------
    value_type : type
        A frozen dataclass.
    plain : object
        A mapping with a key a field; a field with a default may be missing.
    where : str
        What the mapping is, for the error.

    Returns
    -------
    object
        An instance of `value_type`, checked by its own rules.

    Raises
    ------
    InputError
        If a key is unknown or missing, or a value is of a wrong kind.
    """
    if not isinstance(plain, dict):
        raise _wrong(plain, value_type.__name__, where)
    kind: Any = value_type
    hints = _hints(kind)
    unknown = sorted(str(name) for name in plain if name not in hints)
    if unknown:
        raise InputError(f"{unknown[0][:40]!r} is unknown here", where, "leave it out")
    missing = [name for name in _required(kind) if name not in plain]
    if missing:
        raise InputError(f"{missing[0]} is missing", where, "give it")
    values = {
        name: _read(hints[name], item, f"{where}.{name}" if where else name)
        for name, item in plain.items()
    }
    try:
        return value_type(**values)
    except SamiteError as error:
        place = ".".join(filter(None, (where, error.where)))
        raise InputError(error.message, place, error.hint) from None


@cache
def _hints(cls: Any) -> dict[str, Any]:
    return typing.get_type_hints(cls)


@cache
def _required(cls: Any) -> tuple[str, ...]:
    return tuple(
        item.name for item in dataclasses.fields(cls) if item.default is dataclasses.MISSING
    )


def _read(hint: Any, plain: object, where: str) -> Any:
    if isinstance(hint, types.UnionType):
        kind = next(item for item in hint.__args__ if item is not type(None))
        return None if plain is None else _read(kind, plain, where)
    if typing.get_origin(hint) is tuple:
        return _read_list(typing.get_args(hint)[0], plain, where)
    if dataclasses.is_dataclass(hint):
        return from_plain(typing.cast("type[Any]", hint), plain, where)
    if isinstance(hint, type) and issubclass(hint, Enum):
        return _read_choice(hint, plain, where)
    if hint is date:
        return _read_date(plain, where)
    return _read_simple(hint, plain, where)


def _read_list(hint: Any, plain: object, where: str) -> tuple[Any, ...]:
    if not isinstance(plain, list):
        raise _wrong(plain, "list", where)
    return tuple(_read(hint, item, f"{where}[{place}]") for place, item in enumerate(plain))


def _read_choice(hint: type[Enum], plain: object, where: str) -> Enum:
    try:
        return hint(plain)
    except ValueError:
        known = ", ".join(str(item.value) for item in hint)
        raise InputError(f"{str(plain)[:40]!r} is none of {known}", where, "choose one") from None


def _read_date(plain: object, where: str) -> date:
    try:
        return date.fromisoformat(plain) if isinstance(plain, str) else date.fromisoformat("")
    except ValueError:
        raise InputError(
            f"{str(plain)[:40]!r} is no date", where, "write it as 2031-02-03"
        ) from None


def _read_simple(hint: Any, plain: object, where: str) -> Any:
    if hint is float and isinstance(plain, int) and not isinstance(plain, bool):
        plain = float(plain) if abs(plain) < 2**53 else plain
    if type(plain) is not hint or (isinstance(plain, float) and not math.isfinite(plain)):
        raise _wrong(plain, hint.__name__, where)
    if isinstance(plain, str) and "\x00" in plain:
        raise InputError("a text holds a zero byte", where, "leave it out")
    return plain


KIND_WORDS = {"str": "text", "int": "whole number", "float": "number", "bool": "true or false"}
"""Kinds of plain values in words."""


def _wrong(plain: object, kind: str, where: str) -> InputError:
    wanted = KIND_WORDS.get(kind, kind)
    return InputError(f"{str(plain)[:40]!r} is no {wanted}", where, f"give a {wanted}")
