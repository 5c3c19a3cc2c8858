"""Front and back, left and right, and fittings at a level, against widths that shapely measures."""

from __future__ import annotations

import math

import pytest
from shapely.geometry import LineString, Polygon

from samite.pieces.curves import Line
from samite.pieces.edge_moves import with_edge_moved, with_edges, with_edges_moved
from samite.pieces.fitting import apply_alterations
from samite.pieces.fitting_gathers import gathers_changed, refusal
from samite.pieces.fitting_panels import at_places, panels_around, share_around
from samite.pieces.fitting_places import belongs, edges_at, level_share, pinned_weight
from samite.pieces.fitting_words import read_alterations
from samite.pieces.outline import Piece, polygon
from samite.pieces.roots import complete_elliptics
from samite.pieces.shapes.registry import shapes
from samite.pieces.true_up import true_up
from samite.pieces.walk import Mate, Smooth, check_smooth
from samite.services.piece import make_piece
from samite.services.piece_ask import PieceAnswer, PieceAsk

HALVES = {"waist_girth.front": "40", "waist_girth.back": "36", "hip_girth.front": "48",
          "hip_girth.back": "52"}  # fmt: skip


def asked(shape: str, **rest: object) -> PieceAnswer:
    return make_piece(PieceAsk(shape, group="women", **rest))  # type: ignore[arg-type]


def sewn(pieces: list[Piece], edge: str) -> float:
    """Length of an edge over all copies, by chords of the flattened line."""
    return sum(p.copies * LineString(p.edge(edge).flat(0.001)).length for p in pieces)


def of(answer: PieceAnswer, word: str) -> list[Piece]:
    return [one.piece for one in answer.pieces if one.piece.name.startswith(word)]


def width(pieces: list[Piece], line: str) -> float:
    """Width of all copies along their line of that name."""
    total = 0.0
    for piece in pieces:
        level = next((r.points[0][1] for r in piece.rules if r.name == line), None)
        if level is not None:
            cut = Polygon(piece.flat(0.001)).intersection(LineString([(-4e3, level), (4e3, level)]))
            total += cut.length * piece.copies * (2 if piece.on_fold else 1)
    return total


@pytest.mark.parametrize(
    ("shape", "settings", "edge", "times"),
    [
        ("circle-skirt", {"ease": "0"}, "waist", 1.0),
        ("circle-skirt", {"ease": "0", "panels": "6", "cut_on": "radius"}, "waist", 1.0),
        ("gathered-skirt", {"ease": "0", "panels": "4", "fullness": "2"}, "top", 2.0),
        ("tiered-skirt", {"ease": "0", "panels": "2", "tiers": "1"}, "top", 1.6),
        ("gored-skirt", {"ease": "0", "gores": "8"}, "waist", 1.0),
        ("frustum", {"panels": "2"}, "top", 1.0),
    ],
)
def test_the_front_of_a_skirt_is_as_wide_as_the_front_that_was_measured(
    shape: str, settings: dict[str, str], edge: str, times: float
) -> None:
    answer = asked(shape, measures=HALVES, settings=settings)
    assert sewn(of(answer, "front"), edge) == pytest.approx(400.0 * times, abs=0.05)
    assert sewn(of(answer, "back"), edge) == pytest.approx(360.0 * times, abs=0.05)
    assert all(one.equal for one in answer.walked)


def test_front_and_back_gores_meet_the_hips_and_their_side_seams_agree() -> None:
    answer = asked("gored-skirt", measures=HALVES, settings={"hip_ease": "0", "gores": "6"})
    for word, hip in (("front", 480.0), ("back", 520.0)):
        assert width(of(answer, word), "hip line") == pytest.approx(hip, abs=0.02)
    seams = [LineString(p.edge("left").flat(0.001)).length for p in of(answer, "")]
    assert max(seams) - min(seams) < 0.05
    assert all(abs(one.break_deg) < 1.0 for one in answer.breaks)


def test_an_odd_number_of_panels_says_that_it_has_no_side_seams() -> None:
    answer = asked("gathered-skirt", measures=HALVES)
    assert [p.copies for p in of(answer, "skirt")] == [3]
    assert any("no seam at both sides" in why.claim for why in answer.reasons)
    assert any("only the whole girth" in note for note in asked("waistband", measures=HALVES).notes)


def test_a_tunic_is_wider_in_front_below_the_arm_and_still_takes_its_sleeve() -> None:
    answer = asked("tunic", measures={"bust_girth.front": "52", "bust_girth.back": "42"})
    front, back = of(answer, "front")[0], of(answer, "back")[0]
    ratio = front.edge("hem").length_mm / back.edge("hem").length_mm
    assert ratio == pytest.approx(52.0 / 42.0, abs=1e-9)
    assert front.edge("shoulder").length_mm == pytest.approx(back.edge("shoulder").length_mm)
    assert all(one.equal for one in answer.walked)


def test_armholes_that_were_measured_apart_get_a_cap_of_their_own_halves() -> None:
    answer = asked("sleeve", measures={"armscye_girth.front": "24", "armscye_girth.back": "22"})
    ease = 20.0 / 490.0  # shared by the lengths of both
    assert answer.values["front_cap_mm"] == pytest.approx(255.0 * (1 + ease), abs=0.01)
    assert answer.values["back_cap_mm"] == pytest.approx(235.0 * (1 + ease), abs=0.01)


@pytest.mark.parametrize(
    ("shape", "measures", "parted"),
    [
        ("tunic", {"arm_length.left": "58", "arm_length.right": "60"}, "sleeve, left"),
        ("tunic", {"bust_girth.left": "94", "bust_girth.right": "90"}, "front"),
        ("tabard", {"shoulder_length.left": "13", "shoulder_length.right": "12"}, "tabard half"),
        ("gored-skirt", {"waist_height.left": "106", "waist_height.right": "104"}, "gore 1 of 6"),
        (
            "circle-skirt",
            {"waist_girth.left": "74", "waist_girth.right": "70"},
            "skirt panel 1 of 2",
        ),
        ("train", {"waist_girth.left": "74", "waist_girth.right": "70"}, "trained skirt, half"),
        ("trousers", {"waist_girth.left": "74", "waist_girth.right": "70"}, "front, left"),
    ],
)
def test_each_side_of_an_uneven_body_gets_its_own(
    shape: str, measures: dict[str, str], parted: str
) -> None:
    answer = asked(shape, measures=measures)
    found = of(answer, parted)
    assert found
    assert all(one.equal for one in answer.walked)
    assert all(one.runs_smooth for one in answer.breaks)
    assert not any(piece.on_fold for piece in found)
    assert any("apart" in why.claim for why in answer.reasons)


@pytest.mark.parametrize(
    ("shape", "said", "line", "more"),
    [
        ("trousers", "12 mm out at the hip", "hip line", 12.0),
        ("gored-skirt", "12 mm in at the left hip", "hip line", -12.0),
        ("leggings", "12 mm out at the hip", "hip line", 12.0),
        ("tunic", "12 mm out at the waist", "waist line", 12.0),
        ("tunic", "12 mm in at the centre-back waist", "waist line", -12.0),
        ("tunic", "12 mm out at the left side waist", "waist line", 12.0),
    ],
)
def test_what_is_let_out_at_a_level_is_let_out_there_by_that_much(
    shape: str, said: str, line: str, more: float
) -> None:
    before, after = asked(shape), asked(shape, alterations=(said,))
    change = width(of(after, ""), line) - width(of(before, ""), line)
    assert change == pytest.approx(more, abs=0.15)
    assert all(one.equal for one in after.walked)
    assert all(abs(one.break_deg) < 1.0 for one in after.breaks)


@pytest.mark.parametrize(
    ("shape", "said", "more"),
    [
        ("circle-skirt", "12 mm out at the left side waist", 12.0),
        ("gored-skirt", "12 mm in at the side waist", -24.0),
        ("gored-skirt", "12 mm out at the centre-front waist", 12.0),
        ("waistband", "12 mm out at the side waist", 48.0),  # its two edges
        ("waistband", "12 mm in at the centre-back waist", -24.0),
    ],
)
def test_a_waist_grows_by_what_was_pinned_at_its_seams(shape: str, said: str, more: float) -> None:
    def waist(answer: PieceAnswer) -> float:
        return sum(
            p.copies * e.length_mm for p in of(answer, "") for e in p.edges if e.kind == "waist"
        )

    assert waist(asked(shape, alterations=(said,))) - waist(asked(shape)) == pytest.approx(
        more, abs=0.15
    )


def test_of_a_gathered_waist_only_the_gathers_change() -> None:
    before = asked("gathered-skirt")
    after = asked("gathered-skirt", alterations=("12 mm out at the side waist",))
    areas = [[one.piece.area_mm2 for one in answer.pieces] for answer in (before, after)]
    assert areas[0] == areas[1]
    gathered = [
        sum(p.copies * (p.edge("top").gathered_to_mm or 0.0) for p in of(answer, "skirt"))
        for answer in (before, after)
    ]
    assert gathered[0] == pytest.approx(before.values["gathered_to_mm"])
    assert gathered[1] - gathered[0] == pytest.approx(24.0)
    assert any("gather top from" in line for line in after.pieces[0].label)
    told = gathers_changed(list(of(before, "skirt")), *read_alterations("12 mm in at the waist"))
    assert sum(one.after_mm - one.before_mm for one in told) * 3 == pytest.approx(-12.0)


def test_a_waist_lowered_at_the_back_stays_where_it_was_at_the_side() -> None:
    before, after = (
        asked("trousers"),
        asked("trousers", alterations=("waist down 10 mm at the centre-back",)),
    )
    (old,), (new,) = of(before, "back"), of(after, "back")
    assert new.edge("crotch").length_mm == pytest.approx(
        old.edge("crotch").length_mm - 10.0, abs=0.1
    )
    assert new.edge("side").length_mm == pytest.approx(old.edge("side").length_mm, abs=0.05)


@pytest.mark.parametrize(
    ("shape", "said", "why"),
    [
        ("gathered-skirt", "12 mm out at the hip", "gathered"),
        ("tabard", "12 mm in at the waist", "no waist"),
        ("leggings", "12 mm in at the side waist", "no seam at the side"),
        ("cone", "hem up 20 mm", "no hem"),
        ("circle-skirt", "right shoulder down 8 mm", "no shoulder"),
    ],
)
def test_what_cannot_be_altered_says_why_and_where_it_can(shape: str, said: str, why: str) -> None:
    pieces = of(asked(shape), "")
    error = refusal(pieces, *read_alterations(said))
    assert why in error.message
    assert "edge by its name" in error.hint


def test_a_broken_line_is_trued_by_the_angle_that_it_breaks_by() -> None:
    lean = math.tan(math.radians(6.0)) * 300.0
    names = (("hem", "hem"), ("right", "seam"), ("top", "seam"), ("left", "seam"))
    corners = ((0.0, 0.0), (300.0, lean), (300.0, 500.0), (0.0, 500.0))
    pieces = [polygon(name, corners, names) for name in ("one", "other")]
    smooth = Smooth(("one", "hem", "right"), ("other", "hem", "right"))
    assert check_smooth(pieces, (smooth,))[0].break_deg == pytest.approx(12.0)
    seam = Mate(("one", "right"), ("other", "right"))
    made, told = true_up(pieces, (smooth,), (seam,))
    assert abs(check_smooth(made, (smooth,))[0].break_deg) < 1e-6
    assert {one.edge for one in told} == {"hem"}
    assert made[0].edge("right").curves == pieces[0].edge("right").curves


def test_edges_that_move_together_are_a_buffer_and_panels_know_their_places() -> None:
    square = polygon(
        "square", ((0.0, 0.0), (100.0, 0.0), (100.0, 50.0), (100.0, 100.0), (0.0, 100.0)),
        (("hem", "hem"), ("low", "seam"), ("high", "seam"), ("top", "waist"), ("left", "seam")),
    )  # fmt: skip
    both = with_edges_moved(square, ("low", "high"), lambda _: 1.0, 10.0)
    assert both.area_mm2 == pytest.approx(Polygon(square.flat()).area + 1000.0)
    assert with_edge_moved(square, "hem", lambda _: 1.0, 5.0).area_mm2 == pytest.approx(10500.0)
    assert with_edges(square, square.edges) == square
    assert share_around("gore 2 of 4") == (0.25, 0.5)
    assert share_around("gore 1 of 6, from the centre back") == pytest.approx((0.75, 0.75 + 1 / 6))
    assert at_places(polygon("gore 2 of 4", ((0, 0), (1, 0), (1, 1)),
                             (("a", "hem"), ("right", "seam"), ("left", "seam"))),
                     "side", "left") == {"right"}  # fmt: skip
    (said,) = read_alterations("10 mm out at the hip")
    assert edges_at(square, said)
    edge = square.edge("left")
    assert belongs(square, "left", "centre-back")
    share = level_share(square, edge, "hip")
    assert share == 0.5  # an edge shorter than twice the usual depth: its middle
    weight = pinned_weight(square, edge, "level", said)
    assert weight(0.5) == 1.0
    assert weight(0.0) == pytest.approx(0.0)
    assert isinstance(edge.curves[0], Line)


def test_panels_are_numbered_only_where_a_side_is_altered() -> None:
    made = shapes()["gored-skirt"].build(asked("gored-skirt").numbers)
    (all_over,), (left,) = (
        read_alterations("hem up 1 cm"),
        read_alterations("hem up 1 cm at the left"),
    )
    assert panels_around(made.pieces, made.mates, all_over, lambda _: True) is None
    found = panels_around(made.pieces, made.mates, left, lambda _: True)
    assert found is not None
    assert len(found[0]) == len(found[1]) == 6
    fitted = apply_alterations(made.pieces, (left,), made.mates)
    assert min(change.moved_mm for change in fitted.changes) == pytest.approx(-10.0, abs=0.1)


def test_both_elliptic_integrals_are_those_of_an_independent_library() -> None:
    from scipy.special import ellipe, ellipk

    for parameter in (0.0, 0.1, 0.5, 0.9, 0.999):
        expected = ellipk(parameter), ellipe(parameter)
        assert complete_elliptics(parameter) == pytest.approx(expected, rel=1e-13)
