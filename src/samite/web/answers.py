"""What the page asks of the services, each answer kept for the next who asks the same."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from samite.kernel.errors import InputError
from samite.services.card import Card, make_card
from samite.services.demo import demo_title
from samite.services.past import Past
from samite.services.rescue import rescue_view, trouble_names
from samite.services.seam import SeamQuestion, SeamSheet, make_seam
from samite.services.seam_learnt import Pasts
from samite.tables.irons import Iron
from samite.tables.loader import read_toml
from samite.web.words import UNITS

KEPT = 64
"""Answers kept."""


@lru_cache(maxsize=KEPT)
def card(label: str, use: str, iron: Iron | None = None, past: Past | None = None) -> Card:
    """Return the card without its window, at once.

    Parameters
    ----------
    label : str
        What the bolt says.
    use : str
        What the cloth is wanted for.
    iron : Iron or None
        The iron at hand, if it was described.
    past : Past or None
        What the journal holds of the cloth.

    Returns
    -------
    Card
        The card.
    """
    return make_card(label, use, iron=iron, past=past)


@lru_cache(maxsize=KEPT)
def timed(label: str, use: str, iron: Iron | None = None, past: Past | None = None) -> Card:
    """Return the card with its window, which takes some tenths of a second.

    Parameters
    ----------
    label : str
        What the bolt says.
    use : str
        What the cloth is wanted for.
    iron : Iron or None
        The iron at hand, if it was described.
    past : Past or None
        What the journal holds of the cloth.

    Returns
    -------
    Card
        The card.
    """
    return make_card(label, use, window=True, iron=iron, past=past)


@lru_cache(maxsize=KEPT)
def window(
    label: str, use: str, iron: Iron | None = None, past: Past | None = None
) -> dict[str, Any]:
    """Return the press window of every technique, which takes about a second.

    Parameters
    ----------
    label : str
        What the bolt says.
    use : str
        What the cloth is wanted for.
    iron : Iron or None
        The iron at hand, if it was described.
    past : Past or None
        What the journal holds of the cloth.

    Returns
    -------
    dict of str to object
        In the form ``samite.press.v1``.
    """
    from samite.services.press import press_window_view

    return press_window_view(label, use, iron=iron, past=past)


@lru_cache(maxsize=KEPT)
def rescue(trouble: str, label: str) -> dict[str, Any]:
    """Return what to try on a cloth that has been hurt.

    Parameters
    ----------
    trouble : str
        What has happened, in words.
    label : str
        What the bolt says.

    Returns
    -------
    dict of str to object
        In the form ``samite.rescue.v1``.

    Raises
    ------
    InputError
        If nothing has happened, or either cannot be read.
    """
    if not trouble.strip():
        raise InputError("no trouble is chosen", "trouble", "choose what has happened")
    return rescue_view(trouble, label)


@lru_cache(maxsize=KEPT)
def seam(question: SeamQuestion, iron: Iron | None = None, pasts: Pasts = ()) -> SeamSheet:
    """Return how to join cloths, with the press window of the joint.

    Parameters
    ----------
    question : SeamQuestion
        Labels, use, workroom and what is insisted on.
    iron : Iron or None
        The iron at hand, if it was described.
    pasts : tuple of (str, Past)
        What the journal holds of the cloths.

    Returns
    -------
    SeamSheet
        The answer.
    """
    return make_seam(question, window=True, iron=iron, pasts=pasts)


@lru_cache(maxsize=1)
def troubles() -> tuple[str, ...]:
    """Return the troubles known.

    Returns
    -------
    tuple of str
        Their plain names.
    """
    return tuple(trouble_names())


@dataclass(frozen=True, slots=True)
class Bolt:
    """One cloth of the built-in scenario, not yet answered.

    Parameters
    ----------
    role : str
        What it becomes.
    label : str
        What the bolt says.
    use : str
        What it is wanted for.
    """

    role: str
    label: str
    use: str


@lru_cache(maxsize=1)
def bolts() -> tuple[str, str, tuple[Bolt, ...]]:
    """Return the built-in scenario.

    Returns
    -------
    tuple of (str, str, tuple of Bolt)
        Title, introduction and bolts.
    """
    found = read_toml("demo.toml")["bolt"]
    return (*demo_title(), tuple(Bolt(item["role"], item["label"], item["for"]) for item in found))


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
        raise InputError(f"{units[:40]!r} is no set of units", "units", f"say {' or '.join(UNITS)}")
    return units
