"""A person's own drawing recognised: cut line, stitch line, notches, grain, folds; or asked about.

The rules, in order: names in the drawing win. Else, of the rings that no other ring holds, each is
the cut line of a piece; a ring inside it with a near-constant gap is its stitch line, other rings
are openings; a line of 2 to 16 mm that touches the outline is a notch; a straight line with both ends
on the outline is a fold; the longest other straight line is the grain; the rest is drawn, not cut.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from samite.kernel.errors import InputError, OutOfRangeError
from samite.pieces.crossing import self_crossings, without_loop
from samite.pieces.drawn import gap_mm
from samite.pieces.plane import Point, polyline_length_mm, signed_area_mm2, unit_vector
from samite.readers.svg_chains import join_lines
from samite.readers.svg_file import Drawn, DrawnLine, read_svg, read_svg_file

NOTCH_SPAN_MM = (2.0, 16.0)
TOUCH_MM = 1.0
CLOSE_MM = 5.0
SMALLEST_MM2 = 400.0
MOST_RINGS = 400
SMALL_LOOP = 0.05
STITCH_SHARE = 0.5
SQUARES_MM = (50.0, 50.8, 100.0, 101.6, 25.4, 20.0)
_ROLES = {
    "cut": ("cut", "boundary", "outline"),
    "stitch": ("stitch", "sew", "seam"),
    "notch": ("notch",),
    "grain": ("grain",),
    "fold": ("fold", "mirror"),
    "mark": ("drill", "mark"),
    "square": ("square", "scale", "test"),
    "paper": ("paper", "background", "frame"),
    "line": ("internal", "line", "pleat", "dart"),
}


@dataclass(frozen=True, slots=True)
class Question:
    """Something that the drawing leaves open.

    Parameters
    ----------
    about : str
        One of ``scale``, ``grain``, ``allowance``, ``stitch`` and ``rest``.
    asks : str
        The question.
    """

    about: str
    asks: str


@dataclass(frozen=True, slots=True)
class ReadPiece:
    """A piece that was recognised.

    Parameters
    ----------
    name : str
        Its name.
    cut : tuple of tuple of (float, float)
        Cut line, anticlockwise [mm].
    stitch : tuple of tuple of (float, float)
        Stitch line; empty if there is none [mm].
    openings : tuple of tuple of Point
        Rings inside that are cut out [mm].
    notches : tuple of tuple of Point
        Notches [mm].
    grain : tuple of tuple of (float, float)
        Ends of the grain line; empty if there is none [mm].
    folds : tuple of tuple of Point
        Fold lines [mm].
    others : tuple of tuple of Point
        Lines that are drawn, not cut [mm].
    mended : tuple of str
        What was mended.
    questions : tuple of Question
        What the person must answer.
    marks : tuple of tuple of (float, float)
        Drill points [mm].
    words : tuple of str
        Texts inside.
    """

    name: str
    cut: tuple[Point, ...]
    stitch: tuple[Point, ...] = ()
    openings: tuple[tuple[Point, ...], ...] = ()
    notches: tuple[tuple[Point, ...], ...] = ()
    grain: tuple[Point, ...] = ()
    folds: tuple[tuple[Point, ...], ...] = ()
    others: tuple[tuple[Point, ...], ...] = ()
    mended: tuple[str, ...] = ()
    questions: tuple[Question, ...] = ()
    marks: tuple[Point, ...] = ()
    words: tuple[str, ...] = ()

    @property
    def area_mm2(self) -> float:
        """Area inside the cut line [mm2]."""
        return signed_area_mm2(self.cut)


@dataclass(frozen=True, slots=True)
class ReadPieces:
    """All pieces of a drawing.

    Parameters
    ----------
    pieces : tuple of ReadPiece
        The good ones.
    problems : tuple of str
        What could not be read.
    questions : tuple of Question
        What the person must answer about the whole.
    unit_mm : float
        Millimetres in a unit of the drawing.
    proved : str
        What proves the scale; empty if nothing does.
    square_mm : float
        Side of the test square by that unit; 0 if there is none [mm].
    """

    pieces: tuple[ReadPiece, ...]
    problems: tuple[str, ...]
    questions: tuple[Question, ...]
    unit_mm: float
    proved: str
    square_mm: float = 0.0


def read_pieces_file(path: Path, unit_mm: float = 0.0) -> ReadPieces:
    """Read pieces from an SVG file.

    Parameters
    ----------
    path : Path
        The file.
    unit_mm : float
        Millimetres in a unit of the drawing, if the person knows; 0 otherwise [mm].

    Returns
    -------
    ReadPieces
        Pieces, problems and questions.

    Raises
    ------
    InputError
        If the file is no SVG, is hostile, or has no scale.
    """
    return recognise(read_svg_file(path), unit_mm)


def read_pieces(data: bytes, unit_mm: float = 0.0) -> ReadPieces:
    """Read pieces from SVG text.

    Parameters
    ----------
    data : bytes
        The text.
    unit_mm : float
        Millimetres in a unit of the drawing, if the person knows; 0 otherwise [mm].

    Returns
    -------
    ReadPieces
        Pieces, problems and questions.

    Raises
    ------
    InputError
        If the text is no SVG, is hostile, or has no scale.
    """
    return recognise(read_svg(data), unit_mm)


def recognise(drawn: Drawn, unit_mm: float = 0.0) -> ReadPieces:
    """Recognise the pieces of a drawing.

    Parameters
    ----------
    drawn : Drawn
        The drawing.
    unit_mm : float
        Millimetres in a unit of the drawing, if the person knows; 0 otherwise [mm].

    Returns
    -------
    ReadPieces
        Pieces, problems and questions.

    Raises
    ------
    InputError
        If nothing tells the scale, or there is no closed outline.
    OutOfRangeError
        If there are far too many closed lines.
    """
    unit, proved, questions, square = _find_scale(drawn, unit_mm)
    lines = [
        replace(line, points=tuple((x * unit, y * unit) for x, y in line.points))
        for k, line in enumerate(drawn.lines)
        if k != square
    ]
    side = _test_square(drawn)[1] * unit if square >= 0 else 0.0
    lines, joined = join_lines(lines, _role)
    problems = [f"{name} elements were not read" for name in drawn.skipped]
    rings, others = _rings([line for line in lines if _role(line) != "paper"], joined)
    if len(rings) > MOST_RINGS:
        raise OutOfRangeError(
            f"the drawing has {len(rings)} closed lines",
            "SVG",
            f"at most {MOST_RINGS}: simplify it",
        )
    framed = [ring for ring in rings if _is_frame(ring, rings)]
    rings = [ring for ring in rings if ring not in framed]
    outer = [
        ring
        for ring in rings
        if not any(_holds(o.points, ring.points) for o in rings if o is not ring)
    ]
    outer = [
        r
        for r in outer
        if _role(r.line) in ("", "cut") and abs(signed_area_mm2(r.points)) >= SMALLEST_MM2
    ]
    if not outer:
        raise InputError(
            "no closed outline was found", "SVG", "close the cut line, or name its layer cut"
        )
    pieces = []
    for number, ring in enumerate(outer, 1):
        inner = [r for r in rings if r is not ring and _holds(ring.points, r.points)]
        mine = [line for line in others if _belongs(line.points, ring.points)]
        pieces.append(_piece(number, ring, inner, mine, drawn, unit))
    lost = [line for line in others if not any(_belongs(line.points, r.points) for r in outer)]
    if lost:
        problems.append(f"{len(lost)} lines lie outside every outline and were left out")
    return ReadPieces(
        _with_names_apart(pieces), tuple(problems), tuple(questions), unit, proved, side
    )


def _with_names_apart(pieces: Sequence[ReadPiece]) -> tuple[ReadPiece, ...]:
    """Number pieces that share a name."""
    names = [one.name for one in pieces]
    seen: dict[str, int] = {}
    made = []
    for one in pieces:
        seen[one.name] = seen.get(one.name, 0) + 1
        many = names.count(one.name) > 1
        made.append(replace(one, name=f"{one.name} {seen[one.name]}") if many else one)
    return tuple(made)


def _is_frame(ring: _Ring, rings: Sequence[_Ring]) -> bool:
    """Tell whether a ring is the edge of the paper: a bare rectangle around everything else."""
    others = [other for other in rings if other is not ring]
    if _role(ring.line) or len(others) < 2 or len(_corners(ring.points)) != 4:
        return False
    return all(
        _holds(ring.points, o.points) and not _parallel(ring.points, o.points) for o in others
    )


@dataclass(frozen=True, slots=True)
class _Ring:
    """A closed line, mended.

    Parameters
    ----------
    line : DrawnLine
        As drawn.
    points : tuple of Point
        Anticlockwise, free of crossings.
    mended : tuple of str
        What was mended.
    doubtful : bool
        Whether a large loop was cut off.
    """

    line: DrawnLine
    points: tuple[Point, ...]
    mended: tuple[str, ...]
    doubtful: bool = False


def _role(line: DrawnLine) -> str:
    words = line.names.replace("-", " ").replace("_", " ").split()
    for role, known in _ROLES.items():
        if any(word.startswith(known) for word in words):
            return role
    return ""


def _find_scale(drawn: Drawn, given: float) -> tuple[float, str, list[Question], int]:
    """Return millimetres a unit, its proof, questions, and the number of the test square's line."""
    square, side = _test_square(drawn)
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


def _test_square(drawn: Drawn) -> tuple[int, float]:
    for k, line in enumerate(drawn.lines):
        side = _square_side(line.points)
        told = _role(line) == "square" or (not _role(line) and _side_told(drawn, k))
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
    corners = _corners(points)
    if len(corners) != 4:
        return 0.0
    sides = [math.dist(a, b) for a, b in zip(corners, [*corners[1:], corners[0]], strict=True)]
    diagonals = math.dist(corners[0], corners[2]), math.dist(corners[1], corners[3])
    mean = sum(sides) / 4.0
    even = all(abs(side - mean) < 0.01 * mean for side in sides)
    right = all(abs(d - mean * math.sqrt(2.0)) < 0.01 * mean for d in diagonals)
    return mean if even and right and mean > 0 else 0.0


def _corners(points: Sequence[Point]) -> list[Point]:
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


def _rings(
    lines: Sequence[DrawnLine], joined: Mapping[int, str]
) -> tuple[list[_Ring], list[DrawnLine]]:
    """Part lines into rings, closing small gaps, and the rest."""
    rings: list[_Ring] = []
    others = []
    for line in lines:
        gap = math.dist(line.points[0], line.points[-1])
        length = polyline_length_mm(line.points)
        nearly = gap <= min(CLOSE_MM, 0.1 * length) and len(line.points) > 3
        small = length < 2.0 * NOTCH_SPAN_MM[1]
        if (line.closed or nearly) and len(line.points) > 2 and not small:
            ring = _mended(line, 0.0 if line.closed else gap)
            told = joined.get(id(line), "")
            rings.append(replace(ring, mended=(told, *ring.mended)) if told else ring)
        else:
            others.append(line)
    return [ring for ring in rings if ring.points], others


def _mended(line: DrawnLine, gap: float) -> _Ring:
    mended = [f"a gap of {gap:.1f} mm in the outline was closed"] if gap > 1e-6 else []
    points = [
        p
        for p, q in zip(line.points, [line.points[-1], *line.points[:-1]], strict=True)
        if math.dist(p, q) > 1e-9
    ]
    doubtful = False
    for _ in range(50):
        found = self_crossings(points)
        if not found:
            break
        points, lost = without_loop(points, *found[0])
        doubtful = doubtful or lost > SMALL_LOOP * abs(signed_area_mm2(points))
        mended.append(f"the outline crossed itself: a loop of {lost:.0f} mm2 was cut off")
    if len(points) < 3:
        return _Ring(line, (), tuple(mended))
    if signed_area_mm2(points) < 0.0:
        points = points[::-1]
    return _Ring(line, tuple(points), tuple(mended), doubtful)


def _inside(point: Point, ring: Sequence[Point]) -> bool:
    x, y = point
    found = False
    for (x0, y0), (x1, y1) in zip(ring, [*ring[1:], ring[0]], strict=True):
        if (y0 > y) != (y1 > y) and x < x0 + (y - y0) / (y1 - y0) * (x1 - x0):
            found = not found
    return found


def _holds(ring: Sequence[Point], other: Sequence[Point]) -> bool:
    if abs(signed_area_mm2(ring)) <= abs(signed_area_mm2(other)):
        return False
    tried = other[:: max(1, len(other) // 12)]
    return sum(_inside(p, ring) or gap_mm(p, ring) < 0.05 for p in tried) >= 0.9 * len(tried)


def _belongs(points: Sequence[Point], ring: Sequence[Point]) -> bool:
    middle = points[len(points) // 2]
    near = min(gap_mm(points[0], ring), gap_mm(points[-1], ring)) <= TOUCH_MM
    return _inside(middle, ring) or near


def _piece(
    number: int,
    ring: _Ring,
    inner: Sequence[_Ring],
    lines: Sequence[DrawnLine],
    drawn: Drawn,
    unit: float,
) -> ReadPiece:
    stitch, openings, questions = _stitch_line(ring, inner)
    notches, folds, straights, others = [], [], [], []
    marks: list[Point] = []
    grain: tuple[Point, ...] = ()
    for line in lines:
        role = _role(line) or _guess(line, ring.points)
        if role == "notch":
            notches.append(line.points)
        elif role == "fold":
            folds.append(line.points)
        elif role == "grain":
            straights.append(line.points)
        elif role == "mark":
            marks.append(_centre(line.points))
        elif role not in ("cut", "stitch"):
            others.append(line.points)
    named = [line.points for line in lines if _role(line) == "grain"]
    candidates = named or straights
    if candidates:
        grain = max(candidates, key=polyline_length_mm)
        others += [s for s in straights if s is not grain]
        if (
            not named
            and len(
                [s for s in straights if polyline_length_mm(s) > 0.9 * polyline_length_mm(grain)]
            )
            > 1
        ):
            questions.append(Question("grain", "two lines could be the grain: which is it?"))
    else:
        questions.append(Question("grain", "there is no grain line: which way does the grain run?"))
    if ring.doubtful:
        ask = "a large loop of the outline was cut off: is the rest the piece?"
        questions.append(Question("rest", ask))
    if not stitch:
        ask = "there is no stitch line: how wide are the allowances?"
        questions.append(Question("allowance", ask))
    return ReadPiece(
        ring.line.group or _named(ring.points, drawn, unit) or f"piece {number}",
        ring.points, stitch, openings, tuple(notches), grain, tuple(folds), tuple(others),
        ring.mended, tuple(questions), _distinct(marks), _words_in(ring.points, drawn, unit),
    )  # fmt: skip


def _centre(points: Sequence[Point]) -> Point:
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return (min(xs) + max(xs)) / 2.0, (min(ys) + max(ys)) / 2.0


def _distinct(places: Sequence[Point]) -> tuple[Point, ...]:
    """Keep one of the strokes that cross at a drill point."""
    kept: list[Point] = []
    for place in places:
        if all(math.dist(place, other) > TOUCH_MM for other in kept):
            kept.append(place)
    return tuple(kept)


def _stitch_line(
    ring: _Ring, inner: Sequence[_Ring]
) -> tuple[tuple[Point, ...], tuple[tuple[Point, ...], ...], list[Question]]:
    named = [r for r in inner if _role(r.line) == "stitch"]
    likely = named or [r for r in inner if not _role(r.line) and _parallel(ring.points, r.points)]
    if not likely:
        return (), tuple(r.points for r in inner if _role(r.line) in ("", "cut")), []
    best = max(likely, key=lambda r: signed_area_mm2(r.points))
    rest = tuple(r.points for r in inner if r is not best and _role(r.line) in ("", "cut"))
    ask = [] if named else [Question("stitch", "is the inner ring the stitch line?")]
    return best.points, rest, ask


def _parallel(outer: Sequence[Point], inner: Sequence[Point]) -> bool:
    """Tell whether an inner ring keeps a near-constant distance from the outer one."""
    if signed_area_mm2(inner) < STITCH_SHARE * signed_area_mm2(outer):
        return False
    gaps = sorted(gap_mm(p, outer) for p in inner[:: max(1, len(inner) // 40)])
    middle = gaps[len(gaps) // 2]
    return middle < 60.0 and sum(abs(g - middle) < 0.35 * middle + 1.0 for g in gaps) >= 0.6 * len(
        gaps
    )


def _guess(line: DrawnLine, ring: Sequence[Point]) -> str:
    length = polyline_length_mm(line.points)
    chord = math.dist(line.points[0], line.points[-1])
    ends = [gap_mm(p, ring) for p in (line.points[0], line.points[-1])]
    if NOTCH_SPAN_MM[0] <= length <= NOTCH_SPAN_MM[1] and min(ends) <= TOUCH_MM:
        return "notch"
    straight = chord > 0.999 * length and length > NOTCH_SPAN_MM[1]
    if straight and max(ends) <= TOUCH_MM:
        return "fold"
    return "grain" if straight else "line"


def _named(ring: Sequence[Point], drawn: Drawn, unit: float) -> str:
    """Return the first text inside, without what it says of the copies."""
    words = (re.sub(r"[\s,;:-]*\bcut \d.*$", "", t) for t in _words_in(ring, drawn, unit))
    return next((text[:60] for text in words if text), "")


def _words_in(ring: Sequence[Point], drawn: Drawn, unit: float) -> tuple[str, ...]:
    return tuple(
        text for (x, y), text in drawn.texts if text and _inside((x * unit, y * unit), ring)
    )
