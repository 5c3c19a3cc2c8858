"""A line redrawn as a cutter does it: turned at its ends, faired, its length kept."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from samite.pieces.surface.loft import run_mm

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]

BLEND_MM = 70.0
"""Length over which a line is redrawn towards a corner, at most half of the line; a guess [mm]."""

_MOST_BOW_MM = 1.5
_PARTS = 4


def redraw(line: Real, start_deg: float, end_deg: float) -> Real:
    """Return a line turned at its ends, its ends where they were and its length kept.

    Parameters
    ----------
    line : ndarray of float, shape (n, 2)
        Part of an anticlockwise outline [mm].
    start_deg : float
        By how much the angle inside at its start is made smaller [deg].
    end_deg : float
        The same at its end [deg].

    Returns
    -------
    ndarray of float, shape (n, 2)
        The line [mm].

    References
    ----------
    ``derivation``: cubic that is 0 at both ends and steep at one.
    """
    run = run_mm(line)
    total = float(run[-1])
    along = np.gradient(line, run, axis=0)
    inwards = np.stack([-along[:, 1], along[:, 0]], axis=1)
    inwards /= np.maximum(np.linalg.norm(inwards, axis=1, keepdims=True), 1e-12)
    swing = _swing(run, start_deg) + _swing(total - run, end_deg)
    share = run / total
    bow = 16.0 * (share * (1.0 - share)) ** 2

    def bowed(depth: float) -> Real:
        return np.asarray(line + inwards * (swing + depth * bow)[:, None])

    def longer(depth: float) -> float:
        return float(run_mm(bowed(depth))[-1]) - total

    depth, step, most = 0.0, 0.01, _MOST_BOW_MM
    for _ in range(8):
        off = longer(depth)
        slope = (longer(depth + step) - longer(depth - step)) / (2.0 * step)
        if abs(off) < 1e-6 or abs(slope) < 1e-6:
            break
        depth = min(max(depth - off / slope, -most), most)
    return min((bowed(0.0), bowed(depth)), key=lambda one: abs(float(run_mm(one)[-1]) - total))


def faired(line: Real) -> Real:
    """Return a line without the small waves that girth lines leave where they meet it.

    Parameters
    ----------
    line : ndarray of float, shape (n, 2)
        Points [mm].

    Returns
    -------
    ndarray of float, shape (n, 2)
        Points, both ends where they were [mm].

    References
    ----------
    ``derivation``: least squares by a cubic spline of four parts.
    """
    from scipy.interpolate import make_lsq_spline

    share = run_mm(line) / float(run_mm(line)[-1])
    if len(line) < 4 * _PARTS:
        return line
    inner = np.linspace(0.0, 1.0, _PARTS + 1)[1:-1]
    knots = np.concatenate([np.zeros(4), inner, np.ones(4)])
    smooth = np.asarray(make_lsq_spline(share, line, knots)(share))
    return (
        smooth + np.outer(1.0 - share, line[0] - smooth[0]) + np.outer(share, line[-1] - smooth[-1])
    )


def _swing(run: Real, turn_deg: float) -> Real:
    """Return how far a line is moved: 0 at its end with the slope of a turn, 0 beyond the reach."""
    reach = min(BLEND_MM * min(max(1.0, abs(turn_deg) / 10.0), 1.6), 0.5 * float(run.max()))
    part = np.clip(1.0 - run / reach, 0.0, 1.0)
    return np.asarray(math.tan(math.radians(turn_deg)) * run * part * part)
