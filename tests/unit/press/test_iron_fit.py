"""Recipes fitted to the iron at hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from samite.cloth.build import build_cloth
from samite.cloth.label import read_label
from samite.garment.use import read_use
from samite.kernel.reasons import Advice
from samite.press.dials import Dial
from samite.press.iron_fit import fit_to_iron, hover_dial, iron_bar
from samite.press.recipe import Recipe, choose_recipe
from samite.press.techniques import HOVER, Technique, all_techniques
from samite.readers.iron_file import read_iron
from samite.tables.irons import Iron, household_iron

POPLIN = "100% cotton poplin, 110 cm, 120 g/m2"
SATIN = "polyester satin, 150 g/m2"
ORGANZA = "100% silk organza, 140 cm, 40 g/m2"
VELVET = "silk velvet, 110 cm"
NYLON = "100% nylon taffeta, 80 g/m2"


def recipe_of(label: str) -> Advice[Recipe]:
    return choose_recipe(build_cloth(read_label(label)), read_use(""))


def iron_of(text: str) -> Iron:
    iron, problems = read_iron('format = "samite.iron.v1"\n' + text)
    assert iron is not None, problems
    return iron


def sole(**soles: int) -> Iron:
    names = {"one": 1, "two": 2, "three": 3}
    return iron_of(
        "".join(f"[dial.{k}]\ndots = {names[k]}\nsole_c = {v}\n" for k, v in soles.items())
    )


@pytest.mark.parametrize("label", [POPLIN, SATIN, ORGANZA, VELVET, NYLON])
def test_the_household_iron_changes_nothing(label: str):
    limits = recipe_of(label)
    assert fit_to_iron(limits, household_iron()) is limits


@pytest.mark.parametrize("label", [POPLIN, SATIN, ORGANZA, NYLON])
@pytest.mark.parametrize(
    "iron",
    [
        sole(one=80, two=105, three=140),
        sole(one=118, two=160, three=215),
        sole(two=170),
        iron_of('kind = "hand steamer"\n'),
        iron_of('kind = "heat press"\n'),
        iron_of('steams_from = "a"\n[dial.a]\ndots = 1\n'),
        iron_of('steams_from = "never"\n'),
    ],
    ids=["cool", "hot", "two too hot", "steamer", "heat press", "steams at one", "never steams"],
)  # fmt: skip
def test_no_iron_lifts_a_ceiling(label: str, iron: Iron):
    limits = recipe_of(label).value
    fitted = fit_to_iron(recipe_of(label), iron).value
    assert fitted.iron.dots <= limits.iron.dots
    order = ("none", "hover", "light", "full")
    assert order.index(fitted.steam) <= order.index(limits.steam)
    for step in fitted.passes:
        touches = step.steam != "hover"
        assert not (touches and step.iron is Dial.LOW and step.steam != "none")
        setting = iron.setting(step.iron.value) if touches else None
        if setting and setting.measured:
            assert setting.sole_c.value <= limits.iron.sole_max_c + 2.0


def test_a_position_measured_past_its_symbol_is_turned_down():
    fitted = fit_to_iron(recipe_of(SATIN), sole(one=104, two=171))
    assert fitted.value.iron is Dial.LOW
    assert fitted.value.steam == "none"
    assert "171 C" in "\n".join(fitted.reason.lines(3))


def test_where_no_position_will_do_it_says_so_and_how_to_mend_it():
    fitted = fit_to_iron(recipe_of(NYLON), sole(one=125)).value
    assert fitted.status == "do-not-press"
    assert fitted.passes == ()
    assert "110 C or less" in fitted.instead


def test_a_position_far_below_its_symbol_is_not_raised():
    assert fit_to_iron(recipe_of(SATIN), sole(one=60, two=100)).value.iron is Dial.MEDIUM


def test_steam_is_left_out_below_where_the_iron_steams():
    iron = iron_of('steams_from = "c"\n[dial.c]\ndots = 3\n')
    assert fit_to_iron(recipe_of(SATIN), iron).value.steam == "none"
    assert fit_to_iron(recipe_of(POPLIN), iron).value.steam == "full"


def test_a_hand_steamer_hovers_where_steam_is_borne_and_else_does_nothing():
    steamer = iron_of('kind = "hand steamer"\n')
    hovering = fit_to_iron(recipe_of(POPLIN), steamer).value
    assert [step.steam for step in hovering.passes] == ["hover"]
    assert hovering.iron is Dial.NONE
    assert fit_to_iron(recipe_of(ORGANZA), steamer).value.status == "do-not-press"
    assert fit_to_iron(recipe_of(VELVET), steamer).value.passes


def test_a_heat_press_lifts_never_slides_and_never_hovers():
    press = iron_of('kind = "heat press"\n')
    assert any(step.motion == "stroke" for step in recipe_of(POPLIN).value.passes)
    fitted = fit_to_iron(recipe_of(POPLIN), press).value
    assert {step.motion for step in fitted.passes} == {"lift"}
    assert fitted.steam == "none"
    assert fit_to_iron(recipe_of(VELVET), press).value.status == "do-not-press"


def test_an_iron_that_never_steams_cannot_hover():
    dry = iron_of('steams_from = "never"\n')
    assert fit_to_iron(recipe_of(VELVET), dry).value.status == "do-not-press"
    assert "never steams" in iron_bar(dry, HOVER)


def test_tools_at_hand_are_taken():
    iron = iron_of('[hold]\nclapper = false\n[board]\nsupport = "towel"\n')
    limits, fitted = recipe_of(POPLIN).value, fit_to_iron(recipe_of(POPLIN), iron).value
    assert (limits.hold_tool, limits.support) == ("clapper", "board")
    assert (fitted.hold_tool, fitted.support) == ("weight", "towel")
    assert fit_to_iron(recipe_of(VELVET), iron).value.support == "needle-board"


def test_one_dot_goes_without_steam_whatever_the_iron():
    steams_low = iron_of('steams_from = "a"\n[dial.a]\ndots = 1\n')
    low = Technique(Dial.LOW, "light", "none", "wrong")
    assert "even on an iron that steams there" in iron_bar(steams_low, low)
    assert "spit" in iron_bar(household_iron(), low)
    barred = [t for t in all_techniques() if iron_bar(household_iron(), t)]
    assert {(t.iron, t.steam != "none") for t in barred} == {(Dial.LOW, True)}


def test_a_hand_steamer_touches_with_no_technique():
    steamer = iron_of('kind = "hand steamer"\n')
    assert [t for t in all_techniques() if not iron_bar(steamer, t)] == [HOVER]


def test_where_the_dial_stands_for_hovering():
    assert hover_dial(household_iron()).startswith("medium or high:")
    assert hover_dial(replace(household_iron(), steams_from="high")).startswith("high:")
