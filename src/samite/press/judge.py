"""What a run did to a seam: whether it is set, and what it hurt."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from samite.cloth.model import Cloth
from samite.kernel.evidence import Evidence, Grade
from samite.kernel.quantity import Quantity, spread
from samite.press._moist_scheme import VAPORISATION_J_KG, WATER_J_KGK
from samite.press.draws import Draws, normal_cdf
from samite.press.glass import accessible_share, softest_dry_transition
from samite.press.moist import DOSE_FROM_C, DOSE_PER_K
from samite.press.placements import QUANTILE_WEIGHTS, QUANTILES, worst_scores
from samite.press.pressing import Run
from samite.press.recipe import WATER_MARKED
from samite.press.weakness import SETTABLE_GROUPS, Weakness
from samite.tables.fibres import fibre
from samite.tables.press_tools import PressTool

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]

GUESS = Evidence("guess", Grade.GUESS)

COUNTING = spread(1.0, 0.2, "1", GUESS)
"""Seconds pressed over seconds counted, from placement to placement and person to person."""

OWN_PACE_SHARE = 0.5
"""Share of the variance of counting that is the person's own pace, the same all day [-] (guess)."""

PLACE_CONTACT = spread(1.0, 0.3, "1", GUESS)
"""Contact at one placement over its mean."""

CONTACT_STEP = 0.15
"""Step of the logarithm of contact for its sensitivity [-]."""

LET_GO_C = 30.0
"""Temperature at which a seam is let go, about that of a worn garment [C]."""

DOSE_SECONDS = 5.0
"""Limits of what scorches are told for so many seconds of contact [s]."""

WET_REGAINS = 2.64
"""Water from which drops lie on a fibre: all that its curve takes up at saturation [regains]."""

MARK_CHANCE = 0.5
"""Chance that drops leave a ring on a fibre that is known for it (guess). Vapour that condenses
evenly from a hovering iron leaves none."""

HERMITE, HERMITE_WEIGHTS = np.polynomial.hermite_e.hermegauss(3)

PLACES = ("core", "face", "garment", "ply", "pile", "garment_dose", "ply_dose")
"""Temperatures that are judged; a dose counts as the constant temperature that would give it."""


@dataclass(frozen=True, slots=True, eq=False)
class History:
    """What all draws saw, the start in front; arrays of shape (draws, times).

    Parameters
    ----------
    temperatures : dict of str to ndarray of float
        One of `PLACES` each; hottest so far, except of the core [C].
    core_water : ndarray of float
        Water over wet mass at the core [-].
    core_let_go : ndarray of float
        The same when let go: the heat left in the cloth dries it further [-].
    pile_water : ndarray of float
        Water over wet mass in the garment's pile [-].
    wet_face : ndarray of bool
        Whether drops have lain on the face of the garment.
    """

    temperatures: dict[str, Real]
    core_water: Real
    core_let_go: Real
    pile_water: Real
    wet_face: Real


@dataclass(frozen=True, slots=True, eq=False)
class Spread:
    """How places differ from placement to placement; arrays of shape (draws, seconds).

    Parameters
    ----------
    sigma : dict of str to ndarray of float
        Standard deviation, by place [K].
    swing : dict of str to ndarray of float
        The thermostat's share of it, by place [-].
    """

    sigma: dict[str, Real]
    swing: dict[str, Real]


def read_run(run: Run) -> History:
    """Read off a run what is judged.

    Parameters
    ----------
    run : Run
        The last pass, all before it included.

    Returns
    -------
    History
        Temperatures, waters, drops.
    """
    joint, network = run.joint, run.network
    above, below = (network.nodes_of(joint.core + i) for i in (0, 1))
    core = slice(above.start, below.stop)
    face = network.node_at(joint.face_layer, joint.face_depth)
    dry = network.dry[:, : network.draws]
    temperatures = {
        "core": run.temperature_c[:, above.stop - 1],
        "face": np.maximum.accumulate(run.temperature_c[:, face], axis=0),
    }
    for name, layers in (("garment", joint.garment), ("ply", joint.plies)):
        temperatures[name] = run.peak_c[:, list(layers)].max(axis=1)
        temperatures[f"{name}_dose"] = _constant(run.dose_s[:, list(layers)].max(axis=1))
    core_water = _share(_lagging(run, core), dry[core].sum(axis=0))
    pile_water = core_water
    if joint.pile:
        pile = np.concatenate([np.r_[network.nodes_of(layer)] for layer in joint.pile])
        temperatures["pile"] = np.maximum.accumulate(run.temperature_c[:, pile].max(axis=1), axis=0)
        pile_water = _share(_lagging(run, pile), dry[pile].sum(axis=0))
    regains = run.water_kg_m2[:, face] / dry[face] / network.regain[face, : network.draws]
    return History(
        temperatures={name: values.T for name, values in temperatures.items()},
        core_water=core_water.T,
        core_let_go=_let_go(run, core).T,
        pile_water=pile_water.T,
        wet_face=np.maximum.accumulate(regains > WET_REGAINS, axis=0).T,
    )


def _lagging(run: Run, nodes: slice | NDArray[np.int64]) -> Real:
    """Return the water inside the fibres of some nodes: it follows with a lag of first order."""
    water: Real = run.water_kg_m2[:, nodes].sum(axis=1)
    found: Real = water.copy()
    for index in range(1, len(found)):
        share = 1.0 - np.exp(-(run.seconds[index] - run.seconds[index - 1]) / run.lag_s)
        found[index] = found[index - 1] + share * (water[index] - found[index - 1])
    return found


def _share(water: Real, dry: Real) -> Real:
    held = np.maximum(water, 0.0)
    return np.asarray(held / (held + dry))


def _constant(dose_s: Real) -> Real:
    """Return the constant temperature that gives a dose in the seconds limits are told for."""
    doublings = np.log2(np.maximum(dose_s, 1e-30) / DOSE_SECONDS)
    found: Real = DOSE_FROM_C + DOSE_PER_K * doublings
    return found


def _let_go(run: Run, core: slice) -> Real:
    """Return the water share when let go: the heat left in the two layers dries them."""
    draws = run.network.draws
    water, dry = run.water_kg_m2[:, core], run.network.dry[core, :draws]
    warm = run.network.capacity[core, :draws] + WATER_J_KGK * water
    heat = (warm * (run.temperature_c[:, core] - LET_GO_C)).sum(axis=1)
    left = water.sum(axis=1) - np.maximum(heat, 0.0) / VAPORISATION_J_KG
    return _share(left, dry.sum(axis=0))


def paced(history: History, seconds: Sequence[float], pace: Real) -> History:
    """Return what a person saw who presses longer or shorter than counted.

    Parameters
    ----------
    history : History
        At the seconds counted.
    seconds : sequence of float
        Those seconds, the start in front [s].
    pace : ndarray of float, shape (draws,)
        Seconds pressed over seconds counted [-].

    Returns
    -------
    History
        At the seconds pressed, on straight lines between those computed; past the last one, the
        last one.
    """
    times = np.asarray(seconds)
    wanted = np.minimum(times[np.newaxis, :] * pace[:, np.newaxis], times[-1])
    after = np.clip(np.searchsorted(times, wanted, side="right"), 1, len(times) - 1)
    share = (wanted - times[after - 1]) / (times[after] - times[after - 1])
    rows = np.arange(len(pace))[:, np.newaxis]

    def moved(values: Real) -> Real:
        early, late = values[rows, after - 1], values[rows, after]
        return np.asarray(early + share * (late - early))

    return History(
        temperatures={name: moved(values) for name, values in history.temperatures.items()},
        core_water=moved(history.core_water),
        core_let_go=moved(history.core_let_go),
        pile_water=moved(history.pile_water),
        wet_face=(moved(history.wet_face.astype(np.float64)) > 0.5).astype(np.float64),
    )


def placement_spread(run: Run, firmer: Run, swing_c: Real, counting_share: float = 1.0) -> Spread:
    """Return how places differ between placements, by first-order sensitivities.

    Parameters
    ----------
    run : Run
        At the middle of all placements.
    firmer : Run
        The first draws again, contact firmer by `CONTACT_STEP`.
    swing_c : ndarray of float, shape (draws,)
        Half of the thermostat's swing [K].
    counting_share : float
        Share of the standard deviation of counting that is from placement to placement, where
        the rest is the person's own pace [-].

    Returns
    -------
    Spread
        One table a place.
    """
    base, firm = read_run(run).temperatures, read_run(firmer).temperatures
    reach_c = run.sole_c.T[:, 1:] - run.room_c[:, np.newaxis]
    sigma, swings = {}, {}
    for place, middle in base.items():
        now, few = middle[:, 1:], len(firm[place])
        gain = (firm[place][:, 1:] - now[:few]).mean(axis=0) / CONTACT_STEP
        contact = gain * _log_sigma(PLACE_CONTACT)
        slope = np.gradient(now, np.log(run.seconds[1:]), axis=1) if now.shape[1] > 1 else 0.0
        time = slope * (_log_sigma(COUNTING) * counting_share)
        reach = (now - run.room_c[:, np.newaxis]) / np.maximum(reach_c, 1.0)
        swing = np.clip(reach, 0.0, 1.0) * (swing_c / math.sqrt(2.0))[:, np.newaxis]
        sigma[place] = np.sqrt(contact**2 + time**2 + swing**2)
        swings[place] = swing / np.maximum(sigma[place], 1e-12)
    return Spread(sigma, swings)


def _log_sigma(quantity: Quantity) -> float:
    return math.log(quantity.high / quantity.value) / 1.6448536269514722


def own_pace(score: Real) -> Real:
    """Return how a person's seconds compare with those counted.

    Parameters
    ----------
    score : ndarray of float, any shape
        Standard normal scores of the person [-].

    Returns
    -------
    ndarray of float, same shape
        Seconds pressed over seconds counted [-].
    """
    pace: Real = np.exp(score * _log_sigma(COUNTING) * math.sqrt(OWN_PACE_SHARE))
    return pace


Below = Callable[[str, "Real"], "Real"]
"""Chance that a doubt lies below scores, `Draws.below`."""


def from_table(_name: str, score: Real) -> Real:
    """Return the chance that a doubt lies below scores, as its table has it.

    Parameters
    ----------
    _name : str
        The doubt.
    score : ndarray of float, any shape
        Scores [-].

    Returns
    -------
    ndarray of float, same shape
        Chances.
    """
    return normal_cdf(score)


def known(draws: Draws) -> Below:
    """Return what is known of the limits: from the tables, or learnt.

    Parameters
    ----------
    draws : Draws
        The draws.

    Returns
    -------
    callable
        As `Draws.below`.
    """
    return draws.below if draws.learnt else from_table


def set_chance(cloth: Cloth, history: History, spread_: Spread, below: Below = from_table) -> Real:
    """Return the chance that a placement sets the seam, each fibre by its share.

    Parameters
    ----------
    cloth : Cloth
        The cloth.
    history : History
        What all draws saw.
    spread_ : Spread
        How placements differ.
    below : callable
        What is known of the transitions.

    Returns
    -------
    ndarray of float, shape (draws, seconds)
        Chances.

    Notes
    -----
    One rule for all fibres: soft at some second while held, stiff when let go. The transition's
    own distribution is integrated; placements by three Hermite nodes.
    """
    total = np.zeros_like(spread_.sigma["core"])
    for name, (transition, accessible, share) in zip(
        transition_doubts(cloth), transitions(cloth), strict=True
    ):
        known = partial(below, name)
        total += share * _set_of(transition, accessible, history, spread_, known)
    return total


def transition_doubts(cloth: Cloth) -> list[str]:
    """Return the names of the doubts about `transitions`, in their order.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    list of str
        Names.
    """
    settable = [i for i in cloth.base.fibres if fibre(i.fibre).group in SETTABLE_GROUPS]
    named = [f"glass transition of the {item.fibre}" for item in settable]
    return named or ["glass transition of the unknown fibre"]


def transitions(cloth: Cloth) -> list[tuple[Quantity, float, float]]:
    """Return what the fibres of a cloth's ground need to be set.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    list of tuple of (Quantity, float, float)
        Dry glass transition [C], share that takes up water [-], share of the fibres [-].
    """
    kinds = [(item, fibre(item.fibre)) for item in cloth.base.fibres]
    settable = [(item, kind) for item, kind in kinds if kind.group in SETTABLE_GROUPS]
    weight = sum(item.percent for item, _ in settable)
    if not settable:
        return [(UNKNOWN_TRANSITION, 1.0, 1.0)]
    return [
        (
            kind.quantity("glass_transition_dry_c"),
            accessible_share(kind.group, melts=kind.melts),
            item.percent / weight,
        )
        for item, kind in settable
    ]


UNKNOWN_TRANSITION = Quantity(90.0, 45.0, 180.0, "C", GUESS)
"""Dry glass transition of a fibre that nobody named."""


def in_what_opens(water_share: Real, accessible: float) -> Real:
    """Return the water share in that part of the fibre which takes up water.

    Parameters
    ----------
    water_share : ndarray of float, any shape
        Water over wet mass [-].
    accessible : float
        Share of the dry fibre that takes up water [-].

    Returns
    -------
    ndarray of float, same shape
        Water over wet mass of that part [-].
    """
    return np.asarray(water_share / (water_share + accessible * (1.0 - water_share)))


def _set_of(
    transition: Quantity,
    accessible: float,
    history: History,
    spread_: Spread,
    below: Callable[[Real], Real],
) -> Real:
    sigma = spread_.sigma["core"]
    share = np.zeros_like(sigma)
    water = in_what_opens(history.core_water, accessible)
    cooled = in_what_opens(history.core_let_go, accessible)[:, 1:]
    stiff = softest_dry_transition(temperature_c=np.full_like(cooled, LET_GO_C), water_share=cooled)
    fails = below(transition.score(stiff))
    for score, weight in zip(HERMITE, HERMITE_WEIGHTS / HERMITE_WEIGHTS.sum(), strict=True):
        core = history.temperatures["core"].copy()
        core[:, 1:] += score * sigma
        softest = _softest(core, water)
        share += weight * np.clip(below(transition.score(softest)) - fails, 0.0, 1.0)
    return share


def _softest(temperature_c: Real, water_share: Real) -> Real:
    reached = softest_dry_transition(temperature_c=temperature_c, water_share=water_share)
    return np.asarray(np.maximum.accumulate(reached, axis=1)[:, 1:])


def damage_chance(
    cloth: Cloth,
    parts: Sequence[Weakness],
    history: History,
    spread_: Spread,
    support: PressTool,
    *,
    drops: bool = True,
    below: Below = from_table,
) -> Real:
    """Return the chance that the costume's pressing hurts any part.

    Parameters
    ----------
    cloth : Cloth
        The cloth.
    parts : sequence of Weakness
        What can be hurt.
    history : History
        What all draws saw.
    spread_ : Spread
        How placements differ.
    support : PressTool
        What lies under: it may spare a pile.
    drops : bool
        Whether water can come as drops: not from a hovering iron.
    below : callable
        What is known of the limits.

    Returns
    -------
    ndarray of float, shape (draws, seconds)
        Chances.
    """
    unharmed = np.ones_like(spread_.sigma["core"])
    for part in parts:
        unharmed *= 1.0 - part_hurt(part, history, spread_, support, below)
    if drops and cloth.share(*WATER_MARKED) >= MARKED_PERCENT:
        marks: float | Real = MARK_CHANCE
        if below is not from_table:
            marks = below(MARKS, np.zeros_like(unharmed))
        unharmed *= 1.0 - marks * history.wet_face[:, 1:]
    return 1.0 - unharmed


MARKED_PERCENT = 30.0
"""Share of fibres that drops mark from which a cloth is marked [%]."""


MARKS = "marks from drops"
"""Name of the doubt whether drops mark a cloth: they do where its score lies below 0, one half."""


def part_hurt(
    part: Weakness,
    history: History,
    spread_: Spread,
    support: PressTool,
    below: Below = from_table,
) -> Real:
    """Return the chance that one part is hurt at the worst of all placements.

    Parameters
    ----------
    part : Weakness
        The part.
    history : History
        What all draws saw.
    spread_ : Spread
        How placements differ.
    support : PressTool
        What lies under.
    below : callable
        What is known of the limit.

    Returns
    -------
    ndarray of float, shape (draws, seconds)
        Chances.
    """
    place = f"{part.place}_dose" if part.scorches else part.place
    if place not in history.temperatures:
        place = part.place
    middle, sigma = history.temperatures[place], spread_.sigma[place]
    hurt = np.zeros_like(sigma)
    for quantile, weight in zip(QUANTILES, QUANTILE_WEIGHTS, strict=True):
        score = worst_scores(float(quantile), spread_.swing[place])
        hottest = middle[:, 1:] + score * sigma
        if part.place == "pile":
            whole = np.concatenate([middle[:, :1], hottest], axis=1)
            hottest = _softest(whole, history.pile_water)
        hurt += weight * below(part.doubt, part.limit_c.score(hottest))
    if part.place == "pile" and support.pile_spared is not None:
        hurt *= 1.0 - support.pile_spared.value
    return hurt


def moved_most(
    cloth: Cloth, parts: Sequence[Weakness], history: History, draws: Draws, index: int
) -> tuple[str, ...]:
    """Rank the doubts by the variance that they bring to core and hottest place.

    Parameters
    ----------
    cloth : Cloth
        The cloth.
    parts : sequence of Weakness
        What can be hurt.
    history : History
        What all draws saw.
    draws : Draws
        The doubts asked for.
    index : int
        Which of the seconds.

    Returns
    -------
    tuple of str
        The two that moved the answer most, strongest first.
    """
    core = history.temperatures["core"][:, index + 1]
    ply = history.temperatures["ply"][:, index + 1]
    weights = {
        name: max(_explained(draws.score(name), core), _explained(draws.score(name), ply))
        for name in draws.names
    }
    for item in cloth.base.fibres:
        if fibre(item.fibre).group in SETTABLE_GROUPS and item.percent >= 30.0:
            transition = fibre(item.fibre).quantity("glass_transition_dry_c")
            weights[f"glass transition of the {item.fibre}"] = _variance_near(transition, core)
    for part in parts:
        middle = history.temperatures[part.place][:, index + 1]
        weights[f"limit of the {part.name}"] = _variance_near(part.limit_c, middle)
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
