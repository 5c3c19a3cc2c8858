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

SWING_SHARES = np.linspace(0.0, 1.0, 21)


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
    phase = np.sin(2.0 * np.pi * (np.arange(64) + 0.5) / 64)
    reach = np.linspace(-2.0, 6.0, 1601)
    wanted = quantile ** (1.0 / PLACEMENTS)
    found = []
    for share in SWING_SHARES:
        rest = max(np.sqrt(1.0 - share**2), 0.02)
        gap = (reach[:, np.newaxis] - np.sqrt(2.0) * share * phase) / rest
        found.append(np.interp(wanted, normal_cdf(gap).mean(axis=1), reach))
    return np.array(found)
