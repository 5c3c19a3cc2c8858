"""Templates, and the frame with the way to every page."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from typing import Any

from jinja2 import Environment, PackageLoader, StrictUndefined, select_autoescape

from samite.web import use_view, words
from samite.web.typed import Typed

STATIC = Path(__file__).parent / "static"
LONGEST_LABEL = 4000
"""Characters that the paste box takes."""

LONGEST_FILE = 8000
"""Characters that the box of the iron's file takes."""


@dataclass(frozen=True, slots=True)
class Way:
    """One entry of the way to every page.

    Parameters
    ----------
    words : str
        Its name.
    link : str
        Its address.
    here : bool
        Whether it is the page that one is on.
    """

    words: str
    link: str
    here: bool


PAGES = (
    ("Card", "./", True),
    ("Seam", "./seam", True),
    ("Pieces", "./pieces", False),
    ("Work", "./work", False),
    ("Lay", "./lay", True),
    ("Swatches", "./swatches", False),
    ("Jobs", "./jobs", False),
    ("Rescue", "./rescue", True),
)
"""Every page in working order: its name, its address, and whether it asks about a label."""


def ways(here: str, typed: Typed) -> tuple[Way, ...]:
    """Return the way to every page.

    Parameters
    ----------
    here : str
        Name of the page that one is on.
    typed : Typed
        What stands in the form; pages that ask about a label keep it.

    Returns
    -------
    tuple of Way
        One a page, in the same order everywhere.
    """
    found = []
    for name, address, of_label in PAGES:
        query = (typed if of_label else Typed(units=typed.units)).link()
        found.append(Way(name, f"{address}?{query}" if query else address, name == here))
    return tuple(found)


def fill(name: str, **values: Any) -> str:
    """Return a part of a page.

    Parameters
    ----------
    name : str
        The template.
    **values : object
        What it shows.

    Returns
    -------
    str
        HTML.
    """
    return _environment().get_template(name).render(values)


def fill_page(name: str, here: str, typed: Typed, **values: Any) -> str:
    """Return a whole page.

    Parameters
    ----------
    name : str
        The template.
    here : str
        Name of the page in `PAGES`.
    typed : Typed
        What stands in the form.
    **values : object
        What it shows.

    Returns
    -------
    str
        HTML.
    """
    units = typed.shown_units
    shown = {"units": units, "ways": ways(here, replace(typed, units=units)), **values}
    return fill(name, **shown)


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
        longest_file=LONGEST_FILE,
    )
    return environment


def _version() -> str:
    """Return a short hash of the files of the page, so that a new one is fetched."""
    digest = hashlib.sha256()
    for path in sorted(STATIC.rglob("*")):
        if path.is_file():
            digest.update(path.read_bytes())
    return digest.hexdigest()[:10]
