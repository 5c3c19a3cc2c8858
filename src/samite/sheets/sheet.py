"""A sheet at full size: strokes and words in millimetres, for every way of writing it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from samite.pieces.finish import FinishedPiece
from samite.pieces.outline import Notch, Piece
from samite.pieces.plane import Move, Point, away, outward
from samite.sheets.piece_label import LEADING, place_label
from samite.sheets.truetype import text_width_mm

CUT_MM, STITCH_MM, THIN_MM = 0.6, 0.25, 0.2
NOTCH_MM = 6.0
GAP_MM = 20.0
TEXT_MM = 6.0


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
        What it is: cut, stitch, notch, grain, fold, mark, line, square.
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
        strokes.append(Stroke(rule.points, THIN_MM, (2.0, 2.0), False, "line", name))
    for mark in piece.marks:
        x, y = mark.place
        strokes += [
            Stroke(((x - 2, y), (x + 2, y)), THIN_MM, (), False, "mark", name),
            Stroke(((x, y - 2), (x, y + 2)), THIN_MM, (), False, "mark", name),
        ]
    place, half = _grain_place(piece)
    strokes += _grain(piece, place, half, nap=one.nap)
    along = (math.cos(math.radians(piece.grain_deg)), math.sin(math.radians(piece.grain_deg)))
    line = (away(place, along, -half), away(place, along, half))
    return strokes, _label(one, piece, line, _box(cut)[:2])


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


def _grain_place(piece: Piece) -> tuple[Point, float]:
    """Return the middle and half the length of a grain line inside the piece."""
    points = piece.flat(0.5)
    angle = math.radians(piece.grain_deg)
    along, across = (math.cos(angle), math.sin(angle)), (-math.sin(angle), math.cos(angle))
    placed = [
        (p[0] * along[0] + p[1] * along[1], p[0] * across[0] + p[1] * across[1]) for p in points
    ]
    low, high = min(c for _, c in placed), max(c for _, c in placed)
    found = []
    for k in range(1, 24):
        level = low + (high - low) * k / 24
        for start, end in _spans(placed, level):
            weight = (end - start) * (1.0 - 0.03 * abs(k - 12))
            found.append((weight, end - start, (start + end) / 2, level))
    _, room, middle, level = max(found)
    place = middle * along[0] + level * across[0], middle * along[1] + level * across[1]
    return place, min(0.35 * room, 400.0)


def _spans(placed: Sequence[Point], level: float) -> list[tuple[float, float]]:
    """Return where a line across the grain direction lies inside an outline."""
    cuts = []
    for (a, c), (b, d) in zip(placed, [*placed[1:], placed[0]], strict=True):
        if (c > level) != (d > level):
            cuts.append(a + (b - a) * (level - c) / (d - c))
    cuts.sort()
    return list(zip(cuts[::2], cuts[1::2], strict=False))


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


def _label(
    one: FinishedPiece, piece: Piece, grain: tuple[Point, Point], below: Point
) -> list[Words]:
    """Return the lines of a piece's label, inside it and clear of its grain line where that can be."""
    told = [*one.label, "nap runs down the arrow" if one.nap else "", one.way_up]
    lines = [line for line in told if line]
    block = place_label(piece, [text_width_mm(line, 1.0) for line in lines], grain, below)
    angle, step = math.radians(block.angle_deg), LEADING * block.size_mm
    down = math.sin(angle) * step, -math.cos(angle) * step
    (x, y), size = block.place, block.size_mm
    return [
        Words((x + k * down[0], y + k * down[1]), text, size, block.angle_deg)
        for k, text in enumerate(lines)
    ]


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
