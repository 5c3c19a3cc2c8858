"""The three dial positions and the contact temperature that each stands for."""

from __future__ import annotations

from enum import StrEnum


class Dial(StrEnum):
    """Dial positions by the dots of ISO 3758."""

    NONE = "none"
    LOW = "low"
    MEDIUM = "medium"
    HIGH = "high"

    @property
    def sole_max_c(self) -> float:
        """Sole-plate limit of the position [C]; 0 without an iron."""
        return SOLE_LIMIT_C[self]

    @property
    def dots(self) -> int:
        """Number of dots."""
        return list(Dial).index(self)

    @property
    def words(self) -> str:
        """What most irons print at this position."""
        return DIAL_WORDS[self]


SOLE_LIMIT_C = {Dial.NONE: 0.0, Dial.LOW: 110.0, Dial.MEDIUM: 150.0, Dial.HIGH: 200.0}
"""Sole-plate limits of ISO 3758 [C]."""

DIAL_WORDS = {
    Dial.NONE: "no iron",
    Dial.LOW: "synthetic, one dot",
    Dial.MEDIUM: "wool/silk, two dots",
    Dial.HIGH: "cotton/linen, three dots",
}
"""Dial words in common use."""

FAHRENHEIT_ROUNDING_C = 2.0
"""Limits were published in round Fahrenheit: 300 F is 148.9 C and means the 150 C dot [C]."""


def dial_for(limit_c: float) -> Dial:
    """Return the highest dial position that a limit allows.

    Parameters
    ----------
    limit_c : float
        Highest contact temperature [C].

    Returns
    -------
    Dial
        Position whose sole limit does not pass the limit, 300 F counted as 150 C.

    References
    ----------
    iso-3758-2012, symbols of ironing.
    """
    allowed = [
        dial for dial, sole in SOLE_LIMIT_C.items() if sole <= limit_c + FAHRENHEIT_ROUNDING_C
    ]
    return allowed[-1]


def lower_dial(first: Dial, second: Dial) -> Dial:
    """Return the cooler of two positions.

    Parameters
    ----------
    first : Dial
        One position.
    second : Dial
        The other.

    Returns
    -------
    Dial
        The cooler.
    """
    return first if first.dots <= second.dots else second
