"""Lengths as a tape takes them: over hollows, along lines on a surface."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from samite.pieces.surface.loft import Surface, run_mm

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]


def tape_over_mm(profile: Real) -> float:
    """Return the length of a tape drawn tight over a profile.

    Parameters
    ----------
    profile : ndarray of float, shape (n, 2)
        Points of the profile: how far out, and how far along [mm].

    Returns
    -------
    float
        Length of the outer convex hull between both ends [mm].

    Notes
    -----
    A tight tape bridges hollows and follows what stands out.

    References
    ----------
    ``derivation``: shortest line that stays outside.
    """
    kept = _outer(profile)
    return float(np.linalg.norm(np.diff(kept, axis=0), axis=1).sum())


def _outer(profile: Real) -> Real:
    """Return the corners of the outer hull from the first point to the last."""
    order = profile if profile[-1, 1] >= profile[0, 1] else profile[::-1]
    kept: list[int] = []
    out, along = order[:, 0], order[:, 1]
    for k in range(len(order)):
        while len(kept) > 1:
            a, b = kept[-2], kept[-1]
            turn = (along[b] - along[a]) * (out[k] - out[a]) - (out[b] - out[a]) * (
                along[k] - along[a]
            )
            if turn < 0.0:
                break
            kept.pop()
        kept.append(k)
    return np.asarray(order[kept])


def meridian(surface: Surface, u: float, first: float, last: float, count: int = 160) -> Real:
    """Return a line that runs up a surface at one column.

    Parameters
    ----------
    surface : Surface
        The surface.
    u : float
        Which column [-].
    first : float
        Row where it begins [-].
    last : float
        Row where it ends [-].
    count : int
        How many points [-].

    Returns
    -------
    ndarray of float, shape (count, 3)
        Points [mm].

    References
    ----------
    ``definition``: a column of the surface.
    """
    return surface.at(np.full(count, u), np.linspace(first, last, count))


def climb(surface: Surface, u: float) -> tuple[Real, Real]:
    """Return how far a column has climbed at each of its rows.

    Parameters
    ----------
    surface : Surface
        The surface.
    u : float
        Which column [-].

    Returns
    -------
    tuple of ndarray of float
        Rows [-], and the length climbed so far [mm]; both rise.

    Notes
    -----
    Rows lie closer over the shoulder than below: a line that is to turn evenly in space is drawn by
    the climb, not by the rows.

    References
    ----------
    ``definition``: length along a column.
    """
    rows = np.linspace(0.0, float(surface.rows), 6 * surface.rows + 1)
    run = run_mm(surface.at(np.full(len(rows), u), rows))
    return rows, run + 1e-9 * np.arange(len(rows))


def line_length_mm(surface: Surface, uv: Real) -> float:
    """Return the length of a line on a surface.

    Parameters
    ----------
    surface : Surface
        The surface.
    uv : ndarray of float, shape (n, 2)
        Points of the line, dense [-].

    Returns
    -------
    float
        Length [mm].

    References
    ----------
    ``definition``: length of a line.
    """
    return float(run_mm(surface.at(uv[:, 0], uv[:, 1]))[-1])
