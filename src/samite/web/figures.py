"""Drawings and paper for the page."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from samite.services.card import Card, seam_order
from samite.services.seam import SeamSheet

COLUMNS = 2
"""Panels of the recipe in a row: as many as a phone can show."""


def recipe_figure(card: Card, view: Mapping[str, Any] | None) -> str:
    """Draw the recipe, a panel a pass and one for the hold.

    Parameters
    ----------
    card : Card
        The card.
    view : mapping of str to object or None
        Its press window, if it has been computed.

    Returns
    -------
    str
        SVG; empty if nothing is pressed.
    """
    from samite.services.press_pictures import recipe_strip
    from samite.sheets.recipe_strip import draw_recipe_strip

    known = {"plan": view["plan"], "hold": view["hold"]} if view else {}
    order = seam_order(card.sewing)
    strip = recipe_strip(card.press.value.as_dict(), order=order, **known)
    return draw_recipe_strip(strip, columns=COLUMNS) if strip else ""


def hold_figure(view: Mapping[str, Any]) -> str:
    """Draw what holding does.

    Parameters
    ----------
    view : mapping of str to object
        The press window.

    Returns
    -------
    str
        SVG; empty if nothing is held.
    """
    from samite.services.press_pictures import hold_svg

    return hold_svg(view) or ""


def press_figures(card: Card) -> dict[str, str]:
    """Draw the press curve and the layers under the iron, large enough to read on a phone.

    Parameters
    ----------
    card : Card
        The card, with its window.

    Returns
    -------
    dict of str to str
        SVG by name, ``curve`` and ``layers``; empty if nothing is pressed.
    """
    from samite.services.paper_words import card_sheet

    sheet = card_sheet(card)
    drawn = {"curve": sheet.curve, "layers": sheet.layers}
    return {name: picture.svg for name, picture in drawn.items() if picture}


def seam_figures(sheet: SeamSheet, units: str = "metric") -> dict[str, str | list[str]]:
    """Draw a joint in parts that can be read on a phone.

    Parameters
    ----------
    sheet : SeamSheet
        The joint.
    units : str
        ``metric`` or ``imperial``.

    Returns
    -------
    dict of str to str or list of str
        SVG by name, ``cut``, ``fit``, ``stitch``, and ``ways`` one a way; empty if there is none.
    """
    if not sheet.answer.ways:
        return {}
    from samite.services.inches import drawn_imperial
    from samite.services.seam_picture import seam_view
    from samite.sheets import seam_picture

    view = seam_view(sheet)

    def shown(svg: str) -> str:
        return drawn_imperial(svg) if units == "imperial" else svg

    return {
        "cut": shown(seam_picture.draw_section_alone(view)),
        "fit": shown(seam_picture.draw_fit_alone(view)),
        "stitch": shown(seam_picture.draw_stitch_alone(view)),
        "ways": [shown(seam_picture.draw_way(view, number)) for number in range(len(view.ways))],
    }


def pdf(card: Card, units: str) -> bytes:
    """Make the card as a page of paper.

    Parameters
    ----------
    card : Card
        The card, with its window.
    units : str
        ``metric`` or ``imperial``.

    Returns
    -------
    bytes
        PDF.
    """
    from samite.services.paper import card_pdf

    return card_pdf(card, units=units)
