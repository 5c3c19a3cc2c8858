"""Addresses of a person's own drawing: sent once, asked about, and made into pieces."""

from __future__ import annotations

import hashlib
from collections import OrderedDict
from collections.abc import Mapping, Sequence
from threading import Lock
from typing import Any
from urllib.parse import urlencode

from fastapi import FastAPI, Request
from fastapi.responses import HTMLResponse, JSONResponse, RedirectResponse, Response
from markupsafe import Markup
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import UploadFile
from starlette.exceptions import HTTPException

from samite.kernel.errors import InputError, SamiteError, UnknownNameError
from samite.services.piece_ask import PieceAsk
from samite.services.piece_drawn import DrawnPieces
from samite.services.piece_import import import_json, import_text, require_made
from samite.services.piece_paper import sheets_dxf, sheets_pdf, sheets_svg
from samite.sheets.overview import overview_svg
from samite.web.asked import typed_of
from samite.web.fill import fill_page
from samite.web.same_site import require_same_site
from samite.web.typed import Typed

KEPT_DRAWINGS = 8
KEPT_BYTES = 40_000_000
"""Most that all drawings may take that are kept while they are asked about."""

MOST_FIELDS = 300
LONGEST = 240
STATURE_MM = 1700.0


class Drawings:
    """Drawings that were sent, by the hash of what they hold; the oldest go first."""

    def __init__(self) -> None:
        self._held: OrderedDict[str, bytes] = OrderedDict()
        self._lock = Lock()

    def hold(self, data: bytes) -> str:
        """Hold a drawing.

        Parameters
        ----------
        data : bytes
            The file.

        Returns
        -------
        str
            Its key.
        """
        key = hashlib.sha256(data).hexdigest()[:32]
        with self._lock:
            self._held[key] = data
            self._held.move_to_end(key)
            while len(self._held) > KEPT_DRAWINGS or self._bytes() > KEPT_BYTES:
                self._held.popitem(last=False)
        return key

    def _bytes(self) -> int:
        return sum(map(len, self._held.values()))

    def get(self, key: str) -> bytes:
        """Return a drawing.

        Parameters
        ----------
        key : str
            Its key.

        Returns
        -------
        bytes
            The file.

        Raises
        ------
        UnknownNameError
            If it is not held any more.
        """
        with self._lock:
            if key not in self._held:
                raise UnknownNameError(
                    "that drawing is not held any more", "drawing", "send the file again"
                )
            self._held.move_to_end(key)
            return self._held[key]


def add_drawing_pages(app: FastAPI) -> None:
    """Add the addresses of drawings.

    Parameters
    ----------
    app : FastAPI
        The application.

    Raises
    ------
    InputError
        Within a request: if no file was chosen, or the drawing is refused.
    """
    drawings = Drawings()

    @app.get("/pieces-own", response_class=HTMLResponse, include_in_schema=False)
    def page(request: Request) -> HTMLResponse:
        query = request.query_params.multi_items()
        key = dict(query).get("drawing", "")
        if not key:
            return HTMLResponse(_page(typed_of(request), "", [], None, None))
        made: DrawnPieces | None
        error: dict[str, Any] | None = None
        try:
            made = _made(drawings, query)
        except InputError as refused:
            made, error = _plain(drawings, key), refused.as_dict()
        status = 422 if error else 200
        return HTMLResponse(_page(typed_of(request), key, query, made, error), status)

    @app.post("/pieces-own", include_in_schema=False)
    async def send(request: Request) -> Response:
        require_same_site(request)
        async with request.form(max_files=1, max_fields=4) as sent:
            file, unit = sent.get("file"), sent.get("unit")
            data = await file.read() if isinstance(file, UploadFile) else b""
        if not data:
            raise InputError("no file was chosen", "file", "choose an SVG file")
        asked = {"unit": unit.strip()} if isinstance(unit, str) and unit.strip() else {}
        await run_in_threadpool(
            import_text, data, asked.get("unit", "")
        )  # refused before it is held
        return RedirectResponse(
            f"./pieces-own?{urlencode({'drawing': drawings.hold(data), **asked})}", 303
        )

    @app.get("/own.{kind}", include_in_schema=False)
    def file(request: Request, kind: str) -> Response:
        query = request.query_params.multi_items()
        if kind not in {"svg", "pdf", "dxf", "json"}:
            raise HTTPException(404)
        made = _made(drawings, query)
        if kind == "json":
            return JSONResponse(import_json(made))
        title = "pieces"
        data, media = _file(require_made(made), kind, title, dict(query).get("paper", "a4"))
        name = f'inline; filename="{title}.{kind}"'
        return Response(data, media_type=media, headers={"Content-Disposition": name})


def _file(made: DrawnPieces, kind: str, title: str, paper: str) -> tuple[bytes, str]:
    if kind == "svg":
        return sheets_svg(title, made.pieces).encode("utf-8"), "image/svg+xml"
    if kind == "pdf":
        return sheets_pdf(title, made.pieces, paper), "application/pdf"
    text = sheets_dxf(title, made.pieces)
    return text.encode("cp1252", errors="replace"), "application/dxf"


def _made(drawings: Drawings, query: Sequence[tuple[str, str]]) -> DrawnPieces:
    if len(query) > MOST_FIELDS or any(len(value) > LONGEST for _, value in query):
        raise InputError("that is more than the page asks", "drawing", "start again")
    plain = dict(query)
    answers = {
        name.removeprefix("q."): value.strip()
        for name, value in query
        if name.startswith("q.") and value.strip()
    }
    sewn = [value.strip() for name, value in query if name == "sew" and value.strip()]
    said = tuple(value.strip() for name, value in query if name == "alter" and value.strip())
    data = drawings.get(plain.get("drawing", ""))
    return import_text(
        data, plain.get("unit", ""), answers, None, sewn, PieceAsk("", alterations=said)
    )


def _plain(drawings: Drawings, key: str) -> DrawnPieces | None:
    """Return the drawing without answers, to show beside what is wrong with them."""
    try:
        return import_text(drawings.get(key))
    except SamiteError:
        return None


def _page(
    typed: Typed,
    key: str,
    query: Sequence[tuple[str, str]],
    made: DrawnPieces | None,
    error: Mapping[str, Any] | None,
) -> str:
    pieces = made.pieces if made else ()
    drawing = overview_svg("pieces of the drawing", pieces, STATURE_MM) if pieces else ""
    plain = dict(query)
    return fill_page(
        "own.html",
        "Pieces",
        typed,
        key=key,
        unit=plain.get("unit", ""),
        made=made,
        answers={n.removeprefix("q."): v for n, v in query if n.startswith("q.")},
        sewn=[v for n, v in query if n == "sew" and v.strip()],
        alterations=[v for n, v in query if n == "alter" and v.strip()],
        query=urlencode([(n, v) for n, v in query if v.strip()]),
        drawing=Markup(drawing),  # noqa: S704
        error=error,
        longest_field=LONGEST,
    )


def drawing_error_page(error: Mapping[str, Any]) -> str:
    """Return the page with what is wrong.

    Parameters
    ----------
    error : mapping of str to str
        In the one shape.

    Returns
    -------
    str
        HTML.
    """
    return _page(Typed(), "", [], None, error)
