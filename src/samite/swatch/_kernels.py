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


@njit(cache=True, nogil=True)
def _acts(score: float, upper: float, lower: float, width: float, share: float) -> float:
    """Return the chance that a trial acts on a doubt with that score."""
    chance = 0.5 * math.erfc((score - upper) / width * 0.7071067811865476)
    if lower > -20.0:
        chance -= 0.5 * math.erfc((score - lower) / STIFF_WIDTH * 0.7071067811865476)
    return share * max(chance, 0.0)


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
            for t in range(len(reach_start) - 1):
                first = reach_start[t]
                for r in range(first, reach_start[t + 1]):
                    acts[r - first] = _acts(
                        scores[doubt_of[r], i, m], upper[r, i], lower[r, i], width[r, i], share[r]
                    )
                for s in range(trial_records[t], trial_records[t + 1]):
                    said = 1.0
                    for g in range(record_groups[s], record_groups[s + 1]):
                        event = 0.0
                        none = 1.0
                        for at in range(group_reaches[g], group_reaches[g + 1]):
                            event += acts[reach_index[at]]
                            none *= 1.0 - acts[reach_index[at]]
                        if group_sets[g] == 0:
                            event = 1.0 - none
                        said *= if_so[g] * event + if_not[g] * (1.0 - event)
                    chance = (1.0 - misread[s]) * said + misread[s] * otherwise[s]
                    total += times[s] * math.log(max(chance, 1e-300))
            found[i, m] += total


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
    mean = np.empty(64)
    for i in range(draws):
        for t in range(len(reach_start) - 1):
            first = reach_start[t]
            for r in range(first, reach_start[t + 1]):
                wide = math.sqrt(1.0 + width[r, i] ** 2)
                mean[r - first] = _acts(0.0, upper[r, i] / wide, lower[r, i], 1.0, share[r])
                if lower[r, i] > -20.0:
                    below = 0.5 * math.erfc(-lower[r, i] * 0.7071067811865476)
                    above = 0.5 * math.erfc(-upper[r, i] / wide * 0.7071067811865476)
                    mean[r - first] = share[r] * max(above - below, 0.0)
            for s in range(trial_records[t], trial_records[t + 1]):
                for g in range(record_groups[s], record_groups[s + 1]):
                    for at in range(group_reaches[g], group_reaches[g + 1]):
                        own = first + reach_index[at]
                        rest = 0.0
                        none = 1.0
                        for beside in range(group_reaches[g], group_reaches[g + 1]):
                            if beside != at:
                                rest += mean[reach_index[beside]]
                                none *= 1.0 - mean[reach_index[beside]]
                        for n in range(len(nodes)):
                            act = _acts(
                                nodes[n], upper[own, i], lower[own, i], width[own, i], share[own]
                            )
                            event = rest + act if group_sets[g] else 1.0 - none * (1.0 - act)
                            said = if_so[g] * event + if_not[g] * (1.0 - event)
                            chance = (1.0 - misread[s]) * said + misread[s] * otherwise[s]
                            found[doubt_of[own], i, n] += times[s] * math.log(max(chance, 1e-300))
