"""Addresses of the work order: jobs, the rolling slip, ticks, and what can be taken along."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

from fastapi import FastAPI, Request
from fastapi.responses import HTMLResponse, JSONResponse, RedirectResponse, Response
from starlette.concurrency import run_in_threadpool

from samite.kernel.errors import InputError
from samite.services import work_jobs as jobs
from samite.services.work_ics import work_ics
from samite.services.work_json import work_json
from samite.services.work_paper import work_pdf, work_svg
from samite.web import render_work
from samite.web.same_site import require_same_site

MOST_FIELDS = 8


def now_here() -> datetime:
    """Return the present moment in the time of this machine.

    Returns
    -------
    datetime
        To the minute, without zone.
    """
    return datetime.now().replace(second=0, microsecond=0)  # noqa: DTZ005


def add_work_pages(app: FastAPI, store: Path) -> None:
    """Add the addresses of the work order.

    Parameters
    ----------
    app : FastAPI
        The application; one long answer at a time takes its turn.
    store : Path
        File of the store.
    """
    _add_reads(app, store)
    _add_files(app, store)
    _add_changes(app, store)


async def _answer(app: FastAPI, store: Path, key: str) -> Any:
    async with app.state.turn:
        return await run_in_threadpool(jobs.job_answer, store, key)


def _add_reads(app: FastAPI, store: Path) -> None:
    @app.get("/work", response_class=HTMLResponse, include_in_schema=False)
    async def work(request: Request) -> HTMLResponse:
        query = request.query_params
        units = query.get("units", "metric")
        key = query.get("job", "")
        if key:
            kept, answer = await _answer(app, store, key)
            return HTMLResponse(render_work.slip_page(kept.key, answer, units))
        text = jobs.example_job() if "example" in query else ""
        return HTMLResponse(render_work.jobs_page(jobs.list_jobs(store), text, units))

    @app.get("/api/work")
    async def api_work(job: str = "") -> JSONResponse:
        """Answer with the plan of a job that is kept, ``samite.work.v1``."""
        _, answer = await _answer(app, store, job)
        return JSONResponse(work_json(answer))


def _add_files(app: FastAPI, store: Path) -> None:
    @app.get("/work.svg", include_in_schema=False)
    async def strip(job: str = "") -> Response:
        _, answer = await _answer(app, store, job)
        return Response(work_svg(answer), media_type="image/svg+xml")

    @app.get("/work.pdf", include_in_schema=False)
    async def slip(job: str = "", paper: str = "a4") -> Response:
        _, answer = await _answer(app, store, job)
        named = {"Content-Disposition": 'inline; filename="work-slip.pdf"'}
        return Response(work_pdf(answer, paper), media_type="application/pdf", headers=named)

    @app.get("/work.ics", include_in_schema=False)
    async def calendar(job: str = "") -> Response:
        _, answer = await _answer(app, store, job)
        named = {"Content-Disposition": 'attachment; filename="work.ics"'}
        return Response(work_ics(answer), media_type="text/calendar", headers=named)


def _add_changes(app: FastAPI, store: Path) -> None:
    @app.post("/work", include_in_schema=False)
    async def keep(request: Request) -> Response:
        sent = await _sent(request)
        text = sent.get("job", "").replace("\r\n", "\n")
        try:
            async with app.state.turn:
                key = await run_in_threadpool(jobs.keep_job, store, text, now_here())
        except InputError as error:
            kept = jobs.list_jobs(store)
            page = render_work.jobs_page(kept, text, sent.get("units", ""), error.as_dict())
            return HTMLResponse(page, 422)
        return _see(key)

    @app.post("/work-tick", include_in_schema=False)
    async def tick(request: Request) -> Response:
        sent = await _sent(request)
        async with app.state.turn:
            await run_in_threadpool(_tick, store, sent)
        return _see(sent.get("key", ""))

    @app.post("/work-anew", include_in_schema=False)
    async def anew(request: Request) -> Response:
        sent = await _sent(request)
        await run_in_threadpool(jobs.plan_anew, store, sent.get("key", ""), now_here())
        return _see(sent.get("key", ""))

    @app.post("/work-bin", include_in_schema=False)
    async def into_bin(request: Request) -> Response:
        sent = await _sent(request)
        await run_in_threadpool(jobs.bin_job, store, sent.get("key", ""), now_here())
        return RedirectResponse("./work", 303)


def _tick(store: Path, sent: dict[str, str]) -> None:
    key, name, minutes = (sent.get(one, "") for one in ("key", "name", "minutes"))
    jobs.tick_job(store, key, name, minutes, now_here(), back="back" in sent)


async def _sent(request: Request) -> dict[str, str]:
    require_same_site(request)
    async with request.form(max_files=0, max_fields=MOST_FIELDS) as sent:
        return {name: value for name, value in sent.items() if isinstance(value, str)}


def _see(key: str) -> RedirectResponse:
    return RedirectResponse(f"./work?{urlencode({'job': key})}#now", 303)
