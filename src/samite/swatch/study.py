"""The weighing: trials pressed once on the draws, records weighed, more draws where they are needed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import accumulate
from typing import TYPE_CHECKING

import numpy as np

from samite.cloth.model import Cloth
from samite.press.draws import Draws
from samite.press.judge import own_pace
from samite.swatch.exposure import Exposure, Reach, exposures, tried
from samite.swatch.limits import (
    EDGES,
    NODES,
    KnownLimits,
    join_limits,
    learn_limits,
    nothing_known,
    what_each_says,
)
from samite.swatch.owners import SeenFrom, kind_share
from samite.swatch.packing import pack
from samite.swatch.pool import (
    WORTH_WANTED,
    JoinedDraws,
    Stage,
    directions_of,
    next_stage,
    prior_over_taken,
    take,
    to_weights,
    worth,
)
from samite.swatch.records import Record, read_record
from samite.swatch.seen import Finding
from samite.swatch.soles import log_of_readings
from samite.swatch.trial import PressTrial
from samite.swatch.wrong_label import priors_of
from samite.tables.irons import Iron

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]

FIRST_DRAWS = 192
"""Draws of the tables that every trial is pressed with."""

NEXT_DRAWS = 192
"""Draws that are taken at a time where the evidence lies."""

MOST_STAGES = 4
"""Times that draws are taken, the first included."""

MOST_PRESSED = 2_560
"""Draws times techniques that are pressed in all: well under a second of two processors."""

FEWEST_NEXT = 128
"""Fewest draws that are worth taking at a time."""

WORTH_LEAST = 32.0
"""Independent draws under which the evidence is toned down until there are so many: an answer that
hangs on a few draws would be surer than it may be [-]."""


@dataclass(frozen=True, slots=True)
class Pressing:
    """One pressed swatch, as the weighing needs it.

    Parameters
    ----------
    trial : PressTrial
        What was tried.
    findings : tuple of Finding
        What was seen.
    maker : str
        Who made it.
    cloth_key : str
        Key of the other cloth that it is of; empty for the one that is asked about.
    """

    trial: PressTrial
    findings: tuple[Finding, ...]
    maker: str = ""
    cloth_key: str = ""


@dataclass(frozen=True, slots=True)
class Bound:
    """What pressings are weighed with.

    Parameters
    ----------
    cloths : tuple of (str, Cloth)
        Cloths by key; the one that is asked about has none.
    irons : tuple of (str, Iron)
        Irons by key.
    iron_key : str
        Key of the iron that is asked about.
    seed : int
        Seed of all draws.
    """

    cloths: tuple[tuple[str, Cloth], ...]
    irons: tuple[tuple[str, Iron], ...]
    iron_key: str
    seed: int

    def iron_of(self, key: str) -> Iron:
        """Return the iron with a key.

        Parameters
        ----------
        key : str
            Its key; empty for the one that nobody named.

        Returns
        -------
        Iron
            The iron.
        """
        return dict(self.irons)[key]


@dataclass(frozen=True, slots=True, eq=False)
class Study:
    """Draws with their trials pressed and their records weighed.

    Parameters
    ----------
    bound : Bound
        Cloths, irons, seed.
    pressings : tuple of Pressing
        What was weighed, in canonical order.
    draws : JoinedDraws
        All draws.
    over_taken : ndarray of float, shape (draws,)
        Logarithm of the tables' density over that which the draws were taken from [-].
    pressed : dict of tuple to Exposure
        Every trial on all draws.
    limits : KnownLimits
        What is known of limits.
    log_weights : ndarray of float, shape (draws,)
        Logarithms of the weights [-].
    parts : tuple of int
        How many draws were taken at a time.
    believed : float
        Power of the evidence that the weights take, 1 for all of it [-].
    """

    bound: Bound
    pressings: tuple[Pressing, ...]
    draws: Draws
    over_taken: Real
    pressed: dict[tuple[str, str, PressTrial], Exposure]
    limits: KnownLimits
    log_weights: Real
    parts: tuple[int, ...]
    believed: float = 1.0

    @property
    def part_rows(self) -> list[slice]:
        """Which draws were taken at a time."""
        ends = list(accumulate(self.parts))
        return [slice(end - count, end) for end, count in zip(ends, self.parts, strict=True)]

    @property
    def weights(self) -> Real:
        """Weights that sum to 1 [-]."""
        return to_weights(self.log_weights)

    @property
    def worth(self) -> float:
        """Independent draws that they are worth [-]."""
        return worth(self.weights)

    def exposed(self, trial: PressTrial, maker: str) -> Exposure:
        """Return what a trial puts the cloth asked about to, pressing it if it is new.

        Parameters
        ----------
        trial : PressTrial
            The trial.
        maker : str
            Whose hand.

        Returns
        -------
        tuple of Reach
            On all draws.
        """
        key = _key(Pressing(trial, (), maker))
        if key not in self.pressed:
            self.pressed[key] = _press(self.bound, [Pressing(trial, (), maker)], self.draws)[key]
        return self.pressed[key]


def pace_doubt(maker: str) -> str:
    """Return the name of the doubt about a person's pace.

    Parameters
    ----------
    maker : str
        Who; empty for nobody in particular.

    Returns
    -------
    str
        Name.
    """
    return f"pace of {maker}" if maker else "pace of the person"


def study(bound: Bound, pressings: Sequence[Pressing]) -> Study:
    """Weigh pressings, taking draws until the answer is worth enough of them.

    Parameters
    ----------
    bound : Bound
        Cloths, irons, seed.
    pressings : sequence of Pressing
        In any order: they are put into one of their own.

    Returns
    -------
    Study
        What was weighed.
    """
    ordered = tuple(sorted(pressings, key=repr))
    first = Draws(FIRST_DRAWS, bound.seed)
    pressed, none = _press(bound, ordered, first), np.zeros(FIRST_DRAWS)
    draws = JoinedDraws([first])
    parts = (FIRST_DRAWS,)
    found = weigh(Study(bound, ordered, draws, none, pressed, nothing_known(), none, parts))
    if found.worth < WORTH_WANTED:
        found = more_draws(found, first)
    return tone_down(found)


def tone_down(found: Study) -> Study:
    """Believe the evidence less where it would leave too few draws.

    Parameters
    ----------
    found : Study
        What was weighed.

    Returns
    -------
    Study
        With its evidence to the largest power, up to one, at which the draws are worth enough:
        the answer is then wider than Bayes' rule would have it, never narrower.
    """
    full = found.log_weights
    if worth(to_weights(full)) >= WORTH_LEAST:
        return found
    said = full - found.over_taken
    low, high = 0.0, 1.0
    for _ in range(30):
        middle = 0.5 * (low + high)
        enough = worth(to_weights(found.over_taken + middle * said)) >= WORTH_LEAST
        low, high = (middle, high) if enough else (low, middle)
    return replace(found, log_weights=found.over_taken + low * said, believed=low)


def more_draws(found: Study, first: Draws) -> Study:
    """Take more draws where the evidence lies, until there are enough or it was tried enough.

    Parameters
    ----------
    found : Study
        What was weighed on the first draws.
    first : Draws
        Those.

    Returns
    -------
    Study
        Weighed on all draws.
    """
    bound, names, parts = found.bound, first.names, [first]
    scores = np.stack([first.score(name) for name in names], axis=1)
    directions = directions_of(scores, *_answers(found))
    across = directions.shape[1]
    stages = [Stage(first.count, np.zeros(across), np.eye(across))]
    along = scores @ directions
    techniques = len({(p.cloth_key, tried(p.trial)) for p in found.pressings})
    left = MOST_PRESSED // techniques - first.count
    while found.worth < WORTH_WANTED and len(stages) < MOST_STAGES and left >= FEWEST_NEXT:
        count = min(NEXT_DRAWS, left)
        left -= count
        seed = bound.seed * 1000 + len(stages)
        stage = next_stage(along, found.log_weights, count)
        moved = take(stage, seed)(Draws(count, seed), names, directions)
        more = _press(bound, found.pressings, moved)
        parts, stages = [*parts, moved], [*stages, stage]
        draws = JoinedDraws(parts)
        along = np.stack([draws.score(name) for name in names], axis=1) @ directions
        found = weigh(
            replace(
                found,
                draws=draws,
                over_taken=prior_over_taken(along, stages),
                pressed={key: _joined(found.pressed[key], more[key]) for key in found.pressed},
                parts=(*found.parts, count),
            )
        )
    return found


def weigh(drawn: Study) -> Study:
    """Weigh the records of a study whose trials are pressed.

    Parameters
    ----------
    drawn : Study
        With trials pressed; what it knows of limits on its first draws stands.

    Returns
    -------
    Study
        With limits and weights.
    """
    seed, done = drawn.bound.seed, len(drawn.limits.log_chance)
    parts = [drawn.limits] if done else []
    for index, rows in enumerate(drawn.part_rows):
        if rows.stop > done:
            parts.append(_weigh_rows(drawn, rows, seed * 1000 + index))
    limits = join_limits(parts)
    log = drawn.over_taken + limits.log_chance
    for trial in [p.trial for p in drawn.pressings if p.trial.sole_c is not None]:
        iron = drawn.bound.iron_of(trial.iron_key)
        draws = _seen_by(drawn.bound, drawn.draws, "", trial.iron_key)
        log = log + log_of_readings(draws, iron, trial)
    return replace(drawn, limits=limits, log_weights=log)


def _weigh_rows(drawn: Study, rows: slice, seed: int) -> KnownLimits:
    """Weigh the records on some of the draws."""
    pressed = {
        key: tuple(reach.rows(rows) for reach in exposure)
        for key, exposure in drawn.pressed.items()
    }
    some = replace(drawn, pressed=pressed)
    own = [p for p in drawn.pressings if not p.cloth_key]
    count = rows.stop - rows.start
    spoken = _spoken(some, count)
    priors = priors_of(dict(drawn.bound.cloths)[""])
    return learn_limits(pack(_said(some, own), tuple(spoken)), count, spoken, seed, priors)


def with_one_more(known: Study, pressing: Pressing) -> Study:
    """Weigh one more pressing on the same draws.

    Parameters
    ----------
    known : Study
        What was weighed.
    pressing : Pressing
        One more, of the cloth that is asked about.

    Returns
    -------
    Study
        The same draws with other weights.
    """
    known.exposed(pressing.trial, pressing.maker)
    ordered = tuple(sorted((*known.pressings, pressing), key=repr))
    return tone_down(weigh(replace(known, pressings=ordered, limits=nothing_known())))


def unexplained(known: Study, pressing: Pressing) -> bool:
    """Say whether a pressing shows damage that no part of the cloth accounts for.

    Parameters
    ----------
    known : Study
        With its trial pressed.
    pressing : Pressing
        The pressing.

    Returns
    -------
    bool
        True if so.
    """
    return bool(read_record(known.pressed[_key(pressing)], pressing.findings).unexplained)


def _key(pressing: Pressing) -> tuple[str, str, PressTrial]:
    """Return what decides an exposure: sole reading and hold do not."""
    trial = replace(pressing.trial, sole_c=None, hold_tool="none", hold_seconds=0.0, board_key="")
    return pressing.cloth_key, pressing.maker, trial


def _press(
    bound: Bound, pressings: Sequence[Pressing], draws: Draws
) -> dict[tuple[str, str, PressTrial], Exposure]:
    """Press every different trial on the draws."""
    cloths = dict(bound.cloths)
    found: dict[tuple[str, str, PressTrial], Exposure] = {}
    keys = list(dict.fromkeys(_key(p) for p in pressings))
    for cloth_key in dict.fromkeys(key[0] for key in keys):
        mine = [key for key in keys if key[0] == cloth_key]
        wanted = [
            (
                trial,
                bound.iron_of(trial.iron_key),
                _seen_by(bound, draws, cloth_key, trial.iron_key),
                own_pace(draws.score(pace_doubt(maker))),
            )
            for _, maker, trial in mine
        ]
        found.update(zip(mine, exposures(cloths[cloth_key], wanted), strict=True))
    return found


def _seen_by(bound: Bound, draws: Draws, cloth_key: str, iron_key: str) -> Draws:
    other = "" if iron_key == bound.iron_key else iron_key or "that nobody named"
    if not (cloth_key or other):
        return draws
    return SeenFrom(draws, cloth_key=cloth_key, iron_key=other)


def _said(
    drawn: Study, pressings: Sequence[Pressing]
) -> list[tuple[Exposure, list[tuple[Record, int]]]]:
    """Return the exposures with their different records and how often each is there."""
    grouped: dict[tuple[str, str, PressTrial], dict[Record, int]] = {}
    for pressing in pressings:
        key = _key(pressing)
        record = read_record(drawn.pressed[key], pressing.findings)
        counts = grouped.setdefault(key, {})
        counts[record] = counts.get(record, 0) + 1
    return [(drawn.pressed[key], list(counts.items())) for key, counts in grouped.items()]


def _spoken(drawn: Study, count: int) -> dict[str, Real]:
    """Return what the other cloths of the kind say of each doubt, through what they share."""
    keys = dict.fromkeys(p.cloth_key for p in drawn.pressings if p.cloth_key)
    share = kind_share()
    of_kind: dict[str, Real] = {}
    for key in keys:
        packed = pack(_said(drawn, [p for p in drawn.pressings if p.cloth_key == key]))
        logs = what_each_says(packed, count)
        for doubt, log in zip(packed.doubts, logs, strict=True):
            told = through(log, share**0.5)
            of_kind[doubt] = of_kind.get(doubt, 0.0) + told
    return {doubt: through(log, share**0.5) for doubt, log in of_kind.items()}


def through(log: Real, correlation: float) -> Real:
    """Return what is said of a doubt by what is said of another that it goes along with.

    Parameters
    ----------
    log : ndarray of float, shape (draws, nodes)
        Logarithm of what is said, over the other's scores [-].
    correlation : float
        Correlation of the two [-].

    Returns
    -------
    ndarray of float, same shape
        Logarithms over the scores of the one.
    """
    if correlation >= 1.0:
        return log
    gap = NODES[np.newaxis, :] - correlation * NODES[:, np.newaxis]
    kernel = np.exp(-0.5 * gap**2 / (1.0 - correlation**2)) * np.diff(EDGES)
    kernel = np.maximum(kernel, 1e-290)
    kernel /= kernel.sum(axis=1, keepdims=True)
    top = log.max(axis=1, keepdims=True)
    return np.asarray(np.log(np.maximum(np.exp(log - top) @ kernel.T, 1e-300)))


def _answers(found: Study) -> tuple[Real, Real]:
    """Return how far each trial reached, and what that counts: more where limits are near."""
    reaches = [
        reach
        for key, exposure in found.pressed.items()
        if not key[0]
        for reach in exposure
        if float(np.median(reach.upper)) > -10.0
    ]
    answers = [np.clip(reach.upper, -6.0, 6.0) for reach in reaches]
    counts = [float(np.exp(-0.125 * np.median(reach.upper) ** 2)) for reach in reaches]
    soles = [p.trial for p in found.pressings if p.trial.sole_c is not None]
    for trial in soles[:1]:
        draws = _seen_by(found.bound, found.draws, "", trial.iron_key)
        answers.append(draws.score("sole temperature at this dial"))
        counts.append(4.0)
    if not answers:
        answers, counts = [found.draws.score(found.draws.names[0])], [1.0]
    return np.stack(answers, axis=1), np.array(counts)


def _joined(first: Exposure, second: Exposure) -> Exposure:
    return tuple(
        Reach(
            one.doubt,
            one.hurt,
            np.concatenate([one.upper, two.upper]),
            np.concatenate([one.lower, two.lower]),
            np.concatenate([one.width, two.width]),
            one.share,
        )
        for one, two in zip(first, second, strict=True)
    )
