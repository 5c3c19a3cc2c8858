"""Addresses of the pieces: the page, its files, the same as JSON."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from fastapi import FastAPI, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response
from starlette.exceptions import HTTPException

from samite.kernel.errors import SamiteError
from samite.services.piece import PieceAsk
from samite.services.piece_json import piece_json
from samite.web import pieces_view
from samite.web.asked import typed_of
from samite.web.fill import fill_page
from samite.web.typed import Typed


def add_piece_pages(app: FastAPI) -> None:
    """Add the addresses of the pieces.

    Parameters
    ----------
    app : FastAPI
        The application.
    """

    @app.get("/pieces", response_class=HTMLResponse, include_in_schema=False)
    def pieces(request: Request) -> HTMLResponse:
        ask = pieces_view.read_ask(request.query_params.multi_items())
        return HTMLResponse(pieces_page(ask, request.url.query, typed_of(request)))

    @app.get("/pieces.{kind}", include_in_schema=False)
    def pieces_file(request: Request, kind: str) -> Response:
        if kind not in {"svg", "pdf", "dxf"}:
            raise HTTPException(404)
        ask = pieces_view.read_ask(request.query_params.multi_items())
        paper = request.query_params.get("paper", "a4")
        data, media = pieces_view.file_of(ask, kind, paper)
        name = f'inline; filename="{ask.shape or "pieces"}.{kind}"'
        return Response(data, media_type=media, headers={"Content-Disposition": name})

    @app.get("/api/piece")
    def api_piece(request: Request) -> JSONResponse:
        """Answer with computed pieces, ``samite.piece.v1``; the query as of the page."""
        ask = pieces_view.read_ask(request.query_params.multi_items())
        return JSONResponse(piece_json(pieces_view.answer(ask)))


def pieces_page(
    ask: PieceAsk, query: str, typed: Typed, error: Mapping[str, Any] | None = None
) -> str:
    """Return the page of pieces from measures.

    Parameters
    ----------
    ask : PieceAsk
        What is asked.
    query : str
        The query as it came, for the links to files.
    typed : Typed
        What else the address says.
    error : mapping of str to str or None
        What is wrong with it, in the one shape.

    Returns
    -------
    str
        HTML.
    """
    values = pieces_view.page_values(ask, error)
    return fill_page("pieces.html", "Pieces", typed, **values, query=query)


def piece_error_page(request: Request, error: dict[str, Any]) -> str:
    """Return the page with what was typed kept, or empty where even that cannot be read.

    Parameters
    ----------
    request : Request
        What was asked.
    error : dict of str to str
        In the one shape.

    Returns
    -------
    str
        HTML.
    """
    typed = typed_of(request)
    try:
        ask = pieces_view.read_ask(request.query_params.multi_items())
        return pieces_page(ask, request.url.query, typed, error)
    except SamiteError:
        return pieces_page(pieces_view.read_ask([]), "", typed, error)
