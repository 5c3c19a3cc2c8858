"""What the page asks of the services, each answer kept for the next who asks the same."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

from samite.kernel.errors import InputError
from samite.services.card import Card, make_card
from samite.services.demo import Bolt, demo_bolts, demo_title
from samite.web.words import UNITS

KEPT = 64
"""Answers kept."""


@lru_cache(maxsize=KEPT)
def card(label: str, use: str) -> Card:
    """Return the card without its window, at once.

    Parameters
    ----------
    label : str
        What the bolt says.
    use : str
        What the cloth is wanted for.

    Returns
    -------
    Card
        The card.
    """
    return make_card(label, use)


@lru_cache(maxsize=KEPT)
def window(label: str, use: str) -> dict[str, Any]:
    """Return the press window, which takes a second or two.

    Parameters
    ----------
    label : str
        What the bolt says.
    use : str
        What the cloth is wanted for.

    Returns
    -------
    dict of str to object
        In the form ``samite.press.v1``.
    """
    from samite.services.press import press_window_view

    return press_window_view(label, use)


@lru_cache(maxsize=1)
def bolts() -> tuple[str, str, tuple[Bolt, ...]]:
    """Return the built-in scenario.

    Returns
    -------
    tuple of (str, str, tuple of Bolt)
        Title, introduction and bolts.
    """
    return (*demo_title(), demo_bolts())


def read_units(units: str) -> str:
    """Return the units asked for.

    Parameters
    ----------
    units : str
        ``metric`` or ``imperial``.

    Returns
    -------
    str
        The same.

    Raises
    ------
    InputError
        If they are neither.
    """
    if units not in UNITS:
        raise InputError(
            f"{units[:40]!r} is no set of units", "units", f"say {' or '.join(UNITS)}"
        )
    return units
