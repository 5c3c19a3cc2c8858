"""Records laid out as arrays for the compiled sums."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from samite.swatch.exposure import Exposure
from samite.swatch.records import Record

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]
    Whole = NDArray[np.int64]

MOST_REACHES = 64
"""Doubts of one trial that the compiled sums have room for."""


@dataclass(frozen=True, slots=True, eq=False)
class Packed:
    """Trials with their records.

    Parameters
    ----------
    doubts : tuple of str
        Names of the doubts that any trial speaks of, in alphabetical order.
    doubt_of : ndarray of int, shape (reaches,)
        Doubt of each reach.
    upper, lower, width : ndarray of float, shape (reaches, draws)
        Edges in scores [-].
    share : ndarray of float, shape (reaches,)
        Share of the event [-].
    reach_start, trial_records, record_groups, group_reaches, reach_index : ndarray of int
        Where each trial's reaches and records, each record's groups and each group's reaches begin.
    group_sets, if_so, if_not : ndarray
        What is said of each group.
    misread, otherwise, times : ndarray of float, shape (records,)
        How far each record is believed, and how often it is there [-].
    """

    doubts: tuple[str, ...]
    doubt_of: Whole
    upper: Real
    lower: Real
    width: Real
    share: Real
    reach_start: Whole
    trial_records: Whole
    record_groups: Whole
    group_reaches: Whole
    reach_index: Whole
    group_sets: Whole
    if_so: Real
    if_not: Real
    misread: Real
    otherwise: Real
    times: Real

    def arrays(self, rows: slice) -> tuple[Real | Whole, ...]:
        """Return the arguments of the compiled sums after the first.

        Parameters
        ----------
        rows : slice
            Which draws.

        Returns
        -------
        tuple of ndarray
            In their order.
        """
        edges = (self.upper, self.lower, self.width)
        return (
            self.doubt_of,
            *(np.ascontiguousarray(values[:, rows]) for values in edges),
            self.share,
            self.reach_start,
            self.trial_records,
            self.record_groups,
            self.group_reaches,
            self.reach_index,
            self.group_sets,
            self.if_so,
            self.if_not,
            self.misread,
            self.otherwise,
            self.times,
        )


Said = Sequence[tuple[Exposure, Sequence[tuple[Record, int]]]]
"""Exposures, each with its different records and how often each is there."""


def pack(said: Said, doubts: Sequence[str] = ()) -> Packed:
    """Lay trials and their records out as arrays.

    Parameters
    ----------
    said : sequence of tuple of (Exposure, sequence of tuple of (Record, int))
        What was tried, and what was said of it.
    doubts : sequence of str
        Doubts that are to be there even if no trial speaks of them.

    Returns
    -------
    Packed
        The arrays.
    """
    reaches = [reach for exposure, _ in said for reach in exposure]
    names = tuple(sorted({reach.doubt for reach in reaches} | set(doubts)))
    records = [pair for _, pairs in said for pair in pairs]
    groups = [group for record, _ in records for group in record.groups]
    return Packed(
        doubts=names,
        doubt_of=_whole(names.index(reach.doubt) for reach in reaches),
        upper=_rows([reach.upper for reach in reaches]),
        lower=_rows([reach.lower for reach in reaches]),
        width=_rows([reach.width for reach in reaches]),
        share=_real(reach.share for reach in reaches),
        reach_start=_starts([len(exposure) for exposure, _ in said]),
        trial_records=_starts([len(pairs) for _, pairs in said]),
        record_groups=_starts([len(record.groups) for record, _ in records]),
        group_reaches=_starts([len(group.reaches) for group in groups]),
        reach_index=_whole(index for group in groups for index in group.reaches),
        group_sets=_whole(int(group.sets) for group in groups),
        if_so=_real(group.if_so for group in groups),
        if_not=_real(group.if_not for group in groups),
        misread=_real(record.misread for record, _ in records),
        otherwise=_real(record.otherwise for record, _ in records),
        times=_real(count for _, count in records),
    )


def _starts(lengths: Sequence[int]) -> Whole:
    return np.concatenate([[0], np.cumsum(np.array(lengths, dtype=np.int64))]).astype(np.int64)


def _whole(values: Iterable[int]) -> Whole:
    return np.array(list(values), dtype=np.int64)


def _real(values: Iterable[float]) -> Real:
    return np.array(list(values), dtype=np.float64)


def _rows(rows: Sequence[Real]) -> Real:
    return np.stack(rows) if rows else np.empty((0, 0))


def halves(draws: int) -> list[slice]:
    """Return two halves of the draws: the compiled sums let go of the interpreter.

    Parameters
    ----------
    draws : int
        How many.

    Returns
    -------
    list of slice
        One or two.
    """
    edges = sorted({0, draws // 2, draws})
    return [slice(first, last) for first, last in pairwise(edges)]
