"""Addresses of the pieces: the page, its files, the same as JSON."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

from fastapi import FastAPI, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response
from starlette.exceptions import HTTPException

from samite.kernel.errors import SamiteError, StoreError
from samite.services.bodies import body_names, with_body
from samite.services.fitted_swatches import with_swatches
from samite.services.piece_json import piece_json
from samite.web import pieces_view
from samite.web.asked import typed_of
from samite.web.fill import fill_page
from samite.web.pieces_view import PagesAsk
from samite.web.typed import Typed

KINDS = ("svg", "pdf", "dxf", "sheet.svg", "sheet.pdf")
"""Endings of the files that are given."""


def add_piece_pages(app: FastAPI, store: Path) -> None:
    """Add the addresses of the pieces.

    Parameters
    ----------
    app : FastAPI
        The application.
    store : Path
        File of the store, for the bodies that are kept.
    """

    @app.get("/pieces", response_class=HTMLResponse, include_in_schema=False)
    def pieces(request: Request) -> HTMLResponse:
        asked = _asked(request, store)
        kept = request.query_params.get("kept", "")[:60]
        return HTMLResponse(pieces_page(asked, typed_of(request), store, kept=kept))

    @app.get("/pieces.{kind}", include_in_schema=False)
    def pieces_file(request: Request, kind: str) -> Response:
        if kind not in KINDS:
            raise HTTPException(404)
        asked = _asked(request, store)
        paper = request.query_params.get("paper", "a4")
        data, media = pieces_view.file_of(asked, kind, paper)
        name = f'inline; filename="{asked.ask.shape or "pieces"}.{kind}"'
        return Response(data, media_type=media, headers={"Content-Disposition": name})

    @app.get("/api/piece")
    def api_piece(request: Request) -> JSONResponse:
        """Answer with computed pieces, ``samite.piece.v1``; the query as of the page."""
        made = [piece_json(one) for one in pieces_view.costume_of(_asked(request, store)).answers]
        several = {"format": "samite.costume.v1", "shapes": made}
        return JSONResponse(made[0] if len(made) == 1 else several)


def _asked(request: Request, store: Path) -> PagesAsk:
    """Read what is asked; a body that is kept fills in what is not typed."""
    asked = pieces_view.read_ask(request.query_params.multi_items())
    name = request.query_params.get("body", "").strip()
    ask = with_body(asked.ask, store, name) if name else asked.ask
    try:
        ask = with_swatches(ask, store, asked.others)
    except StoreError:
        return replace(asked, ask=ask)
    return replace(asked, ask=ask)


def pieces_page(
    asked: PagesAsk,
    typed: Typed,
    store: Path,
    error: Mapping[str, Any] | None = None,
    kept: str = "",
) -> str:
    """Return the page of pieces from measures.

    Parameters
    ----------
    asked : PagesAsk
        What is asked.
    typed : Typed
        What else the address says.
    store : Path
        File of the store.
    error : mapping of str to str or None
        What is wrong with it, in the one shape.
    kept : str
        Name of a body that was just kept.

    Returns
    -------
    str
        HTML.
    """
    values = pieces_view.page_values(asked, error, typed.shown_units)
    bodies, binned = _bodies(store)
    return fill_page(
        "pieces.html", "Pieces", typed, **values, query=urlencode(asked.query), bodies=bodies,
        binned=binned, kept=kept,
    )  # fmt: skip


def _bodies(store: Path) -> tuple[Sequence[str], Sequence[str]]:
    """Return the names that are kept; a store that cannot be read takes no page down."""
    try:
        return body_names(store), body_names(store, binned=True)
    except SamiteError:
        return (), ()


def piece_error_page(request: Request, error: dict[str, Any], store: Path) -> str:
    """Return the page with what was typed kept, or empty where even that cannot be read.

    Parameters
    ----------
    request : Request
        What was asked.
    error : dict of str to str
        In the one shape.
    store : Path
        File of the store.

    Returns
    -------
    str
        HTML.
    """
    typed = typed_of(request)
    try:
        asked = pieces_view.read_ask(request.query_params.multi_items())
        return pieces_page(asked, typed, store, error)
    except SamiteError:
        return pieces_page(pieces_view.read_ask([]), typed, store, error)
