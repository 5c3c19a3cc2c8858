"""How a cloth is best sewn after what swatches taught, and which sewn scrap would tell most."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product
from typing import TYPE_CHECKING

import numpy as np

from samite.seam.needle import STANDARD_SIZES
from samite.seam.points import POINTS, WILL_DO, point_objection
from samite.swatch.seam_learn import FAIR, SewnCloth
from samite.swatch.seam_place import SeamPlace
from samite.swatch.seam_reach import Reach, reaches
from samite.swatch.seen import Sign
from samite.tables.learning import learning_value

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]

LENGTH_STEPS_MM = (0.0, -0.5, 0.5, 1.0)
"""By what the stitch may be longer than it is [mm]."""

LENGTHS_MM = (1.2, 4.5)
"""Shortest and longest stitch that is thought of [mm]."""

SEWN_MINUTES, STRETCHED_MINUTES, HUNG_MINUTES = 5.0, 1.0, 2.0
"""Sewing a scrap, stretching it, hanging a weight from it [min] (guesses of a practised hand)."""

SEWN_CM = 20.0
"""Seam of a scrap [cm]."""


@dataclass(frozen=True, slots=True)
class Way:
    """One way to sew a seam, against the card's.

    Parameters
    ----------
    place : SeamPlace
        The seam.
    changed : tuple of str
        What differs from the card's own, in words; empty for the card's own.
    """

    place: SeamPlace
    changed: tuple[str, ...] = ()

    @property
    def words(self) -> str:
        """What differs, in words."""
        return ", ".join(self.changed) or "as the card says"


def ways_to_sew(place: SeamPlace) -> tuple[Way, ...]:
    """Return the ways among which is chosen: other needles, other lengths.

    Parameters
    ----------
    place : SeamPlace
        The card's own.

    Returns
    -------
    tuple of Way
        The card's own first; points that every cloth bears, a size up and down, longer and shorter
        stitches, each with each.
    """
    found = []
    for point, size, length in product(_points(place), _sizes(place), _lengths(place)):
        changed = []
        if point != place.settled.needle.point or size != place.settled.needle.size_nm:
            changed.append(f"needle {point} {size}")
        if length != place.stitch.length_mm:
            changed.append(f"stitch {length:g} mm")
        found.append(
            Way(place.sewn(needle_point=point, size_nm=size, length_mm=length), tuple(changed))
        )
    return tuple(sorted(found, key=lambda way: len(way.changed)))


def _points(place: SeamPlace) -> list[str]:
    own = place.settled.needle.point
    others = [
        point
        for point in POINTS
        if point != own
        and all(point_objection(cloth, point).level <= WILL_DO for cloth in place.cloths)
    ]
    return [own, *others]


def _sizes(place: SeamPlace) -> list[int]:
    own = place.settled.needle.size_nm
    smaller = [size for size in STANDARD_SIZES if size < own][-1:]
    larger = [size for size in STANDARD_SIZES if size > own][:1]
    return [own, *smaller, *larger]


def _lengths(place: SeamPlace) -> list[float]:
    own = place.stitch.length_mm
    low, high = LENGTHS_MM
    others = [round(own + step, 1) for step in LENGTH_STEPS_MM[1:]]
    return [own, *(length for length in others if low <= length <= high)]


def cost_of(sign: Sign) -> float:
    """Return what a trouble costs, over a garment that must be sewn again.

    Parameters
    ----------
    sign : Sign
        The trouble.

    Returns
    -------
    float
        Cost [-].
    """
    return learning_value(f"cost {sign.value}_percent").value / 100.0


@dataclass(frozen=True, slots=True, eq=False)
class SewChoice:
    """Ways to sew a cloth to itself, with what each brings as things stand.

    Parameters
    ----------
    sewn : SewnCloth
        What is known.
    ways : tuple of Way
        The card's own first.
    over : tuple of dict of Sign to ndarray
        Chance of each trouble over its doubts, a way [-].
    """

    sewn: SewnCloth
    ways: tuple[Way, ...]
    over: tuple[dict[Sign, Real], ...]

    def chances(self, way: int) -> dict[Sign, float]:
        """Return the chance of each trouble in one way as things stand.

        Parameters
        ----------
        way : int
            Its place among the ways [1].

        Returns
        -------
        dict of Sign to float
            Chances [-].
        """
        return {
            sign: self.sewn.chance(Reach(sign, chance)) for sign, chance in self.over[way].items()
        }

    @property
    def costs(self) -> Real:
        """What each way is expected to cost, changes of the card's own included [-]."""
        change = learning_value("cost change_percent").value / 100.0
        troubles = [
            sum(cost_of(sign) * chance for sign, chance in self.chances(number).items())
            for number in range(len(self.ways))
        ]
        return np.array(troubles) + change * np.array([len(way.changed) for way in self.ways])

    @property
    def best(self) -> int:
        """Place of the best way as things stand [1]."""
        return int(self.costs.argmin())


def sew_choice(sewn: SewnCloth, place: SeamPlace) -> SewChoice:
    """Set out the ways to sew a cloth to itself.

    Parameters
    ----------
    sewn : SewnCloth
        What is known of it.
    place : SeamPlace
        The card's own way, stretched and pulled as in wear.

    Returns
    -------
    SewChoice
        To be weighed against tests.
    """
    ways = ways_to_sew(place)
    over = tuple(
        {reach.sign: reach.chance for reach in reaches(way.place, way.place.wants[0])}
        for way in ways
    )
    return SewChoice(sewn, ways, over)


@dataclass(frozen=True, slots=True)
class SewTest:
    """A sewn scrap that may be worth making.

    Parameters
    ----------
    way : Way
        How it is sewn.
    stretched : bool
        Whether it is stretched as far as in wear.
    hung : bool
        Whether the load of wear is hung from it.
    worth : float
        Expected saving, over a garment that must be sewn again [-].
    chances : dict of Sign to float
        Chance that each trouble shows [-].
    leads_to : dict of Sign to str
        The best way if that trouble alone is seen, in words.
    """

    way: Way
    stretched: bool
    hung: bool
    worth: float
    chances: dict[Sign, float]
    leads_to: dict[Sign, str]

    @property
    def minutes(self) -> float:
        """How long it takes [min]."""
        return SEWN_MINUTES + STRETCHED_MINUTES * self.stretched + HUNG_MINUTES * self.hung

    @property
    def per_minute(self) -> float:
        """What a minute of it is worth [-]."""
        return self.worth / self.minutes


def rank_sewn_tests(choice: SewChoice) -> list[SewTest]:
    """Rank the sewn scraps that may be worth making.

    Parameters
    ----------
    choice : SewChoice
        What they may better.

    Returns
    -------
    list of SewTest
        Best by the minute first; of each way the tests that are worth most. The card's own way is
        always among them.

    Notes
    -----
    Pre-posterior analysis over every combination of signs, which are independent as long as nothing
    was seen; misreading is counted, doubtful signs are not. Summed on the grids: no noise.

    References
    ----------
    raiffa-schlaifer-1961, chapter 4.
    """
    single = [number for number, way in enumerate(choice.ways) if len(way.changed) <= 1]
    found = []
    for number in single:
        options = [
            worth_of_scrap(choice, number, stretched=stretched, hung=hung)
            for stretched, hung in _pulls(choice)
        ]
        found.append(max(options, key=lambda one: (one.per_minute, -one.minutes)))
    return sorted(found, key=lambda one: (-round(one.per_minute, 6), len(one.way.changed)))


def _pulls(choice: SewChoice) -> list[tuple[bool, bool]]:
    can = choice.over[0]
    return [
        (stretched, hung)
        for stretched in (False, True)[: 1 + (Sign.CRACKED in can)]
        for hung in (False, True)[: 1 + (Sign.BROKE in can)]
    ]


def worth_of_scrap(choice: SewChoice, way: int, *, stretched: bool, hung: bool) -> SewTest:
    """Return what one sewn scrap is worth.

    Parameters
    ----------
    choice : SewChoice
        What it may better.
    way : int
        Place of the way that it is sewn in [1].
    stretched : bool
        Whether it is stretched as far as in wear.
    hung : bool
        Whether the load of wear is hung from it.

    Returns
    -------
    SewTest
        Never worth less than nothing.

    References
    ----------
    raiffa-schlaifer-1961, chapter 4.
    """
    looked = [
        sign
        for sign in choice.over[way]
        if (stretched or sign is not Sign.CRACKED) and (hung or sign is not Sign.BROKE)
    ]
    told, costs = [_both(choice, way, sign) for sign in looked], choice.costs
    worth = _saved(costs, told)
    chances = {sign: chance for sign, (chance, _) in zip(looked, told, strict=True)}
    leads = {
        sign: choice.ways[_best_after(costs, told, place)].words
        for place, sign in enumerate(looked)
    }
    return SewTest(choice.ways[way], stretched, hung, worth, chances, leads)


def _both(choice: SewChoice, way: int, sign: Sign) -> tuple[float, Real]:
    """Return the chance that a sign is named, and by what costs move if it is not, and if it is."""
    misread = learning_value("swatch misread_percent").value / 100.0
    belief, event = choice.sewn.belief(sign), choice.over[way][sign]
    said = (1.0 - misread) * event + misread * FAIR
    chance = float((belief * said).sum())
    now = np.array([(belief * one[sign]).sum() for one in choice.over])
    if_so = np.array([(belief * said * one[sign]).sum() for one in choice.over]) / chance
    if_not = (now - chance * if_so) / (1.0 - chance)
    return chance, cost_of(sign) * np.stack([if_not - now, if_so - now])


def _saved(costs: Real, told: Sequence[tuple[float, Real]]) -> float:
    """Sum the best cost over every combination of what is said, and take it from that of now."""
    after = 0.0
    for said in product((0, 1), repeat=len(told)):
        chance = np.prod([p if yes else 1.0 - p for yes, (p, _) in zip(said, told, strict=True)])
        moved = sum(move[yes] for yes, (_, move) in zip(said, told, strict=True))
        after += float(chance) * float((costs + moved).min())
    return max(float(costs.min()) - after, 0.0)


def _best_after(costs: Real, told: Sequence[tuple[float, Real]], named: int) -> int:
    moved = sum(move[int(place == named)] for place, (_, move) in enumerate(told))
    return int(np.asarray(costs + moved).argmin())
