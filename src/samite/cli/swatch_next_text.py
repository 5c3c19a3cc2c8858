"""What to test next, and what was learnt, for the terminal."""

from __future__ import annotations

import textwrap
from collections.abc import Mapping
from typing import Any

from samite.cli.card_text import WIDTH

SHOWN = 0.01
"""Chance under which a fibre is not told [-]."""

HARDLY = 0.01
"""Gain under which a test hardly tells more [-]."""

BARS = 24
"""Columns of the longest bar."""


def fibre_text(view: Mapping[str, Any], *, every: bool = False) -> str:
    """Return the chances of fibres and the next test as text.

    Parameters
    ----------
    view : mapping of str to object
        In the form ``samite.fibre.v1``.
    every : bool
        Tell all tests with their steps, not only the most telling one.

    Returns
    -------
    str
        Lines of at most 78 columns.
    """
    lines = []
    for text in view["words"]:
        lines += wrapped("", text)
    for item in view["chances"]:
        if item["chance"] >= SHOWN:
            bar = "#" * max(round(BARS * item["chance"]), 1)
            lines.append(f"  {item['name'][:22]:<22} {100 * item['chance']:5.1f} %  {bar}")
    tests = view["tests"]
    if tests and tests[0]["worth"] < HARDLY:
        lines += wrapped("", "no further test of these would tell much more")
    for test in tests if every else tests[:1]:
        lines += ["-" * WIDTH, *_test_lines(test)]
    others = [f"{test['name']} ({test['worth']:+.0%})" for test in tests[1:]]
    if others and not every:
        lines += wrapped("", f"less telling: {', '.join(others)}; --tests tells how")
    lines.append("-" * WIDTH)
    for text in view["mind"]:
        lines += wrapped("! ", text)
    return "\n".join(lines)


def _test_lines(test: Mapping[str, Any]) -> list[str]:
    gain = f"{test['worth']:+.0%} chance of naming it rightly"
    head = f"{test['name']}: {gain}, {test['minutes']:g} min, {test['cost']}"
    lines = wrapped("", head)
    lines += wrapped("at hand: ", "; ".join(test["needs"]))
    for text in test["cautions"]:
        lines += wrapped("  ! ", text)
    for number, text in enumerate(test["steps"], start=1):
        lines += wrapped(f"{number:>2}. ", text)
    return lines


def wrapped(tag: str, text: str) -> list[str]:
    """Wrap a text behind a tag.

    Parameters
    ----------
    tag : str
        What stands before its first line.
    text : str
        The text.

    Returns
    -------
    list of str
        Lines of at most 78 columns.
    """
    return textwrap.wrap(text, WIDTH, initial_indent=tag, subsequent_indent=" " * len(tag))
