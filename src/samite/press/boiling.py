"""One stack whose water boils off at 100 C, for anyone who wants to check the solver."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from samite.press.batch import PERFECT_W_M2K, Batch, BatchSolution, Phase, solve_batch
from samite.press.layers import MM, Boundary, Conductance, Held, ReadingPlace, Stack

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]

COARSE, FINE = 1.0, 3.0
STEPS_PER_CELL = 6.0
"""The plateau at 100 C is first order in the step: steps are finer than the cells ask for [-]."""


@dataclass(frozen=True, slots=True, eq=False)
class BoilingSolution:
    """Temperatures and water of one stack.

    Parameters
    ----------
    temperature_c : ndarray of float, shape (times, places)
        Temperatures [C].
    water_kg_m2 : ndarray of float, shape (times, layers)
        Water left in each layer [kg/m2].
    error_estimate_c : float
        Largest difference from a solution with half the cells and steps [C].
    nodes : int
        Nodes of the finer solution.
    steps : int
        Steps of it.
    """

    temperature_c: Real
    water_kg_m2: Real
    error_estimate_c: float
    nodes: int
    steps: int


def boil(stack: Stack, times_s: Sequence[float], places: Sequence[ReadingPlace]) -> BoilingSolution:
    """Return the temperatures of a stack whose water boils off at 100 C.

    Parameters
    ----------
    stack : Stack
        Layers, boundaries, contacts.
    times_s : sequence of float
        Times to read at, in any order [s].
    places : sequence of ReadingPlace
        Where to read.

    Returns
    -------
    BoilingSolution
        One row a time.

    Notes
    -----
    Water counts as heat capacity (4180 J/(kg K)) until its node reaches 100 C; there the heat that
    arrives boils it (2256.5 kJ/kg) and the vapour leaves the stack. Errs to slow heating of the
    layers under a damp one, on which vapour really condenses.

    References
    ----------
    derivation, energy balance; docs/models/press.md.
    """
    wanted = sorted({time for time in times_s if time > 0.0})
    rows = [0 if time <= 0.0 else 1 + wanted.index(time) for time in times_s]
    fine = _solve(stack, wanted, places, FINE)
    coarse = _solve(stack, wanted, places, COARSE)
    gap = np.abs(fine.temperature_c - coarse.temperature_c)
    return BoilingSolution(
        temperature_c=fine.temperature_c[0, rows],
        water_kg_m2=fine.water_kg_m2[0, rows],
        error_estimate_c=float(gap.max(initial=0.0)),
        nodes=fine.nodes,
        steps=fine.steps,
    )


def _solve(
    stack: Stack, times: list[float], places: Sequence[ReadingPlace], fineness: float
) -> BatchSolution:
    top_c, top_w_m2k = _boundary(stack.top)
    bottom_c, bottom_w_m2k = _boundary(stack.bottom)
    batch = Batch(
        thickness_mm=_row([layer.thickness_mm for layer in stack.layers]),
        conductivity_w_mk=_row([layer.conductivity_w_mk for layer in stack.layers]),
        heat_capacity_j_m3k=_row([x.density_kg_m3 * x.specific_heat_j_kgk for x in stack.layers]),
        start_c=_row(list(stack.starts_c)),
        bottom_c=bottom_c,
        bottom_conductance_w_m2k=bottom_w_m2k,
        contact_w_m2k=_contacts(stack),
        water_kg_m2=_row(
            [x.water_kg_kg * x.density_kg_m3 * x.thickness_mm * MM for x in stack.layers]
        ),
    )
    last = times[-1] if times else 1.0
    return solve_batch(
        batch,
        [Phase(last, top_c, top_w_m2k)],
        [0.0, *times],
        places,
        fineness=fineness,
        step_fineness=fineness * STEPS_PER_CELL,
    )


def _row(numbers: list[float]) -> Real:
    return np.array([numbers], dtype=np.float64)


def _boundary(boundary: Boundary) -> tuple[float, float]:
    """Return the temperature beyond a face and the conductance to it."""
    if isinstance(boundary, Held):
        return boundary.held_c, math.inf
    if isinstance(boundary, Conductance):
        return boundary.surrounding_c, boundary.conductance_w_m2k
    return 0.0, 0.0


def _contacts(stack: Stack) -> Real | None:
    if all(contact is None for contact in stack.contacts):
        return None
    return _row([PERFECT_W_M2K if c is None else c for c in stack.contacts])
