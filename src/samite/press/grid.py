"""Nodes and steps of the batch solver: fine at faces and after changes, coarse elsewhere."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from samite.press.layers import ReadingPlace

    Real = NDArray[np.float64]
    Whole = NDArray[np.int64]

CELL_SHARE = 0.08
"""First cell at a face over the diffusion length of the shortest time read [-]."""

CELL_GROWTH = 1.09
"""Each cell over its neighbour nearer to the face [-]."""

LEAST_CELLS = 9
"""Cells in half a layer, however thin [-]."""

MOST_CELLS = 60
"""Cells in half a layer, however thick [-]."""

STEP_SHARE = 0.08
"""A step over the time since the last change of the boundary [-]."""

FIRST_STEP_SHARE = 0.012
"""The first steps of a phase over the shortest time read [-]."""

SAME = 1.0e-9
"""Two depths or times that differ by less than this share are one."""


@dataclass(frozen=True, slots=True, eq=False)
class Slab:
    """The nodes of one layer.

    Parameters
    ----------
    first : int
        Its first node.
    depths : ndarray of float, shape (nodes,)
        Where its nodes are, 0 to 1 [-].
    """

    first: int
    depths: Real

    @property
    def last(self) -> int:
        """Its last node."""
        return self.first + len(self.depths) - 1

    def node_at(self, depth: float) -> int:
        """Return the node nearest to a depth.

        Parameters
        ----------
        depth : float
            Depth, 0 to 1 [-].

        Returns
        -------
        int
            The node.
        """
        return self.first + int(np.argmin(np.abs(self.depths - depth)))


@dataclass(frozen=True, slots=True, eq=False)
class FaceGrid:
    """The nodes of a stack from the top down.

    Parameters
    ----------
    body : Slab or None
        Nodes of the body that some phases lay on top.
    layers : tuple of Slab
        Nodes of the layers; neighbours share one where they touch perfectly.
    """

    body: Slab | None
    layers: tuple[Slab, ...]

    @property
    def nodes(self) -> int:
        """How many nodes there are."""
        return self.layers[-1].last + 1

    @property
    def layer_of(self) -> Whole:
        """Layers of each node, shape (nodes, 2), -1 for none."""
        table = np.full((self.nodes, 2), -1, dtype=np.int64)
        for index, slab in enumerate(self.layers):
            table[slab.first : slab.last + 1, index % 2] = index
        return table


@dataclass(frozen=True, slots=True, eq=False)
class Steps:
    """The steps in time.

    Parameters
    ----------
    step_s : ndarray of float, shape (steps,)
        Lengths [s].
    phase : ndarray of int, shape (steps,)
        Phase of each step.
    record : ndarray of int, shape (steps,)
        Row that is recorded after it, -1 for none.
    """

    step_s: Real
    phase: Whole
    record: Whole


def plan_grid(
    diffusion_times_s: Real,
    time_s: float,
    places: Sequence[ReadingPlace],
    fineness: float,
    *,
    merged: bool,
    body_diffusion_time_s: float | None,
) -> FaceGrid:
    """Place the nodes.

    Parameters
    ----------
    diffusion_times_s : ndarray of float, shape (layers,)
        Squared thickness over diffusivity of each layer [s].
    time_s : float
        Shortest time that is read [s].
    places : sequence of ReadingPlace
        Depths that must be nodes.
    fineness : float
        2 halves the cells [-].
    merged : bool
        Whether neighbours share a node, as they touch perfectly.
    body_diffusion_time_s : float or None
        The same of the body laid on top [s]; None if there is none.

    Returns
    -------
    FaceGrid
        The nodes.
    """
    top = None
    following = 0
    if body_diffusion_time_s is not None:
        top = Slab(0, _depths(body_diffusion_time_s, time_s, set(), fineness))
        following = top.last + 1
    slabs: list[Slab] = []
    for index, diffusion_s in enumerate(diffusion_times_s):
        wanted = {place.depth for place in places if place.layer == index}
        slab = Slab(following, _depths(diffusion_s, time_s, wanted, fineness))
        slabs.append(slab)
        following = slab.last if merged else slab.last + 1
    return FaceGrid(top, tuple(slabs))


def plan_steps(dwell_times_s: Sequence[float], times_s: Sequence[float], fineness: float) -> Steps:
    """Plan the steps so that they grow from the start of each phase and land on every time.

    Parameters
    ----------
    dwell_times_s : sequence of float
        Durations of the phases [s].
    times_s : sequence of float
        Rising times to record, from the start of the first phase [s]; 0 takes no step.
    fineness : float
        2 halves the steps [-].

    Returns
    -------
    Steps
        The steps.
    """
    lengths: list[float] = []
    phases: list[int] = []
    records: list[int] = []
    shortest = shortest_time(dwell_times_s, times_s)
    begin = 0.0
    for index, duration in enumerate(dwell_times_s):
        marks = [(t - begin, row) for row, t in enumerate(times_s) if _within(t, begin, duration)]
        if not marks or duration - marks[-1][0] > SAME * duration:
            marks.append((duration, -1))
        reached = 0.0
        for mark, row in marks:
            span = _span(reached, mark, shortest, fineness)
            lengths.extend(span)
            phases.extend([index] * len(span))
            records.extend([-1] * (len(span) - 1) + [row])
            reached = mark
        begin += duration
    return Steps(
        np.array(lengths), np.array(phases, dtype=np.int64), np.array(records, dtype=np.int64)
    )


def shortest_time(dwell_times_s: Sequence[float], times_s: Sequence[float]) -> float:
    """Return the shortest time since a change of the boundary that is read.

    Parameters
    ----------
    dwell_times_s : sequence of float
        Durations of the phases [s].
    times_s : sequence of float
        Times to record [s].

    Returns
    -------
    float
        Shortest time [s]: the end of a phase counts as read.
    """
    begin = 0.0
    found = list(dwell_times_s)
    for duration in dwell_times_s:
        found.extend(t - begin for t in times_s if _within(t, begin, duration))
        begin += duration
    return min(found)


def _within(time_s: float, begin_s: float, duration_s: float) -> bool:
    slack = SAME * (begin_s + duration_s)
    return begin_s + slack < time_s <= begin_s + duration_s + slack


def _span(reached: float, mark: float, shortest: float, fineness: float) -> list[float]:
    """Return growing steps from one time to the next, scaled to land on it."""
    steps: list[float] = []
    now = reached
    while now < mark * (1.0 - SAME):
        steps.append(max(FIRST_STEP_SHARE * shortest, STEP_SHARE * now) / fineness)
        now += steps[-1]
    scale = (mark - reached) / math.fsum(steps)
    return [step * scale for step in steps]


def _depths(diffusion_s: float, time_s: float, wanted: set[float], fineness: float) -> Real:
    """Return the depths of a layer's nodes: cells grow from both faces to the middle."""
    coarse = min(fineness, 1.0)
    first = CELL_SHARE / coarse * math.sqrt(time_s / diffusion_s)
    count = math.log1p(0.5 * (CELL_GROWTH - 1.0) / first) / math.log(CELL_GROWTH)
    least = math.ceil(LEAST_CELLS * coarse)
    cells = min(max(math.ceil(count), least), MOST_CELLS)
    growth = CELL_GROWTH if cells > least else 1.0
    fine = max(1, round(fineness))
    sizes = np.repeat(growth ** np.arange(cells, dtype=np.float64), fine) / fine
    half = np.concatenate([[0.0], np.cumsum(sizes)]) * (0.5 / (sizes.sum()))
    depths = np.concatenate([half, 1.0 - half[-2::-1]])
    for depth in sorted(wanted):
        nearest = int(np.argmin(np.abs(depths - depth)))
        if abs(depths[nearest] - depth) > SAME:
            depths = np.insert(depths, int(np.searchsorted(depths, depth)), depth)
    return depths
