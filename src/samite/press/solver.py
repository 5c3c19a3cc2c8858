"""Transient conduction through one stack: exact in depth and time, no grid and no step.

The Laplace transform turns every layer into a small network of a series impedance and two
shunts; the chain is swept from both ends and the transform is inverted on Talbot's contour.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

import numpy as np

from samite.kernel.errors import InputError, OutOfRangeError
from samite.press.layers import MM, Boundary, Conductance, Held, ReadingPlace, Stack

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from numpy.typing import NDArray

    Real = NDArray[np.float64]
    Complex = NDArray[np.complex128]

CONTOUR_POINTS = 26
"""Points of the contour; the error falls by 3.9 for each (Trefethen and others 2006)."""

CHECK_POINTS = 20
"""Points of the coarser contour that the error is estimated with."""

CHUNK = 16384
"""Times, each counted once a slice, inverted together: long lists stay small in memory."""

LONGEST_EXPONENT = 250.0
"""Depth over diffusion length beyond which nothing comes through [-]."""


@dataclass(frozen=True, slots=True)
class Solution:
    """Temperatures and how far they may be off.

    Parameters
    ----------
    temperature_c : ndarray of float, shape (times, places)
        Temperatures [C].
    error_estimate_c : float
        Largest difference between two contours [C].
    """

    temperature_c: Real
    error_estimate_c: float


def solve(stack: Stack, times_s: Sequence[float], places: Sequence[ReadingPlace]) -> Solution:
    """Return the temperatures in a stack.

    Parameters
    ----------
    stack : Stack
        Layers and what they meet from time 0 on.
    times_s : sequence of float
        Times since the start [s]; 0 gives the start temperatures.
    places : sequence of ReadingPlace
        Where to read.

    Returns
    -------
    Solution
        Temperatures, one row a time, one column a place, and the error estimate.

    Raises
    ------
    InputError
        If a place names a layer that is not there or a time is negative.
    OutOfRangeError
        If the numbers are so extreme that the arithmetic overflows.

    Notes
    -----
    Heat flows in one direction, properties are constant, no water moves or evaporates, contact
    begins at once everywhere. Solved exactly: what error there is comes from the inversion,
    about 1e-9 of the range of temperatures. Read at time 0 a face still has its start
    temperature, also where a boundary holds it at another.

    References
    ----------
    carslaw-jaeger-1959, chapters XII and XIV; trefethen-weideman-schmelzer-2006, eq. 3.4.
    """
    times = np.asarray(times_s, dtype=np.float64)
    _check_questions(stack, times, places)
    chain = _chain(stack, places)
    answer = np.empty((times.size, len(places)))
    answer[:] = [stack.starts_c[place.layer] for place in places]
    moving = np.flatnonzero(times > 0.0)
    error = 0.0
    size = max(1, CHUNK // len(chain.slices))
    for begin in range(0, moving.size, size):
        rows = moving[begin : begin + size]
        with np.errstate(all="ignore"):  # what overflows is refused below
            fine = _invert(chain, times[rows], CONTOUR_POINTS)
            coarse = _invert(chain, times[rows], CHECK_POINTS)
        answer[rows] = fine
        error = max(error, float(np.max(np.abs(fine - coarse), initial=0.0)))
    if not np.all(np.isfinite(answer)):
        raise OutOfRangeError(
            "the stack's numbers are too extreme for the arithmetic", "layers", "check the units"
        )
    return Solution(answer, error)


@dataclass(frozen=True, slots=True)
class _Slice:
    """A layer or a part of it between two reading depths."""

    thickness_m: float
    conductivity_w_mk: float
    heat_capacity_j_m3k: float
    rise_c: float


@dataclass(frozen=True, slots=True)
class _Chain:
    """Slices and the resistances between them, with the slice ends that are read."""

    top: Boundary
    bottom: Boundary
    slices: tuple[_Slice, ...]
    resistances_m2k_w: tuple[float, ...]
    nodes: tuple[int, ...]
    reference_c: float


def _chain(stack: Stack, places: Sequence[ReadingPlace]) -> _Chain:
    """Cut the layers at the reading depths; node 2 i is the top of slice i, 2 i + 1 its bottom."""
    slices: list[_Slice] = []
    resistances: list[float] = []
    node_of: dict[tuple[int, float], int] = {}
    for index, layer in enumerate(stack.layers):
        inner = {place.depth for place in places if place.layer == index} - {0.0, 1.0}
        cuts = [0.0, *sorted(inner), 1.0]
        node_of[index, 0.0] = 2 * len(slices)
        for upper, lower in itertools.pairwise(cuts):
            slices.append(
                _Slice(
                    (lower - upper) * layer.thickness_mm * MM,
                    layer.conductivity_w_mk,
                    layer.heat_capacity_j_m3k,
                    stack.starts_c[index] - stack.start_c,
                )
            )
            resistances.append(0.0)
            node_of[index, lower] = 2 * len(slices) - 1
        if index < stack.interfaces:
            contact = stack.contacts[index]
            resistances[-1] = 0.0 if contact is None else 1.0 / contact
    nodes = tuple(node_of[place.layer, place.depth] for place in places)
    return _Chain(
        stack.top, stack.bottom, tuple(slices), tuple(resistances[:-1]), nodes, stack.start_c
    )


@cache
def _contour(points: int) -> tuple[Complex, Complex]:
    """Return points z and weights of f(t) = sum of Re(weight F(z / t)) / t."""
    angle = (2.0 * np.arange(points // 2) + 1.0) * np.pi / points
    cot = 1.0 / np.tan(0.6407 * angle)
    z = points * (0.5017 * angle * cot - 0.6122 + 0.2645j * angle)
    slope = points * (0.5017 * cot - 0.5017 * 0.6407 * angle * (1.0 + cot**2) + 0.2645j)
    return z, 2.0 / (1j * points) * np.exp(z) * slope


def _invert(chain: _Chain, times_s: Real, points: int) -> Real:
    z, weight = _contour(points)
    laplace = z[:, np.newaxis] / times_s
    picked = np.stack(_transform(chain, laplace), axis=-1)
    rise: Real = np.einsum("z,ztp->tp", weight, picked).real / times_s[:, np.newaxis]
    return rise + chain.reference_c


def _transform(chain: _Chain, laplace: Complex) -> list[Complex]:
    """Return the transformed rise above the reference at every reading place."""
    links = [_links(item, laplace) for item in chain.slices]
    above = _start(chain.top, chain.reference_c, laplace)
    below = _start(chain.bottom, chain.reference_c, laplace)
    down = _sweep(above, links, chain.resistances_m2k_w, stored=True)
    up = _sweep(below, links[::-1], chain.resistances_m2k_w[::-1], stored=False)
    up.reverse()
    return [_meet(down[node], up[node]) for node in chain.nodes]


_Relation = tuple["Complex", "Complex", "Complex"]
"""(a, b, c) of a T + b q = c, with q the flux away from the side swept."""


def _start(boundary: Boundary, reference_c: float, laplace: Complex) -> _Relation:
    one, zero = np.ones_like(laplace), np.zeros_like(laplace)
    if isinstance(boundary, Held):
        return one, zero, (boundary.held_c - reference_c) / laplace
    if isinstance(boundary, Conductance):
        rise = (boundary.surrounding_c - reference_c) / laplace
        return one, one / boundary.conductance_w_m2k, rise
    return zero, one, zero


def _links(item: _Slice, laplace: Complex) -> _Relation:
    """Return shunt admittance, series impedance and start flux of a slice, free of overflow."""
    wave: Complex = np.sqrt(laplace * (item.heat_capacity_j_m3k / item.conductivity_w_mk))
    length = wave * item.thickness_m
    length = np.where(length.real > LONGEST_EXPONENT, LONGEST_EXPONENT + 0j, length)
    shunt = item.conductivity_w_mk * wave * np.tanh(0.5 * length)
    series = np.sinh(length) / (item.conductivity_w_mk * wave)
    return shunt, series, shunt * item.rise_c / laplace


def _sweep(
    start: _Relation,
    links: Iterable[_Relation],
    resistances_m2k_w: Sequence[float],
    *,
    stored: bool,
) -> list[_Relation]:
    """Carry a relation along the chain; only sums of like signs, so nothing cancels.

    With `stored` a node's relation counts the shunt of its own slice. One of the two sweeps
    that meet in a node must count it and the other must not.
    """
    a, b, c = start
    met: list[_Relation] = []
    for (shunt, series, flux), resistance in zip(links, (*resistances_m2k_w, 0.0), strict=True):
        for impedance in (series, resistance):
            after = a + b * shunt, b, c + b * flux
            met.append(after if stored else (a, b, c))
            a, c = after[0], after[2]
            b = b + a * impedance
            scale = 1.0 / (np.abs(a) + np.abs(b))
            a, b, c = a * scale, b * scale, c * scale
    return met


def _meet(above: _Relation, below: _Relation) -> Complex:
    (a, b, c), (a2, b2, c2) = above, below
    return (c * b2 + c2 * b) / (a * b2 + a2 * b)


def _check_questions(stack: Stack, times: Real, places: Sequence[ReadingPlace]) -> None:
    if times.ndim != 1 or not np.all(np.isfinite(times)) or np.any(times < 0.0):
        raise InputError("a time is negative or not finite", "times_s", "give seconds from 0 on")
    for place in places:
        if place.layer >= len(stack.layers):
            raise InputError(
                f"there is no layer {place.layer}", "read_at", f"0 to {stack.interfaces} are there"
            )
