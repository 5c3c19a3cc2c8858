"""63 cloths joined to themselves, to a lining and to a contrary partner (common practice, no source).

A joint is accepted where the row of either cloth accepts it, or where it lies between the two.
"""

from __future__ import annotations

import pytest
from tests.practice.pairs import LINING, ROWS, cloth, contrary, joined, lost_columns, pairs

from samite.garment.use import Use, read_use
from samite.garment.workroom import usual_workroom
from samite.seam.gathering import gathering_class
from samite.seam.together import choose_joint
from samite.services.card import card_json, make_card

EXPLAINED = {
    ("neoprene", LINING): {"seam"},
    ("neoprene", "swim_spandex"): {"seam"},
    ("bullion_fringe", LINING): {"holding"},
    ("bullion_fringe", "power_mesh"): {"finish"},
    ("eva_foam", LINING): {"seam"},
    ("eva_foam", "swim_spandex"): {"seam"},
    ("sewin_interfacing", "power_mesh"): {"finish"},
}
"""Pairs in which a column is not accepted; docs/validation.md says why."""

PAIRS = list(pairs())


@pytest.mark.parametrize(("kind", "one", "other"), PAIRS, ids=lambda word: word)
def test_a_joint_is_accepted_by_the_row_of_one_of_its_cloths(
    kind: str, one: str, other: str
) -> None:
    answer = joined(one, other)
    assert answer.ways, f"{one} and {other}: {answer.why}"
    lost = lost_columns(answer, ROWS[one], ROWS[other])
    if kind == "itself":
        single = make_card(ROWS[one]["cloth"])
        same = single.sewing
        best = answer.ways[0].candidate
        assert best.seam.type == same.seam.value.type
        assert best.stitch.type == same.stitch.value.type
        assert answer.settled.needle.point == same.needle.value.point
        assert answer.settled.needle.size_nm == same.needle.value.size_nm
        assert answer.settled.tex.value == card_json(single)["thread"]["tex"]
        return
    assert lost <= EXPLAINED.get((one, other), set()), f"{one} to {other}: {sorted(lost)}"


def test_almost_every_joint_is_accepted_in_every_column() -> None:
    unlike = [pair for pair in PAIRS if pair[0] != "itself"]
    clean = [p for p in unlike if not lost_columns(joined(p[1], p[2]), ROWS[p[1]], ROWS[p[2]])]
    assert len(clean) == len(unlike) - len(EXPLAINED)


def test_every_explained_pair_is_one_that_is_tried() -> None:
    tried = {(one, other) for _, one, other in PAIRS}
    assert set(EXPLAINED) <= tried


@pytest.mark.parametrize(
    ("cloths", "lies"),
    [
        # Common practice: allowances behind a sheer are laid toward the opaque cloth.
        (("silk_organza", "stretch_velvet"), "stretch velvet"),
        (("soft_tulle", "brocade"), "brocade"),
        (("chiffon", "duchesse_satin"), "duchesse satin"),
    ],
)
def test_allowances_lie_behind_the_opaque_cloth(cloths: tuple[str, str], lies: str) -> None:
    answer = joined(*cloths)
    assert lies in answer.ways[0].candidate.lies


def test_a_skin_laps_over_what_frays() -> None:
    # Common practice: leather, vinyl, felt and lace are lapped, their cut edge on top.
    answer = choose_joint(
        (make_card("leather 1.2 mm").cloth, cloth("chiffon")), Use(), usual_workroom()
    )
    best = answer.ways[0].candidate
    assert best.seam.type == "LSa"
    assert best.upper == 0


def test_a_french_seam_is_not_set_round_a_curve() -> None:
    # A Complete Course in Dressmaking, c. 1921: not on tight curves, not in thick cloth.
    straight = joined("chiffon", "chiffon")
    curved = choose_joint((cloth("chiffon"),) * 2, read_use("curved"), usual_workroom())
    assert straight.ways[0].candidate.form == "SSae"
    assert all(way.candidate.form != "SSae" for way in curved.ways)


def test_gathering_classes_by_cloth() -> None:
    # Common practice: chiffon three to one, net for volume, film is folded.
    assert gathering_class(cloth("chiffon")) == "sheer"
    assert gathering_class(cloth("stiff_net")) == "net"
    assert gathering_class(cloth("vinyl")) == "film"
    assert gathering_class(cloth("brocade")) == "heavy"


def test_contrary_partners_differ_in_kind() -> None:
    assert contrary("stretch_velvet") == "silk_organza"
    assert contrary("vinyl") == "swim_spandex"
