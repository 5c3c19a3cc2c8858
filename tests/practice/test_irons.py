"""Facts of the trade about irons: common practice, no source."""

from __future__ import annotations

import pytest

from samite.press.dials import Dial
from samite.press.iron_fit import fit_to_iron, iron_bar
from samite.press.techniques import HOVER, Technique
from samite.services.card import make_card
from samite.services.iron import load_iron
from samite.tables.irons import household_iron

pytestmark = pytest.mark.practice
HEAD = 'format = "samite.iron.v1"\n'


def test_most_irons_spit_at_one_dot_and_steam_from_two():
    for steam in ("light", "full"):
        assert iron_bar(household_iron(), Technique(Dial.LOW, steam, "none", "wrong"))
        assert not iron_bar(household_iron(), Technique(Dial.MEDIUM, steam, "none", "wrong"))
    assert not iron_bar(household_iron(), HOVER)


def test_a_hand_steamer_freshens_cotton_but_presses_no_crease():
    steamer = load_iron(HEAD + 'kind = "hand steamer"\n')
    card = make_card("100% cotton poplin, 120 g/m2", iron=steamer)
    assert card.press.value.iron is Dial.NONE
    assert card.press.value.steam == "hover"


def test_an_iron_that_runs_hot_is_turned_down_for_acetate():
    hot = load_iron(HEAD + "[dial.a]\ndots = 1\nsole_c = 140\n")
    usual = make_card("100% acetate lining, 80 g/m2")
    assert usual.press.value.iron is Dial.LOW
    fitted = fit_to_iron(usual.press, hot).value
    assert fitted.iron is Dial.NONE
    assert "finger press" in fitted.instead
