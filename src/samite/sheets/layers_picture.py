"""The layers under the iron at one moment: a cut through the seam, and how hot each has been."""

from __future__ import annotations

import math
from dataclasses import dataclass

from samite.sheets.svg import EM_SHARE, INK, OWN_EM_SHARE, PAPER, Drawing, cut_to
from samite.sheets.views import LayerStack, LayerView

HATCHES = {
    "iron": ("", 1.0, 0.0),
    "steam": ("M3 9Q6 6 3 3M10 12Q13 9 10 6", 14.0, 1.0),
    "cloth": ("M0 3H6M3 0V6", 6.0, 0.7),
    "pile": ("M1.5 0V7M4.5 1V8", 6.0, 1.1),
    "ground": ("M0 2H4M4 6H8M2 4H6", 8.0, 1.2),
    "face": ("M1 1L3 3M3 1L1 3", 4.0, 1.0),
    "support": ("M0 0L12 12M12 0L0 12", 12.0, 0.6),
}
"""Path, tile and stroke of the hatching of each material."""


@dataclass(frozen=True, slots=True)
class _Frame:
    """Measures of the drawing."""

    width: float
    cut_right: float
    heat_left: float
    right: float
    top: float
    type_size: float
    room: float
    least: float


FULL = _Frame(960, 190, 540, 930, 92, 15, 340, 58)
SMALL = _Frame(250, 62, 250, 250, 4, 14.5, 190, 37)

LINE = 1.15
"""From line to line over the size of the type."""


@dataclass(frozen=True, slots=True)
class _Row:
    layer: LayerView
    top: float
    tall: float

    @property
    def middle(self) -> float:
        return self.top + self.tall / 2.0


def draw_layers(stack: LayerStack, *, small: bool = False) -> str:
    """Draw the layers and how hot each has been.

    Parameters
    ----------
    stack : LayerStack
        The layers.
    small : bool
        For a corner of a page: the cut alone.

    Returns
    -------
    str
        SVG. Thin layers are drawn thicker than they are; the picture says so.
    """
    frame = SMALL if small else FULL
    rows = _rows(stack, frame)
    bottom = rows[-1].top + rows[-1].tall
    height = bottom + (6.0 if small else frame.type_size * 4.4)
    picture = Drawing(
        frame.width, height, f"Layers: {stack.technique}", describe_layers(stack), "layers"
    )
    plot = _Plot(picture, frame, stack, rows)
    if not small:
        plot.heading()
    plot.cut()
    if not small:
        plot.heat(bottom)
        words = (
            "Layers are to scale down to the thinnest that can be drawn; the support is cut off."
        )
        picture.text(20, height - 12, words, frame.type_size * 0.9)
    return picture.render()


def describe_layers(stack: LayerStack) -> str:
    """Say in words what the drawing shows.

    Parameters
    ----------
    stack : LayerStack
        The layers.

    Returns
    -------
    str
        A sentence a layer.
    """
    words = [f"From the iron down, after {stack.moment_s:g} seconds."]
    for layer in stack.layers:
        heat = f"{_degrees(layer)}" if layer.span_c else "not computed"
        water = f"; {_water(layer)}" if _water(layer) else ""
        limit = (
            f"{water}; {layer.limit.name} from {layer.limit.low_c:.0f} °C" if layer.limit else water
        )
        words.append(f"{layer.name}: {heat}{limit}.")
    return " ".join(words)


def _degrees(layer: LayerView) -> str:
    low, middle, high = layer.span_c or (0.0, 0.0, 0.0)
    return f"{middle:.0f} °C ({low:.0f} to {high:.0f})"


def _water(layer: LayerView) -> str:
    if layer.water_gsm is None:
        return ""
    shown = f"{layer.water_gsm:.0f}" if layer.water_gsm >= 0.95 else f"{layer.water_gsm:.1f}"
    return f"{shown} g/m² of water"


def _full_words(layer: LayerView) -> list[str]:
    found = [_degrees(layer)] if layer.span_c else []
    found += [_water(layer)] if _water(layer) else []
    if layer.limit:
        found.append(f"{layer.limit.name.partition(':')[0]} from {layer.limit.low_c:.0f} °C")
    return found


def _short_words(layer: LayerView) -> list[str]:
    found = [f"{layer.span_c[1]:.0f} °C"] if layer.span_c else []
    if layer.limit:
        found.append(f"harm from {layer.limit.low_c:.0f}")
    return [words for words in (", ".join(found), _water(layer)) if words]


def _rows(stack: LayerStack, frame: _Frame) -> list[_Row]:
    """Give each layer its height: to scale, but none too thin to see."""
    thick = [
        layer.thickness_mm if layer.material not in ("iron", "steam", "support") else 0.0
        for layer in stack.layers
    ]
    scale = frame.room / max(sum(thick), 0.05)
    top, rows = frame.top, []
    for layer, thickness in zip(stack.layers, thick, strict=True):
        least = max(frame.least, (_lines(layer, frame) * LINE + 0.3) * frame.type_size)
        tall = min(max(thickness * scale, least), 3.0 * least)
        rows.append(_Row(layer, top, tall))
        top += tall
    return rows


def _lines(layer: LayerView, frame: _Frame) -> int:
    """Return how many lines are written beside a layer."""
    return 1 + len(_short_words(layer) if frame is SMALL else _full_words(layer))


class _Plot:
    """The parts of the drawing."""

    def __init__(
        self, picture: Drawing, frame: _Frame, stack: LayerStack, rows: list[_Row]
    ) -> None:
        self.picture, self.frame, self.stack, self.rows = picture, frame, stack, rows
        self.small = frame is SMALL
        values = [value for layer in stack.layers for value in layer.span_c or ()]
        values += [layer.limit.low_c for layer in stack.layers if layer.limit]
        self.low_c = math.floor(min(20.0, *values) / 20.0) * 20.0
        self.high_c = math.ceil((max(values, default=100.0) + 5.0) / 20.0) * 20.0
        self.fills = {
            name: picture.hatch(name, path, tile, stroke) if path else INK
            for name, (path, tile, stroke) in HATCHES.items()
        }

    def x(self, temperature_c: float) -> float:
        share = (temperature_c - self.low_c) / (self.high_c - self.low_c)
        frame = self.frame
        return frame.heat_left + min(max(share, 0.0), 1.0) * (frame.right - frame.heat_left)

    def heading(self) -> None:
        size = self.frame.type_size
        words = f"Under the iron after {self.stack.moment_s:g} s"
        self.picture.text(20, 38, words, size * 1.8, bold=True)
        self.picture.text(20, 64, cut_to(self.stack.technique, size, self.frame.width - 40), size)

    def cut(self) -> None:
        """Draw the cut through the layers and name each."""
        left = 20.0 if not self.small else 4.0
        for row in self.rows:
            layer = row.layer
            width = self.frame.cut_right - left
            stroke = 2.2 if layer.material in ("iron", "support") else 1.2
            self.picture.rect(left, row.top, width, row.tall, fill=PAPER)
            self.picture.rect(
                left, row.top, width, row.tall, fill=self.fills[layer.material], stroke=stroke
            )
            self._name(row)
        base = self.rows[-1].top + self.rows[-1].tall
        steps = 9
        teeth = [
            (left + (self.frame.cut_right - left) * i / steps, base - (7 if i % 2 else 0))
            for i in range(steps + 1)
        ]
        floor = [(self.frame.cut_right, base + 3), (left, base + 3)]
        self.picture.area([*teeth, *floor], PAPER)
        self.picture.line(teeth, stroke=1.6)

    def _name(self, row: _Row) -> None:
        layer, size = row.layer, self.frame.type_size
        x = self.frame.cut_right + 10
        room = self.frame.heat_left - x - 8
        lines = [layer.name, *(_short_words(layer) if self.small else _full_words(layer))]
        first = row.middle - (len(lines) - 1) * size * LINE / 2.0 + size * 0.35
        for number, words in enumerate(lines):
            cut = cut_to(words, size, room, OWN_EM_SHARE if self.small else EM_SHARE)
            self.picture.text(x, first + number * size * LINE, cut, size, bold=not number)

    def heat(self, bottom: float) -> None:
        """Draw a bar a layer, from the 5th to the 95th percentile, and its limit."""
        frame = self.frame
        harm = self.picture.hatch("harm", "M-2 2L2 -2M0 8L8 0M6 10L10 6", 8, 1.1)
        self._scale(bottom)
        for row in self.rows:
            if row.layer.limit:
                edge = self.x(row.layer.limit.low_c)
                self.picture.rect(edge, row.top + 2, frame.right - edge, row.tall - 4, fill=harm)
                ends = [(edge, row.top + 2), (edge, row.top + row.tall - 2)]
                self.picture.line(ends, stroke=2.4)
        middles = [(self.x(r.layer.span_c[1]), r.middle) for r in self.rows if r.layer.span_c]
        self.picture.halo(middles, 4.0)
        self.picture.line(middles, stroke=1.2, dash="2 3")
        for row in self.rows:
            self._bar(row)

    def _bar(self, row: _Row) -> None:
        if not row.layer.span_c:
            return
        low, middle, high = (self.x(value) for value in row.layer.span_c)
        tall = 12.0
        self.picture.rect(low - 2, row.middle - tall / 2 - 2, high - low + 4, tall + 4, fill=PAPER)
        self.picture.rect(
            low, row.middle - tall / 2, max(high - low, 1.5), tall, fill=PAPER, stroke=1.4
        )
        self.picture.line([(middle, row.middle - 9), (middle, row.middle + 9)], stroke=4.0)

    def _scale(self, bottom: float) -> None:
        frame, size = self.frame, self.frame.type_size
        wide = frame.right - frame.heat_left
        self.picture.rect(frame.heat_left, frame.top, wide, bottom - frame.top, stroke=1.0)
        step = 20 if self.high_c - self.low_c <= 100 else 40
        for degrees in range(int(self.low_c), int(self.high_c) + 1, step):
            at = self.x(degrees)
            self.picture.line([(at, frame.top), (at, bottom)], stroke=0.5, dash="1 4")
            words = f"{degrees}" + (" °C" if degrees + step > self.high_c else "")
            anchor = "end" if at > frame.right - 15 else "middle"
            self.picture.text(at, bottom + size * 1.2, words, size * 0.9, anchor=anchor)
