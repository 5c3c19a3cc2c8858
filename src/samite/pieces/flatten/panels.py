"""Panels cut from a surface along style lines, both sides of a seam sharing one line."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import TYPE_CHECKING

import numpy as np

from samite.pieces.flatten.arap import rest_triangles
from samite.pieces.flatten.flat import Flat, Wanted, flatten_panel
from samite.pieces.flatten.lines import PanelSide, PanelSpec
from samite.pieces.flatten.mesh import Mesh, mesh_outline
from samite.pieces.surface.loft import Surface

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]

MESH_MM = 15.0
"""Distance of the points of the mesh [mm]."""

LOCAL = ("thigh", "crotch")
"""Lines that end at the crotch point, where there is no cloth around that their pull could spread over."""

_SLIT = 0.06
_ON_ROW = 1e-7


@dataclass(frozen=True, slots=True)
class FlatPanel:
    """A panel laid flat, with where its points came from.

    Parameters
    ----------
    spec : PanelSpec
        What it was cut as.
    flat : Flat
        The flat panel.
    uv : ndarray of float, shape (n, 2)
        Places of its points on the surface [-].
    row_lengths_mm : mapping of str to float
        Length that each girth line must have [mm].
    """

    spec: PanelSpec
    flat: Flat
    uv: Real
    row_lengths_mm: Mapping[str, float]


class _Layout:
    """A plane in which a panel is nearly true to size: rows lie level, as long as they are."""

    def __init__(self, surface: Surface, spec: PanelSpec) -> None:
        uv = np.concatenate([side.uv for side in spec.sides])
        low, high = float(uv[:, 1].min()), float(uv[:, 1].max())
        self.middle = float((uv[:, 0].min() + uv[:, 0].max()) / 2.0)
        self.v = np.linspace(low, high, 61)
        first, last = float(uv[:, 0].min()), float(uv[:, 0].max())
        u = np.linspace(first, last, 25)
        grid = surface.at(*np.meshgrid(u, self.v))
        across = np.linalg.norm(np.diff(grid, axis=1), axis=2).sum(axis=1)
        up = np.linalg.norm(np.diff(grid, axis=0), axis=2)[:, 2:-2].mean(axis=1)
        self.width = np.maximum(across / (last - first), 20.0)
        self.height = np.concatenate([[0.0], np.cumsum(np.maximum(up, 1e-3))])

    def place(self, uv: Real) -> Real:
        y = np.interp(uv[:, 1], self.v, self.height)
        width = np.interp(uv[:, 1], self.v, self.width)
        return np.stack([(uv[:, 0] - self.middle) * width, y], axis=1)

    def back(self, points: Real) -> Real:
        v = np.interp(points[:, 1], self.height, self.v)
        width = np.interp(v, self.v, self.width)
        return np.stack([self.middle + points[:, 0] / width, v], axis=1)


def _placed(layout: _Layout, side: PanelSide) -> Real:
    """Return a side in the plane; the legs of a dart are moved apart."""
    points = layout.place(side.uv)
    if side.slit:
        tip = points[-1] if side.forward else points[0]
        points[:, 0] += side.slit * _SLIT * np.abs(points[:, 1] - tip[1])
    return points


End = tuple[str, int]
"""A point of the outline: side, and its number there."""


def _row_parts(spec: PanelSpec, row: float) -> list[tuple[End, End]]:
    """Return both ends of every part of a girth line: between sides, darts left out."""
    met: list[tuple[float, float, End]] = []
    for side in spec.sides:
        uv = side.uv
        for k in np.nonzero(np.abs(uv[:, 1] - row) < _ON_ROW)[0]:
            beside = [j for j in (k - 1, k + 1) if 0 <= j < len(uv)]
            if all(abs(uv[j, 1] - row) < 1e-3 for j in beside):
                return []  # the girth line is a side itself
            met.append((float(uv[k, 0]), float(side.slit), (side.name, int(k))))
    met.sort(key=lambda one: one[:2])
    kept: list[tuple[float, float, End]] = []
    for one in met:
        corner = kept and abs(one[0] - kept[-1][0]) < 1e-9 and one[1] == kept[-1][1]
        if not corner:
            kept.append(one)
    if len(kept) % 2:
        return []
    return [(kept[k][2], kept[k + 1][2]) for k in range(0, len(kept), 2)]


@dataclass(frozen=True, slots=True)
class _RowLine:
    """One part of a girth line: places, length wanted, and the points of the outline it joins."""

    uv: Real
    length_mm: float
    ends: tuple[End, End]


def _row_lines(
    surface: Surface, spec: PanelSpec, mesh_mm: float, shrink: tuple[float, float]
) -> dict[str, _RowLine]:
    """Return all parts of the girth lines that cross a panel."""
    lines: dict[str, _RowLine] = {}
    by_name = {side.name: side.uv for side in spec.sides}
    for name, row in spec.rows.items():
        for number, ends in enumerate(_row_parts(spec, row)):
            left, right = (by_name[side][k] for side, k in ends)
            total = surface.row_length_mm(row, float(left[0]), float(right[0]))
            if total < 1.5 * mesh_mm:
                continue
            count = max(2, round(total / mesh_mm))
            u = np.linspace(left[0], right[0], count + 1)
            uv = np.stack([u, np.full(count + 1, row)], axis=1)
            lines[f"{name} {number}"] = _RowLine(uv, total * shrink[0], ends)
    return lines


@dataclass(frozen=True, slots=True)
class Prepared:
    """A panel meshed, ready to be laid flat.

    Parameters
    ----------
    spec : PanelSpec
        What it is cut as.
    mesh : Mesh
        Its triangles.
    uv : ndarray of float, shape (n, 2)
        Places of its points on the surface [-].
    row_lengths_mm : mapping of str to float
        Length that each girth line must have [mm].
    """

    spec: PanelSpec
    mesh: Mesh
    uv: Real
    row_lengths_mm: Mapping[str, float]


def mesh_panel(
    surface: Surface, spec: PanelSpec, *, mesh_mm: float, shrink: tuple[float, float] = (1.0, 1.0)
) -> Prepared:
    """Mesh a panel.

    Parameters
    ----------
    surface : Surface
        The surface.
    spec : PanelSpec
        The panel.
    mesh_mm : float
        Distance of the points [mm].
    shrink : tuple of float
        What lengths around and along the body are multiplied by [-].

    Returns
    -------
    Prepared
        The mesh with its places on the surface.

    References
    ----------
    ``derivation``: a plane in which rows lie level and true to length.
    """
    layout = _Layout(surface, spec)
    sides = {side.name: _placed(layout, side) for side in spec.sides}
    found = _row_lines(surface, spec, mesh_mm, shrink)
    rows = {}
    for name, row in found.items():
        line = layout.place(row.uv)
        for k, (side, number) in zip((0, -1), row.ends, strict=True):
            line[k] = sides[side][number]  # the legs of a dart were moved apart
        rows[name] = line
    mesh = mesh_outline(sides, rows, mesh_mm=mesh_mm, name=spec.name)
    uv = layout.back(mesh.points)
    for side_of in spec.sides:
        uv[mesh.chains[side_of.name]] = side_of.uv
    for name, row in found.items():
        if len(mesh.lines[name]) == len(row.uv):
            uv[mesh.lines[name][1:-1]] = row.uv[1:-1]
    lengths = {name: row.length_mm for name, row in found.items()}
    return Prepared(spec, mesh, uv, MappingProxyType(lengths))


def flatten_prepared(
    surface: Surface,
    ready: Prepared,
    *,
    shrink: tuple[float, float] = (1.0, 1.0),
    edges_mm: Mapping[str, Real] | None = None,
    more_mm: Mapping[str, float] | None = None,
    held: bool = True,
) -> FlatPanel:
    """Lay a meshed panel flat.

    Parameters
    ----------
    surface : Surface
        The surface.
    ready : Prepared
        The panel.
    shrink : tuple of float
        What lengths around and along the body are multiplied by [-].
    edges_mm : mapping of str to ndarray of float or None
        Lengths of the edges of sides that are sewn, where they are not the surface's own [mm].
    more_mm : mapping of str to float or None
        By how much sides that keep their whole length are to be longer than on the surface [mm].
    held : bool
        Whether seams and girth lines are kept; without, everything is free.

    Returns
    -------
    FlatPanel
        The flat panel.

    Raises
    ------
    InfeasibleError
        If it is too round to be laid flat.

    References
    ----------
    ``liu-2008``: local and global steps; ``derivation``: rows by Lagrange multipliers.
    """
    mesh, uv = ready.mesh, ready.uv
    points = surface.at(uv[:, 0], uv[:, 1])
    middle = uv[mesh.triangles].mean(axis=1)
    rest = rest_triangles(
        points, mesh.triangles, surface.across(middle[:, 0], middle[:, 1]), shrink
    )
    wanted = Wanted()
    if held:
        given = edges_mm or {}
        sides = ready.spec.sides
        edges = {
            s.name: np.asarray(given.get(s.name, s.lengths_mm)) for s in sides if s.hold == "edges"
        }
        more = more_mm or {}
        totals = {
            s.name: float(s.lengths_mm.sum()) + more.get(s.name, 0.0)
            for s in sides if s.hold == "total"
        }  # fmt: skip
        totals |= dict(ready.row_lengths_mm)
        local = tuple(name for name in totals if any(word in name for word in LOCAL))
        wanted = Wanted(edges, totals, tuple(s.name for s in sides if s.straight), local)
    flat = flatten_panel(mesh, rest, wanted, name=ready.spec.name)
    return FlatPanel(ready.spec, flat, uv, ready.row_lengths_mm)


def flat_places(panel: FlatPanel, uv: Real) -> Real:
    """Return where places of the surface lie in the flat.

    Parameters
    ----------
    panel : FlatPanel
        The panel.
    uv : ndarray of float, shape (k, 2)
        Places on the surface [-].

    Returns
    -------
    ndarray of float, shape (k, 2)
        Points [mm]; of places outside the panel the nearest inside.

    References
    ----------
    ``derivation``: barycentric coordinates.
    """
    corner = panel.uv[panel.flat.rest.triangles]
    sides = np.stack([corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0]], axis=2)
    inverse = np.linalg.pinv(sides)
    found = np.empty((len(uv), 2))
    for k, place in enumerate(uv):
        part = np.einsum("mij,mj->mi", inverse, place - corner[:, 0])
        shares = np.stack([1.0 - part.sum(axis=1), part[:, 0], part[:, 1]], axis=1)
        best = int(np.argmax(shares.min(axis=1)))
        share = np.clip(shares[best], 0.0, 1.0)
        triangle = panel.flat.rest.triangles[best]
        found[k] = share @ panel.flat.points[triangle] / share.sum()
    return found
