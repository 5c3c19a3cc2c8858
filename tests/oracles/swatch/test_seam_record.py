"""Troubles of seams counted: against the beta distribution's own closed form."""

from __future__ import annotations

import pytest
from scipy.stats import beta
from tests.swatches import plain_seam, plain_swatch

from samite.swatch.seam_record import seam_chances
from samite.swatch.seen import Finding, Sign
from samite.swatch.trial import Swatch


def sewn(*signs: Sign, **seam: object) -> Swatch:
    findings = tuple(Finding(sign) for sign in signs) or (Finding(Sign.NOTHING),)
    return plain_swatch(press=None, sew=plain_seam(**seam), findings=findings)


def test_counts_agree_with_the_beta_distribution() -> None:
    """20 % of 4 seams in front, 3 of 9 puckered; misreading moves it by a hundredth or two."""
    book = [sewn(Sign.PUCKERED)] * 3 + [sewn()] * 6
    found = {item.sign: item for item in seam_chances(book, plain_seam())}
    exact = beta(0.8 + 3, 3.2 + 6)
    assert found[Sign.PUCKERED].chance == pytest.approx(exact.mean(), abs=0.02)
    assert found[Sign.PUCKERED].low == pytest.approx(exact.ppf(0.05), abs=0.02)
    assert found[Sign.PUCKERED].high == pytest.approx(exact.ppf(0.95), abs=0.02)
    assert (found[Sign.PUCKERED].seen, found[Sign.PUCKERED].tried) == (3, 9)
    assert found[Sign.SKIPPED].chance == pytest.approx(beta(0.8, 3.2 + 9).mean(), abs=0.02)


def test_only_seams_sewn_alike_count() -> None:
    other = [sewn(Sign.PUCKERED, needle_size_nm=110), sewn(Sign.PUCKERED, stitch_type="304")]
    nothing, told = seam_chances([], plain_seam()), seam_chances(other, plain_seam())
    assert nothing == told
    assert nothing[0].chance == pytest.approx(0.2, abs=0.005)
