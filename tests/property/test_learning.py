"""Laws of learning: order, setting aside, contradiction, one swatch, and what nothing teaches."""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import replace
from datetime import date

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from samite.cloth.build import build_cloth
from samite.cloth.label import read_label
from samite.press.dials import Dial
from samite.swatch.seen import Finding, Sign, Sureness
from samite.swatch.trial import PressTrial, Swatch
from samite.swatch.update import Alike, Asked, Learnt, learn
from samite.tables.irons import household_iron

DAY = date(2031, 2, 3)
CLOTH = build_cloth(read_label("polyester satin, 150 g/m2"))
ASKED = Asked(CLOTH, household_iron())
GLAZES = "limit of the base: polyester, where it glazes"


def swatch(dial: Dial, seconds: float, *signs: Sign, cloth: str = "none", **more: object) -> Swatch:
    findings = tuple(
        Finding(sign, shrunk_mm=2.0 if sign is Sign.SHRUNK else None) for sign in signs
    )
    trial = PressTrial(dial, "none", cloth, "wrong", seconds)
    return replace(Swatch("cloth", DAY, findings, press=trial), **more)  # type: ignore[arg-type]


FINE = (Sign.SET_FLAT,)
BOOK = (
    swatch(Dial.MEDIUM, 5.0, *FINE),
    swatch(Dial.HIGH, 3.0, *FINE),
    swatch(Dial.HIGH, 8.0, Sign.SET_FLAT, Sign.SHINE),
    swatch(Dial.MEDIUM, 5.0, *FINE, note="again"),
)


def limit(learnt: Learnt, at: float = 0.0) -> float:
    """Chance that the glazing limit lies below a score."""
    score = np.full((learnt.study.draws.count, 1), at)
    return float(learnt.weights @ learnt.study.limits.chance_below(GLAZES, score)[:, 0])


def same(one: Learnt, other: Learnt) -> bool:
    return np.array_equal(one.weights, other.weights) and np.array_equal(
        one.study.limits.below, other.study.limits.below
    )


@settings(max_examples=4)
@given(st.randoms(use_true_random=False))
def test_the_order_of_swatches_changes_nothing(chance: random.Random) -> None:
    book = list(BOOK)
    chance.shuffle(book)
    assert same(learn(ASKED, book), learn(ASKED, BOOK))


@pytest.mark.parametrize("out", range(len(BOOK)))
def test_a_swatch_set_aside_leaves_no_trace(out: int) -> None:
    aside = [replace(item, set_aside=number == out) for number, item in enumerate(BOOK)]
    without = [item for number, item in enumerate(BOOK) if number != out]
    assert same(learn(ASKED, aside), learn(ASKED, without))
    assert learn(ASKED, aside).left_out[0][1] == "set aside"


def test_note_photo_and_day_change_nothing() -> None:
    told = [replace(item, note="x", photos=("a",), made_on=date(2030, 1, 1)) for item in BOOK]
    assert same(learn(ASKED, told), learn(ASKED, BOOK))


def test_nothing_teaches_nothing() -> None:
    empty = learn(ASKED, ())
    assert empty.moved == ()
    assert empty.worth == pytest.approx(empty.study.draws.count)
    score = np.linspace(-3.0, 3.0, 7)[np.newaxis, :].repeat(80, axis=0)
    from samite.press.draws import normal_cdf

    assert np.allclose(empty.draws_of(80, 1).below(GLAZES, score), normal_cdf(score))


def test_one_swatch_is_never_certain() -> None:
    """The harshest success and the gentlest failure both leave the other side open."""
    success = learn(ASKED, [swatch(Dial.HIGH, 30.0, *FINE)])
    failure = learn(ASKED, [swatch(Dial.LOW, 1.0, Sign.MELTED)])
    for learnt in (success, failure):
        assert 0.002 < limit(learnt, -1.0) < 0.998
        assert 0.002 < limit(learnt, 1.0) < 0.998


def harm(learnt: Learnt) -> float:
    trial = PressTrial(Dial.HIGH, "none", "none", "wrong", 6.0)
    found = learnt.outcomes(trial)
    return sum(
        item.chance for item in found if any(finding.sign.harms for finding in item.findings)
    )


def test_one_wrong_record_does_not_poison() -> None:
    """Four true records outweigh one that says the contrary of them."""
    true: Sequence[Swatch] = [swatch(Dial.HIGH, s, *FINE) for s in (4.0, 5.0, 6.0, 8.0)]
    clean = harm(learn(ASKED, true))
    wrong = harm(learn(ASKED, [*true, swatch(Dial.HIGH, 3.0, Sign.MELTED)]))
    alone = harm(learn(ASKED, [swatch(Dial.HIGH, 3.0, Sign.MELTED)]))
    assert wrong < clean + 0.1
    assert wrong < 0.5 * alone


def test_a_doubtful_sign_moves_less_than_a_clear_one() -> None:
    clear = swatch(Dial.HIGH, 5.0, Sign.SET_FLAT, Sign.SHINE)
    doubtful = replace(
        clear, findings=(Finding(Sign.SET_FLAT), Finding(Sign.SHINE, Sureness.DOUBTFUL))
    )
    before = limit(learn(ASKED, ()))
    assert before < limit(learn(ASKED, [doubtful])) < limit(learn(ASKED, [clear]))


def test_failure_lowers_and_success_raises_the_limit() -> None:
    before = limit(learn(ASKED, ()))
    assert limit(learn(ASKED, [swatch(Dial.HIGH, 8.0, Sign.SET_FLAT, Sign.SHINE)])) > before + 0.1
    assert limit(learn(ASKED, [swatch(Dial.HIGH, 20.0, *FINE)])) < before - 0.01


def test_a_third_bolt_starts_wiser_than_the_first() -> None:
    """Two other cloths of the kind that glazed make this one's limit likelier to be low."""
    failed = (swatch(Dial.HIGH, 5.0, Sign.SET_FLAT, Sign.SHINE),)
    before = limit(learn(ASKED, ()))
    one = limit(learn(ASKED, (), alike=[Alike("a", CLOTH, failed)]))
    two = limit(learn(ASKED, (), alike=[Alike("a", CLOTH, failed), Alike("b", CLOTH, failed)]))
    own = limit(learn(ASKED, failed))
    assert before + 0.03 < one < two
    assert one < own


def test_the_iron_is_learnt_by_itself() -> None:
    """A reading of the sole moves this iron; one of another iron does not."""
    read = replace(
        BOOK[0], press=PressTrial(Dial.MEDIUM, "none", "none", "wrong", 5.0, sole_c=158.0)
    )
    other = replace(
        BOOK[0],
        press=PressTrial(
            Dial.MEDIUM, "none", "none", "wrong", 5.0, sole_c=158.0, iron_key="another"
        ),
    )
    mine = [item for item in learn(ASKED, [read]).moved if item.owner == "iron"]
    assert 130.0 + 15.0 < mine[0].after[1] < 158.0
    assert mine[0].sharper > 0.3
    theirs = learn(ASKED, [other])
    score = theirs.study.draws.score("sole temperature at this dial")
    assert abs(float(theirs.weights @ score)) < 0.35


def test_what_is_possible_sums_to_one() -> None:
    for learnt in (learn(ASKED, ()), learn(ASKED, BOOK)):
        for piece in ("seam", "single-layer"):
            trial = PressTrial(Dial.HIGH, "none", "none", "wrong", 4.0, piece=piece)
            found = learnt.outcomes(trial)
            assert sum(item.chance for item in found) == pytest.approx(1.0)
            assert all(item.chance > 0.0 for item in found)


def test_one_more_swatch_is_what_learning_it_would_say() -> None:
    """Looking ahead keeps the draws; learning anew may take others: they agree within those."""
    more = swatch(Dial.HIGH, 8.0, Sign.SET_FLAT, Sign.SHINE)
    assert more.press is not None
    ahead = learn(ASKED, BOOK[:2]).after(more.press, more.findings)
    anew = learn(ASKED, [*BOOK[:2], more])
    assert limit(ahead) == pytest.approx(limit(anew), abs=0.03)
