"""Addresses that keep, bin and erase bodies; each sends the browser back to the pieces."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, date, datetime
from pathlib import Path
from urllib.parse import urlencode

from fastapi import FastAPI, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData

from samite.kernel.errors import InputError
from samite.services import bodies
from samite.web import pieces_view
from samite.web.piece_pages import pieces_page
from samite.web.pieces_view import MOST_FIELDS, PagesAsk
from samite.web.same_site import require_same_site
from samite.web.typed import Typed


def add_body_pages(app: FastAPI, store: Path) -> None:
    """Add the addresses of the bodies.

    Parameters
    ----------
    app : FastAPI
        The application.
    store : Path
        File of the store.
    """

    @app.post("/body-keep", include_in_schema=False)
    async def keep(request: Request) -> Response:
        asked, sent = await _form(request)
        name = _text(sent, "keep_as").strip()
        try:
            await run_in_threadpool(bodies.keep_body, store, name, asked.ask, _today())
        except InputError as error:
            shown = error.as_dict()
            return HTMLResponse(pieces_page(asked, Typed(), store, shown), 422)
        return _see([*asked.query, ("kept", name)])

    @app.post("/body-bin", include_in_schema=False)
    async def throw(request: Request) -> Response:
        _, sent = await _form(request)
        back = bool(_text(sent, "back"))
        await run_in_threadpool(bodies.bin_body, store, _text(sent, "name"), _today(), back=back)
        return _see([])

    @app.post("/body-erase", include_in_schema=False)
    async def erase(request: Request) -> Response:
        _, sent = await _form(request)
        await run_in_threadpool(bodies.erase_body, store, _text(sent, "name"), _today())
        return _see([])


async def _form(request: Request) -> tuple[PagesAsk, FormData]:
    require_same_site(request)
    sent = await request.form(max_files=0, max_fields=MOST_FIELDS)
    texts = [(name, value) for name, value in sent.multi_items() if isinstance(value, str)]
    return pieces_view.read_ask(texts), sent


def _text(sent: FormData, name: str) -> str:
    found = sent.get(name, "")
    return found if isinstance(found, str) else ""


def _see(query: Sequence[tuple[str, str]]) -> RedirectResponse:
    """Send the browser to the page, so that reloading it sends nothing twice."""
    return RedirectResponse(f"./pieces?{urlencode(query)}" if query else "./pieces", 303)


def _today() -> date:
    return datetime.now(UTC).astimezone().date()
