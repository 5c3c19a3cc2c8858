"""The hold curve: heat at the seam line above, chance of a set seam below, by seconds held."""

from __future__ import annotations

import math

from samite.sheets.margin import EndLabel, Margin
from samite.sheets.recipe_views import HoldCurve
from samite.sheets.svg import TINT, Drawing, Point
from samite.sheets.views import Span

WIDTH, HEIGHT = 430.0, 320.0
LEFT, RIGHT = 50.0, 276.0
HEAT_TOP, HEAT_BOTTOM = 12.0, 140.0
ODDS_TOP, ODDS_BOTTOM = 160.0, 272.0
TYPE = 14.5


def draw_hold_curve(curve: HoldCurve) -> str:
    """Draw what holding does, small, for a corner of a page.

    Parameters
    ----------
    curve : HoldCurve
        The hold.

    Returns
    -------
    str
        SVG; hatched from where holding adds next to nothing.
    """
    picture = Drawing(WIDTH, HEIGHT, f"Hold: {curve.tool}", describe_hold(curve), "hold")
    plot = _Plot(picture, curve)
    plot.heat()
    plot.odds()
    plot.seconds()
    return picture.render()


def describe_hold(curve: HoldCurve) -> str:
    """Say in words what the drawing shows.

    Parameters
    ----------
    curve : HoldCurve
        The hold.

    Returns
    -------
    str
        A few sentences.
    """
    at = curve.seconds.index(curve.enough_s)
    first, end = curve.core_c[0], curve.core_c[at]
    return (
        f"Held under {curve.tool}. After {curve.seconds[0]:g} s the seam line is at "
        f"{first[1]:.0f} °C ({first[0]:.0f} to {first[2]:.0f}), after {curve.enough_s:g} s at "
        f"{end[1]:.0f} °C ({end[0]:.0f} to {end[2]:.0f}). Let go after {curve.seconds[0]:g} s it is "
        f"set in {100 * curve.chance_set[0]:.0f} of 100, after {curve.enough_s:g} s in "
        f"{100 * curve.chance_set[at]:.0f}; longer adds next to nothing."
    )


class _Plot:
    """The parts of the drawing."""

    def __init__(self, picture: Drawing, curve: HoldCurve) -> None:
        self.picture, self.curve = picture, curve
        values = [value for span in curve.core_c for value in span]
        self.low_c = math.floor(min(20.0, *values) / 20.0) * 20.0
        self.high_c = math.ceil((max(values) + 4.0) / 20.0) * 20.0
        self.idle = picture.hatch("idle", "M0 7L7 0", 7, 0.8)
        self.at = curve.seconds.index(curve.enough_s)
        self.margin = Margin(picture, RIGHT, WIDTH, TYPE, small=True)

    def x(self, second: float) -> float:
        return LEFT + second / self.curve.seconds[-1] * (RIGHT - LEFT)

    def y(self, temperature_c: float) -> float:
        share = (temperature_c - self.low_c) / (self.high_c - self.low_c)
        return HEAT_BOTTOM - share * (HEAT_BOTTOM - HEAT_TOP)

    def y_chance(self, chance: float) -> float:
        return ODDS_BOTTOM - chance * (ODDS_BOTTOM - ODDS_TOP)

    def heat(self) -> None:
        """Draw the band of the seam line's heat."""
        curve = self.curve
        pairs = list(zip(curve.seconds, curve.core_c, strict=True))
        upper = [(self.x(s), self.y(span[2])) for s, span in pairs]
        lower = [(self.x(s), self.y(span[0])) for s, span in pairs]
        self.picture.area([*upper, *reversed(lower)], TINT)
        for edge in (upper, lower):
            self.picture.line(edge, stroke=0.9)
        self._box(HEAT_TOP, HEAT_BOTTOM)
        step = 20 if self.high_c - self.low_c <= 80 else 40
        for degrees in range(int(self.low_c), int(self.high_c) + 1, step):
            words = f"{degrees}" + ("°C" if degrees + step > self.high_c else "")
            self._tick(self.y(degrees), words)
        span: Span = curve.core_c[self.at]
        names = ("seam line", f"{span[1]:.0f} °C at {curve.enough_s:g} s")
        self._curve(
            [(self.x(s), self.y(span[1])) for s, span in pairs], names, HEAT_TOP, HEAT_BOTTOM
        )

    def odds(self) -> None:
        """Draw the chance of a set seam if it is let go."""
        curve = self.curve
        self._box(ODDS_TOP, ODDS_BOTTOM)
        for chance in (0.0, 0.5, 1.0):
            self._tick(
                self.y_chance(chance), f"{100 * chance:.0f}" + ("%" if chance == 1.0 else "")
            )
        pairs = zip(curve.seconds, curve.chance_set, strict=True)
        points = [(self.x(s), self.y_chance(chance)) for s, chance in pairs]
        words = (
            "set if let go",
            f"{100 * curve.chance_set[self.at]:.0f} % at {curve.enough_s:g} s",
        )
        self._curve(points, words, ODDS_TOP, ODDS_BOTTOM)

    def seconds(self) -> None:
        """Write the seconds, the one from which on holding adds nothing heavy."""
        base = ODDS_BOTTOM + TYPE * 1.3
        enough = self.x(self.curve.enough_s)
        for second in (0.0, 10.0, 20.0, self.curve.seconds[-1]):
            if abs(self.x(second) - enough) > 22.0:
                self.picture.text(self.x(second), base, f"{second:g}", TYPE * 0.9, anchor="middle")
        self.picture.text(
            enough, base, f"{self.curve.enough_s:g}", TYPE * 1.1, anchor="middle", bold=True
        )
        self.picture.text(RIGHT + 24, base, "seconds held", TYPE)
        words = "hatched: holding on adds nothing"
        self.picture.text(LEFT, base + TYPE * 1.6, words, TYPE)

    def _box(self, top: float, bottom: float) -> None:
        """Frame a plot; hatch it from where holding adds nothing."""
        enough = self.x(self.curve.enough_s)
        self.picture.rect(enough, top, RIGHT - enough, bottom - top, fill=self.idle)
        self.picture.line([(enough, top), (enough, bottom)], stroke=2.4)
        self.picture.rect(LEFT, top, RIGHT - LEFT, bottom - top, stroke=1.0)

    def _tick(self, y: float, words: str) -> None:
        self.picture.line([(LEFT - 4, y), (LEFT, y)])
        self.picture.text(LEFT - 6, y + TYPE * 0.35, words, TYPE * 0.9, anchor="end")

    def _curve(self, points: list[Point], words: tuple[str, ...], low: float, high: float) -> None:
        self.picture.halo(points, 6.0)
        self.picture.line(points, stroke=3.4)
        self.margin.write([EndLabel(points[-1][1], words, "")], low, high)
