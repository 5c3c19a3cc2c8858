"""Makers made up: cloths and irons drawn at random, every placement of theirs drawn by itself.

Nothing of what is learnt is used: the press model runs on draws of another seed, each placement with
its own phase of the thermostat, its own local contact and its own counting; limits are numbers; a
part is hurt if it got hotter than its own. Records are misread as often as is stated.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date
from functools import cached_property, lru_cache

import numpy as np

from samite.cloth.build import build_cloth
from samite.cloth.label import read_label
from samite.cloth.model import Cloth
from samite.kernel.quantity import Quantity
from samite.press import judge, window
from samite.press.dials import Dial
from samite.press.draws import Draws
from samite.press.glass import softest_dry_transition
from samite.press.pressing import Placement, press
from samite.press.techniques import Technique
from samite.swatch.seen import Finding, Sign
from samite.swatch.trial import PressTrial, Swatch
from samite.tables.irons import household_iron

DAY = date(2031, 2, 3)
TIMES = tuple(float(t) for t in np.geomspace(0.5, 45.0, 24))
MISREAD, UNSAID = 0.03, 0.1
OWN_PACE, PLACE_PACE = math.sqrt(0.5), math.sqrt(0.5)
LOG_COUNTING = math.log(1.2) / 1.6448536269514722
SHOWS = {"glazes": Sign.SHINE, "shrinks": Sign.SHRUNK, "is crushed": Sign.PILE_CRUSHED}


class OnePlacement(Draws):
    """Each maker's own doubts, several placements each, every one at its phase of the swing."""

    def __init__(self, makers: Draws, each: int, generator: np.random.Generator) -> None:
        super().__init__(makers.count * each, makers.seed)
        self.makers, self.each = makers, each
        swing = makers.of("thermostat's swing", household_iron().swing_c)
        phase = generator.uniform(0.0, 2.0 * math.pi, self.count)
        self.offset = np.repeat(swing, each) * np.sin(phase)

    def score(self, name: str) -> np.ndarray:
        return np.repeat(self.makers.score(name), self.each)

    def of(self, name: str, quantity: Quantity) -> np.ndarray:
        drawn = super().of(name, quantity)
        return drawn + self.offset if name == "sole temperature at this dial" else drawn


@lru_cache(maxsize=8)
def cloth_of(label: str) -> Cloth:
    return build_cloth(read_label(label))


@dataclass(frozen=True)
class Makers:
    """Some makers with one kind of cloth each of their own bolt."""

    label: str
    count: int
    seed: int

    @property
    def cloth(self) -> Cloth:
        return cloth_of(self.label)

    @cached_property
    def seam(self) -> window.Seam:
        return window.seam_of(self.cloth)

    @cached_property
    def draws(self) -> Draws:
        return Draws(self.count, self.seed)

    def limits(self) -> dict[str, np.ndarray]:
        """Scores of the limits and transitions: one set a maker."""
        doubts = [part.doubt for part in self.seam.parts] + judge.transition_doubts(self.cloth)
        return {name: self.draws.score(f"true {name}") for name in doubts}

    def pace(self) -> np.ndarray:
        return np.exp(LOG_COUNTING * OWN_PACE * self.draws.score("true pace"))

    def watched(self, technique: Technique, each: int, salt: int) -> Watched:
        """Press some placements a maker, second by second."""
        generator = np.random.default_rng([self.seed, salt])
        draws = OnePlacement(self.draws, each, generator)
        contact = judge.PLACE_CONTACT.draws(generator, draws.count)
        counted = np.exp(LOG_COUNTING * PLACE_PACE * generator.standard_normal(draws.count))
        bench = window.usual_bench("board")
        run = press(
            self.seam.plies,
            [Placement(technique, 0.0)],
            TIMES,
            bench,
            draws,
            firmness=contact,
            tolerance_c=0.5,
            fineness=0.6,
        )
        return Watched(self, judge.read_run(run), np.array(run.seconds), counted, each)

    def journals(self, menu: tuple[PressTrial, ...]) -> list[list[Swatch]]:
        """Every maker tries the whole menu in an order of their own, and writes down what is seen."""
        generator = np.random.default_rng([self.seed, 99])
        books: list[list[Swatch]] = [[] for _ in range(self.count)]
        for number, trial in enumerate(menu):
            technique = Technique(trial.dial, trial.steam, trial.press_cloth, trial.side)
            seconds = np.full(self.count, trial.seconds)
            hurt, sets = self.watched(technique, 1, number).at(seconds)
            for maker, book in enumerate(books):
                said = bool(sets[maker, 0]) and generator.random() >= UNSAID
                seen = self._seen({k: bool(v[maker, 0]) for k, v in hurt.items()}, said)
                if generator.random() < MISREAD:
                    seen = self._anything(generator)
                book.append(Swatch("cloth", DAY, seen, press=trial))
        return [[book[i] for i in generator.permutation(len(menu))] for book in books]

    def _seen(self, hurt: dict[str, bool], lies_flat: bool) -> tuple[Finding, ...]:
        kinds = {part.hurt for part in self.seam.parts if hurt[part.doubt]}
        return written({SHOWS[kind] for kind in kinds}, lies_flat)

    def _anything(self, generator: np.random.Generator) -> tuple[Finding, ...]:
        """A record of something else: as often harmed as not, mostly in one way."""
        kinds = sorted({part.hurt for part in self.seam.parts})
        signs: set[Sign] = set()
        if generator.random() < 0.5:
            count = 1 if len(kinds) == 1 or generator.random() < 0.8 else 2
            signs = {SHOWS[str(k)] for k in generator.choice(kinds, count, replace=False)}
        return written(signs, bool(generator.random() < 0.5))


@dataclass(frozen=True)
class Watched:
    """What a technique did to all placements of all makers."""

    makers: Makers
    seen: judge.History
    times: np.ndarray
    counted: np.ndarray
    each: int

    def at(self, seconds: np.ndarray) -> tuple[dict[str, np.ndarray], np.ndarray]:
        """Return what was hurt, by limit, and what was set at each maker's seconds counted."""
        makers, seen = self.makers, self.seen
        own = np.repeat(seconds * makers.pace(), self.each) * self.counted
        own = np.clip(own, 0.0, self.times[-1])
        limits = makers.limits()
        hurt = {}
        for part in makers.seam.parts:
            place = f"{part.place}_dose" if part.scorches else part.place
            history = seen.temperatures[place]
            if part.place == "pile":
                softest = softest_dry_transition(temperature_c=history, water_share=seen.pile_water)
                history = np.maximum.accumulate(softest, axis=1)
            limit = np.repeat(part.limit_c.at(limits[part.doubt]), self.each)
            hurt[part.doubt] = self._shaped(self._read(history, own) > limit)
        return hurt, self._shaped(self._sets(own))

    def _sets(self, own: np.ndarray) -> np.ndarray:
        cloth, seen = self.makers.cloth, self.seen
        (transition, accessible, _), *_ = judge.transitions(cloth)
        name = judge.transition_doubts(cloth)[0]
        dry = np.repeat(transition.at(self.makers.limits()[name]), self.each)
        water, left = (
            judge.in_what_opens(share, accessible) for share in (seen.core_water, seen.core_let_go)
        )
        softest = softest_dry_transition(temperature_c=seen.temperatures["core"], water_share=water)
        let_go = softest_dry_transition(
            temperature_c=np.full_like(left, judge.LET_GO_C), water_share=left
        )
        soft = self._read(np.maximum.accumulate(softest, axis=1), own) >= dry
        return soft & (self._read(let_go, own) < dry)

    def _read(self, history: np.ndarray, own: np.ndarray) -> np.ndarray:
        """Read each row at its own second, straight lines between."""
        first = np.clip(np.searchsorted(self.times, own, side="right") - 1, 0, len(self.times) - 2)
        rows, share = np.arange(len(own)), own - self.times[first]
        low, high = history[rows, first], history[rows, first + 1]
        return low + share / (self.times[first + 1] - self.times[first]) * (high - low)

    def _shaped(self, happened: np.ndarray) -> np.ndarray:
        return happened.reshape(self.makers.count, self.each)


def written(signs: set[Sign], lies_flat: bool) -> tuple[Finding, ...]:
    found = [Finding(Sign.SET_FLAT)] if lies_flat else []
    found += [
        Finding(sign, shrunk_mm=2.0 if sign is Sign.SHRUNK else None) for sign in sorted(signs)
    ]
    return tuple(found) or (Finding(Sign.NOTHING),)


MENU = (
    PressTrial(Dial.MEDIUM, "none", "dry", "wrong", 4.0),
    PressTrial(Dial.MEDIUM, "none", "none", "wrong", 5.0),
    PressTrial(Dial.HIGH, "none", "dry", "wrong", 5.0),
    PressTrial(Dial.HIGH, "none", "none", "wrong", 3.0),
    PressTrial(Dial.HIGH, "none", "none", "wrong", 8.0),
)
"""Trials in doubt on a polyester satin: most makers see some of them fail."""

SATIN = "polyester satin, 150 g/m2"
