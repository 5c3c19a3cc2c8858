"""Is what is learnt true? Makers whose irons and cloths are known, and what really happens to them.

Talts and others (2018): where an answer's chances are right, the rank of the truth within it is
uniform. A maker here is drawn, not real: this checks the sums, not the physics.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
import pytest
from scipy import stats
from tests.oracles.swatch.makers import MENU, SATIN, Makers, Watched

from samite.press import window
from samite.press.decide import LONGEST_S, count_and_stop
from samite.press.dials import Dial
from samite.press.draws import Draws
from samite.press.pressing import Placement
from samite.press.techniques import Technique
from samite.press.told import TOLD_AFTER, told_apart
from samite.swatch import study
from samite.swatch.learnt_draws import LearntDraws
from samite.swatch.limits import EDGES, nothing_known
from samite.swatch.pool import JoinedDraws
from samite.swatch.trial import Swatch
from samite.swatch.update import Asked, Learnt, learn
from samite.tables.irons import household_iron

DRAWN = {
    "sole temperature at this dial": "sole temperature at this dial",
    "contact of iron and cloth": "contact of iron and cloth",
    "thickness of the cloth": "thickness of the cloth",
    "pace of the person": "true pace",
}
"""Doubts that are drawn, and what the makers call their truth."""


def in_full(heavy: Callable[[int], int]) -> bool:
    """Whether all cases are wanted: a maker takes a third of a second, too long for the short run."""
    return heavy(10) == 10


@pytest.mark.timeout(7200)
def test_ranks_of_the_truth_are_uniform(heavy: Callable[[int], int]) -> None:
    """Kolmogorov-Smirnov on 500 makers with three swatches each; one in ten thousand by chance."""
    makers = Makers(SATIN, heavy(500) if in_full(heavy) else 16, 77)
    limits, truth = makers.limits(), makers.draws
    ranks: dict[str, list[float]] = {}
    known_books: dict[str, Learnt] = {}
    for maker, book in enumerate(makers.journals(MENU)):
        key = repr(sorted(book[:3], key=repr))
        if key not in known_books:  # many makers wrote down the same
            known_books[key] = learn(Asked(makers.cloth, household_iron()), book[:3])
        learnt = known_books[key]
        known = learnt.study.limits
        for doubt, below in zip(known.doubts, known.below, strict=True):
            rank = np.interp(limits[doubt][maker], EDGES, learnt.weights @ below)
            ranks.setdefault(doubt, []).append(float(rank))
        for doubt, name in DRAWN.items():
            scores = learnt.study.draws.score(doubt)
            rank = learnt.weights[scores < truth.score(name)[maker]].sum()
            ranks.setdefault(doubt, []).append(float(rank))
    assert len(ranks) == 3 + len(DRAWN)
    for doubt, found in ranks.items():
        assert stats.kstest(found, "uniform").pvalue > 1e-4, doubt


TRIED = (
    Technique(Dial.MEDIUM, "none", "dry", "wrong"),
    Technique(Dial.HIGH, "none", "dry", "wrong"),
    Technique(Dial.HIGH, "none", "none", "wrong"),
)
"""Techniques that a maker chooses from."""

STAGES = (0, 1, 3, 5)
POOL = 256
CHUNK = 600
"""Makers that share the draws of their answers: the luck of one pair of draws is not that of all."""


@dataclass(frozen=True)
class Choice:
    """What an answer chose for one maker, what it tells of it, and the window it claims."""

    technique: int
    seconds: tuple[float, float]
    chance_set: float
    chance_damage: float
    claims: bool


class Beliefs:
    """Learns on one pool of draws, pressed once, and judges all techniques."""

    def __init__(self, makers: Makers, seed: int) -> None:
        self.seam = makers.seam
        self.judged: dict[str, list[window.Chances]] = {}
        self.first = first = Draws(POOL, seed)
        bound = study.Bound((("", makers.cloth),), (("", household_iron()),), "", seed)
        menu = [study.Pressing(trial, ()) for trial in MENU]
        pressed = study._press(bound, menu, first)
        none = np.zeros(POOL)
        self.empty = study.Study(
            bound, (), JoinedDraws([first]), none, pressed, nothing_known(), none, (POOL,)
        )
        self.bench = window.usual_bench("board")
        self.runs = [self.press(technique, first) for technique in TRIED]

    def of(self, pressings: Sequence[study.Pressing]) -> list[window.Chances]:
        """Return what each technique does after these swatches: many makers wrote down the same."""
        key = repr(pressings)
        if key not in self.judged:
            self.judged[key] = self._after(pressings)
        return self.judged[key]

    def _after(self, pressings: Sequence[study.Pressing]) -> list[window.Chances]:
        keys = {study._key(item) for item in pressings}
        pressed = {key: reach for key, reach in self.empty.pressed.items() if key in keys}
        drawn = study.replace(self.empty, pressings=tuple(pressings), pressed=pressed)
        known, runs = study.weigh(drawn), self.runs
        if known.worth < study.WORTH_WANTED:  # as an answer does: on draws of its own
            known = study.tone_down(study.more_draws(known, self.first))
            runs = [self.press(technique, known.draws) for technique in TRIED]
        draws = LearntDraws(
            known.draws,
            np.arange(known.draws.count),
            known.limits,
            pace_name="pace of the person",
            worth=known.worth,
        )
        return [window.judge_runs(self.seam, run, draws, weights=known.weights) for run in runs]

    def press(self, technique: Technique, draws: Draws) -> window.Runs:
        """Press with one technique on some draws."""
        return window.press_runs(self.seam, [Placement(technique, 0.0)], self.bench, draws)


class Chooser:
    """Chooses on one pool of draws and tells on another, as the press page does."""

    def __init__(self, makers: Makers, seed: int) -> None:
        self.chooses, self.tells = Beliefs(makers, seed), Beliefs(makers, seed + TOLD_AFTER)

    def choose(self, book: Sequence[Swatch]) -> Choice:
        """Return what is chosen after these swatches, and what is told of it."""
        pressings = sorted(
            (study.Pressing(item.press, item.findings) for item in book if item.press), key=repr
        )
        found = self.chooses.of(pressings)
        number = best_of(found)
        chooser, told = told_apart(found[number], self.tells.of(pressings)[number])
        index, _, stop = count_and_stop(chooser, LONGEST_S)
        last = told.seconds.index(stop)
        return Choice(
            number,
            (told.seconds[index], stop),
            float(told.chance_set[index]),
            float(told.chance_damage[last]),
            chooser.window_s is not None and chooser.window_s[0] <= LONGEST_S,
        )


def best_of(found: Sequence[window.Chances]) -> int:
    """Return the technique with the earliest window; without one, that which most likely goes well."""
    windows = [(item.window_s, number) for number, item in enumerate(found) if item.window_s]
    if windows:
        return min(windows)[1]
    return max(range(len(found)), key=lambda i: found[i].chance_good.max())


def what_happens(
    watched: Sequence[Watched], choices: Sequence[Choice]
) -> tuple[np.ndarray, np.ndarray]:
    """Share set at the seconds to count, and whether any of 60 hurt at those to stop by."""
    sets, hurts = np.zeros(len(choices)), np.zeros(len(choices))
    count, stop = (np.array([choice.seconds[end] for choice in choices]) for end in (0, 1))
    for number, placements in enumerate(watched):
        mine = np.array([choice.technique == number for choice in choices])
        if mine.any():
            hurt, _ = placements.at(stop)
            _, lies_flat = placements.at(count)
            harmed = np.any([item.any(axis=1) for item in hurt.values()], axis=0)
            sets[mine], hurts[mine] = lies_flat.mean(axis=1)[mine], harmed[mine]
    return sets, hurts


@pytest.mark.timeout(7200)
def test_windows_are_true_and_harm_is_as_rare_as_is_said(heavy: Callable[[int], int]) -> None:
    """3,000 makers before and after 1, 3 and 5 swatches.

    Harm is told with one standard error of the draws added; the makers' own number may move the true
    rate by two of its standard errors.
    """
    count = heavy(3000) if in_full(heavy) else 10
    told: dict[int, list[tuple[Choice, float, float]]] = {stage: [] for stage in STAGES}
    for first in range(0, count, CHUNK):
        chooser = Chooser(Makers(SATIN, 1, 1), 1 + 2 * (first // CHUNK))
        makers = Makers(SATIN, min(CHUNK, count - first), 5000 + first)
        books = makers.journals(MENU)
        watched = [makers.watched(t, 60, 100 + number) for number, t in enumerate(TRIED)]
        unlearnt = chooser.choose(())
        for stage in STAGES:
            choices = [chooser.choose(book[:stage]) if stage else unlearnt for book in books]
            sets, hurts = what_happens(watched, choices)
            told[stage] += zip(choices, sets, hurts, strict=True)
    missed = {}
    for stage, rows in told.items():
        stated = np.array([[c.chance_set, c.chance_damage] for c, _, _ in rows])
        true = np.array([[s, h] for _, s, h in rows])
        claims = np.array([c.claims for c, _, _ in rows])
        slack = 2.0 * np.sqrt(np.maximum(stated[:, 1].mean(), 1.0 / count) / count)
        assert true[:, 1].mean() <= stated[:, 1].mean() + slack
        assert true[:, 0].mean() >= stated[:, 0].mean() - 0.03 - 1.5 / np.sqrt(count)
        if claims.any():
            room = 3.0 / np.sqrt(claims.sum())
            assert true[claims, 0].mean() >= window.SET_WANTED - 0.2 * room
            assert true[claims, 1].mean() <= window.DAMAGE_ALLOWED + 0.1 * room
        missed[stage] = (claims.mean(), np.mean((stated[:, 0] - true[:, 0]) ** 2))
    assert missed[5][0] >= missed[0][0]  # more makers have a window
    assert missed[5][1] <= missed[0][1] + 0.5 / np.sqrt(count)  # and what is stated is truer
