"""An SVG file as lines in millimetres: safe against hostile files, its scale made certain."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from pathlib import Path
from xml.parsers import expat

from samite.kernel.errors import InputError, OutOfRangeError
from samite.pieces.plane import Point
from samite.readers.svg_paths import (
    IDENTITY,
    Matrix,
    combine,
    place,
    read_numbers,
    read_path,
    read_transform,
)

LARGEST_BYTES = 20_000_000
DEEPEST = 200
MOST_LINES = 5_000
MOST_POINTS = 500_000
FLATNESS_MM = 0.02
_HIDDEN = {"defs", "clippath", "mask", "pattern", "marker", "symbol", "style", "metadata"}
_UNITS_MM = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4, "pt": 25.4 / 72.0, "pc": 25.4 / 6.0}
FARTHEST = 1e8
_SHAPES = {"path", "line", "polyline", "polygon", "rect", "circle", "ellipse"}


@dataclass(frozen=True, slots=True)
class DrawnLine:
    """One line of a drawing.

    Parameters
    ----------
    points : tuple of tuple of (float, float)
        Its points, y upwards, in millimetres once the scale is known.
    closed : bool
        Whether it was closed.
    names : str
        Ids, classes and labels of it and of the groups around it, lower case.
    group : str
        Name of the piece that the drawing itself gives, if any.
    """

    points: tuple[Point, ...]
    closed: bool
    names: str
    group: str


@dataclass(frozen=True, slots=True)
class Drawn:
    """What an SVG file holds.

    Parameters
    ----------
    lines : tuple of DrawnLine
        All lines, in user units turned by y.
    unit_mm : float
        Millimetres in a user unit as the file says; 0 if it does not say.
    texts : tuple of (Point, str)
        Texts and where they stand, in user units.
    skipped : tuple of str
        Elements that were not read.
    """

    lines: tuple[DrawnLine, ...]
    unit_mm: float
    texts: tuple[tuple[Point, str], ...]
    skipped: tuple[str, ...]


def read_svg_file(path: Path) -> Drawn:
    """Read an SVG file.

    Parameters
    ----------
    path : Path
        The file.

    Returns
    -------
    Drawn
        Its lines.

    Raises
    ------
    InputError
        If it cannot be read, is no SVG, or is hostile.
    OutOfRangeError
        If it is too large.
    """
    try:
        size = path.stat().st_size
    except OSError as error:
        raise InputError(
            f"cannot read {path}: {error.strerror}", str(path), "name a file"
        ) from None
    if size > LARGEST_BYTES:
        raise OutOfRangeError(
            f"the file has {size / 1e6:.0f} MB", str(path), f"at most {LARGEST_BYTES / 1e6:.0f} MB"
        )
    try:
        data = path.read_bytes()
    except OSError as error:
        raise InputError(
            f"cannot read {path}: {error.strerror}", str(path), "name a file"
        ) from None
    return read_svg(data)


def read_svg(data: bytes) -> Drawn:
    """Read SVG text.

    Parameters
    ----------
    data : bytes
        The text.

    Returns
    -------
    Drawn
        Its lines.

    Raises
    ------
    InputError
        If it is no SVG, or declares entities.
    OutOfRangeError
        If it is too large, too deep or has too many lines.
    """
    if len(data) > LARGEST_BYTES:
        raise OutOfRangeError("the drawing is too large", "SVG", "simplify it")
    reader = _Reader()
    parser = expat.ParserCreate()
    parser.StartElementHandler = reader.start
    parser.EndElementHandler = reader.end
    parser.CharacterDataHandler = reader.text
    parser.EntityDeclHandler = _refuse_entities
    parser.ExternalEntityRefHandler = lambda *_: 0
    try:
        parser.Parse(data, True)
    except expat.ExpatError as error:
        raise InputError(f"the file is no SVG: {error}", "SVG", "save it again as SVG") from None
    if not reader.found_svg:
        raise InputError("the file is no SVG", "SVG", "save it as SVG")
    return Drawn(
        tuple(reader.lines), reader.unit_mm, tuple(reader.texts), tuple(sorted(reader.skipped))
    )


def _refuse_entities(*_: object) -> None:
    raise InputError(
        "the file declares entities, as hostile files do", "SVG", "save it as plain SVG"
    )


class _Reader:
    """Takes elements as they come and keeps the lines."""

    def __init__(self) -> None:
        self.lines: list[DrawnLine] = []
        self.texts: list[tuple[Point, str]] = []
        self.skipped: set[str] = set()
        self.unit_mm, self.found_svg = 0.0, False
        self._points = 0
        self._stack: list[tuple[Matrix, str, str, bool]] = [(IDENTITY, "", "", False)]
        self._words: list[str] | None = None
        self._text_place: Point = (0.0, 0.0)

    def start(self, tag: str, attributes: dict[str, str]) -> None:
        name = tag.rpartition(":")[2].casefold()
        if len(self._stack) > DEEPEST:
            raise OutOfRangeError("the drawing is nested too deeply", "SVG", "ungroup it")
        matrix, names, group, hidden = self._stack[-1]
        if name == "svg" and not self.found_svg:
            self.found_svg = True
            self.unit_mm, own = _scale(attributes)
            matrix = own
        if "transform" in attributes:
            matrix = combine(matrix, read_transform(attributes["transform"]))
        names = f"{names} {_names(attributes)}".strip()
        group = attributes.get("data-piece", group)
        style = attributes.get("style", "").replace(" ", "")
        hidden = (
            hidden
            or name in _HIDDEN
            or "display:none" in style
            or attributes.get("display") == "none"
        )
        self._stack.append((matrix, names, group, hidden))
        if hidden:
            return
        if name in _SHAPES:
            self._shape(name, attributes, matrix, (names, group))
        elif name == "text":
            self._words = []
            self._text_place = place(matrix, (_f(attributes, "x"), _f(attributes, "y")))
        elif name in ("use", "image", "foreignobject"):
            self.skipped.add(name)

    def end(self, tag: str) -> None:
        self._stack.pop()
        if tag.rpartition(":")[2].casefold() == "text" and self._words is not None:
            x, y = self._text_place
            self.texts.append(((x, -y), " ".join("".join(self._words).split())))
            self._words = None

    def text(self, data: str) -> None:
        if self._words is not None:
            self._words.append(data)

    def _shape(
        self, name: str, attributes: dict[str, str], matrix: Matrix, told: tuple[str, str]
    ) -> None:
        stretch = math.sqrt(abs(matrix[0] * matrix[3] - matrix[1] * matrix[2])) or 1.0
        flatness = FLATNESS_MM / ((self.unit_mm or 1.0) * stretch)
        data = attributes.get("d", "") if name == "path" else _as_path(name, attributes)
        for points, closed in read_path(data, flatness):
            placed = tuple((x, -y) for x, y in (place(matrix, point) for point in points))
            if not all(abs(x) <= FARTHEST and abs(y) <= FARTHEST for x, y in placed):
                raise OutOfRangeError("a line runs absurdly far", "SVG", "mend the drawing")
            self.lines.append(DrawnLine(placed, closed, *told))
            self._points += len(placed)
            if len(self.lines) > MOST_LINES or self._points > MOST_POINTS:
                raise OutOfRangeError("the drawing has too many lines", "SVG", "simplify it")


def _names(attributes: dict[str, str]) -> str:
    wanted = ("id", "class", "inkscape:label", "data-name", "data-role")
    return " ".join(attributes[key].casefold() for key in wanted if key in attributes)


def _f(attributes: dict[str, str], key: str, default: float = 0.0) -> float:
    text = attributes.get(key, "")
    found = re.match(r"\s*[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?", text)
    return read_numbers(found[0])[0] if found else default


def _as_path(name: str, attributes: dict[str, str]) -> str:
    """Return a basic shape as path data."""
    if name == "line":
        return f"M{_f(attributes, 'x1')} {_f(attributes, 'y1')}L{_f(attributes, 'x2')} {_f(attributes, 'y2')}"
    if name in ("polyline", "polygon"):
        points = attributes.get("points", "").strip()
        return f"M{points}{'Z' if name == 'polygon' else ''}" if points else ""
    if name == "rect":
        x, y = _f(attributes, "x"), _f(attributes, "y")
        w, h = _f(attributes, "width"), _f(attributes, "height")
        return f"M{x} {y}H{x + w}V{y + h}H{x}Z" if w > 0 and h > 0 else ""
    cx, cy = _f(attributes, "cx"), _f(attributes, "cy")
    rx = _f(attributes, "r", _f(attributes, "rx"))
    ry = _f(attributes, "r", _f(attributes, "ry"))
    if rx <= 0 or ry <= 0:
        return ""
    return f"M{cx - rx} {cy}A{rx} {ry} 0 0 1 {cx + rx} {cy}A{rx} {ry} 0 0 1 {cx - rx} {cy}Z"


def _scale(attributes: dict[str, str]) -> tuple[float, Matrix]:
    """Return millimetres a user unit, 0 if unsaid, and the matrix into user units."""
    box = read_numbers(attributes.get("viewBox", ""))
    unit_mm = 0.0
    width = attributes.get("width", "")
    found = re.fullmatch(
        r"\s*((?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?)\s*(mm|cm|in|pt|pc|m)\s*", width
    )
    if found:
        size = read_numbers(found[1])[0] * _UNITS_MM[found[2]]
        across = box[2] if len(box) == 4 else size
        if across > 0 and size > 0:
            unit_mm = size / across
    origin = (box[0], box[1]) if len(box) == 4 else (0.0, 0.0)
    return unit_mm, (1.0, 0.0, 0.0, 1.0, -origin[0], -origin[1])
