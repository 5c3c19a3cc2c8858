"""The web application: the page, its parts, and the same answers as JSON."""

from __future__ import annotations

import asyncio
import logging
from pathlib import Path
from typing import Any

from fastapi import FastAPI, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response
from fastapi.staticfiles import StaticFiles
from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException

from samite.kernel.errors import InputError, SamiteError, TableError
from samite.services.card import Card, card_json
from samite.services.piece_json import piece_json
from samite.web import answers, pieces_view, render
from samite.web.figures import pdf
from samite.web.guard import Guard

HERE = Path(__file__).parent
LOG = logging.getLogger("samite.web")
USE_WORDS = 20
"""Most words of a use that are read."""


def make_app() -> FastAPI:
    """Make the application.

    Returns
    -------
    FastAPI
        With the page at ``/``, its parts under ``/part``, JSON under ``/api``.
    """
    app = FastAPI(title="samite", docs_url=None, redoc_url=None, openapi_url="/api/openapi.json")
    app.add_middleware(Guard)
    app.mount("/static", StaticFiles(directory=HERE / "static"), name="static")
    fonts = HERE.parent / "sheets" / "fonts"
    if fonts.is_dir():
        app.mount("/fonts", StaticFiles(directory=fonts), name="fonts")
    app.state.turn = asyncio.Semaphore(1)
    _add_pages(app)
    _add_pieces(app)
    _add_api(app)
    _add_errors(app)
    return app


def _add_pages(app: FastAPI) -> None:
    @app.get("/", response_class=HTMLResponse, include_in_schema=False)
    def page(request: Request) -> HTMLResponse:
        asked = Asked(request)
        if not asked.said:
            return HTMLResponse(render.start_page(asked.units))
        if "window" in request.query_params:
            made, view = _with_window(asked)
            return HTMLResponse(render.card_page(made, asked.use, asked.units, view))
        made = answers.card(asked.label, asked.use)
        return HTMLResponse(render.card_page(made, asked.use, asked.units, None))

    @app.get("/part/card", response_class=HTMLResponse, include_in_schema=False)
    def part_card(request: Request) -> HTMLResponse:
        asked = Asked(request)
        made = answers.card(asked.label, asked.use)
        return HTMLResponse(render.card_part(made, asked.use, asked.units, asked.turn, None))

    @app.get("/part/window", response_class=HTMLResponse, include_in_schema=False)
    async def part_window(request: Request) -> Response:
        asked = Asked(request)
        async with app.state.turn:
            if await request.is_disconnected():
                return Response(status_code=204)
            made, view = await run_in_threadpool(_with_window, asked)
        return HTMLResponse(render.card_part(made, asked.use, asked.units, asked.turn, view))

    @app.get("/rescue", response_class=HTMLResponse, include_in_schema=False)
    def rescue(request: Request) -> HTMLResponse:
        asked = Asked(request)
        view = answers.rescue(asked.trouble, asked.label) if asked.said or asked.trouble else None
        return HTMLResponse(
            render.rescue_page(asked.label, asked.use, asked.units, asked.trouble, view)
        )

    @app.get("/card.pdf", include_in_schema=False)
    def card_pdf(request: Request) -> Response:
        asked = Asked(request)
        return Response(
            pdf(answers.timed(asked.label, asked.use), asked.units),
            media_type="application/pdf",
            headers={"Content-Disposition": 'inline; filename="bench-card.pdf"'},
        )


def _add_pieces(app: FastAPI) -> None:
    @app.get("/pieces", response_class=HTMLResponse, include_in_schema=False)
    def pieces(request: Request) -> HTMLResponse:
        ask = pieces_view.read_ask(request.query_params.multi_items())
        units = request.query_params.get("units", "")
        return HTMLResponse(render.pieces_page(ask, request.url.query, units))

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


def _with_window(asked: Asked) -> tuple[Card, dict[str, Any]]:
    made = answers.timed(asked.label, asked.use)
    return made, answers.window(asked.label, asked.use)


class Asked:
    """What a request asks: label, use, units and trouble.

    Parameters
    ----------
    request : Request
        The request; its query holds ``label``, ``for`` (any number of times), ``units``, ``seq``,
        ``trouble``.
    """

    def __init__(self, request: Request) -> None:
        query = request.query_params
        self.label = query.get("label", "")
        self.use = ", ".join(word for word in query.getlist("for")[:USE_WORDS] if word.strip())
        self.trouble = query.get("trouble", "")
        self.units = answers.read_units(query.get("units", "metric"))
        turn = query.get("seq", "")
        self.turn = turn if turn.isdigit() else ""

    @property
    def said(self) -> bool:
        """Whether a label was given."""
        return bool(self.label.strip())


def _add_api(app: FastAPI) -> None:
    @app.get("/api/card")
    async def api_card(request: Request, label: str = "") -> JSONResponse:
        """Answer with the bench card, ``samite.card.v1``; ``for`` as on the page."""
        use = Asked(request).use
        async with app.state.turn:
            made = await run_in_threadpool(answers.timed, label, use)
        return JSONResponse(card_json(made))

    @app.get("/api/press")
    async def api_press(request: Request, label: str = "") -> JSONResponse:
        """Answer with the press window, ``samite.press.v1``; ``for`` as on the page."""
        use = Asked(request).use
        async with app.state.turn:
            view = await run_in_threadpool(answers.window, label, use)
        return JSONResponse(view)

    @app.get("/api/rescue")
    def api_rescue(label: str = "", trouble: str = "") -> JSONResponse:
        """Answer with what to try when it has gone wrong, ``samite.rescue.v1``."""
        return JSONResponse(answers.rescue(trouble, label))


def _add_errors(app: FastAPI) -> None:
    @app.exception_handler(SamiteError)
    async def refused(request: Request, error: SamiteError) -> Response:
        broken = isinstance(error, TableError) or not isinstance(error, InputError)
        if broken:
            LOG.error("%s: %s (%s)", error.code, error.message, error.where)
        return _answer(request, error.as_dict(), 500 if broken else 422)

    @app.exception_handler(HTTPException)
    async def not_there(request: Request, error: HTTPException) -> Response:
        shown = {
            "code": f"http-{error.status_code}",
            "message": "nothing is here" if error.status_code == 404 else str(error.detail),
            "where": request.url.path[:200],
            "hint": "start again at /",
        }
        return _answer(request, shown, error.status_code)

    @app.exception_handler(Exception)
    async def defect(request: Request, error: Exception) -> Response:
        LOG.error("defect while answering %s", request.url.path, exc_info=error)
        shown = {
            "code": "defect",
            "message": "samite itself failed on this",
            "where": request.url.path[:200],
            "hint": "what you typed is kept; the terminal that runs samite says more",
        }
        return _answer(request, shown, 500)


def _answer(request: Request, error: dict[str, Any], status: int) -> Response:
    path = request.url.path
    if path.startswith("/api/"):
        return JSONResponse(error, status_code=status)
    query = request.query_params
    if path.startswith("/part/"):
        turn = query.get("seq", "")
        return HTMLResponse(render.error_part(error, turn if turn.isdigit() else ""), status)
    use = ", ".join(word for word in query.getlist("for")[:USE_WORDS] if word.strip())
    typed = (query.get("label", ""), use, query.get("units", "metric"))
    if path == "/rescue":
        trouble = query.get("trouble", "")
        return HTMLResponse(render.rescue_page(*typed, trouble, error=error), status)
    if path == "/pieces":
        return HTMLResponse(_pieces_refused(request, error), status)
    return HTMLResponse(render.error_page(error, *typed), status)


def _pieces_refused(request: Request, error: dict[str, Any]) -> str:
    """Return the page with what was typed kept, or empty where even that cannot be read."""
    units = request.query_params.get("units", "")
    try:
        ask = pieces_view.read_ask(request.query_params.multi_items())
        return render.pieces_page(ask, request.url.query, units, error)
    except SamiteError:
        return render.pieces_page(pieces_view.read_ask([]), "", units, error)
