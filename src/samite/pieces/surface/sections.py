"""Convex sections: what a tape measures, and what a bodice bridges."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from samite.kernel.errors import OutOfRangeError
from samite.kernel.ranges import require_between, require_positive

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]

COLUMNS = 65
"""Points of half a section, from the centre front to the centre back."""

_FINE = 401


@dataclass(frozen=True, slots=True)
class Section:
    """A level cut through one half of a body, drawn to its girth.

    Parameters
    ----------
    girth_mm : float
        Whole girth there [mm].
    depth_share : float
        Depth over breadth [-].
    front_share : float
        Share of the depth before the plane through the sides [-].
    flat_mm : float
        Width of the flat front piece: from bust point to bust point [mm].
    front_power : float
        Power of the super-ellipse in front: 2 is an ellipse, more is squarer [-].
    back_power : float
        The same behind [-].

    Raises
    ------
    OutOfRangeError
        If it makes no section.
    """

    girth_mm: float
    depth_share: float
    front_share: float = 0.5
    flat_mm: float = 0.0
    front_power: float = 2.3
    back_power: float = 2.3

    def __post_init__(self) -> None:
        require_positive(girth_mm=self.girth_mm)
        require_between(0.3, 2.0, depth_share=self.depth_share)
        require_between(0.05, 0.95, front_share=self.front_share)
        require_between(2.0, 8.0, front_power=self.front_power, back_power=self.back_power)
        if not 0.0 <= self.flat_mm < 0.42 * self.girth_mm:
            raise OutOfRangeError(
                f"a width of {self.flat_mm:.0f} mm from point to point does not fit a girth of"
                f" {self.girth_mm:.0f} mm",
                "bust_point_distance",
                "measure both again",
            )


@lru_cache(maxsize=256)
def section_points(section: Section, columns: int = COLUMNS) -> Real:
    """Return one half of a section, its girth exact.

    Parameters
    ----------
    section : Section
        The section.
    columns : int
        How many points; odd, so that one lies at the side [-].

    Returns
    -------
    ndarray of float, shape (columns, 2)
        x to the side and y to the front, from centre front over the side to centre back, equally
        spaced along the front half and along the back half [mm].

    Raises
    ------
    OutOfRangeError
        If no breadth gives that girth.

    Notes
    -----
    Half of a flat piece, a quarter of a super-ellipse in front, another behind. Breadth is solved
    so that the length is half the girth; the shape is a guess.

    References
    ----------
    ``derivation``: convex hull of a girth.
    """
    flat, target = section.flat_mm / 2.0, section.girth_mm / 2.0
    breadth = target / 2.6
    front = back = np.zeros((0, 2))
    for _ in range(60):
        depth = 2.0 * breadth * section.depth_share
        front = _quarter(breadth, depth * section.front_share, flat, section.front_power)
        back = _quarter(breadth, depth * (1.0 - section.front_share), 0.0, section.back_power)
        length = _length(front) + _length(back)
        if abs(length - target) < 1e-7 * target:
            break
        breadth = max(breadth * target / length, flat * 1.02 + 1e-6)
    if abs(_length(front) + _length(back) - target) > 1e-4 * target:
        raise OutOfRangeError(
            f"no section has a girth of {section.girth_mm:.0f} mm with {section.flat_mm:.0f} mm"
            " from point to point", "girth", "measure both again",
        )  # fmt: skip
    half = columns // 2
    behind = _even(back, columns - half)[::-1] * np.array([1.0, -1.0])
    points = np.concatenate([_even(front, half + 1), behind[1:]])
    points.setflags(write=False)
    return points


def _quarter(breadth: float, depth: float, flat: float, power: float) -> Real:
    """Return a quarter from the centre line to the side, y upwards."""
    angle = np.linspace(0.0, np.pi / 2.0, _FINE)
    # an even run of the angle leaves gaps where the curve is square, so it is slowed at both ends
    angle = angle - 0.22 * np.sin(4.0 * angle)
    x = flat + (breadth - flat) * np.abs(np.sin(angle)) ** (2.0 / power)
    y = depth * np.abs(np.cos(angle)) ** (2.0 / power)
    points = np.stack([x, y], axis=1)
    points[-1] = (breadth, 0.0)
    if flat > 0.0:
        return np.concatenate([[[0.0, depth]], points])
    return points


def _length(points: Real) -> float:
    return float(np.linalg.norm(np.diff(points, axis=0), axis=1).sum())


def _even(points: Real, count: int) -> Real:
    """Return points equally spaced along a line."""
    steps = np.linalg.norm(np.diff(points, axis=0), axis=1)
    run = np.concatenate([[0.0], np.cumsum(steps)])
    wanted = np.linspace(0.0, run[-1], count)
    return np.stack([np.interp(wanted, run, points[:, k]) for k in (0, 1)], axis=1)
