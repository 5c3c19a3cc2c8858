"""A joint drawn to scale: the cut, needle and thread against the yarns, the stitch, the other ways."""

from __future__ import annotations

from samite.sheets.seam_section import (
    OVEREDGED,
    Section,
    edge_wraps,
    ribbon,
    seam_section,
    split_sides,
)
from samite.sheets.seam_stitch import draw_fit, draw_stitch, fill_of
from samite.sheets.seam_views import PlyView, SeamView, WayView
from samite.sheets.svg import INK, PAPER, Drawing, Point, cut_to

WIDTH = 960.0
MARGIN = 24.0
TYPE = 15.0
MOST_PX_PER_MM = 60.0
SECTION_TALL = 210.0


def draw_seam(view: SeamView) -> str:
    """Draw a joint on one sheet.

    Parameters
    ----------
    view : SeamView
        The joint, with at least one way.

    Returns
    -------
    str
        SVG; black and white do.
    """
    rows = max((len(way.lines) for way in view.ways), default=0)
    small_top = 640.0
    height = small_top + 190.0 + rows * TYPE * 1.3
    picture = Drawing(WIDTH, height, f"Seam: {view.title}", describe_seam(view), "seam")
    _heading(picture, view)
    draw_section(picture, view, view.ways[0], (MARGIN, 96.0, WIDTH - 2 * MARGIN, SECTION_TALL))
    _legend(picture, view, 96.0 + SECTION_TALL + 22.0)
    draw_fit(picture, view, (MARGIN, 370.0, 500.0, 220.0))
    draw_stitch(picture, view, (560.0, 370.0, WIDTH - 560.0 - MARGIN, 220.0))
    _ways(picture, view, small_top)
    return picture.render()


def draw_way(view: SeamView, number: int) -> str:
    """Draw the cut of one way alone, for a page.

    Parameters
    ----------
    view : SeamView
        The joint.
    number : int
        Which way, 0 for the best.

    Returns
    -------
    str
        SVG.
    """
    way = view.ways[number]
    title = f"{way.title}: {view.title}"
    picture = Drawing(300, 132, title, _way_words(view, way), f"way{number}")
    draw_section(picture, view, way, (4.0, 4.0, 292.0, 108.0))
    return picture.render()


def draw_section_alone(view: SeamView) -> str:
    """Draw the cut of the best way alone.

    Parameters
    ----------
    view : SeamView
        The joint.

    Returns
    -------
    str
        SVG.
    """
    picture = Drawing(
        480,
        312 if view.third else 286,
        f"Cut through the seam: {view.title}",
        describe_seam(view),
        "cut",
    )
    draw_section(picture, view, view.ways[0], (8.0, 8.0, 464.0, 180.0))
    _legend(picture, view, 214.0, left=8.0)
    return picture.render()


def draw_fit_alone(view: SeamView) -> str:
    """Draw needle and thread against the yarns alone.

    Parameters
    ----------
    view : SeamView
        The joint.

    Returns
    -------
    str
        SVG.
    """
    words = f"{view.needle} and {view.thread} beside the yarns of {view.title}, to scale"
    picture = Drawing(400, 240, f"Needle and yarns: {view.title}", words, "fit")
    draw_fit(picture, view, (6.0, 6.0, 388.0, 224.0))
    return picture.render()


def draw_stitch_alone(view: SeamView) -> str:
    """Draw the stitch alone.

    Parameters
    ----------
    view : SeamView
        The joint.

    Returns
    -------
    str
        SVG.
    """
    words = f"{view.ways[0].stitch_words}, seen from above and in the cut, to scale"
    picture = Drawing(360, 240, f"Stitch: {view.title}", words, "stitch")
    draw_stitch(picture, view, (6.0, 6.0, 348.0, 224.0))
    return picture.render()


def describe_seam(view: SeamView) -> str:
    """Say in words what the drawing shows.

    Parameters
    ----------
    view : SeamView
        The joint.

    Returns
    -------
    str
        One sentence a way.
    """
    first = f"{view.needle}, {view.thread}."
    return " ".join([first, *(_way_words(view, way) for way in view.ways)])


def _way_words(view: SeamView, way: WayView) -> str:
    plies = " and ".join(
        dict.fromkeys(f"{ply.name}, {ply.thickness_mm:.2g} mm" for ply in view.plies)
    )
    return f"{way.title} of {plies}; {way.stitch_words}."


def _heading(picture: Drawing, view: SeamView) -> None:
    room = WIDTH - 2 * MARGIN
    size = min(TYPE * 1.7, max(room / max(len(view.title) * 0.66, 1.0), TYPE * 1.1))
    picture.text(MARGIN, 40, cut_to(view.title, size, room), size, bold=True)
    way = view.ways[0]
    words = f"{way.title}; {way.stitch_words}; {view.needle}; {view.thread}"
    picture.text(MARGIN, 68, cut_to(words, TYPE, WIDTH - 2 * MARGIN), TYPE)


def _legend(picture: Drawing, view: SeamView, y: float, left: float = MARGIN) -> None:
    x = left
    for ply in view.unlike:
        words = f"{ply.name}, {ply.thickness_mm:.2g} mm"
        wide = 60 + len(words) * TYPE * 0.52
        if x > left and x + wide > picture.width:
            x, y = left, y + 20
        fill = fill_of(picture, view, view.plies.index(ply))
        picture.rect(x, y - 11, 22, 12, fill=fill, stroke=1.0)
        picture.text(x + 30, y, words, TYPE * 0.9)
        x += wide
    wrapped = {finish for way in view.ways[:1] for finish in way.finishes}
    marks = "; ".join(words for words, some in WRAP_WORDS if wrapped & some)
    told = ["Right side at the top", view.third, marks]
    if picture.width < WIDTH:
        rows = [f"{one[:1].upper()}{one[1:]}." for one in told if one]
    else:
        rows = ["; ".join(one for one in told if one) + "."]
    for row in rows:
        y += 20
        picture.text(left, y, cut_to(row, TYPE * 0.9, picture.width - left), TYPE * 0.9)


WRAP_WORDS = (
    ("dots: thread round a raw edge", set(OVEREDGED)),
    ("heavy line: binding", {"bound"}),
)
"""What the marks at raw edges mean."""


def draw_section(
    picture: Drawing, view: SeamView, way: WayView, box: tuple[float, float, float, float]
) -> None:
    """Draw the cut through one way into a box.

    Parameters
    ----------
    picture : Drawing
        Where to draw.
    view : SeamView
        The joint.
    way : WayView
        The way.
    box : tuple of float
        Left, top, width and height.
    """
    section = _cut(view, way)
    place, scale = _placing(section, box)
    for ply in section.plies:
        thin = ply.thickness_mm * scale < 4.0
        outline = [place(p) for p in ribbon(ply)]
        picture.area(outline, PAPER)
        picture.area(outline, fill_of(picture, view, ply.which), stroke=0.8 if thin else 1.3)
    for kind, line in edge_wraps(section, way.finishes):
        wrapped = [place(point) for point in line]
        if kind == "binding":
            picture.line(wrapped, stroke=2.2)
        else:
            picture.line(wrapped, stroke=1.5, dash="1.5 2.5")
    for start, stop in section.stitches:
        ends = [place(start), place(stop)]
        picture.halo(ends, 5.0)
        picture.line(ends, stroke=2.6, dash="5 2.5")
    _scale_bar(picture, box, scale)


def _cut(view: SeamView, way: WayView) -> Section:
    """The cut with every cloth in it, a third one along with the side that it lies behind."""
    thick = [[_drawn(view.plies[number]) for number in side] for side in view.sides]
    whole = seam_section(
        way.form,
        (sum(thick[0]), sum(thick[1])),
        rest=way.rest,
        upper=way.upper,
        allowance_mm=way.allowance_mm,
    )
    return split_sides(whole, thick, view.sides)


def _drawn(ply: PlyView) -> float:
    return max(ply.thickness_mm, 0.03)


def _placing(section: Section, box: tuple[float, float, float, float]) -> tuple[_Place, float]:
    left, top, width, tall = box
    low_x, low_y, high_x, high_y = section.bounds()
    room = tall - 26.0
    scale = min(
        width / (high_x - low_x), room / max(high_y - low_y, 0.3), MOST_PX_PER_MM * width / 640.0
    )
    origin_x = left + width / 2.0 - scale * (low_x + high_x) / 2.0
    origin_y = top + (room - scale * (high_y - low_y)) / 2.0 - scale * low_y
    return _Place(origin_x, origin_y, scale), scale


class _Place:
    """From millimetres to the drawing."""

    def __init__(self, x: float, y: float, scale: float) -> None:
        self.x, self.y, self.scale = x, y, scale

    def __call__(self, point: Point) -> Point:
        return self.x + self.scale * point[0], self.y + self.scale * point[1]


def _scale_bar(picture: Drawing, box: tuple[float, float, float, float], scale: float) -> None:
    left, top, width, tall = box
    y = top + tall - 6.0
    millimetres = 5 if 5 * scale < width / 3 else 2
    right = left + width - 6.0
    picture.line([(right - millimetres * scale, y), (right, y)], stroke=1.6)
    for x in (right - millimetres * scale, right):
        picture.line([(x, y - 4), (x, y + 4)], stroke=1.6)
    words = f"{millimetres} mm"
    picture.text(right - millimetres * scale - 6, y + 4, words, TYPE * 0.85, anchor="end")


def _ways(picture: Drawing, view: SeamView, top: float) -> None:
    column = (WIDTH - 2 * MARGIN) / 3.0
    picture.line([(MARGIN, top - 14), (WIDTH - MARGIN, top - 14)], stroke=1.0)
    for number, way in enumerate(view.ways):
        x = MARGIN + number * column
        room = column - 16
        words = cut_to(f"{number + 1} {way.title}", TYPE, room)
        picture.text(x, top + 8, words, TYPE, bold=True)
        draw_section(picture, view, way, (x, top + 18, room, 104.0))
        picture.text(x, top + 142, cut_to(way.stitch_words, TYPE * 0.9, room), TYPE * 0.9)
        for row, line in enumerate(way.lines):
            y = top + 164 + row * TYPE * 1.3
            picture.text(x, y, cut_to(line, TYPE * 0.9, room), TYPE * 0.9, fill=INK)
