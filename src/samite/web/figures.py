"""Drawings and paper for the page, as far as they can be made here."""

from __future__ import annotations

import importlib
from collections.abc import Callable, Mapping
from functools import cache
from typing import Any, cast

PAPER = "samite.services.paper"


@cache
def _paper(name: str) -> Callable[..., Any] | None:
    try:
        module = importlib.import_module(PAPER)
    except ModuleNotFoundError as error:
        if error.name and PAPER.startswith(error.name):
            return None
        raise
    return cast("Callable[..., Any] | None", getattr(module, name, None))


def press_figures(view: Mapping[str, Any]) -> dict[str, str]:
    """Draw the press curve and the layers under the iron.

    Parameters
    ----------
    view : mapping of str to object
        A press window, ``samite.press.v1``.

    Returns
    -------
    dict of str to str
        SVG by name, ``curve`` and ``layers``; what cannot be drawn is left out.
    """
    if not view["techniques"]:
        return {}
    named = (("curve", "press_curve_svg"), ("layers", "layers_svg"))
    return {name: draw(view) for name, what in named if (draw := _paper(what))}


def pdf_maker() -> Callable[[str, str], bytes] | None:
    """Return what makes the card as PDF.

    Returns
    -------
    callable or None
        Takes label and use and returns the PDF; None if it cannot be made here.
    """
    return _paper("card_pdf")
