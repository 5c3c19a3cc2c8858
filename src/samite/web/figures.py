"""Drawings and paper for the page."""

from __future__ import annotations

from samite.services.card import Card


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
