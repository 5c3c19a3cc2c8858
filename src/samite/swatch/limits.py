"""What records say of limits and transitions: every one on a grid of its scores, draw by draw.

The heat of a draw being given, each record speaks of limits alone. On a grid each limit is
followed by itself; that table proposes samples of all limits together, and weights correct what
the limits have in common. Where they have nothing in common the table is exact.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

import numpy as np

from samite.press.draws import normal_cdf
from samite.swatch._kernels import alone_log, joint_log
from samite.swatch.packing import Packed, halves

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]

FAR = np.arange(5.5, 20.01, 0.5)
EDGES = np.concatenate([-FAR[::-1], np.linspace(-5.0, 5.0, 101), FAR])
"""Scores between which a limit's chance is spread evenly; far out, where only the limit of another
fibre lies, in wider cells."""

NODES = 0.5 * (EDGES[:-1] + EDGES[1:])


def _prior() -> Real:
    """Return the cells' chances, the upper half from the lower: their small ends do not cancel."""
    lower = np.diff(normal_cdf(EDGES[EDGES < 0.01]))
    cells = np.concatenate([lower, lower[::-1]])
    return np.asarray(np.maximum(cells / cells.sum(), 1e-290))


PRIOR = _prior()
"""Chance of each cell before anything was seen."""

SAMPLES = 40
"""Samples of all limits together for each draw."""

_ALONE: Callable[..., None] = alone_log
_JOINT: Callable[..., None] = joint_log

OPEN = 0.05
"""Share of the samples that is drawn as if nothing had been seen: no cell is shut [-]."""


@dataclass(frozen=True, slots=True, eq=False)
class KnownLimits:
    """What is known of limits and transitions.

    Parameters
    ----------
    doubts : tuple of str
        Their names.
    scores : ndarray of float, shape (doubts, draws, samples)
        Samples [-].
    weights : ndarray of float, shape (draws, samples)
        What each sample counts within its draw; rows sum to 1 [-].
    below : ndarray of float, shape (doubts, draws, edges)
        Chance that a doubt lies below each of `EDGES` [-].
    log_chance : ndarray of float, shape (draws,)
        Logarithm of the chance of all records, draw by draw [-].
    """

    doubts: tuple[str, ...]
    scores: Real
    weights: Real
    below: Real
    log_chance: Real

    def chance_below(self, doubt: str, score: Real, rows: NDArray[np.int64] | None = None) -> Real:
        """Return the chance that a doubt lies below a score, draw by draw.

        Parameters
        ----------
        doubt : str
            Name.
        score : ndarray of float, shape (draws, any)
            Scores [-].
        rows : ndarray of int or None
            Which draw each row stands for; None for all in order.

        Returns
        -------
        ndarray of float, same shape
            Chances; from the table's distribution where nothing was said of the doubt.
        """
        if doubt not in self.doubts:
            return normal_cdf(score)
        table = self.below[self.doubts.index(doubt)]
        first, share = _cell(score)
        row = (np.arange(len(score)) if rows is None else rows)[:, np.newaxis]
        low, high = table[row, first], table[row, first + 1]
        return np.asarray(low + share * (high - low))


def _cell(score: Real) -> tuple[NDArray[np.int64], Real]:
    """Return in which cell a score lies, and how far up in it."""
    inside = np.clip(score, EDGES[0], EDGES[-1])
    first = np.clip(np.searchsorted(EDGES, inside, side="right") - 1, 0, len(NODES) - 1)
    share = (inside - EDGES[first]) / (EDGES[first + 1] - EDGES[first])
    return first, share


def nothing_known() -> KnownLimits:
    """Return what is known of limits on no draws at all.

    Returns
    -------
    KnownLimits
        Empty.
    """
    return KnownLimits((), np.empty((0, 0, SAMPLES)), np.empty((0, SAMPLES)), EMPTY, np.empty(0))


EMPTY = np.empty((0, 0, len(EDGES)))


def join_limits(parts: Sequence[KnownLimits]) -> KnownLimits:
    """Return what is known on several sets of draws as one.

    Parameters
    ----------
    parts : sequence of KnownLimits
        Of the same doubts.

    Returns
    -------
    KnownLimits
        Draw after draw.
    """
    if len(parts) == 1:
        return parts[0]
    return KnownLimits(
        parts[0].doubts,
        np.concatenate([part.scores for part in parts], axis=1),
        np.concatenate([part.weights for part in parts]),
        np.concatenate([part.below for part in parts], axis=1),
        np.concatenate([part.log_chance for part in parts]),
    )


Spoken = Mapping[str, "Real"]
"""Logarithms, shape (draws, nodes), of what other cloths of the kind say of a doubt."""

Priors = Mapping[str, "Real"]
NO_PRIORS: Priors = MappingProxyType({})


def learn_limits(
    packed: Packed, draws: int, spoken: Spoken, seed: int, priors: Priors = NO_PRIORS
) -> KnownLimits:
    """Return what records say of the limits.

    Parameters
    ----------
    packed : Packed
        Trials and records.
    draws : int
        How many draws there are.
    spoken : mapping of str to ndarray of float, shape (draws, nodes)
        What other cloths of the kind say, by doubt.
    seed : int
        Seed of the samples.
    priors : mapping of str to ndarray of float, shape (nodes,)
        Chance of each cell before anything was seen, by doubt; `PRIOR` for what is not there [-].

    Returns
    -------
    KnownLimits
        Tables, samples and the chance of all records.
    """
    alone = what_each_says(packed, draws)
    for index, doubt in enumerate(packed.doubts):
        if doubt in spoken:
            alone[index] += spoken[doubt]
    cells_of = [priors.get(doubt, PRIOR) for doubt in packed.doubts]
    first = np.stack(cells_of)[:, np.newaxis, :] if cells_of else PRIOR
    apart = _shares(alone + np.log(first))
    proposed = (1.0 - OPEN) * apart + OPEN * first
    scores, cells = _samples(packed.doubts, proposed, seed)
    log = np.zeros((draws, SAMPLES))
    if len(packed.times):
        _sum(lambda rows, out: _joint(packed, scores, rows, out), log, draws)
    rows_ = np.arange(draws)[:, np.newaxis]
    for index, doubt in enumerate(packed.doubts):
        cell = cells[index]
        log += np.log(cells_of[index][cell] / proposed[index][rows_, cell])
        if doubt in spoken:
            log += spoken[doubt][rows_, cell]
    top = log.max(axis=1, keepdims=True)
    raw = np.exp(log - top)
    chance = raw.mean(axis=1)
    weights = raw / raw.sum(axis=1, keepdims=True)
    below = np.stack(
        [_table(apart[i], proposed[i], cells[i], weights) for i in range(len(packed.doubts))]
        or [np.empty((draws, len(EDGES)))]
    )
    return KnownLimits(packed.doubts, scores, weights, below, top[:, 0] + np.log(chance))


def what_each_says(packed: Packed, draws: int) -> Real:
    """Return the logarithm of what the records say of each doubt by itself.

    Parameters
    ----------
    packed : Packed
        Trials and records.
    draws : int
        How many draws there are.

    Returns
    -------
    ndarray of float, shape (doubts, draws, nodes)
        Logarithms.
    """
    found = np.zeros((len(packed.doubts), draws, len(NODES)))
    if len(packed.times):
        slices = halves(draws)
        parts = [
            np.zeros((len(packed.doubts), part.stop - part.start, len(NODES))) for part in slices
        ]
        with ThreadPoolExecutor(max_workers=2) as pool:
            list(
                pool.map(lambda part, out: _ALONE(NODES, *packed.arrays(part), out), slices, parts)
            )
        found = np.concatenate(parts, axis=1)
    return found


def _joint(packed: Packed, scores: Real, rows: slice, out: Real) -> None:
    _JOINT(np.ascontiguousarray(scores[:, rows]), *packed.arrays(rows), out)


def _sum(run: Callable[[slice, Real], Any], total: Real, draws: int) -> None:
    slices = halves(draws)
    with ThreadPoolExecutor(max_workers=2) as pool:
        list(pool.map(lambda rows: run(rows, total[rows]), slices))


def _shares(log: Real) -> Real:
    raw = np.exp(log - log.max(axis=-1, keepdims=True))
    return np.asarray(raw / raw.sum(axis=-1, keepdims=True))


def _samples(doubts: Sequence[str], proposed: Real, seed: int) -> tuple[Real, NDArray[np.int64]]:
    """Draw from each row of the tables, one sample from every equal share of it."""
    scores = np.empty((len(doubts), proposed.shape[1] if len(doubts) else 0, SAMPLES))
    cells = np.empty(scores.shape, dtype=np.int64)
    for index, doubt in enumerate(doubts):
        table = proposed[index]
        generator = np.random.default_rng([seed, len(table), *doubt.encode()])
        mixed = generator.random((len(table), SAMPLES)).argsort(axis=1)
        at = (mixed + generator.random(mixed.shape)) / SAMPLES
        edges = np.concatenate([np.zeros((len(table), 1)), np.cumsum(table, axis=1)], axis=1)
        edges[:, -1] = 1.0
        # One search for all rows: each row's shares are lifted by its number.
        lift = np.arange(len(table))[:, np.newaxis]
        flat = (edges[:, 1:] + lift).ravel()
        cell = np.searchsorted(flat, (at + lift).ravel(), side="right").reshape(at.shape)
        cell = np.clip(cell - lift * len(PRIOR), 0, len(PRIOR) - 1)
        scores[index] = NODES[cell]
        cells[index] = cell
    return scores, cells


def _table(apart: Real, proposed: Real, cells: NDArray[np.int64], weights: Real) -> Real:
    """Return the chance below each edge: each doubt by itself, and what all together move.

    The same samples weighted both ways: where a doubt has nothing in common with others the
    two weights are one, and the table stays exact.
    """
    draws = len(apart)
    rows = np.arange(draws)[:, np.newaxis]
    by_itself = apart[rows, cells] / proposed[rows, cells]
    by_itself /= by_itself.sum(axis=1, keepdims=True)
    flat = (cells + rows * len(PRIOR)).ravel()
    moved = np.bincount(flat, weights=(weights - by_itself).ravel(), minlength=draws * len(PRIOR))
    density = apart + moved.reshape(draws, len(PRIOR))
    below = np.concatenate([np.zeros((draws, 1)), np.cumsum(density, axis=1)], axis=1)
    return np.maximum.accumulate(np.clip(below, 0.0, 1.0), axis=1)
