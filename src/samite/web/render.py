"""The page of a card and that of a rescue, filled."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from markupsafe import Markup

from samite.services.card import Card, seam_order
from samite.services.iron import iron_words
from samite.services.learning import taught_words
from samite.services.prefill import card_fields
from samite.web import answers, card_view, iron_view, odds_view, press_view, use_view, words
from samite.web.figures import hold_figure, press_figures, recipe_figure
from samite.web.fill import fill, fill_page
from samite.web.typed import Typed

HERE = "Card"


def _form(typed: Typed, error: Mapping[str, Any] | None = None) -> dict[str, Any]:
    title, intro, bolts = answers.bolts()
    where = str(error["where"]) if error else ""
    return {
        "label": typed.label,
        "use": use_view.use_view(typed.use),
        "iron": iron_view.iron_view(typed.iron, where),
        "units": typed.shown_units,
        "title": title,
        "intro": intro,
        "bolts": [(bolt, typed.with_label(bolt.label, bolt.use).link()) for bolt in bolts],
        "error": error,
        "beside": _beside(error),
        "card": None,
        "turn": "",
    }


def _beside(error: Mapping[str, Any] | None) -> str:
    """Return what an error stands beside: ``label``, ``iron`` or nothing."""
    if error is None:
        return ""
    return "iron" if str(error["where"]).startswith(iron_view.BESIDE) else "label"


def start_page(typed: Typed) -> str:
    """Return the page before a label is given.

    Parameters
    ----------
    typed : Typed
        What stands in the form.

    Returns
    -------
    str
        HTML.
    """
    return fill_page("page.html", HERE, typed, **_form(typed))


def card_page(card: Card, typed: Typed, view: Mapping[str, Any] | None) -> str:
    """Return the page with a card.

    Parameters
    ----------
    card : Card
        The card.
    typed : Typed
        What stands in the form.
    view : mapping of str to object or None
        The press window, if it was asked for at once.

    Returns
    -------
    str
        HTML.
    """
    values = _form(typed) | _card(card, typed) | _press(card, view, typed.units)
    return fill_page("page.html", HERE, typed, **values)


def card_part(card: Card, typed: Typed, turn: str, view: Mapping[str, Any] | None) -> str:
    """Return the card alone.

    Parameters
    ----------
    card : Card
        The card.
    typed : Typed
        What stands in the form.
    turn : str
        Number of the label in the order of typing.
    view : mapping of str to object or None
        The press window, if it has been computed.

    Returns
    -------
    str
        HTML.
    """
    values = _card(card, typed) | _press(card, view, typed.units)
    return fill("card.html", **values, turn=turn, units=typed.units)


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
    return fill("error.html", error=error, turn=turn, beside=_beside(error))


def error_page(error: Mapping[str, Any], typed: Typed) -> str:
    """Return the page with what was typed and what is wrong with it.

    Parameters
    ----------
    error : mapping of str to str
        In the one shape.
    typed : Typed
        What was typed.

    Returns
    -------
    str
        HTML.
    """
    return fill_page("page.html", HERE, typed, **_form(typed, error))


def rescue_page(
    typed: Typed,
    trouble: str,
    view: Mapping[str, Any] | None = None,
    error: Mapping[str, Any] | None = None,
) -> str:
    """Return the page of what has gone wrong.

    Parameters
    ----------
    typed : Typed
        What was typed; use and iron are kept for the way back.
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
    shown = typed.shown_units
    beside = ("trouble" if error["where"] == "trouble" else "label") if error else ""
    return fill_page(
        "rescue.html",
        "Rescue",
        typed,
        gone=_gone(typed, trouble) | {"whole": True, "beside": beside},
        beside=beside,
        trouble=trouble,
        view=view,
        error=error,
        turn="",
        back_link=f"./?{typed.link()}",
        units_text=lambda text: words.in_units(text, shown),
    )


def _gone(typed: Typed, trouble: str) -> dict[str, Any]:
    """Return the form of troubles; a trouble in other words stays a choice, so that it is kept."""
    names = answers.troubles()
    strange = [trouble] if trouble.strip() and trouble not in names else []
    return {
        "label": typed.label,
        "use": typed.use,
        "units": typed.shown_units,
        "iron": typed.iron,
        "troubles": [(name, name == trouble) for name in (*strange, *names)],
        "whole": False,
        "beside": "",
    }


def _card(card: Card, typed: Typed) -> dict[str, Any]:
    units = typed.units
    plain = replace(typed, iron=())
    return {
        "card": card,
        "use_text": typed.use,
        "facts": card_view.cloth_facts(card, units),
        "parts": card_view.cloth_parts(card),
        "lines": card_view.working_lines(card, units),
        "others": card_view.other_lines(card, units),
        "values": card_view.cloth_values(card, units),
        "questions": _questions(card, typed),
        "swatch_link": f"./swatch?{plain.link(**card_fields(card))}",
        "swatches_link": f"./swatches?{Typed(card.label, '', units).link()}",
        "next_link": f"./swatch-next?{plain.link()}",
        "fibre_link": f"./fibre?{plain.link()}"
        if any("fibre" in item for item in card.cloth.unknown)
        else "",
        "whole_link": f"?{typed.link(window='1')}#press",
        "gone": _gone(typed, ""),
        "pdf_link": f"card.pdf?{typed.link()}",
        "seam_link": f"seam?{typed.link()}",
    }


def _questions(card: Card, typed: Typed) -> list[tuple[str, list[tuple[str, str, str]]]]:
    """Return each question with drawing, words and link of its answers."""
    found = []
    for question in card_view.picture_questions(card):
        picks = [
            (drawing, said, "?" + typed.with_label(f"{card.label}, {said}").link())
            for drawing, said in question.answers
        ]
        found.append((question.text, picks))
    return found


def _press(card: Card, view: Mapping[str, Any] | None, units: str) -> dict[str, Any]:
    recipe = card.press.value
    figures = press_figures(card) | {"hold-curve": hold_figure(view)} if view else {}
    shown = recipe.as_dict()
    return {
        "press": press_view.press_view(shown, units),
        "recipe_steps": press_view.steps(shown, seam_order(card.sewing), view, units),
        "recipe_strip": Markup(recipe_figure(card, view)),  # noqa: S704
        "offers": press_view.offers(view, units) if view else (),
        "weak_parts": [words.in_units(part["words"], units) for part in view["weak_parts"]]
        if view
        else [],
        "counted_for": words.in_units(iron_words(card.iron), units),
        "learnt": [words.in_units(told, units) for told in taught_words(card.taught)]
        if card.taught
        else (),
        "press_reason": card.press.reason.as_dict(),
        "never": [words.in_units(text, units) for text in recipe.never],
        "waiting": view is None and bool(recipe.passes),
        "what_ifs": odds_view.what_ifs(view) if view else (),
        "seconds": odds_view.second_rows(view) if view else (),
        "moved_most": tuple(odds_view.spoken(doubt) for doubt in view["moved_most"])
        if view
        else (),
        "figures": {name: Markup(svg) for name, svg in figures.items() if svg},  # noqa: S704
        "units_text": lambda text: words.in_units(text, units),
    }
