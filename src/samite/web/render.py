"""Templates filled with the views."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

from jinja2 import Environment, PackageLoader, StrictUndefined, select_autoescape
from markupsafe import Markup

from samite.services.card import Card
from samite.services.piece import PieceAsk
from samite.web import answers, card_view, odds_view, pieces_view, press_view, use_view, words
from samite.web.figures import press_figures

STATIC = Path(__file__).parent / "static"
LONGEST_LABEL = 4000
"""Characters that the paste box takes."""


@cache
def _environment() -> Environment:
    environment = Environment(
        loader=PackageLoader("samite.web"),
        autoescape=select_autoescape(default=True),
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters.update(grade=words.grade_words)
    environment.globals.update(
        evidence=words.evidence_words,
        opposite=use_view.opposite,
        version=_version(),
        longest=LONGEST_LABEL,
    )
    return environment


def _version() -> str:
    """Return a short hash of the files of the page, so that a new one is fetched."""
    digest = hashlib.sha256()
    for path in sorted(STATIC.rglob("*")):
        if path.is_file():
            digest.update(path.read_bytes())
    return digest.hexdigest()[:10]


def _fill(name: str, **values: Any) -> str:
    return _environment().get_template(name).render(values)


def _form(label: str, use: str, units: str) -> dict[str, Any]:
    title, intro, bolts = answers.bolts()
    shown = _known(units)
    return {
        "label": label,
        "use": use_view.use_view(use),
        "units": shown,
        "title": title,
        "intro": intro,
        "bolts": [(bolt, urlencode(_query(bolt.label, bolt.use, shown))) for bolt in bolts],
        "error": None,
        "card": None,
        "turn": "",
    }


def _query(label: str, use: str, units: str) -> dict[str, str]:
    query = {"label": label, "for": use, "units": units if units != words.UNITS[0] else ""}
    return {name: value for name, value in query.items() if value}


def start_page(units: str) -> str:
    """Return the page before a label is given.

    Parameters
    ----------
    units : str
        ``metric`` or ``imperial``.

    Returns
    -------
    str
        HTML.
    """
    return _fill("page.html", **_form("", "", units))


def card_page(card: Card, use: str, units: str, view: Mapping[str, Any] | None) -> str:
    """Return the page with a card.

    Parameters
    ----------
    card : Card
        The card.
    use : str
        Words of the use as given.
    units : str
        ``metric`` or ``imperial``.
    view : mapping of str to object or None
        The press window, if it was asked for at once.

    Returns
    -------
    str
        HTML.
    """
    values = _form(card.label, use, units) | _card(card, use, units) | _press(card, view, units)
    return _fill("page.html", **values)


def card_part(card: Card, use: str, units: str, turn: str, view: Mapping[str, Any] | None) -> str:
    """Return the card alone.

    Parameters
    ----------
    card : Card
        The card.
    use : str
        Words of the use as given.
    units : str
        ``metric`` or ``imperial``.
    turn : str
        Number of the label in the order of typing.
    view : mapping of str to object or None
        The press window, if it has been computed.

    Returns
    -------
    str
        HTML.
    """
    values = _card(card, use, units) | _press(card, view, units)
    return _fill("card.html", **values, turn=turn, units=units)


def error_part(error: Mapping[str, Any], turn: str) -> str:
    """Return an error alone.

    Parameters
    ----------
    error : mapping of str to str
        In the one shape.
    turn : str
        Number of the label in the order of typing.

    Returns
    -------
    str
        HTML.
    """
    return _fill("error.html", error=error, turn=turn)


def error_page(error: Mapping[str, Any], label: str, use: str, units: str) -> str:
    """Return the page with what was typed and what is wrong with it.

    Parameters
    ----------
    error : mapping of str to str
        In the one shape.
    label : str
        What was typed.
    use : str
        Words of the use as given.
    units : str
        What was asked for.

    Returns
    -------
    str
        HTML.
    """
    return _fill("page.html", **(_form(label, use, units) | {"error": error}))


def pieces_page(
    ask: PieceAsk, query: str, units: str, error: Mapping[str, Any] | None = None
) -> str:
    """Return the page of pieces from measures.

    Parameters
    ----------
    ask : PieceAsk
        What is asked.
    query : str
        The query as it came, for the links to files.
    units : str
        ``metric`` or ``imperial``.
    error : mapping of str to str or None
        What is wrong with it, in the one shape.

    Returns
    -------
    str
        HTML.
    """
    values = pieces_view.page_values(ask, error)
    return _fill("pieces.html", **values, query=query, units=_known(units))


def rescue_page(
    label: str,
    use: str,
    units: str,
    trouble: str,
    view: Mapping[str, Any] | None = None,
    error: Mapping[str, Any] | None = None,
) -> str:
    """Return the page of what has gone wrong.

    Parameters
    ----------
    label : str
        What was typed.
    use : str
        Words of the use as given; kept for the way back.
    units : str
        What was asked for.
    trouble : str
        What has happened, as given.
    view : mapping of str to object or None
        What to try, in the form ``samite.rescue.v1``.
    error : mapping of str to str or None
        What is wrong with what was given, in the one shape.

    Returns
    -------
    str
        HTML.
    """
    shown = _known(units)
    beside = ("trouble" if error["where"] == "trouble" else "label") if error else ""
    return _fill(
        "rescue.html",
        gone=_gone(label, use, shown, trouble) | {"whole": True, "beside": beside},
        units=shown,
        trouble=trouble,
        view=view,
        error=error,
        turn="",
        back_link=f"./?{urlencode(_query(label, use, shown))}",
        units_text=lambda text: words.in_units(text, shown),
    )


def _gone(label: str, use: str, units: str, trouble: str) -> dict[str, Any]:
    """Return the form of troubles; a trouble in other words stays a choice, so that it is kept."""
    names = answers.troubles()
    strange = [trouble] if trouble.strip() and trouble not in names else []
    return {
        "label": label,
        "use": use,
        "units": units,
        "troubles": [(name, name == trouble) for name in (*strange, *names)],
        "whole": False,
        "beside": "",
    }


def _known(units: str) -> str:
    return units if units in words.UNITS else words.UNITS[0]


def _card(card: Card, use: str, units: str) -> dict[str, Any]:
    query = _query(card.label, use, units)
    return {
        "card": card,
        "use_text": use,
        "facts": card_view.cloth_facts(card, units),
        "parts": card_view.cloth_parts(card),
        "lines": card_view.working_lines(card, units),
        "others": card_view.other_lines(card, units),
        "values": card_view.cloth_values(card, units),
        "questions": _questions(card, use, units),
        "whole_link": f"?{urlencode({**query, 'window': '1'})}#press",
        "gone": _gone(card.label, use, units, ""),
        "pdf_link": f"card.pdf?{urlencode(query)}",
    }


def _questions(card: Card, use: str, units: str) -> list[tuple[str, list[tuple[str, str, str]]]]:
    """Return each question with drawing, words and link of its answers."""
    found = []
    for question in card_view.picture_questions(card):
        picks = [
            (drawing, said, "?" + urlencode(_query(f"{card.label}, {said}", use, units)))
            for drawing, said in question.answers
        ]
        found.append((question.text, picks))
    return found


def _press(card: Card, view: Mapping[str, Any] | None, units: str) -> dict[str, Any]:
    recipe = card.press.value
    figures = press_figures(card) if view else {}
    return {
        "press": press_view.press_view(recipe.as_dict(), units),
        "press_reason": card.press.reason.as_dict(),
        "never": [words.in_units(text, units) for text in recipe.never],
        "waiting": view is None and bool(recipe.passes),
        "what_ifs": odds_view.what_ifs(view) if view else (),
        "seconds": odds_view.second_rows(view) if view else (),
        "moved_most": tuple(odds_view.spoken(doubt) for doubt in view["moved_most"])
        if view
        else (),
        "figures": {name: Markup(svg) for name, svg in figures.items()},  # noqa: S704
        "units_text": lambda text: words.in_units(text, units),
    }
