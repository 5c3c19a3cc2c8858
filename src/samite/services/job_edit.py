"""Changes of a job's file that leave every comment and line of it as it was."""

from __future__ import annotations

from collections.abc import Mapping, MutableMapping, Sequence
from datetime import date
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError

from samite.kernel.errors import InputError

Path = Sequence[str]
DAYS = (("due",), ("begin",))
LISTS = ("candidates", "facings", "fittings", "crosswise", "joined", "after", "widths")
DAY_LISTS = (("hours", "closed"),)
SWITCHES = {"yes": True, "true": True, "no": False, "false": False}
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
    document = parse_job(text)
    table = _section(document, path[:-1])
    key = path[-1]
    if not written.strip():
        if key not in table:
            return text
        table.pop(key)
        return tomlkit.dumps(document)
    value = _value(path, written.strip(), table.get(key))
    table[key] = value
    return tomlkit.dumps(document)


def set_values(text: str, path: Path, written: Mapping[str, str]) -> str:
    """Return the file with the values of a form set; those that are as they were stay untouched.

    Parameters
    ----------
    text : str
        The file.
    path : sequence of str
        The section.
    written : mapping of str to str
        By key, those in sections below parted by ``/``.

    Returns
    -------
    str
        The file.
    """
    before = raw_values(text)
    for name, value in written.items():
        whole = (*path, *name.split("/"))
        if value.strip() != shown(before, whole):
            text = set_value(text, _as_written(before, whole), value)
    return text


def _as_written(document: Mapping[str, Any], path: Path) -> Path:
    """Return the path of a key with a dot, which TOML reads as two where it is written bare."""
    head, _, rest = path[-1].partition(".")
    above: Any = document
    for name in path[:-1]:
        above = above.get(name) if isinstance(above, Mapping) else None
    bare = isinstance(above, Mapping) and isinstance(above.get(head), Mapping)
    return (*path[:-1], head, rest) if rest and bare else path


def raw_values(text: str) -> dict[str, Any]:
    """Return what stands in a file, right or wrong.

    Parameters
    ----------
    text : str
        The file.

    Returns
    -------
    dict of str to object
        Sections and values; empty if the file is no TOML.
    """
    try:
        return dict(tomlkit.parse(text).unwrap())
    except (TOMLKitError, RecursionError):
        return {}


def shown(document: Mapping[str, Any], path: Path) -> str:
    """Return a value as a form shows it.

    Parameters
    ----------
    document : mapping of str to object
        What stands in the file.
    path : sequence of str
        Sections and key; a key with a dot is found below a table too, as TOML reads it bare.

    Returns
    -------
    str
        Empty if it is not there or is a section.
    """
    found: Any = document
    for name in _as_written(document, path):
        found = found.get(name) if isinstance(found, Mapping) else None
    if isinstance(found, bool):
        return "yes" if found else "no"
    if isinstance(found, list):
        return "; ".join(str(one) for one in found)
    return "" if found is None or isinstance(found, Mapping) else str(found)


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
    document = parse_job(text)
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
    document = parse_job(text)
    parent = _section(document, path[:-1])
    if name in parent:
        raise InputError(f"there is a {name} already", ".".join(path), "take another name")
    section = tomlkit.table()
    for key, value in values.items():
        if value.strip():
            section[key] = _value((*path, key), value.strip(), None)
    parent[name] = section
    return tomlkit.dumps(document)


def parse_job(text: str) -> Any:
    """Return a job's file so that it can be changed and written again.

    Parameters
    ----------
    text : str
        The file.

    Returns
    -------
    object
        Its document, comments and all.

    Raises
    ------
    InputError
        If the file is no TOML.
    """
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
        return _day(written)
    if tuple(path) in DAY_LISTS:
        return [_day(part.strip()) for part in written.split(";") if part.strip()]
    if tuple(path) == ("stock",):
        return SWITCHES.get(written.casefold(), written)
    if isinstance(before, list) or path[-1] in LISTS:
        return [part.strip() for part in written.split(";") if part.strip()]
    if path[-1] in ("copies", "count"):
        return int(written) if written.isascii() and written.isdigit() else written
    if isinstance(before, int | float) and not isinstance(before, bool):
        return _number(written)
    return written


def _day(written: str) -> date | str:
    try:
        return date.fromisoformat(written)
    except ValueError:
        return written


def _number(written: str) -> Any:
    try:
        number = float(written.replace(",", "."))
    except ValueError:
        return written
    return int(number) if number.is_integer() else number
