"""What stands at the bench: irons with their measured dials, and boards."""

from __future__ import annotations

from dataclasses import dataclass
from statistics import fmean

from samite.kernel.errors import InputError
from samite.kernel.ranges import require_between

DIALS = ("low", "medium", "high")
"""Dial positions that can be measured."""

SOLE_RANGE_C = (20.0, 260.0)
"""Coolest and hottest sole of a household iron that is believed [C]."""

STRIP_RANGE_C = (20.0, 320.0)
"""Marks that a strip for irons can have [C]."""


def require_words(**texts: str) -> None:
    """Refuse texts that say nothing.

    Parameters
    ----------
    **texts : str
        Texts by the name of their parameter.

    Raises
    ------
    InputError
        Naming the first that is empty.
    """
    for name, text in texts.items():
        if not text.strip():
            raise InputError(f"{name} is empty", name, "write a word or two")


@dataclass(frozen=True, slots=True)
class StripReading:
    """What a temperature strip on foil showed: the hottest that it has been.

    Parameters
    ----------
    above_c : float
        Highest mark that has turned [C].
    below_c : float
        Lowest mark that has not [C].

    Raises
    ------
    InputError
        If the marks are not in order.
    """

    above_c: float
    below_c: float

    def __post_init__(self) -> None:
        require_between(*STRIP_RANGE_C, above_c=self.above_c, below_c=self.below_c)
        if self.above_c >= self.below_c:
            raise InputError(
                f"a mark at {self.above_c:g} C has turned and one at {self.below_c:g} C has not",
                "strips",
                "give the highest mark that turned, then the lowest that did not",
            )


@dataclass(frozen=True, slots=True)
class MeasuredDial:
    """What was read on the sole at one dial position.

    Parameters
    ----------
    dial : str
        ``low``, ``medium`` or ``high``.
    readings_c : tuple of float
        Temperatures of the sole, in the order of reading [C].
    strips : tuple of StripReading
        What strips showed that lay there until the light had gone out twice.

    Raises
    ------
    InputError
        If the position is none of the three, or nothing was read.
    """

    dial: str
    readings_c: tuple[float, ...] = ()
    strips: tuple[StripReading, ...] = ()

    def __post_init__(self) -> None:
        if self.dial not in DIALS:
            raise InputError(
                f"{self.dial!r} is no dial position", "dial", f"say {', '.join(DIALS)}"
            )
        if not (self.readings_c or self.strips):
            raise InputError(
                "a measured dial without a reading", "readings_c", "give two or three readings"
            )
        for reading_c in self.readings_c:
            require_between(*SOLE_RANGE_C, readings_c=reading_c)

    @property
    def sole_c(self) -> float:
        """Mean of the readings; of strips alone the middle between their marks [C]."""
        return fmean(self._points())

    @property
    def swing_c(self) -> float:
        """From the coolest to the hottest reading [C]."""
        return max(self._points()) - min(self._points())

    def _points(self) -> tuple[float, ...]:
        return self.readings_c or tuple(
            0.5 * (strip.above_c + strip.below_c) for strip in self.strips
        )


@dataclass(frozen=True, slots=True)
class KeptIron:
    """An iron.

    Parameters
    ----------
    name : str
        What its owner calls it.
    dials : tuple of MeasuredDial
        What was measured; empty for an iron that nobody measured.
    note : str
        Anything else.

    Raises
    ------
    InputError
        If it has no name, or a position is measured twice.
    """

    name: str
    dials: tuple[MeasuredDial, ...] = ()
    note: str = ""

    def __post_init__(self) -> None:
        require_words(name=self.name)
        positions = [item.dial for item in self.dials]
        if len(set(positions)) < len(positions):
            raise InputError("a dial position stands twice", "dials", "put its readings into one")


@dataclass(frozen=True, slots=True)
class Board:
    """What lies under the cloth while it is pressed.

    Parameters
    ----------
    name : str
        What its owner calls it.
    cover : str
        What it is covered with, and padded.
    note : str
        Anything else.

    Raises
    ------
    InputError
        If it has no name.
    """

    name: str
    cover: str = ""
    note: str = ""

    def __post_init__(self) -> None:
        require_words(name=self.name)
