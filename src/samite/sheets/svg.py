"""A small writer of SVG: shapes, escaped text, hatchings, and the size that a text takes."""

from __future__ import annotations

from collections.abc import Sequence

Point = tuple[float, float]

INK = "#1b1a17"
PAPER = "#ffffff"
TINT = "#dddad3"

FONT = "'Atkinson Hyperlegible', Verdana, 'DejaVu Sans', sans-serif"
EM_SHARE = 0.58
"""Width of a character over the size of the type: on the wide side, for a font unknown here."""

OWN_EM_SHARE = 0.53
"""The same for the font that is shipped."""

CONTROL = dict.fromkeys((*range(32), 127, 65534, 65535, *range(55296, 57344)), " ")
"""Characters that XML does not bear."""


def escape(text: str) -> str:
    """Return a text as XML bears it.

    Parameters
    ----------
    text : str
        Anything.

    Returns
    -------
    str
        With the five signs of XML escaped and what XML forbids made blank.
    """
    clean = text.translate(CONTROL)
    for sign, name in (("&", "amp"), ("<", "lt"), (">", "gt"), ('"', "quot"), ("'", "apos")):
        clean = clean.replace(sign, f"&{name};")
    return clean


def text_width(text: str, size: float) -> float:
    """Return about how wide a text is.

    Parameters
    ----------
    text : str
        The text.
    size : float
        Size of the type.

    Returns
    -------
    float
        Width in the same unit, on the wide side.
    """
    return len(text) * size * EM_SHARE


def cut_to(text: str, size: float, width: float, em_share: float = EM_SHARE) -> str:
    """Cut a text to a width.

    Parameters
    ----------
    text : str
        The text.
    size : float
        Size of the type.
    width : float
        Room for it.
    em_share : float
        Width of a character over the size of the type.

    Returns
    -------
    str
        The text, or its beginning with an ellipsis.
    """
    room = int(width / (size * em_share))
    return text if len(text) <= room else text[: max(room - 1, 1)].rstrip() + "…"


def number(value: float) -> str:
    """Return a coordinate, short.

    Parameters
    ----------
    value : float
        The coordinate.

    Returns
    -------
    str
        With at most two decimals.
    """
    shown = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if shown == "-0" else shown


class Drawing:
    """An SVG document under construction.

    Parameters
    ----------
    width, height : float
        Size in user units.
    title : str
        What the drawing is; read out by screen readers.
    description : str
        What it says; read out likewise.
    prefix : str
        Begins every id, so that several drawings may stand on one page.
    """

    def __init__(
        self, width: float, height: float, title: str, description: str, prefix: str
    ) -> None:
        self.width, self.height, self.prefix = width, height, prefix
        self._head = [
            f'<title id="{prefix}-title">{escape(title)}</title>',
            f'<desc id="{prefix}-desc">{escape(description)}</desc>',
        ]
        self._patterns: list[str] = []
        self._body: list[str] = []

    def hatch(self, name: str, path: str, size: float, stroke: float = 1.0) -> str:
        """Define a hatching, once however often it is asked for.

        Parameters
        ----------
        name : str
            Its name.
        path : str
            Path data of one tile.
        size : float
            Side of the tile.
        stroke : float
            Width of its lines.

        Returns
        -------
        str
            Value for `fill`.
        """
        pattern = (
            f'<pattern id="{self.prefix}-{name}" width="{number(size)}" height="{number(size)}" '
            f'patternUnits="userSpaceOnUse"><path d="{path}" fill="none" stroke="{INK}" '
            f'stroke-width="{number(stroke)}"/></pattern>'
        )
        if pattern not in self._patterns:
            self._patterns.append(pattern)
        return f"url(#{self.prefix}-{name})"

    def rect(
        self,
        x: float,
        y: float,
        width: float,
        height: float,
        *,
        fill: str = "none",
        stroke: float = 0.0,
        dash: str = "",
    ) -> None:
        """Draw a rectangle.

        Parameters
        ----------
        x, y : float
            Upper left corner.
        width, height : float
            Size.
        fill : str
            Paint.
        stroke : float
            Width of the outline.
        dash : str
            Dashes of the outline.
        """
        box = f'x="{number(x)}" y="{number(y)}" width="{number(width)}" height="{number(height)}"'
        self._body.append(f'<rect {box} fill="{fill}"{_line_style(stroke, dash)}/>')

    def line(self, points: Sequence[Point], *, stroke: float = 1.0, dash: str = "") -> None:
        """Draw a line through points.

        Parameters
        ----------
        points : sequence of tuple of (float, float)
            The points.
        stroke : float
            Width.
        dash : str
            Dashes.
        """
        style = _line_style(stroke, dash)
        self._body.append(f'<path d="{_path(points)}" fill="none" stroke-linejoin="round"{style}/>')

    def halo(self, points: Sequence[Point], stroke: float) -> None:
        """Lay paper under a line to come, so that hatching does not swallow it.

        Parameters
        ----------
        points : sequence of tuple of (float, float)
            The points.
        stroke : float
            Width of the paper.
        """
        self._body.append(
            f'<path d="{_path(points)}" fill="none" stroke="{PAPER}" '
            f'stroke-width="{number(stroke)}" stroke-linejoin="round"/>'
        )

    def area(self, points: Sequence[Point], fill: str, *, stroke: float = 0.0) -> None:
        """Fill an outline.

        Parameters
        ----------
        points : sequence of tuple of (float, float)
            Its corners.
        fill : str
            Paint.
        stroke : float
            Width of the outline.
        """
        self._body.append(f'<path d="{_path(points)}Z" fill="{fill}"{_line_style(stroke, "")}/>')

    def dot(self, x: float, y: float, radius: float, *, fill: str = INK) -> None:
        """Fill a circle.

        Parameters
        ----------
        x, y : float
            Its middle.
        radius : float
            Its radius.
        fill : str
            Paint.
        """
        place = f'cx="{number(x)}" cy="{number(y)}" r="{number(radius)}"'
        self._body.append(f'<circle {place} fill="{fill}" stroke="none"/>')

    def text(
        self,
        x: float,
        y: float,
        text: str,
        size: float,
        *,
        anchor: str = "start",
        bold: bool = False,
        fill: str = INK,
    ) -> None:
        """Write a line of text.

        Parameters
        ----------
        x, y : float
            Where its base line begins, ends or has its middle.
        text : str
            The text.
        size : float
            Size of the type.
        anchor : str
            ``start``, ``middle`` or ``end``.
        bold : bool
            Heavy type.
        fill : str
            Paint.
        """
        weight = ' font-weight="700"' if bold else ""
        self._body.append(
            f'<text x="{number(x)}" y="{number(y)}" font-size="{number(size)}" '
            f'text-anchor="{anchor}" fill="{fill}"{weight}>{escape(text)}</text>'
        )

    def render(self) -> str:
        """Return the document.

        Returns
        -------
        str
            SVG, the same for the same calls.
        """
        size = f"{number(self.width)} {number(self.height)}"
        ids = f"{self.prefix}-title {self.prefix}-desc"
        return "\n".join(
            [
                f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {size}" '
                f'width="{number(self.width)}" height="{number(self.height)}" role="img" '
                f'aria-labelledby="{ids}" font-family="{FONT}">',
                *self._head,
                "<defs>" + "".join(self._patterns) + "</defs>",
                f'<rect width="{number(self.width)}" height="{number(self.height)}" fill="{PAPER}"/>',
                *self._body,
                "</svg>\n",
            ]
        )


def _path(points: Sequence[Point]) -> str:
    return "M" + "L".join(f"{number(x)} {number(y)}" for x, y in points)


def _line_style(stroke: float, dash: str) -> str:
    if not stroke:
        return ""
    dashes = f' stroke-dasharray="{dash}"' if dash else ""
    return f' stroke="{INK}" stroke-width="{number(stroke)}"{dashes}'


def spread(wanted: Sequence[float], gaps: Sequence[float], low: float, high: float) -> list[float]:
    """Move places apart that are too near to each other, as little as needed.

    Parameters
    ----------
    wanted : sequence of float
        Where each would like to be (its middle).
    gaps : sequence of float
        Room that each takes.
    low, high : float
        Ends of the room.

    Returns
    -------
    list of float
        Where each is, in the order given; none overlaps another while there is room.
    """
    order = sorted(range(len(wanted)), key=lambda index: (wanted[index], index))
    placed = [0.0] * len(wanted)
    edge = low
    for index in order:
        placed[index] = max(wanted[index], edge + gaps[index] / 2.0)
        edge = placed[index] + gaps[index] / 2.0
    edge = high
    for index in reversed(order):
        placed[index] = min(placed[index], edge - gaps[index] / 2.0)
        edge = placed[index] - gaps[index] / 2.0
    return placed
