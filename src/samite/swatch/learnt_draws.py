"""Draws that know what swatches taught."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from samite.press.draws import Draws
from samite.press.judge import own_pace
from samite.swatch.limits import KnownLimits
from samite.swatch.owners import owner_of

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]


class LearntDraws(Draws):
    """Some of the weighted draws, and what is known of limits with each.

    Parameters
    ----------
    whole : Draws
        The draws that were weighted.
    rows : ndarray of int, shape (count,)
        Which of them, with repeats.
    limits : KnownLimits
        What is known of limits, draw by draw of `whole`.
    pace_name : str
        Doubt about the person's own pace.
    worth : float
        How many independent draws these are worth [-].
    fresh : Draws
        Draws of the tables for what was not learnt of; None takes them from `whole`.
    """

    def __init__(
        self,
        whole: Draws,
        rows: NDArray[np.int64],
        limits: KnownLimits,
        *,
        pace_name: str,
        worth: float,
        fresh: Draws | None = None,
    ) -> None:
        super().__init__(len(rows), (fresh or whole).seed)
        self._whole, self._rows, self._limits = whole, rows, limits
        self._fresh, self._pace_name, self._worth = fresh, pace_name, worth
        self._learnt_of = frozenset(whole.names)

    @property
    def learnt(self) -> bool:
        """Whether anything was learnt: always."""
        return True

    @property
    def independent(self) -> float:
        """How many independent draws they are worth [-]."""
        return self._worth

    @property
    def pace(self) -> Real:
        """Seconds that the person presses over seconds counted, draw by draw [-]."""
        return own_pace(self._taken(self._pace_name))

    def below(self, name: str, score: Real) -> Real:
        """Return the chance that a doubt lies below a score, draw by draw.

        Parameters
        ----------
        name : str
            A limit or a transition.
        score : ndarray of float, shape (count, any)
            Scores [-].

        Returns
        -------
        ndarray of float, same shape
            Chances.
        """
        return self._limits.chance_below(name, score, self._rows)

    def score(self, name: str) -> Real:
        """Return the scores of a doubt; of the day as the tables have it.

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
            self._scores[name] = self._taken(name)
        return self._scores[name]

    def _taken(self, name: str) -> Real:
        known = name in self._learnt_of and owner_of(name) != "day"
        if self._fresh is not None and not known:
            return self._fresh.score(name)
        return self._whole.score(name)[self._rows]


def taken_rows(weights: Real, count: int, seed: int) -> NDArray[np.int64]:
    """Return so many draws of equal weight: each as often as its weight says, to the next whole.

    Parameters
    ----------
    weights : ndarray of float, shape (draws,)
        Weights; they sum to 1 [-].
    count : int
        How many.
    seed : int
        Seed of their order.

    Returns
    -------
    ndarray of int, shape (count,)
        Which draws.
    """
    generator = np.random.default_rng([seed, count])
    places = (np.arange(count) + generator.random()) / count
    rows = np.searchsorted(np.cumsum(weights), places * weights.sum(), side="right")
    return generator.permutation(np.minimum(rows, len(weights) - 1))
