"""The margin beside a drawing: names of lines, none over another, each joined to its line."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from samite.sheets.svg import EM_SHARE, OWN_EM_SHARE, Drawing, cut_to, spread

LEADING = 1.15
"""From base line to base line over the size of the type."""


@dataclass(frozen=True, slots=True)
class EndLabel:
    """A text beside the end of what it names.

    Parameters
    ----------
    at : float
        Where that ends.
    lines : tuple of str
        The name, then what is said of it.
    dash : str or None
        Dashes of the line, empty for a solid one; None for what is no line.
    """

    at: float
    lines: tuple[str, ...]
    dash: str | None = None


class Margin:
    """The room to the right of a drawing.

    Parameters
    ----------
    picture : Drawing
        The drawing.
    left, right : float
        Where the plot ends, and where the paper does.
    type_size : float
        Size of the type.
    small : bool
        Set in the font that is shipped, so narrower than what an unknown font may need.
    """

    def __init__(
        self, picture: Drawing, left: float, right: float, type_size: float, *, small: bool
    ) -> None:
        self.picture, self.left, self.right, self.type_size = picture, left, right, type_size
        self.start = left + (24 if small else 34)
        self.em_share = OWN_EM_SHARE if small else EM_SHARE

    def write(self, labels: Sequence[EndLabel], low: float, high: float) -> None:
        """Write labels, moved apart as little as needed.

        Parameters
        ----------
        labels : sequence of EndLabel
            The labels.
        low, high : float
            Ends of the room; passed at both if there is more to say than room.
        """
        size = self.type_size
        gaps = [len(label.lines) * size * LEADING + size * 0.35 for label in labels]
        lacking = max(0.0, sum(gaps) - (high - low)) / 2.0
        placed = spread([label.at for label in labels], gaps, low - lacking, high + lacking)
        for label, middle in zip(labels, placed, strict=True):
            self._join(label, middle)
            self._text(label, middle)

    def _join(self, label: EndLabel, middle: float) -> None:
        end = (self.start - 5, middle)
        if label.dash is None:
            self.picture.line([(self.left, label.at), end], stroke=0.8)
            return
        elbow = [(self.left, label.at), (self.left + 8, label.at), end]
        self.picture.line(elbow, stroke=2.2, dash=label.dash)

    def _text(self, label: EndLabel, middle: float) -> None:
        size, room = self.type_size, self.right - self.start - 4
        first = middle - (len(label.lines) - 1) * size * LEADING / 2.0 + size * 0.35
        for number, words in enumerate(label.lines):
            shown = cut_to(words, size, room, self.em_share)
            y = first + number * size * LEADING
            self.picture.text(self.start, y, shown, size, bold=not number)
