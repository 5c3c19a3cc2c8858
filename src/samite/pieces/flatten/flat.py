"""One panel of a surface laid flat, its seams and girth lines exact."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType
from typing import TYPE_CHECKING

import numpy as np

from samite.kernel.errors import InfeasibleError
from samite.pieces.flatten.arap import Rest, free_step, settled, system_of
from samite.pieces.flatten.gauss_newton import (
    Held,
    Rows,
    held,
    hold_rows,
    lengths_mm,
    rows_of,
    with_targets,
)
from samite.pieces.flatten.mesh import Mesh

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]
    Whole = NDArray[np.int64]

FREE_STEPS = 10
HELD_STEPS = 30
SETTLE_STEPS = 24
STILL_MM = 0.03
"""Largest movement of a step at which the flattening is done [mm]."""

ROW_MM = 0.002
"""How near every row comes to its length [mm]."""

FINE = 6
"""Points that a drawn line has for every edge of the mesh."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """What a flat panel must keep.

    Parameters
    ----------
    edges_mm : mapping of str to ndarray of float
        Length of every edge of a side that is sewn to another [mm].
    totals_mm : mapping of str to float
        Whole length of a side or a line inside [mm].
    straight : tuple of str
        Sides that must be straight and along the grain.
    local : tuple of str
        Lines whose pull must not spread over the cloth around them.
    """

    edges_mm: Mapping[str, Real] = field(default_factory=lambda: MappingProxyType({}))
    totals_mm: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))
    straight: tuple[str, ...] = ()
    local: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Flat:
    """A panel laid flat.

    Parameters
    ----------
    mesh : Mesh
        Its triangles.
    rest : Rest
        Triangles as they are worn.
    points : ndarray of float, shape (n, 2)
        Corners in the flat [mm].
    natural_mm : mapping of str to ndarray of float
        Edge lengths of every side if nothing were held [mm].
    off_mm : float
        Largest miss of a row [mm].
    moved_mm : float
        Movement of the last step [mm].
    trued : mapping of str to ndarray of float
        Sides that were redrawn so that they run smooth over a seam [mm].
    """

    mesh: Mesh
    rest: Rest
    points: Real
    natural_mm: Mapping[str, Real]
    off_mm: float
    moved_mm: float
    trued: Mapping[str, Real] = field(default_factory=lambda: MappingProxyType({}))

    @property
    def flipped(self) -> int:
        """How many triangles are turned over."""
        corner = self.points[self.rest.triangles]
        one, two = corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0]
        return int(np.sum(one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0] <= 0.0))

    def drawn(self, side: str) -> Real:
        """Return a side as a smooth line.

        Parameters
        ----------
        side : str
            Name of the side.

        Returns
        -------
        ndarray of float, shape (k, 2)
            Points [mm].
        """
        if side in self.trued:
            return self.trued[side].copy()
        return smooth_line(self.points[self.mesh.chains[side]])


def smooth_line(points: Real) -> Real:
    """Return a line through points with six points for every edge.

    Parameters
    ----------
    points : ndarray of float, shape (n, 2)
        Points [mm].

    Returns
    -------
    ndarray of float, shape (6 (n - 1) + 1, 2)
        Points [mm].

    References
    ----------
    ``derivation``: cubic spline over the run of the chords.
    """
    from scipy.interpolate import CubicSpline

    steps = np.linalg.norm(np.diff(points, axis=0), axis=1)
    run = np.concatenate([[0.0], np.cumsum(steps)])
    if len(points) < 4:
        fine = np.interp(
            np.arange(FINE * (len(points) - 1) + 1) / FINE, np.arange(len(points)), run
        )
        return np.stack([np.interp(fine, run, points[:, k]) for k in (0, 1)], axis=1)
    share = np.arange(FINE * (len(points) - 1) + 1) / FINE
    fine = np.interp(share, np.arange(len(points)), run)
    return np.asarray(CubicSpline(run, points, axis=0)(fine))


def _bulge(points: Real) -> Real:
    """Return how much longer the smooth line is than each chord of it."""
    fine = smooth_line(points)
    steps = np.linalg.norm(np.diff(fine, axis=0), axis=1).reshape(-1, FINE).sum(axis=1)
    return np.asarray(steps / np.maximum(np.linalg.norm(np.diff(points, axis=0), axis=1), 1e-9))


def flatten_panel(mesh: Mesh, rest: Rest, wanted: Wanted, *, name: str = "panel") -> Flat:
    """Lay a panel flat.

    Parameters
    ----------
    mesh : Mesh
        Its triangles, places near to the flat as a start.
    rest : Rest
        Triangles as they are worn.
    wanted : Wanted
        Seam edges, girth lines and straight lines that must come out.
    name : str
        Name of the panel, for messages.

    Returns
    -------
    Flat
        The flat panel.

    Raises
    ------
    InfeasibleError
        If a triangle turns over or the rows cannot all be kept: the panel is too round.

    Notes
    -----
    First some steps with nothing held; then local and global steps, each followed by a step of Gauss
    and Newton that keeps the rows. Rows are the lengths of the smooth lines that are drawn, not of
    their chords. Lines inside a panel keep their whole length; what pulls them to it is spread over the
    cloth around, else seams would bend sharply where a girth line meets them. What is found is let go at last and
    settles, which gives the natural length of every side.

    References
    ----------
    ``liu-2008``: local and global steps; ``derivation``: rows by Lagrange multipliers.
    """
    count = len(mesh.points)
    system = system_of(rest, count)
    flat = mesh.points - mesh.points[0]
    for _ in range(FREE_STEPS):
        flat = free_step(system, flat)
    rows = _rows(mesh, wanted)
    if not len(rows.targets_mm) and not rows.straight:
        flat = settled(system, flat, SETTLE_STEPS)
        return Flat(mesh, rest, flat, _natural(mesh, flat), 0.0, 0.0)
    flat = _upright(flat, mesh, wanted)
    kept, moved = held(system, rows, count), np.inf
    for step in range(HELD_STEPS):
        new = hold_rows(kept, free_step(system, flat), flat)
        moved = float(np.abs(new - flat).max())
        flat = new
        if step >= 6 and moved < STILL_MM:
            break
    flat, off = _met(kept, rows, flat, mesh, wanted)
    if not wanted.straight:
        flat = _upright(flat, mesh, wanted)
    found = Flat(mesh, rest, flat, MappingProxyType({}), off, moved)
    if found.flipped or off > 0.2 or not np.isfinite(off):
        raise InfeasibleError(
            f"{name} is too round to be laid flat in one piece", name,
            "ask for more panels or darts",
        )  # fmt: skip
    return replace(found, natural_mm=_natural(mesh, settled(system, flat, SETTLE_STEPS)))


def _natural(mesh: Mesh, flat: Real) -> Mapping[str, Real]:
    """Return the lengths of all edges of the sides."""
    return MappingProxyType(
        {
            side: np.linalg.norm(np.diff(flat[chain], axis=0), axis=1)
            for side, chain in mesh.chains.items()
        }
    )


def _rows(mesh: Mesh, wanted: Wanted) -> Rows:
    every = {**mesh.chains, **mesh.lines}
    return rows_of(
        [(mesh.chains[side], lengths) for side, lengths in wanted.edges_mm.items()],
        [
            (every[line], length, line not in wanted.local)
            for line, length in wanted.totals_mm.items()
        ],
        [mesh.chains[side] for side in wanted.straight],
    )


def _upright(flat: Real, mesh: Mesh, wanted: Wanted) -> Real:
    """Turn a start so that its straight line stands upright, or so that it lies as it was meshed."""
    if wanted.straight:
        chain = mesh.chains[wanted.straight[0]]
        from_way, to_way = (
            flat[chain[-1]] - flat[chain[0]],
            mesh.points[chain[-1]] - mesh.points[chain[0]],
        )
        to_way = np.array([0.0, np.sign(to_way[1]) or 1.0])
        angle = np.arctan2(to_way[1], to_way[0]) - np.arctan2(from_way[1], from_way[0])
    else:
        a, b = flat - flat.mean(axis=0), mesh.points - mesh.points.mean(axis=0)
        angle = np.arctan2(np.sum(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]), np.sum(a * b))
    cosine, sine = np.cos(angle), np.sin(angle)
    return np.asarray(flat @ np.array([[cosine, sine], [-sine, cosine]]))


def _met(kept: Held, rows: Rows, flat: Real, mesh: Mesh, wanted: Wanted) -> tuple[Real, float]:
    """Meet the rows to the last thousandth, measured along the smooth lines."""
    off = np.inf
    for _ in range(8):
        targets = _chord_targets(rows, flat, mesh, wanted)
        kept = with_targets(kept, targets)
        flat = hold_rows(kept, flat, flat, exact=True)
        targets = _chord_targets(rows, flat, mesh, wanted)
        off = float(np.abs(lengths_mm(rows, flat) - targets).max(initial=0.0))
        if off < ROW_MM:
            break
    return flat, off


def _chord_targets(rows: Rows, flat: Real, mesh: Mesh, wanted: Wanted) -> Real:
    """Return what the chords must be so that the smooth lines have the lengths wanted."""
    targets = rows.targets_mm.copy()
    at = 0
    for side, lengths in wanted.edges_mm.items():
        if side not in wanted.straight:
            targets[at : at + len(lengths)] /= _bulge(flat[mesh.chains[side]])
        at += len(lengths)
    for line in wanted.totals_mm:
        if line in mesh.chains and line not in wanted.straight:
            chain = flat[mesh.chains[line]]
            chords = np.linalg.norm(np.diff(chain, axis=0), axis=1)
            targets[at] *= float(chords.sum() / (chords * _bulge(chain)).sum())
        at += 1
    return targets


def worst_map(found: Flat) -> float:
    """Return how far the worst triangle is from its size, as a share.

    Parameters
    ----------
    found : Flat
        A flat panel.

    Returns
    -------
    float
        Largest principal stretch less one, either way [-].

    References
    ----------
    ``derivation``: singular values of the maps.
    """
    system_maps = found.points[found.rest.triangles]
    sides = np.stack(
        [system_maps[:, 1] - system_maps[:, 0], system_maps[:, 2] - system_maps[:, 0]], axis=2
    )
    stretch = np.linalg.svd(sides @ np.linalg.inv(found.rest.frames), compute_uv=False)
    return float(np.abs(stretch - 1.0).max())
