"""Learning from sewn swatches: Bayes' rule over the doubts about how a cloth sews, summed on grids."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

from samite.cloth.model import Cloth
from samite.swatch.owners import kind_share
from samite.swatch.seam_place import SeamPlace, place_of, usual_place
from samite.swatch.seam_reach import (
    BEYOND,
    NODES,
    Reach,
    broke_under,
    cracked_by,
    prior,
    reaches,
    value,
)
from samite.swatch.seen import STRETCH_PERCENT, Finding, Sign, Sureness
from samite.swatch.trial import SewTrial, Swatch
from samite.tables.learning import learning_value

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]

FAIR = 0.5
"""Chance of each answer of a record that says nothing of what was tried [-]."""

NEAR = 1.15
"""A stretch at which a seam cracked is read within this factor [-]."""


@dataclass(frozen=True, slots=True, eq=False)
class SewnCloth:
    """What is known of how one cloth sews.

    Parameters
    ----------
    cloth : Cloth
        The cloth.
    used : tuple of Swatch
        Swatches of it that were learnt from.
    set_aside : int
        Sewn swatches of it that were set aside [1].
    alike : int
        Sewn swatches of cloths of its kind that lend a part [1].
    said : mapping of Sign to ndarray of float
        What the swatches say of the doubts behind each trouble, as logarithms over the steps [-].
    """

    cloth: Cloth
    used: tuple[Swatch, ...]
    set_aside: int = 0
    alike: int = 0
    said: Mapping[Sign, Real] = field(default_factory=dict)

    @property
    def teaches(self) -> bool:
        """Whether anything was learnt."""
        return bool(self.used or self.alike)

    def belief(self, sign: Sign) -> Real:
        """Return the chance of each score of the doubts behind a trouble.

        Parameters
        ----------
        sign : Sign
            The trouble.

        Returns
        -------
        ndarray of float, shape (steps,), or (steps, steps) of `BROKE`
            Sums to 1 [-].
        """
        first = before(sign)
        if sign not in self.said:
            return first
        log = np.log(first) + self.said[sign]
        raw = np.exp(log - log.max())
        return np.asarray(raw / raw.sum())

    def chance(self, reach: Reach) -> float:
        """Return the chance of a trouble as things stand.

        Parameters
        ----------
        reach : Reach
            How likely it is over its doubts.

        Returns
        -------
        float
            Chance [-].
        """
        return float((self.belief(reach.sign) * reach.chance).sum())


def before(sign: Sign) -> Real:
    """Return the chance of each score of the doubts behind a trouble before anything was sewn.

    Parameters
    ----------
    sign : Sign
        The trouble.

    Returns
    -------
    ndarray of float, shape (steps,), or (steps, steps) of `BROKE`
        Sums to 1 [-].
    """
    one = prior()
    return np.outer(one, one) if sign is Sign.BROKE else one


def learn_sewn(
    cloth: Cloth,
    swatches: Sequence[Swatch],
    alike: Sequence[tuple[Cloth, Sequence[Swatch]]] = (),
) -> SewnCloth:
    """Learn how a cloth sews from its swatches, and from those of cloths of its kind.

    Parameters
    ----------
    cloth : Cloth
        The cloth.
    swatches : sequence of Swatch
        Its swatches in any order; those not sewn, or set aside, say nothing.
    alike : sequence of tuple of (Cloth, sequence of Swatch)
        Other cloths of its kind with their swatches.

    Returns
    -------
    SewnCloth
        What is known now; without a sewn swatch, what was known before.

    Notes
    -----
    A product of one factor a sign and swatch, so that their order changes nothing. A record says
    nothing of what was tried in 3 of 100, and a sign marked doubtful is the contrary in 15; signs
    of one record are taken to be misread apart, which errs to the slow side where one slip of the
    pen spoils several. What was not tried (not stretched, not pulled) says nothing of it.

    References
    ----------
    derivation, docs/models/swatch-seams.md.
    """
    sewn = [item for item in swatches if item.sew]
    used = tuple(item for item in sewn if not item.set_aside)
    said = _said(cloth, used)
    others = [(other, [s for s in book if s.sew and not s.set_aside]) for other, book in alike]
    others = [(other, book) for other, book in others if book]
    for sign, log in _spoken(others).items():
        said[sign] = said.get(sign, 0.0) + log
    count = sum(len(book) for _, book in others)
    return SewnCloth(cloth, used, len(sewn) - len(used), count, said)


def _said(cloth: Cloth, used: Sequence[Swatch]) -> dict[Sign, Real]:
    """Return the sum of what swatches say; each different one is weighed once."""
    found: dict[Sign, Real] = {}
    if not used:
        return found
    usual, counts = usual_place(cloth), _counted(used)
    for trial, findings in sorted(counts, key=repr):
        for sign, log in _record(usual, trial, findings).items():
            found[sign] = found.get(sign, 0.0) + counts[trial, findings] * log
    return found


def _counted(used: Sequence[Swatch]) -> dict[tuple[SewTrial, tuple[Finding, ...]], int]:
    found: dict[tuple[SewTrial, tuple[Finding, ...]], int] = {}
    for item in used:
        if item.sew:
            key = (item.sew, tuple(sorted(item.findings, key=repr)))
            found[key] = found.get(key, 0) + 1
    return found


def _record(usual: SeamPlace, trial: SewTrial, findings: tuple[Finding, ...]) -> dict[Sign, Real]:
    """Return what one record says of each trouble that it looked for."""
    place = place_of(usual, trial)
    seen = {item.sign: item for item in findings}
    asked = {reach.sign: reach.chance for reach in reaches(place, usual.wants[0])}
    if Sign.CRACKED in seen:
        return _with_crack(place, asked, seen)
    return {sign: _told(chance, sign, seen) for sign, chance in _pulled(place, asked, seen).items()}


def _pulled(
    place: SeamPlace, asked: dict[Sign, Real], seen: Mapping[Sign, Finding]
) -> dict[Sign, Real]:
    """A break of which no weight is told was pulled by hand."""
    if Sign.BROKE in seen and Sign.BROKE not in asked:
        chance = broke_under(place, place.cloths[0], value("hand_pull_n_per_cm"))
        return {**asked, Sign.BROKE: chance}
    return asked


def _with_crack(
    place: SeamPlace, asked: dict[Sign, Real], seen: Mapping[Sign, Finding]
) -> dict[Sign, Real]:
    finding = seen[Sign.CRACKED]
    stretched = finding.stretch_percent or 0.0
    others: dict[Sign, Real] = {
        sign: chance for sign, chance in asked.items() if sign is not Sign.CRACKED
    }
    found = {
        sign: _told(chance, sign, seen) for sign, chance in _pulled(place, others, seen).items()
    }
    late, soon = (cracked_by(place, stretched * by) for by in (NEAR, 1.0 / NEAR))
    near = late - soon
    misread, wrong = _misread(), _doubtful(finding)
    vague = FAIR * 2.0 * math.log(NEAR) / math.log(STRETCH_PERCENT[1] / STRETCH_PERCENT[0])
    contrary = 1.0 - cracked_by(place, stretched)
    chance = (1.0 - misread - wrong) * near + wrong * contrary + misread * vague
    found[Sign.CRACKED] = np.log(chance)
    return found


def _told(chance: Real, sign: Sign, seen: Mapping[Sign, Finding]) -> Real:
    """Return the logarithm of the chance of what is said: that it was there, or was not."""
    finding = seen.get(sign) or seen.get(Sign.NOTHING)
    misread, wrong = _misread(), _doubtful(finding)
    event = chance if sign in seen else 1.0 - chance
    return np.log((1.0 - misread - wrong) * event + wrong * (1.0 - event) + misread * FAIR)


def _misread() -> float:
    return learning_value("swatch misread_percent").value / 100.0


def _doubtful(finding: Finding | None) -> float:
    if finding is None or finding.sureness is Sureness.CLEAR:
        return 0.0
    return learning_value("sign doubtful_percent").value / 100.0


def _spoken(others: Sequence[tuple[Cloth, list[Swatch]]]) -> dict[Sign, Real]:
    """Return what other cloths of the kind say, through what they share; of breaks nothing."""
    of_kind: dict[Sign, Real] = {}
    for cloth, book in others:
        for sign, log in _said(cloth, book).items():
            if sign is not Sign.BROKE:
                of_kind[sign] = of_kind.get(sign, 0.0) + _through(log)
    return {sign: _through(log) for sign, log in of_kind.items()}


def _through(log: Real) -> Real:
    """Return what is said of a doubt by what is said of another that it goes along with.

    That the engine misses the other says nothing of this one.
    """
    correlation, first = kind_share() ** 0.5, prior()
    gap = NODES[np.newaxis, :] - correlation * NODES[:, np.newaxis]
    kernel = np.exp(-0.5 * gap**2 / (1.0 - correlation**2))
    kernel /= kernel.sum(axis=1, keepdims=True)
    raw, usual = np.exp(log - log.max()), len(NODES)
    missed = float(first[usual:].sum())
    apart = float(raw[usual:].mean())
    within = (1.0 - missed) * (kernel @ raw[:usual]) + missed * apart
    alone = float(first @ raw)
    found = np.concatenate([within, np.full(len(BEYOND), alone)])
    return np.asarray(np.log(np.maximum(found, 1e-300)))


def counted(sewn: SewnCloth, sign: Sign) -> tuple[int, int]:
    """Return how many of the swatches showed a trouble, of how many that looked for it.

    Parameters
    ----------
    sewn : SewnCloth
        What is known.
    sign : Sign
        The trouble.

    Returns
    -------
    tuple of (int, int)
        Seen, and tried [1].
    """
    tried = [item for item in sewn.used if _looked(item, sign)]
    return sum(item.finding(sign) is not None for item in tried), len(tried)


def _looked(item: Swatch, sign: Sign) -> bool:
    if item.sew is None:
        return False
    if item.finding(sign):
        return True
    if sign is Sign.CRACKED:
        return item.sew.stretch_percent is not None
    return sign is not Sign.BROKE or item.sew.hung_kg is not None
