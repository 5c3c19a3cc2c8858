"""Shape that no tape measures, solved so that the tape lengths come out."""

from __future__ import annotations

import math
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

_LOWEST_SHARE, _HIGHEST_SHARE = 0.36, 0.74
_STEPS = 40


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
    The height of the neck answers the back length, the share of the bust's depth in front answers
    the front length (Newton on both); tapes are drawn over the convex hull. If the share leaves
    0.36 to 0.74 it stays at its limit and the side of the neck rises or falls against the neck bone
    by up to 80 mm.

    References
    ----------
    ``guess``: shape between measured levels.
    """
    at = _Shape(trunk.back_length_mm * 0.985, 0.55, NECK_RISE_MM)
    for _ in range(_STEPS):
        back, front = _missed(trunk, at, below=below)
        if math.hypot(back, front) < CLOSE_MM:
            return _build(trunk, at, below=below)
        at = _nearer(trunk, at, (back, front), below=below)
        if not -80.0 <= at.rise - NECK_RISE_MM <= 80.0 or not 100.0 < at.neck < 1000.0:
            break
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


def _missed(trunk: Trunk, at: _Shape, *, below: bool) -> tuple[float, float]:
    made = _build(trunk, at, below=below)
    return (
        made.back_length_mm - trunk.back_length_mm,
        made.front_length_mm - trunk.front_length_mm,
    )


def _nearer(trunk: Trunk, at: _Shape, off: tuple[float, float], *, below: bool) -> _Shape:
    """Return a step of Newton; a share at its limit gives way to the neck's rise."""
    back, front = off
    stuck = (at.share <= _LOWEST_SHARE and front > 0.0) or (
        at.share >= _HIGHEST_SHARE and front < 0.0
    )
    size = 1.0 if stuck else 0.01
    other = replace(at, rise=at.rise + size) if stuck else replace(at, share=at.share + size)
    by_neck = _missed(trunk, replace(at, neck=at.neck + 1.0), below=below)
    by_other = _missed(trunk, other, below=below)
    slopes = np.array(
        [
            [by_neck[0] - back, (by_other[0] - back) / size],
            [by_neck[1] - front, (by_other[1] - front) / size],
        ]
    )
    move = np.linalg.solve(slopes + 1e-9 * np.eye(2), -np.array([back, front]))
    neck = at.neck + float(np.clip(move[0], -60.0, 60.0))
    if stuck:
        return _Shape(neck, at.share, at.rise + float(np.clip(move[1], -30.0, 30.0)))
    share = at.share + float(np.clip(move[1], -0.1, 0.1))
    return _Shape(neck, float(np.clip(share, _LOWEST_SHARE, _HIGHEST_SHARE)), at.rise)


def _build(trunk: Trunk, at: _Shape, *, below: bool) -> Solved:
    neck, share, rise = at.neck, at.share, at.rise
    bone = neck - rise
    levels = _levels(trunk, bone, share)
    shoulder = _shoulder(trunk, neck, bone)
    surface = lofted(levels if below else levels[2:], shoulder)
    waist, bust = surface.levels["waist"], surface.levels["bust"]
    bone_row = _row_at_height(surface, 1.0, bone)
    column = _bust_column(surface, trunk.bust_points_mm / 2.0)
    behind = meridian(surface, 1.0, waist, bone_row)
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
    rows = np.linspace(0.0, float(surface.rows), 4 * surface.rows + 1)
    heights = surface.at(np.full(rows.shape, u), rows)[:, 2]
    if not heights[0] <= height <= heights[-1]:
        raise OutOfRangeError(
            "these measures put the neck bone outside the trunk", "back_waist_length",
            "measure back waist length and shoulder length again",
        )  # fmt: skip
    return float(np.interp(height, heights, rows))


def _bust_column(surface: Surface, half: float) -> float:
    u = np.linspace(0.0, 0.5, 129)
    x = surface.at(u, np.full(u.shape, surface.levels["bust"]))[:, 0]
    return float(np.interp(half, x, u))


def _front_tape_mm(
    surface: Surface, neck_column: float, bust_column: float, waist: float, bust: float
) -> float:
    """Return the tape from the side of the neck over the bust point straight down to the waist."""
    count = 120
    top = float(surface.rows)
    above = surface.at(np.linspace(bust_column, neck_column, count), np.linspace(bust, top, count))
    under = meridian(surface, bust_column, waist, bust, count)
    total = 0.0
    for part in (under, above):
        tight = tape_over_mm(np.stack([part[:, 1], part[:, 2]], axis=1))
        total += math.hypot(tight, 0.5 * float(part[-1, 0] - part[0, 0]))
    return total
