"""Addresses of the seam: the page, its drawing, the same as JSON."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from fastapi import FastAPI, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response
from starlette.concurrency import run_in_threadpool

from samite.kernel.errors import StoreError
from samite.services.seam import SeamQuestion, SeamSheet
from samite.services.seam_json import seam_json
from samite.services.seam_learnt import seam_pasts
from samite.tables.irons import Iron
from samite.web import answers, render_seam
from samite.web.asked import Asked, typed_of


def add_seam_pages(app: FastAPI) -> None:
    """Add the addresses of the seam.

    Parameters
    ----------
    app : FastAPI
        The application; one long answer at a time takes its turn.
    """

    @app.get("/seam", response_class=HTMLResponse, include_in_schema=False)
    async def seam(request: Request) -> HTMLResponse:
        asked, question = Asked(request), joint_question(request)
        wanted = any(question.labels)
        sheet = await _joined(app, asked, question) if wanted else None
        return HTMLResponse(render_seam.seam_page(question, asked.typed, sheet))

    @app.get("/seam.svg", include_in_schema=False)
    async def drawn_seam(request: Request) -> Response:
        from samite.services.seam_picture import seam_svg

        asked = Asked(request)
        sheet = await _joined(app, asked, joint_question(request))
        return Response(seam_svg(sheet, asked.units), media_type="image/svg+xml")

    @app.get("/api/seam")
    async def api_seam(request: Request) -> JSONResponse:
        """Answer how to join cloths, ``samite.seam.v1``; asked as on the page."""
        sheet = await _joined(app, Asked(request), joint_question(request))
        return JSONResponse(seam_json(sheet))


async def _joined(app: FastAPI, asked: Asked, question: SeamQuestion) -> SeamSheet:
    _, _, iron = asked.question
    async with app.state.turn:
        return await run_in_threadpool(_answer, app.state.store, question, iron)


def _answer(store: Path, question: SeamQuestion, iron: Iron | None) -> SeamSheet:
    try:
        pasts = seam_pasts(store, question.labels)
    except StoreError:
        pasts = ()  # the joint comes all the same; the journal's own page tells what is wrong
    return answers.seam(question, iron, pasts)


def joint_question(request: Request) -> SeamQuestion:
    """Return what a request asks about a joint.

    Parameters
    ----------
    request : Request
        Its query holds ``label``, ``label2``, ``label3`` and what is insisted on.

    Returns
    -------
    SeamQuestion
        As typed.
    """
    query = request.query_params
    return SeamQuestion(
        labels=tuple(query.get(name, "") for name in ("label", "label2", "label3")),
        use=typed_of(request).use,
        workroom=query.get("workroom", ""),
        runs=query.get("run", ""),
        stitch=query.get("stitch", ""),
        form=query.get("seam", ""),
        thread=query.get("thread", ""),
        place=query.get("place", ""),
        negative_ease=query.get("ease", ""),
        behind=query.get("behind", ""),
    )


def seam_error_page(request: Request, error: dict[str, Any]) -> str:
    """Return the page with what was typed and what is wrong with it.

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
    return render_seam.seam_page(joint_question(request), typed_of(request), error=error)
