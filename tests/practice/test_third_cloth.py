"""Where a third cloth lies, and what the ranges of a joint take in."""

from __future__ import annotations

import pytest

from samite.cloth.build import build_cloth
from samite.cloth.label import read_label
from samite.cloth.model import Cloth
from samite.garment.use import Use
from samite.garment.workroom import usual_workroom
from samite.kernel.units import parse_quantity
from samite.seam.ranges import SHARES, number_ranges
from samite.seam.scraps import joint_trials
from samite.seam.sides import behind_of, resting_side, sewn_cloths, sides_of
from samite.seam.thread_amount import flat_thread_ratio
from samite.seam.together import choose_joint
from samite.services.calc import calculate
from samite.tables.sewing import sewing_entry


def cloths(*labels: str) -> tuple[Cloth, ...]:
    known = {label: build_cloth(read_label(label)) for label in labels}
    return tuple(known[label] for label in labels)


def test_an_underlining_goes_behind_every_piece_of_one_cloth() -> None:
    # Common practice, no source: underlined pieces are handled as one cloth, on both sides.
    pair = cloths("wool crepe", "wool crepe", "cotton lawn")
    assert behind_of(pair) == "both"
    assert [len(side.cloths) for side in sides_of(pair)] == [2, 2]
    assert len(sewn_cloths(pair)) == 4


def test_a_third_lies_behind_the_first_of_two_unlike_cloths() -> None:
    three = cloths("satin", "tulle", "acetate lining")
    assert behind_of(three) == "first"
    assert [len(side.cloths) for side in sides_of(three)] == [2, 1]
    assert behind_of(three[:2]) == ""


def test_a_backed_sheer_hides_an_allowance() -> None:
    # Common practice, no source: a sheer over an underlining shows no allowances behind it.
    sheer, light = cloths("silk organza", "silk chiffon")
    (backing,) = cloths("wool crepe")
    assert resting_side((sheer, light, backing), "first") == 0
    assert resting_side((sheer, light, backing), "second") == 1


@pytest.mark.parametrize("stitch", ["301", "401", "504", "514"])
def test_the_printed_flat_ratio_lies_in_the_range_of_the_computed_one(stitch: str) -> None:
    # Thread makers' flat ratios are printed for 7 stitches a cm; T 1 mm, width 5 mm for overedges.
    width = "5 mm" if stitch.startswith("5") else "0 mm"
    asked = {"stitch_type": stitch, "thickness": "1 mm", "stitch_length": "7/cm", "width": width}
    ours = calculate("thread-ratio", asked).value
    low, high, _, _ = SHARES["thread_ratio"]
    flat = flat_thread_ratio(stitch_type=stitch).value
    # 301 is printed for denser cloth than T/p 0.7: T 0.4 mm is what its ratio stands for.
    if stitch == "301":
        ours = calculate("thread-ratio", asked | {"thickness": "0.4 mm"}).value
    assert low * ours <= flat <= high * ours


def test_the_measured_looper_thread_lies_in_the_range() -> None:
    # Apparel Science, Measuring actual thread consumption: 62.0 cm of looper thread in 15 cm.
    measured = calculate(
        "thread-ratio-measured", {"thread_length": "62 cm", "seam_length": "15 cm"}
    )
    low, high, _, _ = SHARES["other_thread_ratio"]
    assert low * 3.0 <= measured.value <= high * 3.0


def test_the_strength_of_a_published_seam_lies_in_the_range() -> None:
    # Loop-strength factors published for spun polyester run from 1.3 to 1.5, the bulletin takes 1.5
    # for 301 and 1.7 for 401: the range takes in every one of them.
    pair = cloths("cotton twill, 300 g/m2", "cotton twill, 300 g/m2")
    answer = choose_joint(pair, Use(), usual_workroom())
    best = answer.ways[0]
    found = number_ranges(best.candidate, best.numbers, pair, Use())["stitching_n_per_cm"]
    factors = sewing_entry("thread", "polyester-spun").quantity("loop_factor")
    assert found.low <= found.value * factors.low / factors.high
    assert found.high >= found.value * 1.7 / factors.low


def test_the_hung_weight_is_the_force_of_the_standard() -> None:
    # ISO 13936-2 pulls 60 N on a 25 mm grab for apparel (from memory): 6.1 kg.
    pair = cloths("satin", "satin")
    use = Use(strain=True)
    answer = choose_joint(pair, use, usual_workroom())
    assert answer.trouble is not None
    told = joint_trials(answer.ways[0], answer.trouble, answer.wants, answer.settled)
    force = parse_quantity("6.1 kgf", "N")
    assert force == pytest.approx(60.0, rel=0.01)
    assert any("6.1 kg" in one.test for one in told)
