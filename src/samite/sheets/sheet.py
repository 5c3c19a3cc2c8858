"""A sheet at full size: strokes and words in millimetres, for every way of writing it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from samite.pieces.finish import FinishedPiece
from samite.pieces.outline import Notch, Piece
from samite.pieces.plane import Move, Point, away, outward
from samite.sheets.piece_grain import grain_place
from samite.sheets.piece_label import LEADING, place_label
from samite.sheets.truetype import text_width_mm

CUT_MM, STITCH_MM, THIN_MM = 0.6, 0.25, 0.2
NOTCH_MM = 6.0
GAP_MM = 20.0
TEXT_MM = 6.0
HATCHES = ("pull", "too much")
"""Lines of a hatching, by name."""

NAME_MM = 2.6
NAMED = (" line", "bone channel")
"""Endings of the names of lines that are written beside them."""


@dataclass(frozen=True, slots=True)
class Stroke:
    """A line that is drawn.

    Parameters
    ----------
    points : tuple of tuple of (float, float)
        Its points, y upwards [mm].
    width_mm : float
        Width of the pen [mm].
    dash_mm : tuple of float
        Dashes; empty for a full line [mm].
    closed : bool
        Whether it returns to its start.
    role : str
        What it is: cut, stitch, notch, grain, fold, mark, line, hatch, leader, square.
    piece : str
        Name of the piece that it belongs to.
    """

    points: tuple[Point, ...]
    width_mm: float = THIN_MM
    dash_mm: tuple[float, ...] = ()
    closed: bool = False
    role: str = "line"
    piece: str = ""


@dataclass(frozen=True, slots=True)
class Words:
    """A line of text.

    Parameters
    ----------
    place : tuple of (float, float)
        Where its base line begins [mm].
    text : str
        The text.
    size_mm : float
        Size of the type [mm].
    angle_deg : float
        Direction of the base line [deg].
    """

    place: Point
    text: str
    size_mm: float = TEXT_MM
    angle_deg: float = 0.0


@dataclass(frozen=True, slots=True)
class Sheet:
    """Everything on one sheet.

    Parameters
    ----------
    title : str
        What it is.
    width_mm : float
        Width [mm].
    height_mm : float
        Height [mm].
    strokes : tuple of Stroke
        Lines.
    words : tuple of Words
        Texts.
    """

    title: str
    width_mm: float
    height_mm: float
    strokes: tuple[Stroke, ...]
    words: tuple[Words, ...]


def lay_out(title: str, pieces: Sequence[FinishedPiece], widest_mm: float) -> Sheet:
    """Put pieces side by side in rows, for drawing and printing; this is no cutting lay.

    Parameters
    ----------
    title : str
        Title of the sheet.
    pieces : sequence of FinishedPiece
        The pieces.
    widest_mm : float
        Width of the rows [mm].

    Returns
    -------
    Sheet
        With a border of one gap.
    """
    drawn = [(*draw_piece(one, Move()), one.cut.points) for one in pieces]
    boxes = [(lines, words, *_room_of(points, words)) for lines, words, points in drawn]
    boxes.sort(key=lambda item: -(item[5] - item[3]))
    strokes: list[Stroke] = []
    words: list[Words] = []
    x, y, row, width = GAP_MM, GAP_MM, 0.0, 0.0
    for lines, written, low_x, low_y, high_x, high_y in boxes:
        wide, high = high_x - low_x, high_y - low_y
        if x > GAP_MM and x + wide + GAP_MM > widest_mm:
            x, y, row = GAP_MM, y + row + GAP_MM, 0.0
        by = x - low_x, y - low_y
        strokes += [_shifted(line, by) for line in lines]
        words += [replace(w, place=(w.place[0] + by[0], w.place[1] + by[1])) for w in written]
        x, row = x + wide + GAP_MM, max(row, high)
        width = max(width, x)
    return Sheet(title, width, y + row + GAP_MM, tuple(strokes), tuple(words))


def _shifted(line: Stroke, by: Point) -> Stroke:
    return replace(line, points=tuple((x + by[0], y + by[1]) for x, y in line.points))


def _room_of(cut: Sequence[Point], words: Sequence[Words]) -> tuple[float, float, float, float]:
    """Return the room that a piece takes on a sheet, a label that stands below it included."""
    points = list(cut)
    for line in words:
        (x, y), wide = line.place, text_width_mm(line.text, line.size_mm)
        angle = math.radians(line.angle_deg)
        points += [(x, y), (x + wide * math.cos(angle), y + wide * math.sin(angle))]
    return _box(points)


def draw_piece(one: FinishedPiece, move: Move) -> tuple[list[Stroke], list[Words]]:
    """Draw one finished piece.

    Parameters
    ----------
    one : FinishedPiece
        The piece.
    move : Move
        Where it lies.

    Returns
    -------
    tuple of (list of Stroke, list of Words)
        Cut line, stitch line, notches, grain, folds, marks, lines and label.
    """
    piece = one.piece.moved(move)
    name = piece.name
    cut = tuple(move.point(point) for point in one.cut.points)
    strokes = [
        Stroke(cut, CUT_MM, (), True, "cut", name),
        Stroke(piece.flat(0.05), STITCH_MM, (4.0, 2.0), True, "stitch", name),
    ]
    strokes += [line for notch in piece.notches for line in _notch(one, piece, notch)]
    for edge in piece.edges:
        if edge.kind == "fold":
            strokes.append(Stroke(edge.flat(), CUT_MM, (8.0, 2.0, 2.0, 2.0), False, "fold", name))
    for rule in piece.rules:
        hatched = rule.name in HATCHES
        dash = () if hatched else (2.0, 2.0)
        role = "hatch" if hatched else "line"
        strokes.append(Stroke(rule.points, THIN_MM, dash, False, role, name))
    for mark in piece.marks:
        x, y = mark.place
        strokes += [
            Stroke(((x - 2, y), (x + 2, y)), THIN_MM, (), False, "mark", name),
            Stroke(((x, y - 2), (x, y + 2)), THIN_MM, (), False, "mark", name),
        ]
    place, half = grain_place(piece)
    grain = _grain(piece, place, half, nap=one.nap)
    named = _line_names(piece)
    ends = [(line.points[0], line.points[-1]) for line in grain]
    strokes, label = _labelled(one, piece, [*ends, *map(_through, named)], [*strokes, *grain])
    return strokes, [*label, *named]


def _line_names(piece: Piece) -> list[Words]:
    """Return the names of girth lines and bone channels, along them where they are long enough."""
    found = []
    for rule in piece.rules:
        if not rule.name.endswith(NAMED):
            continue
        points = rule.points if rule.points[0][0] <= rule.points[-1][0] else rule.points[::-1]
        wide = text_width_mm(rule.name, NAME_MM) + 4.0
        count = next((k for k, p in enumerate(points) if math.dist(points[0], p) > wide), 0)
        if not count:
            continue
        (x, y), end = points[0], points[count]
        angle = math.atan2(end[1] - y, end[0] - x)
        up = (-math.sin(angle), math.cos(angle))
        lift = max((a - x) * up[0] + (b - y) * up[1] for a, b in points[: count + 1])
        place = away(away((x, y), (up[1], -up[0]), 2.0), up, lift + 0.8)
        found.append(Words(place, rule.name, NAME_MM, math.degrees(angle)))
    return found


def _through(words: Words) -> tuple[Point, Point]:
    """Return a line through the middle of some words, which the label keeps clear of."""
    angle = math.radians(words.angle_deg)
    along, up = (math.cos(angle), math.sin(angle)), (-math.sin(angle), math.cos(angle))
    start = away(words.place, up, 0.4 * words.size_mm)
    return start, away(start, along, text_width_mm(words.text, words.size_mm))


def _hatching_told(piece: Piece) -> list[str]:
    """Return what the hatching of a piece means."""
    names = {rule.name for rule in piece.rules}
    told = {"pull": "hatched /: the cloth pulls", "too much": "hatched \\: too much cloth"}
    return [words for name, words in told.items() if name in names]


def _notch(one: FinishedPiece, piece: Piece, notch: Notch) -> list[Stroke]:
    """Return strokes from the cut line inwards, one to three side by side."""
    edge = piece.edge(notch.edge)
    allowance = one.cut.allowances_mm[notch.edge]
    lines = []
    for k in range(notch.count):
        distance = notch.distance_mm + (k - (notch.count - 1) / 2.0) * 4.0
        place, along = edge.at(min(max(distance, 0.0), edge.length_mm))
        normal = outward(along)
        outer = away(place, normal, allowance)
        inner = away(outer, normal, -min(NOTCH_MM, max(allowance, 3.0)))
        lines.append(Stroke((outer, inner), THIN_MM, (), False, "notch", piece.name))
    return lines


def _grain(piece: Piece, place: Point, half: float, *, nap: bool) -> list[Stroke]:
    angle = math.radians(piece.grain_deg)
    along = (math.cos(angle), math.sin(angle))
    top, bottom = away(place, along, half), away(place, along, -half)
    lines = [Stroke((bottom, top), THIN_MM, (), False, "grain", piece.name)]
    heads = [(bottom, 1.0)] if nap else [(top, -1.0), (bottom, 1.0)]
    for tip, way in heads:
        for turn in (0.4, -0.4):
            back = (
                math.cos(angle + turn) * way,
                math.sin(angle + turn) * way,
            )
            lines.append(
                Stroke(
                    (tip, away(tip, back, min(10.0, half))), THIN_MM, (), False, "grain", piece.name
                )
            )
    return lines


def _labelled(
    one: FinishedPiece, piece: Piece, grain: Sequence[tuple[Point, Point]], strokes: list[Stroke]
) -> tuple[list[Stroke], list[Words]]:
    """Return the lines of a piece with its label; one that stands below is led to the piece."""
    nap = "nap runs down the arrow" if one.nap else ""
    told = [*one.label, nap, one.way_up, *_hatching_told(piece)]
    below = _box([point for stroke in strokes for point in stroke.points])[:2]
    block = place_label(piece, [line for line in told if line], grain, below)
    angle, step = math.radians(block.angle_deg), LEADING * block.size_mm
    down = math.sin(angle) * step, -math.cos(angle) * step
    (x, y), size = block.place, block.size_mm
    words = [
        Words((x + k * down[0], y + k * down[1]), text, size, block.angle_deg)
        for k, text in enumerate(block.lines)
    ]
    if block.inside:
        return strokes, words
    corner = min(piece.flat(0.5), key=lambda point: math.dist(point, block.place))
    led = Stroke(
        (away(block.place, (0.0, 1.0), size), corner), THIN_MM, (), False, "leader", piece.name
    )
    return [*strokes, led], words


def _box(points: Sequence[Point]) -> tuple[float, float, float, float]:
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return min(xs), min(ys), max(xs), max(ys)


def square(low: Point, side_mm: float, words: str) -> tuple[Stroke, Words]:
    """Return a test square and what stands in it.

    Parameters
    ----------
    low : tuple of (float, float)
        Its lower left corner [mm].
    side_mm : float
        Its side [mm].
    words : str
        What it says.

    Returns
    -------
    tuple of (Stroke, Words)
        Square and words.
    """
    x, y = low
    corners = ((x, y), (x + side_mm, y), (x + side_mm, y + side_mm), (x, y + side_mm))
    return Stroke(corners, THIN_MM, (), True, "square"), Words((x + 3, y + side_mm / 2), words, 4.0)
