"""Before and after, side by side: chances by the second as the tables and as the swatches have it."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from samite.press.window import DAMAGE_ALLOWED, SET_WANTED
from samite.sheets.learnt_views import LearntCurve, LearntPair, MovedBar
from samite.sheets.svg import INK, OWN_EM_SHARE, TINT, Drawing, Point, cut_to

WIDTH, HEIGHT = 440.0, 400.0
"""Narrow enough for a phone, where it is read at about this size."""

TOP, BOTTOM = 112.0, 270.0
LEFTS = (42.0, 262.0)
PANEL = 170.0
TYPE = 14.5
LETTERS = 46
"""Characters of the heading in a line."""

HARM = "2 5"
"""Dashes of the line of harm."""

LONGEST_S = 15.0
"""Longer than this nobody counts [s]."""


def draw_before_after(pair: LearntPair) -> str:
    """Draw both beliefs about one technique on the same scales.

    Parameters
    ----------
    pair : LearntPair
        The two.

    Returns
    -------
    str
        SVG, black on white; tinted where both wishes are met.
    """
    title = "Before and after the swatches"
    picture = Drawing(WIDTH, HEIGHT, title, describe_pair(pair), "learnt")
    heading = textwrap.wrap(pair.technique, LETTERS)[:2]
    for number, line in enumerate(heading):
        picture.text(6, 20 + 19.0 * number, line, TYPE * 1.1, bold=True)
    picture.text(6, 20 + 19.0 * len(heading) + 2, cut_to(pair.swatches, TYPE, WIDTH - 12), TYPE)
    for left, curve in zip(LEFTS, (pair.before, pair.after), strict=True):
        _Panel(picture, left, curve).draw()
    base = BOTTOM + TYPE * 3.2
    _legend(picture, LEFTS[0], base, "", f"seam set ({SET_WANTED:.0%} wanted)")
    harm = f"harm on the whole costume ({DAMAGE_ALLOWED:.0%} allowed)"
    _legend(picture, LEFTS[0], base + 24, HARM, harm)
    picture.rect(LEFTS[0], base + 38, 28, 14, fill=TINT, stroke=0.8)
    picture.text(LEFTS[0] + 36, base + 50, "seconds that meet both", TYPE)
    return picture.render()


def describe_pair(pair: LearntPair) -> str:
    """Say in words what the drawing shows.

    Parameters
    ----------
    pair : LearntPair
        The two.

    Returns
    -------
    str
        A few sentences.
    """
    told = "; ".join(_described(curve) for curve in (pair.before, pair.after))
    return f"{pair.technique}. {pair.swatches}. {told}."


def _described(curve: LearntCurve) -> str:
    window = "no seconds meet both wishes"
    if curve.window_s:
        window = f"{curve.window_s[0]:g} to {curve.window_s[1]:g} s meet both wishes"
    best = max(
        range(len(curve.seconds)), key=lambda i: curve.chance_set[i] - curve.chance_damage[i]
    )
    return (
        f"{curve.name}: at {curve.seconds[best]:g} s set {curve.chance_set[best]:.0%}, harm "
        f"{curve.chance_damage[best]:.1%}, {window}"
    )


def _legend(picture: Drawing, x: float, y: float, dash: str, words: str) -> None:
    picture.line([(x, y - 5), (x + 28, y - 5)], stroke=2.6, dash=dash)
    picture.text(x + 36, y, words, TYPE)


class _Panel:
    """One of the two plots."""

    def __init__(self, picture: Drawing, left: float, curve: LearntCurve) -> None:
        self.picture, self.left, self.curve = picture, left, curve
        shown = [second for second in curve.seconds if second <= LONGEST_S]
        self.count = len(shown)
        self.end_s = shown[-1]

    def x(self, second: float) -> float:
        return self.left + min(second, self.end_s) / self.end_s * PANEL

    def y(self, chance: float) -> float:
        return BOTTOM - chance * (BOTTOM - TOP)

    def draw(self) -> None:
        """Draw window, scales, both lines and their words."""
        picture, curve = self.picture, self.curve
        if curve.window_s:
            first, last = (self.x(second) for second in curve.window_s)
            picture.rect(first - 3, TOP, max(last - first, 0.0) + 6, BOTTOM - TOP, fill=TINT)
        self._scales()
        shown = range(self.count)
        sets = [(self.x(curve.seconds[i]), self.y(curve.chance_set[i])) for i in shown]
        hurts = [(self.x(curve.seconds[i]), self.y(curve.chance_damage[i])) for i in shown]
        self._curve(sets, "")
        self._curve(hurts, HARM)
        picture.text(self.left, TOP - 10, curve.name, TYPE * 1.1, bold=True)
        words = "no second"
        if curve.window_s:
            words = f"{curve.window_s[0]:g} to {curve.window_s[1]:g} s"
        picture.text(self.left + PANEL, TOP - 10, words, TYPE, anchor="end")

    def _scales(self) -> None:
        picture = self.picture
        picture.rect(self.left, TOP, PANEL, BOTTOM - TOP, stroke=1.0)
        for chance, dash in ((DAMAGE_ALLOWED, "1 5"), (0.5, "1 5"), (SET_WANTED, "6 3")):
            y = self.y(chance)
            picture.line([(self.left, y), (self.left + PANEL, y)], stroke=0.8, dash=dash)
        for chance in (0.0, 0.5, 1.0):
            words = f"{100 * chance:.0f}" + ("%" if chance == 1.0 else "")
            at = self.y(chance) + TYPE * 0.35
            picture.text(self.left - 6, at, words, TYPE * 0.9, anchor="end")
        for second in (1.0, 5.0, 10.0, 15.0):
            if second <= self.end_s:
                words = f"{second:g}" + (" s" if second == 1.0 else "")
                picture.line([(self.x(second), BOTTOM), (self.x(second), BOTTOM + 4)])
                at = BOTTOM + TYPE * 1.3
                picture.text(self.x(second), at, words, TYPE * 0.9, anchor="middle")

    def _curve(self, points: list[Point], dash: str) -> None:
        self.picture.halo(points, 6.0)
        self.picture.line(points, stroke=2.8, dash=dash)


ROW = 76.0
BAR_LEFT, BAR_RIGHT = 6.0, 434.0


def draw_moved(bars: Sequence[MovedBar]) -> str:
    """Draw what moved: each doubt's range before over its range after.

    Parameters
    ----------
    bars : sequence of MovedBar
        The doubts, the one that sharpened most first.

    Returns
    -------
    str
        SVG; open bars before, black bars after; chances from 0 to 100, any other row on a scale of
        its own.
    """
    height = 36.0 + ROW * len(bars)
    picture = Drawing(WIDTH, height, "What was learnt", describe_moved(bars), "moved")
    picture.text(6, 20, "open: before; black: after (9 of 10 cases within)", TYPE)
    for number, bar in enumerate(bars):
        _bar(picture, 36.0 + ROW * number, bar)
    return picture.render()


def describe_moved(bars: Sequence[MovedBar]) -> str:
    """Say in words what the drawing shows.

    Parameters
    ----------
    bars : sequence of MovedBar
        The doubts.

    Returns
    -------
    str
        A sentence a doubt.
    """
    return " ".join(
        f"{bar.name}: {_span(bar.before, bar.unit)} before, {_span(bar.after, bar.unit)} after."
        for bar in bars
    )


def _span(span: tuple[float, float, float], unit: str) -> str:
    low, middle, high = (_short(value) for value in span)
    return f"{middle} ({low} to {high}){f' {unit}' if unit else ''}"


def _short(value: float) -> str:
    return f"{value:.0f}" if abs(value) >= 100.0 else f"{value:.3g}"


def _bar(picture: Drawing, top: float, bar: MovedBar) -> None:
    low, high = min(bar.before[0], bar.after[0]), max(bar.before[2], bar.after[2])
    if bar.unit == "%" and low >= 0.0 and high <= 100.0:  # a chance: all of them on one scale
        low, high = 0.0, 100.0
    wide = (BAR_RIGHT - BAR_LEFT) / max(high - low, 1e-12)

    def x(value: float) -> float:
        return BAR_LEFT + (value - low) * wide

    picture.text(BAR_LEFT, top + TYPE, cut_to(bar.name, TYPE, BAR_RIGHT - BAR_LEFT), TYPE)
    for offset, span, fill in ((21.0, bar.before, "none"), (35.0, bar.after, INK)):
        left, right = x(span[0]), x(span[2])
        picture.rect(left, top + offset, max(right - left, 2.0), 10.0, fill=fill, stroke=1.6)
    words = f"{_span(bar.before, bar.unit)}, now {_span(bar.after, '')}"
    words = cut_to(words, TYPE * 0.9, BAR_RIGHT - BAR_LEFT, OWN_EM_SHARE)
    picture.text(BAR_LEFT, top + 60.0, words, TYPE * 0.9)
