"""What the slip's drawing and page show."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class SlipPlace:
    """One place on the square.

    Parameters
    ----------
    number : str
        Number of the step that is made there.
    title : str
        A word or two.
    kind : str
        ``finish``, ``marks``, ``pull``, ``press``, ``drop``, ``paper`` or ``threads``.
    box_cm : tuple of (float, float, float, float)
        Left, top, width and height [cm].
    """

    number: str
    title: str
    kind: str
    box_cm: tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class SlipLine:
    """One step as it is printed.

    Parameters
    ----------
    number : str
        Its number.
    title : str
        A word or two.
    do : str
        What to do.
    look : str
        What to look for; may be empty.
    settles : str
        What it settles.
    cost : str
        Minutes and centimetres, in words.
    write : bool
        Whether there is a box to tick what was seen.
    """

    number: str
    title: str
    do: str
    look: str
    settles: str
    cost: str
    write: bool


@dataclass(frozen=True, slots=True)
class SlipSheet:
    """The slip's page.

    Parameters
    ----------
    label : str
        What the bolt says.
    head : str
        Minutes and cloth in words.
    side_cm : float
        Side of the square [cm].
    places : tuple of SlipPlace
        Places on the square.
    lines : tuple of SlipLine
        Steps in order.
    cautions : tuple of str
        What to mind.
    """

    label: str
    head: str
    side_cm: float
    places: tuple[SlipPlace, ...]
    lines: tuple[SlipLine, ...]
    cautions: tuple[str, ...]
