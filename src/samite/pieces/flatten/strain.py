"""What the cloth has to give when a flat piece is worn: along warp and weft, and in shear."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from samite.pieces.flatten.arap import Rest

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]

WORST = 0.95
"""Share of the area that a stated strain covers: a few bad triangles at ends of lines do no harm."""


@dataclass(frozen=True, slots=True)
class Strains:
    """Strains of every triangle, cloth to body.

    Parameters
    ----------
    warp : ndarray of float
        Along the grain, a share of the cloth's length at rest [-].
    weft : ndarray of float
        Across it [-].
    shear_deg : ndarray of float
        Change of the right angle between them [deg].
    areas : ndarray of float
        Area of every triangle [mm2].
    """

    warp: Real
    weft: Real
    shear_deg: Real
    areas: Real


@dataclass(frozen=True, slots=True)
class StrainRange:
    """Strains of a region, each as low and high end of what most of its area takes.

    Parameters
    ----------
    name : str
        Name of the region.
    warp : tuple of float
        Lowest and highest along the grain [-].
    weft : tuple of float
        Lowest and highest across it [-].
    shear_deg : float
        Largest change of the right angle [deg].
    """

    name: str
    warp: tuple[float, float]
    weft: tuple[float, float]
    shear_deg: float


def strains(rest: Rest, flat: Real) -> Strains:
    """Return what every triangle of cloth has to give to be worn.

    Parameters
    ----------
    rest : Rest
        Triangles as they are worn.
    flat : ndarray of float, shape (n, 2)
        Corners of the flat piece, grain along y [mm].

    Returns
    -------
    Strains
        The strains.

    Notes
    -----
    The map from the flat to the body sends the unit vectors of the threads to vectors whose
    lengths less one are the strains, and whose angle is the shear.

    References
    ----------
    ``derivation``: Cauchy and Green's tensor in the directions of the threads.
    """
    corner = flat[rest.triangles]
    sides = np.stack([corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0]], axis=2)
    worn = rest.frames @ np.linalg.inv(sides)
    weft = np.linalg.norm(worn[:, :, 0], axis=1)
    warp = np.linalg.norm(worn[:, :, 1], axis=1)
    dot = np.sum(worn[:, :, 0] * worn[:, :, 1], axis=1)
    sine = np.clip(dot / np.maximum(weft * warp, 1e-12), -1.0, 1.0)
    return Strains(warp - 1.0, weft - 1.0, np.degrees(np.arcsin(sine)), rest.areas)


def strain_range(found: Strains, name: str, where: NDArray[np.bool_] | None = None) -> StrainRange:
    """Return the strains that most of a region takes.

    Parameters
    ----------
    found : Strains
        Strains of a panel.
    name : str
        Name of the region.
    where : ndarray of bool or None
        Triangles of the region; all if None.

    Returns
    -------
    StrainRange
        From the 5th to the 95th share of the area.

    References
    ----------
    ``definition``: quantile weighted by area.
    """
    pick = np.ones(len(found.areas), dtype=bool) if where is None else where
    areas = found.areas[pick]

    def ends(values: Real) -> tuple[float, float]:
        return _quantile(values[pick], areas, 1.0 - WORST), _quantile(values[pick], areas, WORST)

    shear = _quantile(np.abs(found.shear_deg[pick]), areas, WORST)
    return StrainRange(name, ends(found.warp), ends(found.weft), shear)


def _quantile(values: Real, areas: Real, share: float) -> float:
    if not len(values):
        return 0.0
    order = np.argsort(values)
    run = np.cumsum(areas[order])
    at = min(int(np.searchsorted(run, share * run[-1])), len(order) - 1)
    return float(values[order][at])
