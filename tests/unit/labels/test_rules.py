"""The rule book and the rules refuse as they say."""

from __future__ import annotations

import pytest

from samite.kernel.errors import InputError, OutOfRangeError, TableError, UnknownNameError
from samite.kernel.evidence import Grade
from samite.labels import content, cords, flammability, nightwear
from samite.labels.rules.book import read_rule, rule, rules
from samite.services.calc_law import CALC_RULES
from samite.tables.fibres import fibres
from samite.tables.sources import source

GOOD = {"source": "cfr-16-1610", "locator": "x", "grade": "publication", "says": "{n:g} s", "n": 3}


def test_every_rule_says_its_numbers_in_words() -> None:
    for key, found in rules().items():
        assert found.text, key
        assert "{" not in found.text, key


def test_every_limit_is_in_the_words() -> None:
    silent = {
        (key, name)
        for key, found in rules().items()
        for name in found.limits
        if "{" + name not in found.says
    }
    assert not silent


def test_a_rule_from_memory_never_claims_to_be_read() -> None:
    for found in rules().values():
        if found.evidence.grade in (Grade.STANDARD, Grade.PUBLICATION):
            assert source(found.evidence.source).opened


def test_the_listed_fibres_are_in_the_fibre_table() -> None:
    assert rule("test-exemption-fibres").lists["fibres"] <= fibres().keys()


@pytest.mark.parametrize(
    "change",
    [
        {"source": ""},
        {"grade": "certain"},
        {"source": "en-14682"},  # not opened, so no publication
        {"n": {"a": 1}},
    ],
)
def test_a_broken_rule_is_refused(change: dict[str, object]) -> None:
    with pytest.raises(TableError):
        read_rule("r", {**GOOD, **change}, "rules/x.toml")


def test_a_good_rule_is_read() -> None:
    assert read_rule("r", GOOD, "rules/x.toml").text == "3 s"


def test_an_unknown_rule_gives_close_names() -> None:
    with pytest.raises(UnknownNameError) as caught:
        rule("play-costum")
    assert "play-costume" in caught.value.hint


def test_classes_at_their_edges() -> None:
    def raised(seconds: float, *, base: bool) -> str:
        return flammability.burn_class(surface="raised", burn_time_s=seconds, base_burns=base).value

    assert raised(7.0, base=True) == "Class 2"
    assert raised(7.01, base=True) == "Class 1"
    assert raised(4.0, base=True) == "Class 2"
    assert raised(3.99, base=True) == "Class 3"
    assert raised(3.99, base=False) == "Class 1"


def test_one_short_burn_time_in_ten_decides_nothing() -> None:
    one = flammability.burn_class(surface="plain", burn_time_s=2.0, burn_times=1)
    none = flammability.burn_class(surface="plain", burn_time_s=0.0, burn_times=0)
    assert (one.value, none.value) == ("inconclusive", "Class 1")


def test_the_spread_at_its_edges_errs_to_the_safe_side() -> None:
    assert flammability.play_costume_spread(spread_mm_s=9.99).value == "pass"
    assert "mark" not in flammability.play_costume_spread(spread_mm_s=9.99).value
    assert "Warning" in flammability.play_costume_spread(spread_mm_s=10.0).value
    assert "Warning" in flammability.play_costume_spread(spread_mm_s=30.0).value
    out = flammability.play_costume_spread(spread_mm_s=40.0, self_extinguishes=True)
    assert out.value == "pass"
    assert flammability.retail_code_spread(spread_mm_s=10.0).value == "pass"


def test_mass_exempts_at_its_limit_and_only_plain_cloth() -> None:
    limit = flammability.exempt_mass_gsm()
    assert limit == pytest.approx(88.15, abs=0.01)

    def value(surface: str, gsm: float) -> str:
        return flammability.exemption_from_test(
            surface=surface, mass_per_area_gsm=gsm, fibres=["silk"]
        ).value

    assert value("plain", limit) == "exempt (mass)"
    assert value("plain", limit - 0.01) == "not exempt (test needed)"
    assert value("raised", 900.0) == "not exempt (test needed)"


def test_unknown_fibres_are_no_listed_fibres() -> None:
    ruling = flammability.exemption_from_test(surface="plain", mass_per_area_gsm=30.0, fibres=[])
    assert ruling.value == "not exempt (test needed)"
    assert "not known" in ruling.because


def test_cleaned_cloth_has_no_mark() -> None:
    assert "may carry" not in flammability.unrefurbished_mark(customarily_cleaned=True).value


def test_cords_at_their_edges() -> None:
    for size, expected in ((12, "not allowed"), (13, "no rule for this size")):
        assert cords.us_drawstring(place="neck", size=size).value == expected
    assert cords.us_drawstring(place="waist", size=16).value.startswith("allowed to 75 mm")
    assert cords.eu_hood_cords(age_years=7, height_cm=134.0).value == "none allowed"
    assert (
        cords.eu_hood_cords(age_years=7, height_cm=135.0).value == "no drawstrings with free ends"
    )
    assert cords.eu_hood_cords(age_years=14).value == "no drawstrings with free ends"
    assert cords.eu_hood_cords(age_years=15).value == "no rule for this age"


def test_content_at_its_edges() -> None:
    assert content.us_minor_fibre(fibre="nylon", percent=5, has_function=False).value == (
        "must be named"
    )
    assert content.us_minor_fibre(fibre="nylon", percent=4.9, has_function=False).value == (
        "other fiber"
    )
    assert content.us_decoration(covered_percent=15.1).value == "must be named"
    assert "ornamentation" in content.us_ornamentation(percent=5.0).value
    assert content.us_ornamentation(percent=5.1).value == "must be named"
    assert content.eu_decorative(mass_percent=7.1).value == "must be named"
    assert content.eu_antistatic(mass_percent=2.1).value == "must be named"


@pytest.mark.parametrize(
    ("call", "error"),
    [
        (lambda: flammability.burn_class(surface="fuzzy", burn_time_s=3), UnknownNameError),
        (lambda: flammability.burn_class(surface="plain", burn_time_s=-1), OutOfRangeError),
        (lambda: flammability.burn_class_range(surface="plain", number=4), OutOfRangeError),
        (lambda: cords.us_drawstring(place="knee", size=8), UnknownNameError),
        (lambda: cords.eu_cord_scope(garment="tent"), UnknownNameError),
        (lambda: cords.eu_hood_cords(age_years=-1), OutOfRangeError),
        (lambda: content.us_decoration(covered_percent=101), OutOfRangeError),
        (lambda: content.eu_other_fibres(percent=9, together_percent=8), OutOfRangeError),
        (
            lambda: content.label_tolerance(region="mars", label_percent=1, found_percent=1),
            UnknownNameError,
        ),
        (lambda: nightwear.char_length(char_lengths_cm=[1.0]), InputError),
        (lambda: nightwear.char_length(char_lengths_cm=[float("nan")] * 5), OutOfRangeError),
        (lambda: nightwear.infant_garment(age_months=3, pieces_cm=[]), InputError),
    ],
)
def test_impossible_questions_are_refused(call: object, error: type[Exception]) -> None:
    with pytest.raises(error):
        call()


def test_every_named_rule_of_law_is_a_function_of_its_module() -> None:
    from samite.services import calc_law

    for place, _ in CALC_RULES.values():
        module, name = place.split(":")
        assert module == calc_law.__name__
        assert getattr(calc_law, name).__module__ == module
