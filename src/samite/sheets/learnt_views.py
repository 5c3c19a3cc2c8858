"""What the drawings of learning show."""

from __future__ import annotations

from dataclasses import dataclass

from samite.sheets.views import Span


@dataclass(frozen=True, slots=True)
class LearntCurve:
    """One technique as it was believed, before or after.

    Parameters
    ----------
    name : str
        ``before`` or ``after``, in words.
    seconds : tuple of float
        Seconds counted [s].
    chance_set : tuple of float
        Chance of a set seam [-].
    chance_damage : tuple of float
        Chance of harm on the whole costume [-].
    window_s : tuple of (float, float) or None
        Shortest and longest time that meets both wishes [s].
    """

    name: str
    seconds: tuple[float, ...]
    chance_set: tuple[float, ...]
    chance_damage: tuple[float, ...]
    window_s: tuple[float, float] | None


@dataclass(frozen=True, slots=True)
class LearntPair:
    """The two side by side.

    Parameters
    ----------
    technique : str
        In words.
    swatches : str
        How many swatches lie between, in words.
    before : LearntCurve
        From the tables.
    after : LearntCurve
        With the swatches.
    """

    technique: str
    swatches: str
    before: LearntCurve
    after: LearntCurve


@dataclass(frozen=True, slots=True)
class MovedBar:
    """One doubt, before and after.

    Parameters
    ----------
    name : str
        Its name.
    unit : str
        Its unit, as set in type.
    before, after : tuple of (float, float, float)
        5th, 50th and 95th percentile, in `unit`.
    """

    name: str
    unit: str
    before: Span
    after: Span
