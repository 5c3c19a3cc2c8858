"""Addresses of costume jobs: the list, a job, its changes, and its long work."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

from fastapi import FastAPI, Request
from fastapi.responses import HTMLResponse, JSONResponse, RedirectResponse, Response
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData

from samite.kernel.errors import ChangedMeanwhileError, InputError, UnknownNameError
from samite.services import job_edit, job_store
from samite.services.job_workroom import set_workroom
from samite.services.jobs import Jobs
from samite.services.make_files import job_files
from samite.services.make_work import work_on_job
from samite.services.packet import packet_pdf
from samite.web import job_view
from samite.web.fill import fill_page
from samite.web.job_form import Sent
from samite.web.same_site import require_same_site
from samite.web.typed import Typed

SECONDS = 3.0
"""Time to search for each lay [s]."""

MOST_FIELDS = 300


def add_job_pages(app: FastAPI, store: Path) -> None:
    """Add the addresses of costume jobs.

    Parameters
    ----------
    app : FastAPI
        The application.
    store : Path
        File of the store.
    """
    runner: Jobs = getattr(app.state, "jobs", None) or Jobs()
    app.state.jobs = runner
    _add_reading(app, store, runner)
    _add_files(app, store)
    _add_work(app, store, runner)
    _add_changes(app, store)
    _add_forms(app, store)


def _add_reading(app: FastAPI, store: Path, runner: Jobs) -> None:
    @app.get("/jobs", response_class=HTMLResponse, include_in_schema=False)
    def jobs(request: Request) -> HTMLResponse:
        typed = _typed(request)
        values = job_view.list_values(store, _today())
        return HTMLResponse(fill_page("jobs.html", "Jobs", typed, **values))

    @app.get("/job", response_class=HTMLResponse, include_in_schema=False)
    def job(request: Request) -> HTMLResponse:
        query = request.query_params
        weights = {
            name.removeprefix("w."): value for name, value in query.items() if name.startswith("w.")
        }
        values = job_view.job_values(store, query.get("key", ""), _today(), weights, SECONDS)
        values["state"] = _state(runner, values["key"])
        return HTMLResponse(fill_page("job.html", "Jobs", _typed(request), **values))

    @app.get("/job-edit", response_class=HTMLResponse, include_in_schema=False)
    def edit(request: Request) -> HTMLResponse:
        values = job_view.edit_values(store, request.query_params.get("key", ""), _today())
        return HTMLResponse(fill_page("job_edit.html", "Jobs", _typed(request), **values))


def _add_files(app: FastAPI, store: Path) -> None:
    @app.get("/job.{kind}", include_in_schema=False)
    def job_file(request: Request, kind: str) -> Response:
        key = request.query_params.get("key", "")
        if kind == "toml":
            text = job_store.job_named(store, key).value.text
            return _file(text.encode(), "text/plain; charset=utf-8", "job.toml")
        made = job_view.made_job(store, key, _today(), SECONDS)
        if made is None:
            raise InputError("it is not computed yet", "job", "let it be computed first")
        if kind == "pdf":
            return _file(packet_pdf(made), "application/pdf", "packet.pdf")
        if kind == "zip":
            return _file(_zipped(job_files(made)), "application/zip", "job.zip")
        raise UnknownNameError(f"no file .{kind[:10]}", "job", "toml, pdf or zip")


def _zipped(files: Any) -> bytes:
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in files:
            archive.writestr(zipfile.ZipInfo(name), content)
    return held.getvalue()


def _file(content: bytes, media: str, name: str) -> Response:
    return Response(
        content, media_type=media, headers={"Content-Disposition": f'inline; filename="{name}"'}
    )


def _add_work(app: FastAPI, store: Path, runner: Jobs) -> None:
    @app.post("/job-make", include_in_schema=False)
    async def make(request: Request) -> Response:
        key = _text(await _sent(request), "key")
        kept = await run_in_threadpool(job_store.job_named, store, key)
        argument = {
            "store": str(store), "key": kept.key, "today": _today().isoformat(), "seconds": SECONDS,
        }  # fmt: skip
        work_key = f"job-{kept.key}-{kept.version}"
        runner.start(work_on_job, argument, work_key)
        return _see(kept.key)

    @app.get("/api/job-state")
    def state(key: str = "") -> JSONResponse:
        """Answer how far the long work of a job is: ``state``, ``done``, ``whole``, ``name``."""
        return JSONResponse(_state(runner, job_store.job_named(store, key).key))

    @app.post("/job-stop", include_in_schema=False)
    async def stop(request: Request) -> Response:
        key = _text(await _sent(request), "key")
        kept = await run_in_threadpool(job_store.job_named, store, key)
        runner.cancel(f"job-{kept.key}-{kept.version}")
        return _see(kept.key)


def _state(runner: Jobs, key: str) -> dict[str, Any]:
    """Return the state of the newest work on a job."""
    view = runner.newest(f"job-{key}-")
    if view is None:
        return {"state": "none", "done": 0, "whole": 0, "name": "", "error": None}
    told = view.progress or {"done": 0, "whole": 0, "name": ""}
    return {"state": view.state, "seconds": round(view.seconds, 1), "error": view.error, **told}


def _add_changes(app: FastAPI, store: Path) -> None:
    @app.post("/job-new", include_in_schema=False)
    async def new(request: Request) -> Response:
        sent = await _sent(request)
        text = _text(sent, "text")
        if _text(sent, "scenario"):
            text = job_store.demo_job_text()
        elif _text(sent, "blank"):
            text = job_view.blank_job(_text(sent, "title"))
        if not text.strip():
            raise InputError("the file is empty", "text", "paste a job, or begin with the scenario")
        kept = await run_in_threadpool(job_store.keep_job, store, text, _today())
        return _see(kept.key)

    @app.post("/job-bin", include_in_schema=False)
    async def away(request: Request) -> Response:
        sent = await _sent(request)
        await run_in_threadpool(job_store.bin_job, store, _text(sent, "key"), _today())
        return RedirectResponse("./jobs", 303)

    @app.post("/job-tick", include_in_schema=False)
    async def ticked(request: Request) -> Response:
        sent = await _sent(request)
        done = bool(_text(sent, "done"))
        key, what = _text(sent, "key"), _text(sent, "what")

        def act() -> None:
            job_store.tick(store, key, what, done=done, on=_today())

        await run_in_threadpool(act)
        return _see(key, anchor="to-buy")


def _add_forms(app: FastAPI, store: Path) -> None:
    @app.post("/job-text", include_in_schema=False)
    async def whole(request: Request) -> Response:
        sent = await _sent(request)
        text = _text(sent, "text")
        typed = Sent((), False, {}, text=text)
        return await _edited(store, sent, lambda _: text, typed, "text-head")

    @app.post("/job-section", include_in_schema=False)
    async def section(request: Request) -> Response:
        sent = await _sent(request)
        path = tuple(_text(sent, "section").split("/")) if _text(sent, "section") else ()
        fields = _fields(sent)
        typed = Sent(path, False, fields)
        if _text(sent, "remove"):
            return await _edited(store, sent, lambda old: job_edit.take_out(old, path), typed)
        return await _edited(
            store, sent, lambda old: job_edit.set_values(old, path, fields), typed, "-".join(path)
        )

    @app.post("/job-add", include_in_schema=False)
    async def add(request: Request) -> Response:
        sent = await _sent(request)
        parent, name = tuple(_text(sent, "section").split("/")), _text(sent, "name").strip()
        fields = _fields(sent)

        def added(old: str) -> str:
            new = job_edit.add_section(old, (*parent, name), {})
            return job_edit.set_values(new, (*parent, name), fields)

        typed = Sent(parent, True, fields, name)
        return await _edited(store, sent, added, typed, "-".join((*parent, name)))

    @app.post("/job-workroom", include_in_schema=False)
    async def workroom(request: Request) -> Response:
        sent = await _sent(request)

        def put(old: str) -> str:
            return set_workroom(
                old,
                machines=_all(sent, "machine"),
                feet=_all(sent, "foot"),
                needles=_text(sent, "needles"),
                threads=_text(sent, "threads"),
            )

        words = {name: _text(sent, name) for name in ("needles", "threads")}
        return await _edited(store, sent, put, Sent(("workroom",), False, words), "workroom")


async def _edited(
    store: Path, sent: FormData, edit: Callable[[str], str], typed: Sent, anchor: str = ""
) -> Response:
    """Change a job and show its forms; where that is refused, show what was typed and why."""
    key = _text(sent, "key")
    try:
        await run_in_threadpool(_change, store, sent, edit)
    except (InputError, ChangedMeanwhileError) as error:
        if not key:
            raise
        shown = replace(typed, refused=f"{error.message}: {error.hint}")
        values = await run_in_threadpool(job_view.edit_values, store, key, _today(), shown)
        status = 422 if isinstance(error, InputError) else 409
        page = fill_page("job_edit.html", "Jobs", Typed(), **values)
        return HTMLResponse(page, status)
    return _see(key, "job-edit", anchor)


def _change(store: Path, sent: FormData, edit: Callable[[str], str]) -> None:
    kept = job_store.job_named(store, _text(sent, "key"))
    version = _text(sent, "version")
    number = int(version) if version.isdecimal() else kept.version
    job_store.change_job(store, kept.key, number, edit(kept.value.text), _today())


def _fields(sent: FormData) -> dict[str, str]:
    return {name.removeprefix("v."): str(v) for name, v in sent.items() if name.startswith("v.")}


def _all(sent: FormData, name: str) -> list[str]:
    return [str(one) for one in sent.getlist(name)]


async def _sent(request: Request) -> FormData:
    require_same_site(request)
    return await request.form(max_files=0, max_fields=MOST_FIELDS)


def _text(sent: FormData, name: str) -> str:
    found = sent.get(name, "")
    return found.replace("\r\n", "\n") if isinstance(found, str) else ""


def _see(key: str, page: str = "job", anchor: str = "") -> RedirectResponse:
    where = f"./{page}?{urlencode({'key': key})}"
    return RedirectResponse(f"{where}#{anchor}" if anchor else where, 303)


def _typed(request: Request) -> Typed:
    return Typed(units=request.query_params.get("units", "metric"))


def _today() -> date:
    return datetime.now(UTC).astimezone().date()
