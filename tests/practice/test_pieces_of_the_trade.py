"""Facts of the cutting table. Common practice, no source, unless a source stands beside it."""

from __future__ import annotations

import pytest
from tests.oracles.pieces.bodies import USUAL, built

from samite.kernel.errors import InputError, OutOfRangeError, UnknownNameError
from samite.pieces.allowance import cut_line
from samite.pieces.finish import Finish, check_edges, finish, seam_allowances
from samite.pieces.fitting import apply_alterations
from samite.pieces.fitting_parts import part_pieces
from samite.pieces.fitting_places import edges_at
from samite.pieces.fitting_words import read_alterations
from samite.pieces.outline import Piece
from samite.pieces.shape import choice, fill_in
from samite.pieces.shapes.registry import shape_named, shapes
from samite.pieces.walk import (
    Ease,
    Mate,
    check_smooth,
    piece_named,
    walk,
    walked_place_mm,
    with_notches,
)

pytestmark = pytest.mark.practice


def test_there_are_the_families_that_costumes_are_cut_from() -> None:
    wanted = {
        "circle-skirt", "cape", "gored-skirt", "gathered-skirt", "tiered-skirt", "flounce", "ruff",
        "train", "hooded-cloak", "hood-two-piece", "hood-three-piece", "tunic", "gusset", "tabard",
        "sleeve", "bishop-sleeve", "bell-sleeve", "trumpet-sleeve", "poet-sleeve", "trousers",
        "bloomers", "leggings", "waistband", "standing-collar", "cuff", "sash", "cummerbund", "veil",
        "bonnet-crown", "bias-strip", "continuous-bias",
    }  # fmt: skip
    assert wanted <= set(shapes())
    assert len(shapes()) >= 24
    assert shape_named("hooded cloak").name == "hooded-cloak"
    with pytest.raises(UnknownNameError):
        shape_named("pumpkin coach")


def test_usual_allowances_and_named_seams() -> None:
    # Plain seams 15 mm, French 15 (6 and 9), overedged 6 to 10, letting out 25 or more.
    taken = seam_allowances({"a": "plain", "b": "french", "c": "overedged", "d": "letting-out"})
    assert taken["a"] == taken["b"] == 15.0
    assert 6.0 <= taken["c"] <= 10.0
    assert taken["d"] >= 25.0
    with pytest.raises(UnknownNameError):
        seam_allowances({"a": "velcro"})
    with pytest.raises(UnknownNameError):
        check_edges(built("sash").pieces, ("moon",))


def test_a_fold_has_no_allowance_and_a_pair_is_marked_on_its_label() -> None:
    front = built("tunic").pieces[0]
    assert cut_line(front).allowances_mm["centre"] == 0.0
    (one,) = finish([built("sleeve").pieces[0]], Finish(cloth="silk", dated="2031-02-03"))
    assert "cut 2, half of them mirrored" in one.label
    assert one.label[1] == "silk"
    assert "2031-02-03" in one.label
    assert "wrong side up" in one.way_up


def test_the_outer_layer_is_larger_by_the_turn_of_the_cloth() -> None:
    collar = built("standing-collar").pieces
    outer, inner = finish(collar, Finish(turn_of_cloth_mm=2.0))
    assert (outer.piece.name, inner.piece.name) == ("collar, outside", "collar, inside")
    assert outer.cut.allowances_mm["top"] == inner.cut.allowances_mm["top"] + 2.0
    assert outer.cut.allowances_mm["bottom"] == inner.cut.allowances_mm["bottom"]
    assert outer.piece.copies == inner.piece.copies == 1
    (both,) = finish(collar, Finish())
    assert both.piece.copies == 2


def test_front_notches_are_single_and_back_notches_double() -> None:
    sleeve = built("sleeve").pieces[0]
    count = {notch.edge: notch.count for notch in sleeve.notches if notch.name != "shoulder"}
    assert count == {"front-cap": 1, "back-cap": 2}


def test_the_cap_is_longer_than_the_armhole_by_the_ease() -> None:
    values = built("sleeve", front_armhole=210.0, back_armhole=222.0, cap_ease=24.0).values
    assert values["front_cap_mm"] + values["back_cap_mm"] == pytest.approx(432.0 + 24.0)


def test_seams_are_walked_with_their_ease() -> None:
    made = built("bishop-sleeve")
    walked = walk(made.pieces, made.mates)
    gathered = next(one for one in walked if one.mate.first[0] == "cuff")
    assert gathered.equal
    assert gathered.second_mm > 2.0 * gathered.first_mm
    assert all(one.runs_smooth for one in check_smooth(made.pieces, made.smooths))
    assert piece_named(made.pieces, "cuff").copies == 2


def test_a_notch_moves_by_the_ease_before_it_and_none_stands_in_it() -> None:
    eases = (Ease(0.2, 0.6, 8.0),)
    assert walked_place_mm(100.0, 1000.0, eases) == 100.0
    assert walked_place_mm(400.0, 1000.0, eases) == pytest.approx(404.0)
    assert walked_place_mm(900.0, 1000.0, eases) == pytest.approx(908.0)
    made = built("panels")
    mate = Mate(("panel", "right"), ("panel", "left"), eases=eases, stops=((0.4, 1),))
    with pytest.raises(InputError):
        with_notches(made.pieces, (mate,))


def test_what_was_pinned_goes_back_into_the_pieces_and_nothing_is_lost() -> None:
    made = built("gored-skirt")
    said = read_alterations("12 mm out at the centre-back waist, hem up 20 mm")
    fitted = apply_alterations(made.pieces, said, made.mates)
    moved = {(c.piece, c.edge): c.moved_mm for c in fitted.changes}
    assert moved["gore 6 of 6, from the centre back", "right"] == 6.0
    assert moved["gore 1 of 6, from the centre back", "left"] == 6.0
    assert fitted.before == made.pieces
    girth = sum(p.copies * p.edge("waist").length_mm for p in fitted.after)
    was = sum(p.copies * p.edge("waist").length_mm for p in fitted.before)
    assert girth - was == pytest.approx(12.0, abs=0.3)
    later = apply_alterations(fitted.after, read_alterations("hem down 5 mm"), fitted.mates, fitted)
    assert later.earlier is fitted


@pytest.mark.parametrize("name", ["gored-skirt", "trousers", "circle-skirt"])
@pytest.mark.parametrize(("way", "sign"), [("out", 1.0), ("in", -1.0)])
def test_a_waist_let_out_is_wider_by_that_much_over_all_its_seams(
    name: str, way: str, sign: float
) -> None:
    made = built(name)

    def waist(pieces: tuple[Piece, ...]) -> float:
        return sum(
            p.copies * e.length_mm for p in pieces for e in p.edges if e.name.startswith("waist")
        )

    said = read_alterations(f"12 mm {way} at the waist")
    fitted = apply_alterations(made.pieces, said, made.mates)
    assert waist(fitted.after) - waist(fitted.before) == pytest.approx(sign * 12.0, abs=0.4)
    assert all(one.equal for one in walk(fitted.after, fitted.mates))


def test_sides_are_the_wearers() -> None:
    (alteration,) = read_alterations("right shoulder down 8 mm")
    assert (alteration.side, alteration.place, alteration.amount_mm) == ("right", "shoulder", -8.0)
    made = built("tunic")
    pieces, _ = part_pieces(made.pieces, made.mates, alteration)
    front = piece_named(pieces, "front")
    assert not front.on_fold
    assert front.edge("shoulder, left").start[0] > 0.0  # right side up, the wearer's left is ours
    assert {edge.name for edge, _ in edges_at(front, alteration)} == {
        "shoulder, left",
        "shoulder, right",
    }


@pytest.mark.parametrize(
    "text", ["", "a bit out at the waist", "12 mm at the waist", "out 12 mm", "hem up 900 mm"]
)
def test_a_vague_note_is_refused(text: str) -> None:
    with pytest.raises(InputError):
        read_alterations(text)


def test_a_choice_and_a_number_out_of_range_are_refused() -> None:
    assert choice("cut_on", "how", "seam", "radius").choices == ("seam", "radius")
    shape = shape_named("circle-skirt")
    for wrong in ({"cut_on": "moon"}, {"fraction": 99.0}, {"panels": 1.5}, {"moon": 1.0}):
        with pytest.raises((InputError, OutOfRangeError, UnknownNameError)):
            fill_in(shape, wrong, lambda _: 700.0)


def test_a_long_train_is_longer_behind_than_in_front() -> None:
    (piece,) = built("train").pieces
    back, front = piece.edge("centre-back"), piece.edge("centre-front")
    assert back.length_mm - front.length_mm == pytest.approx(600.0)
    assert USUAL.group == "women"


@pytest.mark.parametrize(("name", "symmetric"), [("circle-skirt", True), ("sleeve", False)])
def test_which_pieces_have_no_wrong_way_up(name: str, symmetric: bool) -> None:
    piece: Piece = built(name).pieces[0]
    assert piece.symmetric == symmetric
