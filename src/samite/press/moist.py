"""Transient heat and moisture through many stacks at once."""

from __future__ import annotations

import math
from dataclasses import dataclass, fields
from typing import TYPE_CHECKING

import numpy as np

from samite.kernel.errors import InputError, OutOfRangeError
from samite.press._moist_scheme import (
    LANES,
    LEAST_REGAIN,
    REGAIN_SHAPE,
    SORPTION_FALL,
    SORPTION_J_KG,
    WATER_J_KGK,
)

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    Real = NDArray[np.float64]
    Whole = NDArray[np.int64]

MM = 1.0e-3

SEALED = 0.0
"""Vapour permeance of a sole [kg/(m2 s Pa)]."""

FIXED_J_M2K = 1.0e15
"""Heat capacity that stands for a temperature that nothing moves [J/(m2 K)]."""

DOSE_FROM_C = 200.0
DOSE_PER_K = 12.0
"""Doses count seconds at this temperature, doubled by this rise, where none is given."""

FIRST_STEP_S = 1.0e-4
TOLERANCE_C = 0.05


@dataclass(frozen=True, slots=True, eq=False)
class MoistLayers:
    """Layers of many stacks, the iron's side first; every number is one a draw and layer.

    Parameters
    ----------
    thickness_mm : ndarray of float, shape (draws, layers)
        Thickness [mm].
    conductivity_w_mk : ndarray of float, shape (draws, layers)
        Conductivity of the dry layer [W/(m K)].
    wetting_w_mk : ndarray of float, shape (draws, layers)
        Rise of conductivity per kg of water in a kg of dry mass [W/(m K)].
    dry_mass_kg_m2 : ndarray of float, shape (draws, layers)
        Dry mass per area [kg/m2].
    heat_capacity_j_m2k : ndarray of float, shape (draws, layers)
        Heat capacity per area of the dry layer [J/(m2 K)].
    regain_kg_kg : ndarray of float, shape (draws, layers)
        Water at 65 % relative humidity per dry mass [kg/kg].
    permeability_kg_mspa : ndarray of float, shape (draws, layers)
        Vapour permeability [kg/(m s Pa)].
    escape_kg_m2spa : ndarray of float, shape (draws, layers)
        What escapes sideways per area and pressure over the room's [kg/(m2 s Pa)].
    wicking_kg_ms : ndarray of float, shape (draws, layers)
        Flow of free water per kg/kg and distance [kg/(m s)].
    contact_w_m2k : ndarray of float, shape (draws, layers - 1)
        Conductance between neighbours, dry [W/(m2 K)].
    contact_wetting_w_m2k : ndarray of float, shape (draws, layers - 1)
        Its rise per kg of water in a kg of dry mass [W/(m2 K)].
    contact_permeance_kg_m2spa : ndarray of float, shape (draws, layers - 1)
        Vapour permeance between neighbours [kg/(m2 s Pa)].
    contact_wicking_kg_m2s : ndarray of float, shape (draws, layers - 1)
        Flow of free water between neighbours per kg/kg [kg/(m2 s)].
    """

    thickness_mm: Real
    conductivity_w_mk: Real
    wetting_w_mk: Real
    dry_mass_kg_m2: Real
    heat_capacity_j_m2k: Real
    regain_kg_kg: Real
    permeability_kg_mspa: Real
    escape_kg_m2spa: Real
    wicking_kg_ms: Real
    contact_w_m2k: Real
    contact_wetting_w_m2k: Real
    contact_permeance_kg_m2spa: Real
    contact_wicking_kg_m2s: Real


@dataclass(frozen=True, slots=True, eq=False)
class Above:
    """What the stack meets on top; one number a draw, or one for all.

    Parameters
    ----------
    temperature_c : float or ndarray of float, shape (draws,)
        Sole or air at the start [C].
    conductance_w_m2k : float or ndarray of float, shape (draws,)
        To it, dry [W/(m2 K)].
    wetting_w_m2k : float or ndarray of float, shape (draws,)
        Rise of that per kg of water in a kg of the top layer [W/(m2 K)].
    heat_capacity_j_m2k : float or ndarray of float, shape (draws,)
        Of the sole, per area [J/(m2 K)].
    set_c : float or ndarray of float, shape (draws,) or None
        Where the thermostat brings it back to [C]; None for where it starts.
    recovery_s : float or ndarray of float, shape (draws,)
        How fast [s]; infinite for not at all.
    permeance_kg_m2spa : float or ndarray of float, shape (draws,)
        Vapour permeance to the air; 0 under a sole [kg/(m2 s Pa)].
    vapour_pa : float or ndarray of float, shape (draws,)
        Vapour pressure of that air [Pa].
    steam_kg_m2s : float or ndarray of float, shape (draws,)
        Steam blown into the top [kg/(m2 s)].
    """

    temperature_c: float | Real
    conductance_w_m2k: float | Real
    wetting_w_m2k: float | Real = 0.0
    heat_capacity_j_m2k: float | Real = FIXED_J_M2K
    set_c: float | Real | None = None
    recovery_s: float | Real = np.inf
    permeance_kg_m2spa: float | Real = SEALED
    vapour_pa: float | Real = 0.0
    steam_kg_m2s: float | Real = 0.0


@dataclass(frozen=True, slots=True, eq=False)
class Below:
    """What lies under the stack; one number a draw, or one for all.

    Parameters
    ----------
    temperature_c : float or ndarray of float, shape (draws,)
        Temperature [C].
    conductance_w_m2k : float or ndarray of float, shape (draws,)
        To it [W/(m2 K)]; 0 insulates.
    permeance_kg_m2spa : float or ndarray of float, shape (draws,)
        Vapour permeance to it [kg/(m2 s Pa)].
    vapour_pa : float or ndarray of float, shape (draws,)
        Vapour pressure there [Pa].
    """

    temperature_c: float | Real
    conductance_w_m2k: float | Real
    permeance_kg_m2spa: float | Real = 0.0
    vapour_pa: float | Real = 0.0


@dataclass(frozen=True, slots=True, eq=False)
class Network:
    """Nodes of many stacks, the draws innermost and padded to whole lanes.

    Parameters
    ----------
    draws : int
        How many stacks.
    depths : tuple of ndarray of float
        Depths of the nodes of each layer, 0 to 1 [-].
    dry, capacity, regain, escape : ndarray of float, shape (nodes, padded)
        Dry mass [kg/m2], dry heat capacity [J/(m2 K)], regain [kg/kg], escape [kg/(m2 s Pa)].
    link, wetting, permeance, wick : ndarray of float, shape (nodes - 1, padded)
        Conductance and its rise per water [W/(m2 K)], vapour permeance [kg/(m2 s Pa)], flow of
        free water per kg/kg [kg/(m2 s)].
    """

    draws: int
    depths: tuple[Real, ...]
    dry: Real
    capacity: Real
    regain: Real
    escape: Real
    link: Real
    wetting: Real
    permeance: Real
    wick: Real

    @property
    def firsts(self) -> tuple[int, ...]:
        """First node of each layer, and the number of nodes."""
        return tuple(int(n) for n in np.cumsum([0, *(len(d) for d in self.depths)]))

    @property
    def layer_of(self) -> Whole:
        """Layer of each node, shape (nodes,)."""
        return np.repeat(np.arange(len(self.depths)), [len(d) for d in self.depths])

    def nodes_of(self, layer: int) -> slice:
        """Return the nodes of a layer.

        Parameters
        ----------
        layer : int
            The layer.

        Returns
        -------
        slice
            Its nodes.
        """
        return slice(self.firsts[layer], self.firsts[layer + 1])

    def node_at(self, layer: int, depth: float) -> int:
        """Return the node nearest to a depth of a layer.

        Parameters
        ----------
        layer : int
            The layer.
        depth : float
            Depth, 0 on the iron's side [-].

        Returns
        -------
        int
            The node.
        """
        return self.firsts[layer] + int(np.argmin(np.abs(self.depths[layer] - depth)))

    def temperature_of(self, state: MoistState) -> Real:
        """Return the temperatures of a state.

        Parameters
        ----------
        state : MoistState
            The state.

        Returns
        -------
        ndarray of float, shape (nodes, padded)
            Temperatures [C].
        """
        held = state.water_kg_m2 / self.dry
        bound = SORPTION_J_KG * held / (1.0 + held / self.regain / SORPTION_FALL)
        warm = self.capacity + WATER_J_KGK * state.water_kg_m2
        return np.asarray((state.heat_j_m2 + self.dry * bound) / warm)

    def row(self, number: float | Real) -> Real:
        """Return one number a draw, the padding like the last.

        Parameters
        ----------
        number : float or ndarray of float, shape (draws,)
            The number.

        Returns
        -------
        ndarray of float, shape (padded,)
            One a lane.
        """
        return _padded(np.broadcast_to(np.asarray(number, dtype=np.float64), (self.draws,)))


@dataclass(frozen=True, slots=True, eq=False)
class MoistState:
    """Heat and water of all stacks at one moment.

    Parameters
    ----------
    heat_j_m2 : ndarray of float, shape (nodes, padded)
        Enthalpy, that of liquid water at 0 C being 0 [J/m2].
    water_kg_m2 : ndarray of float, shape (nodes, padded)
        Water [kg/m2].
    peak_c : ndarray of float, shape (layers, padded)
        Hottest so far [C].
    dose_s : ndarray of float, shape (layers, padded)
        Time-temperature dose so far [s].
    """

    heat_j_m2: Real
    water_kg_m2: Real
    peak_c: Real
    dose_s: Real


@dataclass(frozen=True, slots=True, eq=False)
class MoistHistory:
    """What happened in one phase.

    Parameters
    ----------
    temperature_c : ndarray of float, shape (times, nodes, draws)
        Temperatures [C].
    water_kg_m2 : ndarray of float, shape (times, nodes, draws)
        Water [kg/m2].
    peak_c : ndarray of float, shape (times, layers, draws)
        Hottest so far [C].
    dose_s : ndarray of float, shape (times, layers, draws)
        Dose so far [s].
    sole_c : ndarray of float, shape (times, draws)
        Sole [C].
    states : tuple of MoistState
        State at each time.
    steps : int
        Steps taken, over all groups of stacks.
    refused : int
        Steps taken back.
    """

    temperature_c: Real
    water_kg_m2: Real
    peak_c: Real
    dose_s: Real
    sole_c: Real
    states: tuple[MoistState, ...]
    steps: int
    refused: int


CELL_REACH = 0.25
"""A cell over the diffusion length of one second [-]."""

FEWEST_CELLS = 3
MOST_CELLS = 40
GROWTH = 1.4
"""Each cell over its neighbour nearer to the cloth, in layers that reach far [-]."""


def build_network(layers: MoistLayers, grading: Sequence[int], *, fineness: float = 1.0) -> Network:
    """Place the nodes and find what lies at and between them.

    Parameters
    ----------
    layers : MoistLayers
        The layers.
    grading : sequence of int
        For each layer 0 for even cells, 1 for cells that grow downwards, -1 upwards [-].
    fineness : float
        2 halves the cells [-].

    Returns
    -------
    Network
        The nodes.

    Raises
    ------
    InputError
        If shapes do not fit.
    OutOfRangeError
        If a property is not finite, or not positive where it must be.
    """
    _check_layers(layers, grading)
    draws, count = layers.thickness_mm.shape
    alpha = layers.conductivity_w_mk * layers.thickness_mm * MM / layers.heat_capacity_j_m2k
    reach = np.median(layers.thickness_mm * MM / np.sqrt(alpha), axis=0)
    depths = tuple(_depths(float(reach[i]), grading[i], fineness) for i in range(count))
    shares = [_shares(depth) for depth in depths]

    def spread(values: Real) -> Real:
        columns = [np.outer(shares[i], values[:, i]) for i in range(count)]
        return _padded(np.concatenate(columns))

    def even(values: Real) -> Real:
        columns = [np.tile(values[:, i], (len(depths[i]), 1)) for i in range(count)]
        return _padded(np.concatenate(columns))

    def between(inside: Real, across: Real) -> Real:
        rows: list[Real] = []
        for i in range(count):
            wide = np.diff(depths[i])[:, np.newaxis] * (layers.thickness_mm[:, i] * MM)
            rows.append(inside[:, i] / wide)
            if i < count - 1:
                rows.append(across[np.newaxis, :, i])
        return _padded(np.concatenate(rows))

    return Network(
        draws=draws,
        depths=depths,
        dry=spread(layers.dry_mass_kg_m2),
        capacity=spread(layers.heat_capacity_j_m2k),
        regain=np.maximum(even(layers.regain_kg_kg), LEAST_REGAIN),
        escape=spread(layers.escape_kg_m2spa),
        link=between(layers.conductivity_w_mk, layers.contact_w_m2k),
        wetting=between(layers.wetting_w_mk, layers.contact_wetting_w_m2k),
        permeance=between(layers.permeability_kg_mspa, layers.contact_permeance_kg_m2spa),
        wick=between(layers.wicking_kg_ms, layers.contact_wicking_kg_m2s),
    )


def _depths(reach: float, grading: int, fineness: float) -> Real:
    """Return depths of the nodes; `reach` is thickness over the diffusion length of a second."""
    wanted = reach / CELL_REACH * fineness
    if not grading:
        cells = min(
            max(math.ceil(wanted), math.ceil(FEWEST_CELLS * min(fineness, 1e9))), MOST_CELLS
        )
        return np.linspace(0.0, 1.0, cells + 1)
    growth = GROWTH ** (1.0 / max(fineness, 0.25))
    cells = max(math.ceil(math.log1p(wanted * (growth - 1.0)) / math.log(growth)), FEWEST_CELLS)
    sizes = growth ** np.arange(cells)
    depth = np.concatenate([[0.0], np.cumsum(sizes) / sizes.sum()])
    return depth if grading > 0 else 1.0 - depth[::-1]


def _shares(depths: Real) -> Real:
    """Return the share of a layer that each of its nodes stands for."""
    wide = np.diff(depths)
    return 0.5 * (np.append(wide, 0.0) + np.insert(wide, 0, 0.0))


def _padded(rows: Real) -> Real:
    lanes = -rows.shape[-1] % LANES
    width = [(0, 0)] * (rows.ndim - 1) + [(0, lanes)]
    return np.ascontiguousarray(np.pad(rows, width, mode="edge"))


def regain_at(humidity: float | Real) -> Real:
    """Return the water that cloth holds in air, in regains at 65 % relative humidity.

    Parameters
    ----------
    humidity : float or ndarray of float, any shape
        Relative humidity, 0 to 1 [-].

    Returns
    -------
    ndarray of float, same shape
        Regain over that at 65 % [-].

    Notes
    -----
    One curve for all fibres, scaled by the regain at 65 %; within 15 % for wool and cotton between
    20 and 90 %, without hysteresis.

    References
    ----------
    gibson-1996, regain curve.
    """
    phi = np.asarray(humidity, dtype=np.float64)
    factor, dry_pole, wet_pole = REGAIN_SHAPE
    return np.asarray(factor * phi * (1.0 / (dry_pole + phi) + 1.0 / (wet_pole - phi)))


def sorption_heat(water_in_regains: float | Real) -> Real:
    """Return the heat of sorption, on top of vaporisation.

    Parameters
    ----------
    water_in_regains : float or ndarray of float, any shape
        Water over the regain at 65 % relative humidity [-].

    Returns
    -------
    ndarray of float, same shape
        Heat of the next water that is taken up [J/kg].

    Notes
    -----
    h0 / (1 + u/0.85)^2, fitted to the published curve within 0.05 kJ/g; one curve for all fibres.

    References
    ----------
    gibson-1996, heat of sorption against humidity.
    """
    water = np.asarray(water_in_regains, dtype=np.float64)
    return np.asarray(SORPTION_J_KG / (1.0 + water / SORPTION_FALL) ** 2)


def rest_state(
    network: Network, temperature_c: float | Real, water_kg_kg: float | Real
) -> MoistState:
    """Return the state of stacks that lie at rest.

    Parameters
    ----------
    network : Network
        The nodes.
    temperature_c : float or ndarray of float, shape (draws,) or (draws, layers)
        Temperature [C].
    water_kg_kg : float or ndarray of float, shape (draws, layers)
        Water per dry mass [kg/kg].

    Returns
    -------
    MoistState
        Even within each layer, nothing pressed yet.
    """
    count = len(network.depths)
    warm = np.asarray(temperature_c, dtype=np.float64)
    table = np.broadcast_to(warm if warm.ndim == 2 else warm.reshape(-1, 1), (network.draws, count))
    held = np.broadcast_to(np.asarray(water_kg_kg, dtype=np.float64), (network.draws, count))
    temperature = _padded(table[:, network.layer_of].T)
    water = _padded(held[:, network.layer_of].T) * network.dry
    peak = _padded(np.ascontiguousarray(table.T))
    return MoistState(heat_of(network, temperature, water), water, peak, np.zeros_like(peak))


def heat_of(network: Network, temperature_c: Real, water_kg_m2: Real) -> Real:
    """Return the enthalpy of nodes.

    Parameters
    ----------
    network : Network
        The nodes.
    temperature_c : ndarray of float, shape (nodes, padded)
        Temperature [C].
    water_kg_m2 : ndarray of float, shape (nodes, padded)
        Water [kg/m2].

    Returns
    -------
    ndarray of float, shape (nodes, padded)
        Enthalpy, that of liquid water at 0 C being 0 [J/m2].
    """
    held = water_kg_m2 / network.dry
    bound = SORPTION_J_KG * held / (1.0 + held / network.regain / SORPTION_FALL)
    warm = network.capacity + WATER_J_KGK * water_kg_m2
    return np.asarray(warm * temperature_c - network.dry * bound)


def advance(
    network: Network,
    state: MoistState,
    above: Above,
    below: Below,
    times_s: Sequence[float],
    *,
    dose_from_c: Sequence[float] | None = None,
    dose_per_k: Sequence[float] | None = None,
    tolerance_c: float = TOLERANCE_C,
) -> MoistHistory:
    """Return what happens while what the stacks meet does not change.

    Parameters
    ----------
    network : Network
        The nodes.
    state : MoistState
        Where it starts.
    above : Above
        Sole or air on top.
    below : Below
        What lies under.
    times_s : sequence of float
        Rising times from the start of this phase, above 0 [s].
    dose_from_c : sequence of float or None
        For each layer, the temperature at which a second counts as one [C].
    dose_per_k : sequence of float or None
        For each layer, the rise that doubles it [K].
    tolerance_c : float
        Error allowed a step [K].

    Returns
    -------
    MoistHistory
        Temperatures, water, peaks, doses and states at the times.

    Raises
    ------
    InputError
        If the times do not rise from above 0.
    """
    from samite.press._moist_kernel import march

    times = np.asarray(times_s, dtype=np.float64)
    if not times.size or times[0] <= 0.0 or (np.diff(times) <= 0.0).any():
        raise InputError("the times do not rise from above 0", "times_s", "give rising seconds")
    count, padded = state.heat_j_m2.shape
    layers = len(network.depths)
    peak, dose = (np.empty((times.size + 1, layers, padded)) for _ in range(2))
    peak[0], dose[0] = state.peak_c, state.dose_s
    temp, heat, water = (np.empty((times.size, count, padded)) for _ in range(3))
    sole_out = np.empty((times.size, padded))
    tally = np.zeros(2, dtype=np.int64)
    sole = network.row(above.temperature_c).copy()
    march(
        state.heat_j_m2.copy(),
        state.water_kg_m2.copy(),
        sole,
        network.dry,
        network.capacity,
        network.regain,
        network.link,
        network.wetting,
        network.permeance,
        network.wick,
        network.escape,
        _top(network, above),
        np.stack(
            [
                network.row(number)
                for number in (
                    below.conductance_w_m2k,
                    below.temperature_c,
                    below.permeance_kg_m2spa,
                    below.vapour_pa,
                )
            ]
        ),
        times,
        FIRST_STEP_S,
        tolerance_c,
        network.layer_of,
        np.asarray(dose_from_c if dose_from_c is not None else [DOSE_FROM_C] * layers, np.float64),
        np.asarray(dose_per_k if dose_per_k is not None else [DOSE_PER_K] * layers, np.float64),
        peak,
        dose,
        temp,
        heat,
        water,
        sole_out,
        tally,
    )
    kept = slice(0, network.draws)
    states = tuple(
        MoistState(heat[i], water[i], peak[i + 1], dose[i + 1]) for i in range(times.size)
    )
    return MoistHistory(
        temp[..., kept], water[..., kept], peak[1:, :, kept], dose[1:, :, kept],
        sole_out[:, kept], states, int(tally[0]), int(tally[1]),
    )  # fmt: skip


def _top(network: Network, above: Above) -> Real:
    start = above.temperature_c
    numbers = (
        above.conductance_w_m2k,
        above.wetting_w_m2k,
        above.heat_capacity_j_m2k,
        start if above.set_c is None else above.set_c,
        1.0 / np.asarray(above.recovery_s, dtype=np.float64),
        above.permeance_kg_m2spa,
        above.vapour_pa,
        above.steam_kg_m2s,
    )
    return np.stack([network.row(number) for number in numbers])


def _check_layers(layers: MoistLayers, grading: Sequence[int]) -> None:
    shape = layers.thickness_mm.shape
    if len(shape) != 2 or 0 in shape:
        raise InputError("no draws or no layers", "thickness_mm", "give shape (draws, layers)")
    if len(grading) != shape[1]:
        raise InputError(f"{len(grading)} gradings for {shape[1]} layers", "grading", "one a layer")
    above_zero = ("thickness_mm", "conductivity_w_mk", "dry_mass_kg_m2", "heat_capacity_j_m2k")
    for field in fields(MoistLayers):
        values = getattr(layers, field.name)
        wanted = (shape[0], shape[1] - 1) if field.name.startswith("contact") else shape
        if values.shape != wanted:
            raise InputError(f"its shape is not {wanted}", field.name, "give one number a draw")
        least = values.min(initial=np.inf)
        if (
            not np.isfinite(values).all()
            or least < 0.0
            or (least <= 0.0 and field.name in above_zero)
        ):
            raise OutOfRangeError(
                "a number is negative or not finite", field.name, "check the numbers"
            )
