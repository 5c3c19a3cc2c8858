"""What an answer about a joint says of itself: ranges, grades, what was taken, what would settle it."""

from __future__ import annotations

import pytest

from samite.services.seam import SeamQuestion, make_seam
from samite.services.seam_json import seam_json

JOINTS = [
    ("silk organza", "95% polyester 5% elastane stretch velvet"),
    ("wool coating", "wool coating", "cotton flannel"),
    ("leather 1.2 mm", "silk chiffon"),
    ("faux fur, long pile", "satin"),
    ("latex sheet 0.4 mm", "cotton jersey"),
]


def ask(*labels: str, **more: str) -> dict:
    return seam_json(make_seam(SeamQuestion(labels, **more)))


@pytest.mark.parametrize("labels", JOINTS)
def test_every_number_that_is_not_exact_has_a_range_with_a_grade(labels: tuple[str, ...]) -> None:
    answer = ask(*labels)
    exact = {"gives_way", "foot_lift_mm", "perforation"}
    assert set(answer["ranges"]) == set(answer["numbers"]) - exact
    for name, one in answer["ranges"].items():
        value = answer["numbers"][name]
        assert one["low"] <= value * 1.01
        assert one["high"] >= value * 0.99
        assert one["grade"] in {"guess", "common-practice"}
    strength = answer["ranges"]["strength_n_per_cm"]
    assert strength["high"] > 1.2 * strength["low"]


def test_a_thicker_doubt_makes_a_wider_range() -> None:
    stated = ask("wool coating, 500 g/m2, 2.0 mm", "cotton twill, 300 g/m2, 0.5 mm")
    guessed = ask("wool coating", "cotton twill")

    def width(answer: dict) -> float:
        one = answer["ranges"]["thickness_mm"]
        return one["high"] / one["low"]

    assert width(guessed) > width(stated)


def test_what_the_label_leaves_open_is_asked_first() -> None:
    answer = ask("latex sheet 0.4 mm", "cotton jersey")
    assert "woven or knitted" in " ".join(answer["cloths"][0]["unknown"])
    assert "woven or knit" in answer["tests"][0]["settles"]


def test_every_joint_comes_with_the_trials_that_settle_it() -> None:
    answer = ask("silk organza", "95% polyester 5% elastane stretch velvet")
    settles = " ".join(one["settles"] for one in answer["tests"])
    for word in ("needle", "strength", "slippage"):
        assert word in settles
    knit = ask("swimwear knit, 80% polyamide 20% elastane")
    assert any("stretch of the seam" in one["settles"] for one in knit["tests"])
    coat = ask("wool coating", "wool coating", "cotton flannel")
    assert any("crossing" in one["settles"] for one in coat["tests"])


def test_the_weight_of_the_pull_is_the_load_on_the_grab() -> None:
    # 12 N/cm on 25 mm is 30 N, 3.1 kg; ISO 13936-2 pulls 60 N on a strained seam (from memory).
    plain, fitted = ask("satin"), ask("satin", use="fitted")
    assert any("3.1 kg" in one["test"] for one in plain["tests"])
    assert any("6.1 kg" in one["test"] for one in fitted["tests"])


def test_a_thread_that_shrinks_more_than_the_cloth_puckers() -> None:
    room = 'format = "samite.workroom.v1"\n[[machine]]\nkind = "lockstitch"\n'
    nylon = room + '[[thread]]\nkind = "polyamide-textured"\ntex = 24\n'
    answer = ask("polyester taffeta", workroom=nylon)
    causes = {one["cause"]: one["excess_percent"] for one in answer["trouble"]["pucker"]["causes"]}
    plain = ask("polyester taffeta", workroom=room)
    usual = {one["cause"]: one["excess_percent"] for one in plain["trouble"]["pucker"]["causes"]}
    assert usual["thread shrinks"] == 0.0
    if answer["thread"]["kind"] == "polyamide-textured":
        assert causes["thread shrinks"] > 1.0
