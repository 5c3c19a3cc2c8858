"""The pieces page: what was asked, the tapes it needs, and what was made."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import lru_cache
from typing import Any

from markupsafe import Markup

from samite.kernel.errors import InputError
from samite.pieces.shape import Shape
from samite.pieces.shapes.registry import every_shape, shape_named
from samite.services.piece import PieceAnswer, PieceAsk, make_piece
from samite.services.piece_paper import costume_svg, pieces_dxf, pieces_pdf, pieces_svg
from samite.sheets.figure import figure_svg
from samite.tables.bodies import MeasureEntry, measure_entries, measure_entry

FIRST = ("stature", "bust_girth", "waist_girth", "hip_girth")
"""Measures that estimate all others; always asked for."""

LONGEST = 120
MOST_FIELDS = 160
GROUPS = ("adult", "women", "men", "girls", "boys")
KEPT = 32


def read_ask(query: Sequence[tuple[str, str]]) -> PieceAsk:
    """Read the query of the page.

    Parameters
    ----------
    query : sequence of (str, str)
        Names and values: ``shape``, ``group``, ``age``, ``m.NAME`` for measures, ``s.NAME`` for
        settings, ``a.EDGE`` for allowances, ``alter``, ``shrink``, ``one_way``, ``lining``.

    Returns
    -------
    PieceAsk
        What is asked.

    Raises
    ------
    InputError
        If there are too many fields, or one is far too long.
    """
    if len(query) > MOST_FIELDS or any(len(value) > 4 * LONGEST for _, value in query):
        raise InputError("that is more than the page asks", "pieces", "start again at /pieces")
    filled = [(name, value.strip()) for name, value in query if value.strip()]
    plain = dict(filled)
    return PieceAsk(
        plain.get("shape", ""),
        _under(filled, "m."),
        _under(filled, "s."),
        _under(filled, "a."),
        alterations=tuple(value for name, value in filled if name == "alter"),
        group=plain.get("group", "adult"),
        age=plain.get("age", ""),
        shrink=plain.get("shrink", ""),
        one_way=plain.get("one_way") == "yes",
        lining=plain.get("lining") == "yes",
        cloth=plain.get("cloth", ""),
    )


def _under(filled: Sequence[tuple[str, str]], start: str) -> dict[str, str]:
    return {name.removeprefix(start): value for name, value in filled if name.startswith(start)}


@lru_cache(maxsize=KEPT)
def _made(frozen: tuple[Any, ...]) -> PieceAnswer:
    shape, measures, settings, allowances, rest = frozen
    asked = PieceAsk(shape, dict(measures), dict(settings), dict(allowances))
    return make_piece(replace(asked, **dict(rest)))


def answer(ask: PieceAsk) -> PieceAnswer:
    """Return the pieces, kept for the next who asks the same.

    Parameters
    ----------
    ask : PieceAsk
        What is asked.

    Returns
    -------
    PieceAnswer
        The pieces.

    Raises
    ------
    SamiteError
        Whatever is malformed, impossible or unknown.
    """
    names = ("alterations", "group", "age", "shrink", "one_way", "lining", "cloth")
    rest = tuple((name, getattr(ask, name)) for name in names)
    return _made(
        (
            ask.shape,
            tuple(ask.measures.items()),
            tuple(ask.settings.items()),
            tuple(ask.allowances.items()),
            rest,
        )
    )


def file_of(ask: PieceAsk, kind: str, paper: str) -> tuple[bytes, str]:
    """Return a file of the pieces.

    Parameters
    ----------
    ask : PieceAsk
        What is asked.
    kind : str
        ``svg``, ``pdf`` or ``dxf``.
    paper : str
        Paper of the PDF.

    Returns
    -------
    tuple of (bytes, str)
        The file and its media type.

    Raises
    ------
    SamiteError
        Whatever is malformed, impossible or unknown.
    """
    made = answer(ask)
    if kind == "svg":
        return pieces_svg(made).encode("utf-8"), "image/svg+xml"
    if kind == "pdf":
        return pieces_pdf(made, paper), "application/pdf"
    return pieces_dxf(made).encode("cp1252", errors="replace"), "application/dxf"


def page_values(ask: PieceAsk, error: Mapping[str, Any] | None) -> dict[str, Any]:
    """Return what the template shows.

    Parameters
    ----------
    ask : PieceAsk
        What is asked.
    error : mapping of str to str or None
        What is wrong with it, in the one shape.

    Returns
    -------
    dict of str to object
        Shapes, measures with their notes, settings, and the answer if there is one.
    """
    shape = _shape(ask.shape)
    entries = _entries(shape, ask)
    made = answer(ask) if shape and error is None else None
    return {
        "ask": ask,
        "groups": GROUPS,
        "shapes": [(one.name, one.says, one.name == ask.shape) for one in every_shape().values()],
        "shape": shape,
        "figure": Markup(figure_svg(entries)),  # noqa: S704
        "measures": [
            _field(number, one, ask, made) for number, one in enumerate(entries.values(), 1)
        ],
        "settings": _settings(shape, ask, made),
        "answer": made,
        "fitted": bool(shape and any(p.name == "mesh" for p in shape.parameters)),
        "fit": _fit_parts(made),
        "drawing": Markup(costume_svg([made])) if made else "",  # noqa: S704
        "error": error,
        "longest_field": LONGEST,
    }


def _fit_parts(made: PieceAnswer | None) -> list[tuple[str, list[str]]]:
    """Return what is told of fitted pieces as headings with their lines."""
    if made is None or made.fit is None:
        return []
    from samite.services.fitted_told import fit_lines

    parts: list[tuple[str, list[str]]] = []
    for line in fit_lines(made.fit):
        if line.startswith("  "):
            parts[-1][1].append(line.strip())
        elif line:
            parts.append((line.capitalize(), []))
    return parts


def _shape(name: str) -> Shape | None:
    return shape_named(name) if name and name in every_shape() else None


def _entries(shape: Shape | None, ask: PieceAsk) -> dict[str, MeasureEntry]:
    wanted = [*FIRST, *(shape.measures() if shape else ())]
    bases = [name.partition(".")[0] for name in ask.measures]
    wanted += [name for name in bases if name in measure_entries()]
    order = list(measure_entries())
    return {n: measure_entry(n) for n in sorted(dict.fromkeys(wanted), key=order.index)}


def _field(
    number: int, entry: MeasureEntry, ask: PieceAsk, made: PieceAnswer | None
) -> dict[str, Any]:
    found = next((e for e in made.estimates if e.name == entry.name), None) if made else None
    return {
        "number": number,
        "name": entry.name,
        "says": entry.says,
        "how": entry.how,
        "value": ask.measures.get(entry.name, ""),
        "told": f"{found.value_mm / 10:.1f} cm, {found.told()}"
        if found and not found.given
        else "",
    }


def _settings(shape: Shape | None, ask: PieceAsk, made: PieceAnswer | None) -> list[dict[str, Any]]:
    if shape is None:
        return []
    return [
        {
            "name": one.name,
            "label": one.name.replace("_", " "),
            "says": one.says,
            "unit": {"mm": "cm", "1": "", "count": ""}.get(one.unit, one.unit),
            "value": ask.settings.get(one.name, ""),
            "default": _default(one.name, one.unit, one.told_default(), made),
            "choices": one.choices,
        }
        for one in shape.parameters
    ]


def _default(name: str, unit: str, told: str, made: PieceAnswer | None) -> str:
    if made is None or name not in made.numbers:
        return told
    value = made.numbers[name]
    return f"{value / 10:.1f}" if unit == "mm" else f"{value:g}"
