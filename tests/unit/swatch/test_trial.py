"""A swatch says what was tried and what was seen, and refuses what cannot be."""

from __future__ import annotations

from typing import Any

import pytest
from tests.swatches import plain_press, plain_seam, plain_swatch

from samite.garment.bench import Board, KeptIron, MeasuredDial, StripReading
from samite.garment.stock import KeptCloth, NeedlePacket, ThreadSpool
from samite.kernel.errors import InputError
from samite.press.dials import Dial
from samite.store.codec import from_plain, to_plain
from samite.swatch.seen import Finding, Sign, Sureness


@pytest.mark.parametrize(
    ("changed", "where"),
    [
        ({"seconds": -3.0}, "seconds"),
        ({"seconds": 0.0}, "seconds"),
        ({"seconds": float("nan")}, "seconds"),
        ({"seconds": 601.0}, "seconds"),
        ({"sole_c": 900.0}, "sole_c"),
        ({"sole_c": -1.0}, "sole_c"),
        ({"steam": "some"}, "steam"),
        ({"press_cloth": "wet"}, "press_cloth"),
        ({"side": "both"}, "side"),
        ({"support": "knee"}, "support"),
        ({"piece": "hem"}, "piece"),
        ({"hold_tool": "foot"}, "hold_tool"),
        ({"hold_tool": "none", "hold_seconds": 5.0}, "hold_tool"),
        ({"dial": Dial.NONE}, "dial"),
        ({"steam": "hover"}, "press_cloth"),
    ],
)
def test_a_pressing_that_cannot_be_is_refused_at_its_field(
    changed: dict[str, Any], where: str
) -> None:
    with pytest.raises(InputError) as caught:
        plain_press(**changed)
    assert caught.value.where == where
    assert caught.value.hint


@pytest.mark.parametrize(
    ("changed", "where"),
    [
        ({"layers": 0}, "layers"),
        ({"needle_size_nm": 14}, "needle_size_nm"),
        ({"thread_tex": -1.0}, "thread_tex"),
        ({"stitch_length_mm": 0.0}, "stitch_length_mm"),
        ({"stitch_type": "zigzag"}, "stitch_type"),
        ({"tension": -1.0}, "tension"),
        ({"stretch_percent": 0.0}, "stretch_percent"),
    ],
)
def test_a_seam_that_cannot_be_is_refused_at_its_field(changed: dict[str, Any], where: str) -> None:
    with pytest.raises(InputError) as caught:
        plain_seam(**changed)
    assert caught.value.where == where


def test_a_result_without_a_trial_is_refused() -> None:
    with pytest.raises(InputError, match="a result without a trial"):
        plain_swatch(press=None)


@pytest.mark.parametrize(
    ("findings", "told"),
    [
        ((), "not said what was seen"),
        ((Finding(Sign.NOTHING), Finding(Sign.SHINE)), "nothing was seen, and shine was"),
        ((Finding(Sign.SHINE), Finding(Sign.SHINE, Sureness.DOUBTFUL)), "stands twice"),
        ((Finding(Sign.PUCKERED),), "comes from sewing"),
    ],
)
def test_what_was_seen_may_not_contradict_itself(findings: tuple[Finding, ...], told: str) -> None:
    with pytest.raises(InputError, match=told):
        plain_swatch(findings=findings)


def test_a_sign_of_the_iron_needs_a_pressing() -> None:
    with pytest.raises(InputError, match="shine comes from pressing"):
        plain_swatch(press=None, sew=plain_seam(), findings=(Finding(Sign.SHINE),))


def test_film_can_crack_after_either() -> None:
    cracked = (Finding(Sign.CRACKED, stretch_percent=30.0),)
    assert plain_swatch(findings=cracked).harmed
    assert plain_swatch(findings=cracked, press=None, sew=plain_seam()).harmed


@pytest.mark.parametrize(
    ("sign", "amounts", "where"),
    [
        (Sign.SHRUNK, {}, "shrunk_mm"),
        (Sign.SHRUNK, {"shrunk_mm": 101.0}, "shrunk_mm"),
        (Sign.SHRUNK, {"shrunk_mm": 2.0, "stretch_percent": 3.0}, "stretch_percent"),
        (Sign.CRACKED, {}, "stretch_percent"),
        (Sign.SHINE, {"shrunk_mm": 2.0}, "shrunk_mm"),
    ],
)
def test_an_amount_stands_where_it_belongs_and_nowhere_else(
    sign: Sign, amounts: dict[str, float], where: str
) -> None:
    with pytest.raises(InputError) as caught:
        Finding(sign, **amounts)
    assert caught.value.where == where


def test_a_swatch_tells_what_was_seen_of_a_sign() -> None:
    doubtful = Finding(Sign.SHINE, Sureness.DOUBTFUL)
    swatch = plain_swatch(findings=(Finding(Sign.SET_FLAT), doubtful))
    assert swatch.finding(Sign.SHINE) is doubtful
    assert swatch.finding(Sign.MELTED) is None
    assert swatch.harmed
    assert not plain_swatch().harmed


def test_a_measured_dial_gives_its_mean_and_its_swing() -> None:
    dial = MeasuredDial("medium", (142.0, 155.0, 150.0))
    assert dial.sole_c == pytest.approx(149.0)
    assert dial.swing_c == pytest.approx(13.0)


@pytest.mark.parametrize(
    "make",
    [
        lambda: MeasuredDial("none", (20.0,)),
        lambda: MeasuredDial("low", ()),
        lambda: MeasuredDial("low", (110.0, 900.0)),
        lambda: KeptIron(" "),
        lambda: KeptIron("a", (MeasuredDial("low", (110.0,)), MeasuredDial("low", (111.0,)))),
        lambda: Board(""),
        lambda: KeptCloth("\n"),
        lambda: NeedlePacket("sharp", 70, -1),
        lambda: ThreadSpool("silk", 0.0, 100.0),
    ],
)
def test_impossible_stock_is_refused(make: Any) -> None:
    with pytest.raises(InputError):
        make()


def test_space_and_capitals_do_not_make_another_cloth() -> None:
    assert KeptCloth(" Silk  VELVET ").label_key == KeptCloth("silk velvet").label_key


def test_a_dial_may_be_read_by_strips_alone() -> None:
    dial = MeasuredDial("medium", strips=(StripReading(149.0, 160.0),))
    assert dial.sole_c == pytest.approx(154.5)
    assert dial.swing_c == 0.0


@pytest.mark.parametrize("marks", [(160.0, 149.0), (149.0, 149.0), (149.0, 900.0), (-300.0, 149.0)])
def test_marks_of_a_strip_are_in_order_and_possible(marks: tuple[float, float]) -> None:
    with pytest.raises(InputError):
        StripReading(*marks)


def test_strips_come_back_from_the_store_as_they_went_in() -> None:
    iron = KeptIron("green", (MeasuredDial("high", (190.0,), (StripReading(182.0, 193.0),)),))
    assert from_plain(KeptIron, to_plain(iron)) == iron
    old = {"name": "old", "dials": [{"dial": "low", "readings_c": [98.0]}], "note": ""}
    assert from_plain(KeptIron, old).dials[0].strips == ()
