"""Where the product answers a case in the words of `moist_problem`."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
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
from tests.oracles.press.moist_twin import CLAPPER, Grid

from samite.press.moist import (
    Above,
    Below,
    MoistHistory,
    MoistLayers,
    MoistState,
    Network,
    advance,
    build_network,
    rest_state,
)

DOWNWARDS, UPWARDS, EVEN = 1, -1, 0


def layers_of(layers: Sequence[MoistLayer], contacts: Sequence[MoistContact]) -> MoistLayers:
    """Return one draw of layers and contacts in the product's words."""

    def row(values) -> np.ndarray:
        return np.array([[float(value) for value in values]])

    return MoistLayers(
        thickness_mm=row(one.thickness_mm for one in layers),
        conductivity_w_mk=row(one.conductivity_w_mk for one in layers),
        wetting_w_mk=row(one.conductivity_per_water for one in layers),
        dry_mass_kg_m2=row(one.dry_mass_kg_m2 for one in layers),
        heat_capacity_j_m2k=row(one.dry_mass_kg_m2 * one.specific_heat_j_kgk for one in layers),
        regain_kg_kg=row(one.regain_kg_kg for one in layers),
        permeability_kg_mspa=row(one.vapour_permeability_kg_mspa for one in layers),
        escape_kg_m2spa=row(one.escape_kg_m2spa for one in layers),
        wicking_kg_ms=row(one.wicking_kg_ms for one in layers),
        contact_w_m2k=row(one.conductance_w_m2k for one in contacts),
        contact_wetting_w_m2k=row(one.rise_per_water for one in contacts),
        contact_permeance_kg_m2spa=row(one.permeance_kg_m2spa for one in contacts),
        contact_wicking_kg_m2s=row(one.wicking_kg_m2s for one in contacts),
    )


def above_of(top: Top) -> Above:
    """Return what the stack meets on top; a clapper is a layer, and nothing is over it."""
    if isinstance(top, Clapper):
        return Above(20.0, 0.0)
    touch = top.contact
    both = {"wetting_w_m2k": touch.rise_per_water, "steam_kg_m2s": top.steam_kg_m2s}
    if isinstance(top, Air):
        both |= {"permeance_kg_m2spa": touch.permeance_kg_m2spa, "vapour_pa": top.vapour_pa}
        return Above(top.air_c, touch.conductance_w_m2k, **both)
    both |= {"heat_capacity_j_m2k": top.heat_j_m2k, "recovery_s": top.recovery_s}
    return Above(top.start_c, touch.conductance_w_m2k, set_c=top.set_c, **both)


@dataclass(frozen=True)
class Watched:
    """A phase: its network, where it began, and what happened at all times asked and its end."""

    network: Network
    start: MoistState
    history: MoistHistory


def begin(case: MoistCase, top: Top, fineness: float = 1.0) -> tuple[Network, MoistState]:
    """Return the network and the rest of a case under a top."""
    layers, contacts = case.layers, case.contacts
    grading = [*[EVEN] * (len(layers) - 1), DOWNWARDS]
    if isinstance(top, Clapper):
        layers, contacts = (top.layer, *layers), (top.contact, *contacts)
        grading.insert(0, UPWARDS)
    network = build_network(layers_of(layers, contacts), grading, fineness=fineness)
    warm = np.array([[one.start_c for one in layers]])
    held = np.array([[one.start_water_kg_kg for one in layers]])
    return network, rest_state(network, warm, held)


def product_grid(case: MoistCase, fineness: float = 1.0) -> Grid:
    """Return the product's own depths, for a twin on the same nodes."""
    tops = [phase.top for phase in case.phases]
    depths = begin(case, next((t for t in tops if isinstance(t, Clapper)), tops[0]), fineness)
    found = depths[0].depths
    extra = len(found) - len(case.layers)
    return lambda index, _layer: found[0] if index == CLAPPER else found[index + extra]


def _take_over(rest: MoistState, last: MoistState) -> MoistState:
    """Return a state whose lower nodes are as the phase before left them."""

    def over(own: np.ndarray, other: np.ndarray) -> np.ndarray:
        same = min(len(own), len(other))
        return np.concatenate([own[: len(own) - same], other[len(other) - same :]])

    names = ("heat_j_m2", "water_kg_m2", "peak_c", "dose_s")
    return replace(rest, **{name: over(getattr(rest, name), getattr(last, name)) for name in names})


def watch(
    case: MoistCase, *, tolerance_c: float = 0.01, fineness: float = 1.0
) -> tuple[Watched, ...]:
    """Return what the product makes of a case, one phase after another."""
    below = case.bottom
    under = Below(
        below.surrounding_c, below.conductance_w_m2k, below.permeance_kg_m2spa, below.vapour_pa
    )
    clock, last, found = 0.0, None, []
    for phase in case.phases:
        network, rest = begin(case, phase.top, fineness)
        start = rest if last is None else _take_over(rest, last)
        end = clock + phase.duration_s
        asked = {t - clock for t in case.times_s if clock < t <= end}
        times = sorted({*asked, phase.duration_s})
        above = above_of(phase.top)
        history = advance(network, start, above, under, times, tolerance_c=tolerance_c)
        found.append(Watched(network, start, history))
        clock, last = end, history.states[-1]
    return tuple(found)


def product_answer(
    case: MoistCase, *, tolerance_c: float = 0.01, fineness: float = 1.0
) -> MoistAnswer:
    """Return what the solver under test makes of a case, on the times and places of the case."""
    rows, clock = [], 0.0
    seen = watch(case, tolerance_c=tolerance_c, fineness=fineness)
    for phase, one in zip(case.phases, seen, strict=True):
        end = clock + phase.duration_s
        asked = len([t for t in case.times_s if clock < t <= end])
        rows += [_read(case, phase.top, one, row) for row in range(asked)]
        clock = end
    return MoistAnswer(*(np.array(column) for column in zip(*rows, strict=True)))


def _read(case: MoistCase, top: Top, seen: Watched, row: int) -> tuple:
    network, history = seen.network, seen.history
    extra = len(network.depths) - len(case.layers)
    water = history.water_kg_m2[row, :, 0]

    def at(values: np.ndarray) -> list[float]:
        return [
            float(
                np.interp(
                    place.depth,
                    network.depths[place.layer + extra],
                    values[network.nodes_of(place.layer + extra)],
                )
            )
            for place in case.places
        ]

    layers = range(extra, len(network.depths))
    held = [float(water[network.nodes_of(layer)].sum()) for layer in layers]
    sole = float(history.sole_c[row, 0]) if isinstance(top, Sole) else np.nan
    celsius = at(history.temperature_c[row, :, 0])
    return celsius, at(water / network.dry[:, 0]), np.array(held), sole
