"""Values that only a project file holds: days, sessions, prices, lists and tables of words."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date, datetime, time
from typing import Any

from samite.kernel.unit_table import YARD_M
from samite.readers.fields import Fields
from samite.readers.toml_text import Path

_SESSION = re.compile(r"(\d{1,2})[:.](\d{2})\s*(?:-|–|to)\s*(\d{1,2})[:.](\d{2})")
_PRICE = re.compile(r"[^\d.,-]*(\d+(?:[.,]\d{1,4})?)\s*[^\d/]*(?:/\s*(m|yd|metre|meter|yard))?\s*")
MOST_MONEY = 1e7


class ProjectFields(Fields):
    """Takes values out of a project file and keeps what is wrong with them."""

    def day(self, value: Any, path: Path) -> date | None:
        """Return a day.

        Parameters
        ----------
        value : object
            What was written: a date, or text in its form.
        path : tuple of str
            Sections and key.

        Returns
        -------
        date or None
            None where it is wrong, which is then kept.
        """
        if isinstance(value, datetime):
            return value.date()
        if isinstance(value, date):
            return value
        try:
            return date.fromisoformat(str(value).strip())
        except ValueError:
            self.wrong(path, f"{str(value)[:40]!r} is no day", "write year-month-day: 2027-02-02")
            return None

    def session(self, value: Any, path: Path) -> tuple[time, time] | None:
        """Return begin and end of a session.

        Parameters
        ----------
        value : object
            What was written, ``"19:00-21:30"``.
        path : tuple of str
            Sections and key.

        Returns
        -------
        tuple of (time, time) or None
            None where it is wrong, which is then kept.
        """
        found = _SESSION.fullmatch(str(value).strip())
        try:
            if not found:
                raise ValueError(value)
            hours = [int(part) for part in found.groups()]
            begin, end = time(hours[0], hours[1]), time(hours[2], hours[3])
        except ValueError:
            self.wrong(path, f"{str(value)[:40]!r} is no session", 'write "19:00-21:30"')
            return None
        if end <= begin:
            self.wrong(path, "the session ends before it begins", "swap begin and end")
            return None
        return begin, end

    def money(self, value: Any, path: Path) -> float | None:
        """Return an amount of money, of a metre where a yard is meant.

        Parameters
        ----------
        value : object
            What was written: a number, or text like ``"14.90/m"`` or ``"9.99/yd"``.
        path : tuple of str
            Sections and key.

        Returns
        -------
        float or None
            None where it is wrong, which is then kept [currency].
        """
        found = None if isinstance(value, bool) else _PRICE.fullmatch(str(value).strip())
        amount = float(found[1].replace(",", ".")) if found else -1.0
        if not found or not 0.0 <= amount <= MOST_MONEY:
            self.wrong(path, f"{str(value)[:40]!r} is no price", 'write 14.90, or "14.90/m"')
            return None
        return amount / YARD_M if found[2] in ("yd", "yard") else amount

    def words(self, value: Any, path: Path) -> tuple[str, ...]:
        """Return a list of words.

        Parameters
        ----------
        value : object
            What was written.
        path : tuple of str
            Sections and key.

        Returns
        -------
        tuple of str
            Empty where it is wrong, which is then kept.
        """
        if isinstance(value, str):
            return (value,)
        if isinstance(value, list) and all(isinstance(one, str) for one in value):
            return tuple(value)
        self.wrong(path, "that is no list of words", 'write ["one", "two"]')
        return ()

    def written(self, value: Any, path: Path) -> dict[str, str]:
        """Return a table of words or numbers as they were written.

        Parameters
        ----------
        value : object
            What was written.
        path : tuple of str
            Sections and key.

        Returns
        -------
        dict of str to str
            Without what is wrong, which is then kept.
        """
        if not isinstance(value, Mapping):
            self.wrong(path, "that is no table", 'write { waist_girth = "70 cm" }')
            return {}
        found: dict[str, str] = {}
        for key, text in _flat(value):
            if isinstance(text, bool) or not isinstance(text, str | int | float):
                self.wrong((*path, key), f"{key} is neither text nor number", 'write "70 cm"')
            else:
                found[key] = str(text)
        return found

    def count(self, value: Any, path: Path) -> int:
        """Return how many.

        Parameters
        ----------
        value : object
            What was written.
        path : tuple of str
            Sections and key.

        Returns
        -------
        int
            1 where it is wrong, which is then kept [1].
        """
        if isinstance(value, int) and not isinstance(value, bool) and 1 <= value <= 1000:
            return value
        self.wrong(path, f"{str(value)[:40]} is no number of copies", "write 1 to 1000")
        return 1


def _flat(table: Mapping[str, Any]) -> list[tuple[str, Any]]:
    """Return pairs; ``bust_height.left`` written bare is a table in a table."""
    pairs: list[tuple[str, Any]] = []
    for key, value in table.items():
        if isinstance(value, Mapping):
            pairs += [(f"{key}.{inner}", one) for inner, one in value.items()]
        else:
            pairs.append((key, value))
    return pairs
