"""One piece of a drawing: stitch line, openings, notches, folds, grain and what is left open."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence

from samite.pieces.drawn import gap_mm
from samite.pieces.plane import Point, polyline_length_mm, signed_area_mm2
from samite.readers._svg_rings import NOTCH_SPAN_MM, TOUCH_MM, Ring, inside, parallel, role_of
from samite.readers.svg_file import Drawn, DrawnLine
from samite.readers.svg_found import Question, ReadPiece


def make_piece(
    number: int,
    ring: Ring,
    inner: Sequence[Ring],
    lines: Sequence[DrawnLine],
    drawn: Drawn,
    unit: float,
) -> ReadPiece:
    stitch, openings, questions = _stitch_line(ring, inner)
    notches, folds, straights, others = [], [], [], []
    marks: list[Point] = []
    grain: tuple[Point, ...] = ()
    for line in lines:
        role = role_of(line) or _guess(line, ring.points)
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
    named = [line.points for line in lines if role_of(line) == "grain"]
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
    ring: Ring, inner: Sequence[Ring]
) -> tuple[tuple[Point, ...], tuple[tuple[Point, ...], ...], list[Question]]:
    named = [r for r in inner if role_of(r.line) == "stitch"]
    likely = named or [r for r in inner if not role_of(r.line) and parallel(ring.points, r.points)]
    if not likely:
        return (), tuple(r.points for r in inner if role_of(r.line) in ("", "cut")), []
    best = max(likely, key=lambda r: signed_area_mm2(r.points))
    rest = tuple(r.points for r in inner if r is not best and role_of(r.line) in ("", "cut"))
    ask = [] if named else [Question("stitch", "is the inner ring the stitch line?")]
    return best.points, rest, ask


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
        text for (x, y), text in drawn.texts if text and inside((x * unit, y * unit), ring)
    )
