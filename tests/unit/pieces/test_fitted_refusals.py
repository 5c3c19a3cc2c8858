"""Fitted pieces: what is refused, and how it is said."""

from __future__ import annotations

import pytest

from samite.kernel.errors import InfeasibleError, InputError, OutOfRangeError, UnknownNameError
from samite.pieces.fitted import choose
from samite.pieces.fitted.report import Limits, PanelOption
from samite.services.piece import PieceAsk, make_piece

TAPES = {"stature": "168", "bust_girth": "92", "waist_girth": "74", "hip_girth": "98"}


def ask(
    shape: str, cloth: str = "", *alter: str, measures: dict | None = None, **settings: str
) -> PieceAsk:
    return PieceAsk(
        shape,
        {**TAPES, **(measures or {})},
        settings,
        group="women",
        cloth=cloth,
        alterations=alter,
    )


def test_lengths_that_no_body_has_together() -> None:
    with pytest.raises(OutOfRangeError, match="no body is 700 mm long behind"):
        make_piece(
            ask("fitted-bodice", measures={"back_waist_length": "70", "front_waist_length": "30"})
        )


def test_a_bust_at_the_waist() -> None:
    with pytest.raises(OutOfRangeError, match="that is no body"):
        make_piece(
            ask("fitted-strapless", measures={"cervicale_height": "144", "bust_height": "104"})
        )


def test_a_crotch_at_the_hip() -> None:
    with pytest.raises(OutOfRangeError, match="that is no body"):
        make_piece(ask("fitted-trousers", measures={"body_rise": "20", "waist_to_hip": "22"}))


def test_a_crotch_seam_that_is_far_too_long() -> None:
    with pytest.raises(OutOfRangeError, match="that is no body") as caught:
        make_piece(ask("fitted-leggings", measures={"total_crotch_length": "120"}))
    assert "total crotch length" in caught.value.hint
    both = {"total_crotch_length": "95", "body_rise": "27", "waist_to_hip": "20"}
    with pytest.raises(OutOfRangeError, match="no crotch seam is"):
        make_piece(ask("fitted-leggings", measures=both))


def test_an_armhole_that_no_trunk_has() -> None:
    with pytest.raises(OutOfRangeError, match="armhole asked for is"):
        make_piece(ask("fitted-bodice", measures={"armscye_girth": "85"}, panels="2"))


def test_style_lines_that_leave_a_panel_empty() -> None:
    with pytest.raises(InfeasibleError, match="leave nothing of front") as caught:
        make_piece(
            ask("fitted-strapless", panels="4", front_seam="1 cm", front_seam_waist="0.8 cm")
        )
    assert "move the seams apart" in caught.value.hint


def test_a_cloth_that_no_number_of_panels_can_dress() -> None:
    with pytest.raises(InfeasibleError, match="no number of panels up to") as caught:
        make_piece(ask("fitted-strapless", warp_limit="0.1 %", weft_limit="0.1 %"))
    assert "take a cloth that gives" in caught.value.hint
    assert "more ease" in caught.value.hint


def test_so_few_panels_that_no_cloth_follows() -> None:
    with pytest.raises(InfeasibleError, match="cannot follow this body") as caught:
        make_piece(ask("fitted-strapless", panels="2"))
    assert "more panels" in caught.value.hint


def test_a_cloth_that_does_not_stretch_makes_no_leggings() -> None:
    with pytest.raises(InfeasibleError, match="stretches only"):
        make_piece(ask("fitted-leggings", "100% cotton poplin"))


def test_a_fitting_at_a_place_that_is_not_there() -> None:
    with pytest.raises(UnknownNameError, match="has no place"):
        make_piece(ask("fitted-skirt", "", "10 mm in at the armhole"))


def test_a_fitting_below_where_the_garment_ends() -> None:
    with pytest.raises(OutOfRangeError, match="would change nothing") as caught:
        make_piece(ask("fitted-bodice", "", "10 mm in at the side hip"))
    assert "below_waist" in caught.value.hint


def test_a_fitting_beyond_what_can_be() -> None:
    with pytest.raises(OutOfRangeError, match="makes"):
        make_piece(ask("fitted-skirt", "", "hem down 200 mm", length="145"))


def test_two_words_for_one_setting_are_still_words() -> None:
    with pytest.raises(InputError):
        make_piece(ask("fitted-skirt", shaped_by="both"))


def test_a_limit_missed_by_less_than_a_tenth_is_no_refusal(monkeypatch: pytest.MonkeyPatch) -> None:
    """No limit of a cloth is known to a tenth; beyond that the answer is no, with the nearest way."""
    limits = Limits(0.03, 0.03, 0.05, 5.0)
    used = {"two": 1.3, "three": 1.06}

    def option(name: str, _laid: object, _limits: Limits) -> PanelOption:
        return PanelOption(name, used[name], "side front", 1000.0, 4, 0.03)

    monkeypatch.setattr(choose, "lay_flat", lambda plan, **_: plan)
    monkeypatch.setattr(choose, "needless_darts", lambda _: ())
    monkeypatch.setattr(choose, "option_of", option)
    ways = [(name, lambda name=name: name) for name in used]
    laid, options, chosen = choose.fewest_panels(ways, limits)
    assert (laid, chosen, [one.fits for one in options]) == ("three", "three", [False, False])
    used["three"] = 1.2
    with pytest.raises(InfeasibleError, match=r"with three, side front still asks 1\.2 times"):
        choose.fewest_panels(ways, limits)
