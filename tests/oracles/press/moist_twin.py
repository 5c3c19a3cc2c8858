"""A slow and readable twin of the solver of heat and water, on the written equations alone.

Nodes at equal distances, one on each face of a layer, crowded to the faces of a thick slab; scipy
marches them. The state is the enthalpy
and the water of every node per kilogram of dry cloth, and the temperature of the sole.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

import numpy as np
from iapws import iapws97
from scipy.integrate import solve_ivp
from scipy.interpolate import CubicSpline
from scipy.sparse import csc_array, lil_array
from tests.oracles.press.moist_problem import (
    Air,
    Clapper,
    MoistAnswer,
    MoistCase,
    MoistContact,
    MoistLayer,
    Sole,
    Top,
)

WATER_HEAT = 4180.0
SORPTION_HEAT = 1.16e6
ATMOSPHERE = 101325.0
LEAST_REGAIN = 1e-4
SPILL_PA = 3000.0
STEFAN_BEND = 0.2
ACTIVITY_BEND = 0.2
FREE_FROM, FREE_BEND = 2.64, 0.5
MOST_WET = 2.0
SLAB_MM = 2.0
A, B = 0.321, 1.262
SCALE = 0.578 * (A + B)


@cache
def _saturation() -> CubicSpline:
    """Return ln of the saturation pressure of IAPWS-IF97 [Pa] over 1/T [1/K], by half kelvins."""
    kelvin = np.arange(273.15, 600.0, 0.5)[::-1]
    pascal = [1e6 * iapws97._PSat_T(float(one)) for one in kelvin]
    return CubicSpline(1.0 / kelvin, np.log(pascal))


def saturation_pa(celsius):
    return np.exp(_saturation()(1.0 / (celsius + 273.15)))


def ramp(value, bend):
    """Return the positive part, with a parabola for its corner between -bend and bend."""
    inside = np.minimum(np.maximum(value + bend, 0.0), 2.0 * bend)
    return inside**2 / (4.0 * bend) + np.maximum(value - bend, 0.0)


def fall(values):
    """Return by how much each node stands over the next."""
    return values[:-1] - values[1:]


def humidity_over(ratio):
    """Return the root phi of ratio (A + phi)(B - phi) = SCALE phi; a straight line below 0."""
    some = np.maximum(ratio, 0.0)
    half = SCALE - some * (B - A)
    root = 2.0 * some * A * B / (half + np.sqrt(half**2 + 4.0 * some**2 * A * B))
    return np.where(ratio < 0.0, ratio * A * B / SCALE, root)


def activity(ratio):
    """Return the activity of the water in cloth that holds `ratio` times its regain, at most 1."""
    humidity = humidity_over(ratio)
    return humidity - ramp(humidity - 1.0, ACTIVITY_BEND)


def free_water(water, regain):
    """Return the water that wicks [kg per kg of dry cloth]."""
    return regain * ramp(water / regain - FREE_FROM, FREE_BEND)


def regain_at(humidity: float) -> float:
    """Return the water at a relative humidity as a multiple of the regain."""
    return SCALE * humidity / ((A + humidity) * (B - humidity))


def sorption_energy(water, regain):
    """Return the heat of sorption of all the water that is held [J per kg of dry cloth]."""
    return SORPTION_HEAT * water / (1.0 + np.abs(water) / regain / 0.85)


def vapour_enthalpy(celsius):
    return WATER_HEAT * 100.0 + 2.2565e6 + 1900.0 * (celsius - 100.0)


def stefan(pressure, other):
    share = (pressure + other) / (2.0 * ATMOSPHERE)
    return 1.0 / (1.1 - share + ramp(share - 1.0, STEFAN_BEND))


def spill(pressure):
    """Return the pressure that drives vapour out sideways, a rounded positive part [Pa]."""
    return ramp(pressure - ATMOSPHERE, SPILL_PA)


CLAPPER = -1
"""Index under which a grid is asked for the nodes of the clapper."""

Grid = Callable[[int, MoistLayer], np.ndarray]
"""From a layer's index and the layer to the depths of its nodes, as shares of its thickness."""


def even_depths(cells: int) -> Grid:
    """Return the usual grid: the same number of cells in every layer."""
    even = np.linspace(0.0, 1.0, cells + 1)
    crowded = 0.5 - 0.5 * np.cos(np.pi * even)
    return lambda _, layer: even if layer.thickness_mm < SLAB_MM else crowded


class MoistTwin:
    """A stack of layers under one top: dy/dt = rate(t, y), y = (h, W) of all nodes and the sole."""

    def __init__(self, layers, contacts, top: Top, bottom, grid: Grid) -> None:
        self.top, self.bottom = top, bottom
        self.depths = [grid(index, layer) for index, layer in enumerate(layers)]
        if isinstance(top, Clapper):
            layers, contacts = (top.layer, *layers), (top.contact, *contacts)
            self.depths.insert(0, grid(CLAPPER, top.layer))
        counts = [len(depths) for depths in self.depths]
        self.nodes = sum(counts)
        self.first = [0, *np.cumsum(counts)[:-1].tolist()]
        self._place(layers, counts)
        self._link(layers, contacts)

    def _place(self, layers: tuple[MoistLayer, ...], counts: list[int]) -> None:
        shares = [np.convolve(np.diff(depths), [0.5, 0.5]) for depths in self.depths]

        def spread(values) -> np.ndarray:
            return np.concatenate([v * s for v, s in zip(values, shares, strict=True)])[:, None]

        def repeat(values) -> np.ndarray:
            return np.repeat([float(value) for value in values], counts)[:, None]

        self.dry = spread(layer.dry_mass_kg_m2 for layer in layers)
        self.escape = spread(layer.escape_kg_m2spa for layer in layers)
        self.heat = repeat(layer.specific_heat_j_kgk for layer in layers)
        self.regain = repeat(max(layer.regain_kg_kg, LEAST_REGAIN) for layer in layers)
        self.start_c = repeat(layer.start_c for layer in layers)
        self.start_water = repeat(layer.start_water_kg_kg for layer in layers)

    def _link(self, layers, contacts: tuple[MoistContact, ...]) -> None:
        """Set conductance, its rise with water, permeance and wicking from node to node."""
        rows = []
        for index, layer in enumerate(layers):
            if index:
                touch = contacts[index - 1]
                across = (touch.conductance_w_m2k, touch.rise_per_water)
                rows.append((*across, touch.permeance_kg_m2spa, touch.wicking_kg_m2s))
            for distance in np.diff(self.depths[index]) * layer.thickness_mm * 1e-3:
                inside = (layer.conductivity_w_mk, layer.conductivity_per_water)
                inside = (*inside, layer.vapour_permeability_kg_mspa, layer.wicking_kg_ms)
                rows.append(tuple(one / distance for one in inside))
        self.conductance, self.rise, self.permeance, self.wicking = np.array(rows).T[:, :, None]

    def start(self) -> np.ndarray:
        water = self.start_water
        enthalpy = (self.heat + WATER_HEAT * water) * self.start_c
        enthalpy = enthalpy - sorption_energy(water, self.regain)
        sole = self.top.start_c if isinstance(self.top, Sole) else 0.0
        return np.concatenate([enthalpy[:, 0], water[:, 0], [sole]])

    def unpack(self, state):
        """Return temperature and water of the nodes and the temperature of the sole."""
        enthalpy, water = state[: self.nodes], state[self.nodes : 2 * self.nodes]
        held = sorption_energy(water, self.regain)
        return (enthalpy + held) / (self.heat + WATER_HEAT * water), water, state[-1]

    def rate(self, _time: float, state: np.ndarray) -> np.ndarray:
        """Return the rate of change of one state, or of many side by side."""
        if state.ndim == 1:
            return self.rate(_time, state[:, None])[:, 0]
        celsius, water, sole = self.unpack(state)
        pressure = activity(water / self.regain) * saturation_pa(celsius)
        between_c = 0.5 * (celsius[1:] + celsius[:-1])
        brought, carried = vapour_enthalpy(celsius), vapour_enthalpy(between_c)
        vapour = self.permeance * stefan(pressure[:-1], pressure[1:]) * fall(pressure)
        liquid = self.wicking * fall(free_water(water, self.regain))
        damp = np.minimum(0.5 * (water[:-1] + water[1:]), MOST_WET)
        flow = (self.conductance + self.rise * damp) * fall(celsius)
        flow = flow + vapour * carried + liquid * WATER_HEAT * between_c
        escape = self.escape * spill(pressure)
        wetter, warmer = -escape, -escape * brought
        for change, through in ((wetter, vapour + liquid), (warmer, flow)):
            change[:-1] -= through
            change[1:] += through
        sole_rate = self._from_top(celsius[0], water[0], pressure[0], sole, warmer, wetter)
        self._to_bottom(celsius[-1], pressure[-1], warmer, wetter)
        return np.concatenate([warmer / self.dry, wetter / self.dry, [sole_rate]])

    def _from_top(self, celsius, water, pressure, sole, warmer, wetter):
        """Add what comes in at the top; return the rate of the sole's temperature."""
        top = self.top
        if isinstance(top, Clapper):
            return 0.0 * sole
        touch = top.contact
        above = sole if isinstance(top, Sole) else top.air_c
        damp = touch.conductance_w_m2k + touch.rise_per_water * np.minimum(water, MOST_WET)
        into = damp * (above - celsius)
        warmer[0] += into + top.steam_kg_m2s * vapour_enthalpy(100.0)
        wetter[0] += top.steam_kg_m2s
        if isinstance(top, Air):
            moved = top.vapour_pa - pressure
            moved = touch.permeance_kg_m2spa * stefan(top.vapour_pa, pressure) * moved
            wetter[0] += moved
            warmer[0] += moved * vapour_enthalpy(celsius)
            return 0.0 * sole
        return (top.set_c - sole) / top.recovery_s - into / top.heat_j_m2k

    def _to_bottom(self, celsius, pressure, warmer, wetter) -> None:
        below = self.bottom
        moved = below.permeance_kg_m2spa * stefan(pressure, below.vapour_pa)
        moved = moved * (pressure - below.vapour_pa)
        wetter[-1] -= moved
        warmer[-1] -= below.conductance_w_m2k * (celsius - below.surrounding_c)
        warmer[-1] -= moved * vapour_enthalpy(celsius)

    def pattern(self) -> csc_array:
        """Return which rate hangs on which part of the state."""
        size = 2 * self.nodes + 1
        found = lil_array((size, size), dtype=np.int8)
        for node in range(self.nodes):
            near = [i for i in (node - 1, node, node + 1) if 0 <= i < self.nodes]
            for row in (node, node + self.nodes):
                found[row, near] = 1
                found[row, [i + self.nodes for i in near]] = 1
        for row, column in ((0, size - 1), (size - 1, 0), (size - 1, self.nodes)):
            found[row, column] = 1
        found[size - 1, size - 1] = 1
        return found.tocsc()

    def march(self, state, times, *, method: str = "BDF", rtol: float = 1e-7):
        """Return the states at times from now, shape (size, times); the last is the end."""
        scale = np.ones(2 * self.nodes + 1)
        scale[: self.nodes] = 1e5
        scale[self.nodes : -1] = self.regain[:, 0].clip(1e-2)
        scale[-1] = 100.0
        found = solve_ivp(
            self.rate,
            (0.0, times[-1]),
            state,
            method=method,
            jac_sparsity=self.pattern(),
            vectorized=True,
            rtol=rtol,
            atol=rtol * scale * 0.1,
            t_eval=times,
        )
        assert found.success, found.message
        return found.y

    def energy(self, state) -> float:
        """Return the heat in the layers and in the sole [J/m2]."""
        held = float(np.sum(self.dry[:, 0] * state[: self.nodes]))
        return held + (self.top.heat_j_m2k * state[-1] if isinstance(self.top, Sole) else 0.0)

    def water(self, state) -> float:
        """Return all water of the layers [kg/m2]."""
        return float(np.sum(self.dry[:, 0] * state[self.nodes : 2 * self.nodes]))

    def layer_water(self, state) -> np.ndarray:
        return np.add.reduceat(self.dry[:, 0] * state[self.nodes : 2 * self.nodes], self.first)

    def take_over(self, other: MoistTwin, state: np.ndarray) -> np.ndarray:
        """Return this stack's start with the layers under the top as `other` left them."""
        own = self.start()
        same = min(self.nodes, other.nodes)
        for mine, theirs in ((self.nodes, other.nodes), (2 * self.nodes, 2 * other.nodes)):
            own[mine - same : mine] = state[theirs - same : theirs]
        return own


def solve_twin(
    case: MoistCase, cells: int | Grid, *, method: str = "BDF", rtol: float = 1e-7
) -> MoistAnswer:
    """Return the readings of a case, one phase after another, every state from the one before.

    `cells` is the number of cells of every layer, or a grid of one's own.
    """
    grid = even_depths(cells) if isinstance(cells, int) else cells
    begin, before, state = 0.0, None, None
    rows: list[tuple] = []
    for phase in case.phases:
        twin = MoistTwin(case.layers, case.contacts, phase.top, case.bottom, grid)
        state = twin.start() if before is None else twin.take_over(before, state)
        end = begin + phase.duration_s
        asked = [t for t in case.times_s if begin < t <= end]
        spans = [t - begin for t in asked]
        states = twin.march(state, sorted({*spans, phase.duration_s}), method=method, rtol=rtol)
        rows += [_read(twin, case, one) for one in states.T[: len(asked)]]
        begin, before, state = end, twin, states[:, -1]
    return MoistAnswer(*(np.array(column) for column in zip(*rows, strict=True)))


def _read(twin: MoistTwin, case: MoistCase, state: np.ndarray) -> tuple:
    celsius, water, sole = twin.unpack(state[:, None])
    extra = len(twin.depths) - len(case.layers)

    def at(values: np.ndarray) -> list[float]:
        by_layer = np.split(values[:, 0], twin.first[1:])[extra:]
        depths = twin.depths[extra:]
        return [
            float(np.interp(place.depth, depths[place.layer], by_layer[place.layer]))
            for place in case.places
        ]

    held = twin.layer_water(state)[extra:]
    under_sole = float(sole[0]) if isinstance(twin.top, Sole) else np.nan
    return at(celsius), at(water), held, under_sole


def times_fit(case: MoistCase) -> bool:
    """Return whether every time of reading lies within the phases."""
    ends = np.cumsum([phase.duration_s for phase in case.phases])
    return min(case.times_s) > 0.0 and max(case.times_s) <= ends[-1]
