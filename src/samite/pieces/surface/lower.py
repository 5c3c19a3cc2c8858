"""Legs under a trunk: the crotch seam solved to its length, thighs closed, tubes to the hem."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from samite.kernel.errors import OutOfRangeError
from samite.pieces.surface.loft import Surface, run_mm, surface_through
from samite.pieces.surface.sections import COLUMNS, Section, section_points
from samite.pieces.surface.tapes import tape_over_mm
from samite.pieces.surface.torso import ROW_MM

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]

FRONT_SHARE = 0.35
"""Share of the depth at the hip that lies before the crotch point, a guess."""

THIGH_SHARE = 0.94
"""Breadth of a thigh at the crotch, at most so much of half the hip's: a guess."""

_POWERS = (1.15, 9.0)
_MOVES_MM = (0.0, 15.0, -15.0, 30.0, -30.0, 45.0, -45.0, 60.0, -60.0)
_ARC = 241
_DEEPEST = 0.36
_SHARES = (0.75, 0.5, 0.25)
_REACH = 1.6


@dataclass(frozen=True, slots=True)
class LegLevel:
    """A level cut through one leg.

    Parameters
    ----------
    name : str
        Name of the level.
    height_mm : float
        Above the waist, so negative [mm].
    girth_mm : float
        Girth there with ease [mm].
    inset_mm : float
        Distance of its inner side from the middle of the body [mm].
    """

    name: str
    height_mm: float
    girth_mm: float
    inset_mm: float


@dataclass(frozen=True, slots=True)
class Legs:
    """Measures of legs and crotch, as a garment is to have them.

    Parameters
    ----------
    crotch_height_mm : float
        Height of the crotch above the waist, so negative [mm].
    crotch_length_mm : float
        Waist in front to waist behind between the legs, ease included [mm].
    thigh_mm : float
        Girth of the thigh with ease [mm].
    levels : tuple of LegLevel
        From the knee downwards.
    """

    crotch_height_mm: float
    crotch_length_mm: float
    thigh_mm: float
    levels: tuple[LegLevel, ...]


@dataclass(frozen=True, slots=True)
class Lower:
    """A surface with legs, and what was solved.

    Parameters
    ----------
    surface : Surface
        One half; below the crotch both its side columns run down the inside of the leg.
    crotch_length_mm : float
        Tape from waist to waist between the legs [mm].
    crotch_height_mm : float
        Height of the crotch above the waist [mm].
    power : float
        How square the crotch curve is: 2 is an ellipse [-].
    added_rows : int
        Rows that the legs have added under the trunk.
    """

    surface: Surface
    crotch_length_mm: float
    crotch_height_mm: float
    power: float
    added_rows: int


def with_legs(trunk: Surface, legs: Legs) -> Lower:
    """Return a trunk continued into a leg.

    Parameters
    ----------
    trunk : Surface
        One half of a trunk, its lowest row at the hip.
    legs : Legs
        Measures of the leg.

    Returns
    -------
    Lower
        The surface.

    Raises
    ------
    OutOfRangeError
        If no crotch curve has that length between this hip and this crotch.

    Notes
    -----
    In the middle plane two quarter super-ellipses run from the hip to the crotch point; their power
    is solved so that the tape from waist to waist comes out; where it leaves 1.15 to 9 the crotch
    moves up or down by up to 60 mm. Between hip and crotch a patch is blended between hip, thigh
    and both curves; below, tubes hang from the crotch. All of that is guessed between the levels.

    References
    ----------
    ``guess``: shape between measured levels; ``derivation``: blended patch of Coons.
    """
    hip = trunk.padded[1, 1:-1]
    above = _above_mm(trunk)
    wanted = legs.crotch_length_mm - above
    if legs.crotch_height_mm > float(hip[0, 2]) - 15.0:
        raise OutOfRangeError(
            "these measures put the crotch at the level of the hip: that is no body", "body_rise",
            "measure total crotch length, body rise and waist to hip again: those of them that were not"
            " measured follow from the others",
        )  # fmt: skip
    height, power = _solved_crotch(hip, legs.crotch_height_mm, wanted)
    front, back = _curves(hip, height, power)
    rows, marks = _key_rows(hip, front, back, height, legs)
    lower, names = _filled(rows, marks, trunk)
    added = len(lower)
    grid = np.concatenate([lower, trunk.padded[1:-1, 1:-1]])
    levels = {**names, **{name: row + added for name, row in trunk.levels.items()}}
    length = above + _length(front) + _length(back)
    return Lower(surface_through(grid, levels), length, height, power, added)


def _above_mm(trunk: Surface) -> float:
    """Return the tape from the waist to the hip in front and behind, together."""
    waist = trunk.levels["waist"]
    rows = np.linspace(0.0, waist, 80)
    total = 0.0
    for u, sign in ((0.0, 1.0), (1.0, -1.0)):
        points = trunk.at(np.full(80, u), rows)
        total += tape_over_mm(np.stack([sign * points[:, 1], points[:, 2]], axis=1))
    return total


def _solved_crotch(hip: Real, height: float, wanted: float) -> tuple[float, float]:
    """Return height and power of the crotch curve that has the length wanted."""
    reach: list[float] = []
    for move in _MOVES_MM:
        at = height + move
        if at > float(hip[0, 2]) - 15.0:
            continue
        ends = [sum(_length(curve) for curve in _curves(hip, at, power)) for power in _POWERS]
        reach += ends
        if not ends[0] <= wanted <= ends[1]:
            continue
        low, high = _POWERS
        for _ in range(50):
            middle = math.sqrt(low * high)
            if sum(_length(curve) for curve in _curves(hip, at, middle)) < wanted:
                low = middle
            else:
                high = middle
        return at, math.sqrt(low * high)
    raise OutOfRangeError(
        f"no crotch seam is {wanted:.0f} mm long below this hip: it can have"
        f" {min(reach, default=0.0):.0f} to {max(reach, default=0.0):.0f} mm", "total_crotch_length",
        "measure total crotch length, body rise and hip depth again",
    )  # fmt: skip


def _curves(hip: Real, height: float, power: float) -> tuple[Real, Real]:
    """Return both curves from the hip to the crotch point, in the middle plane."""
    before, behind = float(hip[0, 1]), float(hip[-1, 1])
    crotch = before - FRONT_SHARE * (before - behind)
    angle = np.linspace(0.0, np.pi / 2.0, _ARC)
    out = np.cos(angle) ** (2.0 / power)
    down = np.sin(angle) ** (2.0 / power)
    top = float(hip[0, 2])
    made = []
    for start in (before, behind):
        y = crotch + (start - crotch) * out
        z = top + (height - top) * down
        made.append(np.stack([np.zeros(_ARC), y, z], axis=1))
    return made[0], made[1]


def _length(points: Real) -> float:
    return float(run_mm(points)[-1])


def _along(points: Real, shares: Real) -> Real:
    run = run_mm(points)
    return np.stack([np.interp(shares * run[-1], run, points[:, k]) for k in range(3)], axis=1)


def _loop(
    girth: float, height: float, inset: float, y: float, depth_share: float = 1.0,
    forward: float = 0.0,
) -> Real:  # fmt: skip
    """Return a level section of a leg: from its inner side over the front and back again.

    It may begin further forward than the middle of its inner side.
    """
    half = section_points(Section(2.0 * girth, depth_share, 0.5, 0.0, 2.1, 2.1), 2 * COLUMNS - 1)
    # a whole section: half of one twice as long, read as front and back of a leg
    front = half[:COLUMNS][::-1]
    scale = girth / (4.0 * float(np.linalg.norm(np.diff(front, axis=0), axis=1).sum()))
    quarter = front * scale  # from the outer side to the front
    x, depth = quarter[:, 0], quarter[:, 1]
    ring = np.concatenate(
        [np.stack([-x, depth], axis=1), np.stack([x[::-1], depth[::-1]], axis=1)[1:],
         np.stack([x, -depth], axis=1)[1:], np.stack([-x[::-1], -depth[::-1]], axis=1)[1:]]
    )  # fmt: skip
    run = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(ring, axis=0), axis=1))])
    begin = float(np.interp(forward, ring[: len(x), 1], run[: len(x)]))
    half = run[-1] / 2.0
    wanted = np.concatenate(
        [np.linspace(begin, half, COLUMNS // 2 + 1),
         np.linspace(half, run[-1] + begin, COLUMNS // 2 + 1)[1:] % run[-1]]
    )  # fmt: skip
    places = np.stack([np.interp(wanted, run, ring[:, k]) for k in (0, 1)], axis=1)
    return np.stack(
        [places[:, 0] - places[0, 0] + inset, places[:, 1] + y, np.full(COLUMNS, height)], axis=1
    )


def _thigh(girth: float, height: float, hip: Real, crotch: float) -> Real:
    """Return the section at the crotch: deeper than wide where a round one would stand out."""
    widest, y = hip[COLUMNS // 2, :2]
    loop = _loop(girth, height, 0.0, y)
    for depth_share in np.arange(1.0, 1.0 + _DEEPEST, 0.03):
        loop = _loop(girth, height, 0.0, y, float(depth_share), crotch - y)
        if float(loop[:, 0].max()) <= THIGH_SHARE * widest:
            break
    return loop


def _key_rows(
    hip: Real, front: Real, back: Real, height: float, legs: Legs
) -> tuple[list[Real], list[str]]:
    """Return rows that the legs are lofted through, from the hem upwards, and their names."""
    y = float(hip[COLUMNS // 2, 1])
    thigh = _thigh(legs.thigh_mm, height, hip, float(front[-1, 1]))
    rows, names = [], []
    for level in reversed(legs.levels):
        rows.append(_loop(level.girth_mm, level.height_mm, level.inset_mm, y))
        names.append(level.name)
    rows.append(thigh)
    names.append("thigh")
    under = rows[-2]
    for share in _SHARES:
        rows.append(_seat(hip, thigh, under, front, back, share))
        names.append("")
    return rows, names


def _seat(hip: Real, thigh: Real, under: Real, front: Real, back: Real, share: float) -> Real:
    """Return a row between hip and crotch: upright at the hip, on into the leg, out to the crotch seam."""
    fall = (thigh - under) * (hip - thigh)[:, 2:] / (thigh - under)[:, 2:]
    fall[:, 2] = (hip - thigh)[:, 2]
    upright = np.zeros_like(hip)
    upright[:, 2] = (hip - thigh)[:, 2]
    s = 1.0 - share  # from the crotch upwards
    row = (
        (2 * s**3 - 3 * s**2 + 1) * thigh + (s**3 - 2 * s**2 + s) * fall
        + (3 * s**2 - 2 * s**3) * hip + (s**3 - s**2) * upright
    )  # fmt: skip
    u = np.linspace(0.0, 1.0, COLUMNS)[:, None]
    down = np.array([share])
    for curve, at, near in (
        (front, 0, np.clip(1.0 - 2.0 * u, 0.0, 1.0)), (back, -1, np.clip(2.0 * u - 1.0, 0.0, 1.0))
    ):  # fmt: skip
        row = row + near**_REACH * (_along(curve, down)[0] - row[at])
    return np.asarray(row)


def _filled(rows: list[Real], names: list[str], trunk: Surface) -> tuple[Real, dict[str, float]]:
    """Return the rows between the key rows, and where the named ones lie."""
    from scipy.interpolate import PchipInterpolator

    upper = trunk.padded[1:-1, 1:-1]
    keys = np.stack([*rows, *upper[:4]])
    apart = np.linalg.norm(np.diff(keys, axis=0), axis=2).mean(axis=1)
    at = np.concatenate([[0.0], np.cumsum(apart)])
    loft = PchipInterpolator(at, keys, axis=0)
    stops: list[float] = []
    marks: dict[str, float] = {}
    for k in range(len(rows)):
        if names[k]:
            marks[names[k]] = float(len(stops))
        count = max(2, math.ceil(apart[k] / ROW_MM))
        stops += [float(x) for x in np.linspace(at[k], at[k + 1], count + 1)[:-1]]
    filled = np.asarray(loft(np.array(stops)))
    low = int(marks["thigh"]) + 1
    filled[:low, -1] = filled[:low, 0]  # both run down the inside of the leg
    return filled, marks
