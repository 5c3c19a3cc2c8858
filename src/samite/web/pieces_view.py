"""The pieces page: what was asked, the tapes it needs, and what was made."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import Any

from markupsafe import Markup

from samite.kernel.errors import InputError
from samite.pieces.allowance import SEAMS
from samite.pieces.edge import CORNERS
from samite.pieces.shape import Shape
from samite.pieces.shapes.registry import every_shape, shape_named
from samite.services.costume import Costume, costume_asks, costume_pdf, costume_svg
from samite.services.fitted_parts import Part, fit_parts
from samite.services.piece import make_piece
from samite.services.piece_ask import PieceAnswer, PieceAsk
from samite.services.piece_paper import sheets_dxf, sheets_pdf, sheets_svg
from samite.sheets.figure import figure_svg
from samite.tables.bodies import MeasureEntry, measure_entries, measure_entry, size_names
from samite.tables.hangs import hang_classes
from samite.web.words import in_units

FIRST = ("stature", "bust_girth", "waist_girth", "hip_girth")
"""Measures that estimate all others; always asked for."""

LONGEST = 120
MOST_FIELDS = 400
GROUPS = ("adult", "women", "men", "girls", "boys")
KEPT = 48
PLAIN = ("age", "size", "layers", "shrink", "turn", "hang", "cloth", "width")
"""Fields of a question that are one text each."""

PAIRED = frozenset(
    ("thigh_girth", "knee_girth", "calf_girth", "ankle_girth", "upper_arm_girth", "elbow_girth",
     "wrist_girth", "armscye_girth", "shoulder_length", "waist_height", "inside_leg_length",
     "knee_height", "arm_length", "upper_arm_length", "shoulder_height", "underarm_height",
     "neck_to_breast_point", "waist_to_hip")
)  # fmt: skip
"""Measures that a body has twice, left and right."""

HALVED = frozenset(("bust_girth", "waist_girth", "hip_girth", "armscye_girth"))
"""Girths of which the front and the back may be measured apart."""

FLAGS = ("one_way", "lining", "bias")
HATCHED = ("pull", "too much")


@dataclass(frozen=True, slots=True)
class PagesAsk:
    """What the page asks.

    Parameters
    ----------
    ask : PieceAsk
        About the main shape and the body.
    others : tuple of str
        Names of more shapes.
    """

    ask: PieceAsk
    others: tuple[str, ...] = field(default=())

    @property
    def query(self) -> list[tuple[str, str]]:
        """The same as names and values of an address."""
        ask = self.ask
        found = [("shape", ask.shape), ("group", ask.group)]
        found += [(name, getattr(ask, name)) for name in PLAIN]
        found += [(name, "yes") for name in FLAGS if getattr(ask, name)]
        found += [("with", name) for name in self.others]
        found += [(f"m.{k}", v) for k, v in ask.measures.items()]
        found += [(f"s.{k}", v) for k, v in ask.settings.items()]
        found += [(f"a.{k}", v) for k, v in (*ask.allowances.items(), *ask.seams.items())]
        found += [(f"c.{k}", v) for k, v in ask.corners.items()]
        found += [("alter", text) for text in ask.alterations]
        return [(name, value) for name, value in found if value]


def read_ask(query: Sequence[tuple[str, str]]) -> PagesAsk:
    """Read the query of the page.

    Parameters
    ----------
    query : sequence of (str, str)
        Names and values: ``shape``, ``with`` for more shapes, ``group``, ``m.NAME`` for measures,
        ``s.NAME`` for settings (``s.SHAPE.NAME`` of another shape), ``a.EDGE`` for an allowance or
        a seam, ``alter``, and one text or ``yes`` each for the others.

    Returns
    -------
    PagesAsk
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
    edges = _under(filled, "a.")
    seams = {k: v.casefold() for k, v in edges.items() if v.casefold() in SEAMS}
    ask = PieceAsk(
        plain.get("shape", ""),
        _under(filled, "m."),
        _under(filled, "s."),
        {k: _with_unit(v) for k, v in edges.items() if k not in seams},
        seams,
        tuple(value for name, value in filled if name == "alter"),
        plain.get("group", "adult"),
    )
    texts: dict[str, Any] = {name: plain.get(name, "") for name in PLAIN}
    flags: dict[str, Any] = {name: plain.get(name) == "yes" for name in FLAGS}
    ask = replace(ask, corners=_under(filled, "c."), **texts, **flags)
    others = dict.fromkeys(v for name, v in filled if name == "with" and v != ask.shape)
    return PagesAsk(ask, tuple(others) if ask.shape else ())


def _under(filled: Sequence[tuple[str, str]], start: str) -> dict[str, str]:
    return {name.removeprefix(start): value for name, value in filled if name.startswith(start)}


def _with_unit(text: str) -> str:
    """Read a bare allowance in millimetres, as it is labelled."""
    return f"{text} mm" if text.replace(".", "", 1).isdigit() else text


@lru_cache(maxsize=KEPT)
def _made(frozen: tuple[tuple[str, Any], ...]) -> PieceAnswer:
    thawed: dict[str, Any] = {
        name: dict(value) if name in _MAPPINGS else value for name, value in frozen
    }
    return make_piece(PieceAsk(**thawed))


_MAPPINGS = ("measures", "settings", "allowances", "seams", "corners")


def _answer(ask: PieceAsk) -> PieceAnswer:
    """Return the pieces of one shape, kept for the next who asks the same."""
    frozen = tuple(
        (name, tuple(getattr(ask, name).items()) if name in _MAPPINGS else getattr(ask, name))
        for name in PieceAsk.__dataclass_fields__
    )
    return _made(frozen)


def costume_of(asked: PagesAsk) -> Costume:
    """Return all shapes that are asked for.

    Parameters
    ----------
    asked : PagesAsk
        What is asked.

    Returns
    -------
    Costume
        The pieces.

    Raises
    ------
    SamiteError
        Whatever is malformed, impossible or unknown.
    """
    return Costume(tuple(_answer(one) for one in costume_asks(asked.ask, asked.others)))


def file_of(asked: PagesAsk, kind: str, paper: str) -> tuple[bytes, str]:
    """Return a file of the pieces.

    Parameters
    ----------
    asked : PagesAsk
        What is asked.
    kind : str
        ``svg``, ``pdf`` or ``dxf`` at full size; ``sheet.svg`` or ``sheet.pdf`` for all pieces
        beside the wearer.
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
    made = costume_of(asked)
    if kind == "svg":
        return sheets_svg(made.title, made.pieces).encode("utf-8"), "image/svg+xml"
    if kind == "sheet.svg":
        return costume_svg(made).encode("utf-8"), "image/svg+xml"
    if kind == "sheet.pdf":
        return costume_pdf(made, paper), "application/pdf"
    if kind == "pdf":
        return sheets_pdf(made.title, made.pieces, paper), "application/pdf"
    return sheets_dxf(made.title, made.pieces).encode("cp1252", errors="replace"), "application/dxf"


def page_values(
    asked: PagesAsk, error: Mapping[str, Any] | None, units: str = "metric"
) -> dict[str, Any]:
    """Return what the template shows.

    Parameters
    ----------
    asked : PagesAsk
        What is asked.
    error : mapping of str to str or None
        What is wrong with it, in the one shape.
    units : str
        ``metric`` or ``imperial``.

    Returns
    -------
    dict of str to object
        Shapes, measures with their notes, settings, and the answers if there are any.

    Raises
    ------
    SamiteError
        Whatever is malformed, impossible or unknown.
    """
    ask = asked.ask
    if ask.shape and error is None:
        shape_named(ask.shape)
    known = every_shape()
    chosen = [known[name] for name in (ask.shape, *asked.others) if name in known]
    entries = _entries(chosen, ask)
    costume = costume_of(asked) if chosen and error is None else None
    answers = costume.answers if costume else ()
    estimates = {e.name: e for made in answers for e in made.estimates}
    taken = {name.partition(".")[0] for name in ask.measures}
    return {
        "ask": ask,
        "others": asked.others,
        "groups": GROUPS,
        "sizes": size_names(),
        "hangs": hang_classes(),
        "seam_words": tuple(SEAMS),
        "corner_words": CORNERS,
        "shapes": [(one.name, one.says, one.name == ask.shape) for one in known.values()],
        "shape": chosen[0] if chosen and chosen[0].name == ask.shape else None,
        "figure": Markup(figure_svg(entries, taken=taken)),  # noqa: S704
        "measures": [
            _field(number, one, ask, estimates.get(one.name))
            for number, one in enumerate(entries.values(), 1)
        ],
        "settings": [_settings(k, one, ask, answers) for k, one in enumerate(chosen)],
        "edges": _edges(ask, answers[0]) if answers else [],
        "answers": answers,
        "fits": {made.shape.name: _fit_parts(made, units) for made in answers},
        "title": costume.title if costume else "",
        "drawing": Markup(costume_svg(costume, units)) if costume else "",  # noqa: S704
        "error": error,
        "faulty": _faulty(asked, error) if error else "",
        "hatched": any(rule.name in HATCHED for one in answers for p in one.pieces
                       for rule in p.piece.rules),
        "longest_field": LONGEST,
        **_figures(units),
    }  # fmt: skip


def _figures(units: str) -> dict[str, Any]:
    """Return how lengths are written in the person's units."""
    imperial = units == "imperial"
    return {
        "unit": "in" if imperial else "cm",
        "units_text": lambda text: in_units(text, units),
        "tape": lambda mm: f"{mm / 25.4:.2f}" if imperial else f"{mm / 10.0:.1f}",
        "small": lambda mm: f"{mm / 25.4:.2f}" if imperial else f"{mm:.3g}",
        "nearest": "0.004 in" if imperial else "0.1 mm",
        "signed": lambda mm: f"{mm / 25.4:+.2f} in" if imperial else f"{mm:+.1f} mm",
    }


def _faulty(asked: PagesAsk, error: Mapping[str, Any]) -> str:
    """Return the field that an error is about; empty if it is about none of them."""
    ask, where = asked.ask, str(error.get("where", "")).replace(" ", "_")
    message = f"{error.get('message', '')} {error.get('where', '')}"
    for number, text in enumerate(ask.alterations, 1):
        if text and (text in message or any(part.strip() in message for part in text.split(","))):
            return f"alter-{number}"
    name = where.removeprefix("--").rpartition("=")[0] or where
    if name in ask.settings:
        return f"s-{name}"
    if name in ask.measures or name.partition(".")[0] in measure_entries():
        return f"m-{name.partition('.')[0]}"
    return "cloth" if where == "cloth" and ask.cloth else ""


def _fit_parts(made: PieceAnswer, units: str) -> Sequence[Part]:
    """Return what is told of fitted pieces, part by part."""
    return fit_parts(made.fit, units) if made.fit else ()


def _entries(chosen: Sequence[Shape], ask: PieceAsk) -> dict[str, MeasureEntry]:
    wanted = [*FIRST, *(name for shape in chosen for name in shape.measures())]
    bases = [name.partition(".")[0] for name in ask.measures]
    wanted += [name for name in bases if name in measure_entries()]
    order = list(measure_entries())
    return {n: measure_entry(n) for n in sorted(dict.fromkeys(wanted), key=order.index)}


def _field(number: int, entry: MeasureEntry, ask: PieceAsk, found: Any) -> dict[str, Any]:
    told = f"{found.value_mm / 10:.1f} cm, {found.told()}" if found and not found.given else ""
    return {
        "number": number,
        "name": entry.name,
        "says": entry.says,
        "how": entry.how,
        "value": ask.measures.get(entry.name, ""),
        "sided": entry.name in PAIRED,
        "left": ask.measures.get(f"{entry.name}.left", ""),
        "right": ask.measures.get(f"{entry.name}.right", ""),
        "halved": entry.name in HALVED,
        "front": ask.measures.get(f"{entry.name}.front", ""),
        "back": ask.measures.get(f"{entry.name}.back", ""),
        "told": told,
    }


def _settings(
    number: int, shape: Shape, ask: PieceAsk, answers: Sequence[PieceAnswer]
) -> dict[str, Any]:
    made = next((one for one in answers if one.shape.name == shape.name), None)
    start = "" if number == 0 else f"{shape.name}."
    fields = [
        {
            "name": f"{start}{one.name}",
            "label": one.name.replace("_", " "),
            "says": one.says,
            "unit": {"mm": "cm", "1": "", "count": ""}.get(one.unit, one.unit),
            "value": ask.settings.get(f"{start}{one.name}", ""),
            "default": _default(one.name, one.unit, one.told_default(), made),
            "choices": one.choices,
        }
        for one in shape.parameters
    ]
    return {"name": shape.name, "says": shape.says, "fields": fields}


def _default(name: str, unit: str, told: str, made: PieceAnswer | None) -> str:
    if made is None or name not in made.numbers:
        return told
    value = made.numbers[name]
    return f"{value / 10:.1f}" if unit == "mm" else f"{value:g}"


def _edges(ask: PieceAsk, made: PieceAnswer) -> list[dict[str, str]]:
    """Return the edges of the main shape with the allowances that they have."""
    found: dict[str, str] = {}
    for one in made.pieces:
        for edge in one.piece.edges:
            if edge.kind != "fold":
                found.setdefault(edge.name, f"{one.cut.allowances_mm[edge.name]:g}")
    said = {**ask.allowances, **ask.seams}
    return [
        {
            "name": name,
            "value": said.get(name, "").removesuffix(" mm"),
            "taken": taken,
            "corner": ask.corners.get(name, ""),
        }
        for name, taken in found.items()
    ]
