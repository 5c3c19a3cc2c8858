"""The draws that learning weights: those of the tables first, and more where the evidence lies."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from samite.press.draws import Draws

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]

DIRECTIONS = 5
"""Directions in the doubts along which later draws are moved."""

WORTH_WANTED = 80.0
"""Independent draws that an answer shall be worth at least [-]."""

WORTH_GUIDE = 32.0
"""Independent draws that a tempered answer must be worth to say where the next draws go [-]."""

WIDER = 1.15
"""By what the next draws are wider than the tempered answer that they follow [-]."""


class MovedDraws(Draws):
    """Draws moved along a few directions; otherwise those of the tables.

    Parameters
    ----------
    fresh : Draws
        Draws of the tables.
    names : tuple of str
        Doubts that the directions mix.
    directions : ndarray of float, shape (names, directions)
        Orthonormal [-].
    along : ndarray of float, shape (count, directions)
        Where the draws stand along them, in scores [-].
    """

    def __init__(self, fresh: Draws, names: tuple[str, ...], directions: Real, along: Real) -> None:
        super().__init__(fresh.count, fresh.seed)
        scores = np.stack([fresh.score(name) for name in names], axis=1)
        scores += (along - scores @ directions) @ directions.T
        self._fresh = fresh
        self._scores.update(zip(names, np.ascontiguousarray(scores.T), strict=True))

    def score(self, name: str) -> Real:
        """Return the scores of a doubt: moved if the directions mix it.

        Parameters
        ----------
        name : str
            What is in doubt.

        Returns
        -------
        ndarray of float, shape (count,)
            Scores.
        """
        return self._scores[name] if name in self._scores else self._fresh.score(name)


class JoinedDraws(Draws):
    """Several draws as one.

    Parameters
    ----------
    parts : sequence of Draws
        At least one.
    """

    def __init__(self, parts: Sequence[Draws]) -> None:
        super().__init__(sum(part.count for part in parts), parts[0].seed)
        self._parts = tuple(parts)

    @property
    def names(self) -> tuple[str, ...]:
        """Names that the first part was asked for."""
        return self._parts[0].names

    def score(self, name: str) -> Real:
        """Return the scores of a doubt, part after part.

        Parameters
        ----------
        name : str
            What is in doubt.

        Returns
        -------
        ndarray of float, shape (count,)
            Scores.
        """
        if name not in self._scores:
            self._scores[name] = np.concatenate([part.score(name) for part in self._parts])
        return self._scores[name]


@dataclass(frozen=True, slots=True, eq=False)
class Stage:
    """Where one part of the draws was taken from, along the directions.

    Parameters
    ----------
    count : int
        How many.
    middle : ndarray of float, shape (directions,)
        Mean in scores [-].
    spread : ndarray of float, shape (directions, directions)
        Covariance in scores [-].
    """

    count: int
    middle: Real
    spread: Real


def worth(weights: Real) -> float:
    """Return how many independent draws weighted ones are worth.

    Parameters
    ----------
    weights : ndarray of float
        Weights [-].

    Returns
    -------
    float
        The square of their sum over the sum of their squares [-].
    """
    return float(weights.sum() ** 2 / (weights**2).sum())


def to_weights(log: Real) -> Real:
    """Return weights that sum to one from their logarithms.

    Parameters
    ----------
    log : ndarray of float
        Logarithms [-].

    Returns
    -------
    ndarray of float, same shape
        Weights [-].
    """
    raw = np.exp(log - log.max())
    return np.asarray(raw / raw.sum())


def prior_over_taken(along: Real, stages: Sequence[Stage]) -> Real:
    """Return the logarithm of how the tables' density compares with that of the draws taken.

    Parameters
    ----------
    along : ndarray of float, shape (draws, directions)
        Where all draws stand [-].
    stages : sequence of Stage
        Where they were taken from, all together: a draw counts as one from the mixture.

    Returns
    -------
    ndarray of float, shape (draws,)
        Logarithms.
    """
    base = -0.5 * (along**2).sum(axis=1)
    total = sum(stage.count for stage in stages)
    logs = np.stack([np.log(stage.count / total) + _log_normal(along, stage) for stage in stages])
    top = logs.max(axis=0)
    mixed: Real = top + np.log(np.exp(logs - top).sum(axis=0))
    return np.asarray(base - mixed)


def _log_normal(along: Real, stage: Stage) -> Real:
    gap = along - stage.middle
    sign, size = np.linalg.slogdet(stage.spread)
    inner = np.einsum("ij,ij->i", gap, np.linalg.solve(stage.spread, gap.T).T)
    return np.asarray(-0.5 * (inner + sign * size))


def directions_of(scores: Real, answers: Real, found: Real) -> Real:
    """Return the directions in the doubts that move what the records speak of.

    Parameters
    ----------
    scores : ndarray of float, shape (draws, names)
        Scores of the doubts [-].
    answers : ndarray of float, shape (draws, answers)
        How far each trial reached, in scores of the limits [-].
    found : ndarray of float, shape (answers,)
        What each answer counts [-].

    Returns
    -------
    ndarray of float, shape (names, directions)
        Orthonormal, strongest first.

    Notes
    -----
    Straight lines through all draws; what bends is left to the weights.
    """
    centred = (answers - answers.mean(axis=0)) * found
    # A little of the doubts' own variance steadies the fit: there may be few draws for many doubts.
    gram = scores.T @ scores + len(scores) * 0.05 * np.eye(scores.shape[1])
    slopes = np.linalg.solve(gram, scores.T @ centred)
    left, _, _ = np.linalg.svd(slopes, full_matrices=False)
    return np.asarray(left[:, :DIRECTIONS])


def next_stage(along: Real, log: Real, count: int) -> Stage:
    """Return where the next draws are to be taken from.

    Parameters
    ----------
    along : ndarray of float, shape (draws, directions)
        Where the draws stand [-].
    log : ndarray of float, shape (draws,)
        Logarithms of their weights [-].
    count : int
        How many draws to take.

    Returns
    -------
    Stage
        Mean and widened spread of the draws, their weights tempered until enough of them count.
    """
    weights = to_weights(log * _temper(log))
    middle = weights @ along
    gap = along - middle
    spread_ = (gap * weights[:, np.newaxis]).T @ gap
    spread_ = WIDER**2 * spread_ + 0.01 * np.eye(along.shape[1])
    return Stage(count, middle, spread_)


def _temper(log: Real) -> float:
    """Return the largest power, up to one, at which enough draws count."""
    if worth(to_weights(log)) >= WORTH_GUIDE:
        return 1.0
    low, high = 0.0, 1.0
    for _ in range(30):
        middle = 0.5 * (low + high)
        if worth(to_weights(log * middle)) >= WORTH_GUIDE:
            low = middle
        else:
            high = middle
    return low


def take(stage: Stage, seed: int) -> Callable[[Draws, tuple[str, ...], Real], MovedDraws]:
    """Return what takes the draws of a stage.

    Parameters
    ----------
    stage : Stage
        Where they are taken from.
    seed : int
        Seed of where they stand along the directions.

    Returns
    -------
    callable
        From fresh draws, names and directions to moved draws.
    """
    root = np.linalg.cholesky(stage.spread)
    normal = np.stack(
        [Draws(stage.count, seed).score(f"direction {i}") for i in range(len(stage.middle))], axis=1
    )
    along = stage.middle + normal @ root.T

    def taken(fresh: Draws, names: tuple[str, ...], directions: Real) -> MovedDraws:
        return MovedDraws(fresh, names, directions, along)

    return taken
