"""Learning: what swatches taught about a cloth, an iron and a person, for every later answer."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

import numpy as np

from samite.cloth.model import Cloth
from samite.press.draws import Draws
from samite.press.told import TOLD_AFTER
from samite.swatch.learnt_draws import LearntDraws, taken_rows
from samite.swatch.moved import Moved, what_moved
from samite.swatch.outcomes import Outcome, possible_outcomes
from samite.swatch.seen import Finding
from samite.swatch.study import (
    Bound,
    Pressing,
    Study,
    pace_doubt,
    study,
    unexplained,
    with_one_more,
)
from samite.swatch.trial import PressTrial, Swatch
from samite.swatch.wrong_label import LabelDoubt, label_doubts
from samite.tables.irons import Iron, household_iron

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]


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


@dataclass(frozen=True, slots=True, eq=False)
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
        Swatches of this cloth that were learnt from.
    left_out : tuple of (Swatch, str)
        Those that were not, and why.
    alike : int
        Swatches of other cloths of the kind that were learnt from [1].
    study : Study
        The weighing behind it.
    """

    asked: Asked
    used: tuple[Swatch, ...]
    left_out: tuple[tuple[Swatch, str], ...]
    alike: int
    study: Study
    _others: list[Study] = field(default_factory=list, init=False, repr=False)

    @property
    def weights(self) -> Real:
        """What each draw of the pool counts; sums to 1 [-]."""
        return self.study.weights

    @property
    def worth(self) -> float:
        """How many independent draws the answer is worth [-]."""
        return self.study.worth

    @property
    def pool(self) -> LearntDraws:
        """The weighted draws; they know what was learnt of limits."""
        return self._taken(np.arange(self.study.draws.count), self.worth)

    @property
    def moved(self) -> tuple[Moved, ...]:
        """The doubts before and after, first the one that sharpened most."""
        asked = self.asked
        return what_moved(self.study, asked.cloth, asked.iron, asked.maker)

    @property
    def label_doubts(self) -> tuple[LabelDoubt, ...]:
        """Parts of which the swatches contradict the label; none while they do not."""
        return label_doubts(self.study, self.asked.cloth)

    def draws_of(self, count: int, seed: int) -> LearntDraws:
        """Return so many draws of equal weight, for `press_window`.

        Parameters
        ----------
        count : int
            How many.
        seed : int
            Seed. With that of the draws that tell a choice (`TOLD_AFTER`) the swatches are weighed again
            on draws of their own: what chose on the others is then told on these.

        Returns
        -------
        LearntDraws
            Draws that know what was learnt.
        """
        weighed = self._again if seed == self.study.bound.seed + TOLD_AFTER else self.study
        rows = taken_rows(weighed.weights, count, seed)
        worth = 1.0 / (1.0 / count + 1.0 / weighed.worth)
        return self._taken(rows, worth, Draws(count, seed), weighed)

    @property
    def _again(self) -> Study:
        """The same swatches weighed on other draws, when first asked for."""
        bound = self.study.bound
        if not self._others:
            other = replace(bound, seed=bound.seed + TOLD_AFTER)
            self._others.append(study(other, self.study.pressings))
        return self._others[0]

    def _taken(
        self,
        rows: NDArray[np.int64],
        worth: float,
        fresh: Draws | None = None,
        weighed: Study | None = None,
    ) -> LearntDraws:
        weighed = weighed or self.study
        return LearntDraws(
            weighed.draws,
            rows,
            weighed.limits,
            pace_name=pace_doubt(self.asked.maker),
            worth=worth,
            fresh=fresh,
        )

    def outcomes(self, trial: PressTrial) -> tuple[Outcome, ...]:
        """Return what a trial may show.

        Parameters
        ----------
        trial : PressTrial
            A trial of this cloth with the iron and by the person asked about.

        Returns
        -------
        tuple of Outcome
            The likeliest first; the chances sum to 1.
        """
        exposure = self.study.exposed(trial, self.asked.maker)
        return possible_outcomes(exposure, self.study.limits, self.weights)

    def after(self, trial: PressTrial, findings: tuple[Finding, ...]) -> Learnt:
        """Return what would be known after one more swatch, on the same draws.

        Parameters
        ----------
        trial : PressTrial
            What would be tried.
        findings : tuple of Finding
            What would be seen.

        Returns
        -------
        Learnt
            With other weights.
        """
        pressing = Pressing(trial, findings, self.asked.maker)
        return replace(self, study=with_one_more(self.study, pressing))


def learn(
    asked: Asked,
    swatches: Sequence[Swatch],
    *,
    alike: Sequence[Alike] = (),
    irons: Mapping[str, Iron] | None = None,
    seed: int = 1,
) -> Learnt:
    """Learn from the swatches of a cloth, and of cloths alike.

    Parameters
    ----------
    asked : Asked
        Cloth, iron and person that the answer is for.
    swatches : sequence of Swatch
        Swatches of the cloth, in any order.
    alike : sequence of Alike
        Other cloths of its kind with their swatches.
    irons : mapping of str to Iron or None
        Irons by the keys that the swatches name; one that is missing counts as a household iron.
    seed : int
        Seed of the draws.

    Returns
    -------
    Learnt
        What is known now. Swatches that were set aside or only sewn are left out, with the reason.

    Notes
    -----
    Bayes' rule on weighted draws of the press model, `docs/models/swatch.md`. The order of the
    swatches changes nothing. Limits of the same part stay apart from cloth to cloth except for
    what cloths of a kind share; the room is another tomorrow and nothing is kept of it.

    References
    ----------
    derivation, docs/models/swatch.md.
    """
    left = [(item, why) for item in swatches if (why := _why_not(item))]
    own = [(item, pressing) for item in swatches if (pressing := _pressing(item, ""))]
    others = [
        pressing
        for cloth in alike
        for item in cloth.swatches
        if (pressing := _pressing(item, cloth.key))
    ]
    pressings = [*(pressing for _, pressing in own), *others]
    bound = Bound(
        cloths=(("", asked.cloth), *((cloth.key, cloth.cloth) for cloth in alike)),
        irons=_irons(asked, pressings, irons or {}),
        iron_key=asked.iron_key,
        seed=seed,
    )
    known = study(bound, pressings)
    left += [(item, UNEXPLAINED) for item, pressing in own if unexplained(known, pressing)]
    used = tuple(item for item, pressing in own if not unexplained(known, pressing))
    return Learnt(asked, used, tuple(left), len(others), known)


UNEXPLAINED = "it names damage that no part of this cloth accounts for: only the cautions mind it"


def _why_not(swatch: Swatch) -> str:
    if swatch.set_aside:
        return "set aside"
    return "" if swatch.press else "only sewn: it counts for the seam"


def _pressing(swatch: Swatch, cloth_key: str) -> Pressing | None:
    if swatch.press is None or swatch.set_aside:
        return None
    return Pressing(swatch.press, swatch.findings, swatch.maker, cloth_key)


def _irons(
    asked: Asked, pressings: Sequence[Pressing], irons: Mapping[str, Iron]
) -> tuple[tuple[str, Iron], ...]:
    keys = {pressing.trial.iron_key for pressing in pressings} | {"", asked.iron_key}
    known = {key: irons.get(key, household_iron()) for key in keys}
    known[asked.iron_key] = asked.iron
    return tuple(sorted(known.items(), key=lambda pair: pair[0]))
