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
    first, second = view.plies
    rows = [first] if first.name == second.name else [first, second]
    y = top + 60.0
    for ply in rows:
        _yarn_row(picture, ply, (left, y, width * 0.62))
        y += 66.0
    _needle(picture, view, left + width * 0.82, top + 88.0)
    _bar(picture, left, top + tall - 8.0)


def _yarn_row(picture: Drawing, ply: PlyView, place: tuple[float, float, float]) -> None:
    left, y, width = place
    words = ply.name if ply.solid else f"{ply.name}: yarns about {ply.yarn_diameter_mm:.2g} mm"
    picture.text(left, y - 24, cut_to(words, TYPE * 0.9, width * 1.1), TYPE * 0.9)
    if ply.solid:
        tall = min(ply.thickness_mm * FIT_PX_PER_MM, 36.0)
        picture.rect(left, y - tall / 2, width, tall, fill=TINT, stroke=1.0)
        return
    radius = min(ply.yarn_diameter_mm * FIT_PX_PER_MM / 2.0, 20.0)
    pitch = max(ply.yarn_spacing_mm * FIT_PX_PER_MM, 2.0 * radius + 0.5)
    count = max(int(width / pitch), 1)
    for index in range(count):
        picture.area(circle(left + pitch * (index + 0.5), y, radius), TINT, stroke=0.9)


def _needle(picture: Drawing, view: SeamView, x: float, y: float) -> None:
    """The blade, its eye and the thread, each as a circle or slot of its true size."""
    blade = view.needle_mm * FIT_PX_PER_MM / 2.0
    eye = view.eye_mm * FIT_PX_PER_MM
    thread = view.thread_mm * FIT_PX_PER_MM / 2.0
    hatch = picture.hatch("steel", "M0 6L6 0", 6.0, 1.0)
    picture.area(circle(x, y, blade), PAPER, stroke=0.0)
    picture.area(circle(x, y, blade), hatch, stroke=1.8)
    picture.rect(x - eye / 2, y - blade * 0.62, eye, blade * 1.24, fill=PAPER, stroke=1.2)
    picture.area(circle(x, y, thread), INK)
    picture.text(x, y + blade + 20, view.needle, TYPE * 0.9, anchor="middle")
    words = f"{view.thread}, {view.thread_mm:.2f} mm"
    picture.text(x, y + blade + 38, words, TYPE * 0.9, anchor="middle")


def _bar(picture: Drawing, left: float, y: float) -> None:
    wide = 0.5 * FIT_PX_PER_MM
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
    """Two threads that meet in the middle of the cloths."""
    left, y, width = place
    scale = STITCH_PX_PER_MM
    first, second = view.plies
    tops = [max(p.thickness_mm * scale, 3.0) for p in (first, second)]
    shrink = min(1.0, 50.0 / sum(tops))
    tall = [t * shrink for t in tops]
    fill = PAPER if first.name != second.name else TINT
    picture.rect(left, y - tall[0], width, tall[0], fill=TINT, stroke=0.9)
    picture.rect(left, y, width, tall[1], fill=fill, stroke=0.9)
    length = way.stitch_length_mm * scale
    count = int(width / length)
    middle = y + (tall[1] - tall[0]) / 2.0
    upper, lower = y - tall[0] - 2.0, y + tall[1] + 2.0
    for i in range(count):
        x = left + (i + 0.25) * length
        stop = min(x + length, left + width)
        picture.line([(x, middle), (x, upper), (stop, upper), (stop, middle)], stroke=2.4)
        picture.line(
            [(x, middle), (x, lower), (stop, lower), (stop, middle)], stroke=1.6, dash="4 2"
        )
    picture.text(left, lower + 20, "needle thread above, bobbin thread dashed", TYPE * 0.9)
