"""Pressings above the card: one dot, by steps, after the card's own went well, never after harm."""

from __future__ import annotations

from functools import lru_cache

import pytest
from tests.swatches import plain_press, plain_swatch

from samite.press.decide import technique_of
from samite.press.dials import Dial
from samite.services.card import Card, make_card, seam_order
from samite.services.past import Past
from samite.swatch.above import Above, hotter_technique, steps_above
from samite.swatch.ranking import choice_of
from samite.swatch.seen import Finding, Sign
from samite.swatch.trial import Swatch

LABEL = "polyester satin, 150 g/m2"


@lru_cache(maxsize=1)
def card() -> Card:
    return make_card(LABEL)


def own(*, seconds: float = 8.0, sign: Sign = Sign.SET_FLAT, hotter: bool = False) -> Swatch:
    recipe = card().press.value
    main = technique_of(recipe.passes[-1], recipe)
    press = plain_press(
        dial=Dial.HIGH if hotter else main.iron,
        steam=main.steam,
        press_cloth=main.press_cloth,
        side=main.side,
        seconds=seconds,
    )
    return plain_swatch(findings=(Finding(sign),), press=press)


def steps(*swatches: Swatch) -> list[Above]:
    recipe = card().press.value
    learnt = Past(swatches).learn(card().cloth, card().iron)
    order = seam_order(card().sewing)
    return steps_above(learnt, choice_of(learnt, recipe, order), recipe, order, swatches)


def test_it_is_one_dot_above_the_card_and_by_steps_of_seconds() -> None:
    found = steps()
    main = card().press.value.passes[-1].iron
    assert found
    assert {one.worth.trial.dial.dots for one in found} == {main.dots + 1}
    assert [one.worth.trial.seconds for one in found] == [1.0, 2.0, 4.0][: len(found)]
    assert not any(one.now for one in found)  # the card's own has not gone well yet


def test_after_the_cards_own_the_first_second_may_be_tried_and_no_more() -> None:
    found = steps(own())
    assert [one.worth.trial.seconds for one in found if one.now] in ([1.0], [])


def test_after_harm_nothing_hotter_is_proposed() -> None:
    assert steps(own(sign=Sign.SHINE, seconds=1.0)) == []


@pytest.mark.parametrize("label", ["cotton poplin, 120 g/m2", "sequins on polyester net"])
def test_where_the_card_is_hottest_or_bars_it_there_is_none(label: str) -> None:
    other = make_card(label)
    learnt = Past(()).learn(other.cloth, other.iron)
    assert hotter_technique(other.press.value, learnt) is None
