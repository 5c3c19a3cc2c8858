"""Needle and thread against the yarns, and the stitch from above and in the cut, to scale."""

from __future__ import annotations

import itertools
import math

from samite.sheets.seam_views import PlyView, SeamView, WayView
from samite.sheets.svg import INK, PAPER, TINT, Drawing, Point, cut_to

TYPE = 14.0
FIT_PX_PER_MM = 125.0
"""Scale of needle and yarns: the coarsest needle still fits beside them."""

STITCH_PX_PER_MM = 18.0

CUT_TALL = 56.0
"""Room for the thickness of all plies under a stitch in the cut."""


def circle(x: float, y: float, radius: float) -> list[Point]:
    """Return a circle as a polygon.

    Parameters
    ----------
    x, y : float
        Its middle.
    radius : float
        Its radius.

    Returns
    -------
    list of tuple of (float, float)
        Corners.
    """
    count = 36 if radius > 6.0 else 16
    turns = [2.0 * math.pi * i / count for i in range(count)]
    return [(x + radius * math.cos(turn), y + radius * math.sin(turn)) for turn in turns]


def fill_of(picture: Drawing, view: SeamView, number: int) -> str:
    """Return the fill of a cloth.

    Parameters
    ----------
    picture : Drawing
        Where to draw.
    view : SeamView
        The joint.
    number : int
        Which cloth.

    Returns
    -------
    str
        The first cloth grey, the second white, a third hatched: they differ without colour.
    """
    name = view.plies[number].name
    if name == view.plies[0].name:
        return TINT
    if number == 1 or name == view.plies[1].name:
        return PAPER
    return picture.hatch("third", "M0 0L5 5", 5.0, 0.7)


def draw_fit(picture: Drawing, view: SeamView, box: tuple[float, float, float, float]) -> None:
    """Draw needle and thread beside the yarns of each cloth.

    Parameters
    ----------
    picture : Drawing
        Where to draw.
    view : SeamView
        The joint.
    box : tuple of float
        Left, top, width and height.
    """
    left, top, width, tall = box
    picture.text(left, top + TYPE, "Needle and thread against the yarns", TYPE, bold=True)
    scale = fit_scale(view, tall)
    y = top + TYPE * 1.5
    for ply in view.unlike:
        high = _row_mm(ply) * scale
        _yarn_row(picture, ply, (left, y + ROW_WORDS + high / 2.0, width * 0.62), scale)
        y += ROW_WORDS + high + 8.0
    _needle(picture, view, (left + width * 0.82, top + 30.0), scale)
    _bar(picture, left, top + tall - 8.0, scale)


ROW_WORDS = 24.0
"""Height of the words over a row of yarns."""


def _row_mm(ply: PlyView) -> float:
    return ply.thickness_mm if ply.solid else ply.yarn_diameter_mm


def fit_scale(view: SeamView, tall: float) -> float:
    """Return the scale at which needle and yarns of all cloths fit.

    Parameters
    ----------
    view : SeamView
        The joint.
    tall : float
        Height of the box.

    Returns
    -------
    float
        One scale for all of them, `FIT_PX_PER_MM` unless thick yarns need more room.
    """
    rows = view.unlike
    room = tall - TYPE * 1.5 - 30.0 - len(rows) * (ROW_WORDS + 8.0)
    return min(FIT_PX_PER_MM, room / max(sum(_row_mm(ply) for ply in rows), 0.01))


def _yarn_row(
    picture: Drawing, ply: PlyView, place: tuple[float, float, float], scale: float
) -> None:
    left, y, width = place
    high = _row_mm(ply) * scale
    words = ply.name if ply.solid else f"{ply.name}: yarns about {ply.yarn_diameter_mm:.2g} mm"
    if ply.solid:
        words = f"{ply.name}: a sheet of {ply.thickness_mm:.2g} mm"
    picture.text(left, y - high / 2 - 8, cut_to(words, TYPE * 0.9, width * 1.1), TYPE * 0.9)
    if ply.solid:
        picture.rect(left, y - high / 2, width, high, fill=TINT, stroke=1.0)
        return
    radius = high / 2.0
    pitch = max(ply.yarn_spacing_mm * scale, 2.0 * radius + 0.5)
    count = max(int(width / pitch), 1)
    for index in range(count):
        picture.area(circle(left + pitch * (index + 0.5), y, radius), TINT, stroke=0.9)


def _needle(picture: Drawing, view: SeamView, place: Point, scale: float) -> None:
    """The blade, its eye and the thread, each as a circle or slot of its true size."""
    blade = view.needle_mm * scale / 2.0
    x, y = place[0], place[1] + blade
    eye = view.eye_mm * scale
    thread = view.thread_mm * scale / 2.0
    hatch = picture.hatch("steel", "M0 6L6 0", 6.0, 1.0)
    picture.area(circle(x, y, blade), PAPER, stroke=0.0)
    picture.area(circle(x, y, blade), hatch, stroke=1.8)
    picture.rect(x - eye / 2, y - blade * 0.62, eye, blade * 1.24, fill=PAPER, stroke=1.2)
    picture.area(circle(x, y, thread), INK)
    picture.text(x, y + blade + 20, view.needle, TYPE * 0.9, anchor="middle")
    words = f"{view.thread}, {view.thread_mm:.2f} mm"
    picture.text(x, y + blade + 38, words, TYPE * 0.9, anchor="middle")


def _bar(picture: Drawing, left: float, y: float, scale: float) -> None:
    wide = 0.5 * scale
    picture.line([(left, y), (left + wide, y)], stroke=1.6)
    for x in (left, left + wide):
        picture.line([(x, y - 4), (x, y + 4)], stroke=1.6)
    picture.text(left + wide + 8, y + 4, "0.5 mm", TYPE * 0.9)


def draw_stitch(picture: Drawing, view: SeamView, box: tuple[float, float, float, float]) -> None:
    """Draw the stitch from above, and a lockstitch in the cut.

    Parameters
    ----------
    picture : Drawing
        Where to draw.
    view : SeamView
        The joint.
    box : tuple of float
        Left, top, width and height.
    """
    left, top, width, _ = box
    way = view.ways[0]
    words = cut_to(way.stitch_words, TYPE, width * 0.92)
    picture.text(left, top + TYPE, words, TYPE, bold=True)
    _from_above(picture, way, (left, top + 72.0, width))
    if way.stitch in ("301", "304", "301-triple", "308", "321"):
        _in_the_cut(picture, view, way, (left, top + 160.0, width))


def _from_above(picture: Drawing, way: WayView, place: tuple[float, float, float]) -> None:
    left, y, width = place
    scale = min(STITCH_PX_PER_MM, 92.0 / max(way.stitch_width_mm, 1.0))
    length = way.stitch_length_mm * scale
    half = way.stitch_width_mm * scale / 2.0
    count = max(int(width / length), 2)
    points = [(left + i * length, y + (half if i % 2 else -half)) for i in range(count)]
    if way.overedge:
        picture.line([(left, y - half), (left + (count - 1) * length, y - half)], stroke=1.0)
        picture.line(
            [(left, y + half), (left + (count - 1) * length, y + half)], stroke=3.0, dash="9 3"
        )
        picture.line(points, stroke=1.8)
    elif half > 0.0:
        picture.line(points, stroke=2.2)
    for start, stop in itertools.pairwise(points):
        if not half:
            picture.line([(start[0] + 2, y), (stop[0] - 2, y)], stroke=3.0)
    for x, at in points:
        picture.area(circle(x, at, 2.2), INK)
    floor = y + half + 14.0
    picture.line([(left, floor), (left + length, floor)], stroke=1.2)
    words = f"{way.stitch_length_mm:g} mm"
    if half:
        words += f" long, {way.stitch_width_mm:g} mm wide"
    picture.text(left + length + 6, floor + 5, words, TYPE * 0.9)


def _in_the_cut(
    picture: Drawing, view: SeamView, way: WayView, place: tuple[float, float, float]
) -> None:
    """Two threads that meet in the middle of the cloths; lengths and thickness at one scale."""
    left, y, width = place
    numbers = (*reversed(view.sides[0]), *view.sides[1])
    thick = sum(view.plies[number].thickness_mm for number in numbers)
    scale = min(STITCH_PX_PER_MM, CUT_TALL / thick)
    top = y - thick * scale / 2.0
    at = top
    for number in numbers:
        high = view.plies[number].thickness_mm * scale
        picture.rect(left, at, width, high, fill=PAPER)
        picture.rect(left, at, width, high, fill=fill_of(picture, view, number), stroke=0.9)
        at += high
    length = way.stitch_length_mm * scale
    count = int(width / length)
    upper, lower = top - 2.0, at + 2.0
    for i in range(count):
        x = left + (i + 0.25) * length
        stop = min(x + length, left + width)
        picture.line([(x, y), (x, upper), (stop, upper), (stop, y)], stroke=2.4)
        picture.line([(x, y), (x, lower), (stop, lower), (stop, y)], stroke=1.6, dash="4 2")
    picture.text(left, lower + 20, "needle thread above, bobbin thread dashed", TYPE * 0.9)
