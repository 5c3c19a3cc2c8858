"""Changes of a job's file that leave every comment and line of it as it was."""

from __future__ import annotations

from collections.abc import MutableMapping, Sequence
from datetime import date
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError

from samite.kernel.errors import InputError

Path = Sequence[str]
DAYS = (("due",), ("begin",))
LISTS = ("candidates", "facings", "fittings", "crosswise", "joined", "after")
NAME = "abcdefghijklmnopqrstuvwxyz0123456789-_"


def set_value(text: str, path: Path, written: str) -> str:
    """Return the file with one value set; an empty one is taken out.

    Parameters
    ----------
    text : str
        The file.
    path : sequence of str
        Sections and key; sections that are not there are made.
    written : str
        The value as a person writes it.

    Returns
    -------
    str
        The file.

    Raises
    ------
    InputError
        If the file is no TOML, or a value stands where a section belongs.
    """
    document = _parse(text)
    table = _section(document, path[:-1])
    key = path[-1]
    if not written.strip():
        table.pop(key, None)
        return tomlkit.dumps(document)
    value = _value(path, written.strip(), table.get(key))
    table[key] = value
    return tomlkit.dumps(document)


def take_out(text: str, path: Path) -> str:
    """Return the file without a section or a key.

    Parameters
    ----------
    text : str
        The file.
    path : sequence of str
        Sections and key.

    Returns
    -------
    str
        The file.

    Raises
    ------
    InputError
        If the file is no TOML, or there is no such thing.
    """
    document = _parse(text)
    table = _section(document, path[:-1], make=False)
    if path[-1] not in table:
        raise InputError(f"there is no {'.'.join(path)}", ".".join(path), "nothing was changed")
    table.pop(path[-1])
    return tomlkit.dumps(document)


def add_section(text: str, path: Path, values: dict[str, str]) -> str:
    """Return the file with a new section.

    Parameters
    ----------
    text : str
        The file.
    path : sequence of str
        Names of the section, the last one new.
    values : dict of str to str
        What it begins with.

    Returns
    -------
    str
        The file.

    Raises
    ------
    InputError
        If the name cannot be one, or is there already.
    """
    name = path[-1]
    if not name or set(name) - set(NAME):
        raise InputError(
            f"{name[:40]!r} is no name for a section", ".".join(path), "use letters, digits and -"
        )
    document = _parse(text)
    parent = _section(document, path[:-1])
    if name in parent:
        raise InputError(f"there is a {name} already", ".".join(path), "take another name")
    section = tomlkit.table()
    for key, value in values.items():
        if value.strip():
            section[key] = _value((*path, key), value.strip(), None)
    parent[name] = section
    return tomlkit.dumps(document)


def _parse(text: str) -> Any:
    try:
        return tomlkit.parse(text)
    except (TOMLKitError, RecursionError) as error:
        raise InputError(
            f"the file is no TOML: {str(error)[:160]}", "the file", "mend it as text first"
        ) from None


def _section(document: Any, path: Path, *, make: bool = True) -> MutableMapping[str, Any]:
    table = document
    for depth, name in enumerate(path):
        if name not in table:
            if not make:
                raise InputError(
                    f"there is no {'.'.join(path)}", ".".join(path), "nothing was changed"
                )
            table[name] = tomlkit.table(is_super_table=depth < len(path) - 1)
        table = table[name]
        if not isinstance(table, MutableMapping):
            raise InputError(f"{name} is a value, not a section", ".".join(path), "mend the file")
    found: MutableMapping[str, Any] = table
    return found


def _value(path: Path, written: str, before: object) -> Any:
    """Return a value of the kind that stood there, or that belongs there."""
    if tuple(path) in DAYS or isinstance(before, date) or path[:2] == ("hours", "fittings"):
        try:
            return date.fromisoformat(written)
        except ValueError:
            return written
    if isinstance(before, list) or path[-1] in LISTS:
        return [part.strip() for part in written.split(";") if part.strip()]
    if path[-1] in ("copies", "count"):
        return int(written) if written.isascii() and written.isdigit() else written
    if isinstance(before, int | float) and not isinstance(before, bool):
        return _number(written)
    return written


def _number(written: str) -> Any:
    try:
        number = float(written.replace(",", "."))
    except ValueError:
        return written
    return int(number) if number.is_integer() else number
