"""Sources are listed and truthfully marked; no grade claims more than was read."""

from __future__ import annotations

import importlib.util
from pathlib import Path

import pytest

from samite.kernel.errors import UnknownNameError
from samite.kernel.evidence import Grade
from samite.tables.loader import read_table
from samite.tables.sources import source, sources

ROOT = Path(__file__).parents[3]
KINDS = {"standard", "regulation", "book", "paper", "page", "practice", "definition", "own", "data"}
NEEDED = [
    "label",
    "guess",
    "common-practice",
    "needle-trade-rule",
    "definition",
    "derivation",
    "iso-3758-2012",
    "iso-4915-1991",
    "iso-4916-1991",
    "iso-2076-2013",
    "iso-6938-2012",
    "iso-5084",
    "iso-3801",
    "iso-1144",
    "cfr-16-303",
    "cfr-16-1610",
    "eu-1007-2011",
    "astm-d1683",
    "wood-handbook-fpl-gtr-190",
    "carslaw-jaeger-1959",
    "incropera-dewitt",
    "iapws-95",
    "schuhmeister-1877",
    "maxwell-eucken",
    "baxter-1946",
    "penava-2014",
    "peirce-1937",
    "iasri-course",
    "en-14682",
    "astm-f1816",
    "en-71-2",
]


def unchecked():
    path = ROOT / "tools" / "write_unchecked.py"
    spec = importlib.util.spec_from_file_location("write_unchecked", path)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.mark.parametrize("key", NEEDED)
def test_the_sources_that_every_part_cites_are_listed(key: str):
    assert source(key).title


def test_every_source_is_complete():
    for entry in sources().values():
        assert entry.kind in KINDS
        assert entry.title
        assert isinstance(entry.opened, bool)


def test_an_unknown_source_is_refused_with_close_keys():
    with pytest.raises(UnknownNameError) as caught:
        source("baxter-1964")
    assert "baxter-1946" in caught.value.hint


def test_a_source_that_was_not_opened_says_so():
    assert str(source("cook-1984")).endswith("(cited from memory)")
    assert "from memory" not in str(source("baxter-1946"))


OWN_TABLES = ["fibres.csv", "press_cloths.csv", "supports.csv", "irons.csv"]


@pytest.mark.parametrize("table", OWN_TABLES)
def test_no_value_claims_to_be_read_in_a_source_that_was_not_opened(table: str):
    tables = unchecked().value_tables()
    claimed = [
        f"{table}:{row.line}"
        for row in read_table(table, tables[table])
        if row.evidence.grade in (Grade.STANDARD, Grade.PUBLICATION)
        and not source(row.evidence.source).opened
    ]
    assert not claimed


def test_the_page_of_values_to_check_is_up_to_date():
    module = unchecked()
    assert module.PAGE.read_text(encoding="utf-8") == module.page(), "run tools/write_unchecked.py"


def test_the_page_lists_a_value_from_memory_and_omits_one_that_was_read():
    page = unchecked().page()
    assert "| polyester | melting_c | 256 (249 to 260) C | from-memory |" in page
    assert "| acrylic | dots" not in page
    assert "| wool | density_g_cm3" not in page
