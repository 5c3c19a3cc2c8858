"""The compiled step of the batch solver: many stacks at once, the draw index innermost."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from numba import njit

from samite.press._scheme import (
    BOILING_C,
    GAMMA,
    OLD_SHARE,
    STAGE_SHARE,
    VAPORISATION_J_KG,
    WATER_J_KGK,
    WIDTH,
)

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]
    Whole = NDArray[np.int64]


@njit(cache=True, nogil=True, error_model="numpy")
def march(
    temperature: Real,
    capacity: Real,
    conductance: Real,
    coupling: int,
    coupling_by_phase: Real,
    top_node: int,
    top_conductance: Real,
    top_c: Real,
    bottom_conductance: Real,
    bottom_c: Real,
    step_s: Real,
    step_phase: Whole,
    step_record: Whole,
    nodes: Whole,
    layer_of: Whole,
    recorded: Real,
    peak: Real,
    water: Real,
    recorded_water: Real,
) -> None:
    """Step all stacks through all phases by TR-BDF2, in place.

    Parameters
    ----------
    temperature : ndarray of float, shape (nodes, draws)
        Start temperatures [C]; holds the last ones on return.
    capacity : ndarray of float, shape (nodes, draws)
        Heat capacity of each node [J/(m2 K)].
    conductance : ndarray of float, shape (nodes - 1, draws)
        Between neighbours [W/(m2 K)].
    coupling : int
        Link whose conductance changes with the phase, -1 for none [-].
    coupling_by_phase : ndarray of float, shape (phases, draws)
        Its conductance [W/(m2 K)].
    top_node : int
        Node that meets the top boundary [-].
    top_conductance : ndarray of float, shape (phases, draws)
        To the sole or the air [W/(m2 K)].
    top_c : ndarray of float, shape (phases, draws)
        Temperature of the sole or the air [C].
    bottom_conductance : ndarray of float, shape (draws,)
        Under the last node [W/(m2 K)].
    bottom_c : ndarray of float, shape (draws,)
        Temperature there [C].
    step_s : ndarray of float, shape (steps,)
        Steps [s].
    step_phase : ndarray of int, shape (steps,)
        Phase of each step.
    step_record : ndarray of int, shape (steps,)
        Row recorded after each step, -1 for none.
    nodes : ndarray of int, shape (places,)
        Nodes recorded.
    layer_of : ndarray of int, shape (nodes, 2)
        Layers that a node belongs to: its own, and the next where two layers share it.
    recorded : ndarray of float, shape (draws, times, places)
        Temperatures recorded [C].
    peak : ndarray of float, shape (draws, times, layers)
        Hottest so far of each layer [C].
    water : ndarray of float, shape (2, nodes, draws), or (2, 0, 0) without water
        Water at each node from the first and the second of its layers [kg/m2].
    recorded_water : ndarray of float, shape (draws, times, layers)
        Water left in each layer [kg/m2]; zeros on entry.

    Notes
    -----
    The number of draws is a multiple of WIDTH. After every step heat above 100 C at a node that
    still holds water goes into vapour, which leaves the stack and takes its heat capacity along.
    """
    count, draws = temperature.shape
    now = np.empty((count, WIDTH))
    stage = np.empty((count, WIDTH))
    load = np.empty((count, WIDTH))
    inverse = np.empty((count, WIDTH))
    link = np.empty((count, WIDTH))
    hottest = np.empty((count, WIDTH))
    wet = np.zeros((count, WIDTH))
    has_water = water.shape[1] > 0
    for first in range(0, draws, WIDTH):
        heat = capacity[:, first : first + WIDTH].copy()
        now[:] = temperature[:, first : first + WIDTH]
        hottest[:] = now
        if has_water:
            wet[:] = water[0, :, first : first + WIDTH] + water[1, :, first : first + WIDTH]
        length, phase = -1.0, -1
        for step in range(step_s.size):
            part = 0.5 * GAMMA * step_s[step]
            if has_water or step_s[step] != length or step_phase[step] != phase:
                length, phase = step_s[step], step_phase[step]
                _links(conductance, bottom_conductance, part, first, link)
                if coupling >= 0:
                    for k in range(WIDTH):
                        link[coupling, k] = part * coupling_by_phase[phase, first + k]
                _factor(heat, link, part, top_node, top_conductance[phase], first, inverse)
            _charge(heat, now, 1.0, now, 0.0, load)
            _heat_in(load, part, top_node, top_conductance[phase], top_c[phase], first)
            _heat_in(load, part, count - 1, bottom_conductance, bottom_c, first)
            _solve(load, link, inverse, stage)
            # trapezoidal stage 2 stage - now, then the backward formula over the whole step
            _charge(heat, stage, 2.0 * STAGE_SHARE, now, OLD_SHARE - STAGE_SHARE, load)
            _heat_in(load, part, top_node, top_conductance[phase], top_c[phase], first)
            _heat_in(load, part, count - 1, bottom_conductance, bottom_c, first)
            _solve(load, link, inverse, now)
            if has_water:
                _boil_off(heat, now, wet)
            _keep_hottest(now, hottest)
            if step_record[step] >= 0:
                row = step_record[step]
                _record(now, hottest, nodes, layer_of, first, row, recorded, peak)
                if has_water:
                    _record_water(wet, water, layer_of, first, row, recorded_water)
        temperature[:, first : first + WIDTH] = now


@njit(cache=True, nogil=True, error_model="numpy")
def _links(
    conductance: Real, bottom_conductance: Real, part: float, first: int, link: Real
) -> None:
    count = link.shape[0]
    for i in range(count - 1):
        for k in range(WIDTH):
            link[i, k] = part * conductance[i, first + k]
    for k in range(WIDTH):
        link[count - 1, k] = part * bottom_conductance[first + k]


@njit(cache=True, nogil=True, error_model="numpy")
def _charge(
    heat: Real, one: Real, one_share: float, other: Real, other_share: float, load: Real
) -> None:
    for i in range(heat.shape[0]):
        for k in range(WIDTH):
            load[i, k] = heat[i, k] * (one_share * one[i, k] + other_share * other[i, k])


@njit(cache=True, nogil=True, error_model="numpy")
def _keep_hottest(now: Real, hottest: Real) -> None:
    for i in range(now.shape[0]):
        for k in range(WIDTH):
            hottest[i, k] = max(hottest[i, k], now[i, k])


@njit(cache=True, nogil=True, error_model="numpy")
def _boil_off(heat: Real, now: Real, wet: Real) -> None:
    for i in range(now.shape[0]):
        for k in range(WIDTH):
            over = max(heat[i, k] * (now[i, k] - BOILING_C) / VAPORISATION_J_KG, 0.0)
            gone = min(wet[i, k], over)
            wet[i, k] -= gone
            now[i, k] -= gone * VAPORISATION_J_KG / heat[i, k]
            heat[i, k] -= WATER_J_KGK * gone


@njit(cache=True, nogil=True, error_model="numpy")
def _record_water(
    wet: Real, water: Real, layer_of: Whole, first: int, row: int, recorded_water: Real
) -> None:
    for i in range(wet.shape[0]):
        for side in range(2):
            layer = layer_of[i, side]
            if layer >= 0:
                for k in range(WIDTH):
                    held = water[0, i, first + k] + water[1, i, first + k]
                    if held > 0.0:
                        share = water[side, i, first + k] / held
                        recorded_water[first + k, row, layer] += share * wet[i, k]


@njit(cache=True, nogil=True, error_model="numpy")
def _factor(
    heat: Real,
    link: Real,
    part: float,
    top_node: int,
    top_conductance: Real,
    first: int,
    inverse: Real,
) -> None:
    """Eliminate downwards; what is kept of a row is free of subtraction, as all terms are."""
    count = heat.shape[0]
    excess = np.zeros(WIDTH)
    for i in range(count):
        for k in range(WIDTH):
            own = heat[i, k] + excess[k]
            if i == top_node:
                own += part * top_conductance[first + k]
            inverse[i, k] = 1.0 / (own + link[i, k])
            excess[k] = own * link[i, k] * inverse[i, k]


@njit(cache=True, nogil=True, error_model="numpy")
def _heat_in(
    load: Real, part: float, node: int, conductance: Real, surrounding_c: Real, first: int
) -> None:
    for k in range(WIDTH):
        load[node, k] += part * conductance[first + k] * surrounding_c[first + k]


@njit(cache=True, nogil=True, error_model="numpy")
def _solve(load: Real, link: Real, inverse: Real, answer: Real) -> None:
    """Solve by the factors; `load` is used up."""
    count = load.shape[0]
    for i in range(1, count):
        for k in range(WIDTH):
            load[i, k] += link[i - 1, k] * inverse[i - 1, k] * load[i - 1, k]
    for k in range(WIDTH):
        answer[count - 1, k] = load[count - 1, k] * inverse[count - 1, k]
    for i in range(count - 2, -1, -1):
        for k in range(WIDTH):
            answer[i, k] = (load[i, k] + link[i, k] * answer[i + 1, k]) * inverse[i, k]


@njit(cache=True, nogil=True, error_model="numpy")
def _record(
    now: Real,
    hottest: Real,
    nodes: Whole,
    layer_of: Whole,
    first: int,
    row: int,
    recorded: Real,
    peak: Real,
) -> None:
    for k in range(WIDTH):
        for place in range(nodes.size):
            recorded[first + k, row, place] = now[nodes[place], k]
        for i in range(now.shape[0]):
            for side in range(2):
                layer = layer_of[i, side]
                if layer >= 0:
                    seen = peak[first + k, row, layer]
                    peak[first + k, row, layer] = max(seen, hottest[i, k])
