"""What to test next, and what was learnt, for the terminal."""

from __future__ import annotations

import textwrap
from collections.abc import Mapping, Sequence
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


def next_text(view: Mapping[str, Any]) -> str:
    """Return what to test next as text.

    Parameters
    ----------
    view : mapping of str to object
        In the form ``samite.next.v1``.

    Returns
    -------
    str
        Lines of at most 78 columns.
    """
    decision, slip = view["decision"], view["slip"]
    lines = wrapped("", view["cloth"]["label"])
    lines += wrapped("to decide: ", decision["what"])
    if decision["now"]:
        known = f"{100 * decision['worth_of_knowing']:.1f}"
        lines += wrapped(
            "", f"to know everything of the press would be worth {known} points of a hundred"
        )
    lines.append("-" * WIDTH)
    for number, test in enumerate(view["tests"], start=1):
        lines += wrapped(f"{number:>2}. ", test["test"])
        lines += wrapped("      ", _price(test))
        for branch in test["then"]:
            seen = " and ".join(branch["seen"])
            told = f"{seen} ({branch['chance']:.0%}): {branch['leads_to']}"
            lines += wrapped("      - ", told)
    if view["fibre"]:
        lines += wrapped(
            " *  ", "the fibre is not known: samite swatch fibre tells how it is tested"
        )
    lines.append("-" * WIDTH)
    head = f"the slip: {slip['side_cm']:g} x {slip['side_cm']:g} cm, {slip['minutes']:g} minutes"
    lines.append(head)
    for text in slip["cautions"]:
        lines += wrapped("  ! ", text)
    for step in slip["steps"]:
        cost = f"{step['minutes']:g} min" + (
            f", {step['cloth_cm']:g} cm" if step["cloth_cm"] else ""
        )
        lines += wrapped(f"{step['number']:>2}. ", f"{step['title']} ({cost}): {step['do']}")
        if step["look"]:
            lines += wrapped("      ", f"look for: {step['look']}")
    return "\n".join(lines)


def _price(test: Mapping[str, Any]) -> str:
    """Say what a test costs and what it is worth."""
    cost = f"{test['minutes']:g} min" + (f", {test['cloth_cm']:g} cm" if test["cloth_cm"] else "")
    if test["worth"] is None:
        return f"{cost}; settles {test['settles']}; {test['unweighed']}"
    worth = f"worth {100 * test['worth']:.1f} points of a hundred"
    if test["worth"] < WORTHLESS:
        worth = "hardly changes the choice"
    later = "" if test["now"] else "; not yet: a cooler or shorter one must go well first"
    harm = f"; the scrap is hurt in {test['chance_harm']:.0%}" if test["chance_harm"] else ""
    return f"{cost}; {worth}{harm}{later}"


WORTHLESS = 0.002
"""Worth under which a test is told to change hardly anything [-]."""


def learnt_text(view: Mapping[str, Any]) -> str:
    """Return what was learnt as text.

    Parameters
    ----------
    view : mapping of str to object
        In the form ``samite.learnt.v1``.

    Returns
    -------
    str
        Lines of at most 78 columns.
    """
    lines = wrapped("", view["cloth"]["label"])
    for text in view["words"]:
        lines += wrapped("  ", text)
    for item in view["left_out"]:
        lines += wrapped("  left out: ", f"{item['made_on']}, {item['why']}")
    if view["after"]:
        lines += ["-" * WIDTH, *wrapped("", view["technique"])]
        lines.append(f"{'':>8}{'before':^24}{'after':^24}")
        lines.append(f"{'seconds':>8}{'set':>12}{'harm':>12}{'set':>12}{'harm':>12}")
        before, after = view["before"], view["after"]
        for place, second in enumerate(before["seconds"]):
            row = [
                c[name][place] for c in (before, after) for name in ("chance_set", "chance_damage")
            ]
            lines.append(f"{second:>8g}" + "".join(f"{100 * value:>10.1f} %" for value in row))
        lines.append(f"{'both met':>8}{_span(before):^24}{_span(after):^24}")
    if view["moved"]:
        lines += ["-" * WIDTH, "what moved: middle (9 of 10 cases lie within)"]
    for item in view["moved"]:
        unit = "" if item["unit"] == "1" else f" {item['unit']}"
        lines += wrapped("  ", item["doubt"])
        told = f"{_range(item['before'])}{unit} before, {_range(item['after'])}{unit} after"
        lines += wrapped("      ", told)
    return "\n".join(lines)


def _span(curve: Mapping[str, Any]) -> str:
    window = curve["window_s"]
    return f"{window[0]:g} to {window[1]:g} s" if window else "never"


def _range(span: Sequence[float]) -> str:
    low, middle, high = (_short(value) for value in span)
    return f"{middle} ({low} to {high})"


def _short(value: float) -> str:
    return f"{value:.0f}" if abs(value) >= 100.0 else f"{value:.3g}"


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
