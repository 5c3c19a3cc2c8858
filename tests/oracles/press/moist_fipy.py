"""The same equations by another way: FiPy's finite volumes and implicit steps.

Unknown are the temperature and the water in the middle of every cell, not enthalpy and water on
nodes; the steps are implicit Euler, swept until they stand still, so that each of them obeys the
balances of heat and water. Errors fall with the first power of step and cell.
"""

from __future__ import annotations

import os
import warnings

import numpy as np
from tests.oracles.press.moist_problem import Air, MoistCase, Sole
from tests.oracles.press.moist_twin import (
    LEAST_REGAIN,
    MOST_WET,
    WATER_HEAT,
    activity,
    free_water,
    saturation_pa,
    sorption_energy,
    spill,
    stefan,
    vapour_enthalpy,
)

with warnings.catch_warnings():
    # it asks numpy for a module by its old name
    warnings.simplefilter("ignore", DeprecationWarning)
    os.environ.setdefault("FIPY_SOLVERS", "scipy")
    import fipy
    from fipy.solvers.scipy import LinearLUSolver

STILL = 1e-4
MOST_SWEEPS = 40


def middle(values: np.ndarray) -> np.ndarray:
    return 0.5 * (values[1:] + values[:-1])


def slope(value, at: np.ndarray, width) -> np.ndarray:
    return (value(at + width) - value(at - width)) / (2.0 * width)


class Cells:
    """A stack of one phase in equal cells."""

    def __init__(self, case: MoistCase, cells: int) -> None:
        self.case, self.cells, self.top = case, cells, case.phases[0].top
        thick = self._each(lambda layer: layer.thickness_mm * 1e-3)
        self.wide = thick / cells
        self.apart = middle(self.wide)
        self.density = self._each(lambda layer: layer.dry_density_kg_m3)
        self.heat = self._each(lambda layer: layer.specific_heat_j_kgk)
        self.regain = self._each(lambda layer: max(layer.regain_kg_kg, LEAST_REGAIN))
        self.escape = self._each(lambda layer: layer.escape_kg_m2spa) / thick
        self.conductivity = self._each(lambda layer: layer.conductivity_w_mk)
        self.rise = self._each(lambda layer: layer.conductivity_per_water)
        self.permeability = self._each(lambda layer: layer.vapour_permeability_kg_mspa)
        self.wicking = self._each(lambda layer: layer.wicking_kg_ms)
        self.sole_c = self.top.start_c if isinstance(self.top, Sole) else self.top.air_c
        self._equations()

    def _each(self, of) -> np.ndarray:
        return np.repeat([float(of(layer)) for layer in self.case.layers], self.cells)

    def _equations(self) -> None:
        mesh = fipy.Grid1D(dx=self.wide)

        def on_cells(value=0.0, **kind):
            return fipy.CellVariable(mesh=mesh, value=value, **kind)

        def on_faces():
            return fipy.FaceVariable(mesh=mesh, value=0.0)

        self.celsius = on_cells(self._each(lambda layer: layer.start_c), hasOld=True)
        self.water = on_cells(self._each(lambda layer: layer.start_water_kg_kg), hasOld=True)
        self.by_face = {name: on_faces() for name in ("heat T", "heat W", "water T", "water W")}
        names = ("store T", "store W", "store water", "heat", "sink T", "water")
        self.by_cell = {name: on_cells() for name in names}
        self.by_cell["store water"].setValue(self.density)
        face, cell, kinds = self.by_face, self.by_cell, {"T": self.celsius, "W": self.water}

        def spread(what: str):
            terms = [fipy.DiffusionTerm(coeff=face[f"{what} {k}"], var=v) for k, v in kinds.items()]
            return terms[0] + terms[1] + cell[what]

        warming = [fipy.TransientTerm(coeff=cell[f"store {k}"], var=v) for k, v in kinds.items()]
        sink = fipy.ImplicitSourceTerm(coeff=cell["sink T"], var=self.celsius)
        wetting = fipy.TransientTerm(coeff=cell["store water"], var=self.water)
        self.equation = (warming[0] + warming[1] == spread("heat") + sink) & (
            wetting == spread("water")
        )
        self.solver = LinearLUSolver()

    def enthalpy(self, celsius, water) -> np.ndarray:
        held = (self.heat + WATER_HEAT * water) * celsius
        return self.density * (held - sorption_energy(water, self.regain))

    def pressure(self, celsius, water) -> np.ndarray:
        return activity(water / self.regain) * saturation_pa(celsius)

    def _damp(self, water: np.ndarray) -> np.ndarray:
        return self.conductivity + self.rise * np.minimum(water, MOST_WET)

    def _between(self, water: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        """Return conductivity, permeability and wicking; a contact stands in series."""
        damp, wet = self._damp(water), np.minimum(middle(water), MOST_WET)
        conducting = middle(self.conductivity) + middle(self.rise) * wet
        passing, soaking = middle(self.permeability), middle(self.wicking)
        for index, touch in enumerate(self.case.contacts):
            i = (index + 1) * self.cells - 1
            pair, half = slice(i, i + 2), self.wide[i : i + 2] / 2
            bridge = touch.conductance_w_m2k + touch.rise_per_water * wet[i]
            conducting[i] = self.apart[i] / (np.sum(half / damp[pair]) + 1.0 / bridge)
            open_ways = np.sum(half / self.permeability[pair]) + 1.0 / touch.permeance_kg_m2spa
            passing[i] = self.apart[i] / open_ways
            soaks = np.sum(half / self.wicking[pair]) + 1.0 / touch.wicking_kg_m2s
            soaking[i] = self.apart[i] / soaks
        return conducting, passing, soaking

    def _diverge(self, flow: np.ndarray) -> np.ndarray:
        return np.diff(np.concatenate([[0.0], flow, [0.0]])) / self.wide

    def _ends(self, step: float, celsius, water, pressure, sole_before: float):
        """Return what comes in at the two ends: heat, its fall with temperature, and water."""
        heat, sink, wet = (np.zeros_like(celsius) for _ in range(3))
        top, below, damp = self.top, self.case.bottom, self._damp(water)
        touch, half = top.contact, self.wide / 2
        outside = touch.conductance_w_m2k + touch.rise_per_water * min(water[0], MOST_WET)
        into = 1.0 / (half[0] / damp[0] + 1.0 / outside)
        if isinstance(top, Sole):
            cool, mend = step * into / top.heat_j_m2k, step / top.recovery_s
            now = sole_before + mend * top.set_c + cool * celsius[0]
            self.sole_c = now / (1.0 + cool + mend)
        ways = [(-1, below.permeance_kg_m2spa, below.vapour_pa)]
        if isinstance(top, Air):
            ways.append((0, touch.permeance_kg_m2spa, top.vapour_pa))
        for i, permeance, outer in ways:
            passing = 1.0 / (half[i] / self.permeability[i] + 1.0 / permeance) if permeance else 0.0
            moved = passing * stefan(pressure[i], outer) * (outer - pressure[i])
            wet[i] += moved
            heat[i] += moved * vapour_enthalpy(celsius[i])
        wet[0] += top.steam_kg_m2s
        heat[0] += top.steam_kg_m2s * vapour_enthalpy(100.0) + into * self.sole_c
        sink[0] -= into
        out = 1.0 / (half[-1] / damp[-1] + 1.0 / below.conductance_w_m2k)
        heat[-1] += out * below.surrounding_c
        sink[-1] -= out
        return heat / self.wide, sink / self.wide, wet / self.wide

    def _sweep(self, step: float, before: tuple) -> float:
        """Solve the step once with what the sweep before told; return how far the state moved."""
        celsius, water = self.celsius.value.copy(), self.water.value.copy()
        celsius_before, water_before, sole_before = before
        near = (1e-4, 1e-6 * self.regain)
        pressure = self.pressure(celsius, water)
        by_c = slope(lambda one: self.pressure(one, water), celsius, near[0])
        by_w = slope(lambda one: self.pressure(celsius, one), water, near[1])
        store_c = self.density * (self.heat + WATER_HEAT * water)
        store_w = slope(lambda one: self.enthalpy(celsius, one), water, near[1])
        conducting, passing, soaking = self._between(water)
        free = free_water(water, self.regain)
        by_f = slope(lambda one: free_water(one, self.regain), water, near[1])
        passing = passing * stefan(pressure[:-1], pressure[1:])
        carried = vapour_enthalpy(middle(celsius))
        mean_c, mean_w = passing * middle(by_c), passing * middle(by_w)
        # what the linear terms miss of the flow of vapour, and of the heat that is stored
        missed = passing * np.diff(pressure) - mean_c * np.diff(celsius) - mean_w * np.diff(water)
        missed = missed / self.apart
        mean_l = soaking * middle(by_f)
        wicked = (soaking * np.diff(free) - mean_l * np.diff(water)) / self.apart
        warm = WATER_HEAT * middle(celsius)
        heat, sink, wet = self._ends(step, celsius, water, pressure, sole_before)
        out = self.escape * spill(pressure)
        wet += self._diverge(missed + wicked) - out
        heat += self._diverge(carried * missed + warm * wicked) - out * vapour_enthalpy(celsius)
        stored = self.enthalpy(celsius, water) - self.enthalpy(celsius_before, water_before)
        linear = store_c * (celsius - celsius_before) + store_w * (water - water_before)
        heat -= (stored - linear) / step
        faces = {"heat T": conducting + carried * mean_c, "water T": mean_c}
        faces |= {"heat W": carried * mean_w + warm * mean_l, "water W": mean_w + mean_l}
        for name, value in faces.items():
            self.by_face[name].setValue(np.concatenate([[0.0], value, [0.0]]))
        cells = {"store T": store_c, "store W": store_w, "heat": heat, "sink T": sink, "water": wet}
        for name, value in cells.items():
            self.by_cell[name].setValue(value)
        self.equation.sweep(dt=step, solver=self.solver)
        moved = np.abs(self.celsius.value - celsius).max()
        return max(moved, 10.0 * np.abs((self.water.value - water) / self.regain).max())

    def march(self, step: float) -> np.ndarray:
        """Return temperatures at the middle of every layer, shape (times, layers)."""
        rows, now = [], 0.0
        for time in self.case.times_s:
            for _ in range(round((time - now) / step)):
                self.celsius.updateOld()
                self.water.updateOld()
                before = (self.celsius.value.copy(), self.water.value.copy(), self.sole_c)
                moves = (self._sweep(step, before) for _ in range(MOST_SWEEPS))
                assert any(move < STILL for move in moves), "the sweeps do not come to rest"
            now = time
            layers = self.celsius.value.reshape(-1, self.cells)
            half = self.cells // 2
            rows.append(layers[:, half - 1 : half + 1].mean(axis=1))
        return np.array(rows)


def solve_by_fipy(case: MoistCase, cells: int, step: float, *, front: bool) -> np.ndarray:
    """Return temperatures at the middle of every layer, the steps taken to their limit.

    Without a front the cells are, too; a front that stands in one cell or the next leaves errors
    that follow no power of the cell.
    """
    fine = Cells(case, cells).march(step)
    quick = Cells(case, cells).march(step / 2.0)
    limit = 2.0 * quick - fine
    return limit if front else limit + fine - Cells(case, cells // 2).march(step)
