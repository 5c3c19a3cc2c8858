"""The cut through a seam: where each ply runs, folds and is stitched, in millimetres.

x runs across the seam, 0 at the seam line, the first ply from the left and the second from the
right; y runs from the face inward.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from samite.sheets.svg import Point

BESIDE_MM = 6.0
"""Garment shown beside the allowances; half of it for thin cloths, so that they are drawn larger [mm]."""

THIN_MM = 0.8
"""Two cloths together that count as thin [mm]."""

ARC_STEPS = 10


@dataclass(frozen=True, slots=True)
class Ply:
    """The middle line of one ply.

    Parameters
    ----------
    which : int
        0 for the first cloth, 1 for the second, 2 for a third behind them.
    thickness_mm : float
        Its thickness [mm].
    points : tuple of tuple of (float, float)
        Its middle line [mm].
    """

    which: int
    thickness_mm: float
    points: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Section:
    """A cut through a seam.

    Parameters
    ----------
    plies : tuple of Ply
        The plies.
    stitches : tuple of tuple of (tuple, tuple)
        Where thread passes: from and to [mm].
    """

    plies: tuple[Ply, ...]
    stitches: tuple[tuple[Point, Point], ...]

    def bounds(self) -> tuple[float, float, float, float]:
        """Return the box round the plies.

        Returns
        -------
        tuple of float
            Least x, least y, greatest x, greatest y [mm].
        """
        xs = [x for ply in self.plies for x, _ in ply.points]
        edges = [
            (y - ply.thickness_mm / 2.0, y + ply.thickness_mm / 2.0)
            for ply in self.plies
            for _, y in ply.points
        ]
        return min(xs), min(low for low, _ in edges), max(xs), max(high for _, high in edges)


OVEREDGED = ("overedge", "zigzag", "overcast")
"""Finishes whose thread wraps the raw edge."""

WRAP_MM = 4.0
"""How far a finish reaches in from the raw edge [mm]."""


def edge_wraps(
    section: Section, finishes: Sequence[str]
) -> tuple[tuple[str, tuple[Point, ...]], ...]:
    """Return what wraps the raw edges of a cut.

    Parameters
    ----------
    section : Section
        The cut.
    finishes : sequence of str
        Finish of each cloth, by its number.

    Returns
    -------
    tuple of (str, tuple)
        ``thread`` or ``binding``, and its way round the edge [mm].
    """
    found = []
    for ply in section.plies:
        finish = finishes[ply.which] if ply.which < len(finishes) else "none"
        if finish in OVEREDGED:
            found.append(("thread", _wrap(ply)))
        elif finish == "bound":
            found.append(("binding", _wrap(ply)))
    return tuple(found)


def _wrap(ply: Ply) -> tuple[Point, ...]:
    """A line round the raw edge of a ply, just outside it."""
    (x0, _), (x1, y1) = ply.points[-2], ply.points[-1]
    out = 1.0 if x1 > x0 else -1.0
    half, reach = ply.thickness_mm / 2.0 + 0.04, min(WRAP_MM, abs(x1 - x0))
    return (
        (x1 - out * reach, y1 - half),
        (x1 + out * 0.15, y1 - half),
        (x1 + out * 0.15, y1 + half),
        (x1 - out * reach, y1 + half),
    )


def seam_section(
    form: str, thicknesses_mm: tuple[float, float], *, rest: int, upper: int, allowance_mm: float
) -> Section:
    """Return the cut through a form of seam.

    Parameters
    ----------
    form : str
        Key in ``seams.csv``.
    thicknesses_mm : tuple of float
        Thickness of the two cloths [mm].
    rest : int
        Cloth toward which the allowances lie.
    upper : int
        Cloth on top of a lap.
    allowance_mm : float
        Seam allowance [mm].

    Returns
    -------
    Section
        To scale, save for the width beside the seam, which is cut off.
    """
    left, right = thicknesses_mm
    short = min(max(allowance_mm, 5.0), 8.0 if left + right < THIN_MM else 12.0)
    if form == "SSa":
        return _opened(left, right, short)
    if form == "FSa":
        return _butted(left, right)
    over = upper if form == "LSa" else rest
    turned = over == (1 if form in ("LSa", "LSc") else 0)
    first, second = (right, left) if turned else (left, right)
    makers = {
        "SSa-closed": _closed,
        "SSae": _french,
        "LSa": _lapped,
        "LSc": _felled,
        "LSq": _welt,
    }
    section = makers[form](first, second, short)
    return _mirrored(section) if turned else section


def split_sides(
    section: Section, thicknesses_mm: Sequence[Sequence[float]], numbers: Sequence[Sequence[int]]
) -> Section:
    """Return a cut in which every side is parted into its cloths.

    Parameters
    ----------
    section : Section
        The cut, each side as one ply.
    thicknesses_mm : sequence of sequence of float
        Thickness of each cloth of either side, from the face to the wrong side [mm].
    numbers : sequence of sequence of int
        The number of each of these cloths.

    Returns
    -------
    Section
        The same cut; the cloths of a side run and fold together.
    """
    plies: list[Ply] = []
    for ply in section.plies:
        own = thicknesses_mm[ply.which]
        inward = 1.0 if ply.points[1][0] > ply.points[0][0] else -1.0
        depth = -ply.thickness_mm / 2.0
        for thickness, number in zip(own, numbers[ply.which], strict=True):
            shift = inward * (depth + thickness / 2.0)
            plies.append(Ply(number, thickness, tuple(_beside_line(ply.points, shift))))
            depth += thickness
    return Section(tuple(plies), section.stitches)


def _mirrored(section: Section) -> Section:
    plies = tuple(
        Ply(1 - ply.which, ply.thickness_mm, tuple((-x, y) for x, y in ply.points))
        for ply in section.plies
    )
    stitches = tuple(((-a[0], a[1]), (-b[0], b[1])) for a, b in section.stitches)
    return Section(plies, stitches)


def _fold(x: float, y0: float, y1: float, *, to_left: bool) -> list[Point]:
    """A half turn at x from one level to another; `to_left` bulges to the left."""
    middle, radius = (y0 + y1) / 2.0, (y1 - y0) / 2.0
    side = -1.0 if to_left else 1.0
    steps = [math.pi * i / ARC_STEPS for i in range(ARC_STEPS + 1)]
    return [
        (x + side * abs(radius) * math.sin(step), middle - radius * math.cos(step))
        for step in steps
    ]


def _step(x0: float, y0: float, x1: float, y1: float) -> list[Point]:
    """A soft step from one level to another."""
    steps = [i / ARC_STEPS for i in range(ARC_STEPS + 1)]
    return [
        (x0 + (x1 - x0) * s, y0 + (y1 - y0) * (1.0 - math.cos(math.pi * s)) / 2.0) for s in steps
    ]


def _ply(which: int, thickness: float, points: Sequence[Point]) -> Ply:
    return Ply(which, thickness, tuple(points))


def _beside(one_mm: float, other_mm: float) -> float:
    return BESIDE_MM / 2.0 if one_mm + other_mm < THIN_MM else BESIDE_MM


def _opened(left: float, right: float, short: float) -> Section:
    end = short + _beside(left, right)
    first = [(-end, left / 2), *_fold(-left, left / 2, 1.5 * left, to_left=False)]
    first.append((-short, 1.5 * left))
    second = [(end, right / 2), *_fold(right, right / 2, 1.5 * right, to_left=True)]
    second.append((short, 1.5 * right))
    level = min(left, right)
    stitch = ((-left * 0.9 - 0.15, level), (right * 0.9 + 0.15, level))
    return Section((_ply(0, left, first), _ply(1, right, second)), (stitch,))


def _closed(first: float, second: float, short: float) -> Section:
    """The first ply's allowance lies over the second's, both over the second ply."""
    end = short + _beside(first, second)
    top = 2.0 * second + first / 2.0
    rise = max(first, 0.4)
    over = [
        (-end, first / 2),
        *_step(-rise - first / 2, first / 2, first / 2, top),
        (short, top),
    ]
    under = [(end, second / 2), *_fold(second, second / 2, 1.5 * second, to_left=True)]
    under.append((short, 1.5 * second))
    level = second
    stitch = ((-rise * 0.6 - first * 0.7, level), (second * 0.9 + 0.15, level))
    return Section((_ply(0, first, over), _ply(1, second, under)), (stitch,))


def _welt(first: float, second: float, short: float) -> Section:
    plain = _closed(first, second, short)
    total = 2.0 * second + first
    row = ((4.0, -0.1), (4.0, total + 0.1))
    return Section(plain.plies, (*plain.stitches, row))


def _french(first: float, second: float, _short: float) -> Section:
    """Five plies: the second ply, its sheath and raw edge, the first's raw edge and sheath."""
    end = 6.0 + _beside(first, second)
    roll, raw = 6.0, 3.0
    levels = [second * 0.5, second * 1.5, second * 2.5]
    inner = 3.0 * second + first / 2.0
    outer = inner + first
    under = [(end, levels[0]), *_fold(second, levels[0], levels[1], to_left=True)]
    under += [*_fold(roll, levels[1], levels[2], to_left=False), (roll - raw, levels[2])]
    rise = max(first, 0.4)
    over = [(-end, first / 2), *_step(-rise - first / 2, first / 2, first / 2, outer)]
    over += [*_fold(roll, outer, inner, to_left=False), (roll - raw, inner)]
    height = 3.0 * second + 2.0 * first
    second_row = ((1.2, second * 0.95), (1.2, height + 0.08))
    first_row = ((roll - 0.2, second * 1.6), (roll - 0.2, height - first * 0.6))
    return Section((_ply(0, first, over), _ply(1, second, under)), (second_row, first_row))


def _lapped(first: float, second: float, short: float) -> Section:
    """The first ply lies on top with its edge cut, the second under it."""
    end = short + _beside(first, second)
    lap = min(short, 10.0)
    over = [(-end, first / 2), (lap / 2, first / 2)]
    level = first + second / 2.0
    bend = lap / 2 + 0.3
    under = [
        (end, second / 2),
        *reversed(_step(bend, level, bend + max(2.0 * first, 0.8), second / 2)),
        (-lap / 2, level),
    ]
    row = ((lap / 2 - 2.0, -0.1), (lap / 2 - 2.0, first + second + 0.1))
    return Section((_ply(0, first, over), _ply(1, second, under)), (row,))


def _felled(first: float, second: float, short: float) -> Section:
    """Each ply is folded round the other's edge; two rows hold all four."""
    end = short + _beside(first, second)
    wide = 7.0
    hook = first + second / 2.0
    hooked = first + second + first / 2.0
    base = 2.0 * first + second + second / 2.0
    bend = wide + (hooked - first / 2) / 2 + first
    end = max(end, bend + max(base, 1.0) + 2.0)
    over = [(-end, first / 2), *_fold(wide, first / 2, hooked, to_left=False), (1.0, hooked)]
    under = [
        (end, second / 2),
        *reversed(_step(bend, base, bend + max(base, 1.0), second / 2)),
        *_fold(0.0, base, hook, to_left=True),
        (wide - 1.0, hook),
    ]
    total = 2.0 * (first + second)
    rows = tuple(((x, -0.1), (x, total + 0.1)) for x in (1.6, wide - 1.6))
    return Section((_ply(0, first, over), _ply(1, second, under)), rows)


def _butted(left: float, right: float) -> Section:
    end = 2.0 + _beside(left, right)
    first = [(-end, left / 2), (-0.05, left / 2)]
    second = [(end, right / 2), (0.05, right / 2)]
    deep = max(left, right)
    over = ((-2.0, -0.05), (2.0, -0.05))
    below = ((-2.0, deep + 0.05), (2.0, deep + 0.05))
    return Section((_ply(0, left, first), _ply(1, right, second)), (over, below))


def ribbon(ply: Ply) -> list[Point]:
    """Return the outline of a ply.

    Parameters
    ----------
    ply : Ply
        The ply.

    Returns
    -------
    list of tuple of (float, float)
        Its corners [mm].
    """
    half = ply.thickness_mm / 2.0
    return [*_beside_line(ply.points, half), *reversed(_beside_line(ply.points, -half))]


def _beside_line(line: Sequence[Point], shift_mm: float) -> list[Point]:
    """A line beside another; to the left of its way where y points down is minus."""
    points = [p for i, p in enumerate(line) if i == 0 or _apart(p, line[i - 1])]
    found = []
    for index, (x, y) in enumerate(points):
        before, after = points[max(index - 1, 0)], points[min(index + 1, len(points) - 1)]
        dx, dy = after[0] - before[0], after[1] - before[1]
        size = math.hypot(dx, dy) or 1.0
        found.append((x - dy / size * shift_mm, y + dx / size * shift_mm))
    return found


def _apart(one: Point, other: Point) -> bool:
    return math.hypot(one[0] - other[0], one[1] - other[1]) > 1e-6
