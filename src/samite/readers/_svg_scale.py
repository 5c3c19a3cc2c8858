"""The scale of a drawing: what its unit, its test square or the person tells."""

from __future__ import annotations

import math
from collections.abc import Sequence

from samite.kernel.errors import InputError
from samite.pieces.plane import Point, unit_vector
from samite.readers._svg_rings import role_of
from samite.readers.svg_file import Drawn
from samite.readers.svg_found import Question

SQUARES_MM = (50.0, 50.8, 100.0, 101.6, 25.4, 20.0)


def find_scale(drawn: Drawn, given: float) -> tuple[float, str, list[Question], int]:
    """Return millimetres a unit, its proof, questions, and the number of the test square's line."""
    square, side = find_square(drawn)
    unit = given or drawn.unit_mm
    if square >= 0 and unit == 0.0:
        wanted = _side_told(drawn, square) or 50.0
        told = f"a test square taken as {wanted:g} mm"
        return wanted / side, told, [Question("scale", f"is the square {wanted:g} mm?")], square
    if unit == 0.0:
        raise InputError(
            "the drawing does not tell its scale",
            "SVG",
            "save it with its width in mm, draw a square named test-square of 50 mm, or give --unit",
        )
    if square >= 0:
        nearest = min(SQUARES_MM, key=lambda size: abs(size - side * unit))
        if abs(nearest - side * unit) <= 0.01 * nearest:
            return unit, f"a test square of {side * unit:.2f} mm", [], square
        ask = f"the test square measures {side * unit:.1f} mm: is the scale right?"
        return unit, "", [Question("scale", ask)], square
    if given:
        return unit, "the unit that was given", [], -1
    ask = "there is no test square: is the drawing at full size?"
    return unit, "", [Question("scale", ask)], -1


def find_square(drawn: Drawn) -> tuple[int, float]:
    for k, line in enumerate(drawn.lines):
        side = _square_side(line.points)
        told = role_of(line) == "square" or (not role_of(line) and _side_told(drawn, k))
        if line.closed and side and told:
            return k, side
    return -1, 0.0


def _side_told(drawn: Drawn, number: int) -> float:
    """Return the side that a text inside or at a square tells, in millimetres."""
    points = drawn.lines[number].points
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    room = 0.2 * (max(xs) - min(xs))
    for (x, y), text in drawn.texts:
        if min(xs) - room <= x <= max(xs) + room and min(ys) - room <= y <= max(ys) + room:
            plain = text.casefold().replace("square", "").strip()
            for size, names in (
                (50.0, ("50 mm", "5 cm")),
                (50.8, ("2 in", '2"')),
                (25.4, ("1 in", '1"')),
                (100.0, ("10 cm", "100 mm")),
            ):
                if plain in names:
                    return size
    return 0.0


def _square_side(points: Sequence[Point]) -> float:
    """Return the side of a line if it is a square, else 0."""
    corners = corners_of(points)
    if len(corners) != 4:
        return 0.0
    sides = [math.dist(a, b) for a, b in zip(corners, [*corners[1:], corners[0]], strict=True)]
    diagonals = math.dist(corners[0], corners[2]), math.dist(corners[1], corners[3])
    mean = sum(sides) / 4.0
    even = all(abs(side - mean) < 0.01 * mean for side in sides)
    right = all(abs(d - mean * math.sqrt(2.0)) < 0.01 * mean for d in diagonals)
    return mean if even and right and mean > 0 else 0.0


def corners_of(points: Sequence[Point]) -> list[Point]:
    """Drop the closing point and points on straight runs."""
    kept = [
        p for p, q in zip(points, [points[-1], *points[:-1]], strict=True) if math.dist(p, q) > 1e-9
    ]
    made = []
    for k, point in enumerate(kept):
        a, b = unit_vector(kept[k - 1], point), unit_vector(point, kept[(k + 1) % len(kept)])
        if abs(a[0] * b[1] - a[1] * b[0]) > 1e-6 or a[0] * b[0] + a[1] * b[1] < 0:
            made.append(point)
    return made
