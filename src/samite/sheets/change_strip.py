"""The strip of change-overs: every machine a row, every session a stretch, every setting a bar."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from samite.sheets.svg import PAPER, TINT, Drawing, cut_to

LEFT, RIGHT, TOP, ROW = 132.0, 12.0, 64.0, 44.0
HEAD = 24.0
BAND_MIN = 540.0
"""Minutes that a band of the strip holds, so that long jobs stay readable."""

WIDTH = 1100.0
GAP = 14.0
LEAST = 1.2
TYPE = 11.0


@dataclass(frozen=True, slots=True)
class Bar:
    """One operation in the strip.

    Parameters
    ----------
    row : str
        Machine.
    stretch : str
        Session that it lies in, ``"Tue 7 Oct"``.
    begin_min : float
        Begin of the setting up, from the begin of the session [min].
    work_min : float
        Begin of the work [min].
    end_min : float
        End [min].
    setting : str
        What the machine is set to.
    name : str
        The operation.
    changed : bool
        Whether the machine is changed over before it.
    late : bool
        Whether it is late.
    on : bool
        Whether a cold iron is switched on for it.
    """

    row: str
    stretch: str
    begin_min: float
    work_min: float
    end_min: float
    setting: str
    name: str
    changed: bool
    late: bool = False
    on: bool = False


def draw_strip(title: str, bars: Sequence[Bar], rows: Sequence[str]) -> str:
    """Draw the strip.

    Parameters
    ----------
    title : str
        Name of the job.
    bars : sequence of Bar
        In the order of beginning.
    rows : sequence of str
        Machines, from the top.

    Returns
    -------
    str
        SVG in black, white and one grey.
    """
    lengths = {bar.stretch: 0.0 for bar in bars}
    for bar in bars:
        lengths[bar.stretch] = max(lengths[bar.stretch], bar.end_min)
    bands = _bands(lengths)
    deep = TOP - HEAD + ROW * len(rows)
    height = HEAD + deep * max(len(bands), 1) + 30.0
    changes = sum(bar.changed for bar in bars)
    said = f"{len(bars)} operations in {len(lengths)} sessions; {changes} times a machine is set up anew."
    drawing = Drawing(WIDTH, height, f"Change-overs: {title}", said, "strip")
    hatch = drawing.hatch("set-up", "M0 4L4 0M-1 1L1 -1M3 5L5 3", 4.0, 0.8)
    drawing.text(LEFT, 18.0, said, TYPE + 1)
    widest = max((_room(band, lengths) for band in bands), default=1.0)
    held: dict[str, str] = {}
    for k, band in enumerate(bands):
        scale = (WIDTH - LEFT - RIGHT - GAP * (len(band) - 1)) / max(widest, 1.0)
        begins = _begins(band, lengths, scale)
        top = TOP + deep * k
        _frame(drawing, band, begins, lengths, scale, rows, top)
        for bar in bars:
            if bar.stretch in begins:
                _one(drawing, bar, bars, begins[bar.stretch], top, rows, scale, hatch, held)
    _key(drawing, height, hatch)
    return drawing.render()


def _bands(lengths: dict[str, float]) -> list[list[str]]:
    bands: list[list[str]] = []
    for stretch, length in lengths.items():
        if not bands or _room(bands[-1], lengths) + length > BAND_MIN:
            bands.append([])
        bands[-1].append(stretch)
    return bands


def _room(band: Sequence[str], lengths: dict[str, float]) -> float:
    return sum(lengths[one] for one in band)


def _one(
    drawing: Drawing,
    bar: Bar,
    bars: Sequence[Bar],
    x: float,
    top: float,
    rows: Sequence[str],
    scale: float,
    hatch: str,
    held: dict[str, str],
) -> None:
    y = top + ROW * rows.index(bar.row)
    _bar(drawing, bar, x, y, scale, hatch)
    if bar.on or (bar.setting and bar.changed and held.get(bar.row) != bar.setting):
        _label(drawing, bar, bars, x, y, scale)
    held[bar.row] = bar.setting or held.get(bar.row, "")


def _begins(stretches: list[str], lengths: dict[str, float], scale: float) -> dict[str, float]:
    found, x = {}, LEFT
    for one in stretches:
        found[one] = x
        x += lengths[one] * scale + GAP
    return found


def _frame(
    drawing: Drawing,
    stretches: list[str],
    begins: dict[str, float],
    lengths: dict[str, float],
    scale: float,
    rows: Sequence[str],
    top: float,
) -> None:
    for k, row in enumerate(rows):
        y = top + ROW * k
        drawing.text(
            LEFT - 8.0,
            y + 20.0,
            cut_to(row, TYPE + 1, LEFT - 14.0),
            TYPE + 1,
            anchor="end",
            bold=True,
        )
    for one in stretches:
        wide = lengths[one] * scale
        drawing.text(
            begins[one], top - 22.0, cut_to(one, TYPE + 1, max(wide, 30.0)), TYPE, bold=True
        )
        drawing.text(
            begins[one],
            top - 9.0,
            cut_to(f"{lengths[one]:.0f} min", TYPE, max(wide, 30.0)),
            TYPE - 1,
        )
        for k in range(len(rows)):
            y = top + ROW * k
            drawing.line([(begins[one], y + 26.0), (begins[one] + wide, y + 26.0)], stroke=0.5)


def _bar(drawing: Drawing, bar: Bar, x: float, y: float, scale: float, hatch: str) -> None:
    begin, work, end = (x + one * scale for one in (bar.begin_min, bar.work_min, bar.end_min))
    if work - begin > 0.0:
        drawing.rect(begin, y + 4.0, max(work - begin, LEAST), 22.0, fill=hatch)
    drawing.rect(work, y + 8.0, max(end - work, LEAST), 18.0, fill=TINT, stroke=0.7)
    if bar.late:
        drawing.line([(work, y + 8.0), (end, y + 26.0)], stroke=1.5)


def _label(
    drawing: Drawing, bar: Bar, bars: Sequence[Bar], x: float, y: float, scale: float
) -> None:
    """Write a setting under the bar where it begins, as far as the next one leaves room."""
    begin = bar.begin_min
    later = [
        other.begin_min
        for other in bars
        if other.row == bar.row
        and other.stretch == bar.stretch
        and other.changed
        and other.begin_min > begin
    ]
    last = max(other.end_min for other in bars if other.stretch == bar.stretch)
    room = (min(later, default=last) - begin) * scale
    if room > 24.0:
        words = f"on: {bar.setting}".rstrip(": ") if bar.on else bar.setting
        drawing.text(x + begin * scale, y + 37.0, cut_to(words, TYPE - 2, room), TYPE - 2)


def _key(drawing: Drawing, height: float, hatch: str) -> None:
    y = height - 22.0
    drawing.rect(LEFT, y, 22.0, 12.0, fill=hatch)
    drawing.text(LEFT + 28.0, y + 10.0, "setting up", TYPE)
    drawing.rect(LEFT + 110.0, y, 22.0, 12.0, fill=TINT, stroke=0.7)
    drawing.text(LEFT + 138.0, y + 10.0, "work", TYPE)
    drawing.rect(LEFT + 190.0, y, 22.0, 12.0, fill=PAPER, stroke=0.7)
    drawing.line([(LEFT + 190.0, y), (LEFT + 212.0, y + 12.0)], stroke=1.5)
    drawing.text(LEFT + 218.0, y + 10.0, "too late; the length of a bar is its time", TYPE)
