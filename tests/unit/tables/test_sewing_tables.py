"""The tables of sewing hold together: what one names, another has."""

from __future__ import annotations

import pytest

from samite.kernel.errors import TableError, UnknownNameError
from samite.seam.forms import FORMS, NOT_FOR_SEAMS, STITCHES_OF_FORM
from samite.seam.make_candidates import FINISHES
from samite.seam.needle import STANDARD_SIZES
from samite.seam.needle_size import needle_sizes
from samite.seam.on_hand import SUITS
from samite.seam.points import POINTS
from samite.seam.settle import FEET
from samite.tables.fibres import fibre
from samite.tables.sewing import SEWING_TABLES, sewing_entries, sewing_entry


@pytest.mark.parametrize("kind", SEWING_TABLES)
def test_every_table_is_read_and_each_entry_has_a_value(kind: str) -> None:
    found = sewing_entries(kind)
    assert found
    for entry in found.values():
        assert entry.rows
        for row in entry.rows.values():
            assert row.evidence.source


def test_every_form_and_stitch_of_the_choice_is_in_the_tables() -> None:
    stitches = sewing_entries("stitch")
    assert set(FORMS) <= set(sewing_entries("seam"))
    assert set(STITCHES_OF_FORM) == set(FORMS)
    for names in STITCHES_OF_FORM.values():
        assert names <= set(stitches)
    used = set().union(*STITCHES_OF_FORM.values())
    assert used | set(NOT_FOR_SEAMS) == set(stitches), "a stitch is neither used nor refused"
    assert not used & set(NOT_FOR_SEAMS)


def test_every_stitch_is_made_by_a_machine_or_said_to_be_industrial() -> None:
    made = {s for m in sewing_entries("machine").values() for s in m.word("stitches").split()}
    assert set(sewing_entries("stitch")) - made == {"607"}


def test_what_sews_a_seam_has_what_its_numbers_need() -> None:
    for name in set().union(*STITCHES_OF_FORM.values()):
        entry = sewing_entry("stitch", name)
        assert entry.has("loop_factor"), name
        assert entry.has("thread_constant") or entry.has("zigzag_steps"), name


def test_points_sizes_feet_finishes_and_threads_are_in_the_tables() -> None:
    assert set(POINTS) <= set(sewing_entries("point"))
    assert tuple(size.size_nm for size in needle_sizes()) == STANDARD_SIZES
    assert set(FEET) <= set(sewing_entries("foot"))
    assert {*FINISHES, "french", "felled"} <= set(sewing_entries("finish"))
    for key in SUITS:
        assert fibre(sewing_entry("thread", key).word("fibre"))


def test_an_unknown_name_is_refused_with_what_is_near() -> None:
    with pytest.raises(UnknownNameError, match="no table"):
        sewing_entries("shoe")
    with pytest.raises(UnknownNameError) as caught:
        sewing_entry("foot", "walkin")
    assert "walking" in caught.value.hint
    entry = sewing_entry("stitch", "301")
    assert not entry.has("width_mm")
    with pytest.raises(TableError, match="width_mm"):
        entry.number("width_mm")
    with pytest.raises(TableError, match="not a number"):
        entry.quantity("name")
    assert entry.evidence("name").grade.value == "publication"
