"""How a cloth sews is learnt: against Bayes' rule summed by brute force, from the rules alone.

The rules are those of docs/models/swatch-seams.md, the values those of `learning.csv`, typed again
here; only the numbers that the seam engine computes are taken from it.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import replace

import numpy as np
import pytest
from scipy.stats import norm
from tests.swatches import plain_seam, plain_swatch

from samite.cloth.build import build_cloth
from samite.cloth.label import read_label
from samite.seam.forces import cloth_limit_n_per_cm, stitching_strength_n_per_cm
from samite.seam.make_candidates import stretch_of
from samite.seam.needle_size import perforation_share
from samite.swatch.seam_choice import rank_sewn_tests, sew_choice, worth_of_scrap
from samite.swatch.seam_learn import before, counted, learn_sewn
from samite.swatch.seam_place import SeamPlace, place_of, usual_place
from samite.swatch.seam_reach import (
    broke_under,
    cloth_n_per_cm,
    cracked_by,
    gives_percent,
    prior,
    reaches,
    stitching_n_per_cm,
)
from samite.swatch.seam_taught import percentiles
from samite.swatch.seen import Finding, Sign, Sureness
from samite.swatch.trial import Swatch
from samite.swatch.value import worth_of_test

Z95 = 1.6448536269514722
MISREAD, DOUBTFUL, MISSED = 0.03, 0.15, 0.02
BEYOND = (0.6, 0.45, 0.33, 0.2, 0.1)
FINE = np.linspace(-4.5, 4.5, 451)
CHIFFON = build_cloth(read_label("polyester chiffon, 60 g/m2"))
USUAL = usual_place(CHIFFON)


def sewn(*findings: Finding, **seam: object) -> Swatch:
    given = {"needle_point": "sharp", "needle_size_nm": 70, "thread_tex": 18.0}
    told = {**given, "stitch_length_mm": 1.8, **seam}
    seen = findings or (Finding(Sign.NOTHING),)
    return plain_swatch(press=None, sew=plain_seam(**told), findings=seen)


def place(**seam: object) -> SeamPlace:
    trial = sewn(**seam).sew
    assert trial
    return place_of(USUAL, trial)


def two_piece(low: float, middle: float, high: float, score: np.ndarray) -> np.ndarray:
    down, up = math.log(middle / low) / Z95, math.log(high / middle) / Z95
    return middle * np.exp(np.where(score < 0, score * down, score * up))


def mixed(usual: np.ndarray, beyond: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Values over fine scores and then the cloths that the engine misses, with their chances."""
    mass = norm.pdf(FINE) / norm.pdf(FINE).sum()
    chances = np.concatenate([(1 - MISSED) * mass, np.full(len(beyond), MISSED / len(beyond))])
    return np.concatenate([usual, beyond]), chances


def said(event: np.ndarray, seen: bool, wrong: float = 0.0) -> np.ndarray:
    told = event if seen else 1.0 - event
    return (1 - MISREAD - wrong) * told + wrong * (1 - told) + MISREAD * 0.5


@pytest.mark.parametrize(
    "story",
    [
        [(True, False)],
        [(False, False)] * 3,
        [(True, False), (True, True), (False, False)],
        [(True, False)] * 4 + [(False, True)] * 3,
    ],
    ids=["one", "three", "doubtful", "contradicted"],
)
def test_holes_agree_with_their_grid(story: list[tuple[bool, bool]]) -> None:
    """One doubt: at which share of holes a filament weave is perforated, 0.45 (0.3 to 0.65)."""
    book, nothing = [], Finding(Sign.NOTHING)
    for seen, doubtful in story:
        sureness = Sureness.DOUBTFUL if doubtful else Sureness.CLEAR
        book.append(
            sewn(
                Finding(Sign.PERFORATED, sureness) if seen else replace(nothing, sureness=sureness)
            )
        )
    share = perforation_share(size_nm=70, stitch_length_mm=1.8)
    limit = two_piece(0.3, 0.45, 0.65, -FINE)
    usual = norm.cdf(np.log(share / limit) / math.log(1.15))
    event, density = mixed(usual, np.full(len(BEYOND), 0.7))
    for seen, doubtful in story:
        density = density * said(event, seen, DOUBTFUL if doubtful else 0.0)
    expected = float((density * event).sum() / density.sum())
    known = learn_sewn(CHIFFON, book)
    reach = next(r for r in reaches(place(), USUAL.wants[0]) if r.sign is Sign.PERFORATED)
    assert known.chance(reach) == pytest.approx(expected, abs=2e-3)
    assert counted(known, Sign.PERFORATED) == (sum(seen for seen, _ in story), len(story))


def test_a_crack_agrees_with_its_grid() -> None:
    """One doubt, seen as a number: cracked at 9 %, once not cracked at 8 %."""
    book = [sewn(Finding(Sign.CRACKED, stretch_percent=9.0)), sewn(stretch_percent=8.0)]
    whole = stretch_of(place().stitch, USUAL.wants)
    share, density = mixed(two_piece(0.7, 0.84, 1.0, -FINE), np.array(BEYOND))

    def by(stretch: float) -> np.ndarray:
        return norm.cdf(np.log(stretch / (whole * share)) / math.log(1.1))

    vague = 0.5 * 2.0 * math.log(1.15) / math.log(1000.0)
    density = density * ((1 - MISREAD) * (by(9.0 * 1.15) - by(9.0 / 1.15)) + MISREAD * vague)
    density = density * said(by(8.0), seen=False)
    density /= density.sum()
    belief = learn_sewn(CHIFFON, book).belief(Sign.CRACKED)
    gives = gives_percent(place())
    assert belief @ gives == pytest.approx(density @ (whole * share), rel=2e-3)
    assert belief @ cracked_by(place(), 7.0) == pytest.approx(density @ by(7.0), abs=2e-3)
    low, _, high = percentiles(gives, belief)
    assert low < 9.0 < high


def test_a_break_agrees_with_its_grid_of_two() -> None:
    """Two doubts behind one sign: stitching 0.6 to 1.4 and cloth 0.5 to 2 of what is computed."""
    book = [sewn(Finding(Sign.BROKE), hung_kg=8.0), sewn(hung_kg=4.0), sewn(hung_kg=6.0)]
    stitching = stitching_strength_n_per_cm(place().candidate, place().settled)
    cloth = cloth_limit_n_per_cm(CHIFFON, place().candidate, place().settled)
    one, mass = mixed(stitching * two_piece(0.6, 1.0, 1.4, -FINE), stitching * np.array(BEYOND))
    two, other = mixed(cloth * two_piece(0.5, 1.0, 2.0, -FINE), cloth * np.array(BEYOND))
    held, density = np.minimum(one[:, None], two[None, :]), mass[:, None] * other[None, :]
    for kilograms, seen in ((8.0, True), (4.0, False), (6.0, False)):
        load = kilograms * 9.80665 / 2.5
        density = density * said(norm.cdf(np.log(load / held) / math.log(1.15)), seen)
    density /= density.sum()
    belief = learn_sewn(CHIFFON, book).belief(Sign.BROKE)
    assert belief.sum(axis=1) @ stitching_n_per_cm(place()) == pytest.approx(
        density.sum(axis=1) @ one, rel=3e-3
    )
    assert belief.sum(axis=0) @ cloth_n_per_cm(place(), CHIFFON) == pytest.approx(
        density.sum(axis=0) @ two, rel=3e-3
    )
    expected = (density * norm.cdf(np.log(12.0 / held) / math.log(1.15))).sum()
    found = (belief * broke_under(place(), CHIFFON, 12.0)).sum()
    assert found == pytest.approx(expected, abs=3e-3)


def test_the_order_of_swatches_changes_nothing_and_one_set_aside_says_nothing() -> None:
    book = [sewn(Finding(Sign.PUCKERED)), sewn(), sewn(Finding(Sign.SKIPPED, Sureness.DOUBTFUL))]
    first = learn_sewn(CHIFFON, book)
    for other in itertools.permutations(book):
        again = learn_sewn(CHIFFON, other)
        assert all(np.array_equal(first.belief(s), again.belief(s)) for s in first.said)
    aside = learn_sewn(CHIFFON, [replace(item, set_aside=True) for item in book])
    assert aside.set_aside == 3
    assert not aside.teaches
    assert np.array_equal(aside.belief(Sign.PUCKERED), before(Sign.PUCKERED))


@pytest.mark.parametrize("sign", [Sign.PUCKERED, Sign.SKIPPED, Sign.PERFORATED, Sign.FRAYED])
def test_one_swatch_never_makes_certain_and_a_contradicted_one_does_not_poison(sign: Sign) -> None:
    reach = next(r for r in reaches(place(), USUAL.wants[0]) if r.sign is sign)
    start = float(prior() @ reach.chance)
    once = learn_sewn(CHIFFON, [sewn(Finding(sign))]).chance(reach)
    never = learn_sewn(CHIFFON, [sewn()]).chance(reach)
    assert 0.001 < never < start < once < 0.9
    mended = learn_sewn(CHIFFON, [sewn(Finding(sign)), *[sewn()] * 8]).chance(reach)
    assert mended < start + 0.03


def test_a_cloth_alike_starts_wiser() -> None:
    """Half of the variance is common: what five swatches of another say moves it, and less."""
    reach = next(r for r in reaches(place(), USUAL.wants[0]) if r.sign is Sign.FRAYED)
    book = [sewn(Finding(Sign.FRAYED))] * 5
    own = learn_sewn(CHIFFON, book).chance(reach)
    lent = learn_sewn(CHIFFON, [], [(CHIFFON, book)])
    assert lent.alike == 5
    assert float(prior() @ reach.chance) + 0.05 < lent.chance(reach) < own


def test_the_worth_of_a_scrap_agrees_with_states_enumerated() -> None:
    """One sign: the states are the steps of its doubt, the outcomes seen and not seen."""
    choice = sew_choice(learn_sewn(CHIFFON, []), USUAL)
    # All other troubles to nothing: then only the holes are to decide.
    only = replace(
        choice,
        over=tuple({Sign.PERFORATED: one[Sign.PERFORATED]} for one in choice.over),
    )
    found = worth_of_scrap(only, 0, stretched=False, hung=False)
    event = only.over[0][Sign.PERFORATED]
    told = np.stack([said(event, seen=True), said(event, seen=False)], axis=1)
    changes = np.array([0.01 * len(way.changed) for way in only.ways])
    utilities = -np.stack([one[Sign.PERFORATED] for one in only.over], axis=1) - changes
    assert found.worth == pytest.approx(worth_of_test(prior(), utilities, told), abs=1e-9)
    assert found.worth > 0.0


def test_ranked_scraps_hold_the_cards_own_and_knowing_more_is_worth_less() -> None:
    fresh = rank_sewn_tests(sew_choice(learn_sewn(CHIFFON, []), USUAL))
    assert any(not one.way.changed for one in fresh)
    assert [one.per_minute for one in fresh] == sorted(
        (one.per_minute for one in fresh), reverse=True
    )
    known = learn_sewn(CHIFFON, [sewn()] * 60)
    later = rank_sewn_tests(sew_choice(known, place()))
    assert max(one.worth for one in later) < 0.5 * max(one.worth for one in fresh)


def test_made_up_cloths_are_believed_as_often_as_is_stated() -> None:
    """Cloths drawn from the rules, three swatches each: stated and true share of perforated seams."""
    generator = np.random.default_rng(11)
    reach = next(r for r in reaches(place(), USUAL.wants[0]) if r.sign is Sign.PERFORATED)
    steps = generator.choice(len(prior()), 3000, p=prior())
    true = reach.chance[steps]
    seen = generator.random((3000, 3)) < true[:, None]
    misread = generator.random(seen.shape) < MISREAD
    seen = np.where(misread, generator.random(seen.shape) < 0.5, seen)
    stated = {
        count: learn_sewn(
            CHIFFON, [sewn(Finding(Sign.PERFORATED))] * count + [sewn()] * (3 - count)
        ).chance(reach)
        for count in range(4)
    }
    for count, chance in stated.items():
        mine = true[seen.sum(axis=1) == count]
        assert mine.mean() == pytest.approx(chance, abs=4.0 * mine.std() / math.sqrt(len(mine)))
