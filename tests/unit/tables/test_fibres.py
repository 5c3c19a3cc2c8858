"""Fibres: own values, values lent by the class, refusals that name a test."""

from __future__ import annotations

import pytest

from samite.kernel.errors import UnknownError, UnknownNameError
from samite.kernel.evidence import Grade
from samite.kernel.keys import canonical_json
from samite.tables.fibres import GROUPS, fibre, fibre_classes, fibres
from samite.tables.loader import bounds, read_table

KEYS = [
    "cotton",
    "linen",
    "hemp",
    "ramie",
    "jute",
    "wool",
    "cashmere",
    "mohair",
    "silk",
    "viscose",
    "modal",
    "lyocell",
    "cupro",
    "acetate",
    "triacetate",
    "polyester",
    "polyester-ptt",
    "polyester-recycled",
    "polylactide",
    "polyamide",
    "polyamide-6",
    "polyamide-66",
    "acrylic",
    "modacrylic",
    "elastane",
    "polypropylene",
    "polyethylene",
    "chlorofibre",
    "aramid",
    "glass",
    "metallised-film",
    "metal",
    "polyurethane",
    "sequin-pet",
    "sequin-pvc",
    "adhesive-hotmelt",
]
ALWAYS = [
    "density_g_cm3",
    "regain_65rh_percent",
    "specific_heat_dry_j_gk",
    "conductivity_solid_w_mk",
    "ironing_limit_c",
    "dots",
]


@pytest.mark.parametrize("key", KEYS)
def test_every_material_of_costume_cloth_is_a_fibre(key: str):
    assert fibre(key).key == key


def test_every_fibre_has_a_known_group_and_class():
    for one in fibres().values():
        assert one.group in GROUPS
        assert one.fibre_class in fibre_classes()


def test_every_class_lists_fibres_and_known_parents():
    for class_ in fibre_classes().values():
        assert all(fibre(member) for member in class_.members)
        assert not class_.parent or class_.parent in fibre_classes()
        assert class_.widen >= 1.0


@pytest.mark.parametrize("name", ALWAYS)
def test_every_fibre_answers_what_pressing_needs(name: str):
    for one in fibres().values():
        quantity = one.quantity(name)
        limit = bounds()[name]
        assert limit.minimum <= quantity.low <= quantity.high <= limit.maximum
        assert quantity.unit == limit.unit


def test_every_fibre_that_melts_has_a_melting_point():
    for one in fibres().values():
        if one.melts:
            assert one.quantity("melting_c").value > 60.0
        else:
            assert not one.knows("melting_c")


def test_what_a_class_lends_spans_all_its_members():
    for one in fibres().values():
        members = [fibre(member) for member in fibre_classes()[one.fibre_class].members]
        for name in ALWAYS:
            known = [member.quantity(name) for member in members if member.knows(name)]
            if known and not one.knows(name):
                lent = one.quantity(name)
                assert lent.low <= min(quantity.low for quantity in known)
                assert lent.high >= max(quantity.high for quantity in known)
                assert lent.evidence.grade is Grade.GUESS


def test_a_fibre_without_a_value_takes_its_class_as_a_guess_with_a_wider_spread():
    lent = fibre("alpaca").quantity("density_g_cm3")
    own = fibre("wool").quantity("density_g_cm3")
    assert lent.low < own.low <= own.high < lent.high
    assert lent.evidence.grade is Grade.GUESS
    assert "class hair" in lent.evidence.locator


def test_a_class_without_a_value_asks_its_parent():
    lent = fibre("linen").quantity("conductivity_solid_w_mk")
    assert "class cellulose" in lent.evidence.locator


def test_lent_temperatures_are_widened_in_degrees():
    low = min(fibre(key).quantity("softening_c").low for key in ("polypropylene", "polyethylene"))
    assert fibre("olefin").quantity("softening_c").low == pytest.approx(low - 5.0)


def test_generic_polyamide_spans_both_polyamides():
    for name in ("melting_c", "softening_c", "tenacity_cn_tex", "ironing_limit_c"):
        generic = fibre("polyamide").quantity(name)
        for key in ("polyamide-6", "polyamide-66"):
            kind = fibre(key).quantity(name)
            assert generic.low <= kind.low <= kind.high <= generic.high


def test_pads_are_kept_apart_from_solid_polymers():
    pad = fibre("wool").quantity("conductivity_pad_w_mk")
    assert pad.high < fibre("wool").quantity("conductivity_solid_w_mk").low
    assert not fibre("polyester").knows("conductivity_pad_w_mk")


def test_a_fibre_that_does_not_melt_refuses_a_melting_point_and_names_a_test():
    with pytest.raises(UnknownError, match="cotton does not melt") as caught:
        fibre("cotton").quantity("melting_c")
    assert "bead" in caught.value.hint


def test_a_fibre_that_melts_refuses_a_decomposition_temperature():
    with pytest.raises(UnknownError, match="melts before"):
        fibre("polyester").quantity("decomposition_c")


def test_a_value_that_no_source_gives_is_refused():
    with pytest.raises(UnknownError, match="no source gives the tenacity") as caught:
        fibre("sequin-pet").quantity("tenacity_cn_tex")
    assert "burn test" in caught.value.hint


def test_an_unknown_property_and_an_unknown_fibre_are_refused_with_close_names():
    with pytest.raises(UnknownNameError) as caught:
        fibre("cotton").quantity("densty_g_cm3")
    assert "density_g_cm3" in caught.value.hint
    with pytest.raises(UnknownNameError) as caught:
        fibre("poliester")
    assert "polyester" in caught.value.hint


def test_no_silent_nearest_match():
    with pytest.raises(UnknownNameError):
        fibre("Cotton ")


def test_fibres_are_frozen_hashable_and_have_canonical_json():
    assert len({fibre("silk"), fibre("silk"), fibre("wool")}) == 2
    assert '"key":"silk"' in canonical_json(fibre("silk"))


def test_do_not_iron_fibres_have_no_dots_and_no_hot_limit():
    for key in ("polyethylene", "chlorofibre", "sequin-pvc", "glass"):
        assert fibre(key).quantity("dots").high == 0
        assert fibre(key).quantity("ironing_limit_c").high == 20


def test_the_iron_limit_stays_below_the_softening_or_melting_point():
    for one in fibres().values():
        if one.melts and one.knows("melting_c") and one.knows("ironing_limit_c"):
            limit = one.quantity("ironing_limit_c")
            assert limit.value < one.quantity("melting_c").value


def test_every_row_of_the_fibre_table_is_a_number():
    assert all(row.quantity is not None for row in read_table("fibres.csv", "fibre"))
