"""One seam through one to three passes of the iron: draws in, histories of heat and water out."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from samite.cloth.thermal import AIR_CONDUCTIVITY_W_MK
from samite.press.dials import Dial
from samite.press.joint import (
    Joint,
    Ply,
    SeamLayer,
    build_joint,
    room_temperature,
    tool_layer,
    under,
)
from samite.press.moist import (
    Above,
    Below,
    MoistHistory,
    MoistLayers,
    MoistState,
    Network,
    advance,
    build_network,
    heat_of,
    regain_at,
    rest_state,
)
from samite.press.techniques import Technique
from samite.press.water import saturation_pressure
from samite.tables.irons import Iron
from samite.tables.moisture import moisture_value
from samite.tables.press_tools import PressCloth, PressTool

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from samite.press.draws import Draws

    Real = NDArray[np.float64]

STEAM_SECONDS = 2.0
"""How long the steam button is held at each placement [s]."""

TURN_SECONDS = 3.0
"""How long the seam lies in the air between two passes [s]."""

MASS_TRANSFER_PER_HEAT = 6.0e-9
"""Vapour permeance over heat transfer at a face in air, by Lewis's relation [kg K/(J Pa)]."""

CONTACT_PRESSURE_KPA = 2.5
"""Pressure that the contact conductances are told at [kPa]."""

WATER_KG_M3 = 1000.0
WATER_CONDUCTIVITY_W_MK = 0.6
"""Liquid water at room temperature [W/(m K)]."""


@dataclass(frozen=True, slots=True)
class Bench:
    """What a seam is pressed with.

    Parameters
    ----------
    iron : Iron
        The iron.
    press_cloth : PressCloth
        The press cloth.
    support : PressTool
        What lies under.
    """

    iron: Iron
    press_cloth: PressCloth
    support: PressTool


@dataclass(frozen=True, slots=True)
class Placement:
    """One pass of the iron over one place.

    Parameters
    ----------
    technique : Technique
        How.
    seconds : float
        How long [s].
    stroked : bool
        Whether the iron moves: it then touches a share of the time.
    """

    technique: Technique
    seconds: float
    stroked: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class Pressed:
    """Heat and water of the seam's plies after a pass, counted from the wrong side.

    Parameters
    ----------
    heat_j_m2, water_kg_m2 : tuple of ndarray of float, shape (nodes, padded)
        One a layer.
    peak_c, dose_s : ndarray of float, shape (layers, padded)
        Hottest so far [C] and dose so far [s].
    """

    heat_j_m2: tuple[Real, ...]
    water_kg_m2: tuple[Real, ...]
    peak_c: Real
    dose_s: Real


@dataclass(frozen=True, slots=True, eq=False)
class Run:
    """The last pass, second by second.

    Parameters
    ----------
    joint : Joint
        Its layers.
    network : Network
        Its nodes.
    seconds : tuple of float
        Seconds of the last pass, the start in front [s].
    temperature_c, water_kg_m2 : ndarray of float, shape (times, nodes, draws)
        At the nodes [C], [kg/m2].
    peak_c, dose_s : ndarray of float, shape (times, layers, draws)
        Hottest so far [C] and dose so far [s], over all passes.
    sole_c : ndarray of float, shape (times, draws)
        The sole [C].
    room_c : ndarray of float, shape (draws,)
        The room [C].
    lag_s : ndarray of float, shape (draws,)
        Time that water takes into and out of the fibres [s].
    states : tuple of MoistState
        State at each time.
    """

    joint: Joint
    network: Network
    seconds: tuple[float, ...]
    temperature_c: Real
    water_kg_m2: Real
    peak_c: Real
    dose_s: Real
    sole_c: Real
    room_c: Real
    lag_s: Real
    states: tuple[MoistState, ...]

    def pressed(self, index: int, *, side: str) -> Pressed:
        """Return the plies at one of the times, counted from the wrong side.

        Parameters
        ----------
        index : int
            Which time.
        side : str
            Side that the iron was on.

        Returns
        -------
        Pressed
            Heat and water of every layer of the plies.
        """
        state, spans = self.states[index], [self.network.nodes_of(i) for i in self.joint.plies]
        heat = tuple(state.heat_j_m2[span] for span in spans)
        water = tuple(state.water_kg_m2[span] for span in spans)
        plies = list(self.joint.plies)
        found = Pressed(heat, water, state.peak_c[plies], state.dose_s[plies])
        return found if side == "wrong" else turned(found)


def turned(pressed: Pressed) -> Pressed:
    """Return the plies counted from the other side.

    Parameters
    ----------
    pressed : Pressed
        The plies.

    Returns
    -------
    Pressed
        The same, upside down.
    """
    return Pressed(
        tuple(np.ascontiguousarray(part[::-1]) for part in reversed(pressed.heat_j_m2)),
        tuple(np.ascontiguousarray(part[::-1]) for part in reversed(pressed.water_kg_m2)),
        np.ascontiguousarray(pressed.peak_c[::-1]),
        np.ascontiguousarray(pressed.dose_s[::-1]),
    )


def press(
    plies: Sequence[Ply],
    passes: Sequence[Placement],
    seconds: Sequence[float],
    bench: Bench,
    draws: Draws,
    *,
    firmness: float | Real = 1.0,
    tolerance_c: float = 0.2,
    fineness: float = 1.0,
) -> Run:
    """Press a seam and watch its last pass.

    Parameters
    ----------
    plies : sequence of Ply
        The seam, from the wrong side.
    passes : sequence of Placement
        One to three passes; the seconds of the last are not used.
    seconds : sequence of float
        Rising seconds to watch the last pass at [s].
    bench : Bench
        Iron, press cloth and support.
    draws : Draws
        Doubts.
    firmness : float or ndarray of float, shape (draws,)
        Factor on the sole's contact, to see what it moves [-].
    tolerance_c : float
        Error allowed a step [K].
    fineness : float
        2 halves the cells [-].

    Returns
    -------
    Run
        The last pass.

    Notes
    -----
    Steam blows for its seconds from the start of a pass, bounded by the iron's output. Between
    passes the seam lies in the air and a fresh press cloth is taken. Errs to the cold side for
    a press cloth that stays on.
    """
    bench_run = _BenchRun(plies, bench, draws, firmness, tolerance_c, fineness)
    pressed: Pressed | None = None
    for step in passes[:-1]:
        run = bench_run.watch(step, pressed, (step.seconds,))
        pressed = bench_run.air(run.pressed(1, side=step.technique.side), step.technique.side)
    return bench_run.watch(passes[-1], pressed, tuple(seconds))


def hold(
    plies: Sequence[Ply],
    run: Run,
    after: Placement,
    seconds: Sequence[float],
    bench: Bench,
    tool: PressTool | None,
    draws: Draws,
) -> Run:
    """Hold a seam after its last pass.

    Parameters
    ----------
    plies : sequence of Ply
        The seam, from the wrong side.
    run : Run
        The last pass; its last time is where the hold begins.
    after : Placement
        That pass: the press cloth goes, the side stays.
    seconds : sequence of float
        Rising seconds to watch the hold at [s].
    bench : Bench
        Iron, press cloth and support.
    tool : PressTool or None
        What is held on it; None for the air.
    draws : Draws
        Doubts, the same as of the run.

    Returns
    -------
    Run
        The hold.

    Notes
    -----
    The tool begins at room temperature, a hand at that of skin; its back is sealed.
    """
    side = after.technique.side
    pressed = run.pressed(len(run.seconds) - 1, side=side)
    bench_run = _BenchRun(plies, bench, draws, 1.0, HOLD_TOLERANCE_C, 1.0)
    return bench_run.held(pressed, side, tool, tuple(seconds))


HOLD_TOLERANCE_C = 0.2

SKIN_C = 33.0
"""Temperature of a hand's skin [C]."""


class _BenchRun:
    """The bench and the draws, asked for one phase after another."""

    def __init__(
        self,
        plies: Sequence[Ply],
        bench: Bench,
        draws: Draws,
        firmness: float | Real,
        tolerance_c: float,
        fineness: float,
    ) -> None:
        self.plies, self.bench, self.draws = tuple(plies), bench, draws
        self.firmness, self.tolerance_c, self.fineness = firmness, tolerance_c, fineness
        self.room = draws.of("room temperature", room_temperature())
        humidity = draws.of("humidity of the room", moisture_value("air humidity_percent"))
        self.humidity = humidity / 100.0
        self.vapour = self.humidity * np.array(
            [1000.0 * saturation_pressure(water_c=float(c)) for c in self.room]
        )

    def watch(self, step: Placement, pressed: Pressed | None, seconds: tuple[float, ...]) -> Run:
        """Press one pass and keep what happens at the seconds."""
        technique = step.technique
        cloth = None if technique.press_cloth == "none" else self.bench.press_cloth
        joint = build_joint(self.plies, technique.side, self.bench.support, cloth)
        network, start = self._ready(joint, pressed, technique)
        above, below = self._iron(step), self._under()
        parts = self._march(network, start, above, below, seconds, technique)
        return self._run(joint, network, start, seconds, parts, above)

    def _ready(
        self, joint: Joint, pressed: Pressed | None, technique: Technique
    ) -> tuple[Network, MoistState]:
        layers, grading = lay(joint.layers, self.bench, self.draws)
        network = build_network(layers, grading, fineness=self.fineness)
        held = regain_at(self.humidity)[:, np.newaxis] * layers.regain_kg_kg
        if technique.press_cloth == "damp":
            water = self.bench.press_cloth.damp_water_percent
            held[:, 0] += self.draws.of("water in the press cloth", water) / 100.0
        rest = rest_state(network, self.room, held)
        if pressed is None:
            return network, rest
        given = pressed if technique.side == "wrong" else turned(pressed)
        return network, lay_in(network, rest, joint, given)

    def _iron(self, step: Placement) -> Above:
        iron, technique, draws = self.bench.iron, step.technique, self.draws
        if technique.hovers:
            return self._air_above(self._steam(technique))
        dial = iron.dial_c(technique.iron.value)
        sole = draws.of("sole temperature at this dial", dial)
        contact = draws.of("contact of iron and cloth", iron.conductance_dry_w_m2k)
        contact = contact * self.firmness * self._pressure_factor(iron.pressure_kpa.value)
        if step.stroked:
            contact = contact * draws.of("strokes", moisture_value("stroke contact_share"))
        return Above(
            temperature_c=sole,
            conductance_w_m2k=contact,
            wetting_w_m2k=draws.of("contact when wet", iron.conductance_per_water_w_m2k),
            heat_capacity_j_m2k=draws.of("mass of the sole", iron.sole_heat_capacity_j_m2k),
            set_c=sole,
            recovery_s=draws.of("recovery of the sole", iron.recovery_s),
            steam_kg_m2s=self._steam(technique),
        )

    def _pressure_factor(self, pressure_kpa: float) -> float:
        exponent = moisture_value("cloth pressure_exponent").value
        return float((pressure_kpa / CONTACT_PRESSURE_KPA) ** exponent)

    def _steam(self, technique: Technique) -> Real:
        iron, level = self.bench.iron, technique.steam
        if level == "none":
            return np.zeros(self.draws.count)
        rate = iron.steam_light_g_min if level == "light" else iron.steam_full_g_min
        area = iron.sole_area_cm2.value / 1.0e4
        steam = self.draws.of("steam output", rate) / 60.0 / 1000.0 / area
        if technique.hovers:
            steam = steam * self.draws.of(
                "share of hover steam that reaches the cloth", moisture_value("hover reach_share")
            )
        return steam

    def _air_above(self, steam_kg_m2s: float | Real = 0.0) -> Above:
        film = self.draws.of("air over the cloth", moisture_value("air-film heat_transfer_w_m2k"))
        return Above(
            temperature_c=self.room,
            conductance_w_m2k=film,
            permeance_kg_m2spa=film * MASS_TRANSFER_PER_HEAT,
            vapour_pa=self.vapour,
            steam_kg_m2s=steam_kg_m2s,
        )

    def _under(self) -> Below:
        under = 0.5 * self.draws.of(
            "air over the cloth", moisture_value("air-film heat_transfer_w_m2k")
        )
        return Below(self.room, under, under * MASS_TRANSFER_PER_HEAT, self.vapour)

    def _march(
        self,
        network: Network,
        start: MoistState,
        above: Above,
        below: Below,
        seconds: tuple[float, ...],
        technique: Technique,
    ) -> list[MoistHistory]:
        """March the seconds with steam, then those without."""
        if technique.steam == "none" or technique.hovers:
            return [self._advance(network, start, above, below, seconds)]
        first = tuple(s for s in seconds if s <= STEAM_SECONDS)
        later = tuple(s - STEAM_SECONDS for s in seconds if s > STEAM_SECONDS)
        if not later:
            return [self._advance(network, start, above, below, first)]
        watched = first if first and first[-1] == STEAM_SECONDS else (*first, STEAM_SECONDS)
        one = self._advance(network, start, above, below, watched)
        dry = replace(above, temperature_c=one.sole_c[-1], steam_kg_m2s=0.0)
        two = self._advance(network, one.states[-1], dry, below, later)
        return [_first_of(one, len(first)), two]

    def _advance(
        self,
        network: Network,
        start: MoistState,
        above: Above,
        below: Below,
        seconds: Sequence[float],
    ) -> MoistHistory:
        return advance(network, start, above, below, seconds, tolerance_c=self.tolerance_c)

    def _run(
        self,
        joint: Joint,
        network: Network,
        start: MoistState,
        seconds: tuple[float, ...],
        parts: list[MoistHistory],
        above: Above,
    ) -> Run:
        kept = slice(0, network.draws)
        begin = network.temperature_of(start)[:, kept]
        sole = np.broadcast_to(np.asarray(above.temperature_c), (network.draws,))

        def joined(first: Real, name: str) -> Real:
            return np.concatenate([first[np.newaxis], *(getattr(part, name) for part in parts)])

        return Run(
            joint=joint,
            network=network,
            seconds=(0.0, *seconds),
            temperature_c=joined(begin, "temperature_c"),
            water_kg_m2=joined(start.water_kg_m2[:, kept], "water_kg_m2"),
            peak_c=joined(start.peak_c[:, kept], "peak_c"),
            dose_s=joined(start.dose_s[:, kept], "dose_s"),
            sole_c=joined(sole, "sole_c"),
            room_c=self.room,
            lag_s=self.draws.of("lag of sorption", moisture_value("fibre sorption_lag_s")),
            states=(start, *(state for part in parts for state in part.states)),
        )

    def held(
        self, pressed: Pressed, side: str, tool: PressTool | None, seconds: tuple[float, ...]
    ) -> Run:
        """Lay a tool on the seam, or nothing, and keep what happens at the seconds."""
        joint = build_joint(self.plies, side, self.bench.support)
        if tool is not None:
            joint = under(tool_layer(tool), joint)
        rest = Technique(Dial.NONE, "none", "none", side)
        network, start = self._ready(joint, pressed, rest)
        above = self._air_above()
        if tool is not None:
            above = Above(self.room, 0.0)
            if tool.key == "hand":
                start = _warmed(network, start, 0, SKIN_C)
        parts = [self._advance(network, start, above, self._under(), seconds)]
        return self._run(joint, network, start, seconds, parts, above)

    def air(self, pressed: Pressed, side: str) -> Pressed:
        """Let the seam lie in the air between two passes."""
        joint = build_joint(self.plies, side, self.bench.support)
        rest = Technique(Dial.NONE, "none", "none", side)
        network, start = self._ready(joint, pressed, rest)
        found = self._advance(network, start, self._air_above(), self._under(), (TURN_SECONDS,))
        run = self._run(joint, network, start, (TURN_SECONDS,), [found], self._air_above())
        return run.pressed(1, side=side)


def _first_of(history: MoistHistory, count: int) -> MoistHistory:
    """Keep the first times of a history."""
    return replace(
        history,
        temperature_c=history.temperature_c[:count],
        water_kg_m2=history.water_kg_m2[:count],
        peak_c=history.peak_c[:count],
        dose_s=history.dose_s[:count],
        sole_c=history.sole_c[:count],
        states=history.states[:count],
    )


def _warmed(network: Network, state: MoistState, layer: int, temperature_c: float) -> MoistState:
    """Bring one layer to a temperature."""
    heat, span = state.heat_j_m2.copy(), network.nodes_of(layer)
    temperature = np.full_like(heat, temperature_c)
    heat[span] = heat_of(network, temperature, state.water_kg_m2)[span]
    return replace(state, heat_j_m2=heat)


def lay_in(network: Network, rest: MoistState, joint: Joint, pressed: Pressed) -> MoistState:
    """Return a state in which the plies are as the last pass left them.

    Parameters
    ----------
    network : Network
        The nodes.
    rest : MoistState
        All layers at rest.
    joint : Joint
        Which layers the plies are.
    pressed : Pressed
        The plies, counted from the iron down.

    Returns
    -------
    MoistState
        Mixed.
    """
    heat, water = rest.heat_j_m2.copy(), rest.water_kg_m2.copy()
    peak, dose = rest.peak_c.copy(), rest.dose_s.copy()
    for index, layer in enumerate(joint.plies):
        heat[network.nodes_of(layer)] = pressed.heat_j_m2[index]
        water[network.nodes_of(layer)] = pressed.water_kg_m2[index]
        peak[layer], dose[layer] = pressed.peak_c[index], pressed.dose_s[index]
    return MoistState(heat, water, peak, dose)


def lay(
    layers: Sequence[SeamLayer], bench: Bench, draws: Draws
) -> tuple[MoistLayers, tuple[int, ...]]:
    """Draw the numbers of a stack's layers and contacts.

    Parameters
    ----------
    layers : sequence of SeamLayer
        From the iron down.
    bench : Bench
        Iron and support; their pressure acts on the contacts.
    draws : Draws
        Doubts.

    Returns
    -------
    MoistLayers
        One row a draw.
    tuple of int
        How the cells of each layer grow.
    """
    air = draws.of("vapour permeability of air", moisture_value("air vapour_permeability_kg_mspa"))
    escape = draws.of("escape of steam", moisture_value("cloth escape_kg_m2spa"))
    columns = [_layer_columns(layer, draws, air) for layer in layers]
    tables = {name: np.stack([column[name] for column in columns], axis=1) for name in columns[0]}
    return MoistLayers(
        thickness_mm=tables["thickness"],
        conductivity_w_mk=tables["conductivity"],
        wetting_w_mk=tables["wetting"],
        dry_mass_kg_m2=tables["dry"],
        heat_capacity_j_m2k=tables["capacity"],
        regain_kg_kg=tables["regain"],
        permeability_kg_mspa=tables["permeability"],
        escape_kg_m2spa=np.tile(escape[:, np.newaxis], (1, len(layers))),
        wicking_kg_ms=tables["wicking"],
        **_contacts(layers, bench, draws),
    ), tuple(
        1 if layer.name == "support" else -1 if layer.name == "hold" else 0 for layer in layers
    )


def _layer_columns(layer: SeamLayer, draws: Draws, air: Real) -> dict[str, Real]:
    who = layer.doubt
    thickness = draws.of(f"thickness of the {who}", layer.thickness_mm)
    conductivity = draws.of(f"conductivity of the {who}", layer.conductivity_w_mk)
    heat = draws.of(f"heat capacity of the {who}", layer.heat_capacity_j_m3k)
    dry = draws.of(f"mass of the {who}", layer.dry_mass_gsm) / 1000.0
    wicking = draws.of("wicking", moisture_value("cloth wicking_m2_s"))
    pores = 1.0 - layer.solid_share
    filled = dry / (thickness / 1000.0) / WATER_KG_M3 / pores
    wetter = math.log(WATER_CONDUCTIVITY_W_MK / AIR_CONDUCTIVITY_W_MK) * pores
    return {
        "thickness": thickness,
        "conductivity": conductivity,
        "wetting": conductivity * wetter * np.minimum(filled, 1.0),
        "dry": dry,
        "capacity": heat * thickness / 1000.0,
        "regain": draws.of(f"regain of the {who}", layer.regain_percent) / 100.0,
        "permeability": air * draws.of(f"openness of the {who}", layer.open_share),
        "wicking": wicking * dry / (thickness / 1000.0),
    }


def _contacts(layers: Sequence[SeamLayer], bench: Bench, draws: Draws) -> dict[str, Real]:
    """Draw the contacts between neighbours; a hold touches as a sole does, and no wetter."""
    exponent = moisture_value("cloth pressure_exponent").value
    factor = (bench.iron.pressure_kpa.value / CONTACT_PRESSURE_KPA) ** exponent
    plain = factor * draws.of(
        "contact between plies", moisture_value("cloth contact_conductance_w_m2k")
    )
    held = draws.of("contact of the hold", moisture_value("hold contact_conductance_w_m2k"))
    wetting = draws.of("contact when wet", bench.iron.conductance_per_water_w_m2k)
    open_ = draws.of("vapour between plies", moisture_value("cloth contact_permeance_kg_m2spa"))
    soaks = draws.of("wicking between plies", moisture_value("cloth contact_wicking_kg_m2s"))
    columns = [held if layer.name == "hold" else plain for layer in layers[:-1]]
    return {
        "contact_w_m2k": np.stack(columns, axis=1),
        "contact_wetting_w_m2k": np.stack([wetting] * (len(layers) - 1), axis=1),
        "contact_permeance_kg_m2spa": np.stack([open_] * (len(layers) - 1), axis=1),
        "contact_wicking_kg_m2s": np.stack([soaks] * (len(layers) - 1), axis=1),
    }
