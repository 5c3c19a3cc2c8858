"""The square of a slip: where the seam lies and what is tried in which place."""

from __future__ import annotations

from samite.sheets.slip_views import SlipPlace, SlipSheet
from samite.sheets.svg import INK, PAPER, Drawing

CM = 22.0
"""User units of a centimetre."""

EDGE = 34.0
TYPE = 15.0
HATCHES = {
    "press": ("M-2 2L2 -2M0 9L9 0M7 11L11 7", 9.0),
    "pull": ("M0 4h8", 8.0),
    "finish": ("M0 0L5 5L0 10M0 10", 10.0),
    "drop": ("M5 5h1.4", 10.0),
    "paper": ("M0 0L8 8M8 0L0 8", 8.0),
}
"""Hatching of each kind of place, and the side of its tile."""


def draw_slip(sheet: SlipSheet) -> str:
    """Draw the square with its places.

    Parameters
    ----------
    sheet : SlipSheet
        The slip.

    Returns
    -------
    str
        SVG, black on white; every place is numbered as its step.
    """
    side = sheet.side_cm * CM
    title = f"Slip of {sheet.side_cm:g} x {sheet.side_cm:g} cm"
    picture = Drawing(side + 2 * EDGE, side + 2.4 * EDGE, title, describe_slip(sheet), "slip")
    paints = {kind: picture.hatch(kind, path, size, 0.9) for kind, (path, size) in HATCHES.items()}
    picture.rect(EDGE, EDGE, side, side, stroke=2.4)
    seam = EDGE + side / 2.0
    for place in sheet.places:
        _place(picture, place, paints.get(place.kind, "none"))
    picture.halo([(seam, EDGE), (seam, EDGE + side)], 5.0)
    picture.line([(seam, EDGE), (seam, EDGE + side)], stroke=2.2, dash="9 5")
    for place in sheet.places:
        _name(picture, place)
    picture.text(seam, EDGE - 10, "cut here, sew together again", TYPE, anchor="middle")
    _grain(picture, EDGE + side + 14.0)
    words = f"{sheet.side_cm:g} cm"
    picture.text(EDGE + side, EDGE + side + 24, words, TYPE, anchor="end")
    return picture.render()


def describe_slip(sheet: SlipSheet) -> str:
    """Say in words what the drawing shows.

    Parameters
    ----------
    sheet : SlipSheet
        The slip.

    Returns
    -------
    str
        A few sentences.
    """
    told = "; ".join(f"step {one.number}, {one.title}: {_where(one)}" for one in sheet.places)
    return (
        f"A square of {sheet.side_cm:g} cm, cut in two along the middle and sewn together again. "
        f"{told}."
    )


def _where(place: SlipPlace) -> str:
    left, top, wide, tall = place.box_cm
    return f"{wide:g} by {tall:g} cm, {left:g} cm from the left, {top:g} cm from the top"


def _place(picture: Drawing, place: SlipPlace, paint: str) -> None:
    left, top, wide, tall = (value * CM for value in place.box_cm)
    if place.kind == "marks":
        for y in (top, top + tall):
            picture.dot(EDGE + left + wide / 2.0, EDGE + y, 4.0)
        middle = EDGE + left + wide / 2.0
        picture.line([(middle, EDGE + top), (middle, EDGE + top + tall)], stroke=1.0, dash="2 5")
        return
    picture.rect(EDGE + left, EDGE + top, wide, tall, fill=paint, stroke=1.2)


def _name(picture: Drawing, place: SlipPlace) -> None:
    """Write the number on a disc of paper, and the title under it where there is room."""
    left, top, wide, tall = (value * CM for value in place.box_cm)
    x, y = EDGE + left + wide / 2.0, EDGE + top + tall / 2.0
    if place.kind in ("press", "pull"):
        x = EDGE + left + wide * 0.24
    picture.dot(x, y, 15.0, fill=INK)
    picture.dot(x, y, 13.4, fill=PAPER)
    picture.text(x, y + TYPE * 0.36, place.number, TYPE, anchor="middle", bold=True)


def _grain(picture: Drawing, y: float) -> None:
    picture.line([(EDGE, y), (EDGE + 70, y)], stroke=1.6)
    picture.area([(EDGE + 70, y - 5), (EDGE + 80, y), (EDGE + 70, y + 5)], INK)
    picture.text(EDGE + 88, y + TYPE * 0.36, "across the cloth", TYPE)
