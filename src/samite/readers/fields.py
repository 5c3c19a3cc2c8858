"""Values of a document, each checked, every problem kept."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Mapping
from typing import Any

from samite.kernel.errors import InputError
from samite.kernel.units import parse_quantity
from samite.readers.problem import Problem
from samite.readers.toml_text import Path, line_of
from samite.tables.close_names import suggest

LONGEST_TEXT = 80
"""Characters of a name or of a number with its unit."""

_STEAM = re.compile(r"\s*g\s*/\s*min\.?\s*$", re.IGNORECASE)


class Fields:
    """Takes values out of a document and keeps what is wrong with them.

    Parameters
    ----------
    lines : mapping of tuple of str to int
        Line of each key; empty where there is no file.
    """

    def __init__(self, lines: Mapping[Path, int]) -> None:
        self._lines = lines
        self.problems: list[Problem] = []

    def wrong(self, path: Path, what: str, mend: str) -> None:
        """Keep a problem.

        Parameters
        ----------
        path : tuple of str
            Sections and key.
        what : str
            What is wrong.
        mend : str
            How to mend it.
        """
        self.problems.append(Problem(line_of(self._lines, path), ".".join(path), what, mend))

    def check_keys(self, table: Mapping[str, Any], path: Path, known: Iterable[str]) -> None:
        """Refuse keys that mean nothing.

        Parameters
        ----------
        table : mapping of str to object
            A section.
        path : tuple of str
            Where it is.
        known : iterable of str
            Keys that mean something there.
        """
        names = list(known)
        for key in table:
            if key not in names:
                close = suggest(key, names)
                mend = f"did you mean {' or '.join(close)}?" if close else "leave it out"
                what = f"{key[:LONGEST_TEXT]!r} means nothing here; known: {', '.join(names)}"
                self.wrong((*path, key), what, mend)

    def section(self, document: Mapping[str, Any], name: str) -> Mapping[str, Any]:
        """Return a section, empty if it is not there.

        Parameters
        ----------
        document : mapping of str to object
            The whole.
        name : str
            Its name.

        Returns
        -------
        mapping of str to object
            What it holds.
        """
        found = document.get(name, {})
        if isinstance(found, Mapping):
            return found
        head = '[dial."wool or silk"]' if name == "dial" else f"[{name}]"
        self.wrong((name,), f"{name} is a section, not a value", f"write {head} above its keys")
        return {}

    def text(self, table: Mapping[str, Any], path: Path, default: str) -> str:
        """Return a short text.

        Parameters
        ----------
        table : mapping of str to object
            The section.
        path : tuple of str
            Sections and key.
        default : str
            What stands where it is not given.

        Returns
        -------
        str
            One line; the default too where it is wrong.
        """
        if path[-1] not in table:
            return default
        found = table[path[-1]]
        if not isinstance(found, str) or not found.strip():
            self.wrong(path, f"{_shown(found)} is no text", 'write words in "quotes"')
            return default
        plain = " ".join("".join(c if c.isprintable() else " " for c in found).split())
        if len(plain) > LONGEST_TEXT:
            self.wrong(path, f"{len(plain)} characters are too many", f"keep to {LONGEST_TEXT}")
        return plain[:LONGEST_TEXT]

    def number(self, value: Any, path: Path, unit: str) -> float | None:
        """Return a number, given bare or as a text with its unit.

        Parameters
        ----------
        value : object
            What was written.
        path : tuple of str
            Sections and key.
        unit : str
            Unit of the result, and of a bare number.

        Returns
        -------
        float or None
            The number; None where it is wrong, which is then kept.
        """
        mend = f"write a number in {unit.removeprefix('delta ')}, or text with its unit"
        if isinstance(value, str):
            return self._read(value, path, unit, mend)
        if isinstance(value, bool) or not isinstance(value, int | float):
            self.wrong(path, f"{_shown(value)} is no number", mend)
            return None
        try:
            found = float(value)
        except OverflowError:
            found = math.inf
        if not math.isfinite(found):
            self.wrong(path, "that is no finite number", mend)
            return None
        return found

    def _read(self, text: str, path: Path, unit: str, mend: str) -> float | None:
        try:
            if len(text) > LONGEST_TEXT:
                raise InputError("that is too long for a number", "", mend)
            steam = unit == "g/min"
            found = float(_STEAM.sub("", text)) if steam else parse_quantity(text, unit)
        except InputError as error:
            self.wrong(path, error.message, error.hint)
            return None
        except ValueError:
            self.wrong(path, f"{text!r} is no number of g/min", mend)
            return None
        if math.isfinite(found):
            return found
        self.wrong(path, f"{text!r} is no finite number", mend)
        return None

    def within(
        self, value: Any, path: Path, unit: str, limits: tuple[float, float]
    ) -> float | None:
        """Return a number that lies within limits.

        Parameters
        ----------
        value : object
            What was written.
        path : tuple of str
            Sections and key.
        unit : str
            Unit of the result, of a bare number and of the limits.
        limits : tuple of (float, float)
            Smallest and largest possible number.

        Returns
        -------
        float or None
            The number; None where it is wrong, which is then kept.
        """
        found = self.number(value, path, unit)
        low, high = limits
        if found is None or low <= found <= high:
            return found
        shown = unit.removeprefix("delta ")
        what = f"{found:g} {shown} is impossible: {low:g} to {high:g} {shown} can be"
        self.wrong(path, what, "measure or read it again; mind the unit")
        return None

    def truth(self, table: Mapping[str, Any], path: Path, default: bool) -> bool:
        """Return yes or no.

        Parameters
        ----------
        table : mapping of str to object
            The section.
        path : tuple of str
            Sections and key.
        default : bool
            What stands where it is not given.

        Returns
        -------
        bool
            The default too where it is wrong.
        """
        found = table.get(path[-1], default)
        if isinstance(found, bool):
            return found
        self.wrong(path, f"{_shown(found)} is neither true nor false", "write true or false")
        return default


def _shown(value: object) -> str:
    text = repr(value) if not isinstance(value, int) or abs(value) < 10**30 else "that number"
    return text if len(text) <= LONGEST_TEXT else text[:LONGEST_TEXT] + "..."
