"""The techniques that are compared: dial, steam, press cloth and side."""

from __future__ import annotations

import itertools
from dataclasses import dataclass

from samite.press.dials import Dial

STEAMS = ("none", "light", "full")
CLOTHS = ("none", "dry", "damp")
SIDES = ("wrong", "right")


@dataclass(frozen=True, slots=True)
class Technique:
    """One way to press.

    Parameters
    ----------
    iron : Dial
        Dial position.
    steam : str
        ``none``, ``light``, ``full``, or ``hover`` for steam without contact.
    press_cloth : str
        ``none``, ``dry`` or ``damp``.
    side : str
        ``wrong`` or ``right``.
    """

    iron: Dial
    steam: str
    press_cloth: str
    side: str

    @property
    def hovers(self) -> bool:
        """Whether the iron never touches."""
        return self.steam == "hover"

    @property
    def words(self) -> str:
        """The technique in plain words."""
        if self.hovers:
            return "steam without touching, from the back"
        through = {"none": "directly", "dry": "through a dry cloth", "damp": "through a damp cloth"}
        return (
            f"{self.iron.words}, steam {self.steam}, {through[self.press_cloth]}, {self.side} side"
        )


HOVER = Technique(Dial.NONE, "hover", "none", "wrong")
"""Steam held off the cloth."""


def all_techniques() -> tuple[Technique, ...]:
    """Return the 54 techniques that touch, and hover.

    Returns
    -------
    tuple of Technique
        3 dials x 3 steams x 3 press cloths x 2 sides, then hover.
    """
    dials = (Dial.LOW, Dial.MEDIUM, Dial.HIGH)
    touching = itertools.product(dials, STEAMS, CLOTHS, SIDES)
    return (*(Technique(*choice) for choice in touching), HOVER)
