"""Cautions and rescues: their shape, their refusals, and what the use may say."""

from __future__ import annotations

import pytest
from tests.practice.cloths import cloth

from samite.garment.use import Use, read_use
from samite.kernel.errors import InputError, OutOfRangeError, TableError, UnknownNameError
from samite.kernel.evidence import Grade
from samite.labels import rescue as rescues
from samite.labels.rescue import rescue, troubles
from samite.labels.rules.caution import KINDS
from samite.labels.safety import Caution, find_cautions
from samite.labels.traits import ACTS, TRAITS, forbidden_acts
from samite.tables.sources import sources
from samite.tables.structures import structures

EVERYTHING = read_use("child of 2, mask, hood, train, nightwear, cords, candles, on skin")


@pytest.mark.parametrize("key", list(structures()))
def test_every_structure_is_warned_of_with_sources_that_exist(key: str) -> None:
    found = find_cautions(cloth(key), EVERYTHING, ironed=True)
    assert any(item.kind == "flame" for item in found)
    for item in found:
        assert isinstance(item, Caution)
        assert item.kind in KINDS
        assert item.source.split(",")[0] in sources()
        assert item.grade in set(Grade)
        assert set(item.as_dict()) == {"kind", "text", "source", "grade"}
        assert "{" not in item.text


def test_no_two_cautions_say_the_same() -> None:
    for key in structures():
        found = [item.text for item in find_cautions(cloth(key), EVERYTHING, ironed=True)]
        assert len(found) == len(set(found)), key


def test_two_cloths_do_not_get_the_same_flame_text() -> None:
    light = find_cautions(cloth("lawn", 70, {"cotton": 100}), Use(), ironed=False)
    heavy = find_cautions(cloth("lawn", 71, {"cotton": 100}), Use(), ironed=False)
    assert light[0].text != heavy[0].text


def test_the_use_reads_the_new_words() -> None:
    use = read_use("child of 6, mask, hood and long hem, performance")
    assert (use.child, use.age_years) == (True, 6)
    assert (use.mask, use.head, use.train, use.performance) == (True, True, True, True)
    assert read_use("aged 30").child is False
    assert read_use("6 years old").age_years == 6
    assert read_use("lined, on skin, one night") == Use(lined=True, on_skin=True, wearings=1)


@pytest.mark.parametrize(
    ("text", "error"),
    [
        ("child of 200", OutOfRangeError),
        ("child, child of 30", InputError),
        ("6", UnknownNameError),
        ("moonlight", UnknownNameError),
    ],
)
def test_the_use_refuses(text: str, error: type[Exception]) -> None:
    with pytest.raises(error):
        read_use(text)


@pytest.mark.parametrize("key", list(troubles()))
def test_no_step_does_what_the_cloth_does_not_bear(key: str) -> None:
    trouble = troubles()[key]
    met = 0
    for name in structures():
        made = cloth(name)
        if not trouble.happens_to(made):
            continue
        met += 1
        found = rescue(trouble.words[0], made) if _only(trouble.words[0], made, key) else None
        if found is None:
            continue
        assert found.steps, name
        assert not {step.act for step in found.steps} & forbidden_acts(made).keys(), name
        for item in found.left_out:
            assert item.because
        assert found.stop
    assert met, "it happens to no cloth at all"


def _only(word: str, made: object, key: str) -> bool:
    try:
        return rescues.find_trouble(word, made).key == key
    except InputError:
        return False


def test_every_trouble_is_found_by_its_own_words_on_some_cloth() -> None:
    for key, trouble in troubles().items():
        made = [cloth(name) for name in structures()]
        fitting = next(item for item in made if trouble.happens_to(item))
        assert any(_only(word, fitting, key) for word in trouble.words), key


def test_every_act_is_used_by_some_step_and_every_trait_by_some_rule() -> None:
    steps = [step for trouble in troubles().values() for step in trouble.steps]
    used = {name for step in steps for name in step.when | step.unless}
    used |= {name for trouble in troubles().values() for name in trouble.of}
    assert {step.act for step in steps} - {""} == set(ACTS)
    assert used == set(TRAITS)


def test_an_unknown_trouble_lists_the_known_ones() -> None:
    with pytest.raises(UnknownNameError) as caught:
        rescue("moths", cloth("lawn"))
    assert "puckered seam" in caught.value.hint


def test_a_trouble_that_cannot_happen_is_refused() -> None:
    with pytest.raises(InputError, match="does not happen"):
        rescue("crushed pile", cloth("lawn"))


def test_words_that_fit_two_troubles_ask_which() -> None:
    with pytest.raises(InputError, match="fits"):
        rescue("Glazed, scorch!", cloth("lawn", 80, {"cotton": 100}))


def test_the_answer_as_json_says_why_and_how_sure() -> None:
    found = rescue("puckered seam", cloth("vinyl")).as_dict()
    assert found["key"] == "pucker"
    assert all({"do", "why", "source", "grade"} == set(step) for step in found["steps"])
    assert any("PVC" in item["because"] for item in found["left_out"])


def test_hot_steps_bring_the_caution_of_heat_and_cold_ones_do_not() -> None:
    ironed = rescue("puckered seam", cloth("lawn", 80, {"cotton": 100}))
    cold = rescue("glitter lifted", cloth("glitter-tulle"))
    assert "heat" in [item.kind for item in ironed.cautions]
    assert "heat" not in [item.kind for item in cold.cautions]


@pytest.mark.parametrize(
    "entry",
    [
        {"act": "boil"},
        {"grade": "certain"},
        {"when": ["hairy"]},
    ],
)
def test_a_broken_step_is_refused(entry: dict[str, object]) -> None:
    with pytest.raises(TableError):
        rescues._step("k", {"do": "a", "why": "b", **entry})
