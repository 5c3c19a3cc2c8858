"""The press curve: heat above, odds below, and between them the seconds to count."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from samite.sheets.margin import EndLabel, Margin
from samite.sheets.svg import EM_SHARE, INK, TINT, Drawing, Point, cut_to, spread
from samite.sheets.views import PressCurve, Span, Zone

FACE = "9 5"
HARM = "2 4"
"""Dashes of what is not drawn solid."""

SET_WANTED = 0.95
DAMAGE_ALLOWED = 0.01


@dataclass(frozen=True, slots=True)
class _Frame:
    """Measures of the drawing."""

    width: float
    height: float
    left: float
    right: float
    top: float
    heat_bottom: float
    strip_bottom: float
    odds_bottom: float
    type_size: float

    @property
    def strip_top(self) -> float:
        return self.heat_bottom + self.type_size * 0.9

    @property
    def odds_top(self) -> float:
        return self.strip_bottom + self.type_size * 1.7


FULL = _Frame(960, 640, 62, 660, 92, 350, 396, 574, 15)
SMALL = _Frame(430, 410, 42, 276, 10, 206, 236, 396, 14.5)


def draw_press_curve(curve: PressCurve, *, small: bool = False) -> str:
    """Draw what a technique does, second by second.

    Parameters
    ----------
    curve : PressCurve
        The technique.
    small : bool
        For a corner of a page: no heading, shorter words, larger type for its size.

    Returns
    -------
    str
        SVG. Lines differ by dashes, zones by hatching; each is named beside itself.
    """
    frame = SMALL if small else FULL
    title = f"Press curve: {curve.technique}"
    picture = Drawing(frame.width, frame.height, title, describe_curve(curve), "curve")
    plot = _Plot(picture, frame, curve)
    if not small:
        plot.heading()
    plot.heat()
    plot.strip()
    plot.odds()
    if not small:
        plot.footing()
    return picture.render()


def describe_curve(curve: PressCurve) -> str:
    """Say in words what the drawing shows.

    Parameters
    ----------
    curve : PressCurve
        The technique.

    Returns
    -------
    str
        A few sentences.
    """
    index = _at(curve, curve.count_s)
    core, face = curve.core_c[index], curve.face_c[index]
    kind = "safe window" if curve.safe else "best try, not proved safe"
    words = [
        f"Count {curve.count_s:g}, stop by {curve.stop_s:g} seconds ({kind}).",
        f"At {curve.seconds[index]:g} s the seam line is at {_span(core)}, the face at {_span(face)}.",
        f"Chance of a set seam {_percent(curve.chance_set[index])}, "
        f"of harm {_percent(curve.chance_damage[index])}.",
    ]
    zones = [zone for zone in (curve.softens, curve.limit) if zone]
    words += [f"{zone.name}: {zone.low_c:.0f} to {zone.high_c:.0f} °C." for zone in zones]
    return " ".join(words)


def _at(curve: PressCurve, second: float) -> int:
    return min(range(len(curve.seconds)), key=lambda i: abs(curve.seconds[i] - second))


def _span(span: Span) -> str:
    return f"{span[1]:.0f} °C ({span[0]:.0f} to {span[2]:.0f})"


def _percent(chance: float) -> str:
    return f"{100 * chance:.0f} %" if chance >= 0.0995 else f"{100 * chance:.1f} %"


class _Plot:
    """The parts of the drawing."""

    def __init__(self, picture: Drawing, frame: _Frame, curve: PressCurve) -> None:
        self.picture, self.frame, self.curve = picture, frame, curve
        self.small = frame is SMALL
        wanted = max(2.0 * curve.stop_s, 12.0)
        longest = max(curve.seconds)
        self.end_s = min((s for s in curve.seconds if s >= wanted), default=longest)
        self.index = _at(curve, curve.count_s)
        self.low_c, self.high_c = self._heat_range()
        self.labels: list[EndLabel] = []
        self.margin = Margin(picture, frame.right, frame.width, frame.type_size, small=self.small)

    def _heat_range(self) -> tuple[float, float]:
        spans = [*self._shown(self.curve.core_c), *self._shown(self.curve.face_c)]
        values = [value for span in spans for value in span]
        for zone in (self.curve.softens, self.curve.limit):
            values += [zone.low_c, min(zone.high_c, zone.low_c + 25.0)] if zone else []
        low = math.floor(min(20.0, *values) / 20.0) * 20.0
        return low, math.ceil((max(values) + 8.0) / 20.0) * 20.0

    def _shown(self, spans: Sequence[Span]) -> list[Span]:
        pairs = zip(self.curve.seconds, spans, strict=True)
        return [span for second, span in pairs if second <= self.end_s]

    def x(self, second: float) -> float:
        frame = self.frame
        return frame.left + second / self.end_s * (frame.right - frame.left)

    def y(self, temperature_c: float) -> float:
        share = (temperature_c - self.low_c) / (self.high_c - self.low_c)
        clamped = min(max(share, 0.0), 1.0)
        return self.frame.heat_bottom - clamped * (self.frame.heat_bottom - self.frame.top)

    def y_chance(self, chance: float) -> float:
        frame = self.frame
        return frame.odds_bottom - chance * (frame.odds_bottom - frame.odds_top)

    def heading(self) -> None:
        curve, size = self.curve, self.frame.type_size
        words = f"Count {curve.count_s:g}, stop by {curve.stop_s:g}"
        tail = "" if curve.safe else " · best try: swatch first"
        self.picture.text(self.frame.left, 38, words + tail, size * 1.8, bold=True)
        room = self.frame.width - self.frame.left - 20
        self.picture.text(self.frame.left, 64, cut_to(curve.technique, size, room), size)

    def _zones(self) -> None:
        """Hatch where the fibre softens and where the tenderest part is harmed."""
        curve, frame = self.curve, self.frame
        dots = self.picture.hatch("softens", "M1 4h2M6 9h2", 10, 1.6)
        bars = self.picture.hatch("harm", "M-2 2L2 -2M0 8L8 0M6 10L10 6", 8, 1.1)
        width = frame.right - frame.left
        if curve.softens:
            top, bottom = self.y(curve.softens.high_c), self.y(curve.softens.low_c)
            self.picture.rect(frame.left, top, width, bottom - top, fill=dots)
            self.labels.append(
                _zone_label(self.y(curve.softens.value_c), curve.softens, self.small)
            )
        if curve.limit:
            bottom = self.y(curve.limit.low_c)
            self.picture.rect(frame.left, frame.top, width, bottom - frame.top, fill=bars)
            edge = [(frame.left, bottom), (frame.right, bottom)]
            self.picture.line(edge, stroke=2.4)
            self.labels.append(_limit_label(bottom, curve.limit, self.small))

    def heat(self) -> None:
        """Draw the temperatures at seam line and face with their spread."""
        curve, frame = self.curve, self.frame
        self._degrees()
        self._band(curve.core_c, fill=True)
        self._zones()
        self._band(curve.face_c, fill=False)
        self._guides(frame.top, frame.heat_bottom)
        for spans, dash, name in ((curve.core_c, "", "seam line"), (curve.face_c, FACE, "face")):
            points = [(self.x(s), self.y(t[1])) for s, t in self._pairs(spans)]
            self._curve(points, dash, self._heat_words(name, spans[self.index]))
        self._name(frame.top, frame.heat_bottom)

    def odds(self) -> None:
        """Draw the chances of a set seam and of harm."""
        curve, frame = self.curve, self.frame
        picture, size = self.picture, frame.type_size
        box = (frame.left, frame.odds_top, frame.right - frame.left)
        picture.rect(*box, frame.odds_bottom - frame.odds_top, stroke=1.0)
        for chance, dash in ((0.5, "1 5"), (SET_WANTED, "6 3")):
            at = self.y_chance(chance)
            picture.line([(frame.left, at), (frame.right, at)], stroke=0.8, dash=dash)
        for chance in (0.0, 0.5, 1.0):
            at = self.y_chance(chance) + size * 0.35
            words = f"{100 * chance:.0f}" + ("%" if chance == 1.0 else "")
            picture.text(frame.left - 6, at, words, size * 0.9, anchor="end")
        self._guides(frame.odds_top, frame.odds_bottom)
        for chances, dash, name in (
            (curve.chance_set, "", "set"),
            (curve.chance_damage, HARM, "harm"),
        ):
            pairs = zip(curve.seconds, chances, strict=True)
            points = [(self.x(s), self.y_chance(c)) for s, c in pairs if s <= self.end_s]
            self._curve(points, dash, self._odds_words(name, chances[self.index]))
        self._name(frame.odds_top, frame.odds_bottom)

    def strip(self) -> None:
        """Draw a box a second: open to count, dark to stop in, crossed out after."""
        frame, curve, picture = self.frame, self.curve, self.picture
        top, tall = frame.strip_top, frame.strip_bottom - frame.strip_top
        over = picture.hatch("over", "M0 0L9 9M9 0L0 9", 9, 0.9)
        maybe = picture.hatch("maybe", "M-2 2L2 -2M0 7L7 0M5 9L9 5", 7, 2.2)
        go = INK if curve.safe else maybe
        for second in range(1, int(self.end_s) + 1):
            left, right = self.x(second - 1), self.x(second)
            fill = "none" if second <= curve.count_s else go if second <= curve.stop_s else over
            picture.rect(left, top, right - left, tall, fill=fill, stroke=1.2)
        stop = self.x(curve.stop_s)
        picture.line([(stop, top - 5), (stop, frame.strip_bottom + 3)], stroke=5.0)
        self._numbers(frame.strip_bottom + frame.type_size * 1.3)
        words = ("seconds",) if self.small else ("seconds", "wait, lift off, too late")
        self.margin.write([EndLabel(top + tall / 2.0, words)], top, frame.strip_bottom)

    def footing(self) -> None:
        """Say what moved the answer most, and what the band is."""
        frame, size = self.frame, self.frame.type_size
        words = "Bands hold 90 % of the cases; harm is for the whole costume's pressing."
        self.picture.text(frame.left, 602, words, size * 0.9)
        if self.curve.moved_most:
            room = frame.width - frame.left - 20
            words = "What would narrow them most: " + "; ".join(self.curve.moved_most)
            self.picture.text(frame.left, 624, cut_to(words, size * 0.9, room), size * 0.9)

    def _numbers(self, base: float) -> None:
        """Write count and stop under the strip, apart from each other."""
        size = self.frame.type_size * 1.1
        numbers = sorted({self.curve.count_s, self.curve.stop_s})
        words = [f"{number:g}" for number in numbers]
        gaps = [len(text) * size * EM_SHARE + size * 0.4 for text in words]
        wanted = [self.x(number) for number in numbers]
        placed = spread(wanted, gaps, self.frame.left, self.frame.right)
        for x, text in zip(placed, words, strict=True):
            self.picture.text(x, base, text, size, anchor="middle", bold=True)

    def _degrees(self) -> None:
        """Write the scale of temperature."""
        frame, size = self.frame, self.frame.type_size
        step = 20 if self.high_c - self.low_c <= 140 else 40
        for degrees in range(int(self.low_c), int(self.high_c) + 1, step):
            at = self.y(degrees)
            self.picture.line([(frame.left - 4, at), (frame.left, at)])
            words = f"{degrees}" + ("°C" if degrees + step > self.high_c else "")
            self.picture.text(frame.left - 6, at + size * 0.35, words, size * 0.9, anchor="end")
        wide, tall = frame.right - frame.left, frame.heat_bottom - frame.top
        self.picture.rect(frame.left, frame.top, wide, tall, stroke=1.0)

    def _pairs(self, spans: Sequence[Span]) -> list[tuple[float, Span]]:
        pairs = zip(self.curve.seconds, spans, strict=True)
        return [(second, span) for second, span in pairs if second <= self.end_s]

    def _band(self, spans: Sequence[Span], *, fill: bool) -> None:
        pairs = self._pairs(spans)
        upper = [(self.x(s), self.y(t[2])) for s, t in pairs]
        lower = [(self.x(s), self.y(t[0])) for s, t in pairs]
        if fill:
            self.picture.area([*upper, *reversed(lower)], TINT)
        for edge in (upper, lower):
            self.picture.line(edge, stroke=0.9, dash="" if fill else "2 3")

    def _guides(self, top: float, bottom: float) -> None:
        for second in {self.curve.count_s, self.curve.stop_s}:
            at = self.x(second)
            self.picture.line([(at, top), (at, bottom)], stroke=1.2, dash="3 3")

    def _curve(self, points: list[Point], dash: str, words: tuple[str, ...]) -> None:
        """Draw a line on a halo of paper and keep its name for the margin."""
        self.picture.halo(points, 6.0)
        self.picture.line(points, stroke=2.6 if dash else 3.4, dash=dash)
        self.labels.append(EndLabel(points[-1][1], words, dash))

    def _heat_words(self, name: str, span: Span) -> tuple[str, ...]:
        when = f"{span[1]:.0f} °C at {self.curve.count_s:g} s"
        if self.small:
            return name, when
        return name, f"{when} ({span[0]:.0f} to {span[2]:.0f})"

    def _odds_words(self, name: str, chance: float) -> tuple[str, ...]:
        when = f"{_percent(chance)} at {self.curve.count_s:g} s"
        if self.small:
            return f"seam {name}" if name == "set" else name, when
        wanted = f"{SET_WANTED:.0%} wanted" if name == "set" else f"{DAMAGE_ALLOWED:.0%} allowed"
        full = "seam set" if name == "set" else "harm somewhere"
        return full, f"{when} ({wanted})"

    def _name(self, low: float, high: float) -> None:
        self.margin.write(self.labels, low, high)
        self.labels = []


def _zone_label(at: float, zone: Zone, small: bool) -> EndLabel:
    words = f"{zone.low_c:.0f} to {zone.high_c:.0f} °C"
    if small:
        return EndLabel(at, (zone.name.partition(" softens")[0], f"soft at {zone.value_c:.0f} °C"))
    return EndLabel(at, _named(zone, words))


def _limit_label(at: float, zone: Zone, small: bool) -> EndLabel:
    words = f"from {zone.low_c:.0f} °C"
    if small:
        return EndLabel(at, (zone.name.partition(" harmed")[0], f"harm {words}"))
    return EndLabel(at, _named(zone, words))


def _named(zone: Zone, words: str) -> tuple[str, str]:
    """Part what happens from where it does."""
    name, _, where = zone.name.partition(": ")
    return (name, f"{where}, {words}") if where else (name, words)
