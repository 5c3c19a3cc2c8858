"""Laws of iron profiles: what is written is read back; nothing crashes; measuring narrows."""

from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from samite.kernel.errors import InputError
from samite.readers.iron_file import read_iron
from samite.services.iron import iron_from_fields, iron_json, iron_words, load_iron
from samite.tables.irons import KINDS, household_iron

pytestmark = pytest.mark.property

WORDS = st.text(st.characters(categories=["L", "N"], max_codepoint=0x24F), min_size=1, max_size=20)
RANGES = ((60.0, 110.0), (115.0, 155.0), (165.0, 230.0))


@st.composite
def profiles(draw: st.DrawFn) -> dict[str, object]:
    names = draw(st.lists(WORDS, min_size=3, max_size=3, unique_by=str.casefold))
    dial = {}
    for dots, ((low, high), name) in enumerate(zip(RANGES, names, strict=True), start=1):
        middle = draw(st.floats(low, high))
        offsets = draw(st.lists(st.floats(-10, 10), min_size=1, max_size=5))
        dial[name] = {"dots": dots, "readings_c": [middle + x for x in offsets]}
    means = [sum(x["readings_c"]) / len(x["readings_c"]) for x in dial.values()]
    if means != sorted(means) or len(set(means)) < 3:
        dial = {}
    profile: dict[str, object] = {"name": draw(WORDS), "kind": "iron", "dial": dial}
    if dial and draw(st.booleans()):
        profile["steams_from"] = draw(st.sampled_from([*dial, "never"]))
    profile["mass_kg"] = draw(st.floats(0.3, 3.0))
    profile["sole_area_cm2"] = draw(st.floats(50.0, 400.0))
    profile["hold"] = {"clapper": draw(st.booleans())}
    return profile


def written(profile: dict[str, object]) -> str:
    """Write a profile as a person would."""
    lines = ['format = "samite.iron.v1"']
    sections = []
    for key, value in profile.items():
        if key == "dial":
            for word, held in value.items():
                sections.append(f"[dial.{json.dumps(word)}]")
                sections += [f"{name} = {json.dumps(item)}" for name, item in held.items()]
        elif isinstance(value, dict):
            sections.append(f"[{key}]")
            sections += [f"{name} = {json.dumps(item)}" for name, item in value.items()]
        else:
            lines.append(f"{key} = {json.dumps(value)}")
    return "\n".join([*lines, *sections])


@given(profiles())
def test_a_written_profile_is_read_back(profile: dict[str, object]) -> None:
    iron = load_iron(written(profile))
    assert iron.name == profile["name"]
    assert iron.mass_kg.value == profile["mass_kg"]
    assert iron.has_clapper == profile["hold"]["clapper"]
    for word, held in profile["dial"].items():
        position = iron.settings[held["dots"] - 1]
        assert position.measured
        assert position.word == " ".join(word.split())
        readings = held["readings_c"]
        assert position.sole_c.value == pytest.approx(sum(readings) / len(readings))
    if profile.get("steams_from") == "never":
        assert iron.steams_from is None
    elif "steams_from" in profile:
        dots = profile["dial"][profile["steams_from"]]["dots"]
        assert iron.steams_from == ("low", "medium", "high")[dots - 1]
    assert hash(iron) == hash(load_iron(written(profile)))


@given(profiles())
def test_measuring_narrows_and_a_dial_rises(profile: dict[str, object]) -> None:
    # Readings within 20 K of each other; further apart they may say less than the standard does.
    iron, usual = load_iron(written(profile)), household_iron()
    for mine, theirs in zip(iron.settings, usual.settings, strict=True):
        span = theirs.sole_c.high - theirs.sole_c.low
        assert mine.sole_c.high - mine.sole_c.low <= span
    means = [item.sole_c.value for item in iron.settings]
    assert means == sorted(means)
    json.dumps(iron_json(iron), allow_nan=False)
    assert iron_words(iron)


@given(st.text(max_size=300))
def test_any_text_is_answered_with_problems(text: str) -> None:
    iron, problems = read_iron(text)
    assert (iron is None) == bool(problems)
    assert all(item.what and item.where and item.line >= 1 for item in problems)


VALUES = st.recursive(
    st.none().map(lambda _: 0) | st.booleans() | st.integers() | st.floats() | st.text(max_size=20),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(WORDS, inner, max_size=3),
    max_leaves=6,
)
KEYS = ["name", "kind", "dial", "steams_from", "steam_g_min", "mass_kg", "pressure_kpa", "board"]


@given(st.dictionaries(st.sampled_from(KEYS), VALUES), st.sampled_from(KINDS))
def test_any_value_under_a_known_key_is_taken_or_told(
    document: dict[str, object], kind: str
) -> None:
    from samite.readers.iron_file import read_iron_document

    whole = {"format": "samite.iron.v1", "kind": kind, **document}
    iron, problems = read_iron_document(whole, {})
    assert (iron is None) == bool(problems)


@given(st.text(max_size=30), st.text(max_size=30), st.text(max_size=30), st.text(max_size=8))
def test_a_form_is_taken_or_refused_in_the_one_shape(
    low: str, medium: str, high: str, steams: str
) -> None:
    said: object
    try:
        said = iron_from_fields({"low": low, "medium": medium, "high": high}, steams).key
    except InputError as error:
        said = bool(error.message and error.where and error.hint)
    assert said in ("own", True)
