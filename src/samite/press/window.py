"""The press window: chance of a set seam and of damage against seconds, for every technique."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from samite.cloth.model import Cloth
from samite.kernel.evidence import Evidence, Grade
from samite.kernel.quantity import Quantity, spread
from samite.press._scheme import BOILING_C, VAPORISATION_J_KG
from samite.press.batch import WATER_J_KGK, Batch, BatchSolution, Phase, solve_batch
from samite.press.draws import Draws, normal_cdf
from samite.press.glass import accessible_share, softest_dry_transition
from samite.press.joint import (
    Joint,
    Weakness,
    build_joint,
    room_temperature,
    weaknesses,
)
from samite.press.layers import ReadingPlace
from samite.press.placements import QUANTILE_WEIGHTS, QUANTILES, worst_scores
from samite.press.techniques import HOVER, Technique
from samite.tables.fibres import fibre
from samite.tables.press_tools import (
    Iron,
    PressCloth,
    PressTool,
    household_iron,
    press_cloth,
    press_tool,
)

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]

GUESS = Evidence("guess", Grade.GUESS)

SECONDS = (1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 15.0, 20.0, 30.0)
"""Seconds that a person can count, at which the chances are computed."""

SET_WANTED = 0.95
DAMAGE_ALLOWED = 0.01
BOUND_SCORE = 1.2815515655446004
"""Score of the 90 % bound that decisions are made on."""

COUNTING = spread(1.0, 0.2, "1", GUESS)
"""Seconds pressed over seconds counted, from placement to placement."""

PLACE_CONTACT = spread(1.0, 0.3, "1", GUESS)
"""Contact at one placement over its mean."""

STEAM_SECONDS = 2.0
"""How long the steam button is held at each placement [s]."""

LET_GO_C = 30.0
"""Temperature at which a seam is let go, about that of a worn garment [C]."""

CELLS = 0.4
STEPS = 1.8
"""Fewer cells and nearly twice the steps of the bare solver: the plateau at 100 C is first order in
the step, and with these the chances are within 0.05 of the converged ones [-]."""

CONTACT_STEP = 0.15
"""Step of the logarithm of contact for its sensitivity [-]."""

FEW_DRAWS = 32
"""Draws that the mean sensitivity to contact is taken over."""

HERMITE, HERMITE_WEIGHTS = np.polynomial.hermite_e.hermegauss(3)


@dataclass(frozen=True, slots=True, eq=False)
class Chances:
    """What one technique does, second by second.

    Parameters
    ----------
    technique : Technique
        The technique.
    seconds : tuple of float
        Seconds counted [s].
    chance_set : ndarray of float, shape (seconds,)
        Chance that a placement sets the seam [-].
    chance_damage : ndarray of float, shape (seconds,)
        Chance that the whole costume's pressing hurts some part [-].
    damage_bound : ndarray of float, shape (seconds,)
        Upper 90 % bound of that chance, for the doubt that comes from the number of draws [-].
    chance_good : ndarray of float, shape (seconds,)
        Chance of set and unharmed [-].
    core_c : ndarray of float, shape (seconds, 3)
        5th, 50th and 95th percentile at the seam line [C].
    face_c : ndarray of float, shape (seconds, 3)
        The same at the face of the garment [C].
    moved_most : tuple of str
        The doubts that moved the answer most, strongest first.
    """

    technique: Technique
    seconds: tuple[float, ...]
    chance_set: Real
    chance_damage: Real
    damage_bound: Real
    chance_good: Real
    core_c: Real
    face_c: Real
    moved_most: tuple[str, ...]

    @property
    def window_s(self) -> tuple[float, float] | None:
        """Shortest and longest counted time that meets both thresholds [s]."""
        good = (self.chance_set >= SET_WANTED) & (self.damage_bound <= DAMAGE_ALLOWED)
        if not good.any():
            return None
        first = int(np.argmax(good))
        last = first
        while last + 1 < len(self.seconds) and good[last + 1]:
            last += 1
        return self.seconds[first], self.seconds[last]


@dataclass(frozen=True, slots=True)
class Bench:
    """What a cloth is pressed with.

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


def usual_bench(support: str, iron: Iron | None = None) -> Bench:
    """Return an iron, a cotton lawn press cloth and a support.

    Parameters
    ----------
    support : str
        Key of the support; the iron's own board stands for ``board``.
    iron : Iron or None
        The iron; an unmeasured household iron if None.

    Returns
    -------
    Bench
        The bench.
    """
    iron = iron or household_iron()
    under = iron.board if support == "board" and iron.board else press_tool(support)
    return Bench(iron, press_cloth("cotton-lawn"), under)


def press_chances(cloth: Cloth, technique: Technique, bench: Bench, draws: Draws) -> Chances:
    """Return what a technique does to a cloth, second by second.

    Parameters
    ----------
    cloth : Cloth
        The cloth, on both sides of a plain seam pressed open.
    technique : Technique
        How it is pressed.
    bench : Bench
        Iron, press cloth and support.
    draws : Draws
        Doubts, shared between techniques.

    Returns
    -------
    Chances
        Chances and temperatures at `SECONDS`.

    Notes
    -----
    Shared over all placements: cloth, mean contact, set point, support, limits. Independent
    from placement to placement: counting, local contact, the phase of the thermostat; they
    enter to first order. Every limit's own distribution is integrated, so that small chances
    mean something. Steam counts as heat at 100 C and water condensed before contact; water
    leaves at 100 C. Vapour's way through the layers is not followed: errs to slow heating
    under a damp cloth. Pile crushing and stretching are not heat and not in here.

    References
    ----------
    derivation, docs/models/press.md.
    """
    if technique.hovers:
        return _hover_chances(cloth, bench, draws)
    joint = build_joint(cloth, technique, bench.press_cloth, bench.support)
    run = _Run(joint, technique, bench, draws)
    return _judge(cloth, technique, run.history(), run.placement_spread(), draws)


@dataclass(frozen=True, slots=True, eq=False)
class _History:
    """Temperatures and water of all draws at `SECONDS`, the start in front."""

    core_c: Real
    face_c: Real
    garment_c: Real
    ply_c: Real
    water_share: Real
    cooled_share: Real


@dataclass(frozen=True, slots=True, eq=False)
class _Spread:
    """Standard deviations from placement to placement, and the thermostat's share of each."""

    core_c: Real
    core_swing: Real
    face_c: Real
    face_swing: Real
    garment_c: Real
    garment_swing: Real
    ply_c: Real
    ply_swing: Real


class _Run:
    """One technique on one joint: batches of the layer solver and what is read off them."""

    def __init__(self, joint: Joint, technique: Technique, bench: Bench, draws: Draws) -> None:
        self.joint, self.technique, self.draws = joint, technique, draws
        iron = bench.iron
        self.sole = draws.of("sole temperature at this dial", iron.dial_c(technique.iron.value))
        self.swing = draws.of("thermostat's swing", iron.swing_c)
        self.contact = draws.of("contact of iron and cloth", iron.conductance_dry_w_m2k)
        if technique.press_cloth == "damp":
            gain = draws.of("gain of contact by water", iron.conductance_per_water_w_m2k)
            self.contact = self.contact + gain * self._cloth_water(bench)
        self.room = draws.of("room temperature", room_temperature())
        self._lay()
        self._wet(bench)
        times = (0.0, *SECONDS)
        self.middle = self._solve(1.0, times, draws.count)
        few = min(draws.count, FEW_DRAWS)
        self.firmer = self._solve(math.exp(CONTACT_STEP), times, few)

    def _lay(self) -> None:
        draws, layers = self.draws, self.joint.layers
        columns: list[tuple[Real, Real, Real, Real, Real]] = []
        for layer in layers:
            who = _owner(layer.name)
            columns.append(
                (
                    draws.of(f"thickness of the {who}", layer.thickness_mm),
                    draws.of(f"conductivity of the {who}", layer.conductivity_w_mk),
                    draws.of(f"heat capacity of the {who}", layer.heat_capacity_j_m3k),
                    draws.of(f"mass of the {who}", layer.dry_mass_gsm) / 1000.0,
                    draws.of(f"regain of the {who}", layer.regain_percent) / 100.0,
                )
            )
        self.thickness, self.conductivity, self.capacity, self.dry, self.regain = (
            np.stack([column[index] for column in columns], axis=1) for index in range(5)
        )

    def _wet(self, bench: Bench) -> None:
        """Find water and start temperature of each layer after the steam, before contact."""
        damp = self.technique.press_cloth == "damp"
        water = self.regain * self.dry
        if damp:
            water[:, 0] += self._cloth_water(bench) * self.dry[:, 0]
        areal = self.capacity * self.thickness / 1000.0 + WATER_J_KGK * water
        reached = np.array([layer.takes_steam for layer in self.joint.layers])
        rise = (BOILING_C - self.room)[:, np.newaxis]
        needed = np.where(reached, areal * rise / VAPORISATION_J_KG, 0.0)
        filled = np.minimum(self._steam(bench) / needed.sum(axis=1), 1.0)[:, np.newaxis]
        self.start = self.room[:, np.newaxis] + np.where(reached, filled * rise, 0.0)
        self.water = water + filled * needed

    def _cloth_water(self, bench: Bench) -> Real:
        """Water in a damp press cloth [kg/kg]."""
        share = bench.press_cloth.damp_water_percent
        return self.draws.of("water in the press cloth", share) / 100.0

    def _steam(self, bench: Bench) -> Real:
        """Steam condensed on one place [kg/m2]."""
        iron, level = bench.iron, self.technique.steam
        if level == "none":
            return np.zeros(self.draws.count)
        rate = iron.steam_light_g_min if level == "light" else iron.steam_full_g_min
        area = iron.sole_area_cm2.value / 1.0e4
        return self.draws.of("steam output", rate) / 60.0 / 1000.0 / area * STEAM_SECONDS

    def _solve(self, firmness: float, times: tuple[float, ...], count: int) -> BatchSolution:
        batch = Batch(
            thickness_mm=self.thickness[:count],
            conductivity_w_mk=self.conductivity[:count],
            heat_capacity_j_m3k=self.capacity[:count],
            start_c=self.start[:count],
            bottom_c=self.room[:count],
            bottom_conductance_w_m2k=5.0,
            water_kg_m2=self.water[:count],
            vapour_layers=len(self.joint.layers) - 1,
        )
        phase = Phase(SECONDS[-1], self.sole[:count], self.contact[:count] * firmness)
        depth = self.joint.face_depth
        places = (ReadingPlace(self.joint.core, 1.0), ReadingPlace(self.joint.face_layer, depth))
        return solve_batch(batch, [phase], times, places, fineness=CELLS, step_fineness=STEPS)

    def history(self) -> _History:
        """Return what happens at the middle of all placements."""
        return self._read(self.middle)

    def _read(self, solution: BatchSolution) -> _History:
        plies = list(self.joint.plies)
        core_layers = [self.joint.core, self.joint.core + 1]
        count = len(solution.temperature_c)
        dry = self.dry[:count, core_layers].sum(axis=1)[:, np.newaxis]
        water = solution.water_kg_m2[:, :, core_layers].sum(axis=2)
        return _History(
            core_c=solution.temperature_c[:, :, 0],
            face_c=np.maximum.accumulate(solution.temperature_c[:, :, 1], axis=1),
            garment_c=solution.peak_c[:, :, list(self.joint.garment)].max(axis=2),
            ply_c=solution.peak_c[:, :, plies].max(axis=2),
            water_share=water / (water + dry),
            cooled_share=self._cooled(solution, water, dry, core_layers, count),
        )

    def _cooled(
        self, solution: BatchSolution, water: Real, dry: Real, layers: list[int], count: int
    ) -> Real:
        """Return the water share when let go: the heat left in the cloth dries it further."""
        areal = (self.capacity * self.thickness)[:count, layers].sum(axis=1) / 1000.0
        left = solution.temperature_c[:, :, 0] - LET_GO_C
        after = water - areal[:, np.newaxis] * np.maximum(left, 0.0) / VAPORISATION_J_KG
        after = np.maximum(after, 0.0)
        return np.asarray(after / (after + dry), dtype=np.float64)

    def placement_spread(self) -> _Spread:
        """Return standard deviations between placements, by first-order sensitivities."""
        base, firm = self._read(self.middle), self._read(self.firmer)
        return _Spread(
            *(
                part
                for name in ("core_c", "face_c", "garment_c", "ply_c")
                for part in self._spread_of(getattr(base, name), getattr(firm, name))
            )
        )

    def _spread_of(self, middle: Real, firmer: Real) -> tuple[Real, Real]:
        """Return the standard deviation, and the thermostat's share of it."""
        now = middle[:, 1:]
        few = len(firmer)
        gain = (firmer[:, 1:] - now[:few]).mean(axis=0) / CONTACT_STEP
        contact = gain * _log_sigma(PLACE_CONTACT)
        logs = np.log(np.array(SECONDS))
        slope = np.gradient(now, logs, axis=1)
        time = slope * _log_sigma(COUNTING)
        reach = (now - self.room[:, np.newaxis]) / (self.sole - self.room)[:, np.newaxis]
        swing = np.clip(reach, 0.0, 1.0) * (self.swing / math.sqrt(2.0))[:, np.newaxis]
        whole = np.sqrt(contact**2 + time**2 + swing**2)
        return whole, swing / np.maximum(whole, 1e-12)


def _owner(layer: str) -> str:
    return {"press cloth": "press cloth", "support": "support"}.get(layer, f"cloth's {layer}")


def _log_sigma(quantity: Quantity) -> float:
    return math.log(quantity.high / quantity.value) / 1.6448536269514722


def _judge(
    cloth: Cloth, technique: Technique, history: _History, spread_: _Spread, draws: Draws
) -> Chances:
    set_by_draw = _set_share(cloth, history, spread_)
    damage_by_draw = _damage(weaknesses(cloth), history, spread_)
    damage = damage_by_draw.mean(axis=0)
    error = damage_by_draw.std(axis=0) / math.sqrt(draws.count)
    good = (set_by_draw * (1.0 - damage_by_draw)).mean(axis=0)
    index = int(np.argmax(good))
    return Chances(
        technique=technique,
        seconds=SECONDS,
        chance_set=set_by_draw.mean(axis=0),
        chance_damage=damage,
        damage_bound=np.minimum(damage + BOUND_SCORE * error, 1.0),
        chance_good=good,
        core_c=_percentiles(history.core_c[:, 1:]),
        face_c=_percentiles(history.face_c[:, 1:]),
        moved_most=_moved_most(cloth, history, draws, index),
    )


def _percentiles(values: Real) -> Real:
    return np.percentile(values, (5.0, 50.0, 95.0), axis=0).T


def _set_share(cloth: Cloth, history: _History, spread_: _Spread) -> Real:
    """Return the chance that a placement sets, by draw and second, each fibre by its share."""
    total = np.zeros_like(spread_.core_c)
    fibres = [item for item in cloth.base.fibres if _can_be_set(item.fibre)]
    weight = sum(item.percent for item in fibres)
    if not fibres:
        return _set_of(_unknown_transition(), history, spread_)
    for item in fibres:
        kind = fibre(item.fibre)
        transition = kind.quantity("glass_transition_dry_c")
        open_share = accessible_share(kind.group, melts=kind.melts)
        total += item.percent / weight * _set_of(transition, history, spread_, open_share)
    return total


def _can_be_set(name: str) -> bool:
    return fibre(name).group in ("cellulose", "protein", "synthetic")


def _unknown_transition() -> Quantity:
    return Quantity(90.0, 45.0, 180.0, "C", GUESS)


def _set_of(
    transition: Quantity, history: _History, spread_: _Spread, accessible: float = 1.0
) -> Real:
    """Integrate over placements: soft while held, stiff again when let go."""
    share = np.zeros_like(spread_.core_c)
    water, cooled = (
        share_ / (share_ + accessible * (1.0 - share_))
        for share_ in (history.water_share, history.cooled_share)
    )
    for score, weight in zip(HERMITE, HERMITE_WEIGHTS / HERMITE_WEIGHTS.sum(), strict=True):
        core = history.core_c.copy()
        core[:, 1:] += score * spread_.core_c
        reached = softest_dry_transition(temperature_c=core, water_share=water)
        softest = np.maximum.accumulate(reached, axis=1)[:, 1:]
        stiff = softest_dry_transition(
            temperature_c=np.full_like(core, LET_GO_C), water_share=cooled
        )[:, 1:]
        chance = normal_cdf(transition.score(softest)) - normal_cdf(transition.score(stiff))
        share += weight * np.clip(chance, 0.0, 1.0)
    return share


def _damage(parts: tuple[Weakness, ...], history: _History, spread_: _Spread) -> Real:
    """Return the chance that the costume's pressing hurts a part, by draw and second."""
    unharmed = np.ones_like(spread_.core_c)
    for part in parts:
        middle, width = (getattr(item, f"{part.place}_c") for item in (history, spread_))
        hurt = np.zeros_like(unharmed)
        for quantile, weight in zip(QUANTILES, QUANTILE_WEIGHTS, strict=True):
            score = worst_scores(float(quantile), getattr(spread_, f"{part.place}_swing"))
            hottest = middle[:, 1:] + score * width
            hurt += weight * normal_cdf(part.limit_c.score(hottest))
        unharmed *= 1.0 - hurt
    return 1.0 - unharmed


def _hover_chances(cloth: Cloth, bench: Bench, draws: Draws) -> Chances:
    """Steam held off the cloth: heat at 100 C and wetting, no contact."""
    joint = build_joint(cloth, HOVER, bench.press_cloth, bench.support)
    room = draws.of("room temperature", room_temperature())
    plies = [joint.layers[index] for index in joint.plies]
    dry = np.stack([draws.of(f"mass of the cloth's {x.name}", x.dry_mass_gsm) for x in plies], 1)
    areal = np.stack(
        [
            draws.of(f"heat capacity of the cloth's {x.name}", x.heat_capacity_j_m3k)
            * draws.of(f"thickness of the cloth's {x.name}", x.thickness_mm)
            / 1000.0
            for x in plies
        ],
        1,
    ).sum(axis=1)
    regain = draws.of("regain of the cloth", plies[-1].regain_percent) / 100.0
    rate = draws.of("steam output", bench.iron.steam_full_g_min) / 60.0 / 1000.0
    reach = draws.of("share of hover steam that reaches the cloth", HOVER_SHARE)
    arriving = (rate * reach / (bench.iron.sole_area_cm2.value / 1.0e4))[:, np.newaxis]
    needed = (areal * (BOILING_C - room) / VAPORISATION_J_KG)[:, np.newaxis]
    times = np.array((0.0, *SECONDS))
    filled = np.minimum(arriving * times / needed, 1.0)
    core = room[:, np.newaxis] + filled * (BOILING_C - room)[:, np.newaxis]
    mass = dry.sum(axis=1)[:, np.newaxis] / 1000.0
    water = regain[:, np.newaxis] * mass + filled * needed
    dried = np.maximum(water - filled * needed, 0.0)
    wet, cooled = water / (water + mass), dried / (dried + mass)
    history = _History(core, core, core, core, wet, cooled)
    width = np.abs(core[:, 1:]) * 0.02
    none = np.zeros_like(width)
    spread_ = _Spread(width, none, width, none, width, none, width, none)
    return _judge(cloth, HOVER, history, spread_, draws)


HOVER_SHARE = Quantity(0.5, 0.3, 0.8, "1", GUESS)
"""Share of the steam of a hovering iron that condenses on the cloth."""


def _moved_most(cloth: Cloth, history: _History, draws: Draws, index: int) -> tuple[str, ...]:
    """Rank the doubts by the variance that they bring to core and hottest place."""
    core, ply = history.core_c[:, index + 1], history.ply_c[:, index + 1]
    weights: dict[str, float] = {}
    for name in draws.names:
        score = draws.score(name)
        weights[name] = max(_explained(score, core), _explained(score, ply))
    for item in cloth.base.fibres:
        if _can_be_set(item.fibre) and item.percent >= 30.0:
            transition = fibre(item.fibre).quantity("glass_transition_dry_c")
            name = f"glass transition of the {item.fibre}"
            weights[name] = _variance_near(transition, core)
    for part in weaknesses(cloth):
        middle = getattr(history, f"{part.place}_c")
        weights[f"limit of the {part.name}"] = _variance_near(part.limit_c, middle[:, index + 1])
    ranked = sorted(weights, key=lambda name: -weights[name])
    return tuple(ranked[:2])


def _explained(score: Real, answer: Real) -> float:
    if answer.std() == 0.0:
        return 0.0
    return float(np.corrcoef(score, answer)[0, 1] ** 2 * answer.var())


def _variance_near(limit: Quantity, answer: Real) -> float:
    """Variance of a limit, counted only as far as the answer comes near it."""
    sigma = (limit.high - limit.low) / (2.0 * 1.6448536269514722)
    gap = max(abs(limit.value - float(np.median(answer))) - 2.0 * sigma, 0.0)
    return sigma**2 * math.exp(-((gap / (sigma + 1e-9)) ** 2))
