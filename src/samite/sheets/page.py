"""Pages: the bench card and the index, set by typst with the font that is shipped."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import asdict
from datetime import UTC, date, datetime
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, Any

from samite.kernel.errors import UnknownNameError
from samite.sheets.packet import Packet
from samite.sheets.papers import PAPERS
from samite.sheets.svg import CONTROL
from samite.sheets.views import CardSheet, IndexSheet

if TYPE_CHECKING:
    import typst

LONGEST_LABEL = 260
LONGEST_TEXT = 900
"""Characters of a label, and of any other text, that a page has room for."""

UNDATED = datetime(2000, 1, 1, tzinfo=UTC)
"""Time written into the file where no date is given, so that it is always the same."""


def print_cards(
    cards: Sequence[CardSheet],
    paper: str = "a4",
    dated: date | None = None,
    index: IndexSheet | None = None,
) -> bytes:
    """Set cards, one a page, behind an index page if there is one.

    Parameters
    ----------
    cards : sequence of CardSheet
        The cards.
    paper : str
        ``a4`` or ``us-letter``.
    dated : datetime.date or None
        Date to print; none is printed without.
    index : IndexSheet or None
        The page in front.

    Returns
    -------
    bytes
        PDF/UA-1, the same for the same arguments.

    Raises
    ------
    UnknownNameError
        If the paper is not known.
    """
    data = {
        "paper": paper,
        "title": index.title if index else f"Bench card: {_cut(cards[0].title, 80)}",
        "dated": dated.isoformat() if dated else "",
        "cards": [_page_data(card) for card in cards],
        "index": asdict(index) if index else None,
    }
    return typeset(("bench_card.typ", "cards.typ"), data, dated)


def print_packet(packet: Packet, paper: str = "a4", dated: date | None = None) -> bytes:
    """Set a packet: chapters, cards one a page, chapters again.

    Parameters
    ----------
    packet : Packet
        The packet.
    paper : str
        ``a4`` or ``us-letter``.
    dated : datetime.date or None
        Date to print; none is printed without.

    Returns
    -------
    bytes
        PDF/UA-1, the same for the same arguments.

    Raises
    ------
    UnknownNameError
        If the paper is not known.
    """
    data = {
        "paper": paper,
        "title": _cut(packet.title, 120),
        "dated": dated.isoformat() if dated else "",
        "cards": [_page_data(card) for card in packet.cards],
        "front": [_tidy(asdict(one)) for one in packet.front],
        "back": [_tidy(asdict(one)) for one in packet.back],
    }
    return typeset(("bench_card.typ", "packet.typ"), data, dated)


def typeset(templates: Sequence[str], data: Mapping[str, Any], dated: date | None = None) -> bytes:
    """Set pages by templates, one after the other.

    Parameters
    ----------
    templates : sequence of str
        Names of the templates.
    data : mapping of str to object
        What they read.
    dated : datetime.date or None
        Date of the file.

    Returns
    -------
    bytes
        PDF/UA-1, the same for the same arguments.

    Raises
    ------
    UnknownNameError
        If the paper, ``data["paper"]``, is not known.
    """
    paper = data["paper"]
    if paper not in PAPERS:
        raise UnknownNameError(f"no paper {paper!r}", "paper", "a4 or us-letter")
    moment = datetime(dated.year, dated.month, dated.day, tzinfo=UTC) if dated else UNDATED
    done: Any = _compiler().compile(
        input=_template(tuple(templates)),
        format="pdf",
        sys_inputs={"data": json.dumps(data, ensure_ascii=False)},
        pdf_standards=["ua-1"],
        timestamp=moment,
    )
    return bytes(done)


@cache
def _template(names: tuple[str, ...]) -> bytes:
    folder = files("samite.sheets") / "templates"
    return b"\n".join((folder / name).read_bytes() for name in names)


@cache
def _compiler() -> typst.Compiler:
    import typst

    folder = files("samite.sheets") / "fonts"
    return typst.Compiler(font_paths=[str(folder)], ignore_system_fonts=True)


def _page_data(card: CardSheet) -> dict[str, Any]:
    """Return a card as the template reads it: cut to what a page has room for."""
    data = _tidy(asdict(card))
    data["label"] = _cut(data["label"], LONGEST_LABEL)
    data["title"] = _cut(data["title"], 80)
    return dict(data)


def _tidy(value: Any) -> Any:
    """Cut every text and blank what no page shows; drawings stay whole."""
    if isinstance(value, dict):
        return {key: item if key == "svg" else _tidy(item) for key, item in value.items()}
    if isinstance(value, (list, tuple)):
        return [_tidy(item) for item in value]
    return _cut(value.translate(CONTROL), LONGEST_TEXT) if isinstance(value, str) else value


def _cut(text: str, longest: int) -> str:
    return text if len(text) <= longest else text[: longest - 1].rstrip() + "…"
