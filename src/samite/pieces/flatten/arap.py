"""As-rigid-as-possible: every triangle keeps its shape as well as all others let it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]
    Whole = NDArray[np.int64]

SPREAD_MM = 16.0
"""Distance over which the pull that holds a whole line is spread; a guess [mm]."""


@dataclass(frozen=True, slots=True)
class Rest:
    """Triangles as they are in the cloth before it is laid flat.

    Parameters
    ----------
    triangles : ndarray of int, shape (m, 3)
        Corners.
    frames : ndarray of float, shape (m, 2, 2)
        Second and third corner seen from the first, one a column [mm].
    """

    triangles: Whole
    frames: Real

    @property
    def areas(self) -> Real:
        """Area of every triangle [mm2]."""
        return np.asarray(0.5 * np.linalg.det(self.frames))


def rest_triangles(
    points: Real, triangles: Whole, across: Real, shrink: tuple[float, float] = (1.0, 1.0)
) -> Rest:
    """Return the triangles of a surface, each in its own plane.

    Parameters
    ----------
    points : ndarray of float, shape (n, 3)
        Corners on the surface [mm].
    triangles : ndarray of int, shape (m, 3)
        Corners of each triangle, anticlockwise from outside.
    across : ndarray of float, shape (m, 3)
        Direction around the body at each triangle [-].
    shrink : tuple of float
        What lengths around and along the body are multiplied by: under 1 for stretch cloth [-].

    Returns
    -------
    Rest
        The triangles.

    Notes
    -----
    Cloth that is worn stretched is smaller than the body: the worn triangle is made smaller around
    and along before it is laid flat, so that seams of both sides shrink alike.

    References
    ----------
    ``derivation``: lengths in the plane of a triangle.
    """
    corner = points[triangles]
    one, two = corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0]
    normal = np.cross(one, two)
    normal /= np.maximum(np.linalg.norm(normal, axis=1, keepdims=True), 1e-12)
    first = across - normal * np.sum(across * normal, axis=1, keepdims=True)
    first /= np.maximum(np.linalg.norm(first, axis=1, keepdims=True), 1e-12)
    second = np.cross(normal, first)
    frames = np.empty((len(triangles), 2, 2))
    for column, side in enumerate((one, two)):
        frames[:, 0, column] = shrink[0] * np.sum(first * side, axis=1)
        frames[:, 1, column] = shrink[1] * np.sum(second * side, axis=1)
    return Rest(triangles, frames)


@dataclass(frozen=True, slots=True)
class System:
    """Everything of a flattening that does not change from step to step.

    Parameters
    ----------
    rest : Rest
        The triangles.
    inverse : ndarray of float, shape (m, 2, 2)
        Inverse of their frames [1/mm].
    gather : sparse matrix, shape (n, 2 m)
        Sums what triangles ask of their corners.
    solve : callable
        Solves the equations of the corners for a right side.
    soften : callable
        Spreads pulls at corners over the cloth around them.
    """

    rest: Rest
    inverse: Real
    gather: Any
    solve: Callable[[Real], Real]
    soften: Callable[[Real], Real]


def system_of(rest: Rest, count: int) -> System:
    """Return the equations of a flattening, factored.

    Parameters
    ----------
    rest : Rest
        The triangles.
    count : int
        How many corners [-].

    Returns
    -------
    System
        The equations.

    Notes
    -----
    The energy is the sum of area times |J - R|2 over the triangles, J the map of a triangle and R
    the nearest rotation; with R held the corners follow from one Laplace matrix, the same for x
    and y. One corner is held.

    References
    ----------
    ``liu-2008``: local and global steps.
    """
    from scipy.sparse import coo_matrix, csc_matrix, diags
    from scipy.sparse.linalg import splu

    inverse: Real = np.asarray(np.linalg.inv(rest.frames), dtype=np.float64)
    gradients = np.empty((len(rest.triangles), 3, 2))
    gradients[:, 1:] = inverse
    gradients[:, 0] = -inverse.sum(axis=1)
    weighted = gradients * rest.areas[:, None, None]
    m = len(rest.triangles)
    rows = np.repeat(rest.triangles[:, :, None], 2, axis=2)
    columns = np.broadcast_to(
        np.stack([np.arange(m), m + np.arange(m)], axis=1)[:, None], rows.shape
    )
    shape = (count, 2 * m)
    gather = coo_matrix((weighted.ravel(), (rows.ravel(), columns.ravel())), shape=shape).tocsr()
    back = coo_matrix((gradients.ravel(), (rows.ravel(), columns.ravel())), shape=shape).tocsr()
    matrix = (gather @ back.T).tocsc()
    hold = csc_matrix(([float(matrix.diagonal().max())], ([0], [0])), shape=matrix.shape)
    factor = splu(
        (matrix + hold).tocsc(), permc_spec="MMD_AT_PLUS_A", options={"SymmetricMode": True}
    )
    areas = np.bincount(rest.triangles.ravel(), np.repeat(rest.areas / 3.0, 3), minlength=count)
    spread = splu(
        (diags(areas) + SPREAD_MM**2 * matrix).tocsc(), permc_spec="MMD_AT_PLUS_A",
        options={"SymmetricMode": True},
    )  # fmt: skip

    def soften(pulls: Real) -> Real:
        return np.asarray(areas[:, None] * spread.solve(pulls))

    return System(rest, inverse, gather, factor.solve, soften)


def maps(system: System, flat: Real) -> Real:
    """Return the map of every triangle from the cloth to the flat.

    Parameters
    ----------
    system : System
        The equations.
    flat : ndarray of float, shape (n, 2)
        Corners in the flat [mm].

    Returns
    -------
    ndarray of float, shape (m, 2, 2)
        Maps [-].

    References
    ----------
    ``derivation``: linear map of a triangle.
    """
    corner = flat[system.rest.triangles]
    sides = np.stack([corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0]], axis=2)
    return np.asarray(sides @ system.inverse)


def free_step(system: System, flat: Real) -> Real:
    """Return the corners after one local and one global step, nothing held.

    Parameters
    ----------
    system : System
        The equations.
    flat : ndarray of float, shape (n, 2)
        Corners in the flat [mm].

    Returns
    -------
    ndarray of float, shape (n, 2)
        Corners [mm].

    Notes
    -----
    The nearest rotation of a two by two map turns by atan2 of its skew and its trace.

    References
    ----------
    ``liu-2008``: local and global steps.
    """
    made = maps(system, flat)
    skew, trace = made[:, 1, 0] - made[:, 0, 1], made[:, 0, 0] + made[:, 1, 1]
    size = np.maximum(np.hypot(skew, trace), 1e-12)
    sine, cosine = skew / size, trace / size
    asked = np.stack([np.concatenate([cosine, -sine]), np.concatenate([sine, cosine])], axis=1)
    right = system.gather @ asked
    moved = system.solve(right)
    return np.asarray(moved - moved[0] + flat[0])


def settled(system: System, flat: Real, steps: int) -> Real:
    """Return the corners as they settle when nothing is held.

    Parameters
    ----------
    system : System
        The equations.
    flat : ndarray of float, shape (n, 2)
        Where the corners are [mm].
    steps : int
        How many steps are made [-].

    Returns
    -------
    ndarray of float, shape (n, 2)
        Corners [mm].

    Notes
    -----
    Plain steps bend a long panel by a little each; here each step looks ahead along the last six
    (Anderson's mixing), so that 24 do what several hundred plain ones would.

    References
    ----------
    ``liu-2008``: local and global steps; ``derivation``: least squares over the last steps.
    """
    befores: list[Real] = []
    afters: list[Real] = []
    at = after = flat
    for _ in range(steps):
        after = free_step(system, at)
        befores, afters = [*befores[-5:], at.ravel()], [*afters[-5:], after.ravel()]
        at = after
        if len(afters) > 1:
            made = np.stack(afters)
            missed = made - np.stack(befores)
            shares = np.linalg.lstsq(np.diff(missed, axis=0).T, missed[-1], rcond=1e-8)[0]
            at = (made[-1] - shares @ np.diff(made, axis=0)).reshape(flat.shape)
    return after
