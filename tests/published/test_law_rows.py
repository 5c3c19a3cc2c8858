"""Every row of law in the check table is posed to the rules; source and grade stand in the row."""

from __future__ import annotations

import csv
import re
from collections.abc import Callable
from pathlib import Path

import pytest

from samite.kernel.evidence import Grade
from samite.services import calc_law as law
from samite.services.calc_tables import Sourced
from samite.tables.sources import source

TABLE = Path(__file__).with_name("textiles.csv")

ASKED: dict[str, Callable[[], Sourced]] = {
    "LAW001": lambda: law.burn_class(surface="plain", burn_time_s=3.5),
    "LAW002": lambda: law.burn_class(surface="plain", burn_time_s=3.4, burn_times=2),
    "LAW004": lambda: law.burn_class(surface="raised", burn_time_s=7.1, base_burns=True),
    "LAW005": lambda: law.burn_class(surface="raised", burn_time_s=5.0, base_burns=True),
    "LAW007": lambda: law.burn_class(surface="raised", burn_time_s=2.0, base_burns=False),
    "LAW008": lambda: law.burn_class_range(surface="plain", number=2),
    "LAW010": lambda: law.exemption_from_test(
        surface="plain", mass_per_area_gsm=35.0, fibres="silk"
    ),
    "LAW011": lambda: law.exemption_from_test(
        surface="plain", mass_per_area_gsm=30.0, fibres="polyester"
    ),
    "LAW013": lambda: law.exemption_from_test(
        surface="raised", mass_per_area_gsm=200.0, fibres="rayon"
    ),
    "LAW014": lambda: law.unrefurbished_mark(customarily_cleaned=False),
    "LAW016": lambda: law.play_costume_spread(spread_mm_s=31.0),
    "LAW017": lambda: law.play_costume_spread(spread_mm_s=20.0),
    "LAW019": lambda: law.retail_code_spread(spread_mm_s=12.0),
    "LAW020": lambda: law.us_drawstring(place="hood", size=8),
    "LAW022": lambda: law.eu_hood_cords(age_years=6),
    "LAW023": lambda: law.eu_cord_scope(garment="theatrical"),
    "LAW026": lambda: law.us_minor_fibre(fibre="spandex", percent=4.0, has_function=True),
    "LAW028": lambda: law.us_decoration(covered_percent=14.0),
    "LAW029": lambda: law.law_in_words(rule="us-elastic"),
    "LAW031": lambda: law.eu_decorative(mass_percent=7.0),
    "LAW032": lambda: law.eu_antistatic(mass_percent=2.0),
    "LAW034": lambda: law.law_in_words(rule="eu-tolerance"),
    "LAW035": lambda: law.law_in_words(rule="eu-other-fibres"),
    "LAW037": lambda: law.law_in_words(rule="infant-garment"),
    "LAW038": lambda: law.law_in_words(rule="char-length"),
}


def law_rows() -> dict[str, dict[str, str]]:
    with TABLE.open(encoding="utf-8", newline="") as file:
        return {row["id"]: row for row in csv.DictReader(file) if row["topic"] == "law"}


ROWS = law_rows()


def bare(text: str) -> str:
    """Drop remarks: what stands in parentheses or after a semicolon that is no list of limits."""
    kept = re.sub(r"\s*\([^)]*\)", "", text)
    return kept.split("; disguise")[0].strip().casefold()


def test_every_row_of_law_is_posed() -> None:
    assert ROWS
    assert sorted(ASKED) == sorted(ROWS)


@pytest.mark.parametrize("row_id", ASKED)
def test_the_rule_agrees_with_the_row(row_id: str) -> None:
    row, answer = ROWS[row_id], ASKED[row_id]()
    told = (
        f"{row_id} {row['what']} {row['inputs']}: {row['expected']} [{row['source']};"
        f" {row['grade']}]; the product says {answer.value} [{answer.evidence}]"
    )
    assert bare(str(answer.value)) == bare(row["expected"]), told


@pytest.mark.parametrize("row_id", ASKED)
def test_the_rule_is_graded_no_better_than_the_row(row_id: str) -> None:
    row, answer = ROWS[row_id], ASKED[row_id]()
    assert answer.evidence.grade.rank >= Grade(row["grade"]).rank
    assert source(answer.evidence.source).title


def test_the_remarks_in_the_rows_hold_too() -> None:
    """What stands in parentheses: the exemption's reason, the limit, the disguise costume."""
    assert ASKED["LAW010"]().value == ROWS["LAW010"]["expected"]
    assert ASKED["LAW011"]().value == ROWS["LAW011"]["expected"]
    assert ASKED["LAW019"]().value == ROWS["LAW019"]["expected"]
    assert ASKED["LAW038"]().value == ROWS["LAW038"]["expected"]
    assert law.eu_cord_scope(garment="disguise").value == "yes"


def test_the_limits_of_the_rows_in_words_are_those_that_decide() -> None:
    """LAW029, 034, 035, 037 and 038 state limits: each is tried on both of its sides."""
    assert "exclusive of elastic" in str(law.us_elastic(covered_percent=20.0).value)
    assert law.us_elastic(covered_percent=20.1).value == "must be named"
    near = {"region": "eu", "label_percent": 40.0}
    assert law.label_tolerance(found_percent=37.0, **near).value == "within tolerance"
    assert law.label_tolerance(found_percent=36.9, **near).value == "outside tolerance"
    assert law.eu_other_fibres(percent=5.0, together_percent=20.0).value == "other fibres"
    assert law.eu_other_fibres(percent=6.0, together_percent=15.0).value == "other fibres"
    assert law.eu_other_fibres(percent=5.1, together_percent=15.1).value == "must be named"
    for age, pieces, expected in (
        (9, [64.8], "infant garment"),
        (9, [64.9], "not an infant garment"),
        (10, [60.0], "not an infant garment"),
        (9, [40.0, 40.0], "infant garment"),
        (9, [40.0, 40.1], "not an infant garment"),
    ):
        assert law.infant_garment(age_months=age, pieces_cm=pieces).value == expected
    assert law.char_length(char_lengths_cm=[17.8] * 5).value == "pass"
    assert law.char_length(char_lengths_cm=[17.9] * 5).value == "fail"
    assert law.char_length(char_lengths_cm=[25.4, 1.0, 1.0, 1.0, 1.0]).value == "fail"


def test_the_guide_to_us_tolerance_gives_37_to_43_percent_for_40() -> None:
    """FTC guide's example to 16 CFR 303.43, from memory; none for a single fibre."""
    for found, within in ((37.0, True), (43.0, True), (36.0, False), (44.0, False)):
        ruling = law.label_tolerance(region="us", label_percent=40.0, found_percent=found)
        assert (ruling.value == "within tolerance") is within
    pure = law.label_tolerance(region="us", label_percent=100.0, found_percent=98.0)
    assert pure.value == "outside tolerance"


def test_us_ornamentation_of_5_percent_may_be_left_out() -> None:
    """16 CFR 303.26, from memory; the wool twin 300.16 was read."""
    at_most = law.us_ornamentation(percent=5.0)
    assert at_most.value == 'may be left out with "exclusive of ornamentation"'
    assert at_most.evidence.grade is Grade.FROM_MEMORY
    assert law.us_ornamentation(percent=5.1).value == "must be named"
