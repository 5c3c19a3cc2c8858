"""Addresses of the fibre tests."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from fastapi import FastAPI, Request
from fastapi.responses import HTMLResponse, JSONResponse

from samite.kernel.errors import InputError
from samite.services.fibre import SHOWN, fibre_view
from samite.tables.fibre_tests import questions
from samite.web.asked import typed_of
from samite.web.fill import fill_page
from samite.web.iron_view import iron_of

HERE = "Swatches"


def add_fibre_pages(app: FastAPI) -> None:
    """Add the addresses of the fibre tests.

    Parameters
    ----------
    app : FastAPI
        The application.
    """

    @app.get("/fibre", response_class=HTMLResponse, include_in_schema=False)
    def page(request: Request) -> HTMLResponse:
        typed, given = typed_of(request), _answers(request.query_params)
        try:
            view, error = fibre_view(typed.label, given, iron_of(typed.iron)), None
        except InputError as problem:
            view, error = fibre_view(), problem.as_dict()
        html = fill_page(
            "fibre.html",
            HERE,
            typed,
            label=typed.label,
            iron=typed.iron,
            view=view,
            given=given,
            asks=_asks(view),
            shown=[item for item in view["chances"] if item["chance"] >= SHOWN],
            error=error,
            back=f"./?{typed.link()}" if typed.label.strip() else "",
        )
        return HTMLResponse(html, 422 if error else 200)

    @app.get("/api/fibre")
    def api(request: Request, label: str = "") -> JSONResponse:
        """Answer with what a cloth may be, ``samite.fibre.v1``; one name a question."""
        typed = typed_of(request)
        view = fibre_view(label, _answers(request.query_params), iron_of(typed.iron))
        return JSONResponse(view)


def _answers(query: Mapping[str, str]) -> dict[str, str]:
    return {name: query[name] for name in questions() if query.get(name, "").strip()}


def _asks(view: Mapping[str, Any]) -> list[dict[str, Any]]:
    """Return the tests in a harmless order, each with its questions."""
    found: dict[str, dict[str, Any]] = {}
    steps = {test["test"]: test for test in view["tests"]}
    for name, asked in view["questions"].items():
        test = found.setdefault(asked["test"], {"questions": [], "how": steps.get(asked["test"])})
        test["questions"].append((name, asked["asks"], asked["answers"]))
    return list(found.values())
