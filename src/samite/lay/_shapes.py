"""Shapes of a lay: every turned and mirrored outline once, about the middle of its box."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from samite.lay._parts import MANY_CORNERS, Part, belted, convex_parts, safe, simpler
from samite.lay.outline import cosine_and_sine, tidy_outline

if TYPE_CHECKING:
    from collections.abc import Callable

    from samite.lay.problem import LayPiece, Outline, Point


@dataclass(frozen=True, slots=True)
class Fineness:
    """How many corners the search looks at in one outline; what has more is widened a little."""

    corners: int
    tolerance_mm: float
    most_mm: float
    convex: bool = False

    def of(self, outline: Outline) -> Outline:
        """Return an outline simple enough, widened by no more than has to be."""
        if self.convex:
            return tidy_outline(belted(outline))
        simple = outline
        if len(outline) > MANY_CORNERS:
            simple = simpler(outline, most=self.corners, tolerance_mm=self.tolerance_mm)
        return safe(simpler(simple, most=self.corners, tolerance_mm=self.most_mm), outline)


@dataclass(frozen=True, slots=True)
class Option:
    """One way of laying a piece: its shape, and where the shape's middle is in the turned outline."""

    shape: int
    middle: Point
    angle_deg: float
    mirrored: bool


@dataclass(frozen=True, slots=True)
class Shape:
    """A turned outline about the middle of its box, in convex parts."""

    outline: Outline
    parts: tuple[Part, ...]
    half_x: float
    half_y: float


@dataclass(slots=True)
class Shapes:
    """All shapes of a problem, each once."""

    found: list[Shape] = field(default_factory=list)
    keys: dict[tuple[Point, ...], int] = field(default_factory=dict)
    simple: dict[tuple[Outline, Fineness], tuple[Outline, tuple[Part, ...]]] = field(
        default_factory=dict
    )

    def add(self, shape: Shape) -> int:
        """Return the number of a shape, a new one if it is not there."""
        key = _key(shape.outline)
        if key not in self.keys:
            self.keys[key] = len(self.found)
            self.found.append(shape)
        return self.keys[key]

    def half_turn(self, number: int) -> int:
        """Return the number of the same shape turned by half, -1 if none is there."""
        turned = tuple((-x, -y) for x, y in self.found[number].outline)
        return self.keys.get(_key(turned), -1)


def _key(outline: Outline) -> tuple[Point, ...]:
    rounded = [(round(x, 5) + 0.0, round(y, 5) + 0.0) for x, y in outline]
    first = min(range(len(rounded)), key=rounded.__getitem__)
    return tuple(rounded[first:] + rounded[:first])


def options_of(
    piece: LayPiece, shapes: Shapes, hands: tuple[bool, ...], fineness: Fineness
) -> tuple[Option, ...]:
    """Return the different ways of laying a piece with some hands allowed."""
    plain = tidy_outline(piece.outline_mm)
    key = (plain, fineness)
    if key not in shapes.simple:
        simple = fineness.of(plain)
        shapes.simple[key] = (simple, convex_parts(simple))
    simple, parts = shapes.simple[key]
    found: dict[int, Option] = {}
    for mirrored in hands:
        for angle in dict.fromkeys(a % 360.0 for a in piece.angles_deg or (0.0,)):
            turn = _turner(angle, mirrored=mirrored)
            turned = turn(plain)
            box = _box(turned)
            middle = ((box[0] + box[2]) / 2.0, (box[1] + box[3]) / 2.0)
            shape = Shape(
                _shifted(turn(simple), middle),
                tuple(_shifted(turn(part), middle) for part in parts),
                (box[2] - box[0]) / 2.0,
                (box[3] - box[1]) / 2.0,
            )
            number = shapes.add(shape)
            found.setdefault(number, Option(number, middle, angle, mirrored))
    return tuple(found.values())


def obstacle(parts: tuple[Part, ...]) -> tuple[Shape, Point]:
    """Return what lies in the way as a shape, and where its middle lies."""
    box = _box([point for part in parts for point in part])
    middle = ((box[0] + box[2]) / 2.0, (box[1] + box[3]) / 2.0)
    moved = tuple(_shifted(part, middle) for part in parts)
    outline = tuple(point for part in moved for point in part)
    return Shape(outline, moved, (box[2] - box[0]) / 2.0, (box[3] - box[1]) / 2.0), middle


def _box(points: Outline | list[Point]) -> tuple[float, float, float, float]:
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs), min(ys), max(xs), max(ys)


def _shifted(points: Outline, middle: Point) -> Outline:
    return tuple((x - middle[0], y - middle[1]) for x, y in points)


def _turner(angle_deg: float, *, mirrored: bool) -> Callable[[Outline], Outline]:
    c, s = cosine_and_sine(angle_deg)
    hand = -1.0 if mirrored else 1.0

    def turn(points: Outline) -> Outline:
        placed = tuple((c * x - s * hand * y, s * x + c * hand * y) for x, y in points)
        return placed[::-1] if mirrored else placed

    return turn
