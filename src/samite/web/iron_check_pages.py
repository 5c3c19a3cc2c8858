"""Addresses of the guided check of an iron."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from fastapi import FastAPI, Request
from fastapi.responses import HTMLResponse, Response
from starlette.concurrency import run_in_threadpool

from samite.garment.bench import DIALS
from samite.kernel.errors import InputError, SamiteError
from samite.press.dials import DIAL_WORDS, Dial
from samite.services.iron_check import READINGS, check_guide, keep_checked_iron, read_dials
from samite.services.stock import list_stock
from samite.web.fill import fill_page
from samite.web.same_site import require_same_site
from samite.web.typed import Typed

HERE = "Swatches"
MOST_FIELDS = 40


def add_iron_check_pages(app: FastAPI, store: Path) -> None:
    """Add the addresses of the check.

    Parameters
    ----------
    app : FastAPI
        The application.
    store : Path
        File of the store.
    """

    @app.get("/iron-check", response_class=HTMLResponse, include_in_schema=False)
    def form(request: Request) -> HTMLResponse:
        given = {"name": request.query_params.get("name", "")}
        return HTMLResponse(_page(store, given, {}, None))

    @app.post("/iron-check", include_in_schema=False)
    async def keep(request: Request) -> Response:
        require_same_site(request)
        async with request.form(max_files=0, max_fields=MOST_FIELDS) as sent:
            given = {name: text for name, text in sent.items() if isinstance(text, str)}
        view, problems = await run_in_threadpool(_keep, store, given)
        html = await run_in_threadpool(_page, store, given, problems, view)
        return HTMLResponse(html, 422 if problems else 200)


def _keep(
    store: Path, given: Mapping[str, str]
) -> tuple[dict[str, Any] | None, dict[str, SamiteError]]:
    readings = {
        dial: [given.get(f"{dial}_{number}", "") for number in range(1, READINGS + 1)]
        for dial in DIALS
    }
    strips = {
        dial: [(given.get(f"{dial}_turned", ""), given.get(f"{dial}_kept", ""))] for dial in DIALS
    }
    dials, problems = read_dials(readings, strips)
    if not given.get("name", "").strip():
        problems["name"] = InputError("the iron has no name", "name", "call it what you call it")
    if problems:
        return None, problems
    today = datetime.now(UTC).astimezone().date()
    try:
        return keep_checked_iron(store, given["name"], dials, today), {}
    except InputError as error:
        return None, {"name": error}


def _page(
    store: Path,
    given: Mapping[str, str],
    problems: Mapping[str, SamiteError],
    view: Mapping[str, Any] | None,
) -> str:
    return fill_page(
        "iron_check.html",
        HERE,
        Typed(),
        guide=check_guide(),
        given=given,
        problems={name: error.as_dict() for name, error in problems.items()},
        view=view,
        dials=[(dial, DIAL_WORDS[Dial(dial)]) for dial in DIALS],
        numbers=range(1, READINGS + 1),
        names=[item["name"] for item in list_stock(store)["irons"]],
    )
