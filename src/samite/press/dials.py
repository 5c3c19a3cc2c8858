"""The three dial positions and the contact temperature that each stands for."""

from __future__ import annotations

from enum import StrEnum

from samite.tables.press_tools import iron_setting


class Dial(StrEnum):
    """Dial positions by the dots of ISO 3758."""

    NONE = "none"
    LOW = "low"
    MEDIUM = "medium"
    HIGH = "high"

    @property
    def sole_max_c(self) -> float:
        """Sole-plate limit of the position [C]; 0 without an iron."""
        return 0.0 if self is Dial.NONE else iron_setting(self.value).sole_limit_c.value

    @property
    def dots(self) -> int:
        """Number of dots."""
        return list(Dial).index(self)

    @property
    def words(self) -> str:
        """What most irons print at this position."""
        return DIAL_WORDS[self]


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
    allowed = [dial for dial in Dial if dial.sole_max_c <= limit_c + FAHRENHEIT_ROUNDING_C]
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
