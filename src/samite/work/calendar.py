"""Sessions as a line of time: how much is left, and from which moment on a margin stays free."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta

from samite.work.problem import Maker, Session


def session_minutes(sessions: Sequence[Session], *, since: datetime, until: datetime) -> float:
    """Return the time of sessions between two moments.

    Parameters
    ----------
    sessions : sequence of Session
        Of any makers.
    since : datetime
        From.
    until : datetime
        To.

    Returns
    -------
    float
        Time, that of every maker counted [min].

    Notes
    -----
    Two makers at the same time count twice.

    References
    ----------
    ``definition``: length of intervals.
    """
    total = 0.0
    for one in sessions:
        begin, end = max(one.begin, since), min(one.end, until)
        total += max((end - begin).total_seconds() / 60.0, 0.0)
    return total


def moment_before(makers: Sequence[Maker], *, due: datetime, free_min: float) -> datetime:
    """Return the moment after which a stated time of the sessions is left before a day.

    Parameters
    ----------
    makers : sequence of Maker
        All of them; helpers do not count.
    due : datetime
        The day.
    free_min : float
        Time of sessions to stay free [min].

    Returns
    -------
    datetime
        No later than `due`; the begin of the first session if there is not so much.

    Notes
    -----
    Whose sessions the margin lies in is not asked.

    References
    ----------
    ``definition``: length of intervals.
    """
    sessions = [one for maker in makers if not maker.helper for one in maker.sessions]
    cuts = sorted({min(edge, due) for one in sessions for edge in (one.begin, one.end)})
    left, last = free_min, due
    if left <= 0.0:
        return due
    for begin in reversed(cuts):
        inside = session_minutes(sessions, since=begin, until=last)
        if inside >= left:
            makers_there = inside / max((last - begin).total_seconds() / 60.0, 1e-9)
            return last - timedelta(minutes=left / makers_there)
        left, last = left - inside, begin
    return last
