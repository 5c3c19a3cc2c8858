"""The guided check of an iron for the terminal."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Mapping
from typing import Any

from samite.cli.card_text import WIDTH
from samite.garment.bench import DIALS
from samite.kernel.errors import InputError


def by_dial(texts: Iterable[str]) -> dict[str, list[str]]:
    """Sort readings by dial position.

    Parameters
    ----------
    texts : iterable of str
        ``"medium 148 C"`` each.

    Returns
    -------
    dict of str to list of str
        ``"148 C"`` by ``medium``.

    Raises
    ------
    InputError
        If one names no position.
    """
    found: dict[str, list[str]] = {}
    for text in texts:
        word, _, value = text.strip().partition(" ")
        if word not in DIALS or not value.strip():
            raise InputError(
                f"{text[:40]!r} names no dial position", "--reading", 'write "medium 148 C"'
            )
        found.setdefault(word, []).append(value)
    return found


def by_dial_strips(texts: Iterable[str]) -> dict[str, list[tuple[str, str]]]:
    """Sort strips by dial position.

    Parameters
    ----------
    texts : iterable of str
        ``"medium 149 C, 160 C"`` each.

    Returns
    -------
    dict of str to list of tuple of (str, str)
        ``("149 C", "160 C")`` by ``medium``.

    Raises
    ------
    InputError
        If one names no position, or not two marks.
    """
    found: dict[str, list[tuple[str, str]]] = {}
    for text in texts:
        word, _, marks = text.strip().partition(" ")
        turned, comma, kept = marks.partition(",")
        if word not in DIALS or not comma:
            raise InputError(f"{text[:40]!r} is no strip", "--strip", 'write "medium 149 C, 160 C"')
        found.setdefault(word, []).append((turned, kept))
    return found


def iron_guide_text(guide: Mapping[str, Any]) -> str:
    """Return how an iron is checked.

    Parameters
    ----------
    guide : mapping of str to object
        In the form ``samite.iron-guide.v1``.

    Returns
    -------
    str
        Lines of at most 78 columns.
    """
    lines = [f"check an iron, about {guide['minutes']} minutes", "mind first:"]
    for text in guide["cautions"]:
        lines += _wrapped("  - ", text)
    for number, text in enumerate(guide["steps"], start=1):
        lines += _wrapped(f"{number:>2}. ", text)
    lines += _wrapped("", 'then: samite stock check-iron NAME --reading "low 98 C" --reading ...')
    return "\n".join(lines)


def iron_check_text(view: Mapping[str, Any]) -> str:
    """Return what a check has found.

    Parameters
    ----------
    view : mapping of str to object
        In the form ``samite.iron-check.v1``.

    Returns
    -------
    str
        Lines of at most 78 columns.
    """
    lines = [f"kept: iron {view['key']}  {view['name']}"]
    for text in view["words"]:
        lines += _wrapped("  ", text)
    lines.append(f"  from now on: --iron {view['name']!r}")
    return "\n".join(lines)


def _wrapped(tag: str, text: str) -> list[str]:
    return textwrap.wrap(text, WIDTH, initial_indent=tag, subsequent_indent=" " * len(tag))
