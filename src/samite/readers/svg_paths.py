"""Path data and transforms of SVG, flattened to points."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator

from samite.kernel.errors import InputError, OutOfRangeError
from samite.pieces.curves import Cubic
from samite.pieces.plane import Point

Matrix = tuple[float, float, float, float, float, float]
IDENTITY: Matrix = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
MOST_POINTS = 400_000
LARGEST = 1e9
"""Largest number that a drawing may hold."""

_NUMBER = re.compile(r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?")
_TOKEN = re.compile(rf"([MmZzLlHhVvCcSsQqTtAa])|({_NUMBER.pattern})")
_TAKES = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "A": 7, "Z": 0}
_FUNCTION = re.compile(r"(matrix|translate|scale|rotate|skewX|skewY)\s*\(([^()]*)\)")


def read_path(data: str, flatness: float) -> list[tuple[list[Point], bool]]:
    """Return the parts of a path as points, and whether each was closed.

    Parameters
    ----------
    data : str
        The ``d`` attribute.
    flatness : float
        How far chords may be off, in user units.

    Returns
    -------
    list of (list of Point, bool)
        One a part.

    Raises
    ------
    InputError
        If the data is malformed.
    OutOfRangeError
        If it has too many points.
    """
    pen = _Pen(flatness)
    for command, numbers in _commands(data):
        pen.draw(command, numbers)
        if pen.count > MOST_POINTS:
            raise OutOfRangeError("a path has too many points", "d", "simplify the drawing")
    return pen.parts()


def _commands(data: str) -> Iterator[tuple[str, list[float]]]:
    """Yield each command with its numbers; flags of arcs may stand without blanks."""
    command = ""
    numbers: list[float] = []
    place = 0
    while place < len(data):
        if data[place] in " \t\r\n,":
            place += 1
            continue
        if command in "Aa" and command and len(numbers) % 7 in (3, 4) and data[place] in "01":
            numbers.append(float(data[place]))
            place += 1
            continue
        token = _TOKEN.match(data, place)
        if token is None:
            raise InputError(f"a path is malformed at {data[place : place + 12]!r}", "d", "mend it")
        place = token.end()
        if token[1]:
            if command:
                yield from _split(command, numbers)
            command, numbers = token[1], []
        elif command:
            number = float(token[2])
            if not abs(number) <= LARGEST:
                raise OutOfRangeError("a path has an absurd number", "d", "mend it")
            numbers.append(number)
        else:
            raise InputError("a path begins with a number", "d", "begin it with M")
    if command:
        yield from _split(command, numbers)


def _split(command: str, numbers: list[float]) -> Iterator[tuple[str, list[float]]]:
    takes = _TAKES[command.upper()]
    if takes == 0:
        yield command, []
        return
    if not numbers or len(numbers) % takes:
        raise InputError(f"{command} of a path lacks numbers", "d", "mend the path")
    for k in range(0, len(numbers), takes):
        yield command, numbers[k : k + takes]
        command = {"M": "L", "m": "l"}.get(command, command)


class _Pen:
    """Where a path has got to."""

    def __init__(self, flatness: float) -> None:
        self.flatness, self.count = flatness, 0
        self.done: list[tuple[list[Point], bool]] = []
        self.line: list[Point] = []
        self.here: Point = (0.0, 0.0)
        self.handle: Point | None = None
        self.last = ""

    def parts(self) -> list[tuple[list[Point], bool]]:
        if len(self.line) > 1:
            self.done.append((self.line, False))
            self.line = []
        return self.done

    def draw(self, command: str, n: list[float]) -> None:
        kind, (x, y) = command.upper(), self.here
        ox, oy = (x, y) if command.islower() else (0.0, 0.0)
        if kind == "M":
            self.parts()
            self.here = (n[0] + ox, n[1] + oy)
            self.line = [self.here]
        elif kind == "Z":
            if len(self.line) > 1:
                self.done.append((self.line, True))
            if self.line:
                self.here = self.line[0]
            self.line = [self.here]
        elif kind == "A":
            self._add(
                _arc(
                    self.here,
                    n[0],
                    n[1],
                    n[2],
                    bool(n[3]),
                    bool(n[4]),
                    (n[5] + ox, n[6] + oy),
                    self.flatness,
                )
            )
        else:
            self._curve(kind, n, ox, oy)
        if kind not in "CSQT":
            self.handle = None
        self.last = kind

    def _curve(self, kind: str, n: list[float], ox: float, oy: float) -> None:
        x, y = self.here
        if kind in "LHV":
            end = {"L": (n[0] + ox, n[-1] + oy), "H": (n[0] + ox, y), "V": (x, n[0] + oy)}[kind]
            self._add([end])
            return
        points = [(n[k] + ox, n[k + 1] + oy) for k in range(0, len(n), 2)]
        kin = "CS" if kind in "CS" else "QT"
        if kind in "ST":
            mirrored = self.last in kin and self.last and self.handle
            hx, hy = self.handle if mirrored and self.handle else self.here
            points.insert(0, (2 * x - hx, 2 * y - hy))
        if kin == "QT":
            q, end = points
            self.handle = q
            first = (x + 2 / 3 * (q[0] - x), y + 2 / 3 * (q[1] - y))
            second = (end[0] + 2 / 3 * (q[0] - end[0]), end[1] + 2 / 3 * (q[1] - end[1]))
        else:
            first, second, end = points
            self.handle = second
        self._add(list(Cubic(self.here, first, second, end).flat(self.flatness))[1:])

    def _add(self, points: list[Point]) -> None:
        if not self.line:
            self.line = [self.here]
        self.line += points
        self.count += len(points)
        self.here = points[-1]


def _arc(
    start: Point,
    rx: float,
    ry: float,
    turn: float,
    large: bool,
    sweep: bool,
    end: Point,
    flatness: float,
) -> list[Point]:
    """Return points of an elliptic arc, from its ends to its centre as the standard says."""
    rx, ry = abs(rx), abs(ry)
    if rx == 0.0 or ry == 0.0 or start == end:
        return [end]
    c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    dx, dy = (start[0] - end[0]) / 2, (start[1] - end[1]) / 2
    x, y = c * dx + s * dy, -s * dx + c * dy
    grow = (x / rx) ** 2 + (y / ry) ** 2
    if grow > 1.0:
        rx, ry = rx * math.sqrt(grow), ry * math.sqrt(grow)
    below = (rx * y) ** 2 + (ry * x) ** 2
    root = math.sqrt(max((rx * ry) ** 2 / below - 1.0, 0.0)) * (1.0 if large != sweep else -1.0)
    cx, cy = root * rx * y / ry, -root * ry * x / rx
    mx, my = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
    begin = math.atan2((y - cy) / ry, (x - cx) / rx)
    stop = math.atan2((-y - cy) / ry, (-x - cx) / rx)
    swept = (stop - begin) % math.tau
    if not sweep:
        swept -= math.tau
    share = max(1.0 - flatness / max(rx, ry), 0.0)
    steps = max(2, min(4000, math.ceil(abs(swept) / (2.0 * math.acos(share) or 1e-3))))
    made = []
    for k in range(1, steps + 1):
        angle = begin + swept * k / steps
        px, py = rx * math.cos(angle) + cx, ry * math.sin(angle) + cy
        made.append((c * px - s * py + mx, s * px + c * py + my))
    made[-1] = end
    return made


def read_numbers(text: str) -> list[float]:
    """Return the numbers in a text.

    Parameters
    ----------
    text : str
        Any text.

    Returns
    -------
    list of float
        Numbers, in their order.

    Raises
    ------
    OutOfRangeError
        If one is absurd.
    """
    numbers = [float(one) for one in _NUMBER.findall(text)]
    if not all(abs(number) <= LARGEST for number in numbers):
        raise OutOfRangeError("the drawing has an absurd number", "SVG", "mend it")
    return numbers


def read_transform(text: str) -> Matrix:
    """Return a transform as a matrix.

    Parameters
    ----------
    text : str
        The ``transform`` attribute.

    Returns
    -------
    tuple of float
        a, b, c, d, e, f.

    Raises
    ------
    InputError
        If it is malformed.
    """
    matrix = IDENTITY
    for name, inside in _FUNCTION.findall(text):
        numbers = read_numbers(inside)
        matrix = combine(matrix, _one_transform(name, numbers))
    return matrix


def _one_transform(name: str, n: list[float]) -> Matrix:
    if name == "matrix" and len(n) == 6:
        return n[0], n[1], n[2], n[3], n[4], n[5]
    if name == "translate" and len(n) in (1, 2):
        return 1.0, 0.0, 0.0, 1.0, n[0], n[1] if len(n) == 2 else 0.0
    if name == "scale" and len(n) in (1, 2):
        return n[0], 0.0, 0.0, n[-1], 0.0, 0.0
    if name == "rotate" and len(n) in (1, 3):
        c, s = math.cos(math.radians(n[0])), math.sin(math.radians(n[0]))
        x, y = (n[1], n[2]) if len(n) == 3 else (0.0, 0.0)
        return c, s, -s, c, x - c * x + s * y, y - s * x - c * y
    if name in ("skewX", "skewY") and len(n) == 1:
        slope = math.tan(math.radians(n[0]))
        return (
            (1.0, 0.0, slope, 1.0, 0.0, 0.0)
            if name == "skewX"
            else (1.0, slope, 0.0, 1.0, 0.0, 0.0)
        )
    raise InputError(f"a transform {name} is malformed", "transform", "mend the drawing")


def combine(outer: Matrix, inner: Matrix) -> Matrix:
    """Return the matrix that applies `inner` first, then `outer`.

    Parameters
    ----------
    outer : tuple of float
        Second.
    inner : tuple of float
        First.

    Returns
    -------
    tuple of float
        Both.
    """
    a, b, c, d, e, f = outer
    g, h, i, j, k, m = inner
    return (
        a * g + c * h,
        b * g + d * h,
        a * i + c * j,
        b * i + d * j,
        a * k + c * m + e,
        b * k + d * m + f,
    )


def place(matrix: Matrix, point: Point) -> Point:
    """Return a point moved by a matrix.

    Parameters
    ----------
    matrix : tuple of float
        The matrix.
    point : tuple of (float, float)
        The point.

    Returns
    -------
    tuple of (float, float)
        Where it comes to lie.
    """
    a, b, c, d, e, f = matrix
    return a * point[0] + c * point[1] + e, b * point[0] + d * point[1] + f
