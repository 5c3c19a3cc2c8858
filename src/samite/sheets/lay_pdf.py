"""A lay on paper: the whole on one page, then a page for every metre with what is cut there."""

from __future__ import annotations

from collections.abc import Sequence

from samite.kernel.errors import UnknownNameError
from samite.lay.cutting import CutStep
from samite.sheets.lay_sheet import EDGE_ROOM_MM, RULER_MM, LayPicture, lay_sheet
from samite.sheets.lay_steps import lay_notes, step_words
from samite.sheets.pdf import Page, write_pdf
from samite.sheets.sheet import Stroke, Words
from samite.sheets.tiles import SIZES
from samite.sheets.truetype import text_width_mm

MARGIN_MM = 10.0
TITLE_MM, NOTE_MM, TYPE_MM, STEP_MM = 5.5, 3.3, 3.0, 3.5
METRE_MM = 1000.0
LAP_MM = 60.0
"""Cloth that two pages share, so that a piece at the cut is seen on both [mm]."""

LARGEST = 0.25
"""Largest scale of the page of a metre."""


def lay_pdf(picture: LayPicture, paper: str = "a4", facts: Sequence[str] = ()) -> bytes:
    """Return a lay as PDF.

    Parameters
    ----------
    picture : LayPicture
        The lay.
    paper : str
        ``a4``, ``us-letter``, ``a3`` or ``a0``.
    facts : sequence of str
        Lines under the title: what to buy.

    Returns
    -------
    bytes
        The whole with what to mind, then a page a metre with a box to tick for every piece.

    Raises
    ------
    UnknownNameError
        If there is no such paper.
    """
    if paper not in SIZES:
        raise UnknownNameError(f"no paper {paper!r}", "--paper", ", ".join(SIZES))
    size = SIZES[paper]
    scale = _metre_scale(picture, size)
    large = lay_sheet(picture, scale=scale, type_mm=TYPE_MM)
    pages = [_whole_page(picture, size, facts), *_metre_pages(picture, size, scale)]
    return write_pdf(
        picture.title, large.strokes, large.words, pages, (large.width_mm, large.height_mm)
    )


def _metre_scale(picture: LayPicture, size: tuple[float, float]) -> float:
    across = size[0] - 2 * MARGIN_MM - RULER_MM - EDGE_ROOM_MM - 2 * TYPE_MM
    up = 0.56 * size[1]
    wide = picture.left_mm - picture.right_mm
    return min(across / wide, up / (METRE_MM + LAP_MM), LARGEST)


def _whole_page(picture: LayPicture, size: tuple[float, float], facts: Sequence[str]) -> Page:
    width, height = size
    room = width - 2 * MARGIN_MM
    words = _lines((MARGIN_MM, height - MARGIN_MM - TITLE_MM), [picture.title], TITLE_MM, room)
    words += _lines((MARGIN_MM, words[-1].place[1] - 1.8 * NOTE_MM), list(facts), NOTE_MM, room)
    long, wide = picture.end_mm - picture.start_mm, picture.left_mm - picture.right_mm
    top = words[-1].place[1] - 3.0
    beside = long / wide > 1.6
    drawn = 0.55 * room if beside else room
    high = top - MARGIN_MM if beside else 0.62 * (top - MARGIN_MM)
    scale = min(
        (drawn - RULER_MM - EDGE_ROOM_MM - 2 * TYPE_MM) / wide, (high - 3 * EDGE_ROOM_MM) / long
    )
    sheet = lay_sheet(picture, scale=scale, type_mm=min(TYPE_MM, max(1.6, 40.0 * scale)))
    bottom = top - sheet.height_mm
    strokes = [_moved(stroke, (MARGIN_MM, bottom)) for stroke in sheet.strokes]
    words += [_shifted(one, (MARGIN_MM, bottom)) for one in sheet.words]
    place = (MARGIN_MM + drawn + 4.0, top - NOTE_MM) if beside else (MARGIN_MM, bottom - 8.0)
    text_room = room - drawn - 4.0 if beside else room
    words += _lines(place, list(lay_notes(picture)), NOTE_MM, text_room, gap=0.5)
    return Page(width, height, tuple(strokes), tuple(words))


def _metre_pages(picture: LayPicture, size: tuple[float, float], scale: float) -> list[Page]:
    width, height = size
    long = picture.end_mm - picture.start_mm
    count = max(1, -int(-(long - 1.0) // METRE_MM))
    pages = []
    left = list(picture.steps)
    for k in range(count):
        begin = k * METRE_MM
        here = [one for one in left if one.ends_mm[0] - picture.start_mm < begin + METRE_MM]
        left = [one for one in left if one not in here]
        shown = min(METRE_MM + LAP_MM, long - begin) * scale + EDGE_ROOM_MM + TYPE_MM * 2
        bottom = height - MARGIN_MM - 8.0 - shown
        shift = MARGIN_MM, bottom - begin * scale
        window = (0.0, bottom, width, shown)
        part = "metre" if picture.units == "metric" else "part"
        title = f"{picture.title}: {part} {k + 1} of {count}"
        words = [Words((MARGIN_MM, height - MARGIN_MM - 3.5), title, 3.6)]
        pages += _step_pages(picture, here, size, shift, window, words)
    return pages


def _step_pages(
    picture: LayPicture,
    steps: Sequence[CutStep],
    size: tuple[float, float],
    shift: tuple[float, float],
    window: tuple[float, float, float, float],
    head: list[Words],
) -> list[Page]:
    """Return the page of a metre, and more where its pieces do not fit below the drawing."""
    strokes: list[Stroke] = []
    words = list(head)
    pages: list[Page] = []
    y = window[1] - 6.0
    drawing: tuple[float, float] | None = shift
    for step in steps:
        text = f"{step.number}  {step.name}: {step_words(picture, step)}"
        lines = _wrapped(text, STEP_MM, size[0] - 2 * MARGIN_MM - 7.0)
        if y - len(lines) * STEP_MM * 1.35 < MARGIN_MM:
            pages.append(Page(*size, tuple(strokes), tuple(words), drawing, window))
            strokes, words, drawing, y = [], list(head), None, size[1] - MARGIN_MM - 12.0
        strokes.append(_box((MARGIN_MM, y - 0.6)))
        for line in lines:
            words.append(Words((MARGIN_MM + 7.0, y), line, STEP_MM))
            y -= STEP_MM * 1.35
        y -= 1.6
    pages.append(Page(*size, tuple(strokes), tuple(words), drawing, window))
    return pages


def _box(low: tuple[float, float]) -> Stroke:
    x, y = low
    return Stroke(((x, y), (x + 4.0, y), (x + 4.0, y + 4.0), (x, y + 4.0)), 0.3, (), True, "tick")


def _lines(
    place: tuple[float, float], texts: Sequence[str], size: float, room: float, gap: float = 0.0
) -> list[Words]:
    made = []
    x, y = place
    for text in texts:
        for line in _wrapped(text, size, room):
            made.append(Words((x, y), line, size))
            y -= 1.35 * size
        y -= gap * size
    return made


def _wrapped(text: str, size: float, room: float) -> list[str]:
    """Break a text at blanks so that every line fits."""
    lines = [""]
    for word in text.split(" "):
        longer = f"{lines[-1]} {word}" if lines[-1] else word
        if lines[-1] and text_width_mm(longer, size) > room:
            lines.append(word)
        else:
            lines[-1] = longer
    return lines


def _moved(stroke: Stroke, by: tuple[float, float]) -> Stroke:
    points = tuple((x + by[0], y + by[1]) for x, y in stroke.points)
    return Stroke(points, stroke.width_mm, stroke.dash_mm, stroke.closed, stroke.role, stroke.piece)


def _shifted(words: Words, by: tuple[float, float]) -> Words:
    return Words(
        (words.place[0] + by[0], words.place[1] + by[1]), words.text, words.size_mm, words.angle_deg
    )
