"""The tables of structures and surfaces load, are complete and find their names."""

from __future__ import annotations

import pytest

from samite.kernel.errors import UnknownNameError
from samite.kernel.evidence import Grade
from samite.tables.fibres import fibres
from samite.tables.loader import read_toml
from samite.tables.structures import (
    NEEDED,
    find_structures,
    is_kind_of,
    structure,
    structures,
)
from samite.tables.surfaces import find_surfaces, surface, surfaces


def test_there_are_the_63_cloths_of_practice_and_at_least_70_more() -> None:
    assert len(structures()) >= 63 + 70


@pytest.mark.parametrize("key", sorted(structures()))
def test_every_structure_is_complete_and_honest(key: str) -> None:
    item = structure(key)
    for name in NEEDED:
        assert item.quantity(name).evidence.grade in (Grade.COMMON_PRACTICE, Grade.GUESS)
    assert item.quantity("mass_per_area_gsm").high / item.quantity("mass_per_area_gsm").low > 1.1
    assert all(fibre in fibres() for part in item.parts for fibre, _ in part.fibres)
    assert item.has("pile_height_mm") or all(part.part != "pile" for part in item.parts)


def test_packing_of_every_cloth_is_physical() -> None:
    """Solid matter of 0.9 to 2 g/cm3 cannot fill more than the thickness (common sense)."""
    for item in structures().values():
        mass, thickness = item.quantity("mass_per_area_gsm"), item.quantity("thickness_mm")
        bulk_g_cm3 = mass.value / thickness.value / 1000.0
        assert bulk_g_cm3 < 1.6, item.key


def test_no_name_is_listed_twice() -> None:
    names = [name for item in structures().values() for name in item.aliases]
    assert len(names) == len(set(names))


def test_the_longest_name_wins() -> None:
    keys = [match.key for match in find_structures("crepe back satin")]
    assert keys == ["crepe-back-satin"]


def test_places_are_those_of_the_text_as_typed() -> None:
    text = "½ Crêpe-back Satin"
    match = find_structures(text)[0]
    assert text[match.start : match.end] == "Crêpe-back Satin"


def test_names_are_whole_words() -> None:
    assert find_structures("netted velvety satinised") == []


@pytest.mark.parametrize(
    ("name", "key"),
    [
        ("Samt", "velvet"), ("velours", "velvet"), ("Tüll", "tulle"), ("tul", "tulle"),
        ("raso", "satin"), ("satén", "satin"), ("dentelle", "lace"), ("Spitze", "lace"),
        ("encaje", "lace"), ("pizzo", "lace"), ("Filz", "felt"), ("cuir", "leather"),
        ("Futter", "lining"), ("brocart", "brocade"), ("dupion", "dupion"),
        ("dupioni", "dupion"), ("doupioni", "dupion"), ("organdy", "organdie"),
        ("paillettes", "sequin-fabric"), ("Kunstpelz", "faux-fur"),
    ],
)  # fmt: skip
def test_names_in_other_languages_and_spellings(name: str, key: str) -> None:
    assert [match.key for match in find_structures(name)] == [key]


def test_families_are_followed_upwards() -> None:
    assert is_kind_of("crushed-stretch-velvet", "velvet")
    assert not is_kind_of("velvet", "crushed-stretch-velvet")


def test_an_unknown_structure_or_surface_is_refused_with_close_names() -> None:
    with pytest.raises(UnknownNameError) as caught:
        structure("velvett")
    assert "velvet" in caught.value.hint
    with pytest.raises(UnknownNameError):
        surface("glitter-glue")
    with pytest.raises(UnknownNameError):
        structure("lawn").quantity("pile_height_mm")


def test_every_refinement_leads_from_and_to_known_structures() -> None:
    for rule in read_toml("refinements.toml")["rule"]:
        assert rule["to"] in structures()
        assert set(rule["from"]) <= set(structures())
        facts = [*rule["any"], *rule.get("all", ())]
        assert all(
            fact.split(":")[1] in surfaces() for fact in facts if fact.startswith("surface:")
        )
        named = [fact.split(":")[1] for fact in facts if fact.startswith("structure:")]
        assert set(named) <= set(structures())


@pytest.mark.parametrize(
    "key", ["glitter-glued", "foil-print", "rhinestones", "dots-stuck-on", "flock"]
)
def test_stuck_surfaces_have_an_adhesive(key: str) -> None:
    assert surface(key).glued


@pytest.mark.parametrize("key", ["sequins", "beads", "crushed", "printed", "embroidered"])
def test_other_surfaces_have_none(key: str) -> None:
    assert not surface(key).glued


def test_crush_and_pleats_are_reliefs() -> None:
    reliefs = {key for key, item in surfaces().items() if item.crushed}
    assert {"crushed", "pleated", "embossed", "puckered"} == reliefs


def test_surfaces_are_found_in_text() -> None:
    keys = [match.key for match in find_surfaces("glued foil print on crushed lamé")]
    assert keys == ["foil-print", "crushed"]
