"""The order of the layers of a pressed seam, and what the model says outside its range."""

from __future__ import annotations

import itertools

import pytest

from samite.cloth.build import build_cloth
from samite.cloth.label import read_label
from samite.cloth.model import Cloth
from samite.kernel.errors import UnknownNameError
from samite.press.joint import (
    ORDERS,
    Ply,
    build_joint,
    ply_layers,
    seam_plies,
    stretched,
    tool_layer,
    under,
)
from samite.tables.press_tools import press_cloth, press_tool

BOARD = press_tool("board")


def cloth(label: str = "polyester velvet, 300 g/m2") -> Cloth:
    return build_cloth(read_label(label))


@pytest.mark.parametrize(
    ("order", "plies"), [("open", 2), ("to one side", 3), ("french", 5), ("edge", 2)]
)
def test_each_order_has_its_plies_and_neighbours_lie_face_to_face_or_back_to_back(
    order: str, plies: int
) -> None:
    """Common practice, no source: allowances are folded, so faces alternate."""
    found = seam_plies(cloth(), order)
    assert len(found) == plies
    assert all(a.face_up != b.face_up for a, b in itertools.pairwise(found))


@pytest.mark.parametrize("order", ["open", "to one side", "french"])
def test_from_the_wrong_side_the_face_of_the_garment_lies_on_the_board(order: str) -> None:
    joint = build_joint(seam_plies(cloth(), order), "wrong", BOARD)
    assert joint.layers[joint.face_layer].name == "pile"
    assert (joint.face_layer, joint.face_depth) == (len(joint.layers) - 2, 1.0)


@pytest.mark.parametrize("order", ["open", "to one side", "french"])
def test_from_the_right_side_the_iron_meets_the_face(order: str) -> None:
    joint = build_joint(seam_plies(cloth(), order), "right", BOARD, press_cloth("cotton-lawn"))
    assert (joint.face_layer, joint.face_depth) == (1, 0.0)


def test_pressed_as_sewn_the_faces_meet_and_both_plies_are_seen() -> None:
    joint = build_joint(seam_plies(cloth(), "edge"), "wrong", BOARD)
    assert joint.garment == joint.plies
    names = [joint.layers[i].name for i in (joint.core, joint.core + 1)]
    assert names == ["pile", "pile"]


def test_turned_over_the_plies_come_in_reverse() -> None:
    plies = seam_plies(cloth(), "to one side")
    wrong, right = (build_joint(plies, side, BOARD) for side in ("wrong", "right"))
    names = [layer.name for layer in wrong.layers[:-1]]
    assert [layer.name for layer in right.layers[:-1]] == names[::-1]
    assert wrong.core + 1 + right.core + 1 == len(names)


def test_two_cloths_keep_their_names() -> None:
    plies = seam_plies(cloth(), "to one side", cloth("cotton lawn, 80 g/m2"))
    assert [ply.owner for ply in plies] == ["other cloth", "cloth", "cloth"]


def test_unknown_order_is_refused_with_the_names_there_are() -> None:
    with pytest.raises(UnknownNameError, match="sideways"):
        seam_plies(cloth(), "sideways")
    assert "edge" in ORDERS


def backed(face: Cloth, lining: Cloth) -> tuple[Ply, ...]:
    """Half of an opened seam whose lining is caught in it: the fold is set between the linings."""
    return (
        Ply(face, "cloth", face_up=True),
        Ply(lining, "third cloth", face_up=True),
        Ply(lining, "third cloth", face_up=False, backing=True),
        Ply(face, "cloth", face_up=False),
    )


@pytest.mark.parametrize("side", ["wrong", "right"])
def test_the_fold_lies_between_the_allowance_and_what_backs_the_garment(side: str) -> None:
    face, lining = cloth("wool crepe, 250 g/m2"), cloth("acetate lining, 80 g/m2")
    joint = build_joint(backed(face, lining), side, BOARD)
    owners = [joint.layers[i].owner for i in (joint.core, joint.core + 1)]
    assert owners == ["third cloth", "third cloth"]
    plain = build_joint(seam_plies(face), side, BOARD)
    assert len(joint.layers) == len(plain.layers) + 2
    garment = joint.layers[joint.garment[0]]
    assert garment.owner == "cloth"
    seen = len(joint.layers) - 2 if side == "wrong" else 0
    assert joint.face_layer == seen


def test_the_layers_of_a_third_cloth_keep_their_true_thickness() -> None:
    face, lining = cloth("wool crepe, 250 g/m2"), cloth("acetate lining, 80 g/m2")
    joint = build_joint(backed(face, lining), "wrong", BOARD)
    whole = sum(joint.layers[i].thickness_mm.value for i in joint.plies)
    assert whole == pytest.approx(2.0 * (face.thickness_mm.value + lining.thickness_mm.value))


def test_a_tool_on_top_shifts_everything_by_one() -> None:
    joint = build_joint(seam_plies(cloth()), "wrong", BOARD)
    held = under(tool_layer(press_tool("clapper")), joint)
    assert held.layers[0].name == "hold"
    assert held.core == joint.core + 1
    assert held.plies == tuple(i + 1 for i in joint.plies)


def test_a_film_closes_the_cloth_to_vapour() -> None:
    plain, filmed = (
        ply_layers(cloth(label))[-1].open_share.value
        for label in ("polyester knit, 200 g/m2", "polyester knit, 200 g/m2, foil print")
    )
    assert filmed < 0.1 * plain


def test_outside_the_checked_range_the_answer_is_stretched_and_its_spread_wider() -> None:
    usual, heavy = cloth("wool felt, 400 g/m2"), cloth("wool felt, 1500 g/m2")
    assert stretched(usual) == ()
    assert "stretched: its mass" in stretched(heavy)[0]
    spreads = [
        layer.conductivity_w_mk.high / layer.conductivity_w_mk.low
        for layer in (ply_layers(usual)[-1], ply_layers(heavy)[-1])
    ]
    assert spreads[1] > 1.5 * spreads[0]
