"""The answer at the shop counter: metres for a shape in words, before any body exists."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Any

from samite.garment.body import Body
from samite.kernel.errors import InfeasibleError, InputError, SamiteError, UnknownNameError
from samite.kernel.units import parse_quantity
from samite.pieces.derive import unfolded
from samite.pieces.finish import Finish, FinishedPiece, finish
from samite.pieces.measures import estimate
from samite.pieces.outline import Piece
from samite.pieces.shape import Shape, fill_in
from samite.pieces.shapes.registry import shapes
from samite.services.raster import CELL_MM, Cell, on_grid, packed_length_mm

FORMAT = "samite.metres.v1"
EDGE_MM = 10.0
USUAL_WIDTH_MM = 1400.0
SHRINK = 0.03
STEP_MM = 100.0
MOST_PANELS = 40
_SMALL_SCORE, _LARGE_SCORE = -1.0, 1.0
_WIDTH = re.compile(
    r"(\d+(?:[.,]\d+)?(?:\s+\d/\d)?)\s*(mm|cm|m\b|in\b|inch(?:es)?|\"|yd)", re.IGNORECASE
)
_CHILD = re.compile(
    r"\b(?:child|girl|boy|kid)s?(?:\s+of)?\s+(\d{1,2})\b|\b(\d{1,2})[ -]years?[ -]olds?\b"
)
_SIZES = {"tall": 1.0, "long": 1.0, "short": -1.0, "petite": -1.0}
_GIRTHS = {"large": 1.0, "big": 1.0, "stout": 1.5, "small": -1.0, "slim": -1.0}


@dataclass(frozen=True, slots=True)
class Counter:
    """What was read from the words.

    Parameters
    ----------
    shape : Shape
        The shape.
    group : str
        Whose body.
    age_years : float or None
        Age of a child [-].
    tall : float
        Standard deviations of the stature.
    stout : float
        Standard deviations of the girths.
    width_mm : float
        Width of the cloth [mm].
    width_given : bool
        Whether it was said.
    one_way : bool
        Whether the cloth runs one way.
    cloth : str
        The rest of the words.
    """

    shape: Shape
    group: str
    age_years: float | None
    tall: float
    stout: float
    width_mm: float
    width_given: bool
    one_way: bool
    cloth: str


def read_counter(words: str) -> Counter:
    """Read what is asked at the counter.

    Parameters
    ----------
    words : str
        ``hooded cloak, tall adult, 140 cm velvet``.

    Returns
    -------
    Counter
        Shape, body and cloth.

    Raises
    ------
    UnknownNameError
        If no shape is named.
    InputError
        If the width cannot be read.
    """
    text = " ".join(words.casefold().replace("_", " ").split())
    shape, text = _find_shape(text)
    group, age, text = _find_body(text)
    tall = sum(score for word, score in _SIZES.items() if re.search(rf"\b{word}\b", text))
    stout = sum(score for word, score in _GIRTHS.items() if re.search(rf"\b{word}\b", text))
    width, given, text = _find_width(text)
    rest = re.sub(r"\b(" + "|".join([*_SIZES, *_GIRTHS]) + r")\b", " ", text)
    rest = re.sub(r"\b(?:for|an?|the|from|in|of|wide|on)\b", " ", rest)
    cloth = " ".join(rest.replace(",", " ").split())
    return Counter(shape, group, age, tall, stout, width, given, _one_way(cloth), cloth)


def _find_shape(text: str) -> tuple[Shape, str]:
    found = [
        (len(word), word, shape)
        for shape in shapes().values()
        for word in (shape.name, shape.name.replace("-", " "), *shape.words)
        if re.search(rf"\b{re.escape(word)}\b", text)
    ]
    if not found:
        raise UnknownNameError(
            "no shape is named", "SHAPE", 'for example "hooded cloak, tall adult, 140 cm velvet"'
        )
    _, word, shape = max(found, key=lambda one: one[0])
    return shape, re.sub(rf"\b{re.escape(word)}\b", " ", text, count=1)


def _find_body(text: str) -> tuple[str, float | None, str]:
    child = _CHILD.search(text)
    if child:
        group = "boys" if re.search(r"\bboys?\b", text) else "girls"
        return group, float(child[1] or child[2]), text.replace(child[0], " ")
    for pattern, group in (
        (r"\b(?:woman|women|lady)\b", "women"),
        (r"\b(?:man|men)\b", "men"),
        (r"\badults?\b", "adult"),
    ):
        if re.search(pattern, text):
            return group, None, re.sub(pattern, " ", text)
    if re.search(r"\b(?:child|children|girl|boy|kid)s?\b", text):
        return "girls", 7.0, re.sub(r"\b(?:child|children|girl|boy|kid)s?\b", " ", text)
    return "adult", None, text


def _find_width(text: str) -> tuple[float, bool, str]:
    for found in _WIDTH.finditer(text):
        width = parse_quantity(f"{found[1]} {found[2]}", "mm")
        if 300.0 <= width <= 6000.0:
            return width, True, text.replace(found[0], " ", 1)
    return USUAL_WIDTH_MM, False, text


def _one_way(cloth: str) -> bool:
    if not cloth:
        return False
    from samite.cloth.build import build_cloth
    from samite.cloth.label import read_label

    try:
        return build_cloth(read_label(cloth)).one_way
    except SamiteError:
        return False


def metres(words: str) -> dict[str, Any]:
    """Return how much cloth a shape takes, with its range.

    Parameters
    ----------
    words : str
        ``hooded cloak, tall adult, 140 cm velvet``.

    Returns
    -------
    dict of str to object
        Format ``samite.metres.v1``: metres, low, high, what was assumed.

    Raises
    ------
    UnknownNameError
        If no shape is named.
    InfeasibleError
        If no number of panels fits on the cloth.
    InputError
        If the words cannot be read.
    """
    asked = read_counter(words)
    lengths, panels = {}, 0
    for name, score in (("low", _SMALL_SCORE), ("middle", 0.0), ("high", _LARGE_SCORE)):
        lengths[name], used = _length(asked, score)
        panels = max(panels, used)
    raw = lengths["middle"]
    low, high = 0.95 * min(lengths.values()), max(lengths.values()) * (1.0 + SHRINK) + 2 * STEP_MM
    if not asked.width_given:
        low, high = low * 0.9, high * 1.25
    assumed = _assumed(asked, panels)
    return {
        "format": FORMAT,
        "shape": asked.shape.name,
        "body": _body_words(asked),
        "width_mm": asked.width_mm,
        "one_way": asked.one_way,
        "cloth": asked.cloth,
        "metres": _up(raw * (1.0 + SHRINK)),
        "low": _up(low),
        "high": _up(high),
        "panels": panels,
        "assumed": assumed,
        "source": "derivation",
        "grade": "guess",
    }


def _up(length_mm: float) -> float:
    return round(math.ceil(length_mm / STEP_MM - 1e-9) * STEP_MM / 1000.0, 3)


def _body_words(asked: Counter) -> str:
    age = f" of {asked.age_years:g}" if asked.age_years is not None else ""
    tall = "tall " if asked.tall > 0 else "short " if asked.tall < 0 else ""
    return f"{tall}{asked.group}{age}"


def _assumed(asked: Counter, panels: int) -> list[str]:
    told = [
        "usual lengths and fullness of the shape; samite piece --set changes them",
        f"{SHRINK * 100:g} % for shrinkage and straightening, allowances of 15 mm, hems of 20 mm",
    ]
    if not asked.width_given:
        told.insert(0, f"a cloth {asked.width_mm / 10:g} cm wide")
    if asked.one_way:
        told.append("all pieces the same way up, for nap or print")
    if panels:
        told.append(f"{panels} panels, so that each fits the width")
    return told


def _length(asked: Counter, score: float) -> tuple[float, int]:
    """Return the length of cloth for one body, and the panels that it took if not the usual."""
    body = _body(asked, score)
    usual = next((p for p in asked.shape.parameters if p.name == "panels"), None)
    tried = [0] if usual is None else [0, *range(int(usual.default) + 1, MOST_PANELS)]
    trouble: InfeasibleError | InputError | None = None
    for panels in tried:
        settings = {"panels": float(panels)} if panels else {}
        numbers = fill_in(asked.shape, settings, lambda name: estimate(body, name).value_mm)
        pieces = asked.shape.build(numbers).pieces
        try:
            return _packed(pieces, asked), panels
        except InfeasibleError as error:
            trouble = error
    raise trouble or InputError("no shape", "SHAPE", "name a shape")


def _body(asked: Counter, score: float) -> Body:
    base = Body(MappingProxyType({}), asked.group, asked.age_years)
    scores = {"stature": asked.tall + score}
    if asked.age_years is None:
        scores |= dict.fromkeys(("bust_girth", "hip_girth"), asked.stout + score)
    found = {}
    for name, wanted in scores.items():
        known = estimate(base, name)
        found[name] = known.value_mm + wanted * known.spread_mm
    return replace(base, measures_mm=MappingProxyType(found))


def _packed(pieces: tuple[Piece, ...], asked: Counter) -> float:
    made = finish([unfolded(piece) for piece in pieces], Finish(one_way=asked.one_way))
    return laid_length_mm(made, asked.width_mm, one_way=asked.one_way)


def laid_length_mm(made: Sequence[FinishedPiece], width_mm: float, *, one_way: bool) -> float:
    """Return the length of cloth that a quick lay of finished pieces takes.

    Parameters
    ----------
    made : sequence of FinishedPiece
        The pieces, none of them on the fold.
    width_mm : float
        Width of the cloth, selvedges included [mm].
    one_way : bool
        Whether all pieces lie the same way up.

    Returns
    -------
    float
        Length; it errs long, a true lay is shorter [mm].

    Raises
    ------
    InfeasibleError
        If a piece is wider than the cloth.
    """
    cells: list[tuple[Cell, Cell]] = []
    room = width_mm - 2.0 * EDGE_MM
    for one in made:
        turn = 90.0 - one.piece.grain_deg
        points = one.cut.points[:: max(1, len(one.cut.points) // 240)]
        pair = on_grid(points, turn), on_grid(points, turn + 180.0)
        if pair[0].width * CELL_MM > room and not one_way:
            across = on_grid(points, turn + 90.0), on_grid(points, turn + 270.0)
            pair = across if across[0].width * CELL_MM <= room else pair
        chosen = (pair[0], pair[0]) if one_way else pair
        cells += [chosen] * min(one.piece.copies, 60)
    return packed_length_mm(cells, room) + 2.0 * EDGE_MM
