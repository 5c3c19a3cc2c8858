"""A surface as a grid of points with smooth interpolation between them."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from samite.kernel.errors import OutOfRangeError

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]

DENSE = 8
"""Points between two grid columns when a line is measured."""


def _weights(share: Real) -> Real:
    """Return the four weights of the cubic through the middle two of four points."""
    t, t2, t3 = share, share**2, share**3
    return np.stack(
        [
            -0.5 * t3 + t2 - 0.5 * t,
            1.5 * t3 - 2.5 * t2 + 1.0,
            -1.5 * t3 + 2.0 * t2 + 0.5 * t,
            0.5 * t3 - 0.5 * t2,
        ],
        axis=-1,
    )


@lru_cache(maxsize=8)
def _row_weights(columns: int) -> Real:
    """Return the matrix that makes a dense line of a row of the padded grid."""
    across = np.arange(columns * DENSE + 1) / DENSE
    first = np.minimum(across.astype(np.int64), columns - 1)
    weights = _weights(across - first)
    matrix = np.zeros((len(across), columns + 3))
    for k in range(4):
        matrix[np.arange(len(across)), first + k] = weights[:, k]
    return matrix


def _padded(grid: Real) -> Real:
    """Add a row and a column beyond every edge, continuing as a parabola."""
    for axis in (0, 1):
        moved = np.moveaxis(grid, axis, 0)
        before = 3.0 * moved[0] - 3.0 * moved[1] + moved[2]
        after = 3.0 * moved[-1] - 3.0 * moved[-2] + moved[-3]
        grid = np.moveaxis(np.concatenate([before[None], moved, after[None]]), 0, axis)
    return grid


@dataclass(frozen=True, slots=True)
class Surface:
    """A surface over u from 0 to 1, around the body, and v from 0 to the last row, upwards.

    Parameters
    ----------
    padded : ndarray of float, shape (rows + 2, columns + 2, 3)
        Points with one more row and column on every side [mm].
    levels : dict of str to float
        Row at which a named level lies.
    """

    padded: Real
    levels: dict[str, float]

    @property
    def rows(self) -> int:
        """Number of the last row."""
        return int(self.padded.shape[0]) - 3

    def at(self, u: Real, v: Real) -> Real:
        """Return points of the surface.

        Parameters
        ----------
        u : ndarray of float
            Around, 0 to 1 [-].
        v : ndarray of float
            Upwards, in rows [-].

        Returns
        -------
        ndarray of float, shape (..., 3)
            Points [mm].
        """
        rows, columns = self.padded.shape[0] - 3, self.padded.shape[1] - 3
        across, up = np.clip(u, 0.0, 1.0) * columns, np.clip(v, 0.0, float(rows))
        i = np.minimum(across.astype(np.int64), columns - 1)
        j = np.minimum(up.astype(np.int64), rows - 1)
        weights_u, weights_v = _weights(across - i), _weights(up - j)
        width = self.padded.shape[1]
        flat = self.padded.reshape(-1, 3)
        steps = np.arange(4)
        near = (j[..., None, None] + steps[:, None]) * width + i[..., None, None] + steps
        weights = weights_v[..., :, None] * weights_u[..., None, :]
        shape = np.shape(across)
        summed = np.einsum("nk,nkd->nd", weights.reshape(-1, 16), flat[near.reshape(-1, 16)])
        return np.asarray(summed).reshape(*shape, 3)

    def across(self, u: Real, v: Real) -> Real:
        """Return unit vectors around the body.

        Parameters
        ----------
        u : ndarray of float
            Around, 0 to 1 [-].
        v : ndarray of float
            Upwards, in rows [-].

        Returns
        -------
        ndarray of float, shape (..., 3)
            Directions.
        """
        step = 1e-4
        apart = self.at(np.minimum(u + step, 1.0), v) - self.at(np.maximum(u - step, 0.0), v)
        return np.asarray(apart / np.maximum(np.linalg.norm(apart, axis=-1, keepdims=True), 1e-12))

    def row_length_mm(self, v: float, first: float = 0.0, last: float = 1.0) -> float:
        """Return the length of a row between two columns.

        Parameters
        ----------
        v : float
            Which row [-].
        first : float
            Where it begins [-].
        last : float
            Where it ends [-].

        Returns
        -------
        float
            Length [mm].
        """
        columns = self.padded.shape[1] - 3
        if first == 0.0 and last == 1.0 and float(v).is_integer():
            line = _row_weights(columns) @ self.padded[int(v) + 1]
            return float(np.sqrt((np.diff(line, axis=0) ** 2).sum(axis=1)).sum())
        count = columns * DENSE + 1
        u = np.linspace(first, last, count)
        return float(run_mm(self.at(u, np.full(count, v)))[-1])


def gauss_curvature(surface: Surface, u: Real, v: Real) -> Real:
    """Return how round a surface is in both directions at once.

    Parameters
    ----------
    surface : Surface
        The surface.
    u : ndarray of float
        Columns [-].
    v : ndarray of float
        Rows [-].

    Returns
    -------
    ndarray of float
        Gauss's curvature [1/mm2].

    Notes
    -----
    Central differences over a hundredth of the columns and half a row; 0 on whatever can be laid flat
    without strain.

    References
    ----------
    ``definition``: product of the principal curvatures.
    """
    h, g = 0.01, 0.5
    u, v = np.clip(u, h, 1.0 - h), np.clip(v, g, surface.rows - g)
    here, right, left = surface.at(u, v), surface.at(u + h, v), surface.at(u - h, v)
    above, below = surface.at(u, v + g), surface.at(u, v - g)
    along_u, along_v = (right - left) / (2 * h), (above - below) / (2 * g)
    bend_u, bend_v = (right - 2 * here + left) / h**2, (above - 2 * here + below) / g**2
    twist = (
        surface.at(u + h, v + g) - surface.at(u + h, v - g)
        - surface.at(u - h, v + g) + surface.at(u - h, v - g)
    ) / (4 * h * g)  # fmt: skip
    normal = np.cross(along_u, along_v)
    area2 = np.sum(normal**2, axis=-1)
    unit = normal / np.sqrt(np.maximum(area2, 1e-12))[..., None]
    first, second, third = (np.sum(b * unit, axis=-1) for b in (bend_u, bend_v, twist))
    return np.asarray((first * second - third**2) / np.maximum(area2, 1e-12))


def run_mm(points: Real) -> Real:
    """Return the length run so far at each point of a line.

    Parameters
    ----------
    points : ndarray of float, shape (n, d)
        Points [mm].

    Returns
    -------
    ndarray of float, shape (n,)
        From 0 to the whole length [mm].

    Notes
    -----
    Of the chords; lines are sampled densely before they are measured.

    References
    ----------
    ``definition``: length of a polygon.
    """
    steps = np.linalg.norm(np.diff(points, axis=0), axis=1)
    return np.concatenate([[0.0], np.cumsum(steps)])


def surface_through(grid: Real, levels: dict[str, float]) -> Surface:
    """Return the surface through a grid of points.

    Parameters
    ----------
    grid : ndarray of float, shape (rows, columns, 3)
        Points [mm].
    levels : dict of str to float
        Row at which a named level lies.

    Returns
    -------
    Surface
        The surface.

    Raises
    ------
    OutOfRangeError
        If a point is no number, as happens where measures make no body.

    Notes
    -----
    Cubic through four neighbours in each direction (Catmull and Rom): it passes through every
    point and turns smoothly.

    References
    ----------
    ``derivation``: cubic through points with central differences as slopes.
    """
    if not bool(np.isfinite(grid).all()):
        raise OutOfRangeError(
            "these measures make no body", "measures", "measure girths and heights again"
        )
    return Surface(_padded(np.asarray(grid, dtype=np.float64)), dict(levels))
