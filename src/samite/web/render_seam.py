"""The page of a joint, filled."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from markupsafe import Markup

from samite.seam.sides import BEHIND
from samite.services.joint_press import joint_press_words
from samite.services.seam import SeamQuestion, SeamSheet
from samite.services.seam_learnt import seam_taught_svg
from samite.tables.sewing import sewing_entries
from samite.web import seam_view, words
from samite.web.figures import seam_figures
from samite.web.fill import fill_page
from samite.web.typed import Typed

EXAMPLES = (
    (
        "Organza sleeves to a velvet bodice",
        "silk organza, 140 cm",
        "95% polyester 5% elastane stretch velvet",
    ),
    ("Lamé to its lining", "woven lame, 55% metallised polyester 45% polyamide", "acetate lining"),
    ("Brocade to tulle", "cotton brocade, 300 g/m2", "polyamide tulle, 30 g/m2"),
    (
        "Faux leather to chiffon",
        "faux leather, polyurethane on a polyester knit",
        "polyester chiffon, 60 g/m2",
    ),
)
"""Joints of the built-in start page: what it is for, and two labels."""


def seam_page(
    question: SeamQuestion,
    typed: Typed,
    sheet: SeamSheet | None = None,
    error: Mapping[str, Any] | None = None,
) -> str:
    """Return the page of a joint.

    Parameters
    ----------
    question : SeamQuestion
        What was asked, as typed.
    typed : Typed
        First label, use, units and iron.
    sheet : SeamSheet or None
        The answer.
    error : mapping of str to str or None
        What is wrong with what was given, in the one shape.

    Returns
    -------
    str
        HTML.
    """
    shown = typed.shown_units
    texts = [*question.labels, "", "", ""][:3]
    asked = ("What the first bolt says", "What the second says", "A third, if there is one")
    names = ("label", "label2", "label3")
    page = seam_view.seam_page_view(sheet, shown) if sheet else None
    drawn = seam_figures(sheet, shown) if sheet else {}
    return fill_page(
        "seam.html",
        "Seam",
        typed,
        labels=list(zip(names, texts, asked, strict=True)),
        asked=question,
        more_open=any(_more(question).values()),
        places=list(sewing_entries("movement")),
        behinds=BEHIND,
        iron=typed.iron,
        page=page,
        press_words=_press_words(sheet, shown),
        figures={name: _markup(svg) for name, svg in drawn.items()},
        learnt=_learnt(page),
        swatches_links=_swatches_links(page, sheet, typed),
        svg_link=f"seam.svg?{typed.link(**_others(question), **_more(question))}",
        examples=[
            (role, typed.with_label(one, "").link(label2=two)) for role, one, two in EXAMPLES
        ],
        error=error,
        turn="",
        units_text=lambda text: words.in_units(text, shown),
    )


def _learnt(page: seam_view.SeamPage | None) -> Markup | None:
    if page is None or not page.view["learnt"]:
        return None
    drawn = seam_taught_svg(page.view["learnt"])
    return Markup(drawn) if drawn else None  # noqa: S704


def _swatches_links(
    page: seam_view.SeamPage | None, sheet: SeamSheet | None, typed: Typed
) -> list[tuple[str, str]]:
    """Return where the swatches of each cloth stand, which can be set aside there."""
    if page is None or sheet is None or not page.view["learnt"]:
        return []
    texts = dict.fromkeys(sheet.labels)
    return [(text, typed.with_label(text, "").link()) for text in texts]


def _markup(svg: str | list[str]) -> Markup | list[Markup]:
    return [Markup(one) for one in svg] if isinstance(svg, list) else Markup(svg)  # noqa: S704


def _press_words(sheet: SeamSheet | None, units: str) -> str:
    if sheet is None or sheet.press is None:
        return ""
    return words.in_units(joint_press_words(sheet.press.recipe.value), units)


def _others(question: SeamQuestion) -> dict[str, str]:
    return dict(zip(("label2", "label3"), question.labels[1:], strict=False))


def _more(question: SeamQuestion) -> dict[str, str]:
    return {
        "run": question.runs,
        "stitch": question.stitch,
        "seam": question.form,
        "thread": question.thread,
        "place": question.place,
        "ease": question.negative_ease,
        "behind": question.behind,
        "workroom": question.workroom,
    }
