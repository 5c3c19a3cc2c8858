"""What a pressed swatch puts a cloth to: how near each limit and each transition it comes."""

from __future__ import annotations

import math
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from samite.cloth.model import Cloth
from samite.kernel.quantity import Quantity
from samite.press.draws import Draws
from samite.press.glass import softest_dry_transition
from samite.press.joint import Ply
from samite.press.judge import (
    LET_GO_C,
    MARKED_PERCENT,
    MARKS,
    History,
    Spread,
    in_what_opens,
    placement_spread,
    read_run,
    transition_doubts,
    transitions,
)
from samite.press.pressing import Placement
from samite.press.recipe import WATER_MARKED
from samite.press.techniques import Technique
from samite.press.weakness import Weakness, weaknesses
from samite.press.window import PLACEMENT_SHARE, Seam, press_runs, seam_of, usual_bench
from samite.swatch.owners import SeenFrom
from samite.tables.irons import Iron

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from samite.swatch.trial import PressTrial

    Real = NDArray[np.float64]

LONGEST_FOLLOWED_S = 60.0
"""Longer pressings are followed so far: a seam hardly changes after it [s]."""

TIME_RATIO = 1.2
"""From one time that is computed to the next; straight lines over the logarithm between [-]."""

SLACK = 1.35
"""How far a person's pace is followed beyond the seconds counted, both ways [-]."""

NARROWEST = 0.02
"""Least width of a limit's edge, in its own scores, so that it can be read off a table [-]."""

NEVER = -30.0
"""Score of a limit that nothing reached."""


@dataclass(frozen=True, slots=True, eq=False)
class Reach:
    """How far one trial reaches into one doubt, in the doubt's own scores, draw by draw.

    The trial acts on a doubt whose score lies under `upper` and not under `lower`; both edges are
    as wide as placements differ.

    Parameters
    ----------
    doubt : str
        Name of the doubt.
    hurt : str
        How the part is hurt; ``set`` for a transition of the seam.
    upper, lower, width : ndarray of float, shape (draws,)
        Scores [-].
    share : float
        Share of the event: of a fibre in the seam, or of a pile that its support does not
        spare [-].
    """

    doubt: str
    hurt: str
    upper: Real
    lower: Real
    width: Real
    share: float

    def rows(self, rows: slice) -> Reach:
        """Return the reach on some of the draws.

        Parameters
        ----------
        rows : slice
            Which.

        Returns
        -------
        Reach
            On those.
        """
        edges = (self.upper[rows], self.lower[rows], self.width[rows])
        return Reach(self.doubt, self.hurt, *edges, self.share)


Exposure = tuple[Reach, ...]
"""All doubts that one trial speaks of."""


@dataclass(frozen=True, slots=True)
class Tried:
    """What decides the physics of a trial, apart from its seconds.

    Parameters
    ----------
    technique : Technique
        Dial, steam, press cloth and side.
    support : str
        What lay under.
    piece : str
        ``seam`` or ``single-layer``.
    iron_key : str
        Whose sole it was.
    """

    technique: Technique
    support: str
    piece: str
    iron_key: str


def tried(trial: PressTrial) -> Tried:
    """Return what decides the physics of a trial.

    Parameters
    ----------
    trial : PressTrial
        The trial.

    Returns
    -------
    Tried
        Equal for trials that differ only in their seconds, in what was read, and in the hold.
    """
    technique = Technique(trial.dial, trial.steam, trial.press_cloth, trial.side)
    support = "board" if trial.support == "none" else trial.support
    return Tried(technique, support, trial.piece, trial.iron_key)


def exposures(
    cloth: Cloth,
    wanted: Sequence[tuple[PressTrial, Iron, Draws, Real]],
) -> list[Exposure]:
    """Press every trial on its draws and read off how near each doubt it comes.

    Parameters
    ----------
    cloth : Cloth
        The cloth.
    wanted : sequence of tuple of (PressTrial, Iron, Draws, ndarray)
        Trial, iron, draws as that iron and cloth have them, and the person's pace [-].

    Returns
    -------
    list of tuple of Reach
        In the order asked.

    Notes
    -----
    Trials that differ only in seconds share one run. The seam lies open, as one presses a swatch;
    a single layer is one ply. It is let go cool: what is held on it is not followed, which errs
    to the hopeful side for a seam let go hot.
    """
    groups: dict[Tried, list[int]] = {}
    for index, (trial, _, _, _) in enumerate(wanted):
        groups.setdefault(tried(trial), []).append(index)

    def run(members: list[int]) -> list[Exposure]:
        return _group(cloth, [wanted[i] for i in members])

    found: list[Exposure] = [()] * len(wanted)
    with ThreadPoolExecutor(max_workers=2) as pool:
        for members, told in zip(groups.values(), pool.map(run, groups.values()), strict=True):
            for index, exposure in zip(members, told, strict=True):
                found[index] = exposure
    return found


def _group(cloth: Cloth, members: list[tuple[PressTrial, Iron, Draws, Real]]) -> list[Exposure]:
    """Run one technique once and read all its seconds off it."""
    trial, iron, draws, _ = members[0]
    times = _times([item.seconds for item, _, _, _ in members])
    reaches = _over_time(cloth, tried(trial), iron, draws, times)
    return [
        tuple(
            _at(reach, times, np.minimum(item.seconds, LONGEST_FOLLOWED_S) * pace)
            for reach in reaches
        )
        for item, _, _, pace in members
    ]


@dataclass(frozen=True, slots=True)
class _Asked:
    """One run: the same key asks for the same, whatever carries it out."""

    what: Tried
    iron: Iron
    times: tuple[float, ...]
    key: tuple[object, ...]
    cloth: Cloth = field(compare=False)
    draws: Draws = field(compare=False)


def _over_time(
    cloth: Cloth, what: Tried, iron: Iron, draws: Draws, times: tuple[float, ...]
) -> tuple[Reach, ...]:
    """Press on the draws and return the reaches at all times; those of the tables are kept."""
    base = draws.whole if isinstance(draws, SeenFrom) else draws
    other = draws.other if isinstance(draws, SeenFrom) else ("", "")
    key = (cloth.reading, base.count, base.seed, *other)
    asked = _Asked(what, iron, times, key, cloth, draws)
    if type(base) is not Draws:
        return _press_over_time(asked)[0]
    reaches, names = _kept_over_time(asked)
    for name in names:
        base.score(name)
    return reaches


@lru_cache(maxsize=64)
def _kept_over_time(asked: _Asked) -> tuple[tuple[Reach, ...], tuple[str, ...]]:
    """Keep what was pressed on draws of the tables: the next swatch asks for it again."""
    return _press_over_time(asked)


def _press_over_time(asked: _Asked) -> tuple[tuple[Reach, ...], tuple[str, ...]]:
    """Return the reaches at all times, and the doubts that were asked for."""
    what, iron, times, cloth, draws = asked.what, asked.iron, asked.times, asked.cloth, asked.draws
    seam, bench = _piece(cloth, what.piece), usual_bench(what.support, iron)
    pressed = press_runs(seam, (Placement(what.technique, 0.0),), bench, draws, seconds=times)
    swing = draws.of("thermostat's swing", iron.swing_c)
    history = read_run(pressed.run)
    spread_ = placement_spread(pressed.run, pressed.firmer, swing, PLACEMENT_SHARE)
    spared = bench.support.pile_spared.value if bench.support.pile_spared else 0.0
    reaches = [_harm(part, history, spread_, spared) for part in seam.parts]
    reaches += _marks(cloth, history, hovers=what.technique.hovers)
    if what.piece == "seam":
        reaches += _sets(cloth, history, spread_)
    base = draws.whole if isinstance(draws, SeenFrom) else draws
    return tuple(reaches), base.names


def _piece(cloth: Cloth, piece: str) -> Seam:
    if piece == "seam":
        return seam_of(cloth)
    return Seam(cloth, (Ply(cloth, "cloth", face_up=False),), weaknesses(cloth))


def _times(seconds: list[float]) -> tuple[float, ...]:
    """Return whole powers of one ratio that span all seconds with the slack of a pace."""
    step = math.log(TIME_RATIO)
    first = math.floor(math.log(min(*seconds, LONGEST_FOLLOWED_S) / SLACK) / step)
    last = math.ceil(math.log(min(max(seconds), LONGEST_FOLLOWED_S) * SLACK) / step)
    return tuple(TIME_RATIO**power for power in range(first, last + 1))


def _at(reach: Reach, times: tuple[float, ...], seconds: Real) -> Reach:
    """Read a reach off its times, draw by draw."""
    place = np.interp(np.log(seconds), np.log(times), np.arange(len(times)))
    first = np.minimum(place.astype(np.int64), len(times) - 2)
    share = (place - first)[:, np.newaxis]
    rows = np.arange(len(seconds))

    def read(values: Real) -> Real:
        pair = np.stack([values[rows, first], values[rows, first + 1]], axis=1)
        return np.asarray((pair * np.concatenate([1.0 - share, share], axis=1)).sum(axis=1))

    upper, lower, width = read(reach.upper), read(reach.lower), read(reach.width)
    return Reach(reach.doubt, reach.hurt, upper, lower, width, reach.share)


def _harm(part: Weakness, history: History, spread_: Spread, spared: float) -> Reach:
    place = f"{part.place}_dose" if part.scorches else part.place
    if place not in history.temperatures:
        place = part.place
    sigma = spread_.sigma[place]

    def score(deviations: float) -> Real:
        hottest = history.temperatures[place].copy()
        hottest[:, 1:] += deviations * sigma
        if part.place == "pile":
            hottest = _softest(hottest, history.pile_water)
        return _held(part.limit_c, hottest[:, 1:])

    upper = score(0.0)
    share = 1.0 - spared if part.place == "pile" else 1.0
    lower = np.full_like(upper, NEVER)
    return Reach(part.doubt, part.hurt, upper, lower, _width(score(-1.0), score(1.0)), share)


def _sets(cloth: Cloth, history: History, spread_: Spread) -> list[Reach]:
    found = []
    named = zip(transition_doubts(cloth), transitions(cloth), strict=True)
    for doubt, (transition, accessible, share) in named:
        water = in_what_opens(history.core_water, accessible)
        cooled = in_what_opens(history.core_let_go, accessible)[:, 1:]
        stiff = softest_dry_transition(
            temperature_c=np.full_like(cooled, LET_GO_C), water_share=cooled
        )

        def score(deviations: float, water: Real = water, limit: Quantity = transition) -> Real:
            core = history.temperatures["core"].copy()
            core[:, 1:] += deviations * spread_.sigma["core"]
            return _held(limit, _softest(core, water)[:, 1:])

        upper, width = score(0.0), _width(score(-1.0), score(1.0))
        found.append(Reach(doubt, "set", upper, _held(transition, stiff), width, share))
    return found


def _marks(cloth: Cloth, history: History, *, hovers: bool) -> list[Reach]:
    """Drops mark, or do not: the doubt lies below 0 where they do."""
    if hovers or cloth.share(*WATER_MARKED) < MARKED_PERCENT:
        return []
    wet = np.where(history.wet_face[:, 1:] > 0.5, 0.0, NEVER)
    narrow = np.full_like(wet, NARROWEST)
    return [Reach(MARKS, "spots", wet, np.full_like(wet, NEVER), narrow, 1.0)]


def _softest(temperature_c: Real, water_share: Real) -> Real:
    reached = softest_dry_transition(temperature_c=temperature_c, water_share=water_share)
    return np.asarray(np.maximum.accumulate(reached, axis=1))


def _width(low: Real, high: Real) -> Real:
    return np.maximum(0.5 * (high - low), NARROWEST)


def _held(limit: Quantity, reached: Real) -> Real:
    return np.clip(limit.score(reached), NEVER, -NEVER)
