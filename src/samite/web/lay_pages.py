"""Addresses of the lay: the page, one lay, what starts and stops work, files, JSON."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

from fastapi import FastAPI, Request
from fastapi.responses import HTMLResponse, JSONResponse, RedirectResponse, Response
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData
from starlette.exceptions import HTTPException

from samite.kernel.errors import InputError, SamiteError
from samite.services import lay_paper
from samite.services.lay import lay_json
from samite.services.lay_again import read_copies, read_trouble
from samite.services.lay_desk import DeskView, LayDesk, lay_desk
from samite.services.lay_keep import keep_offcuts, lay_offcuts
from samite.services.make_work import answers_folder
from samite.web import lay_view
from samite.web.asked import Asked, typed_of
from samite.web.fill import fill, fill_page
from samite.web.same_site import require_same_site

MOST_KEYS = 40
MOST_SENT = 400
HERE = "Lay"


def add_lay_pages(app: FastAPI, store: Path) -> None:
    """Add the addresses of the lay.

    Parameters
    ----------
    app : FastAPI
        The application.
    store : Path
        File of the store.
    """
    desk = lay_desk(answers_folder(store) / "lays")
    _add_looks(app, desk)
    _add_changes(app, desk, store)
    _add_files(app, desk)


def _add_looks(app: FastAPI, desk: LayDesk) -> None:
    @app.get("/lay", response_class=HTMLResponse, include_in_schema=False)
    async def lay(request: Request) -> HTMLResponse:
        query = _query(request)
        keys: list[str] = []
        if query.asked:
            keys = await run_in_threadpool(lay_view.put_orders, desk, query, request.url.query)
        cards = [lay_view.card_values(desk.view(key)) for key in keys]
        values = lay_view.form_values(query, None)
        return HTMLResponse(
            fill_page("lay.html", HERE, typed_of(request), **values, cards=cards,
                      address=request.url.query)
        )  # fmt: skip

    @app.get("/strip", response_class=HTMLResponse, include_in_schema=False)
    def strip(request: Request, key: str = "") -> HTMLResponse:
        view = desk.view(key)
        cut = _ticked(view, request.query_params.getlist("cut"))
        values = lay_view.strip_values(view, cut)
        return HTMLResponse(
            fill_page("lay_strip.html", HERE, typed_of(request), error_shown=None, **values)
        )

    @app.get("/part/lay", response_class=HTMLResponse, include_in_schema=False)
    def part(key: str = "", whole: str = "") -> HTMLResponse:
        view = desk.view(key)
        if whole:
            values = lay_view.strip_values(view, frozenset())
            return HTMLResponse(fill("lay_steps.html", error_shown=None, **values))
        return HTMLResponse(fill("lay_card.html", card=lay_view.card_values(view)))

    @app.get("/api/lay/jobs")
    def states(request: Request) -> JSONResponse:
        """Answer how lays stand that are being worked out: ``key`` any number of times."""
        keys = request.query_params.getlist("key")[:MOST_KEYS]
        return JSONResponse({"format": "samite.lay-jobs.v1", "jobs": desk.states(keys)})

    @app.get("/api/lay")
    def api_lay(key: str = "") -> JSONResponse:
        """Answer with the best lay so far of a job, ``samite.lay.v1``."""
        view = desk.view(key)
        if view.answer is None:
            raise InputError("there is no lay yet", "key", "ask again in a moment")
        return JSONResponse(lay_json(view.answer))


def _query(request: Request) -> lay_view.LayQuery:
    return lay_view.read_query(request.query_params.multi_items(), Asked(request).units)


def _ticked(view: DeskView, texts: Sequence[str]) -> frozenset[tuple[str, int]]:
    if not view.found:
        return frozenset()
    return read_copies(view.order.problem, [t for t in texts if t.strip()][:MOST_SENT], "cut")


def _add_changes(app: FastAPI, desk: LayDesk, store: Path) -> None:
    @app.post("/lay-begin", include_in_schema=False)
    async def begin(request: Request) -> Response:
        sent = await _sent(request)
        for key in _texts(sent, "key")[:MOST_KEYS]:
            desk.begin(key)
        return _answer(request, _text(sent, "back") or "./lay")

    @app.post("/lay-cancel", include_in_schema=False)
    async def cancel(request: Request) -> Response:
        sent = await _sent(request)
        for key in _texts(sent, "key")[:MOST_KEYS]:
            desk.cancel(key)
        return _answer(request, _text(sent, "back") or "./lay")

    @app.post("/lay-again", include_in_schema=False)
    async def again(request: Request) -> Response:
        sent = await _sent(request)
        try:
            key = await run_in_threadpool(_go_on, desk, sent)
        except SamiteError as error:
            view = desk.view(_text(sent, "key"))
            values = lay_view.strip_values(view, _ticked(view, _texts(sent, "cut")))
            shown = error.as_dict()
            return HTMLResponse(
                fill_page("lay_strip.html", HERE, typed_of(request), error_shown=shown, **values),
                422,
            )
        desk.begin(key)
        return RedirectResponse(f"./strip?{urlencode({'key': key})}", 303)

    @app.post("/lay-keep", include_in_schema=False)
    async def keep(request: Request) -> Response:
        sent = await _sent(request)
        view = desk.view(_text(sent, "key"))
        count = await run_in_threadpool(_keep, view, store)
        query = urlencode({"key": view.key, "kept": str(count)})
        return RedirectResponse(f"./strip?{query}", 303)


async def _sent(request: Request) -> FormData:
    require_same_site(request)
    return await request.form(max_fields=MOST_SENT)


def _answer(request: Request, back: str) -> Response:
    """Go back to the page, or just say that it is done where a script has asked."""
    if request.headers.get("accept", "").startswith("application/json"):
        return JSONResponse({"done": True})
    return RedirectResponse(back if back.startswith("./") else "./lay", 303)


def _texts(sent: FormData, name: str) -> list[str]:
    return [value for value in sent.getlist(name) if isinstance(value, str) and value.strip()]


def _text(sent: FormData, name: str) -> str:
    found = _texts(sent, name)
    return found[0] if found else ""


def _go_on(desk: LayDesk, sent: FormData) -> str:
    key = _text(sent, "key")
    problem = desk.view(key).order.problem
    seconds = float(_text(sent, "seconds") or "10")
    if not 1.0 <= seconds <= 300.0:
        raise InputError("that is no time to search", "seconds", "from 1 to 300")
    if _text(sent, "act") == "pin":
        pins = read_copies(problem, _texts(sent, "pin"), "pin")
        return desk.go_on(key, pins=pins, seconds=seconds, seed=0)
    trouble = read_trouble(
        problem, cut=_texts(sent, "cut"), spoilt=_texts(sent, "spoilt"),
        width=_text(sent, "turned_out"), flaws=_parts(_text(sent, "flaws")),
        lengths=_parts(_text(sent, "lengths")),
    )  # fmt: skip
    return desk.go_on(key, trouble=trouble, seconds=seconds, seed=0)


def _parts(text: str) -> list[str]:
    return [part.strip() for part in text.split(";") if part.strip()]


def _keep(view: DeskView, store: Path) -> int:
    if view.answer is None or not view.found:
        return 0
    picture = view.picture()
    found = lay_offcuts(view.order.problem, view.answer.lay, picture.bought_mm)
    today = datetime.now(UTC).astimezone().date()
    keys = keep_offcuts(store, view.order.cloth, found, today, one_way=view.order.one_way)
    return len(keys)


def _add_files(app: FastAPI, desk: LayDesk) -> None:
    @app.get("/lay.{kind}", include_in_schema=False)
    def file(kind: str, key: str = "", paper: str = "a4") -> Response:
        if kind not in {"svg", "pdf", "dxf"}:
            raise HTTPException(404)
        view = desk.view(key)
        picture = view.picture()
        data, media = _drawn(view, picture, kind, paper)
        name = f'inline; filename="lay.{kind}"'
        return Response(data, media_type=media, headers={"Content-Disposition": name})


def _drawn(view: DeskView, picture: Any, kind: str, paper: str) -> tuple[bytes, str]:
    if kind == "svg":
        return lay_paper.draw_svg(picture).encode("utf-8"), "image/svg+xml"
    if kind == "dxf":
        return lay_paper.draw_dxf(picture).encode("cp1252", errors="replace"), "application/dxf"
    shown = lay_view.card_values(view)
    facts = [f"{view.order.cloth or 'Cloth'}, {shown['width']} wide"]
    if shown["buy"]:
        facts.append(f"{shown['buy']} to buy, {shown['best']} at best; {shown['lay']} laid")
    return lay_paper.draw_pdf(picture, paper, facts), "application/pdf"


def lay_error_page(request: Request, error: dict[str, Any]) -> str:
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
        query = _query(request)
    except SamiteError:
        query = lay_view.LayQuery({}, typed.shown_units)
    values = lay_view.form_values(query, error)
    return fill_page("lay.html", HERE, typed, **values, cards=[], address="")
