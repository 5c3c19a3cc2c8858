"""What stretched swatches say of the strain that a fitted piece may ask of its cloth."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
from tests.swatches import plain_seam, plain_swatch

from samite.swatch.seen import Finding, Sign, Sureness
from samite.swatch.strain_told import (
    borne_percent,
    crack_percent,
    sharpen,
    strain_told,
    stretched,
)
from samite.swatch.trial import Swatch


def cracked(percent: float, sureness: Sureness = Sureness.CLEAR) -> Swatch:
    seen = (Finding(Sign.CRACKED, sureness, stretch_percent=percent),)
    return plain_swatch(press=None, sew=plain_seam(), findings=seen)


def bore(percent: float, day: int = 1, sureness: Sureness = Sureness.CLEAR) -> Swatch:
    seam = plain_seam(stretch_percent=percent)
    seen = (Finding(Sign.NOTHING, sureness),)
    return plain_swatch(press=None, sew=seam, findings=seen, made_on=date(2026, 5, day))


def allowed(guess: float, *swatches: Swatch) -> float:
    return sharpen(guess, strain_told(swatches)).percent


def test_a_crack_caps_less_its_margin_and_never_raises() -> None:
    assert allowed(3.0, cracked(2.5)) == pytest.approx(2.0)
    assert allowed(3.0, cracked(20.0)) == 3.0
    assert not sharpen(3.0, strain_told([cracked(20.0)])).measured
    assert crack_percent(cracked(2.5)) == 2.5


def test_what_two_swatches_bore_raises_all_the_way_one_alone_half() -> None:
    one, two = bore(5.0), bore(4.5, day=2)
    alone = sharpen(3.0, strain_told([one]))
    both = sharpen(3.0, strain_told([one, two]))
    assert (alone.percent, alone.measured) == (4.0, False)
    assert (both.percent, both.measured) == (4.5, True)
    assert allowed(3.0, bore(50.0), bore(60.0)) == 6.0
    assert borne_percent(one) == 5.0


def test_one_misread_record_moves_little() -> None:
    good = [bore(5.0, day=day) for day in (1, 2, 3)]
    assert allowed(3.0, *good, bore(500.0)) == allowed(3.0, *good) == 5.0
    told = strain_told([*good, cracked(2.0)])
    assert told.disbelieved == (cracked(2.0),)
    assert sharpen(3.0, told).percent == 5.0
    assert allowed(3.0, good[0], cracked(2.0)) == pytest.approx(1.6)
    assert allowed(3.0, good[0], cracked(2.0, Sureness.DOUBTFUL)) == 4.0


def test_what_was_not_stretched_or_was_set_aside_says_nothing() -> None:
    harmed = plain_swatch(
        press=None, sew=plain_seam(stretch_percent=9.0), findings=(Finding(Sign.PUCKERED),)
    )
    doubtful = bore(9.0, sureness=Sureness.DOUBTFUL)
    silent = [plain_swatch(), harmed, doubtful, replace(cracked(1.0), set_aside=True)]
    assert stretched(silent) == ()
    assert allowed(3.0, *silent) == 3.0


def test_the_order_of_the_swatches_changes_nothing() -> None:
    book = [bore(5.0), bore(7.0, day=3), cracked(4.0), cracked(9.0)]
    assert strain_told(book) == strain_told(book[::-1])
