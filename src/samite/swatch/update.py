"""Learning: what swatches taught about a cloth, an iron and a person, for every later answer."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from samite.cloth.model import Cloth
from samite.press.draws import Draws
from samite.swatch.seen import Finding
from samite.swatch.trial import PressTrial, Swatch
from samite.tables.irons import Iron

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray


@dataclass(frozen=True, slots=True)
class Asked:
    """What is asked about: one cloth, one iron, one person.

    Parameters
    ----------
    cloth : Cloth
        The cloth.
    iron : Iron
        The iron that the answer is for.
    iron_key : str
        Its key in the store; empty for an iron that is not kept.
    maker : str
        Whose hand; empty if it is not said.
    """

    cloth: Cloth
    iron: Iron
    iron_key: str = ""
    maker: str = ""


@dataclass(frozen=True, slots=True)
class Alike:
    """Another cloth of the same kind, with its swatches.

    Parameters
    ----------
    key : str
        Its key in the store.
    cloth : Cloth
        The cloth.
    swatches : tuple of Swatch
        Its swatches.
    """

    key: str
    cloth: Cloth
    swatches: tuple[Swatch, ...]


@dataclass(frozen=True, slots=True)
class Moved:
    """One doubt before and after, as 5th, 50th and 95th percentile in its own unit.

    Parameters
    ----------
    doubt : str
        Its name.
    unit : str
        Its unit.
    before, after : tuple of float
        Three percentiles each.
    sharper : float
        By what share the spread shrank; negative if it grew [-].
    """

    doubt: str
    unit: str
    before: tuple[float, float, float]
    after: tuple[float, float, float]
    sharper: float


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a trial may show.

    Parameters
    ----------
    findings : tuple of Finding
        The record that would be written.
    chance : float
        Its chance, misreading included [-].
    """

    findings: tuple[Finding, ...]
    chance: float


@dataclass(frozen=True, slots=True)
class Learnt:
    """What swatches taught.

    Give `draws_of` to `press_window` for the learnt window. `pool` and `weights` serve
    `press_runs` and `judge_runs`: press a plan once on `pool`, then judge it again under
    `after(trial, findings)`, whose pool has the same scores.

    Parameters
    ----------
    asked : Asked
        What was asked about.
    used : tuple of Swatch
        Swatches of this cloth that were learnt from, in canonical order.
    left_out : tuple of (Swatch, str)
        Those that were not, and why.
    alike : int
        Swatches of other cloths of the kind that were learnt from [1].
    pool : Draws
        Weighted draws; `pool.below` knows what was learnt of limits.
    weights : ndarray of float, shape (pool.count,)
        Sums to 1 [-].
    worth : float
        How many independent draws they are worth [-].
    moved : tuple of Moved
        The doubts that moved most, first the one that sharpened most.
    """

    asked: Asked
    used: tuple[Swatch, ...]
    left_out: tuple[tuple[Swatch, str], ...]
    alike: int
    pool: Draws
    weights: Real
    worth: float
    moved: tuple[Moved, ...] = field(default=())

    def draws_of(self, count: int, seed: int) -> Draws:
        """Return so many draws of equal weight, for `press_window`."""
        raise NotImplementedError

    def outcomes(self, trial: PressTrial) -> tuple[Outcome, ...]:
        """Return what a trial may show, the likeliest first; chances sum to 1."""
        raise NotImplementedError

    def after(self, trial: PressTrial, findings: tuple[Finding, ...]) -> Learnt:
        """Return what would be known after one more swatch, on the same pool."""
        raise NotImplementedError


def learn(
    asked: Asked,
    swatches: Sequence[Swatch],
    *,
    alike: Sequence[Alike] = (),
    irons: Mapping[str, Iron] | None = None,
    seed: int = 1,
) -> Learnt:
    """Learn from the swatches of a cloth, and of cloths alike."""
    raise NotImplementedError
