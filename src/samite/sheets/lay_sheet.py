"""A lay drawn upright, as the cutter sees it from the cut end of the cloth."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from samite.kernel.unit_table import INCH_MM
from samite.lay.again import Copy
from samite.lay.cutting import CutStep
from samite.lay.problem import Problem
from samite.sheets.sheet import Sheet, Stroke, Words
from samite.sheets.tape import tape, tape_unit
from samite.sheets.truetype import text_width_mm

Point = tuple[float, float]
Block = tuple[float, float, float, float]

PIECE_MM, RIM_MM, FINE_MM = 0.45, 0.7, 0.15
LEADING = 1.25
RULER_MM = 14.0
"""Room for the ruler at the left [mm of paper]."""

EDGE_ROOM_MM = 4.0
"""Room at the other sides [mm of paper]."""

MOST_LATTICE = 400
"""Lines of a repeat that are drawn at most."""


@dataclass(frozen=True, slots=True)
class LayPicture:
    """What is drawn.

    Parameters
    ----------
    title : str
        Title.
    problem : Problem
        The cloth and the pieces.
    steps : tuple of CutStep
        The pieces as they lie.
    used_mm : float
        Cloth that the pieces take [mm].
    bought_mm : float
        Cloth that there is [mm].
    nap : bool
        Whether the cloth has a nap or runs one way.
    face : str
        Which side is up: ``up`` for the right side, ``down`` for the wrong side.
    cloth : str
        Name of the cloth.
    cut : frozenset of (str, int)
        Pieces that are cut already.
    units : str
        ``metric`` or ``imperial``.
    table_mm : float
        Length of the table, 0 for one that is long enough [mm].
    """

    title: str
    problem: Problem
    steps: tuple[CutStep, ...]
    used_mm: float
    bought_mm: float
    nap: bool = False
    face: str = "up"
    cloth: str = ""
    cut: frozenset[Copy] = frozenset()
    units: str = "metric"
    table_mm: float = 0.0

    @property
    def start_mm(self) -> float:
        """Where the cloth begins [mm]."""
        outline = self.problem.outline_mm
        return 0.0 if outline is None else min(x for x, _ in outline)

    @property
    def end_mm(self) -> float:
        """Where it ends [mm]."""
        outline = self.problem.outline_mm
        whole = max(self.used_mm, self.bought_mm)
        return whole if outline is None else max(x for x, _ in outline)

    @property
    def left_mm(self) -> float:
        """Its left rim, across [mm]."""
        outline = self.problem.outline_mm
        return self.problem.lying_width_mm if outline is None else max(y for _, y in outline)

    @property
    def right_mm(self) -> float:
        """Its right rim, across [mm]."""
        outline = self.problem.outline_mm
        return 0.0 if outline is None else min(y for _, y in outline)


class _Paper:
    """Turns places on the cloth into places on the paper."""

    def __init__(self, picture: LayPicture, scale: float) -> None:
        self.picture, self.scale = picture, scale

    def __call__(self, point: Point) -> Point:
        x, y = point
        return (
            RULER_MM + (self.picture.left_mm - y) * self.scale,
            EDGE_ROOM_MM + (x - self.picture.start_mm) * self.scale,
        )

    def line(self, points: Sequence[Point]) -> tuple[Point, ...]:
        return tuple(self(point) for point in points)


def lay_sheet(picture: LayPicture, *, scale: float, type_mm: float) -> Sheet:
    """Draw a lay at a scale.

    Parameters
    ----------
    picture : LayPicture
        What is drawn.
    scale : float
        Paper over cloth, ``0.1`` for a tenth.
    type_mm : float
        Size of the type on the paper [mm].

    Returns
    -------
    Sheet
        The start of the cloth below, its length upwards; what lies at y = 0 at the right.
    """
    paper = _Paper(picture, scale)
    strokes = [*_cloth(picture, paper), *_tables(picture, paper)]
    words: list[Words] = []
    blocks: list[Block] = []
    for stroke, written in _ruler(picture, paper, type_mm):
        strokes.append(stroke)
        words += written
    for number, flaw in enumerate(picture.problem.holes, 1):
        strokes += _hatched(paper.line(flaw), "flaw", f"flaw {number}")
    for step in picture.steps:
        drawn, written, block = _piece(picture, step, paper, type_mm)
        strokes += drawn
        words += written
        blocks.append(block)
    strokes += [part for line in _figure(picture, paper) for part in _around(line, blocks)]
    width = RULER_MM + (picture.left_mm - picture.right_mm) * scale + EDGE_ROOM_MM + 2 * type_mm
    height = (picture.end_mm - picture.start_mm) * scale + 2 * EDGE_ROOM_MM + type_mm
    words += _rim_words(picture, paper, type_mm)
    return Sheet(picture.title, width, height, tuple(strokes), tuple(words))


def _cloth(picture: LayPicture, paper: _Paper) -> list[Stroke]:
    problem = picture.problem
    start, end, left, right = (
        picture.start_mm, picture.end_mm, picture.left_mm, picture.right_mm,
    )  # fmt: skip
    if problem.outline_mm is not None:
        return [Stroke(paper.line(problem.outline_mm), RIM_MM, (), True, "cloth")]
    fold = (6.0, 1.5, 1.5, 1.5) if problem.folded else ()
    strokes = [
        Stroke(paper.line([(start, left), (end, left)]), RIM_MM, (), False, "selvedge"),
        Stroke(paper.line([(start, right), (end, right)]), RIM_MM, fold, False,
               "fold" if problem.folded else "selvedge"),
        Stroke(paper.line([(start, left), (start, right)]), RIM_MM, (), False, "cut-end"),
        Stroke(paper.line([(end, left), (end, right)]), PIECE_MM, (3.0, 1.5), False, "cut-end"),
        Stroke(paper.line([(picture.used_mm, left), (picture.used_mm, right)]), FINE_MM, (),
               False, "used"),
    ]  # fmt: skip
    if problem.edge_mm > 0.0:
        sides = [left - problem.edge_mm] + ([] if problem.folded else [problem.edge_mm])
        strokes += [
            Stroke(paper.line([(start, y), (end, y)]), FINE_MM, (0.6, 1.2), False, "edge")
            for y in sides
        ]
    return strokes


def _figure(picture: LayPicture, paper: _Paper) -> Iterator[Stroke]:
    """Draw the lattice of the repeat."""
    problem = picture.problem
    along, across = problem.repeat_along_mm, problem.repeat_across_mm
    start, end, left, right = (
        picture.start_mm, picture.end_mm, picture.left_mm, picture.right_mm,
    )  # fmt: skip
    dash = (1.0, 1.6)
    if along > 0.0 and (end - start) / along < MOST_LATTICE:
        for k in range(math.ceil(start / along), math.floor(end / along) + 1):
            ends = [(k * along, left), (k * along, right)]
            yield Stroke(paper.line(ends), FINE_MM, dash, False, "repeat")
    if across > 0.0 and (left - right) / across < MOST_LATTICE:
        for k in range(math.ceil(right / across), math.floor(left / across) + 1):
            ends = [(start, k * across), (end, k * across)]
            yield Stroke(paper.line(ends), FINE_MM, dash, False, "repeat")


def _tables(picture: LayPicture, paper: _Paper) -> Iterator[Stroke]:
    """Draw where the cloth is pulled on over the table."""
    if picture.table_mm <= 0.0:
        return
    for section in sorted({step.section for step in picture.steps})[1:]:
        begin = min(step.ends_mm[0] for step in picture.steps if step.section == section)
        a, b = paper.line([(begin, picture.left_mm), (begin, picture.right_mm)])
        yield Stroke(((a[0] - 6.0, a[1]), b), PIECE_MM, (4.0, 1.0, 0.5, 1.0), False, "table")


def _ruler(
    picture: LayPicture, paper: _Paper, type_mm: float
) -> Iterator[tuple[Stroke, list[Words]]]:
    step, named = (INCH_MM * 4, 3) if picture.units == "imperial" else (100.0, 5)
    if paper.scale < 0.06:
        step, named = step * named, 2 if picture.units != "imperial" else 3
    unit = 1.0 if picture.units == "metric" else 0.0
    for k in range(int((picture.end_mm - picture.start_mm) / step + 1e-9) + 1):
        at = picture.start_mm + k * step
        x, y = paper((at, picture.left_mm))
        long = k % named == 0
        words = []
        if long:
            text = f"{k * step / 10.0:.0f}" if unit else f"{k * step / INCH_MM:.0f}"
            size = 0.85 * type_mm
            words = [Words((x - 4.0 - text_width_mm(text, size), y - size / 3.0), text, size)]
        yield Stroke(((x - (3.0 if long else 1.5), y), (x, y)), FINE_MM, (), False, "ruler"), words


def _rim_words(picture: LayPicture, paper: _Paper, type_mm: float) -> list[Words]:
    size = 0.85 * type_mm
    x, y = paper((picture.end_mm, picture.left_mm))
    told = "fold at the right" if picture.problem.folded else ""
    unit = tape_unit(picture.units)
    texts = [f"{tape(picture.end_mm - picture.start_mm, picture.units)} {unit}", told]
    return [Words((x, y + 0.6 * size), ", ".join(text for text in texts if text), size)]


def _piece(
    picture: LayPicture, step: CutStep, paper: _Paper, type_mm: float
) -> tuple[list[Stroke], list[Words], Block]:
    outline = paper.line(step.outline_mm)
    name = step.name
    is_cut = (step.piece.name, step.placement.copy) in picture.cut
    strokes = [Stroke(outline, PIECE_MM, (), True, "piece", name)]
    block, words = _label(picture, step, paper, type_mm, is_cut=is_cut)
    if is_cut:
        hatched = _hatched(outline, "done", name)[1:]
        strokes += [part for line in hatched for part in _around(line, [block])]
    if step.piece.on_fold:
        x0, x1 = step.ends_mm
        ends = paper.line([(x0, 0.0), (x1, 0.0)])
        strokes.append(Stroke(ends, 1.1, (6.0, 1.5, 1.5, 1.5), False, "fold", name))
    strokes += _grain(picture, step, paper, block)
    words += _distances(picture, step, paper, type_mm, block)
    if step.piece.motif_mm is not None:
        strokes += _cross(paper, step)
    return strokes, words, block


def _around(stroke: Stroke, blocks: Sequence[Block]) -> list[Stroke]:
    """Return a straight stroke without the parts that lie under labels."""
    parts = [stroke.points]
    for block in blocks:
        x0, y0, x1, y1 = block
        (ax, ay), (bx, by) = stroke.points[0], stroke.points[-1]
        apart = max(ax, bx) < x0 or min(ax, bx) > x1 or max(ay, by) < y0 or min(ay, by) > y1
        if not apart:
            parts = [rest for part in parts for rest in _outside(part[0], part[-1], block)]
    return [replace(stroke, points=tuple(part)) for part in parts]


def _label(
    picture: LayPicture, step: CutStep, paper: _Paper, type_mm: float, *, is_cut: bool
) -> tuple[Block, list[Words]]:
    """Write the number and, as far as there is room, the name and which side is up."""
    lines = [f"{step.number}{' cut' if is_cut else ''}", step.name]
    if step.piece.mirror != "free" and not picture.problem.folded:
        lines.append("print up" if step.printed_up else "print down")
    for size in (type_mm, 0.8 * type_mm, 0.65 * type_mm):
        for count in range(len(lines), 1, -1):
            block, words = _block(paper(step.middle_mm), lines[:count], size)
            if _fits(step, paper, words, size):
                return block, words
    size = 0.65 * type_mm
    fitting = _cut_to(step.name, size, _room_across(step, paper))
    block, words = _block(paper(step.middle_mm), [lines[0], fitting], size)
    if len(fitting) > 3 and _fits(step, paper, words, size):
        return block, words
    return _block(paper(step.middle_mm), lines[:1], size)


def _block(middle: Point, lines: Sequence[str], size: float) -> tuple[Block, list[Words]]:
    x, y = middle
    widths = [text_width_mm(text, size) for text in lines]
    tall, pad = len(lines) * size * LEADING, 0.3 * size
    words = [
        Words((x - width / 2.0, y + tall / 2.0 - (k + 0.8) * size * LEADING), text, size)
        for k, (text, width) in enumerate(zip(lines, widths, strict=True))
    ]
    half = max(widths) / 2.0 + pad
    return (x - half, y - tall / 2.0 - pad, x + half, y + tall / 2.0 + pad), words


def _fits(step: CutStep, paper: _Paper, words: Sequence[Words], size: float) -> bool:
    return all(
        _inside_all(step, paper, one.place, text_width_mm(one.text, size), size) for one in words
    )


def _cut_to(text: str, size: float, room: float) -> str:
    while text and text_width_mm(text + ".", size) > room:
        text = text[:-1]
    return text.strip() + "."


def _room_across(step: CutStep, paper: _Paper) -> float:
    """Return how wide a piece is on the paper at the height of its label."""
    x = step.middle_mm[0]
    cuts = []
    ends = (*step.outline_mm[1:], step.outline_mm[0])
    for (x0, y0), (x1, y1) in zip(step.outline_mm, ends, strict=True):
        if (x0 > x) != (x1 > x):
            cuts.append(y0 + (x - x0) / (x1 - x0) * (y1 - y0))
    left = [y for y in cuts if y >= step.middle_mm[1]]
    right = [y for y in cuts if y <= step.middle_mm[1]]
    if not left or not right:
        return 0.0
    half = min(min(left) - step.middle_mm[1], step.middle_mm[1] - max(right))
    return 2.0 * half * paper.scale * 0.96


def _grain(picture: LayPicture, step: CutStep, paper: _Paper, block: Block) -> list[Stroke]:
    """Draw the grain line, broken at the label; with nap one arrow, the way it runs."""
    low, high = paper.line(step.grain_mm)
    length = math.dist(low, high)
    if length < 3.0:
        return []
    name = step.name
    strokes = [
        Stroke(part, FINE_MM, (), False, "grain", name) for part in _outside(low, high, block)
    ]
    way = (high[0] - low[0]) / length, (high[1] - low[1]) / length
    heads = [(low, 1.0)] if picture.nap else [(low, 1.0), (high, -1.0)]
    size = min(3.0, 0.2 * length)
    for tip, sign in heads:
        if block[0] < tip[0] < block[2] and block[1] < tip[1] < block[3]:
            continue
        for turn in (0.4, -0.4):
            cosine, sine = math.cos(turn), math.sin(turn)
            back = way[0] * cosine - way[1] * sine, way[0] * sine + way[1] * cosine
            end = tip[0] + sign * size * back[0], tip[1] + sign * size * back[1]
            strokes.append(Stroke((tip, end), 0.3, (), False, "grain", name))
    return strokes


def _outside(low: Point, high: Point, block: Block) -> list[tuple[Point, ...]]:
    """Return the parts of a line that lie outside a block."""
    count = max(60, int(math.dist(low, high)))
    points = [
        (low[0] + (high[0] - low[0]) * k / count, low[1] + (high[1] - low[1]) * k / count)
        for k in range(count + 1)
    ]
    parts: list[tuple[Point, ...]] = []
    for a, b in pairwise(points):
        middle = (a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0
        if block[0] < middle[0] < block[2] and block[1] < middle[1] < block[3]:
            continue
        if parts and parts[-1][-1] == a:
            parts[-1] = (parts[-1][0], b)
        else:
            parts.append((a, b))
    return parts


def _distances(
    picture: LayPicture, step: CutStep, paper: _Paper, type_mm: float,
    block: Block,
) -> list[Words]:  # fmt: skip
    """Write at both ends of the grain line how far they are from the right side and the end."""
    size = 0.75 * type_mm
    words = []
    low, high = paper.line(step.grain_mm)
    if math.dist(low, high) < 6.0 * size:
        return []
    for (along, across), (x, y) in zip(step.grain_mm, (low, high), strict=True):
        text = " x ".join(
            tape(value, picture.units)
            for value in (across - picture.right_mm, along - picture.start_mm)
        )
        width = text_width_mm(text, size)
        place = x + 0.8, y - size / 3.0
        if _inside_all(step, paper, place, width, size) and not _meets(block, place, width, size):
            words.append(Words(place, text, size))
            continue
        place = x - 0.8 - width, y - size / 3.0
        if _inside_all(step, paper, place, width, size) and not _meets(block, place, width, size):
            words.append(Words(place, text, size))
    return words


def _meets(block: Block, place: Point, width: float, size: float) -> bool:
    x, y = place
    return x < block[2] and x + width > block[0] and y < block[3] and y + size > block[1]


def _inside_all(step: CutStep, paper: _Paper, place: Point, width: float, size: float) -> bool:
    """Tell whether a line of text lies within its piece."""
    outline = paper.line(step.outline_mm)
    x, y = place
    corners = [(x + width * k / 4.0, y + h) for k in range(5) for h in (-0.2 * size, 0.8 * size)]
    return all(_holds(outline, corner) for corner in corners)


def _holds(outline: Sequence[Point], point: Point) -> bool:
    inside = False
    for (x0, y0), (x1, y1) in zip(outline, [*outline[1:], outline[0]], strict=True):
        if (y0 > point[1]) != (y1 > point[1]):
            inside ^= x0 + (point[1] - y0) / (y1 - y0) * (x1 - x0) > point[0]
    return inside


def _cross(paper: _Paper, step: CutStep) -> list[Stroke]:
    """Mark the point of a piece that falls on the motif."""
    import numpy as np

    from samite.lay.apart import placed

    one = step.placement
    at = placed(
        np.array([step.piece.motif_mm]), angle_deg=one.angle_deg, mirrored=one.mirrored,
        x_mm=one.x_mm, y_mm=one.y_mm,
    )[0]  # fmt: skip
    x, y = paper((float(at[0]), float(at[1])))
    return [
        Stroke(((x - 2.0, y), (x + 2.0, y)), 0.4, (), False, "motif", step.name),
        Stroke(((x, y - 2.0), (x, y + 2.0)), 0.4, (), False, "motif", step.name),
    ]


def _hatched(outline: Sequence[Point], role: str, piece: str) -> list[Stroke]:
    """Return an outline and slanting lines inside it."""
    strokes = [Stroke(tuple(outline), PIECE_MM, (), True, role, piece)]
    turned = [(x + y, y - x) for x, y in outline]
    low, high = min(v for _, v in turned), max(v for _, v in turned)
    gap = max(2.0, (high - low) / 120.0)
    for k in range(1, int((high - low) / gap) + 1):
        level = low + k * gap
        cuts = []
        for (u0, v0), (u1, v1) in zip(turned, [*turned[1:], turned[0]], strict=True):
            if (v0 > level) != (v1 > level):
                cuts.append(u0 + (level - v0) / (v1 - v0) * (u1 - u0))
        cuts.sort()
        for a, b in zip(cuts[::2], cuts[1::2], strict=False):
            ends = tuple(((u - level) / 2.0, (u + level) / 2.0) for u in (a, b))
            strokes.append(Stroke(ends, FINE_MM, (), False, role, piece))
    return strokes
