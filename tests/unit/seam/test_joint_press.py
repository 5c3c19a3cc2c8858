"""The press gets a joint of three cloths as it lies: every ply once, the fold where it is set."""

from __future__ import annotations

import pytest

from samite.cloth.build import build_cloth
from samite.cloth.label import read_label
from samite.cloth.model import Cloth
from samite.garment.use import Use
from samite.press.joint import build_joint
from samite.seam.stacking import joint_stacks
from samite.services.joint_press import press_joint, stack_seam
from samite.services.seam import SeamQuestion, make_seam
from samite.tables.press_tools import press_tool

LABELS = ("wool crepe, 250 g/m2", "silk organza", "acetate lining, 80 g/m2")


def cloths() -> tuple[Cloth, ...]:
    return tuple(build_cloth(read_label(text)) for text in LABELS)


@pytest.mark.parametrize("behind", ["first", "second", "both"])
@pytest.mark.parametrize("form", ["SSa", "SSa-closed", "SSae", "LSa"])
def test_every_ply_is_handed_to_the_press(form: str, behind: str) -> None:
    chosen = cloths()
    for stack in joint_stacks(form, chosen, behind=behind):
        seam = stack_seam(stack)
        assert [ply.cloth for ply in seam.plies] == [layer.cloth for layer in stack.layers]
        assert not seam.plies[-1].backing
        joint = build_joint(seam.plies, "wrong", press_tool("board"))
        whole = sum(joint.layers[i].thickness_mm.value for i in joint.plies)
        assert whole == pytest.approx(stack.thickness_mm)
        owners = [joint.layers[i].owner for i in range(len(joint.layers) - 1)]
        backing = sum(ply.backing for ply in seam.plies)
        assert joint.core == len(owners) - 2 - backing


def test_the_tender_parts_of_a_third_cloth_count() -> None:
    chosen = cloths()
    two, three = (stack_seam(joint_stacks("SSa-closed", some)[0]) for some in (chosen[:2], chosen))
    assert len(three.parts) > len(two.parts)


def test_the_weakest_of_three_rules_the_iron() -> None:
    # Common practice: the dial of what melts first; acetate is one dot.
    chosen = cloths()
    two, three = (
        press_joint(joint_stacks("SSa-closed", some), Use()).recipe.value
        for some in (chosen[:2], chosen)
    )
    assert three.iron.dots <= two.iron.dots
    assert three.iron.dots == 1


def test_a_joint_of_three_gets_a_window_of_its_own() -> None:
    two = make_seam(SeamQuestion(LABELS[:2]), window=True)
    three = make_seam(SeamQuestion(LABELS), window=True)
    assert two.press is not None
    assert three.press is not None
    assert three.press.window is not None
    said = three.press.window.seam
    assert any(ply.owner == "third cloth" for ply in said.plies)
