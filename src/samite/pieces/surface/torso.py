"""The trunk: sections at measured levels, lofted, and closed over the shoulders."""

from __future__ import annotations

import itertools
import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from samite.kernel.errors import OutOfRangeError
from samite.pieces.surface.loft import Surface, surface_through
from samite.pieces.surface.sections import COLUMNS, Section, section_points

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]

ROW_MM = 14.0
"""About how far apart the rows of a surface lie [mm]."""

SOFT_MM = 22.0
"""Height over which a profile is softened: cloth bridges sharp turns; a guess [mm]."""

NEAREST_MM = 12.0
"""Least distance of two measured levels [mm]."""

TIP_COLUMN = 0.40
"""Column of the shoulder point; the side is at one half."""

NECK_BACK, NECK_FRONT = 0.8, 0.5
"""How far neck bone and neck pit lie behind and before the sides, in half breadths; guesses."""

_RIDGE_ROWS = 24
_BEND = 0.5
_OVER_BONE_MM = 12.0
_RIDGE_BACK_MM = 8.0


@dataclass(frozen=True, slots=True)
class Level:
    """A section at a height.

    Parameters
    ----------
    name : str
        Name of the level.
    height_mm : float
        Above the waist [mm].
    section : Section
        The section.
    back_mm : float
        How far the section is moved to the front [mm].
    """

    name: str
    height_mm: float
    section: Section
    back_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class Shoulder:
    """Where the trunk closes above the arms.

    Parameters
    ----------
    neck_height_mm : float
        Height of the side of the neck above the waist [mm].
    neck_half_mm : float
        Half the breadth of the neck [mm].
    tip_half_mm : float
        Half the breadth from shoulder point to shoulder point [mm].
    tip_height_mm : float
        Height of the shoulder point above the waist [mm].
    bone_height_mm : float
        Height of the neck bone above the waist [mm].
    """

    neck_height_mm: float
    neck_half_mm: float
    tip_half_mm: float
    tip_height_mm: float
    bone_height_mm: float

    @property
    def neck_column(self) -> float:
        """Column at which the shoulder line leaves the neck."""
        return TIP_COLUMN * self.neck_half_mm / self.tip_half_mm


def lofted(levels: list[Level], shoulder: Shoulder | None = None) -> Surface:
    """Return the surface through sections, closed over the shoulder if there is one.

    Parameters
    ----------
    levels : list of Level
        From below upwards; the last is under the arms if a shoulder follows.
    shoulder : Shoulder or None
        The shoulder line.

    Returns
    -------
    Surface
        One half of the trunk, centre front at u = 0, side at 0.5, centre back at 1.

    Raises
    ------
    OutOfRangeError
        If levels lie above one another in no body's order.

    Notes
    -----
    Each column is a monotone cubic in the height (Fritsch and Carlson), so that nothing bulges
    between two levels that were measured; it is then softened over 15 mm, as cloth bridges sharp
    turns, and every measured level is drawn to its girth again. Above the arms each column is a cubic that goes on as
    the loft left off and meets the shoulder line level. Everything between measured levels is a
    guess.

    References
    ----------
    ``guess``: shape between measured levels.
    """
    from scipy.interpolate import PchipInterpolator

    _check_order(levels)
    heights = np.array([level.height_mm for level in levels])
    stack = np.stack([section_points(level.section) for level in levels])
    stack[:, :, 1] += np.array([level.back_mm for level in levels])[:, None]
    loft = PchipInterpolator(heights, stack, axis=0)
    rows, marks = _row_heights(levels)
    points = np.empty((len(rows), COLUMNS, 3))
    points[..., :2] = _softened(np.asarray(loft(rows)), rows)
    points[..., 2] = rows[:, None]
    points[..., :2] *= _true_girths(points, marks, levels)[:, None, None]
    if shoulder is None:
        return surface_through(points, marks)
    slope = (points[-1, :, :2] - points[-2, :, :2]) / (rows[-1] - rows[-2])
    over = _over_shoulder(points[-1], slope, shoulder)
    marks["shoulder"] = float(len(rows) - 1 + _RIDGE_ROWS)
    return surface_through(np.concatenate([points, over]), marks)


def _softened(points: Real, rows: Real) -> Real:
    """Return the columns softened along the height; ends go on straight."""
    before = rows[0] - (rows[1:] - rows[0])[::-1]
    after = rows[-1] + (rows[-1] - rows[:-1])[::-1]
    at = np.concatenate([before, rows, after])
    wide = np.concatenate(
        [2.0 * points[0] - points[:0:-1], points, 2.0 * points[-1] - points[-2::-1]]
    )
    weight = np.exp(-0.5 * ((rows[:, None] - at[None, :]) / SOFT_MM) ** 2) * np.gradient(at)
    weight /= weight.sum(axis=1, keepdims=True)
    return np.asarray(np.tensordot(weight, wide, axes=1))


def _true_girths(points: Real, marks: dict[str, float], levels: list[Level]) -> Real:
    """Return by what each row must grow so that measured levels have their girth."""
    from scipy.interpolate import PchipInterpolator

    surface = surface_through(points, {})
    at = [marks[level.name] for level in levels]
    factor = [
        level.section.girth_mm / (2.0 * surface.row_length_mm(row))
        for level, row in zip(levels, at, strict=True)
    ]
    return np.asarray(PchipInterpolator(at, factor)(np.arange(len(points))))


def _check_order(levels: list[Level]) -> None:
    for low, high in itertools.pairwise(levels):
        if high.height_mm - low.height_mm < NEAREST_MM:
            raise OutOfRangeError(
                f"these measures put the {high.name} level {high.height_mm - low.height_mm:.0f} mm"
                f" above the {low.name} level: that is no body", high.name,
                "measure back waist length, bust height and scye depth again",
            )  # fmt: skip


def _row_heights(levels: list[Level]) -> tuple[Real, dict[str, float]]:
    heights: list[float] = [levels[0].height_mm]
    marks = {levels[0].name: 0.0}
    for low, high in itertools.pairwise(levels):
        count = max(2, math.ceil((high.height_mm - low.height_mm) / ROW_MM))
        steps = np.linspace(low.height_mm, high.height_mm, count + 1)[1:]
        heights += [float(step) for step in steps]
        marks[high.name] = float(len(heights) - 1)
    return np.array(heights), marks


def _over_shoulder(start: Real, slope: Real, shoulder: Shoulder) -> Real:
    """Return the rows above the arms, the shoulder line last."""
    u = np.linspace(0.0, 1.0, COLUMNS)
    ridge = _ridge(u, shoulder)
    tangent = np.concatenate([slope, np.ones((COLUMNS, 1))], axis=1)
    tangent /= np.linalg.norm(tangent, axis=1, keepdims=True)
    rise = np.maximum(ridge[:, 2] - start[:, 2], 1.0)
    first = start + tangent * (_BEND * rise)[:, None]
    second = ridge.copy()
    second[:, 1] += _BEND * (start[:, 1] - ridge[:, 1])
    t = np.linspace(0.0, 1.0, _RIDGE_ROWS + 1)[1:, None, None]
    return np.asarray(
        (1 - t) ** 3 * start + 3 * t * (1 - t) ** 2 * first + 3 * t * t * (1 - t) * second
        + t**3 * ridge
    )  # fmt: skip


def _ridge(u: Real, shoulder: Shoulder) -> Real:
    """Return the shoulder line and what continues it into the neck and over the arm."""
    x = 2.0 * np.minimum(u, 1.0 - u) * shoulder.tip_half_mm / (2.0 * TIP_COLUMN)
    fall = (shoulder.neck_height_mm - shoulder.tip_height_mm) / (
        shoulder.tip_half_mm - shoulder.neck_half_mm
    )
    z = shoulder.neck_height_mm - (x - shoulder.neck_half_mm) * fall
    inside = np.clip(1.0 - x / shoulder.neck_half_mm, 0.0, 1.0) ** 2
    short = shoulder.bone_height_mm + _OVER_BONE_MM - float(z[0])
    z += np.where(u < 0.5, 0.0, max(short, 0.0)) * inside
    middle = np.where(u < 0.5, NECK_FRONT, -NECK_BACK) * shoulder.neck_half_mm + _RIDGE_BACK_MM
    return np.stack([x, middle * inside - _RIDGE_BACK_MM, z], axis=1)


def girths_mm(surface: Surface, names: Mapping[str, float] | None = None) -> dict[str, float]:
    """Return the whole girth of a trunk at its levels.

    Parameters
    ----------
    surface : Surface
        One half of the trunk.
    names : mapping of str to float or None
        Rows by name; all levels if None.

    Returns
    -------
    dict of str to float
        Girths [mm].

    References
    ----------
    ``definition``: length around.
    """
    wanted = surface.levels if names is None else names
    return {name: 2.0 * surface.row_length_mm(row) for name, row in wanted.items()}
