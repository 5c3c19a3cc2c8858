"""Slow and simple twins of the press solvers."""

from __future__ import annotations

import numpy as np
from scipy.integrate import solve_ivp
from scipy.linalg import expm
from scipy.sparse import diags

from samite.press.layers import Conductance, Held, Insulated, Layer, Stack

PRESS = Layer("press cloth", 0.35, 0.05, 450, 1340)
GARMENT = Layer("garment", 0.25, 0.06, 500, 1150)
PAD = Layer("pad", 3.0, 0.04, 150, 1300)
PRESSING = Stack(20.0, Conductance(150, 500), Conductance(20, 5), (PRESS, GARMENT, PAD))


def end_resistance(boundary) -> float:
    """Return the resistance outside a face [m2 K/W]; infinite if it is insulated."""
    if isinstance(boundary, Insulated):
        return np.inf
    return 0.0 if isinstance(boundary, Held) else 1.0 / boundary.conductance_w_m2k


def end_temperature(boundary) -> float:
    if isinstance(boundary, Insulated):
        return 0.0
    return boundary.held_c if isinstance(boundary, Held) else boundary.surrounding_c


class CellTwin:
    """Cell-centred finite volumes, equal cells in every layer: dT/dt = A T + b."""

    def __init__(self, stack: Stack, cells: int) -> None:
        self.cells = cells
        layers = stack.layers
        wide = np.repeat([layer.thickness_mm * 1e-3 / cells for layer in layers], cells)
        half = wide / 2 / np.repeat([layer.conductivity_w_mk for layer in layers], cells)
        self.capacity = wide * np.repeat([layer.heat_capacity_j_m3k for layer in layers], cells)
        between = half[1:] + half[:-1]
        for index, contact in enumerate(stack.contacts):
            if contact is not None:
                between[(index + 1) * cells - 1] += 1.0 / contact
        self.link = 1.0 / between
        self.top = 1.0 / (half[0] + end_resistance(stack.top))
        self.bottom = 1.0 / (half[-1] + end_resistance(stack.bottom))
        self.start = np.repeat(stack.starts_c, cells)
        self.heat = np.zeros_like(self.capacity)
        self.heat[0] = self.top * end_temperature(stack.top)
        self.heat[-1] += self.bottom * end_temperature(stack.bottom)

    def matrix(self):
        """Return A, sparse."""
        down = np.append(self.link, self.bottom)
        up = np.append(self.top, self.link)
        diagonals = [self.link / self.capacity[1:], -(down + up) / self.capacity]
        return diags([*diagonals, self.link / self.capacity[:-1]], [-1, 0, 1], format="csc")

    def middle(self, state: np.ndarray, layer: int) -> np.ndarray:
        """Return the temperature in the middle of a layer, between two cells."""
        first = layer * self.cells + self.cells // 2
        return 0.5 * (state[first - 1] + state[first])

    def by_bdf(self, times: list[float]) -> np.ndarray:
        """Return the states, shape (cells, times), by scipy's BDF with a sparse Jacobian."""
        matrix, rate = self.matrix(), self.heat / self.capacity
        found = solve_ivp(
            lambda _, y: matrix @ y + rate,
            (0.0, times[-1]),
            self.start,
            method="BDF",
            jac=matrix,
            rtol=1e-7,
            atol=1e-7,
            t_eval=times,
        )
        assert found.success
        return found.y

    def by_exponential(self, times: list[float]) -> np.ndarray:
        """Return the states, shape (cells, times), exact in time."""
        size = self.start.size
        whole = np.zeros((size + 1, size + 1))
        whole[:size, :size] = self.matrix().toarray()
        whole[:size, size] = self.heat / self.capacity
        begin = np.append(self.start, 1.0)
        return np.stack([(expm(whole * t) @ begin)[:size] for t in times], axis=1)


def plain_march(capacity, conductance, start, phases, steps) -> list[np.ndarray]:
    """Return the state of one stack after every step, by full matrices and plain TR-BDF2.

    A phase is (top node, its conductance, its surroundings, coupling link or None, coupling
    conductance, bottom conductance, bottom temperature).
    """
    gamma = 2.0 - np.sqrt(2.0)
    state, states = start.copy(), []
    for step, phase in zip(steps.step_s, steps.phase, strict=True):
        top, h_top, c_top, coupling, h_coupling, h_bottom, c_bottom = phases[phase]
        links = conductance.copy()
        if coupling is not None:
            links[coupling] = h_coupling
        loss = np.zeros((state.size, state.size))
        for i, link in enumerate(links):
            loss[i : i + 2, i : i + 2] += link * np.array([[1, -1], [-1, 1]])
        loss[top, top] += h_top
        loss[-1, -1] += h_bottom
        gain = np.zeros(state.size)
        gain[top] += h_top * c_top
        gain[-1] += h_bottom * c_bottom
        heat, span = np.diag(capacity), gamma * step
        middle = np.linalg.solve(
            heat + span / 2 * loss, (heat - span / 2 * loss) @ state + span * gain
        )
        share = (1.0 - gamma) / (2.0 - gamma) * step
        old = heat @ (middle - (1.0 - gamma) ** 2 * state) / (gamma * (2.0 - gamma))
        state = np.linalg.solve(heat + share * loss, old + share * gain)
        states.append(state)
    return states
