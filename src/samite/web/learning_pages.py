"""Addresses of what to test next and of what was learnt."""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import UTC, datetime
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

from fastapi import FastAPI, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response
from starlette.concurrency import run_in_threadpool

from samite.garment.bench import KeptIron
from samite.kernel.errors import InputError
from samite.services import journal_views
from samite.services.iron import kept_iron_profile
from samite.services.learnt import export_learnt, learnt_svg, learnt_view, moved_svg
from samite.services.next_test import next_view
from samite.services.slip import cost_words, slip_pdf, slip_svg
from samite.services.stock import kept_iron, list_stock
from samite.web import words
from samite.web.asked import typed_of
from samite.web.fill import fill_page
from samite.web.swatch_view import swatch_lines
from samite.web.typed import Typed

HERE = "Swatches"

HARDLY = 0.002
"""Worth under which a test is told to change hardly anything [-]."""


class Question:
    """Whose swatches, and for which iron that is kept.

    Parameters
    ----------
    request : Request
        The request; ``label``, ``for``, ``units`` and ``own_iron``, the name of one that is kept.
    store : Path
        File of the store.

    Raises
    ------
    InputError
        If no label is given.
    """

    def __init__(self, request: Request, store: Path) -> None:
        self.typed: Typed = typed_of(request)
        self.store = store
        self.iron_name = request.query_params.get("own_iron", "").strip()
        self.maker = request.query_params.get("maker", "").strip()
        self.ready = bool(request.query_params.get("go"))
        if not self.typed.label.strip():
            raise InputError("no label is given", "label", "open it from a card or a swatch")

    def named(self) -> dict[str, Any]:
        """Return the arguments that the services share.

        Returns
        -------
        dict of str to object
            The iron and its name.
        """
        if not self.iron_name:
            return {"iron": None, "iron_name": ""}
        kept: KeptIron = kept_iron(self.store, self.iron_name)
        return {
            "iron": kept_iron_profile(kept),
            "iron_name": self.iron_name,
        }

    def link(self, address: str, **more: str) -> str:
        """Return an address that asks the same.

        Parameters
        ----------
        address : str
            Its path.
        **more : str
            Further names.

        Returns
        -------
        str
            Path and query.
        """
        own = {"own_iron": self.iron_name, "maker": self.maker}
        query = self.typed.link(**{name: text for name, text in (own | more).items() if text})
        return f"./{address}?{query}"


def add_learning_pages(app: FastAPI, store: Path) -> None:
    """Add the addresses of suggestion and learning.

    Parameters
    ----------
    app : FastAPI
        The application.
    store : Path
        File of the store.
    """
    _add_next(app, store)
    _add_learnt(app, store)


def _add_next(app: FastAPI, store: Path) -> None:
    def view(asked: Question) -> dict[str, Any]:
        return next_view(
            store, asked.typed.label, asked.typed.use, maker=asked.maker, **asked.named()
        )

    @app.get("/swatch-next", response_class=HTMLResponse, include_in_schema=False)
    async def page(request: Request) -> HTMLResponse:
        asked = Question(request, store)
        if not asked.ready:
            return HTMLResponse(_waiting(asked, "swatch-next", "Weighing what to test next"))
        async with app.state.turn:
            found = await run_in_threadpool(view, asked)
        return HTMLResponse(_next_page(asked, found))

    @app.get("/swatch-slip.pdf", include_in_schema=False)
    async def paper(request: Request) -> Response:
        asked = Question(request, store)
        async with app.state.turn:
            found = await run_in_threadpool(view, asked)
        today = datetime.now(UTC).astimezone().date()
        content = slip_pdf(found["cloth"]["label"], found["slip"], dated=today)
        return Response(
            content,
            media_type="application/pdf",
            headers={"Content-Disposition": 'inline; filename="slip.pdf"'},
        )

    @app.get("/api/swatch-next")
    async def api(request: Request) -> JSONResponse:
        """Answer with what to test next, ``samite.next.v1``; ``own_iron`` names one that is kept."""
        asked = Question(request, store)
        async with app.state.turn:
            return JSONResponse(await run_in_threadpool(view, asked))


def _waiting(asked: Question, address: str, said: str) -> str:
    return fill_page(
        "waiting.html", HERE, Typed(units=asked.typed.units), said=said,
        on=asked.link(address, go="1"),
    )  # fmt: skip


def _next_page(asked: Question, view: Mapping[str, Any]) -> str:
    units = asked.typed.shown_units
    label = view["cloth"]["label"]
    return fill_page(
        "swatch_next.html",
        HERE,
        asked.typed,
        view=view,
        tests=[_priced(test, label, asked) for test in view["tests"]],
        picture=slip_svg(label, view["slip"]),
        steps=[_step(step, label, asked) for step in view["slip"]["steps"]],
        irons=[item["name"] for item in list_stock(asked.store)["irons"]],
        asked=asked,
        pdf_link=asked.link("swatch-slip.pdf"),
        learnt_link=asked.link("swatch-learnt"),
        swatches_link=f"./swatches?{urlencode({'label': view['cloth']['key']})}"
        if view["cloth"]["key"]
        else "",
        fibre_link=f"./fibre?{asked.typed.link()}" if view["fibre"] else "",
        card_link=f"./?{Typed(label, asked.typed.use, asked.typed.units).link()}",
        units_text=lambda text: words.in_units(text, units),
    )


def _priced(test: Mapping[str, Any], label: str, asked: Question) -> dict[str, Any]:
    """Add cost, worth and the way to the form in words."""
    worth = ""
    if test["worth"] is not None:
        worth = f"worth {100 * test['worth']:.1f} points of a hundred"
        worth = "hardly changes the choice" if test["worth"] < HARDLY else worth
    kept = f"./swatch?{_fields(test['fields'], label, asked)}" if test["fields"] else ""
    kept = "./iron-check" if test["kind"] == "iron" else kept
    return {
        **test,
        "cost": cost_words(test["minutes"], test["cloth_cm"]),
        "told": worth,
        "link": kept,
    }


def _step(step: Mapping[str, Any], label: str, asked: Question) -> dict[str, Any]:
    link = f"./swatch?{_fields(step['fields'], label, asked)}" if step["fields"] else ""
    return {**step, "cost": cost_words(step["minutes"], step["cloth_cm"]), "link": link}


def _fields(fields: Mapping[str, str], label: str, asked: Question) -> str:
    named = {"iron": asked.iron_name, "maker": asked.maker}
    return urlencode(
        {"label": label, **fields, **{name: text for name, text in named.items() if text}}
    )


def _add_learnt(app: FastAPI, store: Path) -> None:
    def view(asked: Question) -> dict[str, Any]:
        typed = asked.typed
        return learnt_view(store, typed.label, typed.use, maker=asked.maker, **asked.named())

    @app.get("/swatch-learnt", response_class=HTMLResponse, include_in_schema=False)
    async def page(request: Request) -> HTMLResponse:
        asked = Question(request, store)
        if not asked.ready:
            return HTMLResponse(_waiting(asked, "swatch-learnt", "Weighing what was learnt"))
        async with app.state.turn:
            found = await run_in_threadpool(view, asked)
        return HTMLResponse(await run_in_threadpool(_learnt_page, asked, found))

    @app.get("/swatch-learnt.json", include_in_schema=False)
    async def export(request: Request) -> Response:
        asked = Question(request, store)
        async with app.state.turn:
            told = await run_in_threadpool(
                lambda: export_learnt(store, asked.typed.label, **asked.named())
            )
        return Response(
            json.dumps(told, ensure_ascii=False, indent=1) + "\n",
            media_type="application/json",
            headers={"Content-Disposition": 'attachment; filename="learnt.json"'},
        )

    @app.get("/api/swatch-learnt")
    async def api(request: Request) -> JSONResponse:
        """Answer with what was learnt, ``samite.learnt.v1``; ``own_iron`` names one that is kept."""
        asked = Question(request, store)
        async with app.state.turn:
            return JSONResponse(await run_in_threadpool(view, asked))


def _learnt_page(asked: Question, view: Mapping[str, Any]) -> str:
    units = asked.typed.shown_units
    curves, moved = learnt_svg(view), moved_svg(view)
    swatches: list[Any] = []
    if view["cloth"]["key"]:
        kept = journal_views.list_swatches(asked.store, view["cloth"]["key"])
        swatches = [swatch_lines(item) for item in kept["cloths"][0]["swatches"]]
    return fill_page(
        "swatch_learnt.html",
        HERE,
        asked.typed,
        view=view,
        curves=curves or "",
        moved=moved or "",
        swatches=swatches,
        asked=asked,
        irons=[item["name"] for item in list_stock(asked.store)["irons"]],
        next_link=asked.link("swatch-next"),
        export_link=asked.link("swatch-learnt.json"),
        swatches_link=f"./swatches?{urlencode({'label': view['cloth']['key']})}"
        if view["cloth"]["key"]
        else "",
        card_link=f"./?{Typed(view['cloth']['label'], asked.typed.use, asked.typed.units).link()}",
        units_text=lambda text: words.in_units(text, units),
    )
