"""A moment as a person writes it."""

from __future__ import annotations

from datetime import datetime

from samite.kernel.errors import InputError


def read_moment(text: str) -> datetime:
    """Return a moment.

    Parameters
    ----------
    text : str
        ``"2031-03-14 18:00"``.

    Returns
    -------
    datetime
        In the time of the workroom.

    Raises
    ------
    InputError
        If it cannot be read.
    """
    try:
        return datetime.fromisoformat(text.strip()).replace(tzinfo=None)
    except ValueError:
        raise InputError(f"{text[:40]!r} is no moment", "now", 'write "2031-03-14 18:00"') from None
