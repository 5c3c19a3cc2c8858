"""Fibre values against the printed tables of the check list (tests/published/textiles.csv)."""

from __future__ import annotations

import csv
import re
from pathlib import Path

import pytest

from samite.tables.fibres import fibre

CHECKS = (Path(__file__).parent / "textiles.csv").read_text(encoding="utf-8")
ROWS = {
    row["id"]: row for row in csv.DictReader(CHECKS.splitlines()) if row["id"].startswith("FIBR")
}
FIBRES = {
    "nylon 6.6": "polyamide-66",
    "nylon 6": "polyamide-6",
    "polyamide 6.6": "polyamide-66",
    "nylon": "polyamide",
    "polyester PET": "polyester",
    "PET": "polyester",
    "PVC fibre": "chlorofibre",
    "PVC": "chlorofibre",
    "PLA": "polylactide",
    "flax": "linen",
}
PROPERTIES = {
    "density": ("density_g_cm3",),
    "specific heat": ("specific_heat_dry_j_gk",),
    "tenacity and breaking extension": ("tenacity_cn_tex", "breaking_extension_percent"),
    "limiting oxygen index": ("oxygen_index_percent",),
    "melting point": ("melting_c",),
    "agreed allowance EU vs ASTM D1909": ("regain_eu_percent", "regain_astm_percent"),
}
# Sources of the rows: O-MH5, O-MH6, O-MH13 Morton and Hearle 2008, Tables 5.1, 6.1, 13.1 (read);
# O-LOIJ the abstract of a flammability paper (read); M-TI, M-HSL, M-HOR, M-EU9 and M-D1909 from
# memory.


def posed(what: str) -> tuple[str, tuple[str, ...]]:
    """Turn the words of a row into the fibre and the properties that it asks for."""
    asked, _, name = re.sub(r" at (65|room).*", "", what).replace(": ", " of ").partition(" of ")
    name = name.removeprefix("dry ").strip()
    return FIBRES.get(name, name), PROPERTIES[asked.strip()]


def test_the_check_list_has_fibre_rows():
    assert len(ROWS) >= 31


@pytest.mark.parametrize("key", sorted(ROWS))
def test_value_equals_the_printed_one(key: str):
    row = ROWS[key]
    name, properties = posed(row["what"])
    expected = [part.strip() for part in row["expected"].split(";")]
    assert len(expected) == len(properties)
    for part, name_of in zip(expected, properties, strict=True):
        quantity = fibre(name).quantity(name_of)
        if row["tolerance"] == "range":
            low, high = (float(number) for number in part.split("-"))
            assert quantity.low <= high
            assert quantity.high >= low
        else:
            assert quantity.value == pytest.approx(float(part), abs=tolerance(row, part))


def tolerance(row: dict[str, str], printed: str) -> float:
    if row["tolerance"] == "exact":
        return 1e-9
    if row["tolerance"] == "as table":
        decimals = len(printed.partition(".")[2])
        return 0.5 * 10.0**-decimals
    return float(row["tolerance"])


@pytest.mark.parametrize("key", sorted(ROWS))
def test_a_value_graded_as_read_is_not_graded_better_than_its_row(key: str):
    row = ROWS[key]
    name, properties = posed(row["what"])
    for name_of in properties:
        grade = fibre(name).quantity(name_of).evidence.grade.value
        if row["grade"] == "from-memory":
            assert grade == "from-memory"
        else:
            assert grade in ("publication", "from-memory")


def test_baxter_1946_keratin_conductivity():
    # Baxter 1946, abstract (read): 4.62e-4 cal/(cm s K) at 0.7 % and 5.32e-4 at 10.7 % regain
    quantity = fibre("wool").quantity("conductivity_solid_w_mk")
    assert quantity.low == pytest.approx(4.62e-4 * 418.4, abs=0.0005)
    assert quantity.high == pytest.approx(5.32e-4 * 418.4, abs=0.0005)


@pytest.mark.parametrize(("name", "printed"), [("cotton", 0.071), ("wool", 0.054), ("silk", 0.050)])
def test_pads_at_half_a_gram_per_cubic_centimetre(name: str, printed: float):
    # lecture list (read), the numbers of Morton and Hearle chapter 6
    assert fibre(name).quantity("conductivity_pad_w_mk").value == printed


@pytest.mark.parametrize(
    ("name", "printed"),
    [
        ("chlorofibre", 0.16),
        ("acetate", 0.23),
        ("polyamide", 0.25),
        ("polyester", 0.14),
        ("polyethylene", 0.34),
        ("polypropylene", 0.12),
    ],
)
def test_solid_polymers(name: str, printed: float):
    # lecture list (read), the numbers of Morton and Hearle chapter 6
    assert fibre(name).quantity("conductivity_solid_w_mk").value == printed
