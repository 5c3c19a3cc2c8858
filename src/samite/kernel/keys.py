"""Canonical JSON and content keys: the proof that two answers came from the same facts."""

from __future__ import annotations

import dataclasses
import hashlib
import json
from collections.abc import Mapping
from datetime import date, time
from enum import Enum


def canonical_json(value: object) -> str:
    """Return one JSON text for equal values, whatever their order of keys.

    Parameters
    ----------
    value : object
        Frozen dataclasses, mappings, sequences, enums, text and numbers.

    Returns
    -------
    str
        Sorted keys, no spaces, UTF-8 text.
    """
    return json.dumps(
        value,
        default=_plain,
        sort_keys=True,
        separators=(",", ":"),
        ensure_ascii=False,
        allow_nan=False,
    )


def content_key(value: object, function: str, tables: str = "") -> str:
    """Return the key of a computation.

    Parameters
    ----------
    value : object
        The inputs.
    function : str
        Name and version of the function, ``"choose_needle/1"``.
    tables : str
        Hash of the tables read.

    Returns
    -------
    str
        32 hexadecimal digits.
    """
    text = "\n".join((function, tables, canonical_json(value)))
    return hashlib.blake2b(text.encode(), digest_size=16).hexdigest()


def _plain(value: object) -> object:
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return {f.name: getattr(value, f.name) for f in dataclasses.fields(value)}
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, set | frozenset):
        return sorted(value)
    if isinstance(value, Mapping):
        return dict(value)
    if isinstance(value, date | time):
        return value.isoformat()
    raise TypeError(f"no canonical JSON for {type(value).__name__}")
