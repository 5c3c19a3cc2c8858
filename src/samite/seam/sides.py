"""The two sides of a joint: a third cloth lies behind one of them or both, as linings do."""

from __future__ import annotations

from dataclasses import dataclass

from samite.cloth.model import Cloth
from samite.cloth.reading import PartKind

BEHIND = ("first", "second", "both")
"""Behind which of the first two cloths a third lies."""


@dataclass(frozen=True, slots=True, eq=False)
class Side:
    """One side of a joint.

    Parameters
    ----------
    outer : Cloth
        The cloth that one sees.
    backing : Cloth or None
        A third cloth behind it that is caught in the seam with it.
    """

    outer: Cloth
    backing: Cloth | None = None

    @property
    def cloths(self) -> tuple[Cloth, ...]:
        """From the face to the wrong side."""
        return (self.outer,) if self.backing is None else (self.outer, self.backing)

    @property
    def sheer(self) -> bool:
        """Whether an allowance behind it shows through."""
        return all(cloth.sheer for cloth in self.cloths)

    @property
    def mass_gsm(self) -> float:
        """Mass per area of all that lies there [g/m2]."""
        return sum(cloth.mass_per_area_gsm.value for cloth in self.cloths)

    def alike(self, other: Side) -> bool:
        """Whether another side is of the same cloths.

        Parameters
        ----------
        other : Side
            The other side.

        Returns
        -------
        bool
            True if outer cloth and backing are the same.
        """
        return self.outer is other.outer and self.backing is other.backing


def behind_of(cloths: tuple[Cloth, ...], asked: str = "") -> str:
    """Return behind which cloth a third lies.

    Parameters
    ----------
    cloths : tuple of Cloth
        The cloths.
    asked : str
        One of `BEHIND`; empty if it is not said.

    Returns
    -------
    str
        What is asked; else both where the first two are the same cloth, since an underlining
        goes behind every piece of it; else the first. Empty without a third cloth.
    """
    if len(cloths) < 3:
        return ""
    return asked or ("both" if cloths[0] is cloths[1] else "first")


def sides_of(cloths: tuple[Cloth, ...], behind: str = "") -> tuple[Side, Side]:
    """Return the two sides of a joint.

    Parameters
    ----------
    cloths : tuple of Cloth
        Two cloths, or two and the third that lies behind.
    behind : str
        One of `BEHIND`; empty for what `behind_of` says.

    Returns
    -------
    tuple of Side
        First and second side.
    """
    where = behind_of(cloths, behind)
    return (
        Side(cloths[0], cloths[2] if where in ("first", "both") else None),
        Side(cloths[1], cloths[2] if where in ("second", "both") else None),
    )


def sewn_cloths(cloths: tuple[Cloth, ...], behind: str = "") -> tuple[Cloth, ...]:
    """Return the cloth of every ply that the needle goes through in a plain row.

    Parameters
    ----------
    cloths : tuple of Cloth
        The cloths.
    behind : str
        One of `BEHIND`; empty for what `behind_of` says.

    Returns
    -------
    tuple of Cloth
        Two to four plies.
    """
    return tuple(cloth for side in sides_of(cloths, behind) for cloth in side.cloths)


def resting_side(cloths: tuple[Cloth, ...], behind: str = "") -> int:
    """Return the side toward which allowances are laid.

    Parameters
    ----------
    cloths : tuple of Cloth
        The cloths.
    behind : str
        One of `BEHIND`; empty for what `behind_of` says.

    Returns
    -------
    int
        0 or 1: the one that hides them and does not print through.
    """
    sides = sides_of(cloths, behind)

    def hidden(index: int) -> tuple[bool, bool, float, int]:
        side = sides[index]
        pile = side.outer.has(PartKind.PILE)
        long_pile = pile and side.outer.pile_height_mm >= 2.5
        return (side.sheer, long_pile, -side.mass_gsm, index)

    return min((0, 1), key=hidden)


def third_words(cloths: tuple[Cloth, ...], behind: str) -> str:
    """Say where a third cloth lies.

    Parameters
    ----------
    cloths : tuple of Cloth
        The cloths.
    behind : str
        One of `BEHIND`, or empty.

    Returns
    -------
    str
        In words; empty without a third cloth.
    """
    if len(cloths) < 3 or not behind:
        return ""
    outer = cloths[1 if behind == "second" else 0].structure_name
    where = "both sides" if behind == "both" else f"the {outer}"
    return f"{cloths[2].structure_name} behind {where}"
