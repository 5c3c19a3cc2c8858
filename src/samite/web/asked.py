"""What a request asks, in the words of its address."""

from __future__ import annotations

from pathlib import Path

from fastapi import Request

from samite.kernel.errors import StoreError
from samite.services.past import Past, past_of
from samite.tables.irons import Iron
from samite.web import answers
from samite.web.iron_view import iron_of, typed_fields
from samite.web.typed import Typed

USE_WORDS = 20
"""Most words of a use that are read."""


class Asked:
    """What a request asks: label, use, units, iron and trouble.

    Parameters
    ----------
    request : Request
        The request; its query holds ``label``, ``for`` (any number of times), ``units``, ``seq``,
        ``trouble``, and the fields of the iron.
    """

    def __init__(self, request: Request) -> None:
        query = request.query_params
        self.typed = typed_of(request)
        self.label = self.typed.label
        self.trouble = query.get("trouble", "")
        self.units = answers.read_units(self.typed.units)
        turn = query.get("seq", "")
        self.turn = turn if turn.isdigit() else ""
        self._store: Path = request.app.state.store

    @property
    def question(self) -> tuple[str, str, Iron | None]:
        """Label, use and iron."""
        return self.label, self.typed.use, iron_of(self.typed.iron)

    @property
    def past(self) -> Past | None:
        """What the journal holds of the cloth; None if it holds nothing."""
        if not self.said:
            return None
        try:
            return past_of(self._store, self.label)
        except StoreError:
            return None  # the card comes all the same; the journal's own page tells what is wrong

    @property
    def said(self) -> bool:
        """Whether a label was given."""
        return bool(self.label.strip())


def typed_of(request: Request) -> Typed:
    """Return what was typed.

    Parameters
    ----------
    request : Request
        The request.

    Returns
    -------
    Typed
        Label, use, units and iron, none of them read yet.
    """
    query = request.query_params
    use = ", ".join(word for word in query.getlist("for")[:USE_WORDS] if word.strip())
    units = query.get("units", "metric")
    return Typed(query.get("label", ""), use, units, typed_fields(query))
