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
from samite.pieces.measures import estimate
from samite.pieces.shape import Made, Shape, fill_in
from samite.pieces.shapes.registry import shapes
from samite.pieces.walk import check_smooth, walk, with_notches

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
