"""The printed slip of the work order, with boxes to tick, set by typst."""

from __future__ import annotations

from dataclasses import asdict, dataclass

from samite.sheets.page import typeset


@dataclass(frozen=True, slots=True)
class SlipRow:
    """One line of the slip.

    Parameters
    ----------
    time : str
        When it begins.
    name : str
        The operation.
    set : str
        What to set before it.
    note : str
        Why it is here, and what to mind.
    minutes : str
        How long it takes.
    """

    time: str
    name: str
    set: str
    note: str
    minutes: str


@dataclass(frozen=True, slots=True)
class SlipSession:
    """One session on the slip.

    Parameters
    ----------
    title : str
        Day, hours and maker.
    rows : tuple of SlipRow
        Its lines.
    """

    title: str
    rows: tuple[SlipRow, ...]


@dataclass(frozen=True, slots=True)
class Slip:
    """The whole slip.

    Parameters
    ----------
    title : str
        Name of the job.
    summary : str
        When it ends and what it takes.
    warnings : tuple of str
        What to know before anything else.
    sessions : tuple of SlipSession
        In order.
    ways_out : tuple of str
        If the day cannot be kept.
    footnote : str
        How well the numbers are known.
    """

    title: str
    summary: str
    warnings: tuple[str, ...]
    sessions: tuple[SlipSession, ...]
    ways_out: tuple[str, ...]
    footnote: str


def print_slip(slip: Slip, paper: str = "a4") -> bytes:
    """Set the slip.

    Parameters
    ----------
    slip : Slip
        What it says.
    paper : str
        ``a4`` or ``us-letter``.

    Returns
    -------
    bytes
        PDF/UA-1, the same for the same arguments.

    Raises
    ------
    UnknownNameError
        If the paper is not known.
    """
    return typeset(("work_slip.typ",), {"paper": paper, **asdict(slip)})


def minutes_shown(low: float, high: float) -> str:
    """Return a range of minutes, short.

    Parameters
    ----------
    low, high : float
        Ends of the range [min].

    Returns
    -------
    str
        ``"12–27"``.
    """
    first, last = round(low), round(high)
    return f"{first}–{last}" if first != last else f"{first}"
