"""Fitted pieces as the faces get them: cloth, fittings as constraints, both halves, JSON."""

from __future__ import annotations

import json
from dataclasses import replace
from types import SimpleNamespace

import pytest
from tests.swatches import plain_seam, plain_swatch

from samite.kernel.errors import InfeasibleError
from samite.pieces.edge import straight
from samite.pieces.outline import Piece
from samite.pieces.shape import Made, Values
from samite.pieces.shapes.registry import shape_named
from samite.services.fitted import _alike
from samite.services.fitted_cloth import cloth_gives, with_said
from samite.services.fitted_parts import fit_parts
from samite.services.fitted_pulls import pulls_of
from samite.services.fitted_sides import both_halves
from samite.services.fitted_swatches import with_book
from samite.services.fitted_told import fit_json, fit_lines
from samite.services.inches import in_inches
from samite.services.piece import PieceAnswer, PieceAsk, make_piece
from samite.services.piece_json import piece_json
from samite.services.piece_paper import pieces_dxf, pieces_pdf, pieces_svg
from samite.swatch.seen import Finding, Sign
from samite.swatch.trial import Swatch

TAPES = {"stature": "168", "bust_girth": "92", "waist_girth": "74", "hip_girth": "98"}


def answer(
    shape: str, *alter: str, cloth: str = "", measures: dict | None = None, **settings: str
) -> PieceAnswer:
    return make_piece(
        PieceAsk(shape, {**TAPES, **(measures or {})}, settings, group="women", cloth=cloth,
                 alterations=alter)
    )  # fmt: skip


@pytest.fixture(scope="module")
def bodice() -> PieceAnswer:
    return answer("fitted-bodice", panels="4")


def area(found: PieceAnswer, name: str) -> float:
    return next(one.piece.area_mm2 for one in found.pieces if one.piece.name == name)


def girth(found: PieceAnswer, name: str) -> float:
    assert found.fit is not None
    return next(one.flat_mm for one in found.fit.report.girths if one.name == name)


def test_seams_are_equal_and_girths_come_out(bodice: PieceAnswer) -> None:
    assert all(one.equal for one in bodice.walked)
    assert bodice.fit is not None
    for one in bodice.fit.report.girths:
        assert one.flat_mm == pytest.approx(one.asked_mm, abs=1.0), one.name
    assert any("armhole" in one.mate.first[1] for one in bodice.walked)


def test_the_answer_goes_out_in_every_form(bodice: PieceAnswer) -> None:
    document = json.loads(json.dumps(piece_json(bodice)))
    assert document["fit"]["chosen"] == "2 + 2"
    assert {one["name"] for one in document["fit"]["options"]} == {"2 + 2"}
    assert document["fit"]["options"][0]["minutes"] > 0
    assert document["fit"]["trial"]["metres"] > 0.5
    assert bodice.fit is not None
    assert fit_json(bodice.fit) == document["fit"]
    assert any("TRIAL" in line for line in fit_lines(bodice.fit))
    assert pieces_svg(bodice).startswith("<svg")
    assert pieces_pdf(bodice, "a4").startswith(b"%PDF")
    assert "ENDSEC" in pieces_dxf(bodice)


def test_the_cloth_decides_how_many_panels() -> None:
    few = answer("fitted-strapless", cloth="wool crepe")
    many = answer("fitted-strapless", cloth="brocade, 60% polyester 40% viscose, 200 g/m2")
    assert few.fit is not None
    assert many.fit is not None
    assert len(many.pieces) > len(few.pieces)
    assert few.fit.costs[-1].minutes < many.fit.costs[-1].minutes
    assert [one.option.fits for one in many.fit.costs][:-1] == [False] * (len(many.fit.costs) - 1)


def test_what_was_pinned_changes_the_surface_not_a_patch() -> None:
    plain = answer("fitted-skirt", panels="4")
    taken_in = answer("fitted-skirt", "10 mm in at the side waist", panels="4")
    assert girth(plain, "waist") - girth(taken_in, "waist") == pytest.approx(20.0, abs=0.1)
    assert girth(plain, "hip") == pytest.approx(girth(taken_in, "hip"), abs=0.1)
    assert all(one.equal for one in taken_in.walked)
    assert taken_in.fittings[0].changes
    assert area(taken_in, "front") < area(plain, "front")
    longer = answer("fitted-skirt", "hem down 30 mm", panels="4")
    assert longer.numbers["length"] - plain.numbers["length"] == pytest.approx(30.0)


def test_a_side_that_differs_is_its_own_set_of_pieces() -> None:
    found = answer(
        "fitted-skirt", measures={"hip_girth.left": "98", "hip_girth.right": "101"}, panels="4"
    )
    names = {one.piece.name for one in found.pieces}
    assert names == {"front, left", "front, right", "back, left", "back, right"}
    assert area(found, "front, right") > area(found, "front, left")
    centre = next(w for w in found.walked if w.mate.first == ("front, left", "centre"))
    assert abs(centre.difference_mm) < 2.0


def test_one_side_pinned_leaves_the_other() -> None:
    plain = answer("fitted-skirt", panels="4")
    found = answer("fitted-skirt", "8 mm in at the left side hip", panels="4")
    # but for the centre front, whose halves are trued to each other
    assert area(found, "front, right") == pytest.approx(area(plain, "front"), rel=1e-4)
    assert area(found, "front, left") < area(plain, "front")


def half(height_mm: float) -> Made:
    """Return a front half as high as that at its fold, with a neckline and a side seam."""
    piece = Piece(
        "front",
        (
            straight("hem", (0.0, 0.0), (200.0, 0.0), "hem"),
            straight("side", (200.0, 0.0), (200.0, 380.0)),
            straight("neck", (200.0, 380.0), (0.0, height_mm), "neck"),
            straight("centre", (0.0, height_mm), (0.0, 0.0), "fold"),
        ),
    )
    return Made((piece,))


def test_the_centre_seam_of_halves_that_differ_is_equally_long() -> None:
    made = both_halves({"left": half(380.0), "right": half(383.4)})
    lengths = {
        (piece.name, edge.name): edge.length_mm for piece in made.pieces for edge in piece.edges
    }
    assert lengths["front, left", "centre"] == pytest.approx(381.7, abs=0.02)
    assert lengths["front, right", "centre"] == pytest.approx(381.7, abs=0.02)
    assert lengths["front, left", "side"] == lengths["front, right", "side"] == 380.0
    assert any("the halves differed by 3.4 mm" in why.claim for why in made.reasons)
    alike = both_halves({"left": half(380.0), "right": half(380.0)})
    assert len(alike.reasons) == 1


def test_stretch_cloth_is_cut_smaller_and_its_pressure_told() -> None:
    found = answer("fitted-leggings", cloth="80% polyamide 20% elastane knit, 220 g/m2")
    assert found.fit is not None
    hip = next(one for one in found.fit.report.girths if one.name == "hip")
    assert hip.flat_mm < 0.95 * hip.body_mm
    assert hip.flat_mm == pytest.approx(hip.asked_mm, abs=1.0)
    assert {one.name for one in found.fit.report.pressures} >= {"waist", "hip", "thigh"}
    tight = answer("fitted-leggings", stretch_across="20", used_across="95")
    assert max(p.middle_kpa for p in tight.fit.report.pressures) > max(
        p.middle_kpa for p in found.fit.report.pressures
    )


def test_lift_makes_a_flatter_wider_sleeve() -> None:
    low = answer("fitted-bodice", panels="2")
    high = answer("fitted-bodice", panels="2", lift="70")
    assert high.values["lift_without_pull_deg"] >= 69.9
    assert high.values["sleeve_width_mm"] > low.values["sleeve_width_mm"]
    assert high.values["pull_at_lift_90_mm"] < low.values["pull_at_lift_90_mm"]


def test_bones_follow_the_seams() -> None:
    found = answer("fitted-strapless", panels="4", boning="seams and panels")
    assert found.fit is not None
    assert len([b for b in found.fit.report.bones if b.name.startswith("seam")]) == 3
    assert any(rule.name == "bone channel" for one in found.pieces for rule in one.piece.rules)


def test_what_pulls_though_it_was_taken_is_told_with_a_way_out(bodice: PieceAnswer) -> None:
    assert bodice.fit is not None
    report = bodice.fit.report
    tight = replace(report.limits, warp=0.001, weft=0.001, shear_deg=0.01)
    taken = replace(report.options[-1], name=report.chosen, use=0.9)
    pulled = replace(report, limits=tight, options=(taken,))
    first, *each = pulls_of(pulled)
    assert "was taken, for whole pieces keep within" in first
    assert "--set panels=N" in first
    assert len(each) == len(pulled.pulls) > 1
    over = replace(pulled, options=(replace(taken, use=1.4),))
    assert "asks more than the cloth gives" in pulls_of(over)[0]
    loose = replace(report.limits, warp=1.0, weft=1.0, surplus=1.0, shear_deg=60.0)
    assert pulls_of(replace(report, limits=loose)) == ()


@pytest.mark.parametrize("hatching", ["yes", "no"])
def test_pulls_are_hatched_in_lines(hatching: str) -> None:
    found = answer(
        "fitted-strapless", panels="4", weft_limit="1 %", warp_limit="1 %", hatching=hatching
    )
    drawn = [r for one in found.pieces for r in one.piece.rules if r.name == "pull"]
    assert bool(drawn) == (hatching == "yes")


def test_the_centre_front_of_a_bodysuit_is_a_seam_or_the_fold() -> None:
    kinds = {}
    for word in ("seam", "fold"):
        found = answer("fitted-bodysuit", centre_front=word)
        front = next(one.piece for one in found.pieces if one.piece.name == "front")
        kinds[word] = (front.edge("front crotch").kind, front.copies)
        assert all(one.equal for one in found.walked)
    assert kinds == {"seam": ("seam", 2), "fold": ("fold", 1)}


def test_what_a_swatch_gave_overrules_the_class_and_is_no_guess() -> None:
    taffeta = cloth_gives("silk taffeta", shape_named("fitted-skirt"))
    assert taffeta.grade == "guess"
    assert taffeta.settings["weft_limit"] == 1.0
    one = with_said(taffeta, {"weft_limit": 2.5})
    assert one.grade == "guess"
    both = with_said(taffeta, {"weft_limit": 2.5, "warp_limit": 2.0})
    assert both.grade == "measured-here"
    assert "2.5 % across" in both.told
    assert "weft_limit" not in both.settings
    assert with_said(taffeta, {"panels": 3.0}) is taffeta


def stretched_swatch(percent: float, *, cracked: bool = False) -> Swatch:
    seam = plain_seam(stretch_percent=None if cracked else percent)
    found = Finding(Sign.CRACKED, stretch_percent=percent) if cracked else Finding(Sign.NOTHING)
    return plain_swatch(press=None, sew=seam, findings=(found,))


def test_swatches_of_the_journal_sharpen_what_the_cloth_gives_and_are_named() -> None:
    skirt, leggings = shape_named("fitted-skirt"), shape_named("fitted-leggings")
    plain = cloth_gives("100% cotton poplin", skirt)
    assert with_book(plain, skirt, (), ()) is plain
    capped = with_book(plain, skirt, (stretched_swatch(2.0, cracked=True),), ())
    assert capped.settings["warp_limit"] == capped.settings["weft_limit"] == pytest.approx(1.6)
    assert capped.grade == "measured-here"
    assert "cracked when stretched to 2 %" in capped.told
    assert capped.told_by
    by_hand = with_book(plain, skirt, (stretched_swatch(2.0, cracked=True),), ("warp_limit",))
    assert by_hand.settings["warp_limit"] == plain.settings["warp_limit"]
    raised = with_book(plain, skirt, (stretched_swatch(5.0),), ())
    assert raised.settings["weft_limit"] == pytest.approx(4.0)
    assert raised.grade == "guess"
    silent = with_book(plain, skirt, (stretched_swatch(40.0, cracked=True),), ())
    assert (silent.settings, silent.grade) == (plain.settings, "guess")
    knit = cloth_gives("80% polyamide 20% elastane knit", leggings)
    held = with_book(knit, leggings, (stretched_swatch(30.0, cracked=True),), ())
    assert held.settings["stretch_across"] * 0.85 == pytest.approx(24.0)
    with pytest.raises(InfeasibleError, match="would crack"):
        with_book(knit, leggings, (stretched_swatch(10.0, cracked=True),), ())


def test_lengths_are_told_in_inches_and_arms_foundation_and_limits_in_all_answers(
    bodice: PieceAnswer,
) -> None:
    assert bodice.fit is not None
    told = fit_json(bodice.fit)
    assert told["raised_arms"]["lift_without_pull_deg"] > 20.0
    assert told["limits"]["grade"] == "guess"
    parts = {part.head: part for part in fit_parts(bodice.fit, "imperial")}
    assert "in are missing along the underarm" in parts["Raised arms"].says[1]
    assert parts["Girths"].columns[1] == "body (in)"
    assert all(len(row) == len(part.columns) for part in parts.values() for row in part.rows)
    assert (
        in_inches("3  15 mm, 2.54 to 25.4 cm, 10 mm2, x+5 mm")
        == "3  0.59 in, 1.00 to 10.00 in, 10 mm2, x+0.20 in"
    )


def test_halves_parted_unlike_are_both_asked_for_one_number() -> None:
    """Where 2 + 1 and 1 + 2 panels were the fewest, three panels asked for part both alike."""

    def build(values: Values) -> SimpleNamespace:
        asked = values.numbers["panels"]
        chosen = "2 + 1" if asked or values.words["side"] == "left" else "1 + 2"
        pieces = [SimpleNamespace(name=f"{chosen} {k}") for k in range(3)]
        return SimpleNamespace(fit=SimpleNamespace(chosen=chosen, options=[1, 2]), pieces=pieces)

    halves = {side: Values({"panels": 0.0}, {"side": side}) for side in ("left", "right")}
    made = _alike(SimpleNamespace(build=build), halves)
    assert [made[side].fit.chosen for side in ("left", "right")] == ["2 + 1", "2 + 1"]
