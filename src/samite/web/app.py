"""The web application: the page, its parts, and the same answers as JSON."""

from __future__ import annotations

import asyncio
import logging
import os
from pathlib import Path
from typing import Any

from fastapi import FastAPI, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response
from fastapi.staticfiles import StaticFiles
from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException

from samite.kernel.errors import (
    ChangedMeanwhileError,
    InfeasibleError,
    InputError,
    SamiteError,
    StoreError,
)
from samite.services.card import Card, card_json
from samite.services.place import store_path
from samite.web import answers, render
from samite.web.asked import Asked, typed_of
from samite.web.body_pages import add_body_pages
from samite.web.drawing_pages import add_drawing_pages, drawing_error_page
from samite.web.fibre_pages import add_fibre_pages
from samite.web.figures import pdf
from samite.web.guard import Guard
from samite.web.iron_check_pages import add_iron_check_pages
from samite.web.job_pages import add_job_pages
from samite.web.lay_pages import add_lay_pages, lay_error_page
from samite.web.learning_pages import add_learning_pages
from samite.web.piece_pages import add_piece_pages, piece_error_page
from samite.web.render_swatches import journal_error_page
from samite.web.seam_pages import add_seam_pages, seam_error_page
from samite.web.swatch_pages import add_swatch_pages
from samite.web.work_pages import add_work_pages

HERE = Path(__file__).parent
LOG = logging.getLogger("samite.web")


def make_app(store: Path | None = None) -> FastAPI:
    """Make the application.

    Parameters
    ----------
    store : Path or None
        File of the store; None for the one that the environment names.

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
    app.state.store = store or store_path("", os.environ)
    _add_pages(app)
    _add_api(app)
    add_seam_pages(app)
    kept = app.state.store
    add_piece_pages(app, kept)
    add_body_pages(app, kept)
    add_drawing_pages(app)
    add_lay_pages(app, kept)
    add_swatch_pages(app, kept)
    add_learning_pages(app, kept)
    add_fibre_pages(app)
    add_iron_check_pages(app, kept)
    add_job_pages(app, kept)
    add_work_pages(app, kept)
    _add_errors(app)
    return app


def _add_pages(app: FastAPI) -> None:
    @app.get("/", response_class=HTMLResponse, include_in_schema=False)
    def page(request: Request) -> HTMLResponse:
        asked = Asked(request)
        if not asked.said:
            return HTMLResponse(render.start_page(asked.typed))
        if "window" in request.query_params:
            made, view = _with_window(asked)
            return HTMLResponse(render.card_page(made, asked.typed, view))
        return HTMLResponse(
            render.card_page(answers.card(*asked.question, asked.past), asked.typed, None)
        )

    @app.get("/part/card", response_class=HTMLResponse, include_in_schema=False)
    def part_card(request: Request) -> HTMLResponse:
        asked = Asked(request)
        made = answers.card(*asked.question, asked.past)
        return HTMLResponse(render.card_part(made, asked.typed, asked.turn, None))

    @app.get("/part/window", response_class=HTMLResponse, include_in_schema=False)
    async def part_window(request: Request) -> Response:
        asked = Asked(request)
        async with app.state.turn:
            if await request.is_disconnected():
                return Response(status_code=204)
            made, view = await run_in_threadpool(_with_window, asked)
        return HTMLResponse(render.card_part(made, asked.typed, asked.turn, view))

    @app.get("/rescue", response_class=HTMLResponse, include_in_schema=False)
    def rescue(request: Request) -> HTMLResponse:
        asked = Asked(request)
        view = answers.rescue(asked.trouble, asked.label) if asked.said or asked.trouble else None
        return HTMLResponse(render.rescue_page(asked.typed, asked.trouble, view))

    @app.get("/card.pdf", include_in_schema=False)
    def card_pdf(request: Request) -> Response:
        asked = Asked(request)
        return Response(
            pdf(answers.timed(*asked.question, asked.past), asked.units),
            media_type="application/pdf",
            headers={"Content-Disposition": 'inline; filename="bench-card.pdf"'},
        )


def _with_window(asked: Asked) -> tuple[Card, dict[str, Any]]:
    return answers.timed(*asked.question, asked.past), answers.window(*asked.question, asked.past)


def _add_api(app: FastAPI) -> None:
    @app.get("/api/card")
    async def api_card(request: Request, label: str = "") -> JSONResponse:
        """Answer with the bench card, ``samite.card.v1``; ``for`` and the iron as on the page."""
        asked = Asked(request)
        _, use, iron = asked.question
        async with app.state.turn:
            made = await run_in_threadpool(answers.timed, label, use, iron, asked.past)
        return JSONResponse(card_json(made))

    @app.get("/api/press")
    async def api_press(request: Request, label: str = "") -> JSONResponse:
        """Answer with the press window, ``samite.press.v1``; ``for`` and the iron as on the page."""
        asked = Asked(request)
        _, use, iron = asked.question
        async with app.state.turn:
            view = await run_in_threadpool(answers.window, label, use, iron, asked.past)
        return JSONResponse(view)

    @app.get("/api/rescue")
    def api_rescue(label: str = "", trouble: str = "") -> JSONResponse:
        """Answer with what to try when it has gone wrong, ``samite.rescue.v1``."""
        return JSONResponse(answers.rescue(trouble, label))


def _add_errors(app: FastAPI) -> None:
    @app.exception_handler(SamiteError)
    async def refused(request: Request, error: SamiteError) -> Response:
        status = _status(error)
        if status >= 500:
            LOG.error("%s: %s (%s)", error.code, error.message, error.where)
        return _answer(request, error.as_dict(), status)

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


def _status(error: SamiteError) -> int:
    if isinstance(error, InputError | InfeasibleError):
        return 422
    if isinstance(error, ChangedMeanwhileError):
        return 409
    return 503 if isinstance(error, StoreError) else 500


def _answer(request: Request, error: dict[str, Any], status: int) -> Response:
    path = request.url.path
    if path.startswith("/api/"):
        return JSONResponse(error, status_code=status)
    query = request.query_params
    if path.startswith("/part/"):
        turn = query.get("seq", "")
        return HTMLResponse(render.error_part(error, turn if turn.isdigit() else ""), status)
    if path == "/seam":
        return HTMLResponse(seam_error_page(request, error), status)
    if path == "/pieces":
        return HTMLResponse(piece_error_page(request, error, request.app.state.store), status)
    if path.startswith(("/pieces-own", "/own.")):
        return HTMLResponse(drawing_error_page(error), status)
    if path.startswith(("/lay", "/strip")):
        return HTMLResponse(lay_error_page(request, error), status)
    if path.startswith(("/swatch", "/photo", "/iron-check", "/job", "/work")):
        return HTMLResponse(journal_error_page(error), status)
    typed = typed_of(request)
    if path == "/rescue":
        trouble = query.get("trouble", "")
        return HTMLResponse(render.rescue_page(typed, trouble, error=error), status)
    return HTMLResponse(render.error_page(error, typed), status)
