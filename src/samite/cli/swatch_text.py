"""Swatches for the terminal."""

from __future__ import annotations

import textwrap
from typing import Any

from samite.cli.card_text import WIDTH
from samite.services.swatch_words import seen_words, tried_words


def swatch_text(view: dict[str, Any]) -> str:
    """Return a swatch as text.

    Parameters
    ----------
    view : dict of str to object
        In the form ``samite.swatch.v1``.

    Returns
    -------
    str
        Lines of at most 78 columns.
    """
    lines = []
    for text in tried_words(view):
        lines += _wrapped("tried", text)
    lines += _wrapped("seen", seen_words(view))
    extra = [view["note"], f"by {view['maker']}" if view["maker"] else ""]
    extra += [f"{len(view['photos'])} photos" if view["photos"] else ""]
    extra += ["set aside: later answers leave it out" if view["set_aside"] else ""]
    extra += [f"in the bin since {view['binned_on']}" if view["binned_on"] else ""]
    for text in filter(None, extra):
        lines += _wrapped("", text)
    return "\n".join([f"{view['made_on']}  {view['key']}", *lines])


def list_text(view: dict[str, Any]) -> str:
    """Return swatches by cloth as text.

    Parameters
    ----------
    view : dict of str to object
        In the form ``samite.swatches.v1``.

    Returns
    -------
    str
        Lines of at most 78 columns.
    """
    if "binned" in view:
        found = [f"{item['cloth']['label']}\n{swatch_text(item)}" for item in view["binned"]]
        return "\n\n".join(found) or "the bin is empty"
    lines: list[str] = []
    for cloth in view["cloths"]:
        shown = len(cloth["swatches"])
        count = f"{cloth['count']} swatches" if cloth["count"] != 1 else "1 swatch"
        if shown < cloth["count"]:
            count += f", {shown} shown"
        lines += ["=" * WIDTH, *textwrap.wrap(cloth["label"], WIDTH), f"{cloth['key']}: {count}"]
        lines += ["-" * WIDTH, *(swatch_text(item) for item in cloth["swatches"])]
    return "\n".join(lines) or "no swatch is kept yet"


def _wrapped(tag: str, text: str) -> list[str]:
    first, *rest = textwrap.wrap(text, WIDTH - 9) or [""]
    return [f"  {tag:<7}{first}", *(" " * 9 + line for line in rest)]
