"""TOML with the line of every key."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from typing import Any

from samite.readers.problem import Problem

Path = tuple[str, ...]

LONGEST = 20_000
"""Characters that are read."""

_AT_LINE = re.compile(r" *\(at line (\d+), column \d+\)")
_SECTION = re.compile(r"\s*(\[.*\])\s*(?:#.*)?$")
_KEY = re.compile(r"""\s*((?:"[^"]*"|'[^']*'|[^=#"'\[\]])+?)\s*=""")


def read_toml_text(
    text: str, longest: int = LONGEST, start: str = "docs/faces/iron.md"
) -> tuple[Mapping[str, Any], Mapping[Path, int], list[Problem]]:
    """Read TOML and find the line of every key.

    Parameters
    ----------
    text : str
        The text; a byte order mark is passed over.
    longest : int
        Characters that are read at most [1].
    start : str
        Page that shows such a file.

    Returns
    -------
    mapping of str to object
        The document; empty if it cannot be read.
    mapping of tuple of str to int
        Line of each section and key.
    list of Problem
        Why it cannot be read; empty if it can.
    """
    text = text.removeprefix("\ufeff")
    if len(text) > longest:
        what = f"{len(text)} characters are too many: {longest} are read"
        return {}, {}, [Problem(1, "the file", what, f"keep only what {start} shows")]
    if not text.strip():
        return {}, {}, [Problem(1, "the file", "it is empty", f"start from {start}")]
    try:
        return tomllib.loads(text), _lines_of(text), []
    except ValueError as error:
        found = _AT_LINE.search(str(error))
        what = "it is no TOML: " + _AT_LINE.sub("", str(error))[:200]
        line = int(found[1]) if found else text.count("\n") + 1
        mend = 'write key = value, text in "quotes", sections in [brackets]'
        return {}, {}, [Problem(line, "the file", what, mend)]
    except RecursionError:
        return {}, {}, [Problem(1, "the file", "it is nested far too deep", "write it flat")]


def line_of(lines: Mapping[Path, int], path: Path) -> int:
    """Return the line of a key, or of the nearest section around it.

    Parameters
    ----------
    lines : mapping of tuple of str to int
        From `read_toml_text`.
    path : tuple of str
        Sections and key.

    Returns
    -------
    int
        From 1; 0 if nothing around it has a line.
    """
    while path:
        if path in lines:
            return lines[path]
        path = path[:-1]
    return lines.get((), 0)


def _lines_of(text: str) -> dict[Path, int]:
    lines: dict[Path, int] = {(): 1}
    section: Path = ()
    for number, line in enumerate(text.splitlines(), start=1):
        head, key = _SECTION.match(line), _KEY.match(line)
        if head:
            section = _only_path(head[1]) or section
            lines.setdefault(section, number)
        elif key:
            lines.setdefault((*section, *_only_path(f"{key[1]} = 0")), number)
    return lines


def _only_path(line: str) -> Path:
    """Return the path that one line of TOML opens; empty if it is none."""
    try:
        inner: Any = tomllib.loads(line)
    except ValueError:
        return ()
    path: list[str] = []
    while isinstance(inner, dict) and inner:
        name = next(iter(inner))
        path.append(name)
        inner = inner[name]
        inner = inner[0] if isinstance(inner, list) and inner else inner
    return tuple(path)
