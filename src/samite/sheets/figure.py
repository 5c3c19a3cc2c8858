"""A standing figure, front view, drawn by us: for the tapes, and beside pieces for the scale."""

from __future__ import annotations

import itertools
from collections.abc import Collection, Mapping, Sequence

from samite.pieces.plane import Point
from samite.tables.bodies import MeasureEntry

BODY = (
    (0.876, 0.022), (0.850, 0.024), (0.832, 0.060), (0.818, 0.100), (0.800, 0.114), (0.775, 0.112),
)  # fmt: skip
"""Level and half width of neck and shoulder, shares of the stature."""

TRUNK = (
    (0.755, 0.088), (0.720, 0.092), (0.685, 0.084), (0.625, 0.073), (0.595, 0.080), (0.550, 0.094),
    (0.510, 0.101), (0.475, 0.099),
)  # fmt: skip
"""From armpit to crotch, outer side."""

OUTER_LEG = ((0.400, 0.088), (0.280, 0.063), (0.205, 0.062), (0.050, 0.040), (0.000, 0.052))
INNER_LEG = (
    (0.000, 0.012),
    (0.050, 0.014),
    (0.205, 0.012),
    (0.280, 0.016),
    (0.400, 0.012),
    (0.470, 0.004),
)
OUTER_ARM = ((0.720, 0.128), (0.630, 0.146), (0.490, 0.172), (0.450, 0.184), (0.405, 0.176))
INNER_ARM = ((0.420, 0.160), (0.450, 0.152), (0.490, 0.152), (0.630, 0.116), (0.720, 0.092))
HEAD = (0.935, 0.040, 0.063)
"""Level of its middle, half width and half height."""

_ARM_CENTRES = ((0.81, 0.112), (0.72, 0.110), (0.63, 0.131), (0.49, 0.162), (0.405, 0.168))


def figure_outline(stature_mm: float, stout: float = 1.0) -> tuple[Point, ...]:
    """Return the outline of a figure without its head, y upwards from the floor.

    Parameters
    ----------
    stature_mm : float
        Height of the figure [mm].
    stout : float
        Widths over those of the usual figure [-].

    Returns
    -------
    tuple of tuple of (float, float)
        Closed outline [mm].
    """
    right = [
        (half, level)
        for level, half in (*BODY, *OUTER_ARM, *INNER_ARM, *TRUNK, *OUTER_LEG, *INNER_LEG)
    ]
    left = [(-x, y) for x, y in reversed(right)]
    return tuple((x * stature_mm * stout, y * stature_mm) for x, y in (*right, *left))


def smooth_path(points: Sequence[Point], *, closed: bool = True) -> str:
    """Return path data of a smooth line through points.

    Parameters
    ----------
    points : sequence of tuple of (float, float)
        The points, y downwards.
    closed : bool
        Whether it returns to its start.

    Returns
    -------
    str
        Cubic Bezier curves whose handles are a sixth of the chord around each point.
    """
    count = len(points)
    parts = [f"M{points[0][0]:.1f} {points[0][1]:.1f}"]
    for k in range(count if closed else count - 1):
        before, a = points[(k - 1) % count], points[k]
        b, after = points[(k + 1) % count], points[(k + 2) % count]
        first = a[0] + (b[0] - before[0]) / 6, a[1] + (b[1] - before[1]) / 6
        second = b[0] - (after[0] - a[0]) / 6, b[1] - (after[1] - a[1]) / 6
        parts.append(
            f"C{first[0]:.1f} {first[1]:.1f} {second[0]:.1f} {second[1]:.1f} {b[0]:.1f} {b[1]:.1f}"
        )
    return "".join(parts) + ("Z" if closed else "")


def smooth_points(points: Sequence[Point], steps: int = 6) -> tuple[Point, ...]:
    """Return points along the smooth closed line of `smooth_path`.

    Parameters
    ----------
    points : sequence of tuple of (float, float)
        The points.
    steps : int
        Chords a curve.

    Returns
    -------
    tuple of tuple of (float, float)
        Closed, the first not repeated.
    """
    count = len(points)
    made: list[Point] = []
    for k in range(count):
        before, a = points[(k - 1) % count], points[k]
        b, after = points[(k + 1) % count], points[(k + 2) % count]
        first = a[0] + (b[0] - before[0]) / 6, a[1] + (b[1] - before[1]) / 6
        second = b[0] - (after[0] - a[0]) / 6, b[1] - (after[1] - a[1]) / 6
        for step in range(steps):
            t = step / steps
            w = (1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3
            four = (a, first, second, b)
            made.append(
                (sum(u * p[0] for u, p in zip(w, four, strict=True)),
                 sum(u * p[1] for u, p in zip(w, four, strict=True)))
            )  # fmt: skip
    return tuple(made)


def tape(entry: MeasureEntry) -> tuple[tuple[Point, Point], str]:
    """Return where the tape of a measure runs on the figure, and how.

    Parameters
    ----------
    entry : MeasureEntry
        The measure.

    Returns
    -------
    tuple of ((Point, Point), str)
        Ends in shares of the stature, y upwards from the floor, and ``girth``, ``height`` or
        ``width``.
    """
    level, high = entry.low_level, entry.high_level
    if entry.run == "height":
        x = _arm_centre(level)[0] + 0.035 if entry.side == "arm" else _lane(entry.name)
        return ((x, level), (x, high)), "height"
    if entry.side == "arm":
        middle, half = _arm_centre(level)
        return ((middle - half, level), (middle + half, level)), "girth"
    half = half_width(level) + (0.01 if entry.run == "girth" else 0.0)
    return ((-half, level), (half, level)), entry.run


def _lane(name: str) -> float:
    """Spread upright tapes over the figure so that they do not hide each other."""
    return (
        0.205 + 0.018 * (sum(map(ord, name)) % 4) if "height" in name or name == "stature" else 0.02
    )


def _arm_centre(level: float) -> tuple[float, float]:
    for (top, x), (low, next_x) in itertools.pairwise(_ARM_CENTRES):
        if low <= level <= top:
            return x + (next_x - x) * (top - level) / (top - low), 0.024
    return _ARM_CENTRES[0][1], 0.024


def half_width(level: float) -> float:
    """Return half the width of the figure's trunk, neck, head or one leg's outer side at a level.

    Parameters
    ----------
    level : float
        Share of the stature from the floor [-].

    Returns
    -------
    float
        Share of the stature [-].
    """
    if level > 0.87:
        return HEAD[1]
    rows = sorted((*BODY[:4], *TRUNK, *OUTER_LEG))
    for (low, a), (high, b) in itertools.pairwise(rows):
        if low <= level <= high:
            return a + (b - a) * (level - low) / (high - low)
    return 0.05


def figure_svg(
    entries: Mapping[str, MeasureEntry], height: float = 620.0, taken: Collection[str] = ()
) -> str:
    """Draw the figure with numbered tapes, each number a link to its field.

    Parameters
    ----------
    entries : mapping of str to MeasureEntry
        Measures in the order of their numbers.
    height : float
        Height of the drawing.
    taken : collection of str
        Measures that were taken; their numbers stand light on dark.

    Returns
    -------
    str
        Inline SVG; links lead to ``#m-NAME``.
    """
    scale, middle, floor = height * 0.92, height * 0.28, height * 0.95
    outline = [(middle + x, floor - y) for x, y in figure_outline(scale)]
    parts = [
        f'<path d="{smooth_path(outline)}" fill="none" stroke="currentColor" stroke-width="1.6"/>',
        f'<ellipse cx="{middle:.1f}" cy="{floor - HEAD[0] * scale:.1f}" rx="{HEAD[1] * scale:.1f}" '
        f'ry="{HEAD[2] * scale:.1f}" fill="none" stroke="currentColor" stroke-width="1.6"/>',
    ]
    places: list[Point] = []
    for number, (name, entry) in enumerate(entries.items(), 1):
        (a, b), run = tape(entry)
        ends = [(middle + x * scale, floor - y * scale) for x, y in (a, b)]
        parts.append(_tape_line(ends[0], ends[1], run))
        place = _free(ends, run, places)
        parts.append(_number(number, name, entry.says, place, taken=name in taken))
    wide = max([height * 0.62, *(x + 14.0 for x, _ in places)])
    head = f'<svg viewBox="0 0 {wide:.0f} {height:.0f}" role="group" aria-label="Where each tape runs">'
    return "".join([head, *parts, "</svg>"])


def _tape_line(a: Point, b: Point, run: str) -> str:
    style = 'fill="none" stroke="currentColor" stroke-width="2.2"'
    if run == "girth":
        dip = 0.22 * (b[0] - a[0])
        path = (
            f"M{a[0]:.1f} {a[1]:.1f}Q{(a[0] + b[0]) / 2:.1f} {a[1] + dip:.1f} {b[0]:.1f} {b[1]:.1f}"
        )
        back = f"M{a[0]:.1f} {a[1]:.1f}Q{(a[0] + b[0]) / 2:.1f} {a[1] - dip * 0.6:.1f} {b[0]:.1f} {b[1]:.1f}"
        return f'<path d="{path}" {style}/><path d="{back}" {style} stroke-dasharray="3 3"/>'
    tick = (4.0, 0.0) if run == "height" else (0.0, 4.0)
    marks = "".join(
        f"M{x - tick[0]:.1f} {y - tick[1]:.1f}L{x + tick[0]:.1f} {y + tick[1]:.1f}"
        for x, y in (a, b)
    )
    return f'<path d="M{a[0]:.1f} {a[1]:.1f}L{b[0]:.1f} {b[1]:.1f}{marks}" {style}/>'


def _free(ends: Sequence[Point], run: str, taken: list[Point]) -> Point:
    """Return a place for a number at the end of its tape, apart from those that are there."""
    if run == "height":
        x, y = ends[0][0] + 14.0, (ends[0][1] + ends[1][1]) / 2.0
    else:
        x, y = max(ends[0][0], ends[1][0]) + 14.0, ends[0][1]
    while any(abs(x - u) < 21.0 and abs(y - v) < 18.0 for u, v in taken):
        x += 22.0
    taken.append((x, y))
    return x, y


def _number(number: int, name: str, says: str, place: Point, *, taken: bool) -> str:
    x, y = place
    disc, ink = ("currentColor", "#fff") if taken else ("#fff", "currentColor")
    told = f"{says}, taken" if taken else says
    return (
        f'<a href="#m-{name}" aria-label="{number} {told}"><title>{told}</title><circle cx="{x:.1f}" cy="{y:.1f}" r="9.5" '
        f'fill="{disc}" stroke="currentColor" stroke-width="1.2"/><text x="{x:.1f}" y="{y + 4:.1f}" '
        f'font-size="12" text-anchor="middle" fill="{ink}">{number}</text></a>'
    )
