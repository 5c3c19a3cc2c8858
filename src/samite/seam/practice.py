"""One piece of what the trade does besides, with its reason."""

from __future__ import annotations

from dataclasses import dataclass

from samite.kernel.reasons import Reason
from samite.seam import traits


@dataclass(frozen=True, slots=True)
class Practice:
    """One piece of practice for this joint.

    Parameters
    ----------
    about : str
        ``sheer``, ``pile``, ``beads``, ``film``, ``fur``, ``lace``, ``bias``, ``curve``,
        ``corner``, ``ease``,
        ``gathers``, ``nap``, ``topstitching``, ``stretch``, ``letting out``, ``foundation``,
        ``boning``, ``quick change``.
    do : str
        What to do.
    reason : Reason
        Why.
    """

    about: str
    do: str
    reason: Reason

    def as_dict(self) -> dict[str, object]:
        """Return the JSON form.

        Returns
        -------
        dict of str to object
            Keys ``about``, ``do`` and ``because``.
        """
        return {"about": self.about, "do": self.do, "because": self.reason.as_dict()}


def say(about: str, do: str, why: str) -> Practice:
    """Return a piece of common practice.

    Parameters
    ----------
    about : str
        What it is about.
    do : str
        What to do.
    why : str
        Why, in a clause.

    Returns
    -------
    Practice
        Graded common practice.
    """
    return Practice(about, do, traits.practice(why))
