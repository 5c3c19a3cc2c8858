"""The press window: chance of a set seam and of damage against seconds, for every technique."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from samite.cloth.model import Cloth
from samite.press.draws import Draws
from samite.press.joint import Ply, seam_plies
from samite.press.judge import (
    CONTACT_STEP,
    OWN_PACE_SHARE,
    History,
    damage_chance,
    known,
    moved_most,
    paced,
    placement_spread,
    read_run,
    set_chance,
)
from samite.press.pressing import Bench, Placement, Run, press
from samite.press.techniques import Technique
from samite.press.weakness import Weakness, weaknesses
from samite.tables.irons import Iron, household_iron
from samite.tables.press_tools import press_cloth, press_tool

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]

SECONDS = (1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 15.0, 20.0, 30.0)
"""Seconds that a person can count, at which the chances are computed."""

SET_WANTED = 0.95
DAMAGE_ALLOWED = 0.01
BOUND_SCORE = 1.2815515655446004
"""Score of the 90 % bound that decisions are made on."""

FEW_DRAWS = 16
"""Draws that the mean sensitivity to contact is taken over."""

SCREEN_TOLERANCE_C = 0.5
"""Error allowed a step of the solver while techniques are compared [K]."""

WINDOW_FINENESS = 0.6
"""Coarser cells than the solver's own: within 0.2 K at the seam line and 1 K at the hottest ply,
in the mean over draws, of cells four times as fine [-]."""


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
    agreed : ndarray of bool, shape (seconds,), or None
        Where other draws meet both thresholds too; None if none were asked.
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
    agreed: NDArray[np.bool_] | None = None

    @property
    def standard_error(self) -> Real:
        """Standard error of the chance of damage, for the number of draws [-]."""
        return np.asarray((self.damage_bound - self.chance_damage) / BOUND_SCORE)

    @property
    def holds(self) -> NDArray[np.bool_]:
        """Where both thresholds are met."""
        return np.asarray((self.chance_set >= SET_WANTED) & (self.damage_bound <= DAMAGE_ALLOWED))

    @property
    def window_s(self) -> tuple[float, float] | None:
        """Shortest and longest counted time that meets both thresholds [s]."""
        good = self.holds if self.agreed is None else self.holds & self.agreed
        if not good.any():
            return None
        first = int(np.argmax(good))
        last = first
        while last + 1 < len(self.seconds) and good[last + 1]:
            last += 1
        return self.seconds[first], self.seconds[last]


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


@dataclass(frozen=True, slots=True)
class Seam:
    """What is pressed.

    Parameters
    ----------
    cloth : Cloth
        The cloth whose fibres have to be set.
    plies : tuple of Ply
        The plies from the wrong side.
    parts : tuple of Weakness
        What can be hurt.
    """

    cloth: Cloth
    plies: tuple[Ply, ...]
    parts: tuple[Weakness, ...]


def seam_of(cloth: Cloth, order: str = "open", other: Cloth | None = None) -> Seam:
    """Return a seam of one cloth or two.

    Parameters
    ----------
    cloth : Cloth
        The cloth of the garment's side.
    order : str
        How it lies: ``open``, ``to one side``, ``french`` or ``edge``.
    other : Cloth or None
        The cloth of the other side; None for the same.

    Returns
    -------
    Seam
        With the tender parts of both.
    """
    parts = weaknesses(cloth) + (weaknesses(other) if other else ())
    return Seam(cloth, seam_plies(cloth, order, other), parts)


def press_chances(
    seam: Seam,
    passes: Sequence[Placement],
    bench: Bench,
    draws: Draws,
    *,
    tolerance_c: float = SCREEN_TOLERANCE_C,
    weights: Real | None = None,
) -> Chances:
    """Return what a technique does to a seam, second by second.

    Parameters
    ----------
    seam : Seam
        Plies and tender parts.
    passes : sequence of Placement
        One to three passes; the seconds of the last are left open.
    bench : Bench
        Iron, press cloth and support.
    draws : Draws
        Doubts, shared between techniques.
    tolerance_c : float
        Error allowed a step of the solver [K].
    weights : ndarray of float, shape (draws,), or None
        What each draw counts, where swatches were learnt from; None for all the same [-].

    Returns
    -------
    Chances
        Chances and temperatures at `SECONDS` of the last pass.

    Notes
    -----
    Shared over all placements: cloth, mean contact, set point, support, air, limits. Independent
    from placement to placement: counting, local contact, the phase of the thermostat; they
    enter to first order. Every limit's own distribution is integrated, so that small chances
    mean something. Let go, the seam dries by the heat left in it; `hold_seam` follows the hold.

    References
    ----------
    derivation, docs/models/press.md.
    """
    pressed = press_runs(seam, passes, bench, draws, tolerance_c=tolerance_c)
    return judge_runs(seam, pressed, draws, weights=weights)


@dataclass(frozen=True, slots=True, eq=False)
class Runs:
    """A technique on all draws, not judged yet: to be judged again with other beliefs.

    Parameters
    ----------
    technique : Technique
        The last pass.
    bench : Bench
        Iron, press cloth and support.
    run : Run
        The last pass, at `SECONDS`.
    firmer : Run
        A few draws again with a firmer contact.
    """

    technique: Technique
    bench: Bench
    run: Run
    firmer: Run


def press_runs(
    seam: Seam,
    passes: Sequence[Placement],
    bench: Bench,
    draws: Draws,
    *,
    seconds: Sequence[float] = SECONDS,
    tolerance_c: float = SCREEN_TOLERANCE_C,
) -> Runs:
    """Press a seam for `press_chances`, without judging what it did.

    Parameters
    ----------
    seam : Seam
        Plies and tender parts.
    passes : sequence of Placement
        One to three passes; the seconds of the last are left open.
    bench : Bench
        Iron, press cloth and support.
    draws : Draws
        Doubts.
    seconds : sequence of float
        Rising seconds of the last pass to watch; `judge_runs` wants `SECONDS` [s].
    tolerance_c : float
        Error allowed a step of the solver [K].

    Returns
    -------
    Runs
        Heat and water.
    """

    def pressed(some: Draws, firmness: float) -> Run:
        return press(
            seam.plies,
            passes,
            seconds,
            bench,
            some,
            firmness=firmness,
            tolerance_c=tolerance_c,
            fineness=WINDOW_FINENESS,
        )

    run = pressed(draws, 1.0)
    firmer = pressed(_first_draws(draws), math.exp(CONTACT_STEP))
    return Runs(passes[-1].technique, bench, run, firmer)


def judge_runs(seam: Seam, pressed: Runs, draws: Draws, *, weights: Real | None = None) -> Chances:
    """Judge what a technique did: chances of a set seam and of damage.

    Parameters
    ----------
    seam : Seam
        Plies and tender parts.
    pressed : Runs
        What it did.
    draws : Draws
        The draws that it was pressed with, or others with the same scores that know more.
    weights : ndarray of float, shape (draws,), or None
        What each draw counts; None for all the same [-].

    Returns
    -------
    Chances
        As `press_chances`.
    """
    run, technique = pressed.run, pressed.technique
    sets, hurts, history = chances_by_draw(seam, pressed, draws)
    if weights is None:
        damage = hurts.mean(axis=0)
        error = hurts.std(axis=0) / math.sqrt(draws.independent)
        good, chance_set = (sets * (1.0 - hurts)).mean(axis=0), sets.mean(axis=0)
    else:
        share = weights / weights.sum()
        damage, chance_set = share @ hurts, share @ sets
        error = np.sqrt((share**2) @ (hurts - damage) ** 2)
        good = share @ (sets * (1.0 - hurts))
    return Chances(
        technique=technique,
        seconds=run.seconds[1:],
        chance_set=chance_set,
        chance_damage=damage,
        damage_bound=np.minimum(damage + BOUND_SCORE * error, 1.0),
        chance_good=good,
        core_c=_percentiles(history.temperatures["core"][:, 1:], weights),
        face_c=_percentiles(history.temperatures["face"][:, 1:], weights),
        moved_most=moved_most(seam.cloth, seam.parts, history, draws, int(np.argmax(good))),
    )


def chances_by_draw(seam: Seam, pressed: Runs, draws: Draws) -> tuple[Real, Real, History]:
    """Return the chances of a set seam and of damage draw by draw.

    Parameters
    ----------
    seam : Seam
        Plies and tender parts.
    pressed : Runs
        What a technique did.
    draws : Draws
        As for `judge_runs`.

    Returns
    -------
    ndarray of float, shape (draws, seconds)
        Chances of a set seam.
    ndarray of float, shape (draws, seconds)
        Chances of damage on the whole costume.
    History
        Temperatures and waters behind them.
    """
    run = pressed.run
    history, below = read_run(run), known(draws)
    swing = draws.of("thermostat's swing", pressed.bench.iron.swing_c)
    share = 1.0
    if draws.pace is not None:
        history, share = paced(history, run.seconds, draws.pace), PLACEMENT_SHARE
    spread_ = placement_spread(run, pressed.firmer, swing, share)
    sets = set_chance(seam.cloth, history, spread_, below)
    hurts = damage_chance(
        seam.cloth,
        seam.parts,
        history,
        spread_,
        pressed.bench.support,
        drops=not pressed.technique.hovers,
        below=below,
    )
    return sets, hurts, history


PLACEMENT_SHARE = math.sqrt(1.0 - OWN_PACE_SHARE)
"""Share of the standard deviation of counting that is left between placements of one person [-]."""


def _first_draws(draws: Draws) -> Draws:
    return draws.first(min(draws.count, FEW_DRAWS))


def _percentiles(values: Real, weights: Real | None = None) -> Real:
    if weights is None:
        return np.percentile(values, (5.0, 50.0, 95.0), axis=0).T
    found = []
    for column in values.T:
        order = np.argsort(column)
        mass = np.cumsum(weights[order]) - 0.5 * weights[order]
        found.append(np.interp((0.05, 0.5, 0.95), mass / weights.sum(), column[order]))
    return np.array(found)
