"""The worst of many placements: a normal part from contact and counting, a bounded one from the
thermostat's swing.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

import numpy as np

from samite.press.draws import normal_cdf

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]

PLACEMENTS = 60
"""Placements of the iron in the pressing of one costume (a stated default)."""

_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(6)
QUANTILES = 0.5 * (_NODES + 1.0)
QUANTILE_WEIGHTS = 0.5 * _WEIGHTS
"""Quantiles of the worst placement at which limits are asked, and their weights."""

SWING_SHARES = np.linspace(0.0, 1.0, 11)
REACH = np.linspace(-1.0, 5.0, 241)
"""Grid of shares, and of standard deviations over the mean, that the table is made on."""


def worst_scores(quantile: float, swing_share: Real) -> Real:
    """Return how many standard deviations the worst of all placements lies over their mean.

    Parameters
    ----------
    quantile : float
        Quantile of the worst placement, 0 to 1 [-].
    swing_share : ndarray of float, any shape
        Standard deviation that the thermostat brings over the whole one [-].

    Returns
    -------
    ndarray of float, same shape
        Standard deviations.

    Notes
    -----
    The swing is a sine at a random phase and never passes its amplitude; the rest is normal.
    Their sum's distribution to the power of the number of placements is that of the worst.

    References
    ----------
    ``derivation``, docs/models/press.md.
    """
    return np.interp(swing_share, SWING_SHARES, _table(quantile))


@cache
def _table(quantile: float) -> Real:
    wanted = quantile ** (1.0 / PLACEMENTS)
    return np.array([np.interp(wanted, chances, REACH) for chances in _distributions()])


@cache
def _distributions() -> Real:
    """Return the distribution of one placement over `REACH`, a row a share."""
    phase = np.sin(2.0 * np.pi * (np.arange(128) + 0.5) / 128)
    share = SWING_SHARES[:, np.newaxis, np.newaxis]
    rest = np.maximum(np.sqrt(1.0 - share**2), 0.02)
    gap = (REACH[np.newaxis, :, np.newaxis] - np.sqrt(2.0) * share * phase) / rest
    return np.asarray(normal_cdf(gap).mean(axis=2), dtype=np.float64)
