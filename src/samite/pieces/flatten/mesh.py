"""Own meshing: hexagonal points inside an outline, joined by Delaunay's triangles."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from samite.kernel.errors import InfeasibleError

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]
    Whole = NDArray[np.int64]

ROOM = 0.62
"""Least distance of an inner point from the outline, in mesh sizes [-]."""


@dataclass(frozen=True, slots=True)
class Mesh:
    """Triangles over a panel's own plane.

    Parameters
    ----------
    points : ndarray of float, shape (n, 2)
        Places in the plane that the panel was meshed in [mm].
    triangles : ndarray of int, shape (m, 3)
        Corners, anticlockwise.
    border : ndarray of int
        Points of the outline, in order.
    chains : dict of str to ndarray of int
        Points of each side of the outline, both ends included.
    lines : dict of str to ndarray of int
        Points of each line inside.
    """

    points: Real
    triangles: Whole
    border: Whole
    chains: dict[str, Whole]
    lines: dict[str, Whole]


def mesh_outline(
    sides: Mapping[str, Real], lines: Mapping[str, Real], *, mesh_mm: float, name: str = "panel"
) -> Mesh:
    """Return triangles that fill an outline.

    Parameters
    ----------
    sides : mapping of str to ndarray of float, shape (k, 2)
        Sides of the outline, anticlockwise, each from corner to corner [mm].
    lines : mapping of str to ndarray of float, shape (k, 2)
        Lines inside, from a point of the outline to another [mm].
    mesh_mm : float
        Distance of inner points [mm].
    name : str
        Name of the panel, for messages.

    Returns
    -------
    Mesh
        The triangles.

    Raises
    ------
    InfeasibleError
        If the outline encloses nothing.

    Notes
    -----
    Points on rows of a hexagonal grid, none nearer than 0.62 mesh sizes to the outline or a line;
    of Delaunay's triangles those with their middle inside are kept. Where an edge of the outline
    is missing, the inner points near it are taken out.

    References
    ----------
    ``derivation``: an edge with no point in its circle is one of Delaunay's.
    """
    points, chains = _outline(sides)
    border = np.concatenate([chain[:-1] for chain in chains.values()])
    ring = points[border]
    if _area(ring) <= mesh_mm**2:
        raise InfeasibleError(
            f"the style lines leave nothing of {name}", name,
            "move the seams apart, or ask for fewer panels",
        )  # fmt: skip
    points, marks = _with_lines(points, lines)
    inner = _inner(points, ring, mesh_mm)
    for _ in range(6):
        every = np.concatenate([points, inner])
        triangles = _triangles(every, ring)
        lost = _lost_edges(triangles, border)
        if not len(lost):
            break
        inner = _cleared(inner, every, lost)
    return _compact(every, triangles, border, chains, marks, name)


def _outline(sides: Mapping[str, Real]) -> tuple[Real, dict[str, Whole]]:
    """Return the points of the outline and their numbers, side by side."""
    parts = [side[:-1] for side in sides.values()]
    count = sum(len(part) for part in parts)
    chains, at = {}, 0
    for name, part in zip(sides, parts, strict=True):
        chains[name] = np.arange(at, at + len(part) + 1) % count
        at += len(part)
    return np.concatenate(parts), chains


def _area(ring: Real) -> float:
    x, y = ring[:, 0], ring[:, 1]
    return 0.5 * float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1)))


def _with_lines(points: Real, lines: Mapping[str, Real]) -> tuple[Real, dict[str, Whole]]:
    """Add the lines inside; their ends are points of the outline that are there already."""
    marks: dict[str, Whole] = {}
    for name, line in lines.items():
        ends = [int(np.argmin(np.linalg.norm(points - line[k], axis=1))) for k in (0, -1)]
        first = len(points)
        points = np.concatenate([points, line[1:-1]])
        marks[name] = np.array([ends[0], *range(first, first + len(line) - 2), ends[1]])
    return points, marks


def _inner(fixed: Real, ring: Real, mesh_mm: float) -> Real:
    """Return the points of a hexagonal grid inside, clear of what is fixed."""
    from scipy.spatial import cKDTree

    low, high = ring.min(axis=0), ring.max(axis=0)
    height = mesh_mm * np.sqrt(3.0) / 2.0
    ys = np.arange(low[1] + height / 2.0, high[1], height)
    rows = [
        np.stack([xs, np.full(xs.shape, y)], axis=1)
        for k, y in enumerate(ys)
        for xs in [np.arange(low[0] + (k % 2) * mesh_mm / 2.0, high[0], mesh_mm)]
    ]
    if not rows:
        return np.zeros((0, 2))
    grid = np.concatenate(rows)
    grid = grid[inside(grid, ring)]
    middles = (ring + np.roll(ring, -1, axis=0)) / 2.0
    apart, _ = cKDTree(np.concatenate([fixed, middles])).query(grid)
    return np.asarray(grid[apart > ROOM * mesh_mm])


def inside(points: Real, ring: Real) -> NDArray[np.bool_]:
    """Tell which points lie inside a closed line.

    Parameters
    ----------
    points : ndarray of float, shape (n, 2)
        The points [mm].
    ring : ndarray of float, shape (k, 2)
        The line, its first point not repeated [mm].

    Returns
    -------
    ndarray of bool, shape (n,)
        True inside.

    Notes
    -----
    Counts how often a ray to the right meets the line.

    References
    ----------
    ``derivation``: even and odd crossings.
    """
    if not len(points):
        return np.zeros(0, dtype=bool)
    ax, ay = ring[:, 0], ring[:, 1]
    bx, by = np.roll(ax, -1), np.roll(ay, -1)
    x, y = points[:, :1], points[:, 1:]
    crosses = (ay > y) != (by > y)
    rise = np.where(by == ay, 1.0, by - ay)
    meets = x < ax + (y - ay) * (bx - ax) / rise
    return np.asarray((crosses & meets).sum(axis=1) % 2 == 1)


def _triangles(points: Real, ring: Real) -> Whole:
    from scipy.spatial import Delaunay

    found = np.asarray(Delaunay(points).simplices, dtype=np.int64)
    corners = points[found]
    one, two = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    turn = one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0]
    found = np.where((turn < 0.0)[:, None], found[:, ::-1], found)
    keep = inside(corners.mean(axis=1), ring) & (np.abs(turn) > 1e-6)
    return found[keep]


def _lost_edges(triangles: Whole, border: Whole) -> Whole:
    """Return the edges of the outline that no triangle has."""
    size = int(max(triangles.max(initial=0), border.max())) + 1
    edges = np.concatenate([triangles[:, [0, 1]], triangles[:, [1, 2]], triangles[:, [2, 0]]])
    have = edges[:, 0] * size + edges[:, 1]
    wanted = np.stack([border, np.roll(border, -1)], axis=1)
    return np.asarray(wanted[~np.isin(wanted[:, 0] * size + wanted[:, 1], have)])


def _cleared(inner: Real, every: Real, lost: Whole) -> Real:
    """Take out the inner points that stand in the circle of a lost edge."""
    keep = np.ones(len(inner), dtype=bool)
    for a, b in lost:
        middle, reach = (every[a] + every[b]) / 2.0, np.linalg.norm(every[a] - every[b])
        keep &= np.linalg.norm(inner - middle, axis=1) > reach
    return inner[keep]


def _compact(
    points: Real, triangles: Whole, border: Whole, chains: dict[str, Whole],
    lines: dict[str, Whole], name: str,
) -> Mesh:  # fmt: skip
    """Drop points that no triangle uses; refuse an outline that did not close."""
    if not len(triangles) or len(_lost_edges(triangles, border)):
        raise InfeasibleError(
            f"{name} is too narrow somewhere to be one piece", name,
            "move the seams apart, or ask for fewer panels",
        )  # fmt: skip
    used = np.zeros(len(points), dtype=bool)
    used[triangles.ravel()] = True
    number = np.cumsum(used) - 1
    kept_lines = {key: number[line[used[line]]] for key, line in lines.items()}
    return Mesh(
        points[used], number[triangles], number[border],
        {key: number[chain] for key, chain in chains.items()}, kept_lines,
    )  # fmt: skip
