"""States of the world for the choice of a test: a draw, and where in its doubt each limit lies."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from samite.press.draws import Draws, normal_cdf
from samite.swatch.exposure import Exposure, Reach
from samite.swatch.outcomes import SHRUNK_MM, USUAL_SIGN
from samite.swatch.records import unsaid_share
from samite.swatch.seen import Finding, Sign
from samite.tables.learning import learning_value

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]

STRATA = 8
"""Equal parts that a draw's doubt about each limit is cut into."""

EDGE_NODES, EDGE_WEIGHTS = np.polynomial.hermite_e.hermegauss(3)
"""Where a trial's edge is asked, in widths, and what each place counts."""


@dataclass(frozen=True, eq=False)
class Strata:
    """Draws, each with every limit in one of `STRATA` equal parts of its distribution.

    Parameters
    ----------
    pool : Draws
        The draws; `Draws.below` knows what was learnt of limits.
    weights : ndarray of float, shape (draws,)
        What each draw counts, summing to 1 [-].
    seed : int
        Seed of which part of one limit meets which of another.

    Notes
    -----
    A limit within its part is still in doubt and integrated, so that small chances of damage keep
    their precision. Parts of different limits meet at random, a Latin square in every draw.
    """

    pool: Draws
    weights: Real
    seed: int = 1

    @cached_property
    def joint_weights(self) -> Real:
        """What each state counts, the parts of a draw together; shape (parts x draws,) [-]."""
        return np.tile(self.weights / STRATA, STRATA)

    @cached_property
    def _places(self) -> dict[str, NDArray[np.int64]]:
        return {}

    def part(self, doubt: str) -> NDArray[np.int64]:
        """Return in which part of a doubt each state lies.

        Parameters
        ----------
        doubt : str
            Name of a limit or a transition.

        Returns
        -------
        ndarray of int, shape (parts, draws)
            From 0.
        """
        if doubt not in self._places:
            generator = np.random.default_rng([self.seed, *doubt.encode()])
            mixed = generator.random((STRATA, self.pool.count)).argsort(axis=0)
            self._places[doubt] = mixed
        return self._places[doubt]

    def below(self, number: int, doubt: str, score: Real) -> Real:
        """Return the chance that a doubt lies below scores, in the states of one number.

        Parameters
        ----------
        number : int
            Which of the states of each draw [1].
        doubt : str
            Its name.
        score : ndarray of float, shape (draws, any)
            Scores [-].

        Returns
        -------
        ndarray of float, same shape
            Chances; their mean over the numbers is that of `Draws.below`.
        """
        whole = self.pool.below(doubt, score)
        part = self.part(doubt)[number][:, np.newaxis]
        return np.asarray(np.clip(STRATA * whole - part, 0.0, 1.0))


def record_chances(
    exposure: Exposure, strata: Strata
) -> tuple[tuple[tuple[Finding, ...], ...], Real]:
    """Return which records a trial may lead to, and how likely each is in every state.

    Parameters
    ----------
    exposure : tuple of Reach
        What the trial puts the cloth to.
    strata : Strata
        The states.

    Returns
    -------
    tuple of tuple of Finding
        The records.
    ndarray of float, shape (states, records)
        Chances; each row sums to 1 [-].

    Notes
    -----
    Unharmed, or one way of being hurt, each with the seam flat or not; two ways at once count with
    either by its chance. Not everybody says of a flat seam that it was. A record is misread with the stated chance, and then says any of these.
    """
    spared, flat = _acts(exposure, strata)
    unharmed = np.ones(strata.joint_weights.shape)
    for kept in spared.values():
        unharmed = unharmed * kept
    harmed = sum((1.0 - kept for kept in spared.values()), start=np.zeros_like(unharmed))
    share = (1.0 - unharmed) / np.maximum(harmed, 1e-300)
    hurts = {"": unharmed} | {hurt: (1.0 - kept) * share for hurt, kept in spared.items()}
    misread = learning_value("swatch misread_percent").value / 100.0
    records, columns = [], []
    for hurt, chance in hurts.items():
        for lies in (True, False) if flat is not None else (None,):
            seam = 1.0 if flat is None else flat if lies else 1.0 - flat
            records.append(_record(hurt, lies))
            columns.append(chance * seam)
    table = np.stack(columns, axis=1)
    table = table / table.sum(axis=1, keepdims=True)
    return tuple(records), (1.0 - misread) * table + misread / len(records)


def _acts(exposure: Exposure, strata: Strata) -> tuple[dict[str, Real], Real | None]:
    """Return the chance to be spared each way of being hurt, and that of a seam called flat."""
    spared: dict[str, Real] = {}
    sets: list[Real] = []
    for reach in exposure:
        act = np.concatenate([_act(reach, strata, number) for number in range(STRATA)])
        if reach.hurt == "set":
            sets.append(act)
        else:
            spared[reach.hurt] = spared.get(reach.hurt, np.ones_like(act)) * (1.0 - act)
    said = 1.0 - unsaid_share()
    return spared, said * np.clip(sum(sets), 0.0, 1.0) if sets else None


def _act(reach: Reach, strata: Strata, number: int) -> Real:
    weights = EDGE_WEIGHTS / EDGE_WEIGHTS.sum()
    edges = reach.upper[:, np.newaxis] + reach.width[:, np.newaxis] * EDGE_NODES
    over = strata.below(number, reach.doubt, edges) @ weights
    under = strata.below(number, reach.doubt, reach.lower[:, np.newaxis])[:, 0]
    return np.asarray(reach.share * np.clip(over - under, 0.0, 1.0))


def _record(hurt: str, lies: bool | None) -> tuple[Finding, ...]:
    found = [Finding(Sign.SET_FLAT)] if lies else []
    if hurt:
        sign = USUAL_SIGN[hurt]
        found.append(Finding(sign, shrunk_mm=SHRUNK_MM if sign is Sign.SHRUNK else None))
    return tuple(found) or (Finding(Sign.NOTHING),)


def reading_chances(soles_c: Real, errors_k: float, bins: int = 5) -> tuple[Sequence[float], Real]:
    """Return how likely each span of a probe's reading is, draw by draw.

    Parameters
    ----------
    soles_c : ndarray of float, shape (states,)
        Sole temperature in each state [C].
    errors_k : float
        Standard deviation of the mean of the readings about the sole [K].
    bins : int
        Spans that readings are told apart in, by equal shares of the states.

    Returns
    -------
    sequence of float
        Edges between the spans [C].
    ndarray of float, shape (states, bins)
        Chances; each row sums to 1 [-].
    """
    edges = np.quantile(soles_c, np.arange(1, bins) / bins)
    passed = normal_cdf((edges - soles_c[:, np.newaxis]) / errors_k)
    ends = np.ones((len(soles_c), 1))
    return [float(edge) for edge in edges], np.diff(
        np.concatenate([0.0 * ends, passed, ends], axis=1), axis=1
    )
