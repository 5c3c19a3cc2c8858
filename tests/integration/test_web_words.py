"""Numbers and grades in the words of the page."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from samite.garment.use import WORDS, read_use
from samite.kernel.evidence import Grade
from samite.web.odds_view import what_ifs
from samite.web.use_view import FIRST, MORE, OPPOSITES, use_view
from samite.web.words import (
    GRADE_WORDS,
    damage_words,
    evidence_words,
    grade_words,
    in_units,
    number_words,
    set_words,
    source_words,
    stitch_words,
)


@pytest.mark.parametrize(
    ("metric", "imperial"),
    [  # 1 in = 25.4 mm, 1 oz/yd2 = 33.906 g/m2, 150 C = 302 F: definitions
        ("turn 20 mm once", "turn 13/16 in once"),
        ("trim to 4 to 6 mm", "trim to 3/16 to 1/4 in"),
        ("sew 20 cm", "sew 7 3/4 in"),
        ("about 150 cm", "about 59 in"),
        ("Nm 75 and 10 m of seam", "Nm 75 and 10 m of seam"),
        ("a cloth of 280 g/m2", "a cloth of 8.26 oz/yd²"),
        ("kept under 110 to 150 C", "kept under 230 to 300 °F"),
        ("30 mm/s at most", "30 mm/s at most"),
    ],
)
def test_measures_inside_sentences_are_converted(metric: str, imperial: str) -> None:
    assert in_units(metric, "imperial") == imperial


def test_metric_sentences_only_get_their_signs() -> None:
    assert in_units("20 mm, 280 g/m2, 150 C", "metric") == "20 mm, 280 g/m², 150 °C"


def test_a_limit_of_temperature_is_rounded_to_the_safe_side() -> None:
    assert number_words(150.0, "C", "imperial") == "300 °F"
    assert number_words(110.0, "C", "imperial") == "230 °F"


def test_stitches_are_counted_by_the_inch() -> None:
    assert stitch_words(2.5, "imperial") == "10 to the inch"
    assert stitch_words(2.5, "metric") == "2.5 mm"


@given(st.floats(0.0, 1.0))
def test_odds_are_never_shown_better_than_they_are(chance: float) -> None:
    assert int(set_words(chance).split()[0]) <= chance * 100 + 1e-6
    words = damage_words(chance)
    if "fewer" in words:
        assert chance <= 0.001
    elif words.startswith("1 costume"):
        assert 1.0 / int(words.split()[3]) >= chance - 1e-12
    else:
        assert int(words.split()[0]) >= chance * 100 - 1e-6


def test_every_grade_has_words() -> None:
    assert set(GRADE_WORDS) == {grade.value for grade in Grade}
    assert grade_words("guess") == "a guess"
    assert grade_words("") == ""


def test_sources_are_cited_by_title() -> None:
    assert evidence_words("common-practice", "common-practice") == "common practice"
    assert evidence_words("guess", "guess") == "a guess"
    assert evidence_words("cook-1984", "from-memory").endswith("(from memory, not checked)")
    assert "Cook" in evidence_words("cook-1984", "from-memory")
    assert source_words("cfr-16-1610, 1610.1(d)(1)").endswith("1610.1(d)(1)")
    assert source_words("something else") == "something else"


@pytest.mark.parametrize("word", [*FIRST, *MORE])
def test_every_choice_is_a_word_that_is_read(word: str) -> None:
    assert word in WORDS or read_use(word).wearings == 40
    said = use_view(f"five nights, {word}")
    assert (word, True) in (*said.first, *said.more)
    assert said.other == "five nights"


@pytest.mark.parametrize("pair", OPPOSITES)
def test_opposites_are_refused_together(pair: tuple[str, str]) -> None:
    with pytest.raises(Exception, match="contradicts"):
        read_use(", ".join(pair))


def slip(**other: object) -> dict[str, object]:
    usual = {"name": "no press cloth", "seconds": 4.0, "chance_set": 0.5, "chance_damage": 0.02}
    return usual | {"set_change": 0.0, "damage_change": 0.0, "barred": ""} | other


@pytest.mark.parametrize(
    ("item", "verdict", "worse"),
    [
        (slip(), "Sets as well, harms as much", False),
        (slip(set_change=-0.3, damage_change=0.015), "Sets less well, harms more", True),
        (slip(set_change=0.1, damage_change=-0.02), "Sets better, harms less", False),
        (slip(barred="it drips"), "Sets as well, harms as much. But it drips", True),
    ],
)
def test_a_slip_is_held_against_the_card(
    item: dict[str, object], verdict: str, worse: bool
) -> None:
    (found,) = what_ifs({"what_ifs": [item], "best_technique": {"iron": "low"}})
    assert (found.verdict, found.worse) == (verdict, worse)
    assert found.chance_set == "50 in 100 seams stay set"


def test_slips_say_what_they_change() -> None:
    names = ("one dot hotter", "twice as long", "without the hold")
    view = {"what_ifs": [slip(name=n) for n in names], "best_technique": {"iron": "low"}}
    told = [item.name for item in what_ifs(view)]
    assert told == [
        "one dot hotter: wool/silk, two dots",
        "twice as long: 4 s",
        "without the hold: let go after 4 s",
    ]
