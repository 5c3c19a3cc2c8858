"""A small world that is known whole: what is learnt in it can be enumerated."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from samite.press.techniques import Technique
from samite.swatch.seen import Finding, Sign
from samite.swatch.trial import PressTrial

FLAT = (Finding(Sign.SET_FLAT),)
SHINE = (Finding(Sign.SHINE),)
NOTHING = (Finding(Sign.NOTHING),)
RECORDS = (FLAT, SHINE, NOTHING)


@dataclass(frozen=True)
class ToyOutcome:
    findings: tuple[Finding, ...]
    chance: float


@dataclass(frozen=True)
class ToyKnowledge:
    """States with weights; a trial's record depends on dots and seconds only."""

    weights: np.ndarray
    limits: np.ndarray
    softens: np.ndarray
    misread: float = 0.1
    pool: Any = None

    def records(self, trial: PressTrial) -> np.ndarray:
        heat = trial.dial.dots * 50.0 + trial.seconds * 3.0
        hurt, flat = heat > self.limits, heat > self.softens
        true = np.stack([flat & ~hurt, hurt, ~flat & ~hurt], axis=1).astype(float)
        return (1.0 - self.misread) * true + self.misread / 3.0

    def outcomes(self, trial: PressTrial) -> tuple[ToyOutcome, ...]:
        chances = self.weights @ self.records(trial)
        found = [ToyOutcome(r, float(c)) for r, c in zip(RECORDS, chances, strict=True)]
        return tuple(sorted(found, key=lambda one: -one.chance))

    def after(self, trial: PressTrial, findings: tuple[Finding, ...]) -> ToyKnowledge:
        joint = self.weights * self.records(trial)[:, RECORDS.index(findings)]
        return replace(self, weights=joint / joint.sum())


@dataclass(frozen=True)
class ToyChoice:
    """Choices with a utility for each state."""

    table: np.ndarray
    techniques: Sequence[Technique | None]

    def utilities(self, _pool: Any, weights: np.ndarray) -> np.ndarray:
        return np.asarray(weights @ self.table)

    def named(self, place: int) -> tuple[Technique | None, float]:
        return self.techniques[place], float(place)
