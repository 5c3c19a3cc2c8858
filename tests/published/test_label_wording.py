"""Wordings of labels that regulations print, read as the regulation explains them.

Source: 16 CFR 303 (Textile Act rules), sections beside each row.
"""

from __future__ import annotations

import pytest

from samite.cloth.label import read_label
from samite.cloth.reading import PartKind

ROWS = (
    # 303.24: pile and back stated separately, with the ratio of the two
    (
        "100% nylon pile, 100% cotton back (back 60 %, pile 40 %)",
        {PartKind.BASE: {"cotton": 100.0}, PartKind.PILE: {"polyamide": 100.0}},
    ),
    # 303.3: a fibre under 5 % with a clear function may be named
    ("96 % acetate, 4 % spandex", {PartKind.BASE: {"acetate": 96.0, "elastane": 4.0}}),
    # 303.23: a reinforcing fibre stands outside the percentages
    (
        "55 % cotton 45 % rayon except 5 % nylon added to toe and heel",
        {PartKind.BASE: {"cotton": 55.0, "viscose": 45.0}},
    ),
)


@pytest.mark.parametrize(("label", "wanted"), ROWS, ids=[row[0] for row in ROWS])
def test_wordings(label: str, wanted: dict[PartKind, dict[str, float]]) -> None:
    read = {
        one.part: {share.fibre: share.percent for share in one.fibres}
        for one in read_label(label).components
    }
    assert read == wanted


def test_the_ratio_of_pile_and_back_is_kept() -> None:
    reading = read_label("100% nylon pile, 100% cotton back (back 60 %, pile 40 %)")
    assert reading.proportions == ((PartKind.BASE, 60.0), (PartKind.PILE, 40.0))


def test_fibres_under_five_per_cent_may_go_unnamed() -> None:
    reading = read_label("97 % silk 3 % other fibers")  # 303.3
    assert reading.other_fibres_percent == 3.0


@pytest.mark.parametrize("what", ["decoration", "elastic", "ornamentation"])  # 303.12, 303.26
def test_exclusions_leave_the_shares_alone(what: str) -> None:
    reading = read_label(f"100 % silk, exclusive of {what}")
    assert reading.components[0].fibres[0].percent == 100.0
    assert any(what in note for note in reading.notes)
