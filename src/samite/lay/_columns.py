"""A bound from columns: what lies above each other at one place of the cloth shares its width."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from samite.lay.fits import usable_width_mm
from samite.lay.outline import cosine_and_sine, tidy_outline
from samite.lay.problem import placements_of

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from samite.lay.problem import LayPiece, Problem

MOST_CORNERS = 400
"""An outline with more corners than this counts nothing here."""

SHARES = (0.0, *(0.05 * k for k in range(2, 11)))
"""Widths, as shares of the whole, up to which pieces are left out and their rests filled."""


def column_bound_mm(problem: Problem) -> float:
    """Return a length that no lay can fall below, from how wide the pieces are place by place.

    At one place along the cloth the widths of all pieces there, each with one gap, are at most
    the usable width and a gap. That stays so if all below some share of it count nothing and all
    that leave less than that share count as the whole.
    """
    gap = problem.gap_mm
    whole = usable_width_mm(problem) + gap
    totals = np.zeros(len(SHARES))
    for piece in problem.pieces:
        ways = [_filled(piece, angle, gap, whole) for angle in _turns(piece)]
        totals += placements_of(piece, folded=problem.folded) * np.min(ways, axis=0)
    return float(totals.max())


def _turns(piece: LayPiece) -> set[float]:
    """Return the turns that a piece may have; half a turn leaves its widths as they are."""
    listed = {*(piece.angles_deg or (0.0,)), *(place.angle_deg for place in piece.fixed)}
    if piece.mirror != "none" or piece.fixed:
        listed |= {-angle for angle in listed}
    return {angle % 180.0 for angle in listed}


def _filled(piece: LayPiece, angle_deg: float, gap: float, whole: float) -> NDArray[np.float64]:
    """Return for each share how much length of full cloth a piece takes [mm]."""
    if len(piece.outline_mm) > MOST_CORNERS:
        return np.zeros(len(SHARES))
    lengths, first, last = _widths(piece, angle_deg)
    a, b = ((w + gap) / whole * (1.0 - 1e-7) - 1e-9 for w in (first, last))
    return np.array([float((lengths * _mean(a, b, share)).sum()) for share in SHARES])


def _widths(
    piece: LayPiece, angle_deg: float
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    """Return stretches along the cloth, and how wide the piece is where each begins and ends."""
    c, s = cosine_and_sine(angle_deg)
    ring = np.array(tidy_outline(piece.outline_mm))
    x, y = c * ring[:, 0] - s * ring[:, 1], s * ring[:, 0] + c * ring[:, 1]
    run, rise = np.roll(x, -1) - x, np.roll(y, -1) - y
    stops = np.unique(x)
    begins, ends = stops[:-1, None], stops[1:, None]
    there = (np.minimum(x, x + run) <= begins) & (np.maximum(x, x + run) >= ends) & (run != 0.0)
    slope = np.divide(rise, run, out=np.zeros_like(run), where=run != 0.0)
    hand = np.where(there, -np.sign(run), 0.0)
    widths = [(hand * (y + slope * (at - x))).sum(axis=1) for at in (begins, ends)]
    return np.diff(stops), widths[0], widths[1]


def _mean(a: NDArray[np.float64], b: NDArray[np.float64], share: float) -> NDArray[np.float64]:
    """Return the mean of what counts while a width goes evenly from a to b."""
    run = b - a
    even = np.abs(run) < 1e-9
    mean = (_sum(b, share) - _sum(a, share)) / np.where(even, 1.0, run)
    return np.where(even, np.minimum(_counts(a, share), _counts(b, share)), mean)


def _counts(t: NDArray[np.float64], share: float) -> NDArray[np.float64]:
    return np.where(t > 1.0 - share, 1.0, np.where(t < share, 0.0, t))


def _sum(t: NDArray[np.float64], share: float) -> NDArray[np.float64]:
    """Return the area under what counts, from nothing to a width."""
    middle = (np.clip(t, share, 1.0 - share) ** 2 - share**2) / 2.0
    return middle + np.maximum(t - (1.0 - share), 0.0)
