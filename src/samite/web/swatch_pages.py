"""Addresses of the journal: the list, the form, and what changes the store."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

from fastapi import FastAPI, Request
from fastapi.responses import HTMLResponse, JSONResponse, RedirectResponse, Response
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData, UploadFile

from samite.kernel.errors import InputError, SamiteError
from samite.services import bin_of_store, journal, journal_views, stock
from samite.services.prefill import card_fields
from samite.services.swatch_form import OTHER_FIELDS, PRESS_FIELDS, SEW_FIELDS, Filled, read_form
from samite.swatch.trial import MOST_PHOTOS
from samite.web import answers, render_swatches
from samite.web.same_site import require_same_site
from samite.web.swatch_view import DEFAULTS, FormView, shown_problems, swatch_lines

FIELDS = (*PRESS_FIELDS, *SEW_FIELDS, *OTHER_FIELDS)
"""Every field that is read."""

MOST_FIELDS = 120
"""Most parts of a form that are read."""


def add_swatch_pages(app: FastAPI, store: Path) -> None:
    """Add the addresses of the journal.

    Parameters
    ----------
    app : FastAPI
        The application.
    store : Path
        File of the store.
    """
    _add_list(app, store)
    _add_form(app, store)
    _add_changes(app, store)

    @app.get("/api/swatches")
    def api_swatches(label: str = "", skip: int = 0) -> JSONResponse:
        """Answer with the swatches of a cloth, or of all, ``samite.swatches.v1``."""
        return JSONResponse(journal_views.list_swatches(store, label, skip=max(skip, 0)))


def _add_list(app: FastAPI, store: Path) -> None:
    @app.get("/swatches", response_class=HTMLResponse, include_in_schema=False)
    def swatches(request: Request) -> HTMLResponse:
        query = request.query_params
        skip = int(query["skip"]) if query.get("skip", "").isdecimal() else 0
        units = answers.read_units(query.get("units", "metric"))
        label = query.get("label", "").strip()
        turns = bin_of_store.next_turns(store)
        if not label:
            return HTMLResponse(
                render_swatches.cloths_page(journal_views.list_cloths(store), turns, units)
            )
        view = journal_views.list_swatches(store, label, skip=min(skip, 10**9))
        cloth = view["cloths"][0]
        cloth["swatches"] = [swatch_lines(item) for item in cloth["swatches"]]
        return HTMLResponse(
            render_swatches.swatches_page(cloth, skip, bool(query.get("kept")), turns, units)
        )

    @app.get("/photo", include_in_schema=False)
    def photo(key: str = "") -> Response:
        content, media = journal_views.photo(store, key)
        return Response(content, media_type=media, headers={"Cache-Control": "max-age=31536000"})


def _add_form(app: FastAPI, store: Path) -> None:
    @app.get("/swatch", response_class=HTMLResponse, include_in_schema=False)
    def form(request: Request) -> HTMLResponse:
        query = request.query_params
        given = {name: query[name] for name in FIELDS if name in query}
        use = query.get("for", "")
        units = answers.read_units(query.get("units", "metric"))
        fields, problems = _prefilled(given, use)
        filled = Filled({**DEFAULTS, **fields, "label": given.get("label", "")})
        return HTMLResponse(
            render_swatches.swatch_form_page(_form(store, filled, problems, use, units))
        )

    @app.post("/swatch", include_in_schema=False)
    async def keep(request: Request) -> Response:
        require_same_site(request)
        async with request.form(max_files=MOST_PHOTOS, max_fields=MOST_FIELDS) as sent:
            filled = await _filled(sent)
            use, units = _text(sent, "for"), answers.read_units(_text(sent, "units") or "metric")
        view, problems = await run_in_threadpool(_keep, store, filled)
        if view is None:
            shown = await run_in_threadpool(_form, store, filled, problems, use, units)
            return HTMLResponse(render_swatches.swatch_form_page(shown), 422)
        query = {"label": view["cloth"]["key"], "kept": view["key"]}
        return _see(query | ({"units": units} if units != "metric" else {}))


def _prefilled(given: Mapping[str, str], use: str) -> tuple[dict[str, str], dict[str, SamiteError]]:
    """Return the recipe that was just read, else the one of the label."""
    label = given.get("label", "")
    if "dial" in given or "needle_point" in given or not label.strip():
        return dict(given), {}
    try:
        return {**card_fields(answers.timed(label, use)), **given}, {}
    except InputError as error:
        return dict(given), {"label": error}


def _form(
    store: Path, filled: Filled, problems: Mapping[str, SamiteError], use: str, units: str
) -> FormView:
    kept = stock.list_stock(store)
    return FormView(
        filled,
        shown_problems(problems),
        _today(),
        tuple(item["name"] for item in kept["irons"]),
        tuple(item["name"] for item in kept["boards"]),
        units,
        use,
    )


async def _filled(sent: FormData) -> Filled:
    files = [item for item in sent.getlist("photo") if isinstance(item, UploadFile) and item.size]
    photos = [await item.read() for item in files]
    return Filled(
        {name: _text(sent, name) for name in FIELDS},
        tuple(str(item) for item in sent.getlist("seen")),
        tuple(str(item) for item in sent.getlist("doubtful")),
        tuple(photos),
    )


def _text(sent: FormData, name: str) -> str:
    found = sent.get(name, "")
    return found if isinstance(found, str) else ""


def _keep(store: Path, filled: Filled) -> tuple[dict[str, Any] | None, dict[str, SamiteError]]:
    today = _today()
    tried = filled.text("tried")
    if tried == "sewing":
        filled = replace(filled, fields={**filled.fields, "iron": "", "board": ""})
    entry, problems = read_form(filled, today)
    if entry is None:
        return None, problems
    try:
        return journal.record_swatch(store, entry, today), {}
    except InputError as error:
        return None, {error.where: error}


def _add_changes(app: FastAPI, store: Path) -> None:
    @app.post("/swatch-undo", include_in_schema=False)
    async def undo(request: Request) -> Response:
        sent = await _sent(request)
        await run_in_threadpool(journal.turn_back, store, again=bool(_text(sent, "again")))
        return _see({})

    @app.post("/swatch-aside", include_in_schema=False)
    async def aside(request: Request) -> Response:
        sent = await _sent(request)
        away = not _text(sent, "back")
        view = await run_in_threadpool(journal.set_aside, store, _text(sent, "key"), away, _today())
        query = {"label": view["cloth"]["key"]}
        if _text(sent, "to") == "learnt":
            iron = _text(sent, "own_iron")
            return _see(query | ({"own_iron": iron} if iron else {}), "swatch-learnt")
        return _see(query)

    @app.post("/swatch-bin", include_in_schema=False)
    async def throw(request: Request) -> Response:
        sent = await _sent(request)
        view = await run_in_threadpool(journal.bin_swatch, store, _text(sent, "key"), _today())
        return _see({"label": view["cloth"]["key"]})


async def _sent(request: Request) -> FormData:
    require_same_site(request)
    return await request.form(max_files=0, max_fields=8)


def _see(query: Mapping[str, str], address: str = "swatches") -> RedirectResponse:
    """Send the browser to the list, so that reloading it sends nothing twice."""
    return RedirectResponse(f"./{address}?{urlencode(query)}" if query else f"./{address}", 303)


def _today() -> date:
    return datetime.now(UTC).astimezone().date()
