"""Style lines on a surface, and the sides and panels that they make."""

from __future__ import annotations

import itertools
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import TYPE_CHECKING

import numpy as np

from samite.pieces.surface.loft import Surface, run_mm

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class StyleLine:
    """A line on a surface that pieces are parted along, or end at.

    Parameters
    ----------
    uv : ndarray of float, shape (k, 2)
        Points of the mesh along it [-].
    lengths_mm : ndarray of float, shape (k - 1,)
        Length of cloth between them [mm].
    """

    uv: Real
    lengths_mm: Real

    @property
    def length_mm(self) -> float:
        """Its whole length [mm]."""
        return float(self.lengths_mm.sum())


def style_line(
    surface: Surface, dense: Real, *, mesh_mm: float, rows: Sequence[float] = (),
    shrink: tuple[float, float] = (1.0, 1.0),
) -> StyleLine:  # fmt: skip
    """Return a line with points for the mesh.

    Parameters
    ----------
    surface : Surface
        The surface.
    dense : ndarray of float, shape (n, 2)
        The line as dense points in u and v [-].
    mesh_mm : float
        Distance of the points [mm].
    rows : sequence of float
        Rows of which the line must have a point, so that girth lines meet it [-].
    shrink : tuple of float
        What lengths around and along the body are multiplied by [-].

    Returns
    -------
    StyleLine
        The line.

    Notes
    -----
    Lengths are those of the dense line, not of the chords between its points.

    References
    ----------
    ``definition``: length of a line.
    """
    run = run_mm(surface.at(dense[:, 0], dense[:, 1]))
    cloth = _cloth_run(surface, dense, shrink)
    stops = _stops(dense, run, rows)
    wanted = [0.0]
    for a, b in itertools.pairwise(stops):
        count = max(1, round((b - a) / mesh_mm))
        wanted += [a + (b - a) * k / count for k in range(1, count + 1)]
    at = np.array(wanted)
    uv = np.stack([np.interp(at, run, dense[:, k]) for k in (0, 1)], axis=1)
    for row in rows:
        uv[np.abs(uv[:, 1] - row) < 1e-4, 1] = row
    uv[0], uv[-1] = dense[0], dense[-1]
    return StyleLine(uv, np.diff(np.interp(at, run, cloth)))


def _stops(dense: Real, run: Real, rows: Sequence[float]) -> list[float]:
    """Return where a line begins, meets rows and ends, as length run."""
    v, total = dense[:, 1], float(run[-1])
    stops = {0.0, total}
    for row in rows:
        for k in np.nonzero((v[:-1] - row) * (v[1:] - row) <= 0.0)[0]:
            rise = v[k + 1] - v[k]
            if abs(rise) < 1e-12:
                continue
            stops.add(float(run[k] + (run[k + 1] - run[k]) * (row - v[k]) / rise))
    ordered = sorted(stops)
    kept = [ordered[0]]
    for stop in ordered[1:]:
        if stop - kept[-1] > 1.0:
            kept.append(stop)
    kept[-1] = total if len(kept) > 1 else kept[-1]
    return kept if len(kept) > 1 else [0.0, total]


def _cloth_run(surface: Surface, dense: Real, shrink: tuple[float, float]) -> Real:
    """Return the length of cloth run so far: less than the body's where the cloth is stretched."""
    points = surface.at(dense[:, 0], dense[:, 1])
    if shrink == (1.0, 1.0):
        return run_mm(points)
    step = np.diff(points, axis=0)
    middle = (dense[1:] + dense[:-1]) / 2.0
    around = np.sum(step * surface.across(middle[:, 0], middle[:, 1]), axis=1)
    along = np.sqrt(np.maximum(np.sum(step**2, axis=1) - around**2, 0.0))
    steps = np.hypot(shrink[0] * around, shrink[1] * along)
    return np.concatenate([[0.0], np.cumsum(steps)])


@dataclass(frozen=True, slots=True)
class PanelSide:
    """One side of a panel.

    Parameters
    ----------
    name : str
        Name of the edge.
    line : StyleLine
        The line that it lies on.
    forward : bool
        Whether the panel runs along it anticlockwise as the line runs.
    kind : str
        Kind of the edge, as in pieces.
    hold : str
        ``edges`` if it is sewn to another and every edge must keep its length, ``total`` if only
        its whole length must come out, ``free`` if nothing must.
    straight : bool
        Whether it must be straight and along the grain.
    slit : int
        -1 or 1 for the left or right leg of a dart, whose line runs from mouth to tip; 0 otherwise.
    """

    name: str
    line: StyleLine
    forward: bool = True
    kind: str = "seam"
    hold: str = "edges"
    straight: bool = False
    slit: int = 0

    @property
    def uv(self) -> Real:
        """Its points as the panel runs."""
        return self.line.uv if self.forward else self.line.uv[::-1]

    @property
    def lengths_mm(self) -> Real:
        """Its edges as the panel runs [mm]."""
        return self.line.lengths_mm if self.forward else self.line.lengths_mm[::-1]


@dataclass(frozen=True, slots=True)
class PanelSpec:
    """A panel to be cut from a surface.

    Parameters
    ----------
    name : str
        Name of the piece.
    sides : tuple of PanelSide
        Its sides, anticlockwise as u runs to the right and v upwards.
    rows : mapping of str to float
        Girth lines that cross it, by name.
    """

    name: str
    sides: tuple[PanelSide, ...]
    rows: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))
