"""The recipe as a strip: a panel a pass and one for the hold, to be followed at the board."""

from __future__ import annotations

import math
from dataclasses import dataclass

from samite.sheets.recipe_views import HoldPanel, PassPanel, RecipeStrip
from samite.sheets.seam_cut import PITCH, PLIES, seam_lines
from samite.sheets.svg import INK, OWN_EM_SHARE, PAPER, Drawing, Point, cut_to

WIDTH, HEIGHT, GAP = 240.0, 392.0, 12.0
HEAD = 44.0
EDGE = 6.0
TYPE = 17.0
BOARD = 214.0
"""Height of the board in a panel."""

DOT_WORDS = ("no contact", "one dot", "two dots", "three dots")
STEAM_WORDS = {
    "none": "no steam",
    "light": "light steam",
    "full": "full steam",
    "hover": "steam only, 2 cm off",
}
CLOTH_WORDS = {
    "none": "no press cloth",
    "dry": "press cloth, dry",
    "damp": "press cloth, damp",
}
MOTION_WORDS = {"lift": "lift and lower", "stroke": "keep it moving"}
DIGIT_SHARE = 0.64
"""Width of a heavy digit over the size of the type, in the font that is shipped."""

HOVER_GAP = 34.0
STEAM_LINES = {"none": 0, "light": 1, "full": 2, "hover": 3}


def draw_recipe_strip(strip: RecipeStrip, *, columns: int = 4) -> str:
    """Draw the recipe.

    Parameters
    ----------
    strip : RecipeStrip
        The recipe.
    columns : int
        Most panels in a row.

    Returns
    -------
    str
        SVG. Steam, press cloth and motion are drawn and said; nothing is said by colour.
    """
    panels: list[PassPanel | HoldPanel] = [*strip.passes, *([strip.hold] if strip.hold else [])]
    across = min(columns, max(len(panels), 1))
    rows = math.ceil(len(panels) / across)
    width = 2 * EDGE + across * WIDTH + (across - 1) * GAP
    height = HEAD + EDGE + rows * HEIGHT + max(rows - 1, 0) * GAP
    picture = Drawing(width, height, "How to press, step by step", describe_recipe(strip), "strip")
    picture.text(
        EDGE, 26, cut_to(strip.heading, TYPE, width - 2 * EDGE, OWN_EM_SHARE), TYPE, bold=True
    )
    plot = _Plot(picture, strip.order)
    for index, panel in enumerate(panels):
        left = EDGE + (index % across) * (WIDTH + GAP)
        top = HEAD + (index // across) * (HEIGHT + GAP)
        frame = _Frame(left, top, index + 1)
        if isinstance(panel, HoldPanel):
            plot.hold(frame, panel)
        else:
            plot.press(frame, panel)
    return picture.render()


def describe_recipe(strip: RecipeStrip) -> str:
    """Say in words what the strip shows.

    Parameters
    ----------
    strip : RecipeStrip
        The recipe.

    Returns
    -------
    str
        A sentence a panel.
    """
    words = [f"{strip.heading}."]
    for number, panel in enumerate(strip.passes, start=1):
        before = f"{panel.before}; " if panel.before else ""
        dial = f"{DOT_WORDS[panel.dots]}, {panel.dial}" if panel.dots else panel.dial
        motion = f", {MOTION_WORDS[panel.motion]}" if panel.steam != "hover" else ""
        words.append(
            f"{number}: {before}{panel.side} side up, {dial}, {STEAM_WORDS[panel.steam]}, "
            f"{CLOTH_WORDS[panel.press_cloth]}{motion}: "
            f"count {panel.count_s:g}, stop by {panel.stop_s:g} seconds."
        )
    if strip.hold:
        hold = strip.hold
        heat = f", from {hold.heat_c[0]:.0f} to {hold.heat_c[1]:.0f} °C" if hold.heat_c else ""
        words.append(f"Then hold under {hold.words} for {hold.seconds:g} seconds{heat}.")
    return " ".join(words)


@dataclass(frozen=True, slots=True)
class _Frame:
    """Where a panel stands."""

    left: float
    top: float
    number: int

    @property
    def middle(self) -> float:
        return self.left + WIDTH / 2.0

    @property
    def board(self) -> float:
        return self.top + BOARD


class _Plot:
    """The parts of the strip."""

    def __init__(self, picture: Drawing, order: str) -> None:
        self.picture, self.order = picture, order
        self.dry = picture.hatch("dry", "M0 6L6 0M0 0L6 6", 6, 0.8)
        self.damp = picture.hatch("damp", "M0 2H9M3 5H12", 9, 1.8)
        self.wood = picture.hatch("wood", "M0 3Q12 0 24 3M0 9Q12 6 24 9M0 15Q12 18 24 15", 24, 1.1)

    def press(self, frame: _Frame, panel: PassPanel) -> None:
        self._frame(frame, panel.side, panel.before, turned=panel.turned)
        top = self._seam(frame, panel.side)
        top = self._press_cloth(frame, panel.press_cloth, top)
        hovers = panel.steam == "hover"
        sole = top - (HOVER_GAP if hovers else 3.0)
        self._iron(frame, panel.dots, sole)
        self._steam(frame, panel.steam, sole)
        self._motion(frame, panel, sole)
        words = (STEAM_WORDS[panel.steam], CLOTH_WORDS[panel.press_cloth])
        motion = "never touch" if hovers else MOTION_WORDS[panel.motion]
        self._dial(frame, panel)
        for line, text in enumerate((*words, motion), start=1):
            self._say(frame, BOARD + 26.0 + 22.0 * line, text)
        self._numbers(frame, (("count", panel.count_s), ("stop by", panel.stop_s)))

    def hold(self, frame: _Frame, panel: HoldPanel) -> None:
        self._frame(frame, panel.side, "iron and cloth away", turned=False)
        self._tool(frame, panel.tool, self._seam(frame, panel.side) - 2.0)
        self._say(frame, BOARD + 26.0, panel.words)
        if panel.heat_c:
            start, end = panel.heat_c
            self._say(frame, BOARD + 48.0, f"from {start:.0f} to {end:.0f} °C")
        self._say(frame, BOARD + 70.0, "move it when it is cool")
        self._numbers(frame, (("hold", panel.seconds),))

    def _frame(self, frame: _Frame, side: str, before: str, *, turned: bool) -> None:
        self.picture.rect(frame.left, frame.top, WIDTH, HEIGHT, stroke=1.6)
        self.picture.text(frame.left + 10, frame.top + 27, str(frame.number), 25, bold=True)
        self.picture.text(frame.left + 36, frame.top + 26, f"{side} side up", TYPE, bold=True)
        if turned:
            self._turning(frame.left + WIDTH - 26, frame.top + 25)
        if before:
            self._say(frame, 48.0, before)

    def _say(self, frame: _Frame, y: float, text: str, indent: float = 0.0) -> None:
        words = cut_to(text, TYPE, WIDTH - 20 - indent, OWN_EM_SHARE)
        self.picture.text(frame.left + 10 + indent, frame.top + y, words, TYPE)

    def _turning(self, x: float, y: float) -> None:
        """Draw an arrow that goes round: the seam is turned over."""
        arc = [
            (x + 13 * math.cos(a), y - 5 - 13 * math.sin(a))
            for a in (math.radians(20 + 10 * step) for step in range(29))
        ]
        self.picture.line(arc, stroke=2.6)
        tip = arc[-1]
        self.picture.area(
            [(tip[0] - 8, tip[1]), (tip[0] + 5, tip[1] - 6), (tip[0] + 4, tip[1] + 7)], INK
        )

    def _seam(self, frame: _Frame, side: str) -> float:
        """Draw board and seam; return where the seam ends above."""
        picture, middle = self.picture, frame.middle
        picture.line(
            [(frame.left + 8, frame.board), (frame.left + WIDTH - 8, frame.board)], stroke=5
        )
        thick = PITCH * (PLIES[self.order] - 1)
        low = frame.board - 8.0

        def place(point: Point) -> Point:
            up = point[1] if side == "wrong" else thick - point[1]
            return middle + point[0], low - up

        plies, stitch = seam_lines(self.order)
        for ply in plies:
            picture.line([place(point) for point in ply], stroke=3.4)
        picture.line([place(point) for point in stitch], stroke=2.2, dash="3 2")
        return low - thick - 4.0

    def _press_cloth(self, frame: _Frame, kind: str, top: float) -> float:
        if kind == "none":
            return top
        fill = self.dry if kind == "dry" else self.damp
        self.picture.rect(frame.middle - 84, top - 13, 168, 12, fill=fill, stroke=1.4)
        if kind == "damp":
            for x in (-96.0, 96.0):
                self.picture.dot(frame.middle + x, top - 4, 2.6)
                self.picture.line(
                    [(frame.middle + x, top - 12), (frame.middle + x, top - 5)], stroke=1.8
                )
        return top - 14.0

    def _iron(self, frame: _Frame, dots: int, sole: float) -> None:
        x, picture = frame.middle, self.picture
        body = [(-72, 0), (66, 0), (66, -15), (56, -34), (-8, -36), (-48, -20)]
        handle = [(-4, -36), (0, -54), (8, -58), (50, -58), (56, -52), (53, -35)]
        picture.line([(x + a, sole + b) for a, b in handle], stroke=6.5)
        picture.area([(x + a, sole + b) for a, b in body], PAPER, stroke=2.6)
        picture.line([(x - 74, sole - 1), (x + 67, sole - 1)], stroke=4.4)
        for dot in range(dots):
            picture.dot(x + 14 + (dot - (dots - 1) / 2) * 17, sole - 18, 5.0)

    def _steam(self, frame: _Frame, steam: str, sole: float) -> None:
        """Draw steam as waves: beside the sole, or under one that never touches."""
        count = STEAM_LINES[steam]
        if steam == "hover":
            for place in range(-2, 3):
                self._wave(frame.middle + 28.0 * place, sole + 6.0, HOVER_GAP - 12.0)
            return
        for place in range(count):
            for sign in (-1.0, 1.0):
                self._wave(frame.middle + sign * (84.0 + 12.0 * place), sole - 26.0, 26.0)

    def _wave(self, x: float, y: float, tall: float) -> None:
        points = [
            (x + 3.2 * math.sin(2.0 * math.pi * step / 8.0), y + tall * step / 16.0)
            for step in range(17)
        ]
        self.picture.line(points, stroke=2.0)

    def _motion(self, frame: _Frame, panel: PassPanel, sole: float) -> None:
        if panel.steam == "hover" or panel.motion == "stroke":
            ends = [(frame.middle - 62, sole - 70.0), (frame.middle + 62, sole - 70.0)]
        else:
            ends = [(frame.middle - 56, sole - 66.0), (frame.middle - 56, sole - 30.0)]
        self._arrow(ends[0], ends[1])
        self._arrow(ends[1], ends[0])

    def _arrow(self, start: Point, end: Point) -> None:
        length = math.dist(start, end)
        along = ((end[0] - start[0]) / length, (end[1] - start[1]) / length)
        foot = (end[0] - 9 * along[0], end[1] - 9 * along[1])
        self.picture.line([start, foot], stroke=2.4)
        wing = (-along[1] * 5, along[0] * 5)
        corners = [
            end,
            (foot[0] + wing[0], foot[1] + wing[1]),
            (foot[0] - wing[0], foot[1] - wing[1]),
        ]
        self.picture.area(corners, INK)

    def _dial(self, frame: _Frame, panel: PassPanel) -> None:
        y = BOARD + 26.0
        for dot in range(panel.dots):
            self.picture.dot(frame.left + 16 + dot * 14, frame.top + y - 6, 5.0)
        self._say(frame, y, panel.dial, indent=14.0 * panel.dots + 6 if panel.dots else 0.0)

    def _numbers(self, frame: _Frame, numbers: tuple[tuple[str, float], ...]) -> None:
        """Write the seconds, the largest thing in the panel."""
        wide = (WIDTH - 20) / max(len(numbers), 2)
        self.picture.line(
            [(frame.left + 10, frame.top + 312), (frame.left + WIDTH - 10, frame.top + 312)],
            stroke=1.0,
        )
        for place, (word, seconds) in enumerate(numbers):
            x = frame.left + 10 + place * wide
            self.picture.text(x, frame.top + 331, word, TYPE)
            digits = f"{seconds:g}"
            self.picture.text(x, frame.top + 381, digits, 50, bold=True)
            after = x + len(digits) * 50 * DIGIT_SHARE + 5
            self.picture.text(after, frame.top + 381, "s", TYPE, bold=True)

    def _tool(self, frame: _Frame, tool: str, top: float) -> None:
        x, picture = frame.middle, self.picture
        if tool == "clapper":
            block = [(-80, 0), (80, 0), (80, -40), (74, -48), (-74, -48), (-80, -40)]
            picture.area([(x + a, top + b) for a, b in block], PAPER)
            picture.area([(x + a, top + b) for a, b in block], self.wood, stroke=2.6)
        elif tool == "weight":
            block = [(-66, 0), (66, 0), (54, -44), (-54, -44)]
            picture.area([(x + a, top + b) for a, b in block], INK)
            picture.rect(x - 20, top - 58, 40, 15, fill=PAPER, stroke=3.0)
        elif tool == "hand":
            hand = [(-84, 0), (62, 0), (70, -6), (66, -12), (10, -14), (24, -34), (16, -40)]
            wrist = [(-8, -28), (-40, -30), (-100, -44), (-106, -18)]
            picture.area([(x + a, top + b) for a, b in (*hand, *wrist)], PAPER, stroke=2.6)
