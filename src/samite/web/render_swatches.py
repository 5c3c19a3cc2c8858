"""Pages of the journal, filled."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from samite.services.journal_views import PAGE
from samite.web import words
from samite.web.fill import fill_page
from samite.web.swatch_view import FormView
from samite.web.typed import Typed

HERE = "Swatches"


def swatch_form_page(form: FormView) -> str:
    """Return the form that keeps a swatch.

    Parameters
    ----------
    form : FormView
        What stands in it, and what is wrong.

    Returns
    -------
    str
        HTML.
    """
    typed = Typed(form.text("label"), form.use, form.units)
    return fill_page("swatch_form.html", HERE, typed, form=form)


def journal_error_page(error: Mapping[str, Any]) -> str:
    """Return what the store cannot do, on a page of its own.

    Parameters
    ----------
    error : mapping of str to str
        In the one shape.

    Returns
    -------
    str
        HTML.
    """
    return fill_page("journal_error.html", HERE, Typed(), error=error, turn="")


def cloths_page(cloths: list[dict[str, Any]], turns: tuple[str, str], units: str) -> str:
    """Return the list of the cloths that have swatches.

    Parameters
    ----------
    cloths : list of dict of str to object
        Key, label and count of each.
    turns : tuple of (str, str)
        What undoing would undo, and doing again would do.
    units : str
        ``metric`` or ``imperial``.

    Returns
    -------
    str
        HTML.
    """
    links = [(item, f"./swatches?{Typed(item['key'], '', units).link()}") for item in cloths]
    return fill_page(
        "swatches.html", HERE, Typed(units=units), cloth=None, cloths=links, turns=turns
    )


def swatches_page(
    cloth: Mapping[str, Any], skip: int, kept: bool, turns: tuple[str, str], units: str
) -> str:
    """Return the swatches of a cloth.

    Parameters
    ----------
    cloth : mapping of str to object
        One of ``cloths`` in the form ``samite.swatches.v1``, its swatches with their words.
    skip : int
        Newer ones left out [1].
    kept : bool
        Whether one was just kept.
    turns : tuple of (str, str)
        What undoing would undo, and doing again would do.
    units : str
        ``metric`` or ``imperial``.

    Returns
    -------
    str
        HTML.
    """
    shown = len(cloth["swatches"])
    here = Typed(cloth["key"], "", units)
    older = f"./swatches?{here.link(skip=str(skip + shown))}"
    newer = f"./swatches?{here.link(skip=str(max(skip - PAGE, 0)))}"
    typed = Typed(cloth["label"], "", units)
    label = typed.link()
    return fill_page(
        "swatches.html",
        HERE,
        typed,
        cloth=cloth,
        skip=skip,
        kept=kept,
        turns=turns,
        older_link=older if skip + shown < cloth["count"] else "",
        newer_link=newer if skip else "",
        new_link=f"./swatch?{label}",
        card_link=f"./?{label}",
        next_link=f"./swatch-next?{here.link()}",
        learnt_link=f"./swatch-learnt?{here.link()}",
        units_text=lambda text: words.in_units(text, units),
    )
