"""Feed aids, corners and easing by what the cloth is (common practice, no source)."""

from __future__ import annotations

import pytest

from samite.seam.feed_aids import choose_feed_aids
from samite.seam.turning import EASE_PERCENT, corners_and_easing
from samite.services.seam import SeamQuestion, make_seam
from samite.services.seam_json import seam_json


def aids(*labels: str) -> set[str]:
    answer = seam_json(make_seam(SeamQuestion(labels)))
    return {one["key"] for one in answer["feed"]["aids"]}


@pytest.mark.parametrize(
    ("labels", "key"),
    [
        (("silk organza", "duchesse satin"), "single-hole-plate"),
        (("polyester chiffon, 60 g/m2", "cotton lawn"), "starch"),
        (("polyamide tulle", "satin"), "tissue"),
        (("faux leather", "wool crepe"), "basting-tape"),
        (("foil printed spandex, 80% polyamide 20% elastane",), "needle-silicone"),
        (("stretch velvet", "satin"), "light-pressure"),
        (("leather 2.0 mm", "canvas 12 oz"), "pricked-holes"),
        (("wool coating", "wool coating"), "shim"),
        (("swimwear knit, 80% polyamide 20% elastane",), "wash-away"),
    ],
)
def test_the_aid_that_the_trade_takes_is_named(labels: tuple[str, ...], key: str) -> None:
    assert key in aids(*labels)


@pytest.mark.parametrize("label", ["silk chiffon", "viscose georgette", "acetate lining"])
def test_nothing_is_starched_that_water_marks(label: str) -> None:
    assert "starch" not in aids(label, "cotton lawn")


def test_a_stable_cotton_needs_no_aid() -> None:
    assert aids("cotton poplin, 120 g/m2") == set()


def test_a_plate_with_one_hole_goes_with_a_straight_stitch_only() -> None:
    # A zigzag on a single hole breaks the needle.
    sheet = make_seam(SeamQuestion(("silk organza", "duchesse satin")))
    best = sheet.best
    assert best is not None
    found = choose_feed_aids(sheet.answer.cloths, best.numbers, 2.0)
    assert "single-hole-plate" not in {one.entry.key for one in found}


def test_wool_is_eased_more_than_a_close_weave() -> None:
    assert EASE_PERCENT["wool"][1] > EASE_PERCENT["woven"][1] > EASE_PERCENT["firm"][1]
    sheet = make_seam(SeamQuestion(("wool flannel", "taffeta"), use="eased"))
    (told,) = corners_and_easing(sheet.answer.cloths, sheet.use)
    assert "ease the flannel" in told.do
