"""Labels in the style that shops and mills print (all invented) and what they say of fibres."""

from __future__ import annotations

import pytest

from samite.cloth.label import read_label
from samite.cloth.reading import LabelReading, PartKind
from samite.tables.fibre_names import fibre_names

P94 = {"polyester": 94.0, "elastane": 6.0}
C95 = {"cotton": 95.0, "elastane": 5.0}


def parts(reading: LabelReading) -> dict[str, dict[str, float]]:
    """Return the parts that have fibres, in the order of the reading."""
    return {
        component.part.value: {one.fibre: one.percent for one in component.fibres}
        for component in reading.components
        if component.fibres
    }


BASES: tuple[tuple[str, dict[str, float]], ...] = (
    # one composition in every order and style
    ("94/6 polyester/spandex", P94),
    ("polyester/spandex 94/6", P94),
    ("94% PES 6% EL", P94),
    ("94 % PES, 6 % EL", P94),
    ("PES 94% EL 6%", P94),
    ("polyester 94 %, elastane 6 %", P94),
    ("Polyester: 94%; Elastane: 6%", P94),
    ("Polyester - 94%, Elastane - 6%", P94),
    ("(94%) polyester (6%) elastane", P94),
    ("polyester (94%), elastane (6%)", P94),
    ("94%/6% polyester/elastane", P94),
    ("%94 polyester %6 elastane", P94),
    ("94 per cent polyester 6 per cent elastane", P94),
    ("94 poly 6 span", P94),
    ("polyester 94 elastane 6", P94),
    ("6% elastane, 94% polyester", P94),
    ("94-6... 94% polyester & 6% lycra", P94),
    ("94٪ polyester 6٪ elastane", P94),
    ("９４％ polyester ６％ elastane", P94),
    ("94\u00a0% polyester\u00a0\u2013 6\u00a0% elastane", P94),
    ("Composition: 94% Polyester / 6% Spandex", P94),
    # languages
    ("95% Baumwolle, 5% Elasthan", C95),
    ("95 % coton, 5 % élasthanne", C95),
    ("95% algodón 5% elastano", C95),
    ("95% cotone, 5% elastan", C95),
    ("95% katoen 5% elastaan", C95),
    ("95% bawełna 5% elastan", C95),
    ("95% bomull 5% elastan", C95),
    # decimals, fractions, rounding, other fibres
    ("87,5 % Viskose 12,5 % Polyamid", {"viscose": 87.5, "polyamide": 12.5}),
    ("97.5% cotton 2.5% elastane", {"cotton": 97.5, "elastane": 2.5}),
    ("99.5% polyester", {"polyester": 100.0}),
    ("50% silk 51% cotton", {"cotton": 100 * 51 / 101, "silk": 100 * 50 / 101}),
    ("33% cotton 33% linen 33% viscose", {"cotton": 100 / 3, "linen": 100 / 3, "viscose": 100 / 3}),
    ("96% polyester", {"polyester": 96.0}),
    ("60% cotton 36% polyester 4% other fibres", {"cotton": 60.0, "polyester": 36.0}),
    # metallic yarn is a share of the base
    ("97% nylon 3% metallic", {"polyamide": 97.0, "metallised-film": 3.0}),
    (
        "LUREX jersey 60% PES 30% CV 10% ME",
        {"polyester": 60.0, "viscose": 30.0, "metallised-film": 10.0},
    ),
    ("polyester-metallic brocade 90/10", {"polyester": 90.0, "metallised-film": 10.0}),
    (
        "35% metallic 40% nylon 25% polyester",
        {"polyamide": 40.0, "metallised-film": 35.0, "polyester": 25.0},
    ),
    # ratios
    ("65/35 poly cotton", {"polyester": 65.0, "cotton": 35.0}),
    ("poly/cotton 65/35 poplin", {"polyester": 65.0, "cotton": 35.0}),
    ("65/35 polycotton twill", {"polyester": 65.0, "cotton": 35.0}),
    ("82/18 nylon/spandex swim knit", {"polyamide": 82.0, "elastane": 18.0}),
    ("60/40 cotton/poly sweatshirt", {"cotton": 60.0, "polyester": 40.0}),
    # without shares
    ("silk organza", {"silk": 100.0}),
    ("polyester-elastane jersey", P94),
    ("polyester-metallic brocade", {"polyester": 90.0, "metallised-film": 10.0}),
    ("brocade with metallic thread", {"polyester": 90.0, "metallised-film": 10.0}),
    ("silk/cotton voile", {"silk": 50.0, "cotton": 50.0}),
    ("polycotton drill", {"polyester": 65.0, "cotton": 35.0}),
    ("wool blend coating", {"wool": 50.0}),
    # looks, names and adjectives are no fibres
    ("faux silk satin 100% polyester", {"polyester": 100.0}),
    ("silk touch satin, 100% polyester", {"polyester": 100.0}),
    ("linen look 100% polyester", {"polyester": 100.0}),
    ("peau de soie, 100% polyester", {"polyester": 100.0}),
    ("100% organic cotton", {"cotton": 100.0}),
    ("100% gold lurex", {"metallised-film": 100.0}),
    ("100% recycled polyester satin", {"polyester-recycled": 100.0}),
    ("65% cotton / 35% recycled cotton", {"cotton": 100.0}),
    # percentages that are no shares
    ("20% off! 100% cotton lawn", {"cotton": 100.0}),
    ("100% cotton lawn, save 15 %", {"cotton": 100.0}),
    ("100% cotton lawn -20%", {"cotton": 100.0}),
    ("stretch 60%, 80% nylon 20% spandex", {"polyamide": 80.0, "elastane": 20.0}),
    ("50% stretch 95% cotton 5% elastane jersey", C95),
    ("100% cotton (shrinkage 5%)", {"cotton": 100.0}),
    ("100% polyester, foil print 30% coverage", {"polyester": 100.0}),
    ("polyester 100 % (of which 30% recycled)", {"polyester": 100.0}),
    # printed twice
    ("100% polyester satin. Composition: 100% polyester", {"polyester": 100.0}),
    ("94% polyester 6% elastane | fabric: 94% polyester, 6% elastane", P94),
)


@pytest.mark.parametrize(("label", "wanted"), BASES, ids=[label for label, _ in BASES])
def test_the_base_is_read_in_every_style(label: str, wanted: dict[str, float]) -> None:
    assert parts(read_label(label))["base"] == pytest.approx(wanted, abs=1e-5)


PARTS: tuple[tuple[str, dict[str, dict[str, float]]], ...] = (
    (
        "nylon organza with polyester flock",
        {"base": {"polyamide": 100}, "flock": {"polyester": 100}},
    ),
    (
        "polyester organza with nylon flock",
        {"base": {"polyester": 100}, "flock": {"polyamide": 100}},
    ),
    (
        "organza: base 100% polyester; flock 100% nylon",
        {"base": {"polyester": 100}, "flock": {"polyamide": 100}},
    ),
    (
        "organza base 100% polyester flock 100% nylon",
        {"base": {"polyester": 100}, "flock": {"polyamide": 100}},
    ),
    (
        "organza 100% PES, flocked dots of polyamide, 60 gsm",
        {"base": {"polyester": 100}, "flock": {"polyamide": 100}},
    ),
    (
        "100% nylon pile, 100% cotton back",
        {"base": {"cotton": 100}, "pile": {"polyamide": 100}},
    ),
    ("pile 100% viscose, ground 100% silk", {"base": {"silk": 100}, "pile": {"viscose": 100}}),
    ("viscose pile on silk ground velvet", {"base": {"silk": 100}, "pile": {"viscose": 100}}),
    (
        "Devoré Samt, Polschicht: 100% Viskose, Grund: 100% Seide",
        {"base": {"silk": 100}, "pile": {"viscose": 100}},
    ),
    (
        "Base: 100 % nylon. Pile: 85 % acrylic, 15 % polyester.",
        {"base": {"polyamide": 100}, "pile": {"acrylic": 85, "polyester": 15}},
    ),
    (
        "faux fur, pile 20mm, 100% acrylic pile, 100% polyester backing",
        {"base": {"polyester": 100}, "pile": {"acrylic": 100}},
    ),
    (
        "shell: 100% nylon; pile: 100% polyester; back: 100% cotton",
        {"base": {"polyamide": 50, "cotton": 50}, "pile": {"polyester": 100}},
    ),
    (
        "warp: 100% silk, weft: 100% metallic",
        {"base": {"silk": 50, "metallised-film": 50}},
    ),
    (
        "nylon net with PVC sequins and glass beads",
        {"base": {"polyamide": 100}, "sequins": {"sequin-pvc": 100}, "beads": {"glass": 100}},
    ),
    (
        "PVC sequins on nylon mesh",
        {"base": {"polyamide": 100}, "sequins": {"sequin-pvc": 100}},
    ),
    (
        "mesh: 92% nylon 8% spandex; sequins: 100% PET",
        {"base": {"polyamide": 92, "elastane": 8}, "sequins": {"sequin-pet": 100}},
    ),
    (
        "100% PU coating, 100% polyester backing",
        {"base": {"polyester": 100}, "coating": {"polyurethane": 100}},
    ),
    (
        "PU coating 100%, backing 100% polyester",
        {"base": {"polyester": 100}, "coating": {"polyurethane": 100}},
    ),
    (
        "coated cotton, 100% cotton, coating 100% PVC",
        {"base": {"cotton": 100}, "coating": {"chlorofibre": 100}},
    ),
    # one composition beside the word for a surface is that of the cloth
    (
        "95% polyester 5% elastane foil print",
        {"base": {"polyester": 95, "elastane": 5}, "film": {"metallised-film": 100}},
    ),
    (
        "glitter tulle 100% nylon",
        {"base": {"polyamide": 100}, "glitter": {"polyester": 100}},
    ),
    (
        "polyester sequin mesh",
        {"base": {"polyester": 100}, "sequins": {"sequin-pet": 100}},
    ),
)


@pytest.mark.parametrize(("label", "wanted"), PARTS, ids=[label for label, _ in PARTS])
def test_every_part_keeps_its_own_fibres(label: str, wanted: dict[str, dict[str, float]]) -> None:
    assert parts(read_label(label)) == wanted


def test_a_flock_brings_an_adhesive_that_nobody_named() -> None:
    components = read_label("polyester organza with nylon flock").components
    assert [one.part for one in components] == [PartKind.BASE, PartKind.FLOCK, PartKind.ADHESIVE]
    assert [one.stated for one in components] == [True, True, False]
    assert components[-1].fibres == ()


def test_a_flock_without_a_fibre_leaves_the_base_open() -> None:
    reading = read_label("organza with nylon flock")
    assert parts(reading) == {"flock": {"polyamide": 100.0}}


def test_shares_between_95_and_99_leave_other_fibres_and_say_so() -> None:
    reading = read_label("97% cotton 1% elastane")
    assert reading.other_fibres_percent == pytest.approx(2.0)
    assert any("other fibres" in note for note in reading.notes)


def test_named_other_fibres_count_towards_the_sum() -> None:
    reading = read_label("95% cotton, 5% other fibres")
    assert parts(reading) == {"base": {"cotton": 95.0}}
    assert reading.other_fibres_percent == 5.0


def test_rounding_is_made_up_and_noted() -> None:
    reading = read_label("50% silk 51% cotton")
    assert sum(one.percent for one in reading.components[0].fibres) == pytest.approx(
        100.0, abs=1e-5
    )
    assert any("rounding" in note for note in reading.notes)


def test_an_assumed_split_is_noted() -> None:
    assert any("assumed" in note for note in read_label("polyester-elastane jersey").notes)


@pytest.mark.parametrize(
    ("label", "pile"),
    [
        ("velvet 100% viscose", {"viscose": 100.0}),
        ("stretch velvet 90% nylon 10% elastane", {"polyamide": 100.0}),
        ("faux fur 100% polyester", {"polyester": 100.0}),
    ],
)
def test_one_composition_of_a_pile_cloth_is_that_of_its_pile(
    label: str, pile: dict[str, float]
) -> None:
    reading = read_label(label)
    assert parts(reading)["pile"] == pile
    assert [one.stated for one in reading.components] == [True, False]


def test_a_pile_that_the_structure_knows_is_left_to_it() -> None:
    assert "pile" not in parts(read_label("devoré velvet 82% viscose 18% silk"))


def test_a_lining_is_a_second_cloth() -> None:
    reading = read_label("shell 100% cotton, lining 100% polyester")
    assert parts(reading) == {"base": {"cotton": 100.0}}
    assert reading.structure is None
    assert any("second cloth" in note for note in reading.notes)


def test_a_lining_alone_is_the_cloth() -> None:
    assert read_label("lining: 100% acetate").structure == "acetate-lining"


@pytest.mark.parametrize(
    "label",
    [
        "exclusive of decoration",
        "exclusive of ornamentation",
        "exclusive of elastic",
        "excluding trim",
        "excl. sequins and beads",
    ],
)
def test_what_a_label_leaves_out_is_noted_and_changes_no_share(label: str) -> None:
    reading = read_label(f"60% polyester 40% nylon, {label}")
    assert parts(reading)["base"] == {"polyester": 60.0, "polyamide": 40.0}
    assert any("leave out" in note for note in reading.notes)


def test_no_fibre_at_all_is_a_reading() -> None:
    reading = read_label("stretch velvet, 150 cm")
    assert reading.components == ()
    assert reading.structure == "stretch-velvet"


def test_elastic_yarn_alone_leaves_the_rest_open() -> None:
    reading = read_label("lycra")
    assert reading.other_fibres_percent == pytest.approx(94.0)
    assert reading.stretches is True


def test_every_known_fibre_word_is_read_beside_a_percentage() -> None:
    for name in fibre_names().values():
        reading = read_label(f"100% {name.word}")
        materials = {one.fibre for part in reading.components for one in part.fibres}
        assert name.fibre_key in materials, name.word
