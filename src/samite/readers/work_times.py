"""Moments and sessions as a person writes them."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from datetime import date, datetime, time, timedelta
from typing import Any

from samite.readers.fields import Fields
from samite.readers.toml_text import Path
from samite.work.problem import Session

DAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
OPEN_ENDED = timedelta(days=182)
"""How far weekly sessions go on where no day is set."""

MOST_SESSIONS = 400
_SPAN = re.compile(r"(\d{1,2}:\d{2})\s*(?:-|–|to)\s*(\d{1,2}:\d{2})\s*$")


def moment_in(fields: Fields, table: Mapping[str, Any], path: Path) -> datetime | None:
    """Return a moment.

    Parameters
    ----------
    fields : Fields
        Keeps what is wrong.
    table : mapping of str to object
        The section.
    path : tuple of str
        Sections and key.

    Returns
    -------
    datetime or None
        In the time of the workroom; a day alone is its begin. None if it is not given or wrong.
    """
    value = table.get(path[-1])
    if value is None:
        return None
    found = _moment(value)
    if found is None:
        what = f"{str(value)[:40]!r} is no moment"
        fields.wrong(path, what, 'write "2031-03-14 18:00"')
    return found


def _moment(value: object) -> datetime | None:
    if isinstance(value, datetime):
        return value.replace(tzinfo=None)
    if isinstance(value, date):
        return datetime.combine(value, time())
    if not isinstance(value, str):
        return None
    try:
        return datetime.fromisoformat(value.strip()).replace(tzinfo=None)
    except ValueError:
        return None


def read_sessions(
    fields: Fields, item: Mapping[str, Any], path: Path, start: datetime, due: datetime | None
) -> tuple[Session, ...]:
    """Return the sessions of a maker.

    Parameters
    ----------
    fields : Fields
        Keeps what is wrong.
    item : mapping of str to object
        The maker's section, with ``sessions`` or ``weekly``.
    path : tuple of str
        Where it is.
    start : datetime
        Now.
    due : datetime or None
        The day; weekly sessions go on to it.

    Returns
    -------
    tuple of Session
        Those that can be read, also if they end before they begin.
    """
    found = []
    for text in _texts(fields, item, (*path, "sessions")):
        session = _session(text)
        if session is None:
            mend = 'write "2031-03-03 18:00-21:00"'
            fields.wrong((*path, "sessions"), f"{text[:40]!r} is no session", mend)
        else:
            found.append(session)
    since = moment_in(fields, item, (*path, "since")) or start
    until = moment_in(fields, item, (*path, "until")) or due or since + OPEN_ENDED
    closed = _closed(fields, item, path)
    for text in _texts(fields, item, (*path, "weekly")):
        weekly = _weekly(text, since, until)
        if weekly is None:
            mend = 'write "tuesday 18:00-21:00"'
            fields.wrong((*path, "weekly"), f"{text[:40]!r} is no day with hours", mend)
        else:
            found += [one for one in weekly if one.begin.date() not in closed]
    if not found and not {"sessions", "weekly"} & set(item):
        fields.wrong(path, "there are no sessions", 'write sessions = ["2031-03-03 18:00-21:00"]')
    return tuple(sorted(found[:MOST_SESSIONS], key=lambda one: one.begin))


def _closed(fields: Fields, item: Mapping[str, Any], path: Path) -> set[date]:
    """Return the days on which weekly sessions fall out."""
    found = set()
    for value in item.get("closed", []) if isinstance(item.get("closed", []), list) else [""]:
        day = _moment(value)
        if day is None:
            fields.wrong((*path, "closed"), f"{str(value)[:40]!r} is no day", 'write "2031-03-04"')
        else:
            found.add(day.date())
    return found


def _texts(fields: Fields, item: Mapping[str, Any], path: Path) -> list[str]:
    found = item.get(path[-1], [])
    listed = isinstance(found, Sequence) and not isinstance(found, str)
    if listed and all(isinstance(one, str) for one in found):
        return list(found)
    fields.wrong(path, f"{path[-1]} is a list of texts", f'write {path[-1]} = ["..."]')
    return []


def _session(text: str) -> Session | None:
    hours = _SPAN.search(text)
    if not hours:
        return None
    day = _moment(text[: hours.start()].strip())
    return _of_day(day.date(), hours[1], hours[2]) if day else None


def _of_day(day: date, begin: str, end: str) -> Session | None:
    try:
        first, last = (_clock(day, text) for text in (begin, end))
    except ValueError:
        return None
    return Session(first, last)


def _clock(day: date, text: str) -> datetime:
    hours, minutes = (int(part) for part in text.split(":"))
    if hours == 24 and minutes == 0:
        return datetime.combine(day + timedelta(days=1), time())
    return datetime.combine(day, time(hours, minutes))


def _weekly(text: str, since: datetime, until: datetime) -> list[Session] | None:
    hours = _SPAN.search(text)
    word = text[: hours.start()].strip().casefold() if hours else ""
    days = [k for k, name in enumerate(DAYS) if len(word) >= 2 and name.startswith(word)]
    if not hours or len(days) != 1:
        return None
    day = since.date() + timedelta(days=(days[0] - since.weekday()) % 7)
    found: list[Session] = []
    while datetime.combine(day, time()) <= until and len(found) < MOST_SESSIONS:
        session = _of_day(day, hours[1], hours[2])
        if session is None:
            return None
        found.append(session)
        day += timedelta(days=7)
    return found
