"""How cloth is laid and bought (common practice, no source, unless a source is named)."""

from __future__ import annotations

import pytest

from samite.cloth.build import build_cloth
from samite.cloth.label import read_label
from samite.lay.buying import (
    EIGHTH_MM,
    YARD_MM,
    laid_width_mm,
    length_needed_mm,
    repeat_allowance_percent,
    rounded_up_mm,
)
from samite.lay.rules import LayRules, find_lay_rules
from samite.services.lay_buy import extra_for
from samite.tables.lay import lay_rule


def rules(label: str, fold_wanted: bool | None = None) -> LayRules:
    return find_lay_rules(build_cloth(read_label(label)), fold_wanted=fold_wanted)


@pytest.mark.parametrize(
    ("label", "one_way", "folded", "face"),
    [
        ("cotton velvet, 150 cm", True, False, "down"),
        ("100% polyester sequins on mesh, 130 cm", True, False, "down"),
        ("silk chiffon, 140 cm", False, False, "down"),
        ("cotton lawn, 112 cm", False, True, "down"),
        ("wool flannel, 150 cm", None, True, "down"),
        ("flocked tulle, 150 cm", None, False, "up"),
    ],
)
def test_nap_goes_one_way_and_what_slides_or_shades_lies_single(
    label: str, one_way: bool | None, folded: bool, face: str
) -> None:
    found = rules(label)
    assert one_way is None or found.one_way == one_way
    assert (found.folded, found.face) == (folded, face)
    assert found.why("folded")
    assert found.why("one_way")


def test_a_figured_cloth_is_cut_in_a_single_layer_with_its_reason() -> None:
    found = rules("printed cotton, 140 cm, repeat 32 cm")
    assert found.repeat_along_mm == 320.0
    assert not found.folded
    assert "figure" in str(found.why("folded"))
    assert rules("printed cotton, 140 cm, repeat 32 cm", fold_wanted=True).folded


def test_what_frays_more_gets_more_room() -> None:
    gaps = [lay_rule("gap", "piece_gap_mm", f"frays {k}").value for k in range(4)]
    assert gaps == sorted(gaps)
    assert rules("silk chiffon, 140 cm").gap_mm >= rules("cotton lawn, 112 cm").gap_mm


def test_three_yards_that_shrink_by_five_hundredths_are_bought_longer() -> None:
    """Arithmetic of the check row Y26: length over (1 - s), not length times (1 + s)."""
    needed = length_needed_mm(
        length_mm=3.0 * YARD_MM,
        shrink_along_percent=5.0,
        straighten_mm=0.0,
        flaw_allowance_percent=0.0,
    )
    assert needed / YARD_MM == pytest.approx(3.158, abs=0.001)
    assert laid_width_mm(width_mm=1500.0, shrink_across_percent=2.0) == pytest.approx(1470.0)


def test_shops_cut_up_to_the_next_step() -> None:
    assert rounded_up_mm(length_mm=2801.0, step_mm=100.0) == 2900.0
    assert rounded_up_mm(length_mm=2800.0, step_mm=100.0) == 2800.0
    assert rounded_up_mm(length_mm=YARD_MM * 2.01, step_mm=EIGHTH_MM) == pytest.approx(
        2.125 * YARD_MM
    )


def test_allowances_for_repeats_are_those_of_the_workroom_table() -> None:
    """An upholstery workroom's bands by the sum of both repeats, in inches."""
    for both, share in (
        (2, 0),
        (3, 10),
        (14, 10),
        (15, 15),
        (20, 20),
        (28, 25),
        (37, 30),
        (44, 35),
    ):
        found = repeat_allowance_percent(repeat_along_mm=both * 25.4, repeat_across_mm=0.0)
        assert found == share, both


def test_cotton_is_washed_before_it_is_cut_and_velvet_ends_are_squared() -> None:
    cotton = extra_for(build_cloth(read_label("cotton lawn, 112 cm")))
    assert cotton.pretreat == "wash"
    assert 3.0 <= cotton.shrink_along_percent <= 8.0
    assert 50.0 <= cotton.straighten_mm <= 100.0
    done = extra_for(
        build_cloth(read_label("cotton lawn, 112 cm")), pretreated=True, flaws_seen=True
    )
    assert (done.shrink_along_percent, done.flaw_allowance_percent) == (0.0, 0.0)
    sequins = extra_for(build_cloth(read_label("100% polyester sequins on mesh, 130 cm")))
    assert sequins.pretreat == "none"


def test_figures_meet_at_the_lower_ends_of_side_seams_and_on_equal_pieces() -> None:
    from samite.lay.figure import along_mm, figure_matches
    from samite.services.lay_cases import costume_parts
    from samite.services.piece import PieceAsk

    pieces, mates = costume_parts([PieceAsk("tunic"), PieceAsk("trousers")])
    found = figure_matches(pieces, mates)
    alike = {one.piece for one in found if one.piece == one.with_piece}
    assert {"sleeve", "trousers front", "trousers back"} <= alike
    joined = {frozenset((one.piece, one.with_piece)): one for one in found}
    side = joined[frozenset(("trousers front", "trousers back"))]
    assert side.at_mm[0] == pytest.approx(side.to_mm[0], abs=1.0)
    assert side.at_mm[0] == pytest.approx(20.0, abs=1.0)
    assert joined[frozenset(("tunic front", "tunic back"))].at_mm[0] == pytest.approx(20.0, abs=1.0)
    hem = min(pieces[0].piece.flat(), key=lambda point: point[1])
    assert along_mm(pieces[0], hem) == pytest.approx(20.0, abs=1.0)
