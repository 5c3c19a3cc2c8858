"""Rules of caution: a failure lowers at once, only a success with this iron lifts."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from tests.swatches import plain_press, plain_swatch

from samite.cloth.build import build_cloth
from samite.cloth.label import read_label
from samite.garment.use import read_use
from samite.kernel.reasons import Advice
from samite.press.dials import Dial
from samite.press.recipe import Recipe, choose_recipe
from samite.press.techniques import HOVER, Technique
from samite.swatch.caution import Caution, lower_recipe, read_cautions
from samite.swatch.seen import Finding, Sign, Sureness
from samite.swatch.trial import Swatch


def limits(label: str = "polyester satin, 150 g/m2") -> Advice[Recipe]:
    return choose_recipe(build_cloth(read_label(label)), read_use(""))


def pressed(*signs: Sign, sureness: Sureness = Sureness.CLEAR, **trial: object) -> Swatch:
    findings = tuple(
        Finding(sign, sureness, shrunk_mm=1.0 if sign is Sign.SHRUNK else None) for sign in signs
    )
    return plain_swatch(press=plain_press(**trial), findings=findings)


def cautions(*swatches: Swatch, iron_key: str = "") -> Caution:
    return read_cautions(limits().value, swatches, iron_key)


def way(dial: Dial, steam: str = "none", cloth: str = "dry", side: str = "wrong") -> Technique:
    return Technique(dial, steam, cloth, side)


SHINY = pressed(Sign.SHINE, dial=Dial.MEDIUM, seconds=6.0)


def test_nothing_known_forbids_and_allows_nothing() -> None:
    empty = cautions()
    assert empty.bar(way(Dial.MEDIUM), "") == ""
    assert empty.bar(way(Dial.HIGH), "too hot") == "too hot"
    assert empty.longest_s(way(Dial.MEDIUM)) == math.inf


@pytest.mark.parametrize(
    ("technique", "longest"),
    [
        (way(Dial.MEDIUM), 5.0),  # the same: shorter than that
        (way(Dial.MEDIUM, cloth="none"), 5.0),  # closer
        (way(Dial.HIGH), 0.0),  # hotter: not at all
        (way(Dial.HIGH, cloth="none"), 0.0),
        (way(Dial.LOW), math.inf),  # cooler
        (way(Dial.MEDIUM, cloth="damp"), math.inf),  # water shields from shine
        (way(Dial.MEDIUM, side="right"), math.inf),
        (HOVER, math.inf),
    ],
)
def test_a_failure_lowers_everything_hotter(technique: Technique, longest: float) -> None:
    assert cautions(SHINY).longest_s(technique) == longest


def test_where_water_hurts_wetter_is_harder() -> None:
    crushed = cautions(pressed(Sign.PILE_CRUSHED, dial=Dial.MEDIUM, steam="light", seconds=3.0))
    assert crushed.longest_s(way(Dial.MEDIUM, "full")) == 2.0
    assert crushed.longest_s(way(Dial.MEDIUM, "light", "damp")) == 2.0
    hovered = cautions(pressed(Sign.PILE_CRUSHED, steam="hover", press_cloth="none", seconds=3.0))
    assert hovered.longest_s(HOVER) == 2.0
    assert hovered.longest_s(way(Dial.LOW)) == math.inf


def test_a_doubtful_failure_forbids_too_and_one_set_aside_does_not() -> None:
    doubtful = pressed(Sign.SHINE, sureness=Sureness.DOUBTFUL, dial=Dial.MEDIUM, seconds=6.0)
    assert "6 s" in cautions(doubtful).bar(way(Dial.HIGH), "")
    assert cautions(replace(SHINY, set_aside=True)).bar(way(Dial.HIGH), "") == ""


HOT = way(Dial.HIGH)
BORNE = pressed(Sign.SET_FLAT, dial=Dial.HIGH, seconds=5.0, iron_key="mine")


def test_only_a_clear_success_with_this_iron_lifts() -> None:
    assert limits().value.passes[-1].iron is Dial.MEDIUM
    assert cautions(BORNE, iron_key="mine").bar(HOT, "past its ceiling") == ""
    assert cautions(BORNE, iron_key="mine").longest_s(HOT) == 5.0
    assert cautions(BORNE, iron_key="another").bar(HOT, "past its ceiling") == "past its ceiling"
    doubtful = pressed(
        Sign.SET_FLAT, sureness=Sureness.DOUBTFUL, dial=Dial.HIGH, seconds=5.0, iron_key="mine"
    )
    assert cautions(doubtful, iron_key="mine").bar(HOT, "past") == "past"
    assert cautions(BORNE, iron_key="mine").bar(way(Dial.HIGH, cloth="none"), "past") == "past"
    assert cautions(BORNE, iron_key="mine").bar(way(Dial.HIGH, side="right"), "side") == "side"


def test_a_failure_outweighs_a_success() -> None:
    both = cautions(BORNE, pressed(Sign.MELTED, dial=Dial.HIGH, seconds=8.0), iron_key="mine")
    assert both.longest_s(HOT) == 5.0
    worse = cautions(BORNE, pressed(Sign.MELTED, dial=Dial.MEDIUM, seconds=4.0), iron_key="mine")
    assert worse.bar(HOT, "past")


def test_the_recipe_gets_shorter_then_cooler_then_none() -> None:
    recipe = limits()
    first = recipe.value.passes[-1]

    def lowered(*swatches: Swatch) -> Recipe:
        return lower_recipe(recipe, read_cautions(recipe.value, swatches, "")).value

    same = {
        "steam": first.steam,
        "press_cloth": "dry" if first.cloth else "none",
        "side": first.side,
    }
    if "damp" in recipe.value.cloth_kind:
        same["press_cloth"] = "damp"
    assert lowered() == recipe.value
    shorter = lowered(pressed(Sign.SHINE, dial=first.iron, seconds=first.seconds[1], **same))
    assert shorter.passes[-1].iron is first.iron
    assert shorter.passes[-1].seconds[1] < first.seconds[1]
    cooler = lowered(pressed(Sign.SHINE, dial=first.iron, seconds=1.0, **same))
    assert cooler.passes[-1].iron.dots == first.iron.dots - 1
    none = lowered(pressed(Sign.MELTED, dial=Dial.LOW, seconds=1.0, **same))
    assert (none.status, none.passes) == ("do-not-press", ())
