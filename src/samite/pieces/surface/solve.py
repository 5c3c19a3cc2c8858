"""Shape that no tape measures, solved so that the tape lengths come out."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from samite.kernel.errors import OutOfRangeError
from samite.pieces.surface.loft import Surface
from samite.pieces.surface.sections import Section
from samite.pieces.surface.tapes import meridian, tape_over_mm
from samite.pieces.surface.torso import Level, Shoulder, lofted

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]

CLOSE_MM = 0.01
"""How near a tape length has to come [mm]."""

NECK_RISE_MM = -20.0
"""The side of the neck above the neck bone, a guess: it lies below [mm]."""

FLAT_SHARE = 0.7
"""Share of the distance from bust point to bust point that lies flat, a guess."""

_LOWEST_SHARE, _HIGHEST_SHARE = 0.28, 0.74
_MOST_RISE_MM = 100.0


@dataclass(frozen=True, slots=True)
class Trunk:
    """Measures and eases of a trunk, as a garment is to have them.

    Parameters
    ----------
    hip_mm, high_hip_mm, waist_mm, underbust_mm, bust_mm, upper_chest_mm : float
        Girths with ease [mm].
    hip_drop_mm : float
        From the waist down to the hip [mm].
    bust_drop_mm : float
        From the neck bone down to the level of the bust [mm].
    arm_drop_mm : float
        From the neck bone down to the armpit [mm].
    shoulder_drop_mm : float
        From the neck bone down to the shoulder bone [mm].
    back_length_mm : float
        Neck bone to waist, behind [mm].
    front_length_mm : float
        Side of the neck over the breast point to the waist [mm].
    shoulder_length_mm : float
        Side of the neck to the shoulder bone [mm].
    neck_mm : float
        Girth of the neck base [mm].
    bust_points_mm : float
        From bust point to bust point [mm].
    depth_shares : tuple of float
        Depth over breadth at bust, waist and hip [-].
    """

    hip_mm: float
    high_hip_mm: float
    waist_mm: float
    underbust_mm: float
    bust_mm: float
    upper_chest_mm: float
    hip_drop_mm: float
    bust_drop_mm: float
    arm_drop_mm: float
    shoulder_drop_mm: float
    back_length_mm: float
    front_length_mm: float
    shoulder_length_mm: float
    neck_mm: float
    bust_points_mm: float
    depth_shares: tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Solved:
    """A trunk whose tape lengths come out.

    Parameters
    ----------
    surface : Surface
        One half of it.
    shoulder : Shoulder
        Its shoulder line.
    bust_share : float
        Share of the depth at the bust that lies in front [-].
    neck_bone_row : float
        Row of the neck bone at the centre back [-].
    bust_column : float
        Column of the bust point [-].
    back_length_mm : float
        Tape from the neck bone to the waist [mm].
    front_length_mm : float
        Tape from the side of the neck over the bust point to the waist [mm].
    """

    surface: Surface
    shoulder: Shoulder
    bust_share: float
    neck_bone_row: float
    bust_column: float
    back_length_mm: float
    front_length_mm: float


def solved_trunk(trunk: Trunk, *, below: bool = True) -> Solved:
    """Return the trunk whose back and front lengths equal what was measured.

    Parameters
    ----------
    trunk : Trunk
        Measures with ease.
    below : bool
        Whether the surface goes on to the hip.

    Returns
    -------
    Solved
        The trunk.

    Raises
    ------
    OutOfRangeError
        If no body has these lengths together.

    Notes
    -----
    The height of the neck answers the back length (secants), the share of the bust's depth in front
    the front length (Illinois rule); tapes are drawn over the convex hull. If the share leaves
    0.28 to 0.74 it stays at its limit and the side of the neck rises or falls against the neck bone
    by up to 100 mm.

    References
    ----------
    ``guess``: shape between measured levels.
    """
    start = _Shape(trunk.back_length_mm * 0.985, 0.55, NECK_RISE_MM)

    def by_share(share: float) -> _Front:
        return _with_back(trunk, replace(start, share=share), below=below)

    near, far = _bracket(by_share, 0.52, 0.05, _LOWEST_SHARE, _HIGHEST_SHARE)
    if far is not None:
        found = _closed(by_share, near[1], far[1], near[0], far[0])
        return _build(trunk, found.at, below=below)
    edge = near[1].at

    def by_rise(rise: float) -> _Front:
        return _with_back(trunk, replace(edge, rise=rise), below=below)

    lowest, highest = NECK_RISE_MM - _MOST_RISE_MM, NECK_RISE_MM + _MOST_RISE_MM
    near, far = _bracket(by_rise, NECK_RISE_MM, 12.0, lowest, highest)
    if far is not None:
        found = _closed(by_rise, near[1], far[1], near[0], far[0])
        return _build(trunk, found.at, below=below)
    raise OutOfRangeError(
        f"no body is {trunk.back_length_mm:.0f} mm long behind and {trunk.front_length_mm:.0f} mm"
        " in front with these girths", "front_waist_length",
        "measure back and front waist length again, from the same string at the waist",
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Shape:
    """What is solved: height of the neck, share of the bust in front, neck over neck bone."""

    neck: float
    share: float
    rise: float


@dataclass(frozen=True, slots=True)
class _Front:
    """A shape whose back length comes out, and how much too long its front is."""

    at: _Shape
    off: float


def _with_back(trunk: Trunk, at: _Shape, *, below: bool) -> _Front:
    """Return the neck height that answers the back length, by secants."""
    neck, slope = at.neck, 0.95
    last: tuple[float, float] | None = None
    made = _build(trunk, at, below=below)
    for _ in range(12):
        off = made.back_length_mm - trunk.back_length_mm
        if abs(off) < 0.3 * CLOSE_MM:
            break
        if last is not None and abs(neck - last[0]) > 1e-6:
            slope = min(max((off - last[1]) / (neck - last[0]), 0.3), 2.0)
        last = (neck, off)
        neck -= min(max(off / slope, -80.0), 80.0)
        made = _build(trunk, replace(at, neck=neck), below=below)
    return _Front(replace(at, neck=neck), made.front_length_mm - trunk.front_length_mm)


def _bracket(
    make: Callable[[float], _Front], start: float, step: float, lowest: float, highest: float
) -> tuple[tuple[float, _Front], tuple[float, _Front] | None]:
    """Walk from a start until the front is no longer too long or too short.

    Returns the last two places, or the last one alone where a limit or no body at all is met.
    """
    here = (start, make(start))
    way = -step if here[1].off > 0.0 else step
    while lowest <= here[0] + way <= highest:
        try:
            there = (here[0] + way, make(here[0] + way))
        except OutOfRangeError:
            break
        if there[1].off * here[1].off <= 0.0:
            return here, there
        here = there
    return here, None


def _closed(
    make: Callable[[float], _Front], first: _Front, second: _Front, low: float, high: float
) -> _Front:
    """Return where the front length comes out, between two ends, by the Illinois rule."""
    a, b, off_a, off_b = low, high, first.off, second.off
    for _ in range(40):
        x = b - off_b * (b - a) / (off_b - off_a) if off_b != off_a else 0.5 * (a + b)
        found = make(x)
        if abs(found.off) < 0.5 * CLOSE_MM:
            return found
        if found.off * off_b < 0.0:
            a, off_a = b, off_b
        else:
            off_a *= 0.5
        b, off_b = x, found.off
    return found


def _build(trunk: Trunk, at: _Shape, *, below: bool) -> Solved:
    neck, share, rise = at.neck, at.share, at.rise
    bone = neck - rise
    levels = _levels(trunk, bone, share)
    shoulder = _shoulder(trunk, neck, bone)
    surface = lofted(levels if below else levels[2:], shoulder)
    waist, bust = surface.levels["waist"], surface.levels["bust"]
    bone_row = _row_at_height(surface, 1.0, bone)
    column = _bust_column(surface, trunk.bust_points_mm / 2.0)
    behind = meridian(surface, 1.0, waist, bone_row, 90)
    back = tape_over_mm(np.stack([-behind[:, 1], behind[:, 2]], axis=1))
    front = _front_tape_mm(surface, shoulder.neck_column, column, waist, bust)
    return Solved(surface, shoulder, share, bone_row, column, back, front)


def _levels(trunk: Trunk, bone: float, share: float) -> list[Level]:
    bust_height = bone - trunk.bust_drop_mm
    arm_height = max(bone - trunk.arm_drop_mm, bust_height + 30.0)
    depth, waist_depth, hip_depth = trunk.depth_shares
    flat = FLAT_SHARE * trunk.bust_points_mm
    below = 0.55 * flat
    return [
        Level("hip", -trunk.hip_drop_mm, Section(trunk.hip_mm, hip_depth, 0.42), 0.0),
        Level(
            "high hip", -0.5 * trunk.hip_drop_mm,
            Section(trunk.high_hip_mm, (waist_depth + hip_depth) / 2, 0.48),
        ),
        Level("waist", 0.0, Section(trunk.waist_mm, waist_depth, 0.52)),
        Level(
            "underbust", 0.62 * bust_height,
            Section(trunk.underbust_mm, 0.9 * depth, 0.52, min(below, 0.3 * trunk.underbust_mm)),
        ),
        Level("bust", bust_height, Section(trunk.bust_mm, depth, share, flat)),
        Level(
            "upper chest", arm_height,
            Section(trunk.upper_chest_mm, 0.86 * depth, 0.48, 0.7 * flat, 2.6, 2.6),
        ),
    ]  # fmt: skip


def _shoulder(trunk: Trunk, neck: float, bone: float) -> Shoulder:
    half = 0.155 * trunk.neck_mm
    steepest = 0.6 * trunk.shoulder_length_mm
    flattest = 0.15 * trunk.shoulder_length_mm
    fall = min(max(neck - (bone - trunk.shoulder_drop_mm), flattest), steepest)
    reach = math.sqrt(trunk.shoulder_length_mm**2 - fall**2)
    return Shoulder(neck, half, half + reach, neck - fall, bone)


def _row_at_height(surface: Surface, u: float, height: float) -> float:
    rows = np.linspace(0.0, float(surface.rows), 2 * surface.rows + 1)
    heights = surface.at(np.full(rows.shape, u), rows)[:, 2]
    if not heights[0] <= height <= heights[-1]:
        raise OutOfRangeError(
            "these measures put the neck bone outside the trunk", "back_waist_length",
            "measure back waist length and shoulder length again",
        )  # fmt: skip
    return float(np.interp(height, heights, rows))


def _bust_column(surface: Surface, half: float) -> float:
    u = np.linspace(0.0, 0.5, 65)
    x = surface.at(u, np.full(u.shape, surface.levels["bust"]))[:, 0]
    return float(np.interp(half, x, u))


def _front_tape_mm(
    surface: Surface, neck_column: float, bust_column: float, waist: float, bust: float
) -> float:
    """Return the tape from the side of the neck over the bust point straight down to the waist."""
    count = 70
    top = float(surface.rows)
    above = surface.at(np.linspace(bust_column, neck_column, count), np.linspace(bust, top, count))
    under = meridian(surface, bust_column, waist, bust, count)
    total = 0.0
    for part in (under, above):
        tight = tape_over_mm(np.stack([part[:, 1], part[:, 2]], axis=1))
        total += math.hypot(tight, 0.5 * float(part[-1, 0] - part[0, 0]))
    return total
