"""Transient conduction through many stacks at once, while the boundary changes by phases.

Finite volumes with nodes on the faces of the layers, second order in depth; TR-BDF2 in time,
second order and L-stable, with steps that start small after every change of the boundary.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from samite.kernel.errors import InputError, OutOfRangeError
from samite.press._scheme import WATER_J_KGK, WIDTH
from samite.press.grid import SAME, FaceGrid, Slab, Steps, plan_grid, plan_steps, shortest_time
from samite.press.layers import MM, ReadingPlace

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    Real = NDArray[np.float64]

SLOW_SHARE = 0.95
"""Share of the draws whose diffusion lengths the grid is fine enough for [-]."""

PERFECT_W_M2K = 1.0e12
"""What stands for an infinite conductance [W/(m2 K)]."""


@dataclass(frozen=True, slots=True, eq=False)
class Phase:
    """A span of time in which what the stack meets on top does not change.

    Parameters
    ----------
    dwell_time_s : float
        How long it lasts [s].
    surrounding_c : float or ndarray of float, shape (draws,)
        Temperature of the sole or the air [C].
    conductance_w_m2k : float or ndarray of float, shape (draws,)
        To the sole or the air [W/(m2 K)]; 0 for none, infinite for a held face.
    body_conductance_w_m2k : float or ndarray of float, shape (draws,)
        To the body laid on top, a clapper [W/(m2 K)]; 0 while it is not there.
    """

    dwell_time_s: float
    surrounding_c: float | Real
    conductance_w_m2k: float | Real
    body_conductance_w_m2k: float | Real = 0.0


@dataclass(frozen=True, slots=True, eq=False)
class Body:
    """A slab that some phases lay on top, at its own temperature until then.

    Parameters
    ----------
    thickness_mm : float or ndarray of float, shape (draws,)
        Thickness [mm]; its back is insulated.
    conductivity_w_mk : float or ndarray of float, shape (draws,)
        Conductivity [W/(m K)].
    heat_capacity_j_m3k : float or ndarray of float, shape (draws,)
        Heat capacity by volume [J/(m3 K)].
    start_c : float or ndarray of float, shape (draws,)
        Temperature before it is laid on [C].
    """

    thickness_mm: float | Real
    conductivity_w_mk: float | Real
    heat_capacity_j_m3k: float | Real
    start_c: float | Real


@dataclass(frozen=True, slots=True, eq=False)
class Batch:
    """Stacks with the same layers and different numbers, the iron's side first.

    Parameters
    ----------
    thickness_mm : ndarray of float, shape (draws, layers)
        Thickness [mm].
    conductivity_w_mk : ndarray of float, shape (draws, layers)
        Conductivity [W/(m K)].
    heat_capacity_j_m3k : ndarray of float, shape (draws, layers)
        Heat capacity by volume, water included [J/(m3 K)].
    start_c : float or ndarray of float, shape (draws,) or (draws, layers)
        Temperature at the start [C].
    bottom_c : float or ndarray of float, shape (draws,)
        Temperature under the last layer [C].
    bottom_conductance_w_m2k : float or ndarray of float, shape (draws,)
        To it [W/(m2 K)]; 0 insulates, infinite holds the face.
    contact_w_m2k : float or ndarray of float, shape (draws, layers - 1), or None
        Conductance between neighbours [W/(m2 K)]; None where all touch perfectly.
    body : Body or None
        What some phases lay on top.
    water_kg_m2 : ndarray of float, shape (draws, layers), or None
        Water in each layer at the start, spread evenly [kg/m2]; it boils off at 100 C.
    """

    thickness_mm: Real
    conductivity_w_mk: Real
    heat_capacity_j_m3k: Real
    start_c: float | Real
    bottom_c: float | Real
    bottom_conductance_w_m2k: float | Real
    contact_w_m2k: float | Real | None = None
    body: Body | None = None
    water_kg_m2: Real | None = None


@dataclass(frozen=True, slots=True, eq=False)
class BatchSolution:
    """Histories of all stacks.

    Parameters
    ----------
    temperature_c : ndarray of float, shape (draws, times, places)
        Temperatures [C].
    peak_c : ndarray of float, shape (draws, times, layers)
        Hottest so far at the hottest depth of each layer [C], the start included.
    water_kg_m2 : ndarray of float, shape (draws, times, layers)
        Water left in each layer [kg/m2].
    steps : int
        How many steps were taken.
    nodes : int
        How many nodes a stack has, the body's included.
    """

    temperature_c: Real
    peak_c: Real
    water_kg_m2: Real
    steps: int
    nodes: int


def solve_batch(
    batch: Batch,
    phases: Sequence[Phase],
    times_s: Sequence[float],
    places: Sequence[ReadingPlace],
    *,
    fineness: float = 1.0,
    step_fineness: float | None = None,
) -> BatchSolution:
    """Return the temperature histories of many stacks.

    Parameters
    ----------
    batch : Batch
        The stacks.
    phases : sequence of Phase
        What they meet on top, one after another from time 0 on.
    times_s : sequence of float
        Rising times to read at [s], up to the end of the last phase.
    places : sequence of ReadingPlace
        Where to read.
    fineness : float
        2 halves every cell and every step, 0.5 doubles them [-].
    step_fineness : float or None
        The same for the steps alone, where water boils off; None as `fineness` [-].

    Returns
    -------
    BatchSolution
        Temperatures and running peaks.

    Raises
    ------
    InputError
        If shapes do not fit, times do not rise or run beyond the phases, or there are no phases.
    OutOfRangeError
        If a property is not positive or a number not finite.

    Notes
    -----
    One grid and one row of steps for all stacks, chosen from the slowest layers and the first
    time read; a quarter of the error goes with each doubling of `fineness`. At 1 the error is
    about 0.05 % of the range of temperatures at the first time read, and less later. Water
    boils off at 100 C by a split step, first order in the step, and the vapour leaves.

    References
    ----------
    derivation, docs/models/press.md; TR-BDF2 after Bank and others, IEEE Trans. Electron Devices
    32, 1992 (1985), from memory.
    """
    draws, layers = _check_batch(batch)
    _check_phases(phases, times_s, draws)
    for place in places:
        if place.layer >= layers:
            raise InputError(f"there is no layer {place.layer}", "places", f"there are {layers}")
    durations = [phase.dwell_time_s for phase in phases]
    steps = plan_steps(durations, times_s, step_fineness or fineness)
    grid = plan_grid(
        _slowest(batch),
        shortest_time(durations, times_s),
        places,
        fineness,
        merged=batch.contact_w_m2k is None,
        body_diffusion_time_s=None if batch.body is None else float(_slowest(batch.body)),
    )
    return _march(_Network(batch, grid), phases, steps, times_s, places)


class _Network:
    """Capacities, conductances and start temperatures on the grid, the draws innermost."""

    def __init__(self, batch: Batch, grid: FaceGrid) -> None:
        self.grid = grid
        self.draws = batch.thickness_mm.shape[0]
        self.padded = -(-self.draws // WIDTH) * WIDTH
        self.capacity = np.zeros((grid.nodes, self.padded))
        self.conductance = np.zeros((grid.nodes - 1, self.padded))
        self.start = np.zeros((grid.nodes, self.padded))
        wet_nodes = 0 if batch.water_kg_m2 is None else grid.nodes
        self.water = np.zeros((2, wet_nodes, self.padded if wet_nodes else 0))
        self.bottom_w_m2k = self.row(batch.bottom_conductance_w_m2k)
        self.bottom_c = self.row(batch.bottom_c)
        self._fill(batch)
        self.start /= self.capacity

    def row(self, number: float | Real) -> Real:
        """Return one number a draw; the padding repeats the last draw."""
        row = np.broadcast_to(np.asarray(number, dtype=np.float64), (self.draws,))
        return np.minimum(np.pad(row, (0, self.padded - self.draws), mode="edge"), PERFECT_W_M2K)

    def _fill(self, batch: Batch) -> None:
        layers = batch.thickness_mm.shape[1]
        starts = np.asarray(batch.start_c, dtype=np.float64)
        if starts.ndim < 2:
            starts = np.broadcast_to(starts.reshape(-1, 1), (self.draws, layers))
        for index, slab in enumerate(self.grid.layers):
            self._slab(
                slab,
                batch.thickness_mm[:, index],
                batch.conductivity_w_mk[:, index],
                batch.heat_capacity_j_m3k[:, index],
                starts[:, index],
            )
            if batch.water_kg_m2 is not None:
                self._soak(slab, index % 2, batch.water_kg_m2[:, index], starts[:, index])
        if batch.contact_w_m2k is not None:
            contacts = np.broadcast_to(batch.contact_w_m2k, (self.draws, layers - 1))
            for index, slab in enumerate(self.grid.layers[1:]):
                self.conductance[slab.first - 1] = self.row(contacts[:, index])
        body = batch.body
        if body is not None and self.grid.body is not None:
            self._slab(
                self.grid.body,
                body.thickness_mm,
                body.conductivity_w_mk,
                body.heat_capacity_j_m3k,
                body.start_c,
            )

    def _soak(self, slab: Slab, side: int, water_kg_m2: Real, start_c: Real) -> None:
        """Spread a layer's water over its nodes; it counts as heat capacity too."""
        half = 0.5 * np.diff(slab.depths)[:, np.newaxis] * self.row(water_kg_m2)
        for part in (slice(slab.first, slab.last), slice(slab.first + 1, slab.last + 1)):
            self.water[side, part] += half
            self.capacity[part] += WATER_J_KGK * half
            self.start[part] += WATER_J_KGK * half * self.row(start_c)

    def _slab(
        self,
        slab: Slab,
        thickness_mm: float | Real,
        conductivity_w_mk: float | Real,
        heat_capacity_j_m3k: float | Real,
        start_c: float | Real,
    ) -> None:
        """Add a slab; a node that two layers share starts at their mean by capacity."""
        wide = np.diff(slab.depths)[:, np.newaxis] * (self.row(thickness_mm) * MM)
        half = 0.5 * wide * self.row(heat_capacity_j_m3k)
        upper, lower = slice(slab.first, slab.last), slice(slab.first + 1, slab.last + 1)
        self.conductance[upper] = self.row(conductivity_w_mk) / wide
        for side in (upper, lower):
            self.capacity[side] += half
            self.start[side] += half * self.row(start_c)


def _march(
    network: _Network,
    phases: Sequence[Phase],
    steps: Steps,
    times_s: Sequence[float],
    places: Sequence[ReadingPlace],
) -> BatchSolution:
    from samite.press._kernels import march

    grid = network.grid
    nodes = np.array([grid.layers[p.layer].node_at(p.depth) for p in places], dtype=np.int64)
    recorded = np.empty((network.padded, len(times_s), len(places)))
    peak = np.full((network.padded, len(times_s), len(grid.layers)), -np.inf)
    water = np.zeros((network.padded, len(times_s), len(grid.layers)))
    for row in (row for row, time in enumerate(times_s) if time <= 0.0):
        recorded[:, row, :] = network.start[nodes].T
        for index, slab in enumerate(grid.layers if network.water.size else ()):
            part = slice(slab.first, slab.last + 1)
            water[:, row, index] = network.water[index % 2, part].sum(axis=0)
        for index, slab in enumerate(grid.layers):
            peak[:, row, index] = network.start[slab.first : slab.last + 1].max(axis=0)
    march(
        network.start.copy(),
        network.capacity,
        network.conductance,
        -1 if grid.body is None else grid.body.last,
        np.stack([network.row(phase.body_conductance_w_m2k) for phase in phases]),
        grid.layers[0].first,
        np.stack([network.row(phase.conductance_w_m2k) for phase in phases]),
        np.stack([network.row(phase.surrounding_c) for phase in phases]),
        network.bottom_w_m2k,
        network.bottom_c,
        steps.step_s,
        steps.phase,
        steps.record,
        nodes,
        grid.layer_of,
        recorded,
        peak,
        network.water,
        water,
    )
    draws = network.draws
    taken = len(steps.step_s)
    return BatchSolution(recorded[:draws], peak[:draws], water[:draws], taken, grid.nodes)


def _slowest(slab: Batch | Body) -> Real:
    """Return the diffusion time [s] that all but the slowest draws stay below."""
    depth = np.asarray(slab.thickness_mm) * MM
    spread = np.asarray(slab.conductivity_w_mk) / np.asarray(slab.heat_capacity_j_m3k)
    times: Real = np.quantile(np.atleast_1d(depth**2 / spread), SLOW_SHARE, axis=0)
    return times


def _check_batch(batch: Batch) -> tuple[int, int]:
    shape = batch.thickness_mm.shape
    if len(shape) != 2 or 0 in shape:
        raise InputError("no draws or no layers", "thickness_mm", "give shape (draws, layers)")
    for name in ("conductivity_w_mk", "heat_capacity_j_m3k"):
        if getattr(batch, name).shape != shape:
            raise InputError("its shape is not that of thickness_mm", name, f"give shape {shape}")
    slabs = [batch] if batch.body is None else [batch, batch.body]
    for slab in slabs:
        for name in ("thickness_mm", "conductivity_w_mk", "heat_capacity_j_m3k"):
            _check_all(getattr(slab, name), name, above=True)
    _check_fits(batch.start_c, "start_c", (shape, shape[:1], ()))
    _check_fits(batch.bottom_c, "bottom_c", (shape[:1], ()))
    _check_fits(batch.bottom_conductance_w_m2k, "bottom_conductance_w_m2k", (shape[:1], ()))
    _check_all(batch.bottom_conductance_w_m2k, "bottom_conductance_w_m2k", infinite=True)
    if batch.contact_w_m2k is not None:
        _check_all(batch.contact_w_m2k, "contact_w_m2k", above=True, infinite=True)
        _check_fits(batch.contact_w_m2k, "contact_w_m2k", ((shape[0], shape[1] - 1), ()))
    return shape


def _check_phases(phases: Sequence[Phase], times_s: Sequence[float], draws: int) -> None:
    if not phases or not times_s:
        raise InputError("no phase or no time is given", "phases", "give one or more of each")
    for phase in phases:
        _check_all(phase.dwell_time_s, "dwell_time_s", above=True)
        for name in ("conductance_w_m2k", "body_conductance_w_m2k"):
            _check_fits(getattr(phase, name), name, ((draws,), ()))
            _check_all(getattr(phase, name), name, infinite=True)
        _check_fits(phase.surrounding_c, "surrounding_c", ((draws,), ()))
    end = sum(phase.dwell_time_s for phase in phases)
    rising = all(late > early for early, late in itertools.pairwise(times_s))
    if not rising or times_s[0] < 0.0 or times_s[-1] > end * (1.0 + SAME):
        raise InputError(
            "the times do not rise from 0 to the end of the last phase",
            "times_s",
            f"give rising times up to {end:g} s",
        )


def _check_fits(number: float | Real, name: str, shapes: Sequence[tuple[int, ...]]) -> None:
    if np.shape(number) not in shapes:
        wanted = " or ".join(str(shape) for shape in shapes)
        raise InputError(f"shape {np.shape(number)} does not fit", name, f"give shape {wanted}")
    if np.any(np.isnan(number)):
        raise OutOfRangeError("a number is missing", name, "give numbers, never NaN")


def _check_all(
    number: float | Real, name: str, *, above: bool = False, infinite: bool = False
) -> None:
    values = np.asarray(number)
    low = values > 0.0 if above else values >= 0.0
    if not np.all(low) or not (infinite or np.all(np.isfinite(values))):
        kind = "above 0" if above else "0 or more"
        raise OutOfRangeError(f"a number is not {kind}", name, "check the draws")
