"""From a card to paper: the bench card as PDF, the two drawings as SVG."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING, Any

from samite.services.paper_press import card_views, view_curve
from samite.services.paper_words import card_sheet
from samite.services.seam_json import joint_words
from samite.sheets.layers_picture import draw_layers
from samite.sheets.page import print_cards
from samite.sheets.press_curve import draw_press_curve
from samite.sheets.views import CardSheet, IndexRow, IndexSheet, Note

if TYPE_CHECKING:
    from samite.services.card import Card
    from samite.services.seam import SeamSheet


def card_pdf(
    card: Card,
    *,
    role: str = "",
    paper: str = "a4",
    units: str = "metric",
    dated: date | None = None,
    joint: SeamSheet | None = None,
) -> bytes:
    """Return the bench card as one page.

    Parameters
    ----------
    card : Card
        The card.
    role : str
        What the cloth becomes; may be empty.
    paper : str
        ``a4`` or ``us-letter``.
    units : str
        ``metric`` or ``imperial``.
    dated : datetime.date or None
        Date to print; none is printed without.
    joint : SeamSheet or None
        The seam to another cloth, told in a line; None without.

    Returns
    -------
    bytes
        PDF/UA-1, the same for the same arguments.
    """
    sheet = card_sheet(card, role=role, units=units)
    if joint:
        other = joint.answer.cloths[-1].structure_name
        note = Note(f"to {other}", joint_words(joint))
        sheet = replace(sheet, notes=(note, *sheet.notes))
    return print_cards((sheet,), paper, dated)


def cards_pdf(
    title: str,
    intro: str,
    sheets: Sequence[CardSheet],
    *,
    paper: str = "a4",
    dated: date | None = None,
) -> bytes:
    """Return several cards behind an index page.

    Parameters
    ----------
    title : str
        Name of the job.
    intro : str
        A sentence or two.
    sheets : sequence of CardSheet
        The cards, ready for paper.
    paper : str
        ``a4`` or ``us-letter``.
    dated : datetime.date or None
        Date to print; none is printed without.

    Returns
    -------
    bytes
        PDF/UA-1: the index, then a page a card.
    """
    index = IndexSheet(title, intro, tuple(_index_row(sheet) for sheet in sheets))
    return print_cards(sheets, paper, dated, index)


def press_svg(view: Mapping[str, Any]) -> str | None:
    """Return the press curve of the chosen technique.

    Parameters
    ----------
    view : Mapping
        The press window in the form ``samite.press.v1``.

    Returns
    -------
    str or None
        SVG; None if nothing is pressed.
    """
    curve = view_curve(view)
    return draw_press_curve(curve) if curve else None


def layers_svg(card: Card) -> str | None:
    """Return the layers under the iron at the seconds to count.

    Parameters
    ----------
    card : Card
        The card of the cloth.

    Returns
    -------
    str or None
        SVG; None if nothing is pressed.
    """
    views = card_views(card)
    return draw_layers(views[1]) if views else None


def _index_row(sheet: CardSheet) -> IndexRow:
    press = sheet.press
    last = press.passes[-1] if press.passes else None
    iron = "no iron"
    if last:
        iron = f"{last.dial}, {last.steam.split(':')[0]}" if last.dots else "steam, no contact"
    stop = f"{last.stop_s:g}" if last else "–"
    return IndexRow(sheet.role, sheet.title, sheet.lines[2].big, iron, stop)
