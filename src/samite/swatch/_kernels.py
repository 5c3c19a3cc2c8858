"""The compiled sums of learning: every record on every draw and on every score of a limit."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
from numba import njit

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]
    Whole = NDArray[np.int64]

STIFF_WIDTH = 0.05
"""Width of the lower edge, in scores: so that it can be read off a table."""

TABLE_REACH = 8.0
TABLE_STEPS = 128
TABLE = np.array(
    [
        0.5 * math.erfc(-(index / TABLE_STEPS - TABLE_REACH) * math.sqrt(0.5))
        for index in range(int(2.0 * TABLE_REACH * TABLE_STEPS) + 2)
    ]
)
"""The normal distribution function, read off on straight lines: within 2e-6."""

LEAST = 1e-200
"""Product of chances at which its logarithm is taken, before it leaves the numbers."""


@njit(cache=True, nogil=True)
def _normal(score: float) -> float:
    """Return the normal distribution function."""
    if score <= -TABLE_REACH:
        return 0.0
    if score >= TABLE_REACH:
        return 1.0
    place = (score + TABLE_REACH) * TABLE_STEPS
    first = int(place)
    found: float = TABLE[first] + (place - first) * (TABLE[first + 1] - TABLE[first])
    return found


@njit(cache=True, nogil=True)
def _acts(score: float, upper: float, lower: float, width: float, share: float) -> float:
    """Return the chance that a trial acts on a doubt with that score."""
    chance = _normal((upper - score) / width)
    if lower > -20.0:
        chance -= _normal((lower - score) / STIFF_WIDTH)
    return share * max(chance, 0.0)


@njit(cache=True, nogil=True)
def _power(chance: float, times: float) -> float:
    """Return a chance that often; a few times by multiplying, which is quicker."""
    if times > 6.0:
        powered: float = chance**times
        return powered
    found = chance
    for _ in range(1, int(times)):
        found *= chance
    return found


@njit(cache=True, nogil=True)
def _event(acts: Real, reaches: Whole, sets: int) -> float:
    """Return the chance that a group happened: shares of a seam add up, of damage one is enough."""
    total = 0.0
    none = 1.0
    for reach in reaches:
        total += acts[reach]
        none *= 1.0 - acts[reach]
    return total if sets else 1.0 - none


@njit(cache=True, nogil=True)
def _multiply(
    product: Real, acts: Real, base: float, slope: float, times: float, found: Real
) -> None:
    """Multiply chances on; where they get too small, move their logarithm over."""
    low = 1.0
    for n in range(len(product)):
        chance = base + slope * acts[n]
        product[n] *= _power(chance, times)
        low = min(low, product[n])
    if low < LEAST:
        for n in range(len(product)):
            found[n] += math.log(max(product[n], 1e-300))
            product[n] = 1.0


@njit(cache=True, nogil=True)
def joint_log(
    scores: Real,
    doubt_of: Whole,
    upper: Real,
    lower: Real,
    width: Real,
    share: Real,
    reach_start: Whole,
    trial_records: Whole,
    record_groups: Whole,
    group_reaches: Whole,
    reach_index: Whole,
    group_sets: Whole,
    if_so: Real,
    if_not: Real,
    misread: Real,
    otherwise: Real,
    times: Real,
    found: Real,
) -> None:
    """Add the logarithms of all records' chances, draw by draw and sample by sample.

    Parameters
    ----------
    scores : ndarray of float, shape (doubts, draws, samples)
        Scores of the doubts [-].
    doubt_of : ndarray of int, shape (reaches,)
        Doubt of each reach.
    upper, lower, width : ndarray of float, shape (reaches, draws)
        Edges in scores [-].
    share : ndarray of float, shape (reaches,)
        Share of the event [-].
    reach_start : ndarray of int, shape (trials + 1,)
        Where the reaches of each trial begin.
    trial_records : ndarray of int, shape (trials + 1,)
        Where the records of each trial begin.
    record_groups : ndarray of int, shape (records + 1,)
        Where the groups of each record begin.
    group_reaches : ndarray of int, shape (groups + 1,)
        Where the reaches of each group begin in `reach_index`.
    reach_index : ndarray of int
        Reaches of the groups, counted within their trial.
    group_sets : ndarray of int, shape (groups,)
        1 if it is the setting of the seam.
    if_so, if_not : ndarray of float, shape (groups,)
        Chance of what is said if it happened, and if it did not [-].
    misread, otherwise, times : ndarray of float, shape (records,)
        Chance of a misread record, of this record then, and how often it is there [-].
    found : ndarray of float, shape (draws, samples)
        The sums; added to.
    """
    _, draws, samples = scores.shape
    acts = np.empty(64)
    for i in range(draws):
        for m in range(samples):
            total = 0.0
            product = 1.0
            for t in range(len(reach_start) - 1):
                first = reach_start[t]
                for r in range(first, reach_start[t + 1]):
                    acts[r - first] = _acts(
                        scores[doubt_of[r], i, m], upper[r, i], lower[r, i], width[r, i], share[r]
                    )
                for s in range(trial_records[t], trial_records[t + 1]):
                    said = 1.0
                    for g in range(record_groups[s], record_groups[s + 1]):
                        reaches = reach_index[group_reaches[g] : group_reaches[g + 1]]
                        event = _event(acts, reaches, group_sets[g])
                        said *= if_so[g] * event + if_not[g] * (1.0 - event)
                    chance = (1.0 - misread[s]) * said + misread[s] * otherwise[s]
                    product *= _power(chance, times[s])
                    if product < LEAST:
                        total += math.log(max(product, 1e-300))
                        product = 1.0
            found[i, m] += total + math.log(product)


@njit(cache=True, nogil=True)
def alone_log(
    nodes: Real,
    doubt_of: Whole,
    upper: Real,
    lower: Real,
    width: Real,
    share: Real,
    reach_start: Whole,
    trial_records: Whole,
    record_groups: Whole,
    group_reaches: Whole,
    reach_index: Whole,
    group_sets: Whole,
    if_so: Real,
    if_not: Real,
    misread: Real,
    otherwise: Real,
    times: Real,
    found: Real,
) -> None:
    """Add what the records say of each doubt by itself, the others at their mean.

    Parameters
    ----------
    nodes : ndarray of float, shape (nodes,)
        Scores that each doubt is asked at [-].
    doubt_of, upper, lower, width, share : ndarray
        As in `joint_log`.
    reach_start, trial_records, record_groups, group_reaches, reach_index : ndarray of int
        As in `joint_log`.
    group_sets, if_so, if_not, misread, otherwise, times : ndarray
        As in `joint_log`.
    found : ndarray of float, shape (doubts, draws, nodes)
        Logarithms of the chances; added to.
    """
    draws = upper.shape[1]
    count = len(nodes)
    mean = np.empty(64)
    acts = np.empty((64, count))
    product = np.ones((found.shape[0], count))
    for i in range(draws):
        for t in range(len(reach_start) - 1):
            first = reach_start[t]
            for r in range(first, reach_start[t + 1]):
                wide = math.sqrt(1.0 + width[r, i] ** 2)
                over = _normal(upper[r, i] / wide)
                under = _normal(lower[r, i]) if lower[r, i] > -20.0 else 0.0
                mean[r - first] = share[r] * max(over - under, 0.0)
                for n in range(count):
                    acts[r - first, n] = _acts(
                        nodes[n], upper[r, i], lower[r, i], width[r, i], share[r]
                    )
            for s in range(trial_records[t], trial_records[t + 1]):
                for g in range(record_groups[s], record_groups[s + 1]):
                    reaches = reach_index[group_reaches[g] : group_reaches[g + 1]]
                    for own in reaches:
                        kept = mean[own]
                        mean[own] = 0.0
                        rest = _event(mean, reaches, group_sets[g])
                        mean[own] = kept
                        doubt = doubt_of[first + own]
                        # The others at their mean, the event is a straight line in this one.
                        slope = 1.0 if group_sets[g] else 1.0 - rest
                        high = (1.0 - misread[s]) * (if_so[g] - if_not[g])
                        base = (1.0 - misread[s]) * if_not[g] + misread[s] * otherwise[s]
                        base += high * rest
                        slope *= high
                        _multiply(product[doubt], acts[own], base, slope, times[s], found[doubt, i])
        for doubt in range(found.shape[0]):
            for n in range(count):
                found[doubt, i, n] += math.log(max(product[doubt, n], 1e-300))
            product[doubt] = 1.0
