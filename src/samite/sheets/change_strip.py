"""The strip of change-overs: every machine a row, every session a stretch, every setting a bar."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from samite.sheets.svg import PAPER, TINT, Drawing, cut_to

LEFT, RIGHT, TOP, ROW = 118.0, 12.0, 58.0, 44.0
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
    stretches = list(dict.fromkeys(bar.stretch for bar in bars))
    lengths = {one: max(b.end_min for b in bars if b.stretch == one) for one in stretches}
    room = WIDTH - LEFT - RIGHT - GAP * max(len(stretches) - 1, 0)
    scale = room / max(sum(lengths.values()), 1.0)
    height = TOP + ROW * len(rows) + 30.0
    changes = sum(bar.changed for bar in bars)
    said = f"{len(bars)} operations in {len(stretches)} sessions; {changes} times a machine is set up anew."
    drawing = Drawing(WIDTH, height, f"Change-overs: {title}", said, "strip")
    hatch = drawing.hatch("set-up", "M0 4L4 0M-1 1L1 -1M3 5L5 3", 4.0, 0.8)
    drawing.text(LEFT, 18.0, said, TYPE + 1)
    begins = _begins(stretches, lengths, scale)
    _frame(drawing, stretches, begins, lengths, scale, rows)
    held: dict[str, str] = {}
    for bar in bars:
        x = begins[bar.stretch]
        y = TOP + ROW * rows.index(bar.row)
        _bar(drawing, bar, x, y, scale, hatch)
        if bar.setting and bar.changed and held.get(bar.row) != bar.setting:
            _label(drawing, bar, bars, x, y, scale)
        held[bar.row] = bar.setting or held.get(bar.row, "")
    _key(drawing, height, hatch)
    return drawing.render()


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
) -> None:
    for k, row in enumerate(rows):
        y = TOP + ROW * k
        drawing.text(LEFT - 8.0, y + 20.0, cut_to(row, TYPE + 1, LEFT - 14.0), TYPE + 1, anchor="end", bold=True)
    for one in stretches:
        wide = lengths[one] * scale
        drawing.text(begins[one], 36.0, cut_to(one, TYPE, max(wide + GAP, 20.0)), TYPE, bold=True)
        drawing.text(begins[one], 49.0, cut_to(f"{lengths[one]:.0f} min", TYPE - 1, wide + GAP), TYPE - 1)
        for k in range(len(rows)):
            y = TOP + ROW * k
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
        if other.row == bar.row and other.stretch == bar.stretch and other.changed and other.begin_min > begin
    ]
    last = max(other.end_min for other in bars if other.stretch == bar.stretch)
    room = (min(later, default=last) - begin) * scale
    if room > 24.0:
        drawing.text(x + begin * scale, y + 37.0, cut_to(bar.setting, TYPE - 2, room), TYPE - 2)


def _key(drawing: Drawing, height: float, hatch: str) -> None:
    y = height - 22.0
    drawing.rect(LEFT, y, 22.0, 12.0, fill=hatch)
    drawing.text(LEFT + 28.0, y + 10.0, "setting up", TYPE)
    drawing.rect(LEFT + 110.0, y, 22.0, 12.0, fill=TINT, stroke=0.7)
    drawing.text(LEFT + 138.0, y + 10.0, "work", TYPE)
    drawing.rect(LEFT + 190.0, y, 22.0, 12.0, fill=PAPER, stroke=0.7)
    drawing.line([(LEFT + 190.0, y), (LEFT + 212.0, y + 12.0)], stroke=1.5)
    drawing.text(LEFT + 218.0, y + 10.0, "too late; the length of a bar is its time", TYPE)
