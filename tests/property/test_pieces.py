"""Laws of pieces on random bodies: closed, free of crossings, mating edges equal."""

from __future__ import annotations

from types import MappingProxyType

import pytest
from hypothesis import given
from hypothesis import strategies as st

from samite.garment.body import Body
from samite.kernel.errors import SamiteError
from samite.pieces.allowance import cut_line
from samite.pieces.crossing import self_crossings
from samite.pieces.finish import Finish, finish
from samite.pieces.fitting import apply_alterations
from samite.pieces.fitting_words import read_alterations
from samite.pieces.hang import Hang, hang_hems
from samite.pieces.measures import estimate
from samite.pieces.shape import Made, Shape, fill_in
from samite.pieces.shapes.registry import shapes
from samite.pieces.walk import check_smooth, walk, with_notches
from samite.readers.svg_file import read_svg
from samite.services.piece_drawn import drawn_pieces
from samite.services.piece_paper import sheets_svg

pytestmark = pytest.mark.property

BODIES = st.builds(
    lambda tall, bust, waist, hip, group: Body(
        MappingProxyType(
            {
                "stature": tall,
                "bust_girth": bust,
                "waist_girth": bust - waist,
                "hip_girth": bust + hip,
            }
        ),
        group,
    ),
    st.floats(1450, 2000),
    st.floats(780, 1350),
    st.floats(0, 260),
    st.floats(-60, 180),
    st.sampled_from(["women", "men", "adult"]),
)
CHILDREN = st.builds(
    lambda group, age: Body(MappingProxyType({}), group, age),
    st.sampled_from(["girls", "boys"]),
    st.floats(3, 18),
)


def made(shape: Shape, body: Body) -> Made:
    return shape.build(fill_in(shape, {}, lambda name: estimate(body, name).value_mm))


def check(name: str, body: Body) -> None:
    result = made(shapes()[name], body)
    pieces = with_notches(result.pieces, result.mates)
    for piece in pieces:
        assert not self_crossings(piece.flat()), piece.name
        assert not self_crossings(cut_line(piece).points), piece.name
    uneven = [one for one in walk(pieces, result.mates) if not one.equal]
    assert not uneven, [(one.mate.first, one.difference_mm) for one in uneven]
    assert all(one.runs_smooth for one in check_smooth(pieces, result.smooths))


@pytest.mark.parametrize("name", list(shapes()))
@given(body=BODIES)
def test_pieces_of_any_adult_close_do_not_cross_and_fit_each_other(name: str, body: Body) -> None:
    check(name, body)


@pytest.mark.parametrize("name", list(shapes()))
@given(body=CHILDREN)
def test_pieces_of_any_child_close_do_not_cross_and_fit_each_other(name: str, body: Body) -> None:
    check(name, body)


@given(body=BODIES, along=st.floats(0, 12), across=st.floats(0, 12), hem=st.floats(0, 80))
def test_a_cloth_that_shrinks_more_takes_more(
    body: Body, along: float, across: float, hem: float
) -> None:
    pieces = made(shapes()["gored-skirt"], body).pieces
    plain = finish(pieces, Finish({"hem": hem}))
    more = finish(pieces, Finish({"hem": hem}, along, across))
    for a, b in zip(plain, more, strict=True):
        assert b.cut.area_mm2 >= a.cut.area_mm2 - 1e-6
        assert a.cut.area_mm2 >= a.piece.area_mm2


@given(amount=st.floats(1, 40), way=st.sampled_from(["up", "down"]), body=BODIES)
def test_a_hem_altered_on_one_side_leaves_the_other_and_keeps_what_was(
    amount: float, way: str, body: Body
) -> None:
    result = made(shapes()["trousers"], body)
    said = read_alterations(f"hem {way} {amount:.1f} mm at the left")
    fitted = apply_alterations(result.pieces, said, result.mates)
    assert fitted.before == result.pieces
    areas = {piece.name: piece.area_mm2 for piece in fitted.after}
    before = {piece.name: piece.area_mm2 for piece in fitted.before}
    for part in ("front", "back"):
        assert areas[f"{part}, right"] == pytest.approx(before[part])
        assert (areas[f"{part}, left"] > before[part]) == (way == "down")
    assert all(one.equal for one in walk(fitted.after, fitted.mates))


@given(body=BODIES, name=st.sampled_from(["upper_arm_girth", "inside_leg_length", "thigh_girth"]))
def test_a_measure_that_is_given_is_kept_and_narrows_the_others(body: Body, name: str) -> None:
    guess = estimate(body, name)
    assert guess.spread_mm > 0.0
    told = Body(MappingProxyType({**body.measures_mm, name: guess.value_mm}), body.group)
    assert estimate(told, name).value_mm == guess.value_mm
    assert estimate(told, name).spread_mm == 0.0
    for other in ("wrist_girth", "shoulder_length"):
        assert estimate(told, other).spread_mm <= estimate(body, other).spread_mm * 1.2


@given(
    fraction=st.floats(0.05, 4.0),
    panels=st.integers(1, 12),
    waist=st.floats(300, 1600),
    allowance=st.floats(0, 25),
    cut_on=st.sampled_from(["seam", "radius"]),
)
def test_the_waist_of_any_circle_skirt_is_as_long_as_asked(
    fraction: float, panels: int, waist: float, allowance: float, cut_on: str
) -> None:
    shape = shapes()["circle-skirt"]
    settings = {
        "fraction": fraction,
        "panels": float(panels),
        "waist": waist,
        "seam_allowance": allowance,
        "cut_on": cut_on,
        "length": 600.0,
    }
    try:
        result = shape.build(fill_in(shape, settings, lambda _: 0.0))
    except SamiteError:
        assert fraction > panels or cut_on == "radius"
        return
    assert result.values["waist_length_mm"] == pytest.approx(waist, abs=1e-6)


SAID = st.sampled_from(
    [
        ("tunic", "{way} shoulder down {mm} mm"), ("tunic", "armhole {mm} mm out"),
        ("tunic", "hem up {mm} mm at the {way}"), ("trousers", "{mm} mm in at the side waist"),
        ("trousers", "hem up {mm} mm at the {way}"), ("circle-skirt", "hem up {mm} mm at the {way}"),
        ("gored-skirt", "hem down {mm} mm at the {way}"), ("sleeve", "{way} armhole {mm} mm longer"),
        ("trumpet-sleeve", "hem up {mm} mm"), ("tiered-skirt", "hem up {mm} mm"),
    ]
)  # fmt: skip


@given(body=BODIES, said=SAID, amount=st.floats(1, 18), way=st.sampled_from(["left", "right"]))
def test_whatever_is_pinned_all_seams_are_equal_afterwards(
    body: Body, said: tuple[str, str], amount: float, way: str
) -> None:
    shape, words = said
    result = made(shapes()[shape], body)
    told = read_alterations(words.format(mm=f"{amount:.1f}", way=way))
    fitted = apply_alterations(result.pieces, told, result.mates, None, result.smooths)
    assert fitted.before == result.pieces
    assert all(one.equal for one in walk(fitted.after, fitted.mates))
    for piece in with_notches(fitted.after, fitted.mates):
        assert not self_crossings(piece.flat())
        assert cut_line(piece).area_mm2 >= piece.area_mm2


@given(
    waist=st.floats(450, 1900), hip=st.floats(600, 2000), side=st.floats(0, 60),
    dart=st.floats(10, 50), front=st.integers(0, 4), back=st.integers(0, 4),
)  # fmt: skip
def test_trousers_are_as_wide_at_the_waist_as_asked_whoever_takes_it_in(
    waist: float, hip: float, side: float, dart: float, front: int, back: int
) -> None:
    body = Body(MappingProxyType({"stature": 1700.0, "hip_girth": hip, "bust_girth": hip}), "women")
    shape = shapes()["trousers"]
    given_ = {
        "waist": waist, "side_limit": side, "dart_limit": dart, "front_darts": float(front),
        "back_darts": float(back),
    }  # fmt: skip
    try:
        result = shape.build(fill_in(shape, given_, lambda name: estimate(body, name).value_mm))
    except SamiteError:
        assert abs(hip - waist) > 300.0
        return
    assert result.values["sewn_waist_mm"] == pytest.approx(waist + 15.0, abs=1e-6)
    assert all(one.equal for one in walk(result.pieces, result.mates))
    assert all(one.runs_smooth for one in check_smooth(result.pieces, result.smooths))


@pytest.mark.parametrize("name", ["circle-skirt", "cape", "train", "gored-skirt", "tunic"])
@given(body=BODIES, give=st.floats(1, 18), mass=st.floats(40, 300))
def test_a_slacker_or_heavier_cloth_drops_more_and_seams_stay_equal(
    name: str, body: Body, give: float, mass: float
) -> None:
    result = made(shapes()[name], body)
    drops = []
    for factor in (1.0, 1.3):
        hang = Hang(mass * factor, give, 2.5, 0.5, 2.0)
        pieces, hung = hang_hems(result.pieces, hang, result.mates)
        assert all(one.equal for one in walk(pieces, result.mates))
        assert all(not self_crossings(piece.flat()) for piece in pieces)
        drops.append(max((one.drop_mm for one in hung), default=0.0))
    assert drops[1] >= drops[0]


@pytest.mark.parametrize("name", ["tunic", "trousers", "hooded-cloak", "gored-skirt", "ruff"])
@given(body=BODIES)
def test_a_drawing_of_pieces_makes_the_same_pieces_again(name: str, body: Body) -> None:
    result = made(shapes()[name], body)
    pieces = finish(with_notches(result.pieces, result.mates), Finish())
    drawn = read_svg(sheets_svg(name, pieces).encode())
    back = {one.piece.name: one for one in drawn_pieces(drawn, {}).pieces}
    for one in pieces:
        again = back[one.piece.name]
        assert again.piece.area_mm2 == pytest.approx(one.piece.area_mm2, rel=2e-4)
        assert again.cut.area_mm2 == pytest.approx(one.cut.area_mm2, rel=2e-4)
        assert again.piece.copies == one.piece.copies
        assert again.piece.mirrored == one.piece.mirrored
        assert again.piece.on_fold == one.piece.on_fold
        whole = sum(edge.length_mm for edge in one.piece.edges)
        assert sum(e.length_mm for e in again.piece.edges) == pytest.approx(whole, rel=2e-4)
